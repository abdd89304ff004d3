"""The mark inside everything that the program writes: by it a file is known as one that may be replaced."""

from __future__ import annotations

MARK = "weekly-programming-planner"
"""In HTML as its generator, in PDF in its identifier, in calendars as product, in an export as format."""
