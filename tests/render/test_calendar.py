"""The calendar: read back by icalendar, exact, stable, and right when the clocks change."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from icalendar import Calendar

from planner.domain.week import Week
from planner.errors import DataError
from planner.render.calendar import calendar_ics
from planner.render.instead import short_line

from .sample_week import sample_dict, sample_week
from .varied_weeks import SEEDS, varied_week

MOST_OCTETS = 75


def _events(content: bytes):
    return {str(event["uid"]): event for event in Calendar.from_ical(content).walk("VEVENT")}


@pytest.mark.parametrize("seed", SEEDS)
def test_what_is_read_back_is_the_week(seed):
    week = varied_week(seed)
    content = calendar_ics(week, "Demo Gym")
    events = list(Calendar.from_ical(content).walk("VEVENT"))

    assert len(events) == len(week.sessions)
    zone = ZoneInfo(week.timezone)
    for event, session in zip(events, week.sessions, strict=True):
        hours, minutes = map(int, week.class_start.split(":"))
        day = date.fromisoformat(session.date)
        start = datetime(day.year, day.month, day.day, hours, minutes, tzinfo=zone)
        assert event["dtstart"].dt.astimezone(UTC) == start.astimezone(UTC)
        length = event["dtend"].dt.astimezone(UTC) - start.astimezone(UTC)
        assert length == timedelta(minutes=week.class_minutes)
        assert str(event["summary"]) == f"{week.gym}: {session.title}"
        assert (
            str(event["uid"])
            == f"{week.week}-{session.day}-demo-gym@weekly-programming-planner.invalid".lower()
        )
        said = str(event["description"])
        for piece in session.pieces:
            for line in piece.versions[week.kits[0].id].lines if piece.versions else ():
                assert f"- {short_line(line)}" in said.split("\n")
        assert all(f"\n{kit.name}: " in said for kit in week.kits[1:])
        if week.timezone != "UTC":
            assert event["dtstart"].params["TZID"] == week.timezone
    zones = [str(part["tzid"]) for part in Calendar.from_ical(content).walk("VTIMEZONE")]
    assert zones == ([] if week.timezone == "UTC" else [week.timezone])
    # Once read, it is written again as it was.
    assert Calendar.from_ical(content).to_ical() == content


@pytest.mark.parametrize("seed", SEEDS)
def test_lines_end_and_fold_as_the_standard_says(seed):
    content = calendar_ics(varied_week(seed), "demo")

    assert content.endswith(b"\r\n")
    assert b"\n" not in content.replace(b"\r\n", b"")
    assert max(map(len, content.split(b"\r\n"))) <= MOST_OCTETS
    content.decode("utf-8")


def test_clocks_change_within_a_week():
    """On 29 March 2026 Lisbon goes from UTC to UTC+1; on 25 October it goes back."""
    data = sample_dict()
    data.update(week="2026-W13", monday="2026-03-23")
    saturday, monday = data["sessions"][5], data["sessions"][0]
    saturday["date"], monday["date"] = "2026-03-28", "2026-03-30"
    data.update(sessions=[saturday, monday], class_start="18:00", timezone="Europe/Lisbon")
    before, after = Calendar.from_ical(calendar_ics(Week.model_validate(data), "demo")).walk("VEVENT")

    assert before["dtstart"].dt.astimezone(UTC).hour == 18
    assert after["dtstart"].dt.astimezone(UTC).hour == 17
    assert before["dtstart"].dt.hour == after["dtstart"].dt.hour == 18


def test_the_zone_in_the_file_changes_its_clocks_on_the_day():
    content = calendar_ics(varied_week_in("Europe/Lisbon"), "demo").decode()

    assert "TZID:Europe/Lisbon" in content
    assert "20260329T" in content or "20250330T" in content
    assert "TZOFFSETTO:+0100" in content


def varied_week_in(zone: str) -> Week:
    data = sample_dict()
    data["timezone"] = zone
    return Week.model_validate(data)


def test_a_redrafted_week_updates_what_is_there():
    first = calendar_ics(sample_week(), "demo")
    data = sample_dict()
    data["sessions"][1]["title"] = "Something else"
    second = calendar_ics(Week.model_validate(data), "demo", first)
    third = calendar_ics(sample_week(), "demo", second)
    old, new, back = _events(first), _events(second), _events(third)

    assert list(old) == list(new) == list(back)
    changed = [key for key in old if new[key]["sequence"] != old[key]["sequence"]]
    assert changed == ["2025-w49-tue-demo@weekly-programming-planner.invalid"]
    (key,) = changed
    assert [int(events[key]["sequence"]) for events in (old, new, back)] == [0, 1, 2]
    assert old[key]["dtstamp"].dt < new[key]["dtstamp"].dt < back[key]["dtstamp"].dt
    assert str(back[key]["summary"]) == str(old[key]["summary"])


def test_the_same_week_gives_the_same_bytes():
    first = calendar_ics(sample_week(), "demo")

    assert calendar_ics(sample_week(), "demo") == first
    assert calendar_ics(sample_week(), "demo", first) == first


def test_an_unknown_zone_and_a_broken_calendar_are_named():
    with pytest.raises(DataError, match='no time zone "Europe/Nowhere"'):
        calendar_ics(varied_week_in("Europe/Nowhere"), "demo")
    with pytest.raises(DataError, match="cannot be read"):
        calendar_ics(sample_week(), "demo", b"not a calendar")
