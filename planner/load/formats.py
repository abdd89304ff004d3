"""Reads time domains and formats, and expands each line of shapes into single shapes."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import product
from math import ceil, floor
from pathlib import Path
from typing import Annotated, Literal

from pydantic import Field, model_validator

from planner.domain.base import Id, Value
from planner.domain.catalogue import Body, Clock, DomainName, Format, Mark, Shape, Sharing, TimeDomain
from planner.domain.running import PEOPLE
from planner.domain.timing import SLOW_PERCENT
from planner.errors import DataError, Place
from planner.load.validate import validated
from planner.load.yaml_file import read_yaml

SLOT_SECONDS = 60


class ShapeLine(Value):
    """One line of shapes as written: lists stand for every combination.

    Attributes:
        rounds: numbers of rounds (of expected rounds where ``minutes`` is given).
        movements: numbers of movements.
        domain: time domain.
        effort: what it adds to the session's rating.
        minutes: lengths, where the clock ends the piece.
        every_s: slot of each round, seconds.
        work: least and most percent of the slot that is work; with ``every_s``.
        station_s: least and most seconds of work in a slot of one minute for each movement.
        ladder: rungs.
        opening, after_each, closing: how many of the movements come once before, after each other line of a
            round, and once at the end. Then ``rounds`` says how often the others are gone through.
        people, sharing: who does it together, and how.
        stations: whether the class can start spread over the movements.
        heats: heats of the class.
    """

    rounds: tuple[Annotated[int, Field(ge=1)], ...] = (1,)
    movements: tuple[int, ...] = Field(min_length=1)
    domain: DomainName
    effort: int = Field(ge=0, le=5)
    minutes: tuple[int, ...] = ()
    every_s: int | None = None
    work: tuple[int, int] | None = None
    station_s: tuple[int, int] | None = None
    ladder: tuple[tuple[int, ...], ...] = ((),)
    opening: int = Field(0, ge=0, le=2)
    after_each: int = Field(0, ge=0, le=1)
    closing: int = Field(0, ge=0, le=2)
    people: int = Field(1, ge=1, le=3)
    sharing: Sharing = "alone"
    stations: bool = False
    heats: int = 1

    @model_validator(mode="after")
    def _hangs_together(self) -> ShapeLine:
        if (self.every_s is None) != (self.work is None):
            raise ValueError("every_s and work go together: the slot of a round and the share that is work")
        if (self.people == 1) != (self.sharing == "alone"):
            raise ValueError("pairs and threes share in some way, and nobody else does")
        if self.placed and (self.minutes or self.every_s or self.station_s):
            raise ValueError(
                "what comes before, between or after the rounds is for time: no minutes, no slots"
            )
        if self.placed >= min(self.movements):
            raise ValueError("at least one movement is for the rounds themselves")
        return self

    @property
    def placed(self) -> int:
        """How many movements come before, between or after those of the rounds."""
        return self.opening + self.after_each + self.closing


class FormatEntry(Value):
    """A format as written; see ``Format``."""

    id: Id
    name: str
    how: str
    score: str
    timed: Literal["for_time", "fixed"]
    clock: Clock | None = None
    body: Body = "any"
    by_movement: bool = False
    marks: frozenset[Mark] = frozenset()
    efforts: dict[DomainName, Annotated[int, Field(ge=0, le=5)]] = Field(default_factory=dict)
    shapes: tuple[ShapeLine, ...] = ()

    @model_validator(mode="after")
    def _hangs_together(self) -> FormatEntry:
        if (self.clock is None) != (not self.efforts):
            raise ValueError(
                "clock and efforts go together: which compositions it takes, and how hard they are"
            )
        if self.clock is None and not self.shapes:
            raise ValueError("a format has shapes to draft, or a clock for what a coach composes")
        return self


class FormatsFile(Value):
    """The whole file."""

    domains: tuple[TimeDomain, ...] = Field(min_length=1)
    formats: tuple[FormatEntry, ...] = Field(min_length=1)


class OwnFormatsFile(Value):
    """A gym's own formats, in the catalogue's time domains."""

    formats: tuple[FormatEntry, ...] = Field(min_length=1)


def load_formats(path: Path, own: Path | None = None) -> tuple[dict[str, TimeDomain], dict[str, Format]]:
    """Domains and formats by id.

    Args:
        path: the catalogue's file.
        own: a gym's, with more formats.

    Raises:
        DataError: if a file cannot be used.
    """
    parsed = validated(FormatsFile, read_yaml(path))
    domains: dict[str, TimeDomain] = {d.id: d for d in parsed.domains}
    formats: dict[str, Format] = {}
    _add(parsed.formats, path, domains, formats)
    if own is not None:
        _add(validated(OwnFormatsFile, read_yaml(own)).formats, own, domains, formats)
    return domains, formats


def _add(
    entries: Iterable[FormatEntry], path: Path, domains: dict[str, TimeDomain], formats: dict[str, Format]
) -> None:
    """Adds formats to those known, with their shapes."""
    seen = {s.id for form in formats.values() for s in form.shapes}
    for entry in entries:
        shapes = []
        for line in entry.shapes:
            if line.domain not in domains:
                known = ", ".join(domains)
                what = f'there is no time domain "{line.domain}"; there are {known}'
                raise DataError(what, Place(path, key=f"formats.{entry.id}"))
            shapes += expand(entry, line, domains[line.domain])
        twice = [s.id for s in shapes if s.id in seen]
        if twice or entry.id in formats:
            what = f"shape {twice[0]} is there twice" if twice else f"format {entry.id} is there twice"
            raise DataError(what, Place(path, key=f"formats.{entry.id}"))
        seen.update(s.id for s in shapes)
        formats[entry.id] = Format(
            id=entry.id,
            name=entry.name,
            how=entry.how,
            score=entry.score,
            timed=entry.timed,
            clock=entry.clock,
            body=entry.body,
            by_movement=entry.by_movement,
            marks=entry.marks,
            efforts=entry.efforts,
            shapes=tuple(shapes),
        )


def expand(entry: FormatEntry, line: ShapeLine, domain: TimeDomain) -> list[Shape]:
    """Every shape that a line stands for, in the order of its lists."""
    combinations = product(line.rounds, line.movements, line.minutes or (None,), line.ladder)
    return [_shape(entry, line, domain, *combination) for combination in combinations]


def _shape(  # noqa: PLR0917
    entry: FormatEntry,
    line: ShapeLine,
    domain: TimeDomain,
    rounds: int,
    movements: int,
    minutes: int | None,
    ladder: tuple[int, ...],
) -> Shape:
    if line.station_s:
        minutes = rounds * movements * SLOT_SECONDS // 60
    elif line.every_s:
        minutes = ceil(rounds * line.every_s / 60)
    low, high = _working_seconds(line, domain, rounds, minutes)
    counted = 1 if line.placed else rounds
    stretch = counted * (100 + domain.fatigue_percent)
    window = (ceil(low * 1000 / stretch), floor(high * 1000 / stretch))
    cap = minutes or ceil(high * SLOW_PERCENT / 100 / 60)
    parts = [entry.id, "_".join(map(str, ladder)) or str(rounds), f"of_{movements}"]
    if minutes:
        parts.append(f"in_{minutes}")
    else:
        parts.append(line.domain)
    if line.heats > 1:
        parts.append(f"heats_{line.heats}")
    return Shape(
        id="_".join(parts),
        format=entry.id,
        rounds=counted,
        laps=rounds if line.placed else None,
        movements=movements,
        opening=line.opening,
        after_each=line.after_each,
        closing=line.closing,
        people=line.people,
        sharing=line.sharing,
        domain=line.domain,
        window_tenths=window,
        fixed_minutes=minutes,
        cap_minutes=cap * line.heats,
        effort=line.effort,
        stations=line.stations,
        heats=line.heats,
        station_s=line.station_s,
        every_s=line.every_s,
        ladder=ladder,
        title=", ".join(
            filter(None, (_title(entry, line, rounds, movements, minutes, ladder), PEOPLE[line.people]))
        ),
    )


def _working_seconds(
    line: ShapeLine, domain: TimeDomain, rounds: int, minutes: int | None
) -> tuple[float, float]:
    """Least and most predicted working seconds of all rounds."""
    if line.station_s:
        return 0, rounds * 60 * 60
    if line.every_s and line.work:
        low, high = line.work
        return rounds * line.every_s * low / 100, rounds * line.every_s * high / 100
    if minutes:
        # ``rounds`` rounds are expected within half a round either way.
        return minutes * 60 * rounds / (rounds + 0.5), minutes * 60 * rounds / (rounds - 0.5)
    return domain.seconds


def _title(  # noqa: PLR0917
    entry: FormatEntry,
    line: ShapeLine,
    rounds: int,
    movements: int,
    minutes: int | None,
    ladder: tuple[int, ...],
) -> str:
    if ladder:
        return f"{'-'.join(map(str, ladder))} for time"
    if line.station_s:
        return f"Every minute on the minute, {minutes} minutes: {movements} movements in turn"
    if line.every_s:
        slot = f"{line.every_s // 60} minutes" if line.every_s % 60 == 0 else f"{line.every_s} seconds"
        return f"Every {slot}, {rounds} times"
    if minutes:
        return f"{minutes} minutes, {entry.name}"
    if rounds == 1:
        return f"Once through, for time ({movements} movements)"
    return f"{rounds} rounds for time"
