"""What the templates of a week see: flat, finished words and numbers.

A template chooses nothing and computes nothing; a field it misspells is an error, not a blank.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from planner.render.pictures import Bar, Dot


@dataclass(frozen=True)
class Fact:
    """A term and its value; ``note`` says more in small type."""

    term: str
    value: str
    note: str = ""


@dataclass(frozen=True)
class Badge:
    """The proof in one line.

    Attributes:
        full: whether every layer is proved.
        word: the verdict in a word or two.
        text: the rest of the line.
    """

    full: bool
    word: str
    text: str


@dataclass(frozen=True)
class Hardness:
    """How hard a day is: the word and the glyph's name."""

    word: str
    glyph: str


@dataclass(frozen=True)
class KitChoice:
    """A kit version: its number (gym floor 0), name and contents."""

    number: int
    name: str
    contains: str


@dataclass(frozen=True)
class GlanceDay:
    """A day of the week at a glance.

    Attributes:
        anchor: of the day's own part; empty on a day without a class.
        name: Monday.
        date: 1 December.
        title: of the session.
        strength: main lift, and ``strength_title`` its scheme.
        beside: assistance on the gym floor, or empty.
        conditioning: title.
        moves: dose and name of each movement on the gym floor, in order.
        domain: time domain word.
        hardness: None on a day without a class.
        rating: 0 to 10.
    """

    anchor: str
    name: str
    date: str
    title: str = ""
    strength: str = ""
    strength_title: str = ""
    beside: str = ""
    conditioning: str = ""
    moves: tuple[str, ...] = ()
    domain: str = ""
    hardness: Hardness | None = None
    rating: int = 0


@dataclass(frozen=True)
class LoadCell:
    """A day's planned load: bar, figure and rating; ``open`` is false on a day without a class."""

    open: bool
    bar: Bar
    au: str
    rating: str
    hardness: str


@dataclass(frozen=True)
class PatternRow:
    """A pattern over seven days.

    Attributes:
        name: of the pattern.
        cells: movements each day with their dots; no dots where there are none or too many.
        total: days with any.
    """

    name: str
    cells: tuple[tuple[int, tuple[Dot, ...]], ...]
    total: int


@dataclass(frozen=True)
class DomainRow:
    """A time domain over seven days: marked or not."""

    name: str
    cells: tuple[bool, ...]
    total: int


@dataclass(frozen=True)
class PairBars:
    """The two sides of a balance, such as push and pull, as the rule with this anchor counts them."""

    anchor: str
    left: str
    left_count: int
    right: str
    right_count: int
    bars: tuple[Bar, Bar]


@dataclass(frozen=True)
class ModalityShare:
    """A modality's share of the week, with its fill in the picture."""

    name: str
    count: int
    fill: str


@dataclass(frozen=True)
class BalanceView:
    """The week's balance: a table of day columns, and the bars beside it."""

    day_names: tuple[tuple[str, str], ...]
    load_cells: tuple[LoadCell, ...]
    week_au: str
    patterns: tuple[PatternRow, ...]
    domains: tuple[DomainRow, ...]
    pairs: tuple[PairBars, ...]
    modality: tuple[ModalityShare, ...]
    modality_bars: tuple[Bar, ...]
    load_facts: tuple[Fact, ...]


@dataclass(frozen=True)
class ClockBlock:
    """A block of the class clock: start and length in minutes; ``work`` for strength and conditioning."""

    label: str
    start: int
    minutes: int
    bar: Bar


@dataclass(frozen=True)
class Spare:
    """What the plan leaves of the class: from which minute, how many, and what for."""

    start: int
    minutes: int
    label: str


@dataclass(frozen=True)
class DrillGroup:
    """Drills of one phase: name, dose and point of each, and their minutes."""

    phase: str
    drills: tuple[Fact, ...]


@dataclass(frozen=True)
class LineView:
    """A movement in one version.

    Attributes:
        same: whether the gym floor does the same movement in this piece.
        extras: small facts: sets' rest, reserve, share of the 1RM, total.
        loads_said: the loads spelt out for each athlete, for a screen reader.
        plates: on each side of the bar, for each athlete; one where both are alike.
        sets: work sets in a row that are alike, with loads and plates, where not all are the same.
    """

    name: str
    dose: str
    same: bool
    stands_for: str
    assistance: bool
    load: str
    loads_said: str
    plates: tuple[str, ...]
    sets: tuple[Fact, ...]
    extras: tuple[str, ...]
    build_up: str
    setup: str
    standard: str
    points: tuple[str, ...]
    faults: tuple[str, ...]
    easier: tuple[Fact, ...]
    too_heavy: str
    cautions: tuple[str, ...]


@dataclass(frozen=True)
class ForecastView:
    """Quick, typical and slow.

    Attributes:
        facts: the three, in minutes and seconds or in ``unit``.
        said: all three in a sentence.
        unit: empty for minutes and seconds.
        marks: their places between the start and the cap in hundredths; none without a cap.
        cap: the time cap; empty where there is none.
    """

    facts: tuple[Fact, ...]
    said: str
    unit: str
    marks: tuple[float, ...]
    cap: str


@dataclass(frozen=True)
class VersionView:
    """A piece for one kit."""

    number: int
    name: str
    contains: str
    note: str
    lines: tuple[LineView, ...]
    forecast: ForecastView | None


@dataclass(frozen=True)
class PieceView:
    """A part of the session; its title is empty where it says no more than the heading."""

    kind: str
    heading: str
    minutes: int
    title: str
    stimulus: str
    how: str
    facts: tuple[Fact, ...]
    floor_setup: tuple[str, ...]
    drill_groups: tuple[DrillGroup, ...]
    versions: tuple[VersionView, ...]
    rows: int


@dataclass(frozen=True)
class Overruled:
    """A rule that the coach has overruled in one place.

    Attributes:
        anchor: of the rule in the report.
        statement: the rule.
        said: what was measured there.
        because: the coach's reason.
    """

    anchor: str
    statement: str
    said: str
    because: str


@dataclass(frozen=True)
class DayView:
    """A day."""

    anchor: str
    name: str
    date: str
    title: str
    hardness: Hardness
    rating: int
    rating_words: str
    facts: tuple[Fact, ...]
    clock: tuple[ClockBlock, ...]
    clock_said: str
    spare: Spare | None
    clock_end: int
    pieces: tuple[PieceView, ...]
    cautions: tuple[str, ...]
    overruled: tuple[Overruled, ...]


@dataclass(frozen=True)
class GaveWay:
    """A weighted rule that gave way."""

    anchor: str
    statement: str
    places: tuple[Fact, ...]
    measure: str
    cost: str


@dataclass(frozen=True)
class RuleView:
    """A rule in full."""

    anchor: str
    statement: str
    verdict: str
    holds: bool
    facts: tuple[Fact, ...]
    places: tuple[Fact, ...]


@dataclass(frozen=True)
class RuleGroup:
    """Rules of one level."""

    name: str
    rules: tuple[RuleView, ...]


@dataclass(frozen=True)
class ReportView:
    """The rule report."""

    musts: str
    musts_hold: bool
    broken: tuple[GaveWay, ...]
    gave_way: tuple[GaveWay, ...]
    weights: str
    cost: str
    overruled: tuple[Overruled, ...]
    watch: tuple[GaveWay, ...]
    groups: tuple[RuleGroup, ...]


@dataclass(frozen=True)
class LayerView:
    """A layer of the objective, proved or not."""

    name: str
    objective: str
    bound: str
    gap: str
    proved: bool
    status: str
    seconds: str


@dataclass(frozen=True)
class ProofView:
    """How good the week is, as far as it is proved."""

    layers: tuple[LayerView, ...]
    facts: tuple[Fact, ...]


@dataclass(frozen=True)
class WeekPage:
    """The whole file; ``plan`` is the gym floor's week as JSON-LD."""

    title: str
    gym: str
    invented: bool
    week: str
    dates: str
    class_line: str
    badge: Badge
    kits_heading: str
    kits: tuple[KitChoice, ...]
    athletes: tuple[Fact, ...]
    glance: tuple[GlanceDay, ...]
    balance: BalanceView
    days: tuple[DayView, ...]
    report: ReportView
    proof: ProofView
    cautions: tuple[str, ...]
    digest: str
    plan: dict[str, Any]
    light: str
    dark: str
