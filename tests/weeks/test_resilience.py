"""Resilience: losses that leave the week standing, those that cost pieces, and those that leave no week."""

from __future__ import annotations

import json
from functools import cache

import pytest

from planner.audit.reading import plan_of
from planner.domain.changes import GymChanges
from planner.weeks.resilience import Loss, resilience
from tests.measured.data import from_values
from tests.measured.standing import stands
from tests.weeks import small, tiny


@cache
def losses() -> tuple[Loss, ...]:
    return resilience(small.setting(), small.week(), seconds=0.5)


def changes_of(loss: Loss) -> GymChanges:
    if loss.lost == "all":
        return GymChanges(without=(loss.item,))
    return GymChanges(counts={loss.item: loss.left})


def stays(loss: Loss, *, floor_only: bool = False) -> bool | None:
    """Whether the week can stay as it is, by the second measurement; None where its loads would change."""
    setting = small.setting().changed(changes_of(loss))
    data = from_values(setting.catalogue, setting.gym, setting.rules)
    return stands(data, json.loads(small.week().model_dump_json()), floor_only=floor_only)


@pytest.mark.slow
def test_every_item_is_lost_once_and_altogether() -> None:
    gym = small.setting().gym
    wanted = {(i, "all") for i in gym.inventory} | {(i, "one") for i in gym.inventory if gym.count(i) > 1}
    assert {(x.item, x.lost) for x in losses()} == wanted
    assert len(losses()) == len(wanted)


@pytest.mark.slow
def test_a_loss_that_leaves_the_week_standing_costs_nothing() -> None:
    standing = [x for x in losses() if stays(x)]
    assert len(standing) > len(losses()) // 3
    for loss in standing:
        assert (loss.pieces, loss.points, loss.impossible, loss.proved) == (0, 0, (), True), loss.item


@pytest.mark.slow
def test_a_loss_that_the_gym_floor_feels_costs_pieces_or_the_week() -> None:
    felt = [x for x in losses() if stays(x, floor_only=True) is False]
    assert felt
    for loss in felt:
        if loss.item == "rack" and loss.lost == "one":
            continue  # four to a rack only make the lift longer, and the class has the minutes
        assert loss.pieces > 0 or loss.impossible, loss.item


@pytest.mark.slow
def test_what_an_item_is_used_for_has_to_change() -> None:
    """A movement of the floor that can be done with nothing else goes with its item."""
    setting = small.setting()
    for loss in (x for x in losses() if x.lost == "all" and not x.impossible):
        hit = sum(
            any(
                all(loss.item in setup.needs for setup in setting.catalogue.movements[x.movement].setups)
                for x in getattr(s.versions["floor"], piece)
            )
            for s in plan_of(small.week()).sessions
            for piece in ("strength", "conditioning")
        )
        assert loss.pieces >= hit, loss.item


@pytest.mark.slow
def test_the_most_painful_loss_comes_first_and_after_each_there_is_a_week() -> None:
    """What the gym cannot keep of the shipped musts is left out then; only what the coach fixed can clash."""
    keys = [(bool(x.impossible), x.pieces, x.points) for x in losses()]
    assert keys == sorted(keys, reverse=True)
    assert not [x for x in losses() if x.impossible]


@pytest.mark.parametrize("number", range(8))
def test_on_tiny_weeks_as_many_pieces_as_brute_force(number: int) -> None:
    made = tiny.drafted(number)
    if made is None:
        return
    setting, week = made
    base = plan_of(week)
    for loss in resilience(setting, week, seconds=tiny.SECONDS):
        weeks = tiny.allowed_weeks(setting.changed(changes_of(loss)).problem())
        least = min((len(tiny.changed_pieces(base, tiny.plan(w))) for w, _ in weeks), default=None)
        assert (least is None) == bool(loss.impossible)
        if least is not None:
            assert loss.pieces == least
