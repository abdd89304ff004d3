"""What encoder and audit share, worked out a second time over all that there is; nothing is solved."""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from itertools import product

import pytest

from planner.domain.at_hand import items_for, usable_setup
from planner.domain.line import LineFacts, line_units
from planner.domain.substitution import stand_in_dose
from planner.domain.timing import dose_tenths, line_tenths, session_rating, version_window
from planner.problem.candidates import dose_suits
from planner.problem.problem import Problem, assemble_problem
from planner.rules.where import Where
from tests.measured import selecting, week
from tests.measured.data import Data, Tree
from tests.measured.hold import own_doses, setup_at_hand
from tests.measured.rules import near_at_hand
from tests.measured.week import Line
from tests.measured.weeks import data_of, gym_of
from tests.plans import session_minutes
from tests.solve.demo import WEEK, shipped

DATA = data_of(12, 3)
SIZES = [(7, 2), (9, 2), (9, 3), (12, 3), (13, 3), (25, 6)]


@cache
def problem() -> Problem:
    catalogue, _, rules = shipped()
    return assemble_problem(catalogue, gym_of(12, 3), rules, (), WEEK, 1)


def line(facts: LineFacts) -> Line:
    """A candidate's ids, looked up in the files."""
    movement = DATA.movements[facts.movement.id]
    scheme = DATA.schemes[facts.scheme.id] if facts.scheme else None
    movement = week.complex_of(DATA, movement, scheme) if scheme else movement
    loaded = movement["modality"] == "loaded"
    tier = (scheme["tier"] if scheme else facts.tier) if loaded else "open"
    kit = DATA.gym["kits"][0]
    setup = setup_at_hand(DATA, kit, Line(facts.piece, movement, tier, scheme, [], 0, 0, 0, {}))
    assert setup is not None
    # Whether a bar takes plates follows from its load, as the line prints it.
    needs = setup.get("needs", [])
    if "barbell" in needs and "plate" in facts.needs and "plate" not in needs:
        needs = [*needs, "plate"]
    return Line(facts.piece, movement, tier, scheme, needs, 0, 0, 0, {"tier": tier})


@cache
def lines() -> list[tuple[LineFacts, Line]]:
    """Every line that the gym floor could have."""
    options = problem().options
    every = (*options.main, *options.assistance, *options.conditioning)
    return [(c.facts, line(c.facts)) for c in every]


def test_every_line_needs_what_its_first_way_needs_and_has_what_is_near() -> None:
    for facts, mine in lines():
        assert list(facts.needs) == mine.needs, facts.movement.id
        assert facts.tier == mine.tier, facts.movement.id
        if facts.implement:
            assert facts.at_hand == near_at_hand(DATA, mine), (facts.movement.id, facts.tier)


SELECTORS: tuple[Tree, ...] = (
    *({"piece": p} for p in ("main", "assistance", "strength", "conditioning")),
    *({"pattern": p} for p in ("squat", "push", "pull", "legs", "upper", "lower", ["trunk", "jump"])),
    *({"pattern": "trunk", "share_at_least": n} for n in (1, 10, 15, 20, 31, 60)),
    *({"main_pattern": p} for p in ("hinge", "lower", ["carry", "cyclic"])),
    *({"load": t} for t in ("open", "light", "moderate", "heavy", ["light", "heavy"])),
    *({"modality": m} for m in ("loaded", "bodyweight", "cyclic")),
    *({"item": i} for i in ("barbell", "rack", "plate", ["rower", "rig"])),
    *({f"{k}_at_least": n} for k in ("grip", "overhead", "back") for n in (1, 2)),
    *({"skill_at_least": n} for n in (1, 2, 3)),
    *({k: v} for k in ("contacts", "eccentric") for v in (True, False)),
    *({"sides": s} for s in ("both", "alternating", ["per_side"])),
    *({"unit": u} for u in ("reps", "metres", "calories", "seconds")),
    *({"goal": g} for g in ("strength", "power", "skill", ["assistance", "hypertrophy"])),
    {"scheme": ["five_by_five", "three_by_eight"]},
    {"movement": ["burpee", "deadlift"]},
    {"piece": "main", "pattern": "pull", "load": "heavy", "goal": "strength"},
    {"piece": "conditioning", "modality": "bodyweight", "unit": "reps", "eccentric": True},
)


@pytest.mark.parametrize("where", SELECTORS, ids=str)
def test_a_selector_means_the_same_lines(where: Tree) -> None:
    meant = Where.model_validate(where)
    chosen = {id(x) for x in meant.select(facts for facts, _ in lines())}

    for facts, mine in lines():
        assert (id(facts) in chosen) == selecting.means(where, mine), facts.movement.id
        assert meant.matches(facts) == selecting.means(where, mine), facts.movement.id
    assert chosen, "a selector without lines proves nothing"


def test_the_selectors_of_the_shipped_rules_mean_the_same_lines() -> None:
    for rule, entry in zip(problem().rules, DATA.rules, strict=False):
        assert rule.id == entry["id"]
        named = [entry[k] for k in ("where", "of", "to", "with", "needs") if isinstance(entry.get(k), dict)]
        never = entry.get("never") or []
        named += never if isinstance(never, list) else [never]
        meant = {tuple(facts for facts, m in lines() if selecting.means(w, m)) for w in named}
        assert {tuple(w.select(f for f, _ in lines())) for w in rule.selectors()} >= meant, rule.id


@pytest.mark.parametrize(("size", "turns"), SIZES)
def test_in_turns_an_item_serves_so_many(size: int, turns: int) -> None:
    gym = gym_of(size, turns)
    data = data_of(size, turns)
    for kit, entry in zip(gym.kits, data.gym["kits"], strict=True):
        for m in shipped()[0].movements.values():
            for piece in ("main", "assistance", "conditioning"):
                mine = setup_at_hand(
                    data, entry, Line(piece, DATA.movements[m.id], "open", None, [], 0, 0, 0, {})
                )
                found = usable_setup(m, items_for(gym, kit, piece), piece)
                assert (found is None) == (mine is None), m.id
                if found is not None and mine is not None:
                    assert list(found.needs) == mine.get("needs", []), m.id


def test_every_dose_takes_as_long_and_counts_on_each_side() -> None:
    ladders = {tuple(s["ladder"]) for s in DATA.shapes.values() if s["ladder"]}
    for m in shipped()[0].movements.values():
        entry = DATA.movements[m.id]
        for tier, numbers in m.doses.items():
            for n in (1, *numbers, numbers[-1] + 7, 2 * numbers[-1]):
                assert dose_tenths(m, n, tier) == week.tenths_of(entry, n, tier), (m.id, n)
                assert line_tenths(m, n, tier) == week.tenths_of(entry, n, tier), (m.id, n)
            for rungs in ladders:
                once = sum(week.tenths_of(entry, n, tier) for n in rungs)
                assert line_tenths(m, sum(rungs), tier, rungs) == once, (m.id, rungs)
        assert line_units(m, 7, 3) == (42 if entry.get("sides") == "per_side" else 21), m.id


def test_every_window_and_every_class_is_as_long() -> None:
    catalogue = shipped()[0]
    for shape in catalogue.shapes.values():
        entry = DATA.shapes[shape.id]
        for floor in (True, False):
            assert version_window(shape, floor=floor) == week.window(entry, floor=floor), shape.id
        for own, beside in product(DATA.schemes.values(), (False, True)):
            scheme = catalogue.schemes[own["id"]]
            minutes = sum(n for _, n in week.blocks(own, beside, entry))
            assert session_minutes(scheme, beside, shape) == minutes, (scheme.id, shape.id)
            assert session_rating(scheme, shape) == min(10, 1 + own["effort"] + entry["effort"])


def test_the_floor_is_offered_just_the_doses_that_suit() -> None:
    """A movement's own numbers, under its cap in all rounds, inside a slot; ladders; once through."""
    shapes = [s for i, s in enumerate(shipped()[0].shapes.values()) if i % 3 == 0 or s.ladder or s.station_s]
    kinds = set()
    for c in problem().options.conditioning:
        m, mine = DATA.movements[c.facts.movement.id], line(c.facts)
        for shape in shapes:
            entry = DATA.shapes[shape.id]
            kinds.add(shape.format)
            fitting = [d for d in c.doses if dose_suits(d, c.facts.movement, shape)]
            for spot in ("opening", "turn", "after_each", "closing"):
                offered = {d.dose for d in fitting if d.part.spot == spot}
                there = entry[spot] if spot != "turn" else week.turn_lines(entry)
                placed = spot == "turn" or m["modality"] != "loaded"
                wanted = suitable(m, mine, entry, spot) if there and placed else set()
                assert offered == wanted, (m["id"], mine.tier, shape.id, spot)
    assert len(kinds) == 11


def suitable(m: Tree, mine: Line, shape: Tree, spot: str) -> set[int]:
    """Numbers that a coach would write for a movement at a spot of a shape; between others a short line."""
    mine.printed["spot"] = spot
    numbers = own_doses(mine, shape)
    ones = len(m["doses"][mine.tier]) == 1
    once = shape["format"] == "chipper" or spot in {"opening", "closing"}
    if once and not shape["ladder"]:
        top = m["doses"][mine.tier][-1]
        twice = {min(2 * top, m["cap"])} if m.get("unit", "reps") == "reps" else set()
        numbers = {top, *twice} if top > 1 or ones else set()
    out = set()
    for n in numbers:
        often = 1 if shape["ladder"] else week.comes(shape, spot)
        if (n == 1 and not ones and not shape["ladder"]) or n * often * shape["rounds"] > m["cap"]:
            continue
        if spot == "after_each" and not 80 <= week.tenths_of(m, n, mine.tier) <= 350:
            continue
        tenths = sum(week.tenths_of(m, k, mine.tier) for k in shape["ladder"] or [n])
        slot = shape["station_s"]
        if not slot or slot[0] * 10 <= tenths <= slot[1] * 10:
            out.add(n)
    return out


def test_a_stand_in_has_the_number_itself_or_its_own_that_take_about_as_long() -> None:
    every = list(shipped()[0].movements.values())
    originals = [m for m in every if m.doses][::12]
    stand_ins = [m for m in every if m.doses][5::9]
    kept = 0
    for original, other in product(originals, stand_ins):
        tier = next(iter(original.doses))
        dose = original.doses[tier][-1]
        found = stand_in_dose(original, dose, other, tier)
        own = own_numbers(DATA, other.id, tier)
        if original.id == other.id:
            assert found == (dose,)
            continue
        wanted = week.tenths_of(DATA.movements[original.id], dose, tier)
        same = DATA.movements[original.id].get("unit") == DATA.movements[other.id].get("unit")
        numbers = [n for n, _ in own]
        keeps = same and min(numbers) <= dose <= min(max(numbers), DATA.movements[other.id]["cap"])
        kept += keeps
        assert (found[0] == dose) >= keeps, (original.id, other.id)
        off = {
            n: min(abs(week.tenths_of(DATA.movements[other.id], k, t) - wanted) for k, t in own if k == n)
            for n in numbers
        }
        second = sorted(off.values())[min(1, len(off) - 1)]
        for n in found[1:] if keeps else found:
            assert off[n] <= second, (original.id, other.id, n)
        assert len(found) >= min(2, len(off))
    assert kept > 50


def own_numbers(data: Data, movement: str, tier: str) -> list[tuple[int, str]]:
    """Doses that a stand-in has of a tier, or of all where it has none; a leading 1 is a sign only."""
    doses = data.movements[movement]["doses"]
    tiers = [tier] if doses.get(tier) else list(doses)
    return [(n, t) for t in tiers for n in doses[t] if n > 1 or len(doses[t]) == 1]


def test_near_is_from_a_little_under_the_womens_to_a_little_over_the_mens() -> None:
    """The edges themselves count, in whole numbers: 60 % of 20 is 12, 125 % of 24 is 30."""
    made = dict(DATA.gym)
    made["inventory"] = {"kettlebell": {11.5: 1, 12: 2, 24: 4, 30: 8, 30.5: 16}}
    data = Data(DATA.items, {}, {}, {}, {}, made, [])
    swing = {"modality": "loaded", "kg": {"light": [24, 20]}}
    found = near_at_hand(data, Line("conditioning", swing, "light", None, ["kettlebell"], 0, 0, 0, {}))

    assert found == 2 + 4 + 8
    assert Fraction(20 * 60, 100) == 12


def test_the_floor_asks_no_more_skill_than_the_class_has() -> None:
    gym = gym_of(12, 3)
    less = gym.model_copy(update={"class_": gym.class_.model_copy(update={"skill": 2})})
    options = assemble_problem(shipped()[0], less, (), (), WEEK, 1).options

    every = (*options.main, *options.assistance, *options.conditioning)
    assert {DATA.movements[c.facts.movement.id].get("skill", 1) for c in every} == {1, 2}
