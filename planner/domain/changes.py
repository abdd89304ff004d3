"""A gym with something changed: what is lost, found, opened or closed, without touching its file."""

from __future__ import annotations

import re
from collections.abc import Mapping

from pydantic import Field

from planner.domain.base import Value
from planner.domain.gym import DAYS, MOST_HELD, MOST_KG, Count, Day, Gym, Kg, Kit
from planner.domain.words import spoken


class GymChanges(Value):
    """What is different this week.

    Attributes:
        without: items that are gone altogether.
        counts: new counts by item; of items counted by mass, all masses are cut down alike to the new total.
        mass_counts: new counts of one mass of an item: ``{barbell: {20: 6}}``.
        days: open days, if others than usual.
        class_size: athletes, if another number than usual.
        add_kits: kit versions to add.
        drop_kits: kit versions to drop, by id.
    """

    without: tuple[str, ...] = ()
    counts: dict[str, Count] = Field(default_factory=dict)
    mass_counts: dict[str, dict[Kg, Count]] = Field(default_factory=dict)
    days: tuple[Day, ...] | None = None
    class_size: int | None = None
    add_kits: tuple[Kit, ...] = ()
    drop_kits: tuple[str, ...] = ()

    def words(self) -> str:
        """What is different, in a few words."""
        parts = [f"without {spoken(i)}" for i in self.without]
        parts += [f"{n} x {spoken(i)}" for i, n in self.counts.items()]
        parts += [
            f"{n} x {spoken(i)} of {kg:g} kg" for i, by in self.mass_counts.items() for kg, n in by.items()
        ]
        if self.days is not None:
            parts.append("open " + ", ".join(self.days))
        if self.class_size is not None:
            parts.append(f"{self.class_size} in the class")
        parts += [f"with the kit version {k.name}" for k in self.add_kits]
        parts += [f"without the kit version {spoken(k)}" for k in self.drop_kits]
        return "; ".join(parts) or "nothing"


def changed_gym(gym: Gym, changes: GymChanges) -> Gym:
    """The gym with the changes made.

    Raises:
        ValueError: a change that means nothing, in words for a coach.
    """
    inventory: dict[str, int | dict[float, int]] = dict(gym.inventory)
    for item in (*changes.without, *changes.counts, *changes.mass_counts):
        if item not in inventory:
            raise ValueError(f'the gym has no "{item}"; it has {", ".join(map(spoken, inventory))}')
    for item in changes.without:
        del inventory[item]
    for item, count in changes.counts.items():
        inventory[item] = _cut_down(gym.inventory[item], count)
    for item, by_mass in changes.mass_counts.items():
        held = inventory[item]
        if not isinstance(held, dict):
            say = f"{spoken(item)} is not counted by mass; write {item}=2"
            raise ValueError(say)  # noqa: TRY004  (a coach's value)
        inventory[item] = {**held, **by_mass}
    kits = tuple(k for k in gym.kits if k.id not in changes.drop_kits)
    unknown = set(changes.drop_kits) - {k.id for k in gym.kits}
    if unknown:
        raise ValueError(f'there is no kit version "{min(unknown)}"')
    class_ = gym.class_.of_size(changes.class_size) if changes.class_size else gym.class_
    return Gym.model_validate(
        {
            **gym.model_dump(by_alias=True),
            "inventory": inventory,
            "kits": [k.model_dump() for k in (*kits, *changes.add_kits)],
            "days": list(changes.days or gym.days),
            "hard_days": [d for d in gym.hard_days if d in (changes.days or gym.days)],
            "easy_days": [d for d in gym.easy_days if d in (changes.days or gym.days)],
            "class": class_.model_dump(),
        }
    )


def changes_from_words(
    without: tuple[str, ...], sets: tuple[str, ...], days: str | None, class_size: int | None
) -> GymChanges:
    """Changes as written on a command line.

    Args:
        without: item ids.
        sets: ``rower=2``; ``barbell20=6`` (or ``bar20=6``) for one mass.
        days: ``mon,tue,thu``, or None.
        class_size: or None.

    Raises:
        ValueError: what is wrong, and what would be right.
    """
    counts: dict[str, int] = {}
    masses: dict[str, dict[float, int]] = {}
    for word in sets:
        name, equals, number = word.partition("=")
        if not equals or not re.fullmatch("[0-9]{1,3}", number) or int(number) > MOST_HELD:
            say = f"item=count, like rower=2 or barbell20=6, with a count up to {MOST_HELD}"
            raise ValueError(f'"{word}" is not a change; write {say}')
        item = name.rstrip("0123456789.")
        item, mass = ("barbell" if item == "bar" else item), name[len(item) :]
        if mass:
            if not re.fullmatch(r"[0-9]{1,3}(\.[0-9]{1,2})?", mass) or not 0 < float(mass) <= MOST_KG:
                raise ValueError(f'"{mass}" is not a mass in kg, more than 0 and at most {MOST_KG}')
            masses.setdefault(item, {})[float(mass)] = int(number)
        else:
            counts[item] = int(number)
    open_days = tuple(d.strip().casefold() for d in days.split(",") if d.strip()) if days else ()
    if days is not None and not open_days:
        raise ValueError("no open day is named; write them like mon,tue,thu")
    wrong = [d for d in open_days if d not in DAYS]
    if wrong:
        raise ValueError(f'"{wrong[0]}" is not a day; write {", ".join(DAYS)}')
    return GymChanges(
        without=without,
        counts=counts,
        mass_counts=masses,
        days=tuple(sorted(open_days, key=DAYS.index)) or None,
        class_size=class_size,
    )


def kit_from_words(word: str) -> Kit:
    """A kit version as written on a command line: ``one_dumbbell=dumbbell``, ``garage=barbell,plate,rack``.

    Raises:
        ValueError: what is wrong, and what would be right.
    """
    name, equals, listed = (part.strip() for part in word.partition("="))
    if not equals or not name:
        raise ValueError(f'"{word}" is no kit version; write id=items, like one_dumbbell=dumbbell')
    if not re.fullmatch("[a-z][a-z0-9_]{0,40}", name):
        raise ValueError(f'"{name}" is no id of a kit version; write lower-case letters, like one_dumbbell')
    items = tuple(item.strip() for item in listed.split(",") if item.strip())
    return Kit(id=name, name=spoken(name).capitalize(), contains=items)


def _cut_down(held: int | Mapping[float, int], count: int) -> int | dict[float, int]:
    if isinstance(held, int):
        return count
    before = sum(held.values())
    return {kg: n * count // before if before else 0 for kg, n in held.items()}
