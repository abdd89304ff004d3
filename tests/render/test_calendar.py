"""The calendar: read back by icalendar, exact, stable, and right when the clocks change."""

from __future__ import annotations

import re
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


# A class over a change of the clocks, by hand: zone, date, local start, minutes, and its end in UTC
# and by the local clock. Lisbon goes forward at 01:00 UTC on 29 March 2026, back at 01:00 UTC on 25 October;
# St John's goes forward at 02:00 by its clock on 8 March; Lord Howe by half an hour, forward at 02:00 on
# 4 October, back at 02:00 on 5 April.
OVER_A_CHANGE = (
    ("Europe/Lisbon", "2026-03-29", "00:30", 60, ("20260329T013000", "20260329T023000")),
    ("Europe/Lisbon", "2026-03-28", "23:30", 120, ("20260329T013000", "20260329T023000")),
    ("America/St_Johns", "2026-03-08", "01:30", 60, ("20260308T060000", "20260308T033000")),
    ("Australia/Lord_Howe", "2026-10-04", "01:45", 60, ("20261003T161500", "20261004T031500")),
    ("Europe/Lisbon", "2026-10-25", "00:30", 150, ("20261025T020000", "20261025T020000")),
    ("Europe/Lisbon", "2026-10-25", "00:15", 60, ("20261025T001500", "20261025T011500")),
    # Ends in the hour that comes twice, the second time; there is no local time for that.
    ("Europe/Lisbon", "2026-10-25", "01:30", 60, ("20261025T013000", "")),
    ("Europe/Lisbon", "2026-10-25", "00:45", 120, ("20261025T014500", "")),
    ("Australia/Lord_Howe", "2026-04-05", "01:15", 60, ("20260404T151500", "")),
)
STAMP = "%Y%m%dT%H%M%S"


@pytest.mark.parametrize(("zone", "day", "start", "minutes", "ends"), OVER_A_CHANGE)
def test_a_class_over_a_change_of_the_clocks_is_as_long_as_any(zone, day, start, minutes, ends):
    end, local = ends
    data = sample_dict()
    session = {**data["sessions"][5], "date": day}
    data.update(sessions=[session], monday=day, timezone=zone, class_start=start, class_minutes=minutes)
    content = calendar_ics(Week.model_validate(data), "demo").decode()
    event = content[content.index("BEGIN:VEVENT") :]
    # As a reader takes it, by RFC 5545, 3.3.5: a local time that comes twice is the first of the two.
    (written,) = re.findall(r"(?m)^DTEND(;TZID=[^:]+)?:(\d{8}T\d{6})(Z?)\r$", event)
    assert re.search(rf"(?m)^DTSTART;TZID={zone}:{day.replace('-', '')}T{start.replace(':', '')}00\r$", event)
    tzid, text, utc = written
    assert (tzid, utc) == (("", "Z") if not local else (f";TZID={zone}", ""))
    assert text == (local or end)
    taken = datetime.strptime(text, STAMP).replace(tzinfo=UTC if utc else ZoneInfo(zone))
    assert taken.astimezone(UTC).strftime(STAMP) == end


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
