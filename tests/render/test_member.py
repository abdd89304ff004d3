"""The member sheet: it stands on its own, on a phone and as data."""

from __future__ import annotations

import io
import json
import re

import pytest

from planner.domain.week import Week
from planner.domain.words import capital
from planner.errors import DataError
from planner.render import notation
from planner.render.exercise_plan import exercise_plan
from planner.render.html import week_html
from planner.render.member import member_html

from .reading import CHROMIUM, OVERFLOW, Sheet, assert_stands_alone, chromium, flat, printed_pages
from .sample_week import sample_dict, sample_week
from .test_in_browser import CONTRAST
from .varied_weeks import PRINTED, SEEDS, lines_of, varied_week

DATA = re.compile(r'<script type="application/ld\+json">(.*?)</script>', re.DOTALL)


@pytest.mark.parametrize("seed", SEEDS)
def test_nothing_that_a_member_needs_is_missing(seed):
    assert_members_whole(varied_week(seed))


def assert_members_whole(week: Week) -> None:
    """Every version's sheet has every dose, load, standard, easier option and caution."""
    for kit in week.kits:
        html = member_html(week, kit.id)
        page = Sheet(html)
        assert_stands_alone(html)
        lines = lines_of(week, kit.id)
        drills = [d for s in week.sessions for p in s.pieces for d in p.drills]

        assert page.texts("name") == [capital(line.name) for line in lines]
        assert sorted(page.texts("dose")) == sorted(
            [notation.dose(x) for x in lines] + [d.dose for d in drills]
        )
        assert page.texts("drill") == [
            f"{d.dose} {d.name}. {notation.sentence(d.point)}".strip() for d in drills
        ]
        assert page.texts("load") == [notation.times(load.text) for line in lines for load in line.loads]
        assert page.texts("standard") == [
            f"Counts when: {notation.sentence(line.standard)}" for line in lines
        ]
        easier = page.texts("easier")
        assert len(easier) == sum(1 for line in lines if line.easier)
        for line in lines:
            for option in line.easier:
                assert f"{capital(option.name.lower())}: {notation.sentence(option.how)}" in flat(
                    " ".join(easier)
                )
            for caution in line.cautions:
                assert notation.sentence(caution) in page.text
            for load in line.loads:
                if load.per_side_kg:
                    assert "+".join(notation.number(kg) for kg in load.per_side_kg) in page.text
        assert page.texts("not-right") == [
            f"Load not right: {notation.sentence(x.too_heavy)}" for x in lines if x.loads
        ]
        scores = [piece.score for s in week.sessions for piece in s.pieces if piece.score]
        assert page.texts("score") == [f"Write down: {notation.sentence(score)}" for score in scores]
        for text in week.cautions:
            assert notation.sentence(text) in page.text


def test_one_day_is_that_day_alone():
    page = Sheet(member_html(sample_week(), "one_plate", "tue"))

    assert [attrs["id"] for tag, attrs in page.tags if tag == "article"] == ["tue"]
    assert "nav" not in [tag for tag, _ in page.tags]
    assert "2 December 2025" in page.text


def test_the_parts_come_in_the_order_they_are_done():
    page = Sheet(member_html(sample_week(), "home_barbell", "mon"))
    ids = [attrs["id"] for tag, attrs in page.tags if tag == "h3"]

    assert ids == ["mon-warm_up", "mon-strength", "mon-conditioning", "mon-cool_down"]


def test_a_version_that_lacks_a_piece_says_so():
    data = sample_dict()
    del data["sessions"][0]["pieces"][1]["versions"]["one_plate"]

    assert "no such part today" in member_html(Week.model_validate(data), "one_plate", "mon")


def test_without_loads_nobody_reads_of_lifts():
    assert "Whose loads" in member_html(sample_week(), "one_plate")
    assert "Whose loads" not in member_html(sample_week(), "no_kit")


def test_an_unknown_version_is_named():
    with pytest.raises(DataError, match="It has: gym_floor"):
        member_html(sample_week(), "garage")


def test_a_hostile_name_stays_text():
    data = sample_dict()
    nasty = "</script><script>alert(1)</script>&\"'"
    data["gym"] = nasty
    data["sessions"][0]["pieces"][1]["versions"]["one_plate"]["lines"][0]["name"] = nasty
    html = member_html(Week.model_validate(data), "one_plate")

    assert_stands_alone(html)
    assert html.count("<script") == html.count("</script>") == 1
    assert json.loads(DATA.search(html)[1])["name"].startswith(nasty)


@pytest.mark.parametrize("seed", range(0, 50, 5))
def test_the_data_in_the_sheet_is_the_week(seed):
    week = varied_week(seed)
    for kit in week.kits:
        found = json.loads(DATA.search(member_html(week, kit.id))[1])
        assert found == json.loads(json.dumps(exercise_plan(week, week.sessions, kit.id)))
        parts = [part for session in found["hasPart"] for part in session["hasPart"]]
        lines = lines_of(week, kit.id)
        assert [part["name"] for part in parts] == [line.name for line in lines]
        for part, line in zip(parts, lines, strict=True):
            assert part["@type"] == "ExercisePlan"
            assert part["exerciseType"]
            assert part["intensity"]
            assert re.fullmatch(r"PT\d+M", part["activityDuration"])
            if line.loads:
                assert [load["value"] for load in part["workload"]] == [load.kg for load in line.loads]
            if line.dose.unit == "reps":
                assert part["repetitions"]["value"] == line.dose.value
            assert ("restPeriods" in part) == bool(line.rest_s)


def test_the_week_sheet_has_the_gym_floors_data():
    week = sample_week()
    found = json.loads(DATA.search(week_html(week))[1])

    assert found["@context"] == "https://schema.org"
    assert len(found["hasPart"]) == len(week.sessions)


@pytest.mark.slow
@pytest.mark.skipif(CHROMIUM is None, reason="no Chromium is installed")
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_a_phone_shows_it_all_and_it_can_be_read(scheme):
    with chromium() as browser:
        page = browser.new_page(viewport={"width": 320, "height": 700}, color_scheme=scheme)
        for kit in ("gym_floor", "one_plate"):
            page.set_content(member_html(sample_week(), kit))
            assert page.evaluate(OVERFLOW) == []
            seen = page.evaluate(CONTRAST)["seen"]
            assert {pair: ratio for pair, ratio in seen.items() if ratio < 4.5} == {}
            heights = page.evaluate(
                "[...document.querySelectorAll('nav a')].map(e => e.getBoundingClientRect().height)"
            )
            assert min(heights) >= 24


@pytest.mark.slow
@pytest.mark.skipif(CHROMIUM is None, reason="no Chromium is installed")
def test_a_day_takes_two_pages_of_paper_at_most():
    jobs = [(sample_week(), s.day) for s in sample_week().sessions]
    jobs += [(week, None) for week in map(varied_week, PRINTED[::4])]
    with chromium() as browser:
        page = browser.new_page()
        for week, day in jobs:
            pages = printed_pages(page, member_html(week, week.kits[-1].id, day))
            assert pages <= 2 * (1 if day else len(week.sessions)), (week.week, day)


def test_a_week_of_a_version_takes_two_pages_a_day_as_a_pdf():
    pytest.importorskip(
        "weasyprint", reason="the extra pdf is not installed", exc_type=(ImportError, OSError)
    )
    from pypdf import PdfReader

    from planner.render.pdf import pdf_bytes

    week = sample_week().model_copy(update={"sessions": sample_week().sessions[:2]})
    pages = len(PdfReader(io.BytesIO(pdf_bytes(member_html(week, week.kits[0].id)))).pages)
    assert len(week.sessions) <= pages <= 2 * len(week.sessions)
