"""The loads card, and one member's loads: published examples, and only what the plates can make."""

from __future__ import annotations

import csv
from functools import lru_cache

import pytest

from planner import paths
from planner.domain.gym import DAY_NAMES
from planner.errors import DataError
from planner.load.catalogue import load_catalogue
from planner.load.gym import load_gym
from planner.prescribe.member_loads import (
    bars_of,
    estimate_table,
    find_lift,
    find_schemes,
    member_load,
    one_rm_kg,
    read_reps_max,
    week_cards,
)
from planner.render.loads_card import loads_card_html

from .reading import CHROMIUM, OVERFLOW, Sheet, assert_stands_alone, chromium, printed_pages
from .sample_week import sample_week
from .varied_weeks import SEEDS, varied_week


@lru_cache(maxsize=1)
def _known():
    catalogue = load_catalogue(paths.home().shared / "catalogue")
    return catalogue, load_gym(paths.home().shared / "gyms" / "demo", catalogue)


def _published():
    """The printed example that seven formulas are compared on: 50 kg, 8 reps."""
    text = (paths.home().shared / "reference" / "estimator_examples.csv").read_text(encoding="utf-8")
    rows = csv.DictReader(line for line in text.splitlines() if not line.startswith("#"))
    return [float(r["estimated_1rm"]) for r in rows if r["load"] == "100" and r["reps"] == "5"]


@pytest.mark.parametrize("one_rm", [20.0, 42.5, 72.5, 100.0, 180.0])
@pytest.mark.parametrize("percent", [62.0, 77.0, 83.0])
def test_a_load_is_what_bar_discs_and_collars_weigh_and_never_above_what_is_asked(one_rm, percent):
    _, gym = _known()
    found = member_load(one_rm, percent, gym)

    assert [bar.bar_kg for bar in found.bars] == [20.0, 15.0]
    for bar in found.bars:
        assert bar.kg == pytest.approx(bar.bar_kg + 2 * sum(bar.per_side_kg) + gym.collars_kg)
        assert all(kg in gym.inventory["plate"] for kg in bar.per_side_kg)
        for kg in set(bar.per_side_kg):
            assert 2 * bar.per_side_kg.count(kg) <= gym.inventory["plate"][kg]
        assert bar.too_heavy == (bar.kg > found.target_kg)
        assert bar.too_heavy or found.target_kg - bar.kg < 2 * min(gym.inventory["plate"]) + 1e-9
        assert not bar.too_heavy or bar.per_side_kg == ()


def test_the_example_of_the_command_line():
    catalogue, gym = _known()
    (scheme,) = find_schemes("3x8", catalogue)
    found = member_load(72.5, 77, gym)

    assert scheme.id == "three_by_eight"
    assert found.target_kg == pytest.approx(55.825)
    assert [(bar.kg, bar.per_side_kg) for bar in found.bars] == [(55.0, (15.0, 2.5)), (55.0, (20.0,))]


def test_a_rep_max_gives_the_spread_of_the_published_examples():
    low, middle, high = one_rm_kg(5, 100)
    published = _published()

    assert len(published) >= 7
    assert low == pytest.approx(min(published), abs=0.1)
    assert high == pytest.approx(max(published), abs=0.1)
    assert low <= middle <= high
    assert read_reps_max("5@80") == (5, 80.0)
    assert read_reps_max(" 10 @ 62.5 kg ") == (10, 62.5)


@pytest.mark.parametrize("text", ["5x80", "80", "0@80", "13@80", "5@", "five@80"])
def test_a_rep_max_that_cannot_be_one_is_refused(text):
    with pytest.raises(DataError):
        read_reps_max(text)


@pytest.mark.parametrize("one_rm", [0.0, -5.0, 501.0])
def test_a_1rm_that_nobody_has_is_refused(one_rm):
    with pytest.raises(DataError, match="cannot be meant"):
        member_load(one_rm, 77, _known()[1])


def test_lifts_and_schemes_are_found_by_name_or_the_nearest_is_said():
    catalogue, _ = _known()

    assert find_lift("Overhead  Squat", catalogue).id == find_lift("overhead_squat", catalogue).id
    with pytest.raises(DataError, match='Did you mean "overhead squat"'):
        find_lift("overhed squat", catalogue)
    with pytest.raises(DataError, match="no 1RM on a bar"):
        find_lift("burpee", catalogue)
    assert [s.id for s in find_schemes("3x6", catalogue)] == ["three_by_six", "three_by_six_slow"]
    assert find_schemes("three_by_eight", catalogue) == find_schemes("3 \N{MULTIPLICATION SIGN} 8", catalogue)
    with pytest.raises(DataError, match="Known, sets x reps"):
        find_schemes("3x7", catalogue)


@pytest.mark.parametrize("seed", SEEDS)
def test_every_main_lift_on_the_bar_has_its_table(seed):
    catalogue, gym = _known()
    week = varied_week(seed)
    cards = week_cards(week, gym, catalogue)
    html = loads_card_html(week, gym, catalogue)
    page = Sheet(html)
    assert_stands_alone(html)

    wanted = {
        line.movement: line
        for session in week.sessions
        for piece in session.pieces
        if piece.kind == "strength"
        for line in piece.versions[week.kits[0].id].lines
        if not line.assistance and any(load.per_side_kg for load in line.loads)
    }
    assert {card.lift.split(" with")[0] for card in cards} == {
        w.name.split(" with")[0] for w in wanted.values()
    }
    for card in cards:
        assert all(DAY_NAMES[day] in page.text for day in card.days)
        rising = [[row.bars[i].kg for row in card.rows] for i in range(len(bars_of(gym)))]
        assert all(kgs == sorted(kgs) for kgs in rising)
    assert len(page.texts("kg")) == sum(len(row.bars) for card in cards for row in card.rows)
    assert len(page.texts("plates")) == len(page.texts("kg"))


def test_estimates_spread_more_the_more_reps():
    for _, spreads in estimate_table():
        assert all(low <= middle <= high for low, middle, high in spreads)
    widths = [high - low for low, _, high in estimate_table()[-1][1]]
    assert widths[-1] > widths[1]


@pytest.mark.skipif(CHROMIUM is None, reason="no Chromium is installed")
def test_it_fits_a_phone_and_a_few_sheets_of_paper():
    catalogue, gym = _known()
    html = loads_card_html(sample_week(), gym, catalogue)
    with chromium() as browser:
        page = browser.new_page(viewport={"width": 360, "height": 700})
        assert printed_pages(page, html) <= 3
        assert page.evaluate(OVERFLOW) == []
        page.set_viewport_size({"width": 1100, "height": 700})
        assert page.evaluate(OVERFLOW) == []
