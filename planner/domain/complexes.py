"""Several lifts done in turn without putting the bar down, as one movement."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from planner.domain.catalogue import PATTERNS, Movement, Pace, Pattern, Scheme, Setup, Takes
from planner.domain.sets import ComplexPart
from planner.domain.words import capital

WHOLE = 100
MOST_POINTS = 4


class Complex(Movement):
    """A complex: one rep is all its parts in turn.

    It goes by the id of its first part, and starts as that does.

    Attributes:
        of: its movements and the reps of each, in the order of doing.
    """

    of: tuple[tuple[Movement, int], ...]


def lifted(movement: Movement, scheme: Scheme, movements: Mapping[str, Movement]) -> Movement:
    """What is lifted under a scheme: the movement, or the complex that begins with it.

    A stand-in for the first part of a complex stands for the whole of it.
    """
    known = [movements[part.movement] for part in scheme.parts if part.movement in movements]
    if len(known) < 1 or len(known) < len(scheme.parts) or known[0].id != movement.id:
        return movement
    return complex_of(scheme.parts, movements)


def complex_of(parts: Sequence[ComplexPart], movements: Mapping[str, Movement]) -> Movement:
    """The movement that parts make together; a single part done once is that movement.

    Patterns are shared out by reps; of what it draws on, each part's most counts.

    Args:
        parts: at least one, in the order of doing.
        movements: all, by id; the parts must be among them.
    """
    of = tuple((movements[part.movement], part.reps) for part in parts)
    first, every = of[0][0], list({m.id: m for m, _ in of}.values())
    if len(of) == 1 and of[0][1] == 1:
        return first
    fields = {
        "name": complex_name(of),
        "patterns": _patterns(of),
        "setups": tuple(_with_all(setup, every[1:]) for setup in first.setups),
        "pace": Pace(seconds=sum(m.pace.seconds * n for m, n in of), source=first.pace.source),
        "takes": Takes(
            grip=max(m.takes.grip for m in every),
            overhead=max(m.takes.overhead for m in every),
            back=max(m.takes.back for m in every),
            contacts=min(2, sum(m.takes.contacts for m in every)),
        ),
        "skill": max(m.skill for m in every),
        "eccentric": any(m.eccentric for m in every),
        "standard": " ".join(f"{capital(m.name)}: {m.standard}" for m in every),
        "points": tuple(dict.fromkeys(m.points[0] for m in every))[:MOST_POINTS],
        "faults": tuple(dict.fromkeys(m.faults[0] for m in every if m.faults)),
        "easier": (),
        "prepares": tuple(dict.fromkeys(x for m in every for x in m.prepares)),
        "cautions": tuple(dict.fromkeys(x for m in every for x in m.cautions)),
        "substitutes": {},
    }
    known = {name: getattr(first, name) for name in Movement.model_fields}
    return Complex.model_construct(**{**known, **fields, "of": of})


def complex_name(of: Sequence[tuple[Movement, int]]) -> str:
    """As written on a board: "clean + 2 front squats + jerk"."""
    return " + ".join(m.name if n == 1 else f"{n} {_plural(m.name)}" for m, n in of)


def _plural(name: str) -> str:
    return f"{name}es" if name.endswith(("s", "x", "ch", "sh")) else f"{name}s"


def _patterns(of: Sequence[tuple[Movement, int]]) -> dict[Pattern, int]:
    """Shares in percent, by reps; what rounding leaves goes to the largest."""
    reps = sum(n for _, n in of)
    raw = {p: sum(m.share_of(p) * n for m, n in of) // reps for p in PATTERNS}
    shares = {p: share for p, share in raw.items() if share}
    largest = max(shares, key=lambda p: shares[p])
    shares[largest] += WHOLE - sum(shares.values())
    return shares


def _with_all(setup: Setup, later: Sequence[Movement]) -> Setup:
    """A setup of the first part, with what the others need besides: each as simply as it can be done."""
    needs = dict.fromkeys(setup.needs)
    for movement in later:
        needs |= dict.fromkeys(min(movement.setups, key=lambda s: len(s.needs)).needs)
    return setup.model_copy(update={"needs": tuple(needs)})
