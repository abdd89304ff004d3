"""The sessions by hand, each under its name."""

from __future__ import annotations

import re
from pathlib import Path

_SECTIONS = re.split(
    r"^== ", (Path(__file__).parent / "sessions.txt").read_text(encoding="utf-8"), flags=re.MULTILINE
)
TEXTS = {name: text for section in _SECTIONS[1:] for name, text in [section.split("\n", 1)]}
