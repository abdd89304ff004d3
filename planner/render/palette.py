"""Every colour of the sheets, by name, and the proof that each pair in use can be read.

No colour is written anywhere else: the style sheets use these names only.
"""

from __future__ import annotations

import re
from typing import Literal, NamedTuple

Scheme = Literal["light", "dark"]

LIGHT: dict[str, str] = {
    "paper": "#FFFFFF",
    "tint": "#EDF4F1",
    "ink": "#16211D",
    "quiet": "#495650",
    "hair": "#C5D0CB",
    "edge": "#6B7973",
    "accent": "#0B5F50",
    "mid": "#559788",
    "on_accent": "#FFFFFF",
}
DARK: dict[str, str] = {
    "paper": "#101816",
    "tint": "#1B2723",
    "ink": "#E8EFEC",
    "quiet": "#AFBCB6",
    "hair": "#37453F",
    "edge": "#82928B",
    "accent": "#7FCFBB",
    "mid": "#468778",
    "on_accent": "#0A1411",
}
SCHEMES: dict[Scheme, dict[str, str]] = {"light": LIGHT, "dark": DARK}

AA_TEXT = 4.5
AA_GRAPHIC = 3.0


class Pair(NamedTuple):
    """Two colours that meet.

    Attributes:
        front: token of the text or mark.
        back: token of what lies behind it.
        least: the contrast that WCAG 2.2 AA asks for: 4.5 for text, 3 for marks and controls.
    """

    front: str
    back: str
    least: float


# "hair" is absent on purpose: it draws hairlines that carry no meaning.
PAIRS: tuple[Pair, ...] = (
    Pair("ink", "paper", AA_TEXT),
    Pair("ink", "tint", AA_TEXT),
    Pair("quiet", "paper", AA_TEXT),
    Pair("quiet", "tint", AA_TEXT),
    Pair("accent", "paper", AA_TEXT),
    Pair("accent", "tint", AA_TEXT),
    Pair("on_accent", "accent", AA_TEXT),
    Pair("edge", "paper", AA_GRAPHIC),
    Pair("edge", "tint", AA_GRAPHIC),
    Pair("mid", "paper", AA_GRAPHIC),
    Pair("mid", "tint", AA_GRAPHIC),
)

_HEX = re.compile(r"#([0-9A-Fa-f]{2})([0-9A-Fa-f]{2})([0-9A-Fa-f]{2})")
# WCAG 2.2, definition of relative luminance.
_LINEAR_BELOW = 0.04045


def luminance(colour: str) -> float:
    """Relative luminance of a colour by WCAG 2.2: 0 for black, 1 for white.

    Args:
        colour: ``#RRGGBB``.

    Raises:
        ValueError: if it is not written that way.
    """
    match = _HEX.fullmatch(colour)
    if match is None:
        raise ValueError(f"{colour!r} is not a colour written as #RRGGBB")
    red, green, blue = (_linear(int(part, 16) / 255) for part in match.groups())
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _linear(channel: float) -> float:
    return channel / 12.92 if channel <= _LINEAR_BELOW else ((channel + 0.055) / 1.055) ** 2.4


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colours by WCAG 2.2: 1 for none, 21 for black on white."""
    lighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def declarations(scheme: Scheme) -> str:
    """The custom properties of a scheme, for a CSS block."""
    tokens = "".join(f"--{name.replace('_', '-')}:{value};" for name, value in SCHEMES[scheme].items())
    return f"color-scheme:{scheme};{tokens}"
