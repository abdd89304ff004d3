"""Two candidates side by side for the terminal: what is the same is dim, what differs is bold and named."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import get_args

from rich.console import Group, RenderableType
from rich.table import Table
from rich.text import Text

from planner.cli.tables.week import table
from planner.domain.comparison import Comparison, FigureGroup
from planner.render.compare_page import ComparePage, compare_page
from planner.render.compare_rows import Bit, Block, Row

SAME, DIFFERS = "=", "\N{NOT EQUAL TO}"


def compare_text(comparison: Comparison) -> RenderableType:
    """The comparison for the terminal: summary, days, figures, rules.

    Args:
        comparison: of two weeks.
    """
    page = compare_page(comparison)
    tables = page.tables
    return Group(
        *(Text(sentence) for sentence in page.summary),
        Text(),
        _days(page),
        _table(page, "Figure", *(tables[x] for x in get_args(FigureGroup)), right=(1, 2)),
        _table(page, "Time domain", tables["domain"], both=True),
        _table(page, "Equipment", tables["equipment"], both=True),
        Text(page.new_said or "No earlier week is known, so nothing can be called new."),
        *([_table(page, "New", tables["new"], both=True)] if page.new_said else []),
        _table(page, "Rule that differs", tables["rules"])
        if tables["rules"]
        else Text("Every rule is the same, and did the same, in both."),
    )


def _days(page: ComparePage) -> Table:
    made = table("", "Day", page.a, "", "Differs", page.b)
    for row in page.tables["made_for"]:
        _add(made, "", row)
    made.add_section()
    for day in page.days:
        for name, row in _rows(day):
            _add(made, name, row)
        made.add_section()
    return made


def _rows(day: Block) -> Iterator[tuple[str, Row]]:
    """A day's rows, what they are of, and the other kit versions in a row each."""
    for row in day.rows:
        yield day.name, Row(row.a, row.b, "" if day.same else day.verdict)
    for piece in day.parts:
        yield from ((piece.name, row) for row in piece.rows)
        for version in piece.parts:
            name = (Bit(version.name, "name"),)
            rows = (Row(name, name, version.verdict),) if version.shut else version.rows
            yield from (("", row) for row in rows)


def _add(made: Table, name: str, row: Row) -> None:
    style, mark = ("", DIFFERS) if row.words else ("dim", SAME)
    said = Text(row.words, style="yellow")
    made.add_row(Text(name), _text(row.a), Text(mark), said, _text(row.b), style=style)


def _text(bits: tuple[Bit, ...]) -> Text:
    """A side of a row; of a line only what differs, besides its dose, movement and load."""
    line = any(bit.style == "dose" for bit in bits)
    made = Text("\N{MIDDLE DOT} " if line else "")
    shown = [bit for bit in bits if bit.differs or not (line and bit.style == "plain")]
    after = ""
    for bit in shown:
        made.append(after).append(bit.text, style="bold" if bit.differs else "")
        after = {"dose": " ", "plain": "; " if bit.differs else ", "}.get(bit.style, ", ")
    return made


def _table(
    page: ComparePage, heading: str, *groups: Iterable[Row], both: bool = False, right: tuple[int, ...] = ()
) -> Table:
    """Rows beside each other; with what both have between, where the sides hold what one has alone."""
    sides = (f"Only in {page.a}", "In both", f"Only in {page.b}") if both else (page.a, page.b)
    made = table("", heading, *sides, "", "" if both else "Apart", right=right)
    for rows in groups:
        for row in rows:
            said = Text(row.term).append(f"\n{row.note}" if row.note else "", style="dim")
            a, b = (Text("\n".join(bit.text for bit in bits)) for bits in (row.a, row.b))
            held = (a, Text(row.both), b) if both else (a, b)
            mark, style = (DIFFERS, "") if row.words else (SAME, "dim")
            made.add_row(said, *held, mark, "" if both else row.words, style=style)
        made.add_section()
    return made
