"""The face that sheets are set in, regular and bold: its style rules, and how wide its letters are.

It goes into every sheet, so what is measured here is what a browser and a PDF show. Where it is from and
under which licence stands in ``templates/font/README.md``.
"""

from __future__ import annotations

import base64
import unicodedata
from functools import lru_cache
from pathlib import Path
from typing import Any

from fontTools.ttLib import TTFont, TTLibError

from planner import paths
from planner.errors import DataError

FAMILY = "Planner Sans"
FILES = {400: "regular.woff2", 700: "bold.woff2"}
CAPITAL = 0.66
"""Height of capitals in the type's size, in both."""
UNKNOWN = 1.0
"""Width, in the type's size, of a letter that the face does not have, and some other face draws."""
UNSEEN = {"Mn", "Me", "Cf"}
"""Kinds of letters without a width: marks upon others, invisible breaks."""


def style_rules(templates: Path) -> str:
    """The two faces as style rules, whole: nothing is fetched for them.

    Args:
        templates: folder that has them, in ``font``.

    Raises:
        DataError: a file of them is not there.
    """
    return "\n".join(
        f'@font-face{{font-family:"{FAMILY}";font-weight:{weight};'
        f"src:url(data:font/woff2;base64,{base64.b64encode(_read(templates, name)).decode()})}}"
        for weight, name in FILES.items()
    )


def _read(templates: Path, name: str) -> bytes:
    file = templates / "font" / name
    try:
        return file.read_bytes()
    except OSError as error:
        raise DataError(
            f"{file} cannot be read: {error.strerror}",
            advice="Sheets are set in it; copy the folder templates/font of the program there.",
        ) from error


class Face:
    """Widths of letters, and how much closer or wider apart two of them are set.

    Widths are in the type's own size.
    """

    def __init__(self, font: TTFont) -> None:
        self._em: int = font["head"].unitsPerEm
        self._names: dict[int, str] = font.getBestCmap()
        self._advances: dict[str, tuple[int, int]] = font["hmtx"].metrics
        self._kerning = [
            getattr(table, "ExtSubTable", table)
            for lookup in font["GPOS"].table.LookupList.Lookup
            for table in lookup.SubTable
        ]
        self._pairs: dict[tuple[str, str], int] = {}

    def width(self, text: str) -> float:
        """Width of a text on one line; of an empty one nought."""
        units, before = 0, ""
        for letter in unicodedata.normalize("NFC", text):
            name = self._names.get(ord(letter), "")
            if name:
                units += self._advances[name][0] + (self._apart(before, name) if before else 0)
            elif unicodedata.category(letter) not in UNSEEN:
                units += round(UNKNOWN * self._em)
            before = name
        return units / self._em

    def _apart(self, left: str, right: str) -> int:
        found = self._pairs.get((left, right))
        if found is None:
            found = self._pairs[left, right] = self._looked_up(left, right)
        return found

    def _looked_up(self, left: str, right: str) -> int:
        """The first table that has both decides; it has pairs of letters, or of classes of letters."""
        for table in self._kerning:
            if left not in table.Coverage.glyphs:
                continue
            value: Any = None
            if table.Format == 1:
                pairs = table.PairSet[table.Coverage.glyphs.index(left)].PairValueRecord
                value = next((pair.Value1 for pair in pairs if pair.SecondGlyph == right), None)
            elif second := table.ClassDef2.classDefs.get(right, 0):
                first = table.ClassDef1.classDefs.get(left, 0)
                value = table.Class1Record[first].Class2Record[second].Value1
            if value is not None:
                return int(getattr(value, "XAdvance", 0))
        return 0


@lru_cache(maxsize=2)
def face(*, bold: bool = False) -> Face:
    """The program's own face, read once.

    Raises:
        DataError: its file is not there, or is not a font.
    """
    file = paths.home().templates / "font" / FILES[700 if bold else 400]
    _read(file.parents[1], file.name)
    try:
        return Face(TTFont(file, lazy=True))
    except (TTLibError, KeyError) as error:
        raise DataError(f"{file} is not a font that can be read: {error}") from error
