"""The set-up card: what to put out for each piece, where, with which plates, and what moves in between."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from planner.domain.clock import LABELS
from planner.domain.week import Piece, Session, SetOut
from planner.domain.words import capital, listed, spelt
from planner.render import notation

AT = ("rack", "bench")
STAYS = ("rack", "rig", "climbing_rope", "wall", "lane", "run_route")
"""Nobody carries these; common practice."""


@dataclass(frozen=True)
class SetRow:
    """Something to put out: how many of what, plates on each side of each, where, and for which movements."""

    count: str
    what: str
    plates: str
    where: str
    uses: str


@dataclass(frozen=True)
class SetTable:
    """A piece: its name, what moves before it, how the class runs it, and what is out for it."""

    piece: str
    moves: str
    words: str
    rows: tuple[SetRow, ...]


def setup_card(session: Session) -> tuple[SetTable, ...]:
    """A table for each piece for which anything is put out, in order."""
    tables, before = [], None
    for piece in session.pieces:
        if not piece.set_out:
            continue
        tables.append(
            SetTable(
                piece=LABELS.get(piece.kind, piece.title),
                moves="" if before is None else moves(before, piece.set_out),
                words=piece.class_flow,
                rows=tuple(_row(x, piece) for x in piece.set_out),
            )
        )
        before = piece.set_out
    return tuple(tables)


def moves(before: Sequence[SetOut], after: Sequence[SetOut]) -> str:
    """What is put away, brought and loaded anew between two pieces."""
    old, new = (_by_kind(x for x in rows if x.item not in STAYS) for rows in (before, after))
    away = [_said(x, x.count - _count(new, key)) for key, x in old.items() if x.count > _count(new, key)]
    bring = [_said(x, x.count - _count(old, key)) for key, x in new.items() if x.count > _count(old, key)]
    reload = [x for key, x in new.items() if key in old and x.per_side_kg != old[key].per_side_kg]
    said = []
    if away:
        said.append(f"Put away {listed(away)}.")
    if bring:
        said.append(f"Bring {listed(bring)}.")
    said += [f"Load {_said(x, min(x.count, old[_key(x)].count))} with {_plates(x)}." for x in reload]
    return " ".join(said) or "Everything stays."


def _key(x: SetOut) -> tuple[str, float | None]:
    return x.item, x.kg


def _by_kind(rows: Iterable[SetOut]) -> dict[tuple[str, float | None], SetOut]:
    return {_key(x): x for x in rows}


def _count(rows: dict[tuple[str, float | None], SetOut], key: tuple[str, float | None]) -> int:
    return rows[key].count if key in rows else 0


def _what(x: SetOut, count: int) -> str:
    name = x.name if count == 1 else x.plural
    return f"{name} of {notation.number(x.kg)} kg" if x.kg is not None else name


def _said(x: SetOut, count: int) -> str:
    return f"{spelt(count)} {_what(x, count)}"


def _plates(x: SetOut) -> str:
    if not x.per_side_kg:
        return "no plates"
    return f"{'+'.join(notation.number(kg) for kg in x.per_side_kg)} on each side"


def _row(x: SetOut, piece: Piece) -> SetRow:
    return SetRow(
        count=str(x.count),
        what=_what(x, x.count),
        plates=_plates(x) if x.item == "barbell" and x.kg is not None else "",
        where=_where(x, piece),
        uses=listed(x.uses),
    )


def _where(x: SetOut, piece: Piece) -> str:
    """At racks and benches where there are any; else at the movement's place, where the class spreads out."""
    stands = [o.plural for o in piece.set_out if o.item in AT and set(o.uses) & set(x.uses)]
    if stands and x.item not in AT:
        return f"at the {' and '.join(stands)}"
    if piece.on_floor is None or piece.on_floor.flow != "spread":
        return "in rows, one place each" if x.item not in AT else "where they stand"
    lines = [line.name for line in next(iter(piece.versions.values())).lines]
    places = sorted({lines.index(name) + 1 for name in x.uses if name in lines})
    return capital(f"place {listed(map(str, places))}")
