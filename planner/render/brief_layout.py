"""Finds the type size at which the coach's brief fills its page and does not run over it."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import NamedTuple

from planner.render.fit import largest, line_count

# A4 upright, in mm: the page inside its margins, less a little, so that rounding never makes a second page.
WIDE_MM, HIGH_MM = 210 - 2 * 8, 297 - 2 * 7 - 4
PT_MM = 25.4 / 72
MOST_PT, LEAST_PT, STEP_PT = 10.5, 5.6, 0.1
LEADING, GAP_MM = 1.22, 5.0
TITLE, TITLE_LEADING = 1.7, 1.1
"""Type of the heading in that of the page, and height of its lines in its own."""
HEAD, HEADING, PARAGRAPH, CLOSE = 1.4, 2.36, 0.3, 0.1
"""In ems: margins of the page's head; a heading with its margins; room below a paragraph, and in a piece."""


class Text(NamedTuple):
    """A paragraph as the style sheet sets it: words in bold, others behind them, and room below in ems."""

    bold: str
    plain: str
    below: float = PARAGRAPH


def type_size_pt(head: tuple[Text, Text], texts: Sequence[Text | None], whole: Sequence[Text]) -> float:
    """The largest type, in points, at which everything is on one page.

    Args:
        head: the page's title, and what stands below it.
        texts: every paragraph in order; None stands for a heading.
        whole: those of them that are not broken over columns.
    """
    return largest(partial(_fits, head, texts, whole), MOST_PT, LEAST_PT, STEP_PT)


def _fits(
    head: tuple[Text, Text], texts: Sequence[Text | None], whole: Sequence[Text], size_pt: float
) -> bool:
    em_mm = size_pt * PT_MM
    wide_em = (WIDE_MM - GAP_MM) / 2 / em_mm
    ems = sum(HEADING if text is None else _count(text, wide_em) * LEADING + text.below for text in texts)
    # Where a paragraph is kept whole, or a heading with it, one column is longer than the other by as much.
    ems += HEADING + LEADING * max((_count(text, wide_em) for text in whole), default=0)
    title, meta = (_count(text, WIDE_MM / em_mm / size) for text, size in zip(head, (TITLE, 1), strict=True))
    above = HEAD + TITLE * TITLE_LEADING * title + LEADING * meta
    return (above + ems / 2) * em_mm <= HIGH_MM


def _count(text: Text, wide_em: float) -> int:
    return line_count(text.plain, wide_em, lead=text.bold) if text.bold or text.plain else 0
