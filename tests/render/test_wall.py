"""The wall sheet: whole, one page, and large enough."""

from __future__ import annotations

import pytest

from planner.errors import DataError
from planner.render import words
from planner.render.fit import largest, line_count, width_em
from planner.render.instead import WORK, instead, short_line
from planner.render.page import session_of
from planner.render.wall import NAME, wall_html, wall_page

from .reading import CHROMIUM, OVERFLOW, Sheet, assert_stands_alone, chromium, printed_pages
from .sample_week import sample_week
from .varied_weeks import SEEDS, varied_week

CAPITAL = 0.7
"""Height of capitals in the type's size, in the faces that the sheet can fall back to."""
SEEN_MM = 5.8
"""Smallest letter that normal sight makes out at four metres: five minutes of arc."""


@pytest.mark.parametrize("seed", SEEDS)
def test_no_dose_load_cap_or_version_is_missing(seed):
    week = varied_week(seed)
    floor = week.kits[0].id
    for session in week.sessions:
        html = wall_html(week, session.day)
        page = Sheet(html)
        assert_stands_alone(html)
        pieces = [piece for piece in session.pieces if piece.kind in WORK]
        lines = [line for piece in pieces for line in piece.versions[floor].lines]

        assert page.texts("dose") == [words.dose(line) for line in lines]
        assert page.texts("name") == [words.capital(line.name) for line in lines]
        assert page.texts("load") == [words.loads(line.loads) for line in lines if line.loads]
        caps = [piece.cap_minutes for piece in pieces if piece.cap_minutes is not None]
        assert page.texts("cap") == [f"Cap {minutes} min" for minutes in caps]
        for fact in instead(session, week):
            assert f"{fact.term} {fact.value}" in page.text


@pytest.mark.parametrize("seed", SEEDS)
def test_each_version_is_told_what_differs_and_no_more(seed):
    week = varied_week(seed)
    floor = week.kits[0].id
    for session in week.sessions:
        for kit, fact in zip(week.kits[1:], instead(session, week), strict=True):
            for piece in session.pieces:
                if piece.kind not in WORK:
                    continue
                known = {short_line(line) for line in piece.versions[floor].lines}
                for line in piece.versions[kit.id].lines:
                    assert (short_line(line) in fact.value) or short_line(line) in known


@pytest.mark.skipif(CHROMIUM is None, reason="no Chromium is installed")
def test_every_day_is_exactly_one_page():
    sample = sample_week()
    jobs = [(sample, s.day, paper) for s in sample.sessions for paper in ("A3", "A4")]
    jobs += [(w, w.sessions[-1].day, "A3") for w in map(varied_week, SEEDS)]
    with chromium() as browser:
        page = browser.new_page()
        counts = [printed_pages(page, wall_html(week, day, paper=paper)) for week, day, paper in jobs]

    assert counts == [1] * len(jobs)


@pytest.mark.skipif(CHROMIUM is None, reason="no Chromium is installed")
def test_a_word_of_any_length_and_many_lines_stay_on_the_page():
    from planner.domain.week import Week

    from .sample_week import sample_dict

    data = sample_dict()
    for version in data["sessions"][5]["pieces"][1]["versions"].values():
        version["lines"] += version["lines"][:2]
        version["lines"][0]["name"] = "Kniebeugenständerhalterungsverlängerung"
    week = Week.model_validate(data)
    with chromium() as browser:
        page = browser.new_page(viewport={"width": 1280, "height": 800})
        assert printed_pages(page, wall_html(week, "sat")) == 1
        assert page.evaluate(OVERFLOW) == []
        page.set_viewport_size({"width": 360, "height": 700})
        assert page.evaluate(OVERFLOW) == []


@pytest.mark.parametrize("seed", SEEDS)
def test_doses_and_loads_can_be_made_out_at_four_metres(seed):
    week = varied_week(seed)
    for session in week.sessions:
        sheet = wall_page(week, session, "A3")

        assert sheet.rem_mm * NAME * 0.8 * CAPITAL >= SEEN_MM * 0.9
        assert sheet.rem_mm * NAME * CAPITAL >= SEEN_MM


def test_a_day_without_a_class_is_named():
    with pytest.raises(DataError, match='no session on "sun"'):
        session_of(sample_week(), "sun")


def test_lines_are_counted_as_words_break():
    em = width_em("back squat")
    assert line_count("back squat", em) == 1
    assert line_count("back squat", em - 0.1) == 2
    assert line_count("", 10) == 1
    assert line_count("squat" * 10, width_em("squat" * 5)) == 2
    assert width_em("squat", bold=True) > width_em("squat")


def test_the_largest_size_that_fits_is_found():
    assert largest(lambda size: size <= 1.5, 2.0, 1.0, 0.1) == pytest.approx(1.5)
    assert largest(lambda _: False, 2.0, 1.0) == 1.0
    assert largest(lambda _: True, 2.0, 1.0) == 2.0
