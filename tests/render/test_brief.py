"""The coach's brief: one page, whole, and right by the clock."""

from __future__ import annotations

import pytest

from planner.domain.week import Week
from planner.domain.words import capital
from planner.render import notation
from planner.render.brief import brief_html, brief_page
from planner.render.html import week_html
from planner.render.instead import short_line
from planner.render.page import session_of
from planner.render.week_print import week_print_html
from planner.render.week_view import week_page

from .reading import CHROMIUM, Sheet, assert_stands_alone, chromium, printed_pages
from .sample_week import sample_dict, sample_week
from .varied_weeks import PRINTED, SEEDS, varied_week

READ_PT = 8.0
"""Type that is read at arm's length without effort."""


@pytest.mark.parametrize("seed", SEEDS)
def test_nothing_that_a_coach_needs_is_missing(seed):
    assert_briefs_whole(varied_week(seed))


def assert_briefs_whole(week: Week) -> None:
    """Every day's brief has each piece, dose, version, movement to watch and caution."""
    for session in week.sessions:
        html = brief_html(week, session.day)
        page = Sheet(html)
        assert_stands_alone(html)
        for piece in session.pieces:
            assert notation.sentence(piece.stimulus) in page.text
            for sentence in piece.floor_setup:
                assert notation.sentence(sentence) in page.text
            for drill in piece.drills:
                assert drill.dose in page.text
            for version in piece.versions.values():
                assert all(short_line(line) in page.text for line in version.lines)
        watched = {seen.name: seen for seen in brief_page(week, session).watch}
        for kit in week.kits:
            for piece in session.pieces:
                for line in piece.versions[kit.id].lines if piece.versions else ():
                    seen = watched[_first_name(session, week, line.movement)]
                    assert seen.look
                    assert seen.easier or not line.easier
        for text in (*session.cautions, *week.cautions):
            assert notation.sentence(text) in page.text


def _first_name(session, week, movement):
    """A movement is watched once, under the name that it has first."""
    return next(
        capital(line.name)
        for kit in week.kits
        for piece in session.pieces
        if kit.id in piece.versions
        for line in piece.versions[kit.id].lines
        if line.movement == movement
    )


def test_the_running_order_is_by_the_clock_on_the_wall():
    running = brief_page(sample_week(), session_of(sample_week(), "mon")).running

    assert [(f.term, f.value) for f in running[:3]] == [
        ("18:00", "Brief"),
        ("18:03", "Warm-up"),
        ("18:15", "Strength"),
    ]
    assert (running[-1].term, running[-1].value) == ("19:00", "End of class")


@pytest.mark.parametrize("seed", SEEDS)
def test_no_minute_of_the_class_is_unaccounted_for(seed):
    week = varied_week(seed)
    for session in week.sessions:
        planned = max(entry.start_minute + entry.minutes for entry in session.clock)
        *running, end = brief_page(week, session).running
        assert sum(int(fact.note.split()[0]) for fact in running) == max(week.class_minutes, planned)
        assert end.value == "End of class"
        over = [fact for fact in running if fact.value.startswith("Left over")]
        assert [fact.note for fact in over] == [f"{week.class_minutes - planned} min"] * (
            planned < week.class_minutes
        )
        day = next(day for day in week_page(week).days if day.anchor == session.day)
        assert (day.spare.minutes if day.spare else 0) == max(0, week.class_minutes - planned)


def test_the_sheets_say_what_is_left_over_and_for_what():
    data = sample_dict()
    data["class_minutes"] = max(e["start_minute"] + e["minutes"] for e in data["sessions"][0]["clock"]) + 13
    week = Week.model_validate(data).model_copy(update={"sessions": sample_week().sessions[:1]})
    for html in (brief_html(week, "mon"), week_html(week), week_print_html(week)):
        assert "Left over, for equipment away, results and questions 13 min" in Sheet(html).text


def test_a_late_class_ends_after_midnight():
    data = sample_dict()
    data["class_start"] = "23:30"
    week = Week.model_validate(data)

    assert brief_page(week, week.sessions[0]).running[-1].term == "0:30"


def test_the_cap_is_said_on_both_clocks_and_half_way():
    page = brief_page(sample_week(), session_of(sample_week(), "mon"))
    ends = [piece.end for piece in page.pieces if piece.end]

    said = "Call time at 9:00, 18:47 if you start on time. The slow would need 9:05. "
    assert ends == [said + "Who is not half-way by 4:30 takes the easier option from there."]
    assert not any(piece.end for piece in brief_page(sample_week(), session_of(sample_week(), "wed")).pieces)


def test_bars_are_said_with_their_plates():
    floor = " ".join(f.value for f in brief_page(sample_week(), session_of(sample_week(), "mon")).floor)

    assert "Back squat: 95 kg, each side 20+15+2.5 / 62.5 kg, each side 20+2.5+1.25." in floor


def test_each_version_is_told_what_it_does_otherwise_and_shared_advice_once():
    data = sample_dict()
    advice = "With what is at hand: as fast as you can with good form; rest fully between sets"
    for kit in ("one_plate", "no_kit"):
        for line in data["sessions"][0]["pieces"][1]["versions"][kit]["lines"]:
            line["how"] = f"slowly. {advice}."
    week = Week.model_validate(data)
    said = brief_page(week, week.sessions[0]).say

    assert [fact.term for fact in said] == [kit.name for kit in week.kits]
    assert said[0].value.startswith("As in the pieces above.")
    assert sum(fact.value.count(advice) for fact in said) == 1
    assert all("slowly" in fact.value for fact in said[2:])


@pytest.mark.skipif(CHROMIUM is None, reason="no Chromium is installed")
def test_every_day_is_exactly_one_page():
    sample = sample_week()
    jobs = [(sample, session.day) for session in sample.sessions]
    jobs += [(week, week.sessions[0].day) for week in map(varied_week, PRINTED)]
    with chromium() as browser:
        page = browser.new_page()
        counts = [printed_pages(page, brief_html(week, day)) for week, day in jobs]

    assert counts == [1] * len(jobs)


@pytest.mark.parametrize("seed", SEEDS)
def test_the_type_never_gets_too_small(seed):
    week = varied_week(seed)
    assert min(brief_page(week, session).size_pt for session in week.sessions) >= READ_PT
