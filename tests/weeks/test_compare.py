"""Comparing two weeks: identity, mirror, and every figure counted again by other code."""

from __future__ import annotations

import math
import re
from collections import Counter
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from planner.domain.comparison import Comparison
from planner.domain.gym import DAYS
from planner.domain.week import Line, Piece, Week
from planner.errors import DataError
from planner.weeks.compare import compare

from .two_weeks import BASE, changed, heavier, weeks, with_line, with_piece

some = settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
floor_line = {kind: next(p for p in BASE.sessions[0].pieces if p.kind == kind).versions["gym_floor"].lines[0]
              for kind in ("strength", "conditioning")}  # fmt: skip


def turned(value: Any) -> Any:
    """The dump of a comparison with every pair of sides exchanged."""
    if isinstance(value, dict):
        done = {key: turned(item) for key, item in value.items()}
        return {"a": done["b"], "b": done["a"]} if set(done) == {"a", "b"} else done
    return tuple(turned(item) for item in value) if isinstance(value, tuple | list) else value


def floor(piece: Piece) -> tuple[Line, ...]:
    return piece.versions["gym_floor"].lines if "gym_floor" in piece.versions else ()


@some
@given(weeks())
def test_a_week_with_itself_shows_no_difference(week: Week) -> None:
    found = compare(week, week, last_weeks=(changed(BASE, week="2025-W48"),))

    assert found.same
    assert found.tally.days_differ == found.tally.pieces_differ == found.tally.lines_differ == 0
    assert all(cell.lines.same and not cell.differs for day in found.days for piece in day.pieces
               for version in piece.versions for cell in version.cells)  # fmt: skip
    assert found.figures.rules == ()
    assert found.summary == ("A and B are the same week, line for line.",)
    assert "against" not in " ".join(found.summary)


@some
@given(weeks(), weeks(), st.lists(weeks("2025-W48"), max_size=1))
def test_the_other_way_round_every_side_is_exchanged(a: Week, b: Week, past: list[Week]) -> None:
    there = compare(a, b, ("Ours", "Theirs"), tuple(past))
    back = compare(b, a, ("Theirs", "Ours"), tuple(past))

    assert back.model_dump() == turned(there.model_dump())
    assert there.summary == back.summary


@some
@given(weeks(), weeks())
def test_every_line_of_both_weeks_is_there_once(a: Week, b: Week) -> None:
    found = compare(a, b)

    for side, week in (("a", a), ("b", b)):
        shown = Counter(
            (day.day, piece.kind, version.kit, line.movement, line.dose.text)
            for day in found.days for piece in day.pieces for version in piece.versions
            for cell in version.cells if (line := getattr(cell.lines, side))
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
                        del line["stands_for"], line["substitution_cost"]
                return data
        return None

    assert {day.day: day.same for day in compare(a, b).days} == {
        day: trained(a, day) == trained(b, day) for day in DAYS if trained(a, day) or trained(b, day)
    }


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


@some
@given(weeks(), weeks(), st.lists(weeks(), max_size=6))
def test_every_figure_follows_from_the_weeks_alone(a: Week, b: Week, past: list[Week]) -> None:
    past = [changed(week, week=f"2025-W{48 - n}") for n, week in enumerate(past)]
    figures = compare(a, b, last_weeks=(*reversed(past), changed(BASE, week="2026-W02"))).figures

    for side, week in (("a", a), ("b", b)):
        shown = {(day, row.pattern): n for row in figures.patterns for day, pair in row.days.items()
                 if (n := getattr(pair, side))}  # fmt: skip
        assert shown == patterns_again(week)
        assert all(getattr(row.total, side) == sum(getattr(x, side) for x in row.days.values())
                   for row in figures.patterns)  # fmt: skip

        au, monotony, strain = load_again(week)
        assert getattr(figures.load.week_au, side) == au
        for pair, again, within in (
            (figures.load.monotony, monotony, 0.0051), (figures.load.strain, strain, 0.51),
        ):  # fmt: skip
            assert getattr(pair, side) == (None if again is None else pytest.approx(again, abs=within))
        ratings = {row.day: getattr(row.rating, side) for row in figures.load.days}
        assert {d: r for d, r in ratings.items() if r is not None} == {s.day: s.rating for s in week.sessions}

        for domain in figures.domains:
            assert set(getattr(domain.days, side)) == {
                s.day for s in week.sessions if domain.domain in [p.domain for p in s.pieces]
            }

        whole = getattr(figures.equipment.week, side)
        items, stations, sets = equipment_again(week)
        assert (set(whole.items), len(whole.stations), len(whole.sets)) == (items, len(stations), len(sets))
        for day, pair in figures.equipment.days.items():
            items, stations, sets = equipment_again(week, day)
            seen = getattr(pair, side)
            assert (set(seen.items), len(seen.stations), len(seen.sets)) == (items, len(stations), len(sets))

        new = getattr(figures.novelty, side)
        if not past:
            assert new is None
        else:
            now = kinds_of(week)
            before = [set().union(*(kinds_of(w)[i] for w in past[:4])) for i in range(3)]
            assert [len(new.movements), len(new.pairs), len(new.formats)] == [
                len(now[i] - before[i]) for i in range(3)
            ]
            assert new.against == tuple(w.week for w in past[:4])

        assert getattr(figures.points, side) == sum(
            r.measure * r.weight for r in week.rules if r.level == "weight"
        )
        assert getattr(figures.broken_musts, side) == sum(
            r.level == "must" and r.measure > 0 for r in week.rules
        )

    both = [{r.id: (r.level, r.weight, r.measure, r.cost) for r in week.rules} for week in (a, b)]
    assert {rule.id for rule in figures.rules} == {
        name for name in {*both[0], *both[1]} if both[0].get(name) != both[1].get(name)
    }
    for rule in figures.rules:
        for held, side in zip(both, (rule.sides.a, rule.sides.b), strict=True):
            assert held.get(rule.id) == (side and (side.level, side.weight, side.measure, side.cost))


@some
@given(weeks(), weeks(), st.lists(weeks("2025-W48"), max_size=1))
def test_the_summary_is_short_and_made_of_the_numbers(a: Week, b: Week, past: list[Week]) -> None:
    found = compare(a, b, ("Ours", "Theirs"), tuple(past))

    assert 1 <= len(found.summary) <= 3
    known = numbers_of(found)
    for sentence in found.summary:
        assert sentence.endswith(".")
        assert ". " not in sentence
        for first, second in re.findall(r"\(([\d,.]+) against ([\d,.]+)\)", sentence):
            assert frozenset((first, second)) in known
            assert first != second


def numbers_of(found: Comparison) -> set[frozenset[str]]:
    f = found.figures
    pairs: list[tuple[float | None, float | None]] = [
        (x.a, x.b) for x in (f.load.week_au, f.load.monotony, f.load.strain, f.points, f.broken_musts)
    ]
    pairs += [(row.total.a, row.total.b) for row in f.patterns]
    pairs += [
        (len(getattr(f.equipment.week.a, n)), len(getattr(f.equipment.week.b, n))) for n in ("items", "sets")
    ]
    if f.novelty.a and f.novelty.b:
        pairs.append((len(f.novelty.a.movements), len(f.novelty.b.movements)))
    return {frozenset(f"{x:,.2f}".rstrip("0").rstrip(".") for x in pair if x is not None) for pair in pairs}


def floor_change(**update: Any) -> Week:
    return with_line(BASE, 0, "strength", **update)


@pytest.mark.parametrize(
    ("other", "differs"),
    [
        (floor_change(movement="front_squat", name="Front squat"), ("movement",)),
        (floor_change(dose=changed(floor_line["strength"].dose, value=3, text="3 reps")), ("dose",)),
        (floor_change(loads=heavier(floor_line["strength"])), ("load",)),
        (floor_change(sets=3), ("scheme",)),
        (floor_change(start="from the floor"), ("setup",)),
        (floor_change(cautions=("Slowly.",)), ("notes",)),
        (floor_change(stands_for="Something else", substitution_cost=9), ()),
        (floor_change(sets=3, loads=heavier(floor_line["strength"])), ("load", "scheme")),
    ],
)
def test_what_differs_in_a_line_is_named(other: Week, differs: tuple[str, ...]) -> None:
    found = compare(BASE, other)

    cells = [
        cell.differs for day in found.days for piece in day.pieces for v in piece.versions for cell in v.cells
    ]
    assert [cell for cell in cells if cell] == ([differs] if differs else [])
    assert found.same == (not differs)
    assert found.tally.lines_differ == found.tally.pieces_differ == bool(differs)


@pytest.mark.parametrize(
    ("update", "differs"),
    [
        ({"title": "In pairs, for time"}, ("format",)),
        ({"rounds": 77}, ("format",)),
        ({"domain": "long" if BASE.balance.domains["mon"] != "long" else "short"}, ("domain",)),
        ({"cap_minutes": 99}, ("cap",)),
        ({"minutes": 3}, ("minutes",)),
        ({"stimulus": "slow and steady"}, ("notes",)),
    ],
)
def test_what_differs_in_a_piece_is_named(update: dict[str, Any], differs: tuple[str, ...]) -> None:
    found = compare(BASE, with_piece(BASE, 0, "conditioning", **update))

    assert [p.differs for day in found.days for p in day.pieces if p.differs] == [differs]
    assert found.tally.pieces_differ == 1
    assert found.tally.lines_differ == 0


def test_a_change_in_a_kit_version_alone_is_told_apart_from_the_gym_floor() -> None:
    found = compare(BASE, with_line(BASE, 1, "conditioning", "no_kit", rest_s=5))

    assert (found.tally.pieces_differ, found.tally.kits_differ) == (0, 1)
    assert found.summary[0].startswith("The gym floor is the same; 1 piece differs in other kit versions; ")


def test_the_same_movements_in_another_order_are_the_same_lines_and_said_so() -> None:
    piece = next(p for p in BASE.sessions[5].pieces if p.kind == "conditioning")
    back = changed(piece.versions["gym_floor"], lines=piece.versions["gym_floor"].lines[::-1])
    found = compare(BASE, with_piece(BASE, 5, "conditioning", versions=piece.versions | {"gym_floor": back}))

    version = next(p for p in found.days[5].pieces if p.kind == "conditioning").versions[0]
    assert version.differs == ("order",)
    assert not any(cell.differs for cell in version.cells)


def test_a_day_or_a_kit_of_one_week_only() -> None:
    shorter = changed(BASE, sessions=BASE.sessions[1:], kits=BASE.kits[:3])
    found = compare(BASE, shorter)

    assert [day.day for day in found.days] == [s.day for s in BASE.sessions]
    assert found.days[0].differs == ("only",)
    assert found.days[0].heads.b is None
    assert [v.kit for v in found.days[0].pieces[1].versions] == [kit.id for kit in BASE.kits]


def test_no_earlier_week_is_not_the_same_as_nothing_new() -> None:
    assert compare(BASE, BASE).figures.novelty.a is None
    known = compare(BASE, BASE, last_weeks=(changed(BASE, week="2025-W40"),)).figures.novelty.a
    assert known is not None
    assert known.movements == known.pairs == known.formats == ()


def test_two_weeks_need_two_names() -> None:
    with pytest.raises(DataError, match="both weeks are called"):
        compare(BASE, BASE, ("A", "A"))
