"""What the other kit versions do instead of the gym floor's session, in a line each."""

from __future__ import annotations

from planner.domain.week import Line, Piece, Session, Week
from planner.render import words
from planner.render.contexts import Fact

WORK = {"strength": "Strength", "conditioning": "Conditioning"}


def short_line(line: Line) -> str:
    """A movement with its dose and loads on one line: "12 plate squat (15 / 10 kg plate)"."""
    dose = words.dose(line).replace(" reps, alternating", " alternating").removesuffix(" reps")
    load = words.loads(line.loads)
    return f"{dose} {inside(line.name)}" + (f" ({load})" if load else "")


def inside(name: str) -> str:
    """A movement's name inside a sentence: "back squat", but "V-up"."""
    return name[:1].lower() + name[1:] if name[1:2].islower() else name


def instead(session: Session, week: Week) -> tuple[Fact, ...]:
    """For each kit version but the gym floor what it does otherwise.

    Args:
        session: of a day.
        week: its week, for the kit versions.

    Returns:
        The version's name, and what differs; "as on the gym floor" where nothing does.
    """
    return tuple(Fact(kit.name, _differs(session, week, kit.id)) for kit in week.kits[1:])


def _differs(session: Session, week: Week, kit: str) -> str:
    pieces = [piece for piece in session.pieces if piece.kind in WORK]
    parts = [
        f"{WORK[piece.kind]}: {text}" if len(pieces) > 1 else text
        for piece in pieces
        if (text := _piece_differs(piece, week.kits[0].id, kit))
    ]
    return ". ".join(parts) + "." if parts else "All as on the gym floor."


def _piece_differs(piece: Piece, floor: str, kit: str) -> str:
    own, base = piece.versions.get(kit), piece.versions.get(floor)
    if own is None:
        return "not in this version"
    known = {short_line(line) for line in base.lines} if base else set()
    texts = [short_line(line) for line in own.lines]
    other = [text for text in texts if text not in known]
    if not other:
        return ""
    rest = ", the rest as above" if len(other) < len(texts) else ""
    return ", ".join(other) + rest
