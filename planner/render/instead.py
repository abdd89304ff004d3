"""What each of the other kit versions does instead of the gym floor's session, in one line."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from planner.domain.clock import LABELS
from planner.domain.week import Line, Piece, Session, Week
from planner.render import notation
from planner.render.contexts import Fact

SAME = "same"
OTHERS_SAME = "others the same"


def short_line(line: Line) -> str:
    """A movement with its dose and loads on one line: "12 plate squat (15 / 10 kg)"."""
    load = short_load(line)
    named = f"{short_dose(line)} {inside(line.name)}" + (f" ({load})" if load else "")
    return named + notation.by_hand(line)


def short_dose(line: Line) -> str:
    """The dose without the word "reps": "12", "12 alternating", "300 m"."""
    return notation.dose(line).replace(" reps, alternating", " alternating").removesuffix(" reps")


def short_load(line: Line) -> str:
    """Both loads, without the implement if the movement's name has it: "plate squat, 15 / 10 kg"."""
    load = notation.run_of_loads(line)
    mass, kg, implement = load.rpartition(" kg ")
    return f"{mass} kg" if kg and implement.casefold() in line.name.casefold() else load


def inside(name: str) -> str:
    """A movement's name for the middle of a sentence: "back squat", but "V-up"."""
    return name[:1].lower() + name[1:] if name[1:2].islower() else name


def otherwise(
    own: Iterable[Line], floor: Iterable[Line], told: Callable[[Line], object]
) -> tuple[tuple[Line, ...], tuple[str, ...]]:
    """The lines in which a version differs from the gym floor, and what else to say about its lines.

    Args:
        own: the version's.
        floor: the gym floor's.
        told: all that a sheet says of a line.
    """
    lines, known = tuple(own), {told(line) for line in floor}
    other = tuple(line for line in lines if told(line) not in known)
    if len(other) == len(lines):
        return other, ()
    return other, (OTHERS_SAME if other else SAME,)


def instead(session: Session, week: Week, kind: str | None = None) -> tuple[Fact, ...]:
    """For each kit version except the gym floor, what it does differently.

    Args:
        session: of a day.
        week: its week, for the kit versions.
        kind: of one piece alone; every working piece if None.

    Returns:
        The version's name and what differs; "same" if nothing does.
    """
    pieces = [p for p in session.pieces if p.kind in LABELS and kind in {None, p.kind}]
    return tuple(Fact(kit.name, _differs(pieces, week, kit.id)) for kit in week.kits[1:])


def _differs(pieces: list[Piece], week: Week, kit: str) -> str:
    texts = [_piece_differs(piece, week.kits[0].id, kit) for piece in pieces]
    if all(text == SAME for text in texts):
        return "all the same."
    named = len(pieces) > 1
    parts = [
        f"{LABELS[piece.kind]}: {text}" if named else text for piece, text in zip(pieces, texts, strict=True)
    ]
    return ". ".join(parts) + "."


def _piece_differs(piece: Piece, floor: str, kit: str) -> str:
    own, base = piece.versions.get(kit), piece.versions.get(floor)
    if own is None:
        return "not in this version"
    other, rest = otherwise(own.lines, base.lines if base else (), short_line)
    return ", ".join([*map(short_line, other), *rest])
