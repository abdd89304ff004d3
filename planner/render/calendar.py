"""The week's sessions as an RFC 5545 calendar."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime, time, timedelta
from functools import partial
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from icalendar import Calendar, Event

from planner.domain.clock import LABELS
from planner.domain.mark import MARK
from planner.domain.week import Session, Week
from planner.errors import DataError
from planner.render import notation
from planner.render.instead import instead, short_line
from planner.render.sheet_kind import Attachment, SheetKind, SheetSource

PRODUCT = f"-//{MARK}//sheets//EN"
DOMAIN = f"{MARK}.invalid"
"""Reserved by RFC 2606, so that no identifier can ever belong to somebody."""
# Years around the week for which a reader is told when the clocks change.
YEARS = 2
MOST_CHANGES = 100_000
FILE_NAME = "calendar.ics"


def calendar_ics(week: Week, folder_id: str, before: bytes | None = None) -> bytes:
    """The week's sessions as a calendar file that updates what an earlier one put there.

    An event's identifier follows from gym, week and day alone. Where ``before`` has the same event in other
    words or at another time its sequence number goes up by one, and its stamp by a minute.

    Args:
        week: the solved week.
        folder_id: stable name of the gym: its folder's.
        before: the calendar written before, if there is one.

    Returns:
        The file, its lines ended and folded as RFC 5545 says. The same input gives the same bytes.

    Raises:
        DataError: the gym's time zone is not known, or the calendar before cannot be read.
    """
    zone = _zone(week.timezone)
    earlier = _events(before)
    calendar = Calendar()
    calendar.add("prodid", PRODUCT)
    calendar.add("version", "2.0")
    calendar.add("method", "PUBLISH")
    calendar.add("x-wr-calname", week.gym)
    for session in week.sessions:
        calendar.add_component(_event(session, week, zone, folder_id, earlier))
    year = date.fromisoformat(week.monday).year
    calendar.add_missing_timezones(date(year - 1, 1, 1), date(year + YEARS, 1, 1))
    content: bytes = calendar.to_ical()
    return content


def _file(source: SheetSource) -> list[Attachment]:
    content = partial(calendar_ics, source.week, source.folder_id, source.before(FILE_NAME))
    return [Attachment(FILE_NAME, "All sessions", "Calendar", content)]


KIND = SheetKind(
    name="calendar",
    heading="Calendar",
    about="Open it with a calendar program; opened again, it updates what is there.",
    files=_file,
)


def uid(week: Week, session: Session, folder_id: str) -> str:
    """Identifier of a day's event; it stays the same when the week is drafted again."""
    gym = re.sub(r"[^a-z0-9]+", "-", folder_id.casefold()).strip("-") or "gym"
    return f"{week.week}-{session.day}-{gym}@{DOMAIN}".lower()


def _zone(name: str) -> ZoneInfo:
    try:
        return ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError) as error:
        raise DataError(
            f'there is no time zone "{name}"', advice='Name one in gym.yaml, such as "Europe/Lisbon".'
        ) from error


def _events(before: bytes | None) -> dict[str, Event]:
    if before is None:
        return {}
    try:
        calendar = Calendar.from_ical(before)
    except ValueError as error:
        raise DataError(
            "the calendar written before cannot be read", advice="Delete it, or name another folder."
        ) from error
    events = [part for part in calendar.walk("VEVENT") if isinstance(part, Event)]
    return {str(event["uid"]): event for event in events if "uid" in event}


def _event(session: Session, week: Week, zone: ZoneInfo, folder_id: str, earlier: dict[str, Event]) -> Event:
    start = datetime.combine(date.fromisoformat(session.date), time.fromisoformat(week.class_start), zone)
    # By the clock that runs on, so that a change of the clocks does not make a class longer.
    over = start.astimezone(UTC) + timedelta(minutes=week.class_minutes)
    end = over.astimezone(zone)
    if end.fold:
        # The second of two that are alike by the local clock, which a reader would take for the first.
        end = over
    event = Event()
    event.add("uid", uid(week, session, folder_id))
    event.add("dtstart", start)
    event.add("dtend", end)
    event.add("summary", f"{week.gym}: {session.title}")
    event.add("description", _description(session, week))
    event.add("location", week.gym)
    sequence = _sequence(event, earlier.get(str(event["uid"])))
    event.add("sequence", sequence)
    stamp = datetime.combine(date.fromisoformat(week.monday), time(), UTC)
    event.add("dtstamp", stamp + timedelta(minutes=sequence))
    return event


def _sequence(event: Event, old: Event | None) -> int:
    """The event's sequence number: one more than before if anything visible has changed."""
    if old is None:
        return 0
    said = ("dtstart", "dtend", "summary", "description", "location")
    same = all(key in old and old[key].to_ical() == event[key].to_ical() for key in said)
    try:
        before = int(old.get("sequence", 0))
    except (TypeError, ValueError):  # changed by hand into what is no number
        before = 0
    return min(max(before, 0), MOST_CHANGES) + (0 if same else 1)


def _description(session: Session, week: Week) -> str:
    """The gym floor's work, then the other versions, a line each."""
    lines = []
    for piece in session.pieces:
        floor = piece.versions.get(week.kits[0].id)
        if piece.kind not in LABELS or floor is None:
            continue
        cap = f", cap {piece.cap_minutes} min" if piece.cap_minutes is not None else ""
        lines.append(f"{LABELS[piece.kind]}: {notation.times(piece.title)}{cap}")
        lines += [f"- {short_line(line)}" for line in floor.lines]
    lines += [f"{fact.term}: {fact.value}" for fact in instead(session, week)]
    lines += [notation.sentence(text) for text in session.cautions]
    return "\n".join(lines)
