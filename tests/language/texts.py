"""The corpus: sessions in the trade's style, and texts with the mistakes that each must be told of."""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

CORPUS = Path(__file__).parent / "corpus"
BETWEEN, SAID = "=====\n", "--->\n"


class Text(NamedTuple):
    """A text, and what is to be made of it: the fixed form, where it is not in it, or what is wrong."""

    name: str
    text: str
    said: str = ""


def sessions() -> list[Text]:
    """One session each."""
    return [text for path in sorted(CORPUS.glob("[0-9]*.txt")) for text in _parts(path)]


def mistakes() -> list[Text]:
    """Texts that are refused, each with line, column and message of all that is wrong."""
    return _parts(CORPUS / "mistakes.txt")


def _parts(path: Path) -> list[Text]:
    parts = path.read_text(encoding="utf-8").split(BETWEEN)
    return [Text(f"{path.stem} {number}", *part.split(SAID)) for number, part in enumerate(parts, 1)]
