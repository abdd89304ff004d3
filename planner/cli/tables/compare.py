"""Two candidates side by side for the terminal: what is the same is dim, what differs says in what."""

from __future__ import annotations

from collections.abc import Iterator

from rich.console import Group, RenderableType
from rich.table import Table
from rich.text import Text

from planner.cli.tables.week import table
from planner.domain.comparison import Both, Cell, Comparison, DayPair, PieceHead, PiecePair, VersionPair
from planner.domain.gym import DAY_NAMES
from planner.domain.week import Line
from planner.render import notation
from planner.render.compare_figures_view import FigureRow, FiguresView, TripleRow, figures_view
from planner.render.compare_words import aspects, pair_verdict

SAME, DIFFERS = "=", "\N{NOT EQUAL TO}"


def compare_text(comparison: Comparison) -> RenderableType:
    """The comparison for the terminal: summary, days, figures, rules.

    Args:
        comparison: of two weeks.
    """
    seen = figures_view(comparison)
    parts: list[RenderableType] = [
        *(Text(sentence) for sentence in comparison.summary),
        Text(),
        _days(comparison),
        _figures(comparison.names, seen),
        _lists(comparison.names, seen),
    ]
    if not seen.novelty:
        parts.append(Text(seen.novelty_said))
    parts.append(_rules(comparison.names, seen) if seen.rules else Text("Every rule did the same in both."))
    return Group(*parts)


def _days(comparison: Comparison) -> Table:
    names = comparison.names
    made = table("", "Day", names.a, "", "Differs", names.b)
    for day in comparison.days:
        _row(made, DAY_NAMES[day.day], _titles(day), _day_verdict(day, names))
        for piece in day.pieces:
            for texts, verdict in _piece(piece, names):
                _row(made, "", texts, verdict)
        made.add_section()
    return made


def _row(made: Table, name: str, texts: Both[str], verdict: str) -> None:
    """A row; dim where there is no verdict, since nothing differs."""
    style = "" if verdict else "dim"
    made.add_row(
        Text(name, style="bold" if verdict else style),
        Text(texts.a, style=style),
        Text(DIFFERS if verdict else SAME, style=style),
        Text(verdict, style="yellow"),
        Text(texts.b, style=style),
    )


def _titles(day: DayPair) -> Both[str]:
    a, b = (
        f"{head.title} ({head.hardness}, {head.rating})" if head else "no class"
        for head in (day.heads.a, day.heads.b)
    )
    return Both[str](a=a, b=b)


def _day_verdict(day: DayPair, names: Both[str]) -> str:
    if day.same:
        return ""
    if day.differs:
        return pair_verdict(day.differs, day.heads, names)
    return f"{sum(not piece.same for piece in day.pieces)} of {len(day.pieces)} parts"


def _piece(piece: PiecePair, names: Both[str]) -> Iterator[tuple[Both[str], str]]:
    heads = piece.heads
    yield Both[str](a=_head(heads.a), b=_head(heads.b)), pair_verdict(piece.differs, heads, names)
    for version in piece.versions:
        if version.floor:
            yield from (_line_row(cell, names) for cell in version.cells)
        if version.differs or not (version.floor or version.same):
            yield _version_texts(version), _version_verdict(version, names)


def _version_texts(version: VersionPair) -> Both[str]:
    """The gym floor's lines are in sight already, so of it only the forecast is told."""
    if version.floor and "forecast" in version.differs:
        return version.forecasts
    return Both[str](a=version.name, b=version.name)


def _head(head: PieceHead | None) -> str:
    if head is None:
        return ""
    parts = [notation.times(head.title), f"{head.minutes} min"]
    if head.domain:
        parts.append(head.domain)
    if head.cap_minutes is not None:
        parts.append(f"cap {head.cap_minutes} min")
    return ", ".join(parts)


def _line_row(cell: Cell, names: Both[str]) -> tuple[Both[str], str]:
    texts = Both[str](a=_line(cell.lines.a), b=_line(cell.lines.b))
    return texts, pair_verdict(cell.differs, cell.lines, names)


def _line(line: Line | None) -> str:
    if line is None:
        return ""
    load = notation.loads(line.loads)
    return f"\N{MIDDLE DOT} {notation.dose(line)} {line.name}" + (f", {load}" if load else "")


def _version_verdict(version: VersionPair, names: Both[str]) -> str:
    owner = names.a if any(cell.lines.a for cell in version.cells) else names.b
    if "only" in version.differs:
        return aspects(("only",), owner)
    lines = sum(bool(cell.differs) for cell in version.cells)
    said = [f"{lines} of {notation.count(len(version.cells), 'line')}"] if lines and not version.floor else []
    return ", ".join([*said, *([aspects(version.differs, owner)] if version.differs else [])])


def _figures(names: Both[str], seen: FiguresView) -> Table:
    made = table("", "Figure", names.a, names.b, "", "Apart", right=(1, 2, 4))
    for rows in (seen.key, seen.loads, seen.patterns):
        for row in rows:
            made.add_row(*_figure(row))
        made.add_section()
    return made


def _figure(row: FigureRow) -> tuple[Text, ...]:
    style = "dim" if row.same else ""
    mark = SAME if row.same else DIFFERS
    return tuple(Text(text, style=style) for text in (row.term, row.a, row.b, mark, row.apart))


def _lists(names: Both[str], seen: FiguresView) -> Table:
    made = table("", "", "", f"Only in {names.a}", "In both", f"Only in {names.b}")
    for title, rows in (
        ("Time domain", seen.domains), ("Equipment", seen.equipment), ("New", seen.novelty),
    ):  # fmt: skip
        for row in rows:
            made.add_row(*_triple(title, row))
        made.add_section()
    return made


def _triple(title: str, row: TripleRow) -> tuple[Text, ...]:
    style = "dim" if row.same else ""
    said = Text(f"{title}: {row.term}\n", style=style).append(row.counts, style="dim")
    mark = Text(SAME if row.same else DIFFERS, style=style)
    return said, mark, Text(row.only_a), Text(row.both, style="dim"), Text(row.only_b)


def _rules(names: Both[str], seen: FiguresView) -> Table:
    made = table("", "Rule that differs", "Level", names.a, names.b, "Apart", right=(4,))
    for row in seen.rules:
        sides = [
            Text(", ".join(part for part in (side.measure, side.cost) if part)) for side in (row.a, row.b)
        ]
        said = Text(f"{DIFFERS} {row.id}\n").append(row.statement, style="dim")
        made.add_row(said, row.level, *sides, row.apart)
    return made
