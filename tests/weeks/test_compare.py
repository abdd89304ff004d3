"""Comparing two weeks: what a coach must see, identity, mirror, and every figure counted again."""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Iterator
from functools import cache
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from pydantic import BaseModel

from planner.domain.comparison import Comparison, Figure, Listing
from planner.domain.difference import Difference, difference
from planner.domain.gym import DAY_NAMES, DAYS
from planner.domain.week import Line, Piece, Week
from planner.errors import DataError
from planner.render.notation import PATTERN_WORDS
from planner.weeks.compare import compare

from . import small
from .two_weeks import BASE, changed, heavier, weeks, with_line, with_piece

some = settings(max_examples=20, deadline=None, suppress_health_check=[HealthCheck.too_slow])
many = settings(some, max_examples=50)
Steps = tuple[str | int, ...]
Place = tuple[str, ...]


def put(held: Any, steps: Steps, new: Any) -> Any:
    """A copy of a value with one thing inside it changed."""
    if not steps:
        return new
    step, *rest = steps
    if isinstance(held, tuple):
        return (*held[:step], put(held[step], tuple(rest), new), *held[step + 1 :])
    if isinstance(held, dict):
        return held | {step: put(held[step], tuple(rest), new)}
    return held.model_copy(update={step: put(getattr(held, step), tuple(rest), new)})


def plain(held: Any, sides: str = "ab") -> Any:
    """A comparison or a part of it as plain data, its sides in this order."""
    if isinstance(held, Comparison | Difference | Figure | Listing):
        names = type(held).__dataclass_fields__
        rest = {name: plain(getattr(held, name), sides) for name in names if name not in ("a", "b", "names")}
        if isinstance(held, Comparison):
            return held.names[:: 1 if sides == "ab" else -1], rest
        return [getattr(held, side) for side in sides], rest
    if isinstance(held, dict):
        return {key: plain(item, sides) for key, item in held.items()}
    return [plain(item, sides) for item in held] if isinstance(held, tuple) else held


def places(a: Week, b: Week) -> set[Place]:
    return set(difference(a, b).places())


def floor(piece: Piece) -> tuple[Line, ...]:
    return piece.versions["gym_floor"].lines if "gym_floor" in piece.versions else ()


# What a coach must see ----------------------------------------------------------------------------------


@cache
def spots() -> list[tuple[Steps, Any, Place]]:
    """Where one thing can be changed in a drafted week: the way there, another value, the place's name."""
    week = small.week()
    return [
        *((("class_size",), 99, ("class size",)), (("class_minutes",), 99, ("class minutes",))),
        *(
            (("kits", n, "contains"), "two bricks", ("kits", kit.id, "contains"))
            for n, kit in enumerate(week.kits)
        ),
        *(
            (("athletes", n, "lifts"), "back squat 7 kg", ("athletes", who.id, "lifts"))
            for n, who in enumerate(week.athletes)
        ),
        *_rule_spots(week),
        *_day_spots(week),
    ]


def _rule_spots(week: Week) -> Iterator[tuple[Steps, Any, Place]]:
    for n, rule in enumerate(week.rules):
        way, at = ("rules", n), ("rules", rule.id)
        yield (*way, "measure"), rule.measure + 1, (*at, "measure")
        yield (*way, "level"), "watch" if rule.level != "watch" else "must", (*at, "level")
        yield (*way, "weight"), rule.weight + 1, (*at, "weight")
        yield (*way, "statement"), "No running.", (*at, "wording")
        yield (*way, "because"), "so I say", (*at, "reason")


def _day_spots(week: Week) -> Iterator[tuple[Steps, Any, Place]]:
    for n, session in enumerate(week.sessions):
        way, at = ("sessions", n), ("sessions", session.day)
        yield (*way, "clock", 0, "minutes"), session.clock[0].minutes + 1, (*at, "clock")
        yield (*way, "rating"), session.rating + 1, (*at, "effort")
        yield (*way, "title"), "A rest, nearly", (*at, "title")
        yield (*way, "cautions"), ("Slowly.",), (*at, "notes")
        for m, piece in enumerate(session.pieces):
            yield from _piece_spots(piece, (*way, "pieces", m), (*at, "pieces", piece.kind))


def _piece_spots(piece: Piece, way: Steps, at: Place) -> Iterator[tuple[Steps, Any, Place]]:
    yield (*way, "minutes"), piece.minutes + 1, (*at, "minutes")
    yield (*way, "cap_minutes"), 99, (*at, "cap")
    yield (*way, "drills"), piece.drills[1:] or (None,), (*at, "drills")
    yield (*way, "floor_setup"), ("Two lanes.",), (*at, "notes")
    for field, new in (("title", "Backwards"), ("format", "relay"), ("shape", "relay_3"), ("rounds", 77)):
        yield (*way, field), new, (*at, "format")
    for kit, version in piece.versions.items():
        there, place = (*way, "versions", kit), (*at, "versions", kit)
        if version.prediction:
            yield (*there, "prediction", "typical"), 7, (*place, "forecast")
        for n, line in enumerate(version.lines):
            yield from _line_spots(line, (*there, "lines", n), (*place, "lines"))


def _line_spots(line: Line, way: Steps, lines: Place) -> Iterator[tuple[Steps, Any, Place]]:
    at = (*lines, line.movement)
    yield (*way, "movement"), "zercher_squat", (*lines, f"{line.movement} / zercher_squat", "movement")
    yield (*way, "dose", "value"), line.dose.value + 1, (*at, "dose")
    yield (*way, "tier"), "open" if line.tier != "open" else "heavy", (*at, "load")
    yield (*way, "start"), "from blocks", (*at, "set-up")
    yield (*way, "equipment"), ("plank",), (*at, "set-up")
    yield (*way, "standard"), "All of it.", (*at, "notes")
    for field, new in (("scheme", "waves"), ("sets", 77), ("rest_s", 7), ("reserve", 9)):
        yield (*way, field), new, (*at, "scheme")
    for n, load in enumerate(line.loads):
        yield (*way, "loads", n, "kg"), load.kg + 1, (*at, "loads", load.athlete, "load")
        yield (*way, "loads", n, "per_side_kg"), (0.5,), (*at, "loads", load.athlete, "plates")


KINDS_OF_CHANGE = (
    "format", "dose", "scheme", "load", "movement", "clock", "measure", "level", "contains", "set-up", "cap",
    "minutes", "drills", "forecast",
)  # fmt: skip


@many
@given(st.data())
def test_one_change_is_named_where_it_is_and_nothing_else(data: st.DataObject) -> None:
    steps, new, place = data.draw(st.sampled_from(spots()))
    week = small.week()
    other = put(week, steps, new)

    assert places(week, other) == {place}
    assert places(other, week) == {place}


@pytest.mark.parametrize("word", KINDS_OF_CHANGE)
def test_each_kind_of_change_alone_is_seen(word: str) -> None:
    """One of each for certain, in a kit version where there is one."""
    week = small.week()
    steps, new, place = [spot for spot in spots() if spot[2][-1] == word][-1]

    assert places(week, put(week, steps, new)) == {place}


@some
@given(st.sets(st.integers(0, 10_000), min_size=2, max_size=4))
def test_changes_of_several_days_are_all_named(numbers: set[int]) -> None:
    week, found = small.week(), {}
    for number in numbers:
        steps, new, place = spots()[number % len(spots())]
        found[place[:2]] = (steps, new, place)  # one for each day, rule or kit
    other = week
    for steps, new, _ in found.values():
        other = put(other, steps, new)

    assert places(week, other) == {place for _, _, place in found.values()}


LEFT_OUT = {
    ("date",), ("stands_for",), ("substitution_cost",), ("total",), ("seconds",), ("checked",), ("remedy",),
    ("schema_version",), ("week",), ("monday",), ("balance",), ("load",), ("proof",), ("inputs_digest",),
    ("program",), ("basis_digest",), ("planned",), ("said_kg",), ("said_start",), ("open",),
}  # fmt: skip
"""Fields of a week that say again what others say, or how and when it was made."""
KEYS = {"day", "kind"}
"""Have only so many values."""


def leaves(held: Any, way: Steps = ()) -> Iterator[tuple[Steps, Any]]:
    if isinstance(held, BaseModel):
        for name in type(held).model_fields:
            if (name,) not in LEFT_OUT and name not in KEYS:
                yield from leaves(getattr(held, name), (*way, name))
    elif isinstance(held, dict):
        for key, item in held.items():
            yield from leaves(item, (*way, key))
    elif isinstance(held, tuple):
        for n, item in enumerate(held):
            yield from leaves(item, (*way, n))
    else:
        yield way, held


@cache
def all_leaves() -> list[tuple[Steps, Any]]:
    return list(leaves(small.week()))


@many
@given(st.data())
def test_no_change_of_any_field_goes_unseen(data: st.DataObject) -> None:
    steps, held = data.draw(st.sampled_from(all_leaves()))
    week = small.week()
    other = (
        not held if isinstance(held, bool) else held + 1 if isinstance(held, int | float) else f"{held} too"
    )
    found = difference(week, put(week, steps, other))

    assert not found.same
    assert found.words
    assert len(list(found.places())) <= 2  # a key that changes: gone here, new there


@some
@given(weeks())
def test_a_week_with_itself_shows_no_difference(week: Week) -> None:
    found = compare(week, week, last_weeks=(changed(BASE, week="2025-W48"),))

    assert list(found.week.places()) == []
    assert found.week.same
    assert found.rules == ()
    assert all(x.same for x in found.figures)
    assert all(x.a == x.b for x in found.lists)
    assert found.summary == ("A and B are the same week, line for line.",)


@some
@given(weeks(), weeks(), st.lists(weeks("2025-W48"), max_size=1))
def test_the_other_way_round_every_side_is_exchanged(a: Week, b: Week, past: list[Week]) -> None:
    there = compare(a, b, ("Ours", "Theirs"), tuple(past))
    back = compare(b, a, ("Theirs", "Ours"), tuple(past))

    assert plain(back, "ba") == plain(there)
    assert set(back.week.places()) == set(there.week.places())


@some
@given(weeks(), weeks())
def test_every_line_of_both_weeks_is_there_once(a: Week, b: Week) -> None:
    found = difference(a, b)

    for side, week in (("a", a), ("b", b)):
        shown = Counter(
            (day.key, piece.key, version.key, line.movement, line.dose.text)
            for day in found.parts["sessions"] for piece in day.parts["pieces"]
            for version in piece.parts["versions"] for cell in version.parts["lines"]
            if (line := getattr(cell, side))
        )  # fmt: skip
        held = Counter(
            (s.day, p.kind, kit, line.movement, line.dose.text)
            for s in week.sessions for p in s.pieces for kit, v in p.versions.items() for line in v.lines
        )  # fmt: skip
        assert shown == held


@some
@given(weeks(), weeks())
def test_a_day_is_the_same_exactly_where_both_train_the_same(a: Week, b: Week) -> None:
    def trained(week: Week, day: str) -> Any:
        for session in week.sessions:
            if session.day == day:
                data = session.model_dump(exclude={"date"})
                for piece in data["pieces"]:
                    for line in (x for v in piece["versions"].values() for x in v["lines"]):
                        for name in ("stands_for", "substitution_cost", "total", "seconds"):
                            del line[name]
                return data
        return None

    days = difference(a, b).parts["sessions"]
    assert {day.key: day.same for day in days} == {
        day: trained(a, day) == trained(b, day) for day in DAYS if trained(a, day) or trained(b, day)
    }
    assert [day.key for day in days] == [day for day in DAYS if trained(a, day) or trained(b, day)]


# Every figure again, from lines and ratings, by code that shares nothing with the comparison.


def patterns_again(week: Week) -> dict[tuple[str, str], int]:
    found: Counter[tuple[str, str]] = Counter()
    for s in week.sessions:
        for p in s.pieces:
            found.update(
                (s.day, name) for line in floor(p) for name, share in line.patterns.items() if share >= 30
            )
    return dict(found)


def load_again(week: Week) -> tuple[int, float | None, float | None]:
    au = [sum(s.rating * week.class_minutes for s in week.sessions if s.day == day) for day in DAYS]
    middle = sum(au) / 7
    spread = math.sqrt(sum((x - middle) ** 2 for x in au) / 6)
    if spread == 0:
        return sum(au), None, None
    return sum(au), middle / spread, sum(au) * middle / spread


def equipment_again(
    week: Week, day: str = ""
) -> tuple[set[str], set[frozenset[str]], set[frozenset[frozenset[str]]]]:
    pieces = [floor(p) for s in week.sessions if day in ("", s.day) for p in s.pieces]
    each = [frozenset(frozenset(x.equipment) for x in lines if x.equipment) for lines in pieces]
    stations = {station for piece in each for station in piece}
    return {item for station in stations for item in station}, stations, {piece for piece in each if piece}


def kinds_of(week: Week) -> tuple[set[str], set[frozenset[str]], set[str]]:
    lines = [[x.movement for x in floor(p)] for s in week.sessions for p in s.pieces]
    pairs = {frozenset((x, y)) for piece in lines for x in piece for y in piece if x != y}
    return (
        {x for piece in lines for x in piece},
        pairs,
        {p.format for s in week.sessions for p in s.pieces} - {""},
    )


def figures_of(found: Comparison, group: str) -> dict[str, Figure]:
    return {x.term: x for x in found.figures if x.group == group}


def listed(found: Comparison, side: str) -> dict[str, set[str]]:
    return {x.term: set(getattr(x, side)) for x in found.lists}


@some
@given(weeks(), weeks(), st.lists(weeks(), max_size=6))
def test_every_figure_follows_from_the_weeks_alone(a: Week, b: Week, past: list[Week]) -> None:
    past = [changed(week, week=f"2025-W{48 - n}") for n, week in enumerate(past)]
    found = compare(a, b, last_weeks=(*reversed(past), changed(BASE, week="2026-W02")))
    whole = figures_of(found, "training") | figures_of(found, "upkeep")

    for side, week in (("a", a), ("b", b)):
        shown = {(part.term, x.term): n for x in figures_of(found, "pattern").values() for part in x.parts
                 if (n := getattr(part, side))}  # fmt: skip
        assert shown == {
            (DAY_NAMES[day], PATTERN_WORDS[pattern]): n for (day, pattern), n in patterns_again(week).items()
        }
        assert all(getattr(x, side) == sum(getattr(part, side) for part in x.parts)
                   for x in figures_of(found, "pattern").values())  # fmt: skip

        au, monotony, strain = load_again(week)
        for term, again, within in (
            ("Planned load", au, 0), ("Monotony", monotony, 0.0051), ("Strain", strain, 0.51),
        ):  # fmt: skip
            assert getattr(whole[term], side) == (None if again is None else pytest.approx(again, abs=within))
        ratings = {x.term: getattr(x.parts[0], side) for x in figures_of(found, "day").values()}
        assert {d: r for d, r in ratings.items() if r is not None} == {
            DAY_NAMES[s.day]: s.rating for s in week.sessions
        }
        assert {x.term: getattr(x, side) for x in figures_of(found, "day").values() if getattr(x, side)} == {
            DAY_NAMES[s.day]: s.rating * week.class_minutes for s in week.sessions
        }

        things = listed(found, side)
        for domain in ("short", "medium", "long"):
            assert things[domain.capitalize()] == {
                DAY_NAMES[s.day][:3] for s in week.sessions if domain in [p.domain for p in s.pieces]
            }
        items, stations, sets = equipment_again(week)
        assert things["Week, items"] == items
        assert {frozenset(x.split(" + ")) for x in things["Week, stations"]} == stations
        assert len(things["Week, sets of stations"]) == len(sets)
        assert getattr(whole["Items of equipment"], side) == len(items)
        assert getattr(whole["Set-ups"], side) == len(sets)
        for session in week.sessions:
            by_day = things[DAY_NAMES[session.day]]
            assert {frozenset(x.split(" + ")) for x in by_day} == equipment_again(week, session.day)[1]

        assert found.against == tuple(w.week for w in past[:4])
        now, terms = kinds_of(week), ("Movements", "Pairs in one piece", "Formats")
        if past:
            before = [set().union(*(kinds_of(w)[i] for w in past[:4])) for i in range(3)]
            assert [len(things[term]) for term in terms] == [len(now[i] - before[i]) for i in range(3)]
            assert getattr(whole["New movements"], side) == len(now[0] - before[0])
        else:
            assert not things.keys() & set(terms)

        assert getattr(whole["Points given up"], side) == sum(
            r.measure * r.weight for r in week.rules if r.level == "weight"
        )
        assert getattr(whole["Musts broken"], side) == sum(
            r.level == "must" and r.measure > 0 for r in week.rules
        )

    both = [{r.id: r.model_dump(exclude={"checked", "remedy"}) for r in week.rules} for week in (a, b)]
    assert {rule.key for rule in found.rules} == {
        name for name in {*both[0], *both[1]} if both[0].get(name) != both[1].get(name)
    }
    points = [abs(getattr(r.a, "cost", 0) - getattr(r.b, "cost", 0)) for r in found.rules
              if not any(x and x.level == "must" and x.measure for x in (r.a, r.b))]  # fmt: skip
    assert points == sorted(points, reverse=True)


@some
@given(weeks(), weeks(), st.lists(weeks("2025-W48"), max_size=1))
def test_the_summary_is_short_and_made_of_the_numbers(a: Week, b: Week, past: list[Week]) -> None:
    found = compare(a, b, ("Ours", "Theirs"), tuple(past))
    known = {
        frozenset(f"{x:,.2f}".rstrip("0").rstrip(".") for x in (figure.a, figure.b) if x is not None): figure
        for figure in found.figures
    }

    assert 1 <= len(found.summary) <= 3
    for sentence in found.summary:
        assert sentence.endswith(".")
        assert ". " not in sentence
        for first, second in re.findall(r"\(([\d,.]+) against ([\d,.]+)\)", sentence):
            assert frozenset((first, second)) in known
            assert first != second


def test_the_summary_names_who_has_more_and_who_needs_less() -> None:
    harder = changed(BASE.load, week_au=BASE.load.week_au + 5)
    rules = tuple(
        changed(rule, cost=rule.cost + 6) if rule.level == "weight" else rule for rule in BASE.rules
    )
    raised = sum(rule.level == "weight" for rule in rules)
    found = compare(BASE, changed(BASE, load=harder, rules=rules, class_size=99), ("Ours", "Theirs"))
    points = sum(rule.cost for rule in BASE.rules)

    assert found.summary == (
        "Ours and Theirs are the same week, line for line.",
        "They differ in class size too.",
        f"Theirs has more planned load ({BASE.load.week_au + 5:,} against {BASE.load.week_au:,}).",
        f"Ours has fewer points given up on the rules ({points} against {points + 6 * raised}).",
    )


# How lines and days are laid beside each other ----------------------------------------------------------


def cells(found: Difference[Any]) -> list[Difference[Any]]:
    return [
        line for day in found.parts["sessions"] for piece in day.parts["pieces"]
        for version in piece.parts["versions"] for line in version.parts["lines"]
    ]  # fmt: skip


def test_a_movement_that_comes_for_another_stands_in_its_place() -> None:
    line = BASE.sessions[0].pieces[1].versions["gym_floor"].lines[0]
    found = difference(BASE, with_line(BASE, 0, "strength", movement="goblet_squat", start="from the floor"))
    apart = [cell for cell in cells(found) if not cell.same]

    assert [(cell.key, cell.words) for cell in apart] == [(f"{line.movement} / goblet_squat", ("movement",))]


def test_two_changes_of_a_line_are_both_named() -> None:
    line = BASE.sessions[0].pieces[1].versions["gym_floor"].lines[0]
    found = difference(BASE, with_line(BASE, 0, "strength", sets=77, loads=heavier(line)))

    assert [set(cell.words) for cell in cells(found) if not cell.same] == [{"load", "scheme"}]


def test_what_follows_from_the_gym_floor_is_no_difference_of_a_kit_version() -> None:
    other = with_line(BASE, 0, "strength", "no_kit", stands_for="Something else", substitution_cost=9)

    assert difference(BASE, other).same


def test_a_change_in_a_kit_version_alone_is_told_apart_from_the_gym_floor() -> None:
    found = compare(BASE, with_line(BASE, 1, "conditioning", "no_kit", rest_s=5))

    assert found.summary[0].startswith("The gym floor is the same; 1 piece differs in other kit versions; ")


def test_a_change_on_the_gym_floor_is_counted() -> None:
    found = compare(BASE, with_line(BASE, 0, "strength", sets=77))
    lines = sum(len(floor(piece)) for session in BASE.sessions for piece in session.pieces)
    pieces = sum(bool(piece.versions) for session in BASE.sessions for piece in session.pieces)

    assert found.summary[0].startswith(
        f"1 of {pieces} pieces and 1 of {lines} lines differ on the gym floor; "
    )
    assert "Monday" not in found.summary[0]


def test_the_same_movements_in_another_order_are_the_same_lines_and_said_so() -> None:
    piece = next(p for p in BASE.sessions[5].pieces if p.kind == "conditioning")
    back = changed(piece.versions["gym_floor"], lines=piece.versions["gym_floor"].lines[::-1])
    found = with_piece(BASE, 5, "conditioning", versions=piece.versions | {"gym_floor": back})

    assert places(BASE, found) == {
        ("sessions", "sat", "pieces", "conditioning", "versions", "gym_floor", "order")
    }


def test_a_day_or_a_kit_of_one_week_only() -> None:
    shorter = changed(BASE, sessions=BASE.sessions[1:], kits=BASE.kits[:3])
    found = compare(BASE, shorter).week

    assert [day.key for day in found.parts["sessions"]] == [s.day for s in BASE.sessions]
    assert set(found.places()) == {("sessions", "mon", "only"), ("kits", BASE.kits[3].id, "only")}
    monday = found.parts["sessions"][0]
    assert monday.b is None
    assert [v.key for v in monday.parts["pieces"][1].parts["versions"]] == [kit.id for kit in BASE.kits]


def test_a_movement_that_comes_twice_is_lined_up_twice() -> None:
    piece = next(p for p in BASE.sessions[0].pieces if p.kind == "conditioning")
    lines = piece.versions["gym_floor"].lines
    twice = changed(piece.versions["gym_floor"], lines=(*lines, lines[0]))
    other = with_piece(BASE, 0, "conditioning", versions=piece.versions | {"gym_floor": twice})

    assert {place[-2:] for place in places(BASE, other)} == {(f"{lines[0].movement} 2", "only")}


def test_no_earlier_week_is_not_the_same_as_nothing_new() -> None:
    assert compare(BASE, BASE).against == ()
    known = compare(BASE, BASE, last_weeks=(changed(BASE, week="2025-W40"),))
    assert known.against == ("2025-W40",)
    assert [x.a for x in known.lists if x.group == "new"] == [(), (), ()]


def test_two_weeks_need_two_names() -> None:
    with pytest.raises(DataError, match="both weeks are called"):
        compare(BASE, BASE, ("A", "A"))
