"""Loads a gym's folder: ``gym.yaml``, checked against the catalogue, and the weeks behind it."""

from __future__ import annotations

import re
import zoneinfo
from collections.abc import Iterator
from datetime import date
from pathlib import Path

from pydantic import ValidationError

from planner.domain.catalogue import REFERENCE_LIFTS, Catalogue
from planner.domain.characters import unprintable
from planner.domain.gym import TIME_OF_DAY, Gym
from planner.domain.iso_week import FIRST_YEAR, LAST_YEAR, monday_of
from planner.domain.week import SCHEMA_VERSION, Week
from planner.errors import DataError, Place
from planner.load.validate import MAX_FAULTS, Mistake, faults_in_words, refuse, validated
from planner.load.yaml_file import Located, nearest, read_text, read_yaml

EVERYTHING = "everything"
MAX_WEEK_BYTES = 10_000_000
_DATE = re.compile("[0-9]{4}-[0-9]{2}-[0-9]{2}")
_ESCAPED = re.compile(
    r"(?<!\\)(?:\\\\)*\\(u00[01][0-9b-f]|u007f|u00[89][0-9a-f]|u202[a-e89]|u206[6-9]|ufeff|[bfrt])",
    re.IGNORECASE,
)
"""What no week has in its texts, as JSON may write it."""


def load_gym(folder: Path, catalogue: Catalogue) -> Gym:
    """The gym in a folder.

    Args:
        folder: with ``gym.yaml`` in it.
        catalogue: whose equipment and lifts it must fit.

    Raises:
        DataError: the file cannot be used, or does not fit the catalogue; all that is wrong, by line.
    """
    if not folder.is_dir():
        raise DataError("there is no such folder", Place(folder), "Name the folder with gym.yaml in it.")
    node = read_yaml(folder / "gym.yaml")
    gym = validated(Gym, node)
    problems = [
        *_inventory_problems(gym, node, catalogue),
        *_kit_problems(gym, node, catalogue),
        *_athlete_problems(gym, node, catalogue),
        *_day_problems(gym, node),
    ]
    if problems:
        refuse(problems)
    return gym


def load_history(folder: Path, before_week: str, limit: int = 4) -> tuple[Week, ...]:
    """The last weeks before a week, the newest first.

    Args:
        folder: of the gym; its weeks are in ``history/*.json``.
        before_week: ``2026-W49``; this week and later ones are left out.
        limit: the most weeks that are given.

    Returns:
        Weeks; empty where there are none. A week may be missing in between.

    Raises:
        DataError: a file is not a week, or two files are the same week.
        ValueError: there is no such ``before_week``.
    """
    before = monday_of(before_week)
    found: dict[str, tuple[Path, Week]] = {}
    for path in sorted((folder / "history").glob("*.json")):
        week = read_week(path, advice="Write the week out again, or move the file out of the history folder.")
        if week.week in found:
            raise DataError(
                f"{week.week} is here a second time; the first is {found[week.week][0]}",
                Place(path, key="week"),
                "Keep the one that was used.",
            )
        found[week.week] = (path, week)
    weeks = [week for _, week in found.values() if monday_of(week.week) < before]
    return tuple(sorted(weeks, key=lambda week: monday_of(week.week), reverse=True)[: max(0, limit)])


def read_week(path: Path, advice: str = "A week's file is written by planner draft with --json.") -> Week:
    """A week from its JSON file.

    Args:
        path: the file.
        advice: what would be right, where it is not a week.

    Raises:
        DataError: the file cannot be read, is too large, or is not a week of this version.
    """
    text = read_text(path, MAX_WEEK_BYTES)
    strange = _ESCAPED.search(text)
    if strange or unprintable(text):
        line = text.count("\n", 0, strange.start()) + 1 if strange else None
        said = strange[1].upper() if strange else unprintable(text)
        raise DataError(f"there is an unprintable character here ({said})", Place(path, line), advice)
    try:
        week = Week.model_validate_json(text)
    except ValidationError as error:
        faults = error.errors(include_url=False)[:MAX_FAULTS]
        if faults[0]["type"] == "json_invalid":
            line_of = re.search(r"at line ([0-9]+)", faults[0]["msg"])
            place = Place(path, int(line_of[1]) if line_of else None)
            raise DataError("this is not JSON, or is cut short", place, advice) from None
        (steps, said), *others = faults_in_words(Week, faults)
        more = f" ({len(others)} more)" if others else ""
        place = Place(path, key=".".join(str(step) for step in steps))
        raise DataError(f"this is not a week: {said}{more}", place, advice) from None
    if week.schema_version != SCHEMA_VERSION:
        what = f"this week is of version {week.schema_version}; version {SCHEMA_VERSION} is read"
        raise DataError(what, Place(path, key="schema_version"), advice)
    try:
        monday_of(week.week)
    except ValueError as error:
        raise DataError(str(error), Place(path, key="week"), advice) from None
    _check_clock(week, path, advice)
    return week


def _check_clock(week: Week, path: Path, advice: str) -> None:
    """Dates, time and time zone can be read; whether they are right is the audit's business."""
    dates = {"monday": week.monday} | {f"sessions.{s.day}.date": s.date for s in week.sessions}
    for key, text in dates.items():
        if not _DATE.fullmatch(text) or not _is_date(text):
            raise DataError(
                f'"{text}" is not a date like {monday_of(week.week)}', Place(path, key=key), advice
            )
    if not TIME_OF_DAY.fullmatch(week.class_start):
        what = f'"{week.class_start}" is not a time of day like 18:00'
        raise DataError(what, Place(path, key="class_start"), advice)
    for mistake in _timezone_problems(week.timezone, Place(path, key="timezone")):
        raise DataError(mistake.what, mistake.place, advice)


def _is_date(text: str) -> bool:
    try:
        return FIRST_YEAR <= date.fromisoformat(text).year <= LAST_YEAR
    except ValueError:
        return False


def _inventory_problems(gym: Gym, node: Located, catalogue: Catalogue) -> Iterator[Mistake]:
    for item, held in gym.inventory.items():
        place = node.place("inventory", item)
        known = catalogue.items.get(item)
        if known is None:
            yield _unknown_item(item, place, catalogue)
        elif known.by_mass != isinstance(held, dict):
            say = (
                f"{known.plural} are counted by mass in kg: write {{20: 4}} for four of 20 kg"
                if known.by_mass
                else f"{known.plural} are counted without a mass: write one number"
            )
            yield Mistake(place, say)


def _kit_problems(gym: Gym, node: Located, catalogue: Catalogue) -> Iterator[Mistake]:
    for index, kit in enumerate(gym.kits):
        for item_index, item in enumerate(kit.contains):
            place = node.place("kits", index, "contains", item_index)
            if item == EVERYTHING and len(kit.contains) > 1:
                yield Mistake(place, f'"{EVERYTHING}" stands alone or not at all')
            elif item != EVERYTHING and item not in catalogue.items:
                yield _unknown_item(item, place, catalogue, EVERYTHING)
        for item in kit.kg:
            place = node.place("kits", index, "kg", item)
            if item not in catalogue.items:
                yield _unknown_item(item, place, catalogue)
            elif kit.contains != (EVERYTHING,) and item not in kit.contains:
                yield Mistake(place, f'a mass is given, but "{item}" is not under contains')


def _athlete_problems(gym: Gym, node: Located, catalogue: Catalogue) -> Iterator[Mistake]:
    used = _lifts_used(catalogue)
    bars = gym.inventory.get("barbell", {})
    for index, athlete in enumerate(gym.athletes):
        missing = [lift for lift in used if lift not in athlete.lifts]
        if missing:
            yield Mistake(
                node.place("athletes", index, "lifts"),
                f"missing: {', '.join(missing)}; loads in the catalogue are shares of them",
            )
        for lift in athlete.lifts:
            if lift not in REFERENCE_LIFTS:
                hint = nearest(lift, REFERENCE_LIFTS) or f" These are: {', '.join(REFERENCE_LIFTS)}."
                yield Mistake(
                    node.place("athletes", index, "lifts", lift), f'"{lift}" is not a reference lift.{hint}'
                )
        if isinstance(bars, dict) and bars and not bars.get(athlete.bar_kg):
            have = ", ".join(f"{kg:g} kg" for kg, count in bars.items() if count)
            yield Mistake(
                node.place("athletes", index, "bar_kg"),
                f"the gym has no bar of {athlete.bar_kg:g} kg; it has {have or 'none'}",
            )


def _lifts_used(catalogue: Catalogue) -> tuple[str, ...]:
    used = {m.lift.of for m in catalogue.movements.values() if m.lift}
    used |= {s.limit.of for m in catalogue.movements.values() for s in m.setups if s.limit}
    return tuple(lift for lift in REFERENCE_LIFTS if lift in used)


def _day_problems(gym: Gym, node: Located) -> Iterator[Mistake]:
    for key, days in (("hard_days", gym.hard_days), ("easy_days", gym.easy_days)):
        for index, day in enumerate(days):
            if day not in gym.days:
                yield Mistake(node.place(key, index), f'"{day}" is not one of the open days')
            elif key == "easy_days" and day in gym.hard_days:
                yield Mistake(node.place(key, index), f'"{day}" is among the hard days too')
    yield from _timezone_problems(gym.timezone, node.place("timezone"))


def _timezone_problems(name: str, place: Place) -> Iterator[Mistake]:
    try:
        zoneinfo.ZoneInfo(name)
    except (zoneinfo.ZoneInfoNotFoundError, ValueError, OSError):
        known = sorted(zoneinfo.available_timezones())
        if known:
            hint = nearest(name, known) or " Write it like Europe/Lisbon."
            yield Mistake(place, f'"{name}" is not a time zone.{hint}')
        else:
            yield Mistake(
                place, "this computer has no list of time zones; install the Python package tzdata, once"
            )


def _unknown_item(item: str, place: Place, catalogue: Catalogue, *also: str) -> Mistake:
    hint = nearest(item, (*catalogue.items, *also)) or " Items are listed in equipment.yaml."
    return Mistake(place, f'there is no equipment "{item}".{hint}')
