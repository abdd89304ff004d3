"""Reads a session that a coach wrote: its gym floor, in YAML; the other kit versions are solved for it."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil
from pathlib import Path
from typing import NamedTuple

from pydantic import Field

from planner.domain.base import Value
from planner.domain.catalogue import Catalogue, Movement, Scheme, Shape, Tier
from planner.domain.gym import DAY_NAMES, Day, Gym
from planner.domain.line import LinePiece
from planner.domain.plan import ConditioningLine, PiecePlan, SessionPlan, StrengthLine, VersionPlan
from planner.domain.timing import line_tenths, round_tenths
from planner.load.validate import Mistake, refuse, validated
from planner.load.yaml_file import Located, nearest, read_yaml
from planner.prescribe.equipped import equipped
from planner.prescribe.stock import Stock

MOST_STRENGTH_LINES, SHAPES_NAMED = 2, 6
MOST_SECONDS = 3600


class WrittenStrength(Value):
    """A line of the strength piece.

    Attributes:
        movement: id or name.
        scheme: id.
        assistance: whether it is done beside the main lift.
    """

    movement: str
    scheme: str
    assistance: bool = False


class WrittenConditioning(Value):
    """A line of the conditioning piece.

    Attributes:
        movement: id or name.
        dose: in the movement's unit, for one round; left out in a ladder, whose rungs say it.
        tier: how heavy; left out where there is no load.
    """

    movement: str
    dose: int | None = Field(None, ge=1, le=5000)
    tier: Tier = "open"


class WrittenSession(Value):
    """The file.

    Attributes:
        day: of the week.
        shape: id of the conditioning shape.
        strength: the main lift, and at most one beside it.
        conditioning: in the order in which they are done.
    """

    day: Day
    shape: str
    strength: tuple[WrittenStrength, ...] = Field(min_length=1, max_length=MOST_STRENGTH_LINES)
    conditioning: tuple[WrittenConditioning, ...] = Field(min_length=1, max_length=6)


def session_from_file(path: Path, catalogue: Catalogue, gym: Gym) -> SessionPlan:
    """A session by hand, for the gym floor; ``session_notes`` says what is unusual about it.

    Raises:
        DataError: with file, line and key of everything that is wrong.
    """
    node = read_yaml(path)
    written = validated(WrittenSession, node)
    known = _Known(catalogue, gym)
    found = list(_mistakes(written, node, known))
    if found:
        refuse(found)
    shape = catalogue.shapes[written.shape]
    floor = VersionPlan(
        strength=tuple(
            StrengthLine(movement=_movement(catalogue, x.movement), scheme=x.scheme, assistance=x.assistance)
            for x in sorted(written.strength, key=lambda x: x.assistance)
        ),
        conditioning=tuple(
            ConditioningLine(
                movement=_movement(catalogue, x.movement),
                dose=sum(shape.ladder) if shape.ladder else x.dose or 0,
                tier=x.tier,
            )
            for x in written.conditioning
        ),
    )
    kit = gym.kits[0].id
    pieces = (
        PiecePlan(kind="strength", versions={kit: floor.strength}),
        PiecePlan(kind="conditioning", shape=shape.id, versions={kit: floor.conditioning}),
    )
    return SessionPlan(day=written.day, pieces=pieces)


class _Known(NamedTuple):
    """What a session may name."""

    catalogue: Catalogue
    gym: Gym


def _movement(catalogue: Catalogue, word: str) -> str:
    """The id of a movement given by id or by name; the word itself where there is none."""
    if word in catalogue.movements:
        return word
    plain = word.casefold().replace("_", " ")
    return next((m.id for m in catalogue.movements.values() if m.name.casefold() == plain), word)


def _mistakes(written: WrittenSession, node: Located, known: _Known) -> Iterator[Mistake]:
    if written.day not in known.gym.days:
        open_days = ", ".join(known.gym.days)
        yield Mistake(
            node.place("day"), f"the gym is closed on {DAY_NAMES[written.day]}; it opens {open_days}"
        )
    yield from _strength_mistakes(written, node, known)
    yield from _conditioning_mistakes(written, node, known)


def _strength_mistakes(written: WrittenSession, node: Located, known: _Known) -> Iterator[Mistake]:
    schemes = known.catalogue.schemes
    if sum(not x.assistance for x in written.strength) != 1:
        yield Mistake(node.place("strength"), 'one line is the main lift; the other needs "assistance: true"')
    for i, line in enumerate(written.strength):
        piece: LinePiece = "assistance" if line.assistance else "main"
        m = known.catalogue.movements.get(_movement(known.catalogue, line.movement))
        scheme, place = schemes.get(line.scheme), node.place("strength", i, "scheme")
        tier: Tier = scheme.tier if scheme else "open"
        below = node.child("strength").child(i)
        yield from _movement_mistakes(m, line.movement, below, piece, known, tier, scheme)
        if scheme is None:
            hint = nearest(line.scheme, list(schemes)) or f" Known: {', '.join(schemes)}."
            yield Mistake(place, f'there is no scheme "{line.scheme}".{hint}')
        elif m is not None and m.unit != scheme.unit:
            yield Mistake(place, f"{scheme.name} counts {scheme.unit}, and {m.name} counts {m.unit}")


def _conditioning_mistakes(written: WrittenSession, node: Located, known: _Known) -> Iterator[Mistake]:
    shapes = known.catalogue.shapes
    shape = shapes.get(written.shape)
    if shape is None:
        fitting = [s.id for s in shapes.values() if s.movements == len(written.conditioning)]
        some = ", ".join(fitting[:: max(1, len(fitting) // SHAPES_NAMED)])
        hint = nearest(written.shape, fitting or list(shapes)) or f" Some for so many movements: {some}."
        yield Mistake(node.place("shape"), f'there is no shape "{written.shape}".{hint}')
    elif len(written.conditioning) != shape.movements:
        say = f'"{shape.title}" has {shape.movements} movements, and here are {len(written.conditioning)}'
        yield Mistake(node.place("conditioning"), say)
    seen: set[str] = set()
    for line, below in zip(written.conditioning, node.child("conditioning").children(), strict=True):
        m = known.catalogue.movements.get(_movement(known.catalogue, line.movement))
        yield from _movement_mistakes(m, line.movement, below, "conditioning", known, line.tier)
        if m is None:
            continue
        if m.id in seen:
            yield Mistake(below.place("movement"), f"{m.name} is here a second time")
        seen.add(m.id)
        yield from _dose_mistakes(m, line, below, shape)
    if len({x.tier for x in written.conditioning} - {"open"}) > 1:
        yield Mistake(node.place("conditioning"), "one load for each athlete: give all lines the same tier")


def _dose_mistakes(
    m: Movement, line: WrittenConditioning, below: Located, shape: Shape | None
) -> Iterator[Mistake]:
    if line.tier not in m.doses:
        right = " or ".join(m.doses) or "none: it is no movement for this piece"
        yield Mistake(below.place("tier"), f"{m.name} is written with tier: {right}")
    if shape is None:
        return
    dose = sum(shape.ladder) if shape.ladder else line.dose
    if dose is None:
        yield Mistake(below.place(), '"dose" is missing')
    elif shape.ladder and line.dose not in (None, dose):
        yield Mistake(below.place("dose"), "a ladder's rungs say how many; leave the dose out")


def session_notes(session: SessionPlan, catalogue: Catalogue) -> tuple[str, ...]:
    """What is unusual about a session by hand, in sentences: it is kept as it is written all the same."""
    shape, floor = catalogue.shapes[session.shape], next(iter(session.versions.values()))
    lines = [(catalogue.movements[x.movement], x.dose, x.tier) for x in floor.conditioning]
    said = []
    for m, dose, tier in lines:
        if dose * shape.rounds > m.cap:
            said.append(f"{dose * shape.rounds} {m.unit} of {m.name} in all; usual are up to {m.cap}.")
        low, high = shape.station_s or (0, MOST_SECONDS)
        seconds = line_tenths(m, dose, tier, shape.ladder) / 10
        if not low <= seconds <= high:
            said.append(f"{m.name} takes a typical athlete {seconds:.0f} s; usual are {low} to {high} s.")
    took, (least, most) = round_tenths(lines, shape), shape.window_tenths
    if not least <= took <= most:
        one = "the whole ladder" if shape.ladder else "one round"
        said.append(
            f"A typical athlete takes {took / 10:.0f} s for {one}; for {shape.title} and {shape.domain} "
            f"usual are {ceil(least / 10)} to {most // 10} s."
        )
    return tuple(said)


def _movement_mistakes(  # noqa: PLR0917
    m: Movement | None,
    word: str,
    line: Located,
    piece: LinePiece,
    known: _Known,
    tier: Tier,
    scheme: Scheme | None = None,
) -> Iterator[Mistake]:
    place = line.place("movement")
    if m is None:
        hint = nearest(word.casefold().replace(" ", "_"), list(known.catalogue.movements))
        yield Mistake(place, f'there is no movement "{word}".{hint}')
        return
    stock = Stock(known.gym, known.gym.kits[0], known.catalogue.items)
    lacks = equipped(m, piece, tier, scheme, stock).lacks
    if lacks:
        yield Mistake(place, lacks)
