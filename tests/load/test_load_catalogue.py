"""A catalogue that does not hold together says where and what would be right."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from planner.errors import DataError
from planner.load.catalogue import load_catalogue

Spoil = Callable[[str, str, str], int]
SQUATS = "movements/squats.yaml"


def _said(folder: Path) -> str:
    before = {p: p.read_bytes() for p in folder.rglob("*") if p.is_file()}
    with pytest.raises(DataError) as caught:
        load_catalogue(folder)
    assert caught.value.exit_code == 2
    assert {p: p.read_bytes() for p in folder.rglob("*") if p.is_file()} == before
    return str(caught.value)


def test_a_good_catalogue(folder: Path) -> None:
    catalogue = load_catalogue(folder)
    assert list(catalogue.movements) == ["back_squat", "air_squat"]
    assert list(catalogue.items) == ["barbell", "rack", "box"]
    assert set(catalogue.schemes) == {"five_by_five"}
    assert set(catalogue.drills) == {"march"}
    assert len(catalogue.shapes) == 1


@pytest.mark.parametrize(
    ("file", "old", "new", "key", "said"),
    [
        (
            SQUATS,
            "    modality: loaded",
            "    modalty: loaded",
            "movements.back_squat.modalty",
            'unknown key "modalty". Did you mean "modality"?',
        ),
        (
            SQUATS,
            "modality: loaded",
            "modality: laoded",
            "movements.back_squat.modality",
            '"laoded" is not known here. Did you mean "loaded"?',
        ),
        (
            SQUATS,
            "modality: loaded",
            "modality: 7",
            "movements.back_squat.modality",
            "7 is not known here. It must be one of loaded, bodyweight, cyclic.",
        ),
        (
            SQUATS,
            "[barbell, rack]",
            "[barbell, rak]",
            "movements.back_squat.setups.#1.needs.#2",
            'there is no equipment "rak". Did you mean "rack"?',
        ),
        (
            SQUATS,
            "[barbell, rack]",
            "[barbell, unicycle]",
            "movements.back_squat.setups.#1.needs.#2",
            'there is no equipment "unicycle". Items are listed in equipment.yaml.',
        ),
        (
            SQUATS,
            "{to: air_squat",
            "{to: air_sqaut",
            "movements.back_squat.easier.#1.to",
            'there is no movement "air_sqaut". Did you mean "air_squat"?',
        ),
        (
            SQUATS,
            "{to: air_squat",
            "{to: back_squat",
            "movements.back_squat.easier.#1.to",
            "cannot stand for itself",
        ),
        (
            SQUATS,
            "lift: {of: back_squat",
            "lift: {of: bak_squat",
            "movements.back_squat.lift.of",
            '"bak_squat" is not a reference lift. Did you mean "back_squat"?',
        ),
        (
            SQUATS,
            "{of: clean_and_jerk",
            "{of: jerk",
            "movements.back_squat.setups.#2.limit.of",
            '"jerk" is not a reference lift.',
        ),
        (
            SQUATS,
            "because: overhead",
            "becaus: overhead",
            "movements.back_squat.setups.#2.limit.becaus",
            'Did you mean "because"?',
        ),
        (SQUATS, "cap: 100", "cap: many", "movements.air_squat.cap", 'must be a whole number; it is "many"'),
        (SQUATS, "cap: 100", "cap: 0", "movements.air_squat.cap", "must be more than 0; it is 0"),
        (SQUATS, "roles: [main]", "roles: main", "movements.back_squat.roles", "must be a list"),
        (SQUATS, "id: air_squat", "id: Air Squat", "movements.Air Squat.id", "lower-case letters"),
        (SQUATS, "movements:", "movement:", "movement", 'unknown key "movement". Did you mean "movements"?'),
        ("equipment.yaml", "plural: racks", "plrual: racks", "items.rack.plrual", 'Did you mean "plural"?'),
        ("equipment.yaml", "id: box", "id: rack", "items.rack.id", 'the id "rack" is taken: '),
        (
            "drills.yaml",
            "prepares: [pulse]",
            "prepares: [pulze]",
            "drills.march.prepares.#1",
            'Did you mean "pulse"?',
        ),
        (
            "drills.yaml",
            "seconds: 60}",
            "seconds: 60, needs: [bx]}",
            "drills.march.needs.#1",
            'Did you mean "box"?',
        ),
        ("schemes.yaml", "tier: heavy", "tier: heaavy", "schemes.five_by_five.tier", 'Did you mean "heavy"?'),
        (
            "formats.yaml",
            "timed: for_time",
            "timed: fortime",
            "formats.rounds_for_time.timed",
            'Did you mean "for_time"?',
        ),
    ],
)
def test_one_fault(folder: Path, spoil: Spoil, file: str, old: str, new: str, key: str, said: str) -> None:  # noqa: PLR0917
    line = spoil(file, old, new)
    message = _said(folder)
    assert f"{folder / file}:{line}: {key}: " in message
    assert said in message


def test_a_missing_key_is_said_at_its_entry(folder: Path, spoil: Spoil) -> None:
    spoil(SQUATS, "    cap: 100\n", "")
    assert f'{folder / SQUATS}:19: movements.air_squat: "cap" is missing' in _said(folder)


def test_parts_that_do_not_fit_together_are_said_at_the_entry(folder: Path, spoil: Spoil) -> None:
    spoil(SQUATS, "[10, 15, 20]", "[10, 20, 15]")
    assert f"{folder / SQUATS}:19: movements.air_squat: doses.open must ascend" in _said(folder)


def test_all_faults_at_once_each_on_its_line(folder: Path, spoil: Spoil) -> None:
    lines = [spoil(SQUATS, "cap: 60", "cap: x"), spoil(SQUATS, "cap: 100", "cap: y")]
    lines.append(spoil("drills.yaml", "phase: raise", "phase: rise"))
    said = _said(folder).splitlines()
    assert len(said) == 3
    assert [int(line.split(":")[1]) for line in said] == lines


def test_one_id_in_two_files_names_both_places(folder: Path) -> None:
    text = (folder / SQUATS).read_text(encoding="utf-8")
    (folder / "movements" / "tests.yaml").write_text(text, encoding="utf-8")
    said = _said(folder)
    assert f"{folder}/movements/tests.yaml:2: movements.back_squat.id: " in said
    assert f'the id "back_squat" is taken: {folder / SQUATS}:2' in said


def test_two_movements_of_a_unit_with_one_other_name(folder: Path, spoil: Spoil) -> None:
    spoil(SQUATS, "name: air squat", "name: air squat\n    also: [squat, Back squat]")
    said = _said(folder)
    assert 'air_squat.also.#2: back squat, counted in reps too, has the name "Back squat"' in said
    assert "also.#1" not in said


def test_unknown_substitute(folder: Path, spoil: Spoil) -> None:
    line = spoil(SQUATS, "    cap: 60\n", "    cap: 60\n    substitutes:\n      air_squt: 20\n") + 2
    assert f"{folder / SQUATS}:{line}: movements.back_squat.substitutes.air_squt: " in _said(folder)
    assert 'Did you mean "air_squat"?' in _said(folder)


def test_a_circle_of_easier_options_is_named(folder: Path) -> None:
    path = folder / SQUATS
    with path.open("a", encoding="utf-8") as file:
        file.write("    easier: [{to: back_squat, how: not easier at all}]\n")
    said = _said(folder)
    assert "easier options run in a circle: back_squat -> air_squat -> back_squat" in said
    assert f"{path}:17: movements.back_squat.easier: " in said


@pytest.mark.parametrize(
    ("file", "text"),
    [
        ("equipment.yaml", "items: []\n"),
        (SQUATS, "movements: []\n"),
        ("drills.yaml", "drills: []\n"),
        ("schemes.yaml", "schemes: []\n"),
    ],
)
def test_an_empty_part(folder: Path, file: str, text: str) -> None:
    (folder / file).write_text(text, encoding="utf-8")
    said = _said(folder)
    assert said.startswith(str(folder))
    assert "the list is empty" in said
    assert "\n" not in said  # nothing of all that names what is no longer there


def test_no_movement_files_and_no_folder(folder: Path) -> None:
    (folder / SQUATS).unlink()
    assert f"{folder / 'movements'}: there are no movements" in _said(folder)
    assert "there is no such folder" in _said(folder / "nowhere")


@pytest.mark.parametrize(
    "text", ["- 1\n", "movements:\n", "movements: {a: 1}\n", "movements: [1, 2]\n", "x\n"]
)
def test_files_of_the_wrong_kind(folder: Path, text: str) -> None:
    (folder / SQUATS).write_text(text, encoding="utf-8")
    assert str(folder / SQUATS) in _said(folder)
