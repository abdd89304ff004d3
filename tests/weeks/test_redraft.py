"""Redraft: no week changes fewer pieces, nor then fewer lines; brute force, and one piece after another."""

from __future__ import annotations

import random
from functools import cache

import pytest

from planner.audit.audit import audit_plan, broken_musts
from planner.audit.reading import plan_of
from planner.domain.changes import GymChanges
from planner.domain.requests import Ban, Lock, Requests
from planner.errors import NoPlanError
from planner.solve.model.master import build_master
from planner.solve.search.draft import draft_plan
from planner.solve.search.solver import Budget, solve_layer
from planner.weeks.redraft import LINES_LAYER, PIECES_LAYER, Redrafted, redraft
from planner.weeks.setting import Setting
from planner.weeks.written import solved_week
from tests.solve.demo import WEEK, shipped
from tests.weeks import small, tiny

NUMBERS = (0, 1, 2, 3, 6, 10, 15, 16, 18, 21, 22, 27, 30, 31, 36, 38)
CHANGES = (
    GymChanges(without=("rower",)),
    GymChanges(without=("rack",)),
    GymChanges(counts={"rower": 1}),
    GymChanges(counts={"rack": 1}),
    GymChanges(mass_counts={"barbell": {20: 2}}),
    GymChanges(class_size=3),
)
TRIALS = 3
Case = tuple[Redrafted | None, tuple[int, int] | None]


def trials(number: int) -> list[tuple[GymChanges, Requests]]:
    """Something lost, something that the week uses banned, and both at once."""
    made = tiny.drafted(number)
    assert made is not None
    dice, base = random.Random(number), plan_of(made[1])
    out = []
    for kind in range(TRIALS):
        session = dice.choice(base.sessions)
        floor = next(iter(session.versions.values()))
        used = dice.choice([x.movement for x in (*floor.strength, *floor.conditioning)])
        ban = Ban(movement=used, day=dice.choice((None, session.day)))
        changes = dice.choice(CHANGES) if kind != 1 else GymChanges()
        out.append((changes, Requests(bans=(ban,) if kind else ())))
    return out


@cache
def cases(number: int) -> tuple[Case, ...]:
    """Redrafts of a random tiny week, each with the least pieces, then lines, that have to change."""
    made = tiny.drafted(number)
    if made is None:
        return ()
    setting, week = made
    base, out = plan_of(week), []
    for changes, requests in trials(number):
        banned = {(b.movement, b.day) for b in requests.bans}
        plans = [
            tiny.plan(w)
            for w, _ in tiny.allowed_weeks(setting.changed(changes).problem())
            if not any({(m, None), (m, d)} & banned for m, d in tiny.used(tiny.plan(w)))
        ]
        least = min(
            ((len(tiny.changed_pieces(base, p)), tiny.lines_gone(base, p)) for p in plans), default=None
        )
        try:
            again = redraft(setting.asking(requests), week, changes=changes, seconds=tiny.SECONDS)
        except NoPlanError:
            again = None
        out.append((again, least))
    return tuple(out)


@pytest.mark.parametrize("number", NUMBERS)
def test_brute_force_changes_as_many_pieces_and_lines(number: int) -> None:
    for again, least in cases(number):
        assert (again is None) == (least is None)
        made = tiny.drafted(number)
        if again is None or least is None or made is None:
            continue
        tiers = {t.name: t for t in again.week.proof.tiers}
        before, after = plan_of(made[1]), plan_of(again.week)

        assert (tiers[PIECES_LAYER].objective, tiers[LINES_LAYER].objective) == least
        assert again.proved
        assert {(c.day, c.piece) for c in again.changes} == tiny.changed_pieces(before, after)
        assert (len(again.changes), tiny.lines_gone(before, after)) == least


def test_the_random_weeks_are_worth_redrafting() -> None:
    """Some stay, some change in more than a piece, some are lost."""
    found = [least for number in NUMBERS for _, least in cases(number)]
    least = [x for x in found if x is not None]

    assert sum(pieces == 0 for pieces, _ in least) >= 3
    assert sum(pieces == 1 for pieces, _ in least) >= 3
    assert sum(pieces > 1 for pieces, _ in least) >= 3
    assert len(least) < len(found)


@pytest.mark.parametrize("lost", [("rig",), ("rower", "run_route"), ("kettlebell_pair", "dumbbell_pair")])
def test_on_three_days_no_changed_piece_could_have_stayed(lost: tuple[str, ...]) -> None:
    changes = GymChanges(without=lost)
    again = redraft(small.setting(), small.week(), changes=changes, seconds=small.SECONDS)

    assert again.changes
    assert_none_could_stay(small.setting().changed(changes), small.week(), again)


@pytest.mark.slow
def test_without_the_rig_no_changed_piece_could_have_stayed() -> None:
    catalogue, gym, rules = shipped()
    setting = Setting(catalogue, gym, rules, (), WEEK)
    week = solved_week(setting.problem(), 6.0)
    changes = GymChanges(without=("rig", "rings", "climbing_rope"))
    again = redraft(setting, week, changes=changes, seconds=8.0)

    assert again.changes
    assert again.week.proof.tiers[0].gap == 0
    assert_none_could_stay(setting.changed(changes), week, again)


def assert_none_could_stay(setting: Setting, week, again: Redrafted) -> None:
    """With all that stayed fixed, and one changed piece fixed as well, there is no week."""
    base, changed = plan_of(week), {(c.day, c.piece) for c in again.changes}
    assert changed == tiny.changed_pieces(base, plan_of(again.week))
    assert not broken_musts(audit_plan(setting.problem(), plan_of(again.week)))
    every = [(s.day, piece) for s in base.sessions for piece in ("strength", "conditioning")]
    for one in changed:
        fixed = [key for key in every if key not in changed or key == one]
        requests = Requests(locks=tuple(Lock(day=day, part=piece) for day, piece in fixed))
        problem = setting.asking(requests, base).problem()
        answer = solve_layer(build_master(problem).model, None, Budget(4.0, 3))
        if answer.status != "impossible":
            drafted = draft_plan(problem, 2.0)
            assert drafted.plan is None, f"{one} could have stayed"
            assert drafted.impossible, f"{one}: neither found nor ruled out"
