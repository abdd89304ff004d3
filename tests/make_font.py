"""Makes the two faces in ``templates/font`` from the family that they come from: a tool, not a test.

    python -m tests.make_font SourceSans3-Regular.ttf SourceSans3-Bold.ttf

The files are those of version 3.052 of the family. What is left out: hints, ligatures and other features
than kerning, and letters of other scripts than Latin. The names are changed, since the licence reserves the
old one for the family as it was published.
"""

from __future__ import annotations

import sys
from pathlib import Path

from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont

from planner import paths

FAMILY = "Planner Sans"
FACES = ("Regular", "Bold")
COPYRIGHT, SUBFAMILY, LICENCE, LICENCE_ADDRESS = 0, 2, 13, 14
NAMES = (COPYRIGHT, 1, SUBFAMILY, 3, 4, 5, 6, LICENCE, LICENCE_ADDRESS)
LETTERS = (
    (0x20, 0x7E),  # basic Latin
    (0xA0, 0x17F),  # accents, fractions, multiplication sign, Latin extended A
    (0x218, 0x21B),  # Romanian
    (0x1E80, 0x1E85),  # Welsh
    (0x1E9E, 0x1E9E),
    (0x2010, 0x2015),  # hyphens and dashes
    (0x2018, 0x2022),  # quotation marks, bullet
    (0x2026, 0x2026),
    (0x2030, 0x2033),  # per mille, primes
    (0x2039, 0x203A),
    (0x20AC, 0x20AC),
    (0x2122, 0x2122),
    (0x2153, 0x215E),  # thirds, eighths
    (0x2190, 0x2193),  # arrows
    (0x2212, 0x2212),  # minus
    (0x2248, 0x2248),
    (0x2260, 0x2260),
    (0x2264, 0x2265),
    (0x2713, 0x2713),
)


def made(source: Path, face: str) -> TTFont:
    """The face for the sheets.

    Args:
        source: the whole face, as published.
        face: Regular or Bold.
    """
    font = TTFont(source, recalcTimestamp=False)
    options = Options()
    options.layout_features = ["kern"]
    options.hinting = False
    options.name_IDs = list(NAMES)
    subsetter = Subsetter(options)
    subsetter.populate(unicodes=[code for first, last in LETTERS for code in range(first, last + 1)])
    subsetter.subset(font)
    whole = f"{FAMILY} {face}"
    for number, text in ((1, FAMILY), (2, face), (3, whole), (4, whole), (6, whole.replace(" ", ""))):
        font["name"].setName(text, number, 3, 1, 0x409)
    font.flavor = "woff2"
    return font


if __name__ == "__main__":
    for path, face in zip(map(Path, sys.argv[1:]), FACES, strict=True):
        made(path, face).save(paths.home().templates / "font" / f"{face.casefold()}.woff2")
