"""Rules of every kind with miniature weeks drawn by hand, and what each week measures."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from typing import Any, Literal

from planner.domain.catalogue import Catalogue
from planner.domain.gym import Day
from planner.problem.problem import Problem, assemble_problem
from planner.rules import Rule
from planner.rules.base import PastSession
from tests.rules.universe import WEEK, catalogue, gym, past_session, rule, universe, with_windows

Side = Literal["passing", "at the limit", "just past", "failing"]
SLOW_ROW = "press/heavy | dash: row"


@dataclass(frozen=True, slots=True)
class Example:
    """A week of the gym floor, one text a day, and what a coach with a pencil measures in it."""

    side: Side
    week: tuple[str, ...]
    measure: int


@dataclass(frozen=True, slots=True)
class Case:
    """A rule, the tiny world in which it is tried, and its examples."""

    name: str
    fields: dict[str, Any]
    world: Callable[[], Problem]
    examples: tuple[Example, ...]

    def rule(self, **level: Any) -> Rule:
        """The rule as a must, or with a weight."""
        return rule(**self.fields, **(level or {"must": True}))

    def __str__(self) -> str:
        """For pytest."""
        return f"{self.fields['kind']}-{self.name}"


def passing(*week: str) -> Example:
    return Example("passing", week, 0)


def at_the_limit(*week: str) -> Example:
    return Example("at the limit", week, 0)


def just_past(measure: int, *week: str) -> Example:
    return Example("just past", week, measure)


def failing(measure: int, *week: str) -> Example:
    return Example("failing", week, measure)


@cache
def two_days() -> Problem:
    """Monday and Tuesday, no assistance: 27 sessions a day."""
    return universe()


@cache
def with_assistance() -> Problem:
    """The press may also be done beside the main lift."""
    return universe(a_catalogue=catalogue(only_schemes=("heavy", "quick", "beside")))


@cache
def three_days() -> Problem:
    """Monday to Wednesday, with few movements and two schemes."""
    return universe(a_gym=gym(("mon", "tue", "wed")), a_catalogue=catalogue(("squat", "row")))


@cache
def with_a_gap() -> Problem:
    """Monday, Wednesday and Sunday."""
    return universe(a_gym=gym(("mon", "wed", "sun")), a_catalogue=catalogue(("squat", "row")))


@cache
def with_a_long_piece() -> Problem:
    """A heavy lift before it makes a day of just eight of ten, a quick one of six."""
    made = catalogue(("squat", "row"), only_shapes=("dash", "mile"), mains_alone=("squat",))
    return universe(a_catalogue=made)


@cache
def on_one_station() -> Problem:
    """Two movements of one rower, and one that needs nothing."""
    made = catalogue(("squat", "row", "sprint", "hop"), ("heavy",), ("dash", "pair5"), ("squat",))
    return universe(a_catalogue=made)


def after_other_pieces(*earlier: tuple[Day, str, int]) -> Callable[[], Problem]:
    """Two days with a long piece of the short one's format, after pieces of three movements."""

    def made() -> Problem:
        drawn = universe(a_gym=all_week().gym, a_catalogue=catalogue(only_shapes=("dash", "trio", "mile")))
        past = tuple(past_session(drawn, d, text, ago) for d, text, ago in earlier)
        here = catalogue(only_schemes=("heavy",), only_shapes=("dash", "pair", "mile"))
        return universe(past=past, a_catalogue=here)

    return cache(made)


@cache
def all_week() -> Problem:
    """Monday to Sunday; only the main lift's scheme is to be chosen, so that there are 128 weeks."""
    whole = gym(("mon", "tue", "wed", "thu", "fri", "sat", "sun"))
    return universe(a_gym=whole, a_catalogue=_plain())


def _plain() -> Catalogue:
    return catalogue(("squat", "row"), ("heavy", "quick"), ("dash",), ("squat",))


def all_week_after(*earlier: tuple[Day, str, int]) -> Callable[[], Problem]:
    """The same after sessions of earlier weeks."""

    def made() -> Problem:
        past = tuple(past_session(all_week(), d, text, ago) for d, text, ago in earlier)
        return universe(past=past, a_gym=all_week().gym, a_catalogue=_plain())

    return cache(made)


@cache
def with_more(size: int) -> Callable[[], Problem]:
    """Two days of leaps on each side, swings and rows; in heats without stations too."""
    made = catalogue(("squat", "row", "leap", "swing"), ("heavy",), ("dash", "pair5", "waves"), ("squat",))
    return cache(lambda: universe(a_gym=gym(size=size), a_catalogue=made))


def days(kinds: str) -> tuple[str, ...]:
    """A week of heavy and quick main lifts, a letter a day."""
    return tuple({"h": "squat/heavy | dash: row", "q": "squat/quick | dash: row"}[k] for k in kinds)


@cache
def class_of(size: int) -> Callable[[], Problem]:
    return cache(lambda: universe(a_gym=gym(size=size)))


@cache
def class_of_minutes(minutes: int) -> Callable[[], Problem]:
    made = catalogue(only_schemes=("heavy", "quick", "beside"))
    return cache(lambda: universe(a_gym=gym(minutes=minutes), a_catalogue=made))


@cache
def tight_windows() -> Problem:
    """A round of the short shape takes 15 to 30 seconds, of the middle one up to 51.3."""
    made = catalogue()
    return universe(
        a_catalogue=with_windows(made, {"dash": (150, 300), "pair": (0, 513), "pair5": (400, 513)})
    )


def with_a_full_tuesday(*earlier: tuple[Day, str, int]) -> Callable[[], Problem]:
    """Two days, six people on the first and eight on the second, after sessions of earlier weeks."""

    def made() -> Problem:
        usual = gym()
        small_monday = usual.class_.model_copy(update={"by_day": {"mon": 6}})
        return universe(
            past=after(*earlier)().facts.past, a_gym=usual.model_copy(update={"class_": small_monday})
        )

    return cache(made)


def after(*earlier: tuple[Day, str, int]) -> Callable[[], Problem]:
    """Two days, after sessions of earlier weeks: weekday, text, weeks ago."""

    def made() -> Problem:
        whole_week = gym(("mon", "tue", "wed", "thu", "fri", "sat", "sun"))
        drawn = assemble_problem(catalogue(), whole_week, (), (), WEEK, 1)
        past: tuple[PastSession, ...] = tuple(past_session(drawn, d, text, ago) for d, text, ago in earlier)
        return universe(past=past)

    return cache(made)


CASES: tuple[Case, ...] = (
    Case(
        "at-most-a-week",
        {
            "kind": "limit",
            "where": {"piece": "main", "load": "heavy"},
            "count": "days",
            "per": "week",
            "at_most": 1,
        },
        two_days,
        (
            passing("squat/quick | dash: row", "squat/quick | dash: hop"),
            at_the_limit("squat/heavy | dash: row", "squat/quick | dash: hop"),
            just_past(1, "squat/heavy | dash: row", SLOW_ROW),
        ),
    ),
    Case(
        "between-a-day",
        {
            "kind": "limit",
            "where": {"piece": "conditioning", "pattern": "squat"},
            "per": "day",
            "at_least": 1,
            "at_most": 1,
        },
        two_days,
        (
            at_the_limit("squat/heavy | dash: hop", "squat/quick | pair: row, hop"),
            just_past(1, "squat/heavy | dash: row", "squat/quick | pair: row, hop"),
            just_past(1, "squat/heavy | pair: squat.light, hop", "squat/quick | pair: row, hop"),
            failing(2, "squat/heavy | pair: squat.light, hop", SLOW_ROW),
        ),
    ),
    Case(
        "each-pattern",
        {"kind": "limit", "where": {"piece": "conditioning"}, "each": "pattern", "per": "day", "at_most": 1},
        two_days,
        (
            at_the_limit(SLOW_ROW, "squat/quick | pair: row, hop"),
            just_past(1, SLOW_ROW, "squat/quick | pair: squat.heavy, hop"),
        ),
    ),
    Case(
        "each-pattern-both-ways",
        {
            "kind": "limit",
            "where": {"pattern": ["squat", "jump"]},
            "each": "pattern",
            "count": "days",
            "per": "week",
            "at_least": 1,
            "at_most": 1,
        },
        two_days,
        (
            at_the_limit(SLOW_ROW, "press/heavy | dash: hop"),
            just_past(1, SLOW_ROW, "squat/quick | dash: row"),
            failing(2, "squat/heavy | dash: hop", "squat/quick | dash: hop"),
        ),
    ),
    Case(
        "each-movement",
        {
            "kind": "limit",
            "where": {"piece": "conditioning"},
            "each": "movement",
            "count": "days",
            "per": "week",
            "at_most": 1,
        },
        two_days,
        (
            at_the_limit(SLOW_ROW, "squat/quick | dash: hop"),
            just_past(1, SLOW_ROW, "squat/quick | pair: row, hop"),
            failing(2, "press/heavy | pair: row, hop", "squat/quick | pair: hop, row"),
        ),
    ),
    Case(
        "any-two-days",
        {
            "kind": "limit",
            "where": {"hardness": ["hard", "medium"]},
            "count": "days",
            "per": "span",
            "span_days": 2,
            "at_most": 1,
        },
        three_days,
        (
            passing(*["squat/quick | pair: squat.light, row"] * 3),
            at_the_limit(
                "squat/heavy | dash: row", "squat/quick | pair: row, squat.light", "squat/heavy | dash: row"
            ),
            just_past(
                1,
                "squat/heavy | dash: row",
                "squat/quick | dash: row",
                "squat/quick | pair: squat.light, row",
            ),
            failing(2, *["squat/quick | dash: row"] * 3),
        ),
    ),
    Case(
        "every-two-days",
        {
            "kind": "limit",
            "where": {"piece": "conditioning", "modality": "loaded"},
            "per": "span",
            "span_days": 6,
            "at_least": 1,
        },
        three_days,
        (
            at_the_limit(
                "squat/quick | dash: row", "squat/quick | dash: squat.light", "squat/quick | dash: row"
            ),
            just_past(
                1, "squat/quick | dash: squat.light", "squat/quick | dash: row", "squat/quick | dash: row"
            ),
            failing(2, *["squat/quick | dash: row"] * 3),
        ),
    ),
    Case(
        "sets",
        {"kind": "limit", "where": {"load": "heavy"}, "count": "sets", "per": "week", "at_most": 5},
        two_days,
        (
            passing("squat/quick | dash: row", "squat/quick | dash: squat.heavy"),
            at_the_limit("squat/quick | dash: row", SLOW_ROW),
            failing(5, SLOW_ROW, SLOW_ROW),
        ),
    ),
    Case(
        "reps-of-the-main-lift",
        {
            "kind": "limit",
            "where": {"piece": "main"},
            "count": "units",
            "per": "week",
            "at_least": 13,
            "at_most": 20,
        },
        two_days,
        (
            just_past(1, "squat/quick | dash: row", "squat/quick | dash: row"),
            just_past(1, "squat/quick | dash: row", SLOW_ROW),
            failing(10, SLOW_ROW, SLOW_ROW),
        ),
    ),
    Case(
        "loads-in-the-hands",
        {"kind": "limit", "where": {}, "count": "implements", "per": "week", "at_most": 1},
        two_days,
        (just_past(2, SLOW_ROW, "press/heavy | pair: squat.light, row"),),  # the squat's bar is another
    ),
    Case(
        "large-stations",
        {"kind": "limit", "where": {"piece": "conditioning"}, "count": "large", "per": "week", "at_most": 1},
        two_days,
        (
            passing("press/heavy | dash: hop", "press/heavy | dash: hop"),
            at_the_limit("press/heavy | dash: hop", SLOW_ROW),
            just_past(1, "press/heavy | pair: row, hop", SLOW_ROW),
        ),
    ),
    Case(
        "days-of-a-domain",
        {
            "kind": "limit",
            "where": {"domain": "short"},
            "count": "days",
            "per": "week",
            "at_least": 1,
            "at_most": 1,
        },
        two_days,
        (
            at_the_limit(SLOW_ROW, "press/heavy | pair: row, hop"),
            just_past(1, SLOW_ROW, SLOW_ROW),
            just_past(1, "press/heavy | pair: row, hop", "press/heavy | pair: row, hop"),
        ),
    ),
    Case(
        "nothing-to-count",
        {"kind": "limit", "where": {"pattern": "carry"}, "count": "days", "per": "week", "at_least": 1},
        two_days,
        (failing(1, SLOW_ROW, SLOW_ROW),),
    ),
    Case(
        "reps-a-day",
        {"kind": "limit", "where": {"main_pattern": "jump"}, "count": "units", "per": "day", "at_most": 24},
        two_days,
        (
            passing(SLOW_ROW, SLOW_ROW),
            at_the_limit("press/heavy | pair: row 125, hop 5", "press/heavy | dash: hop 5"),
            just_past(1, "press/heavy | pair5: row 125, hop 5", "press/heavy | dash: hop 5"),
            failing(26, "press/heavy | pair5: row 125, hop 10", "press/heavy | dash: row 250"),
        ),
    ),
    Case(
        "landings-a-week",
        {
            "kind": "limit",
            "where": {"contacts": True},
            "count": "contacts",
            "per": "week",
            "at_least": 20,
            "at_most": 35,
        },
        two_days,
        (
            at_the_limit("press/heavy | pair: row 125, hop 5", "press/heavy | dash: hop 5"),
            at_the_limit("press/heavy | pair: row 125, hop 5", "press/heavy | dash: row 125"),
            failing(5, "press/heavy | dash: hop 5", "press/heavy | dash: row 125"),
            failing(5, "press/heavy | pair5: row 125, hop 5", "press/heavy | dash: hop 5"),
        ),
    ),
    Case(
        "everything-a-day",
        {"kind": "limit", "where": {"pattern": "squat"}, "count": "units", "per": "day", "at_most": 40},
        two_days,
        (
            at_the_limit("press/heavy | pair: row 125, hop 10", "squat/heavy | pair5: row 125, hop 5"),
            failing(15, "squat/heavy | pair: row 125, hop 10", "press/heavy | dash: row 125"),
        ),
    ),
    Case(
        "two-days-between",
        {"kind": "spacing", "where": {"load": "heavy"}, "hours": 48},
        three_days,
        (
            passing(*["squat/quick | dash: row"] * 3),
            at_the_limit("squat/heavy | dash: row", "squat/quick | dash: row", "squat/heavy | dash: row"),
            failing(
                24, "squat/heavy | dash: row", "squat/quick | dash: squat.heavy", "squat/quick | dash: row"
            ),
        ),
    ),
    Case(
        "an-hour-too-few",
        {"kind": "spacing", "where": {"load": "heavy"}, "hours": 25},
        two_days,
        (just_past(1, "squat/heavy | dash: row", SLOW_ROW), passing("squat/quick | dash: row", SLOW_ROW)),
    ),
    Case(
        "each-pattern",
        {"kind": "spacing", "where": {"load": ["heavy", "moderate"]}, "each": "pattern", "hours": 120},
        with_a_gap,
        (
            failing(72 + 24, "squat/heavy | dash: row", "squat/quick | dash: row", "squat/quick | dash: row"),
            failing(72 + 24, *["squat/heavy | dash: squat.heavy"] * 3),
        ),
    ),
    Case(
        "named-patterns",
        {"kind": "spacing", "where": {"pattern": ["squat", "vertical_push"]}, "each": "pattern", "hours": 48},
        two_days,
        (
            passing(SLOW_ROW, "squat/quick | dash: row"),
            failing(24, SLOW_ROW, SLOW_ROW),
            failing(48, "press/heavy | dash: hop", "press/heavy | dash: hop"),
        ),
    ),
    Case(
        "against-last-week",
        {"kind": "spacing", "where": {"load": "heavy"}, "hours": 72},
        after(("sun", "squat/heavy | dash: row", 1), ("sat", "squat/quick | dash: squat.heavy", 1)),
        (
            passing("squat/quick | dash: row", "squat/quick | dash: row"),
            failing(48 + 24, SLOW_ROW, "squat/quick | dash: row"),
            failing(24, "squat/quick | dash: row", SLOW_ROW),
            failing(48 + 24 + 24 + 48, SLOW_ROW, SLOW_ROW),
        ),
    ),
    Case(
        "never-on-a-day",
        {
            "kind": "together",
            "with": {"piece": "main", "pattern": "squat"},
            "never": {"piece": "conditioning", "pattern": "squat"},
        },
        two_days,
        (
            passing(SLOW_ROW, SLOW_ROW),
            at_the_limit("press/heavy | dash: hop", "squat/quick | dash: row"),
            just_past(1, SLOW_ROW, "squat/quick | dash: hop"),
            failing(2, "squat/quick | dash: hop", "squat/quick | pair: hop, squat.light"),
        ),
    ),
    Case(
        "each-pattern",
        {
            "kind": "together",
            "with": {"piece": "main"},
            "never": {"piece": "conditioning"},
            "each": "pattern",
        },
        two_days,
        (
            at_the_limit("press/heavy | dash: hop", "squat/quick | dash: row"),
            just_past(1, "press/heavy | dash: hop", "squat/quick | dash: hop"),
        ),
    ),
    Case(
        "beside-another-pattern",
        {"kind": "together", "with": {"piece": "main"}, "never": {"piece": "assistance"}, "each": "pattern"},
        with_assistance,
        (
            at_the_limit("press/heavy | dash: hop", "squat/quick + press | dash: row"),
            failing(2, "press/heavy + press | dash: hop", "squat/quick | dash: hop"),
        ),
    ),
    Case(
        "needs-on-a-day",
        {"kind": "together", "with": {"domain": "medium"}, "needs": {"modality": "cyclic"}},
        two_days,
        (
            passing("press/heavy | dash: hop", "press/heavy | dash: hop"),
            at_the_limit("press/heavy | dash: hop", "squat/quick | pair: row, hop"),
            just_past(1, "press/heavy | dash: hop", "squat/quick | pair: squat.light, hop"),
        ),
    ),
    Case(
        "within",
        {
            "kind": "share",
            "of": {"pattern": "squat"},
            "to": {"pattern": ["cyclic", "vertical_push"]},
            "within": 1,
        },
        two_days,
        (
            passing("squat/quick | dash: row", "press/heavy | dash: hop"),
            at_the_limit(*["squat/quick | pair: row, hop", "press/heavy | dash: hop"]),
            just_past(1, "squat/quick | dash: hop", "press/heavy | dash: squat.light"),
            failing(3, "press/heavy | dash: row", "press/heavy | dash: row"),
        ),
    ),
    Case(
        "percent",
        {
            "kind": "share",
            "of": {"piece": "conditioning", "modality": "loaded"},
            "to": {"piece": "conditioning"},
            "percent": [25, 50],
        },
        two_days,
        (
            at_the_limit("press/heavy | dash: squat.light", SLOW_ROW),
            just_past(1, SLOW_ROW, SLOW_ROW),
            just_past(1, "press/heavy | dash: squat.light", "press/heavy | pair: squat.heavy, row"),
            failing(1, "press/heavy | dash: squat.light", "press/heavy | dash: squat.heavy"),
        ),
    ),
    Case(
        "movements",
        {"kind": "rotate", "what": "movement", "where": {"piece": "conditioning"}, "weeks": 1},
        after(("wed", "squat/heavy | pair: row, hop", 1), ("fri", "press/heavy | dash: squat.light", 2)),
        (
            at_the_limit("squat/quick | dash: squat.heavy", "press/heavy | dash: squat.light"),
            just_past(1, "squat/quick | dash: row", "press/heavy | dash: squat.light"),
            failing(3, "squat/quick | dash: row", "press/heavy | pair: row, hop"),
        ),
    ),
    Case(
        "pairs",
        {"kind": "rotate", "what": "pairing", "weeks": 2},
        after(("wed", "squat/heavy | pair: row, hop", 2), ("mon", "press/heavy | pair: row, hop", 1)),
        (
            at_the_limit("squat/quick | dash: row", "press/heavy | pair: row, squat.light"),
            just_past(1, "squat/quick | pair: hop, row", "press/heavy | dash: hop"),
        ),
    ),
    Case(
        "lift-and-scheme",
        {"kind": "rotate", "what": "lift_and_scheme", "where": {"piece": "main"}, "weeks": 2},
        after(("wed", "squat/heavy | pair: row, hop", 2), ("mon", "press/heavy | dash: squat.light", 3)),
        (
            at_the_limit("squat/quick | dash: row", "press/heavy | dash: row"),
            just_past(1, "squat/heavy | pair: hop, row", "press/heavy | dash: hop"),
        ),
    ),
    Case(
        "weekday",
        {"kind": "rotate", "what": "weekday_format", "weeks": 2},
        after(("mon", "squat/heavy | pair: row, hop", 2), ("tue", "press/heavy | dash: squat.light", 1)),
        (
            at_the_limit(SLOW_ROW, "press/heavy | pair: row, hop"),
            just_past(1, "press/heavy | pair: row, hop", "press/heavy | pair: row, hop"),
            failing(2, "press/heavy | pair: row, hop", SLOW_ROW),
        ),
    ),
    Case(
        "load-near-last-week",
        {"kind": "rotate", "what": "week_load", "within_percent": 15, "weeks": 1},
        after(("mon", "squat/heavy | pair: row, hop", 1), ("tue", "squat/quick | dash: row", 1)),
        (
            passing("squat/quick | dash: row", "press/heavy | pair: row, hop"),
            at_the_limit("press/heavy | dash: row", "squat/quick | dash: row"),
            just_past(1, "press/heavy | dash: row", "press/heavy | dash: row"),
            just_past(1, "squat/quick | pair: row, hop", "squat/quick | pair: row, hop"),
        ),
    ),
    Case(
        "nothing-before",
        {"kind": "rotate", "what": "movement", "weeks": 4},
        two_days,
        (passing(SLOW_ROW, SLOW_ROW),),
    ),
    Case(
        "three-in-a-row",
        {"kind": "sequence", "never": [{"hardness": "hard"}] * 3},
        three_days,
        (
            passing(*["squat/quick | dash: row"] * 3),
            at_the_limit("squat/heavy | dash: row", "squat/heavy | dash: row", "squat/quick | dash: row"),
            just_past(1, *["squat/heavy | dash: row"] * 3),
        ),
    ),
    Case(
        "then",
        {"kind": "sequence", "never": [{"piece": "main", "load": "heavy"}, {"pattern": "squat"}]},
        three_days,
        (
            passing(*["squat/quick | dash: row"] * 3),
            at_the_limit("squat/quick | dash: row", "squat/quick | dash: row", "squat/heavy | dash: row"),
            just_past(1, "squat/quick | dash: row", "squat/heavy | dash: row", "squat/quick | dash: row"),
            failing(2, *["squat/heavy | dash: row"] * 3),
        ),
    ),
    Case(
        "domain-differs",
        {"kind": "sequence", "differ": "domain"},
        three_days,
        (
            at_the_limit(
                "squat/quick | dash: row", "squat/quick | pair: row, squat.light", "squat/quick | dash: row"
            ),
            just_past(
                1,
                "squat/quick | dash: row",
                "squat/quick | dash: row",
                "squat/quick | pair: row, squat.light",
            ),
            failing(2, *["squat/quick | dash: row"] * 3),
        ),
    ),
    Case(
        "format-differs-where-both-are-open",
        {"kind": "sequence", "differ": "format"},
        with_a_gap,
        (passing(*["squat/quick | dash: row"] * 3),),
    ),
    Case(
        "movements-differ",
        {"kind": "sequence", "differ": "movements"},
        two_days,
        (passing(SLOW_ROW, "press/heavy | pair: row, hop"), just_past(1, SLOW_ROW, SLOW_ROW)),
    ),
    Case(
        "racks-and-bars-in-strength",
        {"kind": "capacity", "piece": "strength", "sharing": 2},
        class_of(6),
        (
            passing("press/heavy | dash: row", "press/heavy | dash: row"),
            just_past(1, "squat/heavy | dash: row", "press/heavy | dash: row"),
            failing(2, "squat/heavy | dash: row", "squat/quick | dash: row"),
        ),
    ),
    Case(
        "just-enough-in-heats",
        {"kind": "capacity", "piece": "conditioning", "item": "barbell"},
        class_of(8),
        (
            passing(SLOW_ROW, SLOW_ROW),
            at_the_limit("press/heavy | dash: squat.heavy", "press/heavy | pair: squat.light, row"),
        ),
    ),
    Case(
        "everything-in-conditioning",
        {"kind": "capacity", "piece": "conditioning"},
        class_of(9),
        (
            passing("press/heavy | dash: hop", "press/heavy | dash: hop"),
            just_past(1, "press/heavy | dash: squat.light", "press/heavy | dash: hop"),
            failing(3, "press/heavy | dash: row", "press/heavy | dash: hop"),
            failing(3 + 3 + 1, SLOW_ROW, "press/heavy | pair: row, squat.light"),
        ),
    ),
    Case(
        "clock",
        {"kind": "fit", "what": "clock"},
        class_of_minutes(41),
        (
            passing("squat/quick | dash: row", "squat/quick + press | pair: row, hop"),
            at_the_limit("squat/heavy + press | dash: row", "squat/quick | dash: row"),
            just_past(1, "press/heavy | pair: row, hop", "squat/quick | dash: row"),
            failing(3 + 1, "press/heavy + press | pair: row, hop", "squat/heavy | pair: row, hop"),
        ),
    ),
    Case(
        "domain",
        {"kind": "fit", "what": "domain"},
        tight_windows,
        (
            passing("press/heavy | dash: hop 10", "press/heavy | pair: squat.light 5, hop 10"),
            at_the_limit("press/heavy | dash: hop 5", "press/heavy | pair: row 125, hop 5"),
            just_past(1, "press/heavy | dash: squat.heavy 3", "press/heavy | pair: row 125, hop 5"),
            failing(7 + 32, "press/heavy | dash: row 125", "press/heavy | pair: row 250, hop 5"),
        ),
    ),
    Case(
        "clock-used",
        {"kind": "fit", "what": "use", "spare_percent": 18},
        class_of_minutes(41),
        (
            at_the_limit("squat/heavy | dash: row", "press/heavy + press | pair: row, hop"),
            failing(8, "squat/quick | dash: row", "squat/heavy | dash: row"),
        ),
    ),
    # Monday to Sunday.
    Case(
        "over-more-than-a-day",
        {"kind": "spacing", "where": {"load": "heavy"}, "hours": 72},
        all_week,
        (
            at_the_limit(*days("hqqhqqh")),
            failing(24, *days("hqhqqqq")),
            failing(24, *days("qqqqhqh")),
            failing(48 + 24 + 48, *days("qqqqhhh")),
        ),
    ),
    Case(
        "from-last-week-over-sunday",
        {"kind": "spacing", "where": {"load": "heavy"}, "hours": 72},
        all_week_after(("sun", "squat/heavy | dash: row", 1), ("fri", "squat/heavy | dash: row", 1)),
        (
            passing(*days("qqhqqhq")),
            failing(48, *days("hqqhqqq")),
            failing(24, *days("qhqqhqq")),
            failing(24 + 24, *days("qhqhqqq")),
        ),
    ),
    Case(
        "last-weeks-sunday-a-week-on",
        {"kind": "spacing", "where": {"load": "heavy"}, "hours": 168},
        all_week_after(("sun", "squat/heavy | dash: row", 1), ("mon", "squat/heavy | dash: row", 2)),
        (
            at_the_limit(*days("qqqqqqh")),
            failing(24, *days("qqqqqhq")),
            failing(144, *days("hqqqqqq")),
        ),
    ),
    Case(
        "three-days-up-to-sunday",
        {
            "kind": "limit",
            "where": {"piece": "main", "load": "heavy"},
            "count": "days",
            "per": "span",
            "span_days": 3,
            "at_most": 1,
        },
        all_week,
        (
            at_the_limit(*days("hqqhqqh")),
            just_past(1, *days("qqqqhqh")),
            failing(1 + 2, *days("qqqqhhh")),
        ),
    ),
    Case(
        "run-that-ends-on-sunday",
        {"kind": "sequence", "never": [{"hardness": "hard"}] * 3},
        all_week,
        (
            at_the_limit(*days("hhqhhqh")),
            just_past(1, *days("qqqqhhh")),
            just_past(1, *days("hhhqqhh")),
            failing(2, *days("qqqhhhh")),
        ),
    ),
    Case(
        "rotates-on-its-own-weekday",
        {"kind": "rotate", "what": "weekday_format", "weeks": 3},
        all_week_after(("sun", "squat/heavy | dash: row", 1), ("wed", "squat/heavy | dash: row", 3)),
        (just_past(2, *days("qqqqqqq")),),
    ),
    Case(
        "mean-of-the-weeks-there-were",
        {"kind": "rotate", "what": "week_load", "within_percent": 10, "weeks": 4},
        all_week_after(
            *((d, "squat/heavy | dash: row", 1) for d in ("mon", "wed", "fri", "sat", "sun")),
            *((d, "squat/quick | dash: row", 3) for d in ("mon", "tue", "wed", "thu", "fri", "sat", "sun")),
        ),
        (
            at_the_limit(*days("qqqqqqq")),
            at_the_limit(*days("hqqqqqq")),
            just_past(1, *days("hhqqqqq")),
        ),
    ),
    # Classes that do not divide, each side on its own, two loads of one item.
    Case(
        "a-class-of-nine-takes-turns",
        {"kind": "capacity", "piece": "strength", "sharing": 2},
        class_of(9),
        (just_past(1 + 1, "squat/heavy | dash: row", "press/heavy | dash: row"),),
    ),
    Case(
        "a-class-of-seven-in-heats",
        {"kind": "capacity", "piece": "conditioning"},
        class_of(7),
        (failing(2, SLOW_ROW, "press/heavy | dash: squat.light"), failing(2 + 2, SLOW_ROW, SLOW_ROW)),
    ),
    Case(
        "heats-without-stations",
        {"kind": "capacity", "piece": "conditioning"},
        with_more(9),
        (
            failing(3, "squat/heavy | waves: row, leap", "squat/heavy | dash: leap"),
            failing(3 + 3, "squat/heavy | waves: row, leap", "squat/heavy | pair5: row, leap"),
            failing(2, "squat/heavy | waves: swing.light, leap", "squat/heavy | dash: leap"),
            just_past(2 + 1, "squat/heavy | dash: swing.light", "squat/heavy | dash: swing.heavy"),
        ),
    ),
    Case(
        "two-loads-of-one-item",
        {"kind": "capacity", "piece": "conditioning", "item": "kettlebell"},
        with_more(7),
        (
            at_the_limit("squat/heavy | dash: swing.heavy", "squat/heavy | dash: row"),
            just_past(1, "squat/heavy | dash: swing.light", "squat/heavy | dash: swing.heavy"),
            just_past(1, "squat/heavy | pair5: swing.light, row", "squat/heavy | waves: swing.heavy, row"),
        ),
    ),
    Case(
        "one-load-in-the-hands",
        {"kind": "limit", "where": {}, "count": "implements", "per": "day", "at_most": 1},
        with_more(8),
        (
            at_the_limit("squat/heavy | dash: row", "squat/heavy | pair5: row, leap"),
            just_past(1, "squat/heavy | dash: swing.heavy", "squat/heavy | dash: row"),
        ),
    ),
    Case(
        "each-side-counts",
        {"kind": "limit", "where": {"sides": "per_side"}, "count": "units", "per": "day", "at_most": 24},
        with_more(8),
        (
            at_the_limit("squat/heavy | dash: leap 4", "squat/heavy | waves: leap 4, row 125"),
            failing(16, "squat/heavy | pair5: leap 4, row 125", "squat/heavy | dash: row 125"),
            failing(24 + 24, "squat/heavy | dash: leap 8", "squat/heavy | waves: leap 8, row 125"),
        ),
    ),
    Case(
        "landings-on-each-side",
        {"kind": "limit", "where": {}, "count": "contacts", "per": "week", "at_least": 80, "at_most": 96},
        with_more(8),
        (
            at_the_limit("squat/heavy | dash: leap 4", "squat/heavy | waves: leap 4, row 125"),
            at_the_limit("squat/heavy | pair5: leap 4, row 125", "squat/heavy | dash: row 125"),
            failing(32, "squat/heavy | dash: leap 4", "squat/heavy | dash: row 125"),
            failing(48, "squat/heavy | dash: leap 8", "squat/heavy | dash: leap 4"),
        ),
    ),
    # What differs in one respect only.
    Case(
        "every-pair-of-three",
        {"kind": "rotate", "what": "pairing", "weeks": 1},
        after_other_pieces(
            ("fri", "press/heavy | dash: row", 1), ("wed", "press/heavy | trio: hop, row, squat.light", 1)
        ),
        (
            at_the_limit("press/heavy | dash: row", "press/heavy | mile: squat.light"),
            just_past(1, "press/heavy | pair: row, squat.light", "press/heavy | dash: row"),
            failing(1 + 1, "press/heavy | pair: hop, row", "press/heavy | pair: hop, squat.light"),
        ),
    ),
    Case(
        "the-format-in-another-domain",
        {"kind": "rotate", "what": "weekday_format", "weeks": 1},
        after_other_pieces(("mon", "press/heavy | dash: row", 1)),
        (
            at_the_limit("press/heavy | mile: row", "press/heavy | dash: row"),
            just_past(1, "press/heavy | dash: hop", "press/heavy | mile: row"),
        ),
    ),
    Case(
        "nothing-of-either",
        {"kind": "together", "with": {"pattern": "carry"}, "needs": {"pattern": "carry", "load": "heavy"}},
        two_days,
        (passing(SLOW_ROW, "squat/heavy | pair: row, hop"),),
    ),
    Case(
        "hard-from-eight-on",
        {"kind": "limit", "where": {"hardness": "hard"}, "count": "days", "per": "week", "at_most": 0},
        with_a_long_piece,
        (
            at_the_limit("squat/quick | mile: row", "squat/quick | dash: row"),
            just_past(1, "squat/heavy | mile: row", "squat/quick | mile: row"),
            failing(2, "squat/heavy | mile: row", "squat/heavy | dash: row"),
        ),
    ),
    Case(
        "two-rows-on-one-station",
        {"kind": "limit", "where": {"piece": "conditioning"}, "count": "large", "per": "day", "at_most": 0},
        on_one_station,
        (
            just_past(1 + 1, "squat/heavy | pair5: row, sprint", "squat/heavy | dash: row"),
            passing("squat/heavy | dash: hop", "squat/heavy | dash: hop"),
        ),
    ),
    Case(
        "two-days-that-end-on-sunday",
        {"kind": "sequence", "never": [{"load": "heavy"}] * 2},
        all_week,
        (
            at_the_limit(*days("hqhqhqh")),
            just_past(1, *days("qqqqqhh")),
            failing(2, *days("hhqqqhh")),
        ),
    ),
    Case(
        "no-run-over-a-closed-day",
        {"kind": "sequence", "never": [{"hardness": "hard"}] * 3},
        with_a_gap,
        (passing(*["squat/heavy | dash: row"] * 3),),
    ),
    Case(
        "two-weeks-without",
        {"kind": "due", "where": {"domain": "short"}, "weeks": 4},
        after(
            ("mon", "squat/heavy | pair: row, hop", 1),
            ("wed", "squat/heavy | dash: row", 3),
            ("mon", "squat/heavy | pair: row, hop", 2),
        ),
        (
            passing(SLOW_ROW, "press/heavy | pair: row, hop"),
            just_past(1, "squat/heavy | pair: row, hop", "press/heavy | pair: row, hop"),
        ),
    ),
    Case(
        "not-due-yet",
        {"kind": "due", "where": {"domain": "short"}, "weeks": 4},
        after(("mon", "squat/heavy | pair: row, hop", 1)),
        (at_the_limit("squat/heavy | pair: row, hop", "press/heavy | pair: row, hop"),),
    ),
    Case(
        "weeks-that-are-not-on-record-do-not-count",
        {"kind": "due", "where": {"piece": "main", "movement": "squat"}, "weeks": 4},
        after(("mon", "press/heavy | dash: row", 1), ("mon", "press/heavy | dash: row", 3)),
        (
            passing("squat/heavy | dash: row", SLOW_ROW),
            failing(1, SLOW_ROW, SLOW_ROW),
        ),
    ),
    Case(
        "with-the-most-people",
        {"kind": "due", "where": {"piece": "main", "movement": "squat"}, "on": "fullest", "weeks": 2},
        with_a_full_tuesday(("mon", "press/heavy | dash: row", 1)),
        (
            at_the_limit(SLOW_ROW, "squat/heavy | dash: row"),
            failing(1, "squat/heavy | dash: row", SLOW_ROW),
        ),
    ),
    # Eight people, two rowers. A hop of 10 takes 20 s, a row of 125 m 31.3 s, each way 5 s. Two by two in
    # heats of four: 2 x 31.3 s asked of each rower, 36.3 s a turn.
    Case(
        "in-heats",
        {"kind": "queue", "share_percent": 70},
        two_days,
        (
            passing("press/heavy | dash: squat.light 5", "press/heavy | dash: hop 10"),
            failing(38, "press/heavy | dash: row 125", "press/heavy | dash: hop 10"),
        ),
    ),
    # Of each rower 4 x 31.3 s are asked, 125.2 s; a turn has 61.3 s.
    Case(
        "over-the-movements",
        {"kind": "queue", "share_percent": 100},
        two_days,
        (
            passing("press/heavy | dash: hop 5", "press/heavy | pair: hop 10, squat.light 5"),
            just_past(64, "press/heavy | dash: hop 5", "press/heavy | pair: row 125, hop 10"),
        ),
    ),
    # Bells of 16 kg for four men, and there is one; of 12 kg for four women, and there are two. 10 swings
    # take 20 s.
    Case(
        "bells-of-two-masses",
        {"kind": "queue", "share_percent": 100},
        with_more(8),
        (
            at_the_limit("squat/heavy | dash: row", "squat/heavy | pair5: leap 4, row"),
            failing(38, "squat/heavy | dash: row", "squat/heavy | pair5: leap 4, swing.light 10"),
        ),
    ),
)
