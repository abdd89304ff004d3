"""How long work tells who waits for it."""

from __future__ import annotations

from collections.abc import Callable

Progress = Callable[[str, float], None]
"""Called with a label and a fraction done, 0 to 1."""


def quiet(_label: str, _done: float) -> None:
    """No progress shown."""
