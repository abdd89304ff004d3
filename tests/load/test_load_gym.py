"""A gym that does not fit the catalogue says where; weeks behind it come newest first."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from planner.domain.gym import Gym
from planner.domain.iso_week import monday_of, next_week, week_of
from planner.domain.week import Balance, Proof, Week, WeekLoad
from planner.errors import DataError
from planner.load.catalogue import load_catalogue
from planner.load.gym import load_gym, load_history

Spoil = Callable[[str, str, str], int]


def _gym(folder: Path) -> Gym:
    return load_gym(folder, load_catalogue(folder))


def test_a_class_may_have_another_size_on_each_day(folder: Path, spoil: Spoil) -> None:
    days = _gym(folder).days
    spoil("gym.yaml", "size: 6", "size: {" + ", ".join(f"{d}: {4 + i}" for i, d in enumerate(days)) + "}")
    made = _gym(folder).class_
    assert [made.on(day) for day in days] == [4 + i for i in range(len(days))]
    assert made.size == 3 + len(days)


def test_a_good_gym(folder: Path) -> None:
    gym = _gym(folder)
    assert gym.count("barbell") == 8
    assert gym.kits[1].contains == ()


@pytest.mark.parametrize(
    ("old", "new", "key", "said"),
    [
        ("size: 6", "size: {mon: 6}", "", "class.size is given by day, and says nothing of"),
        ("size: 6", "size: {mon: many}", "class.size", "whole number"),
        ("  rack: 2", "  rak: 2", "inventory.rak", 'there is no equipment "rak". Did you mean "rack"?'),
        ("  rack: 2", "  rack: -3", "inventory.rack", "must be at least 0; it is -3"),
        ("  rack: 2", "  rack: {20: 2}", "inventory.rack", "counted without a mass"),
        ("{20: 4, 15: 4}", "8", "inventory.barbell", "counted by mass in kg"),
        ("{20: 4, 15: 4}", "{20: -4, 15: 4}", "inventory.barbell.20", "must be at least 0"),
        (
            "name: No kit}",
            "name: No kit, contains: [boxx]}",
            "kits.no_kit.contains.#1",
            'Did you mean "box"?',
        ),
        (
            "name: No kit}",
            "name: No kit, contains: [box, everything]}",
            "kits.no_kit.contains.#2",
            "stands alone",
        ),
        ("name: No kit}", "name: No kit, kg: {box: [1, 1]}}", "kits.no_kit.kg.box", "not under contains"),
        ("{back_squat: 120, clean", "{clean", "athletes.man.lifts", "missing: back_squat"),
        (
            "{back_squat: 120,",
            "{back_squat: 120, bench: 90,",
            "athletes.man.lifts.bench",
            "not a reference lift",
        ),
        ("bar_kg: 15", "bar_kg: 10", "athletes.woman.bar_kg", "no bar of 10 kg; it has 20 kg, 15 kg"),
        ("Europe/Lisbon", "Europe/Lisbn", "timezone", 'Did you mean "Europe/Lisbon"?'),
        ("Europe/Lisbon", "../../etc/passwd", "timezone", "is not a time zone"),
        ("minutes: 55}", 'minutes: 55, start: "26:00"}', "class.start", "must be a time of day"),
        ("minutes: 55}", 'minutes: 55, start: "24:00"}', "class.start", "must be a time of day"),
        ("{20: 4, 15: 4}", "{20: 4, 15: 0}", "", "woman.bar_kg: the gym has no bar of 15 kg; it has 20 kg"),
        ("minutes: 55}", "minutes: 5}", "class.minutes", "must be at least 15; it is 5"),
        ("minutes: 55}", "minuts: 55}", "class.minuts", 'Did you mean "minutes"?'),
        ("hard_days: [wed]", "hard_days: [tue]", "hard_days.#1", "not one of the open days"),
        ("hard_days: [wed]", "hard_days: [wedd]", "hard_days.#1", 'Did you mean "wed"?'),
        ("days: [mon, wed, fri]", "days: [mon, fri, wed]", "", "days must be in the week's order"),
        ("days: [mon, wed, fri]", "days: [mon, wed, wed, fri]", "", "in the week's order, each once"),
        ("id: no_kit", "id: floor", "", "two kit versions have the same id"),
        ("contains: [everything]", "contains: [barbell]", "", "must be the gym floor"),
        ("contains: [everything]", "contains: [everything, barbell]", "", "must be the gym floor"),
    ],
)
def test_one_fault(folder: Path, spoil: Spoil, old: str, new: str, key: str, said: str) -> None:  # noqa: PLR0917
    line = spoil("gym.yaml", old, new)
    with pytest.raises(DataError) as caught:
        _gym(folder)
    assert said in str(caught.value)
    if key:
        assert f"{folder / 'gym.yaml'}:{line}: {key}: " in str(caught.value)


def test_no_gym(folder: Path) -> None:
    catalogue = load_catalogue(folder)
    with pytest.raises(DataError, match="no such folder"):
        load_gym(folder / "nowhere", catalogue)
    (folder / "gym.yaml").unlink()
    with pytest.raises(DataError, match=r"gym\.yaml: there is no such file"):
        load_gym(folder, catalogue)


def _week(name: str) -> Week:
    return Week(
        week=name,
        monday=monday_of(name).isoformat(),
        gym="x",
        invented=True,
        class_size=6,
        class_minutes=55,
        timezone="UTC",
        class_start="18:00",
        kits=(),
        athletes=(),
        sessions=(),
        balance=Balance(patterns={}, domains={}, modality={}),
        load=WeekLoad(
            daily_au=(0,) * 7, week_au=0, monotony=None, strain=None, vigorous_minutes=0, moderate_minutes=0
        ),
        rules=(),
        proof=Proof(tiers=(), seed=0, solver="", seconds=0, variables=0, constraints=0),
        cautions=(),
        inputs_digest="",
    )


@pytest.fixture
def history(tmp_path: Path) -> Path:
    folder = tmp_path / "history"
    folder.mkdir()
    for index, name in enumerate(("2026-W53", "2027-W01", "2026-W51", "2026-W52", "2027-W02", "2026-W50")):
        (folder / f"{index}.json").write_text(_week(name).model_dump_json(), encoding="utf-8")
    return tmp_path


def test_history_newest_first_and_only_before(history: Path) -> None:
    weeks = load_history(history, "2027-W02")
    assert [w.week for w in weeks] == ["2027-W01", "2026-W53", "2026-W52", "2026-W51"]
    assert [w.week for w in load_history(history, "2026-W52", limit=1)] == ["2026-W51"]
    assert load_history(history / "nowhere", "2026-W52") == ()


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ('{"week":\n', "9.json:2: this is not JSON"),
        ("{}", '9.json: week: this is not a week: "week" is missing'),
        (_week("2026-W40").model_dump_json().replace("2026-W40", "2026-W60"), "there is no 2026-W60"),
        (_week("2026-W50").model_dump_json(), "a second time"),
        (_week("2026-W40").model_copy(update={"schema_version": 99}).model_dump_json(), "version 99"),
        (_week("2026-W40").model_copy(update={"schema_version": 0}).model_dump_json(), "version 0"),
    ],
)
def test_a_bad_week(history: Path, text: str, said: str) -> None:
    (history / "history" / "9.json").write_text(text, encoding="utf-8")
    with pytest.raises(DataError) as caught:
        load_history(history, "2027-W02")
    assert said in str(caught.value)
    assert (history / "history" / "9.json").read_text(encoding="utf-8") == text


def test_weeks() -> None:
    assert monday_of("2026-W49") == date(2026, 11, 30)
    assert monday_of("2026-W53") == date(2026, 12, 28)
    assert next_week(date(2026, 12, 27)) == "2026-W53"
    assert next_week(date(2026, 12, 28)) == "2027-W01"
    assert week_of(date(2027, 1, 3)) == "2026-W53"
    with pytest.raises(ValueError, match="there is no 2027-W53: 2027 has 52 weeks"):
        monday_of("2027-W53")
    for wrong in ("2026-49", "2026-W0", "2026-W00", "2026-W54", "next", "", "0000-W01"):
        with pytest.raises(ValueError, match=r"week"):
            monday_of(wrong)


def test_a_day_is_hard_or_easy(folder: Path, spoil: Spoil) -> None:
    spoil("gym.yaml", "hard_days: [wed]", "hard_days: [wed]\neasy_days: [mon, wed]")
    with pytest.raises(DataError, match=r'easy_days\.#2: "wed" is among the hard days too'):
        _gym(folder)
