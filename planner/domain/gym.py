"""One gym: its days, class, equipment, kit versions and reference athletes."""

from __future__ import annotations

import re
from typing import Annotated, Any, Literal, get_args

from pydantic import Field, field_validator, model_validator

from planner.domain.base import Id, Name, Value
from planner.domain.postures import Body

Day = Literal["mon", "tue", "wed", "thu", "fri", "sat", "sun"]
DAYS: tuple[Day, ...] = get_args(Day)
DAY_NAMES: dict[Day, str] = dict(
    zip(DAYS, ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"), strict=True)
)
TIME_OF_DAY = re.compile("(?:[01][0-9]|2[0-3]):[0-5][0-9]")
MOST_KITS, MOST_MASSES = 12, 40
"""So many can be solved and printed; no gym that we know of comes near."""
MOST_HELD, MOST_KG = 500, 200
Count = Annotated[int, Field(ge=0, le=MOST_HELD)]
Kg = Annotated[float, Field(gt=0, le=MOST_KG)]


class LoadMix(Value):
    """How many of the class take which reference athlete's load."""

    man: Annotated[int, Field(ge=0, le=60)]
    woman: Annotated[int, Field(ge=0, le=60)]


People = Annotated[int, Field(ge=1, le=60)]


class ClassShape(Value):
    """The class.

    Attributes:
        size: athletes; where it is given by day, the most.
        by_day: athletes by day, where that is given: ``size: {mon: 12, sat: 16}`` in the file.
        mix: how many take the man's and the woman's load; half and half where it is not said.
        minutes: from the first word to the last.
        skill: the highest skill of movement that most of the class has: 1 to 3.
        start: local time, "18:00".
        turns: athletes who take turns at one rack, bench or bar in the strength piece.
    """

    size: People
    by_day: dict[Day, People] = Field(default_factory=dict)
    mix: LoadMix | None = None
    minutes: int = Field(ge=15, le=120)
    skill: int = Field(3, ge=1, le=3)
    turns: int = Field(3, ge=1, le=6)
    start: str = Field("18:00", pattern=r"^[0-9]{2}:[0-9]{2}$")

    @model_validator(mode="before")
    @classmethod
    def _size_by_day(cls, written: Any) -> Any:
        size = written.get("size") if isinstance(written, dict) else None
        if not isinstance(size, dict) or not size or not all(isinstance(n, int) for n in size.values()):
            return written
        return {**written, "size": max(size.values()), "by_day": size}

    def on(self, day: Day) -> int:
        """Athletes on a day."""
        return self.by_day.get(day, self.size)

    @field_validator("start", mode="before")
    @classmethod
    def _time_of_day(cls, written: object) -> object:
        if not isinstance(written, str) or not TIME_OF_DAY.fullmatch(written.strip()):
            raise ValueError('must be a time of day from 00:00 to 23:59, like "18:00"')
        return written

    @model_validator(mode="after")
    def _adds_up(self) -> ClassShape:
        if self.mix is not None and self.mix.man + self.mix.woman != self.size:
            there = self.mix.man + self.mix.woman
            raise ValueError(f"mix adds up to {there}, and the class is {self.size}: make them the same")
        return self

    @property
    def people(self) -> tuple[tuple[int, int], ...]:
        """How many take the man's and the woman's load; where halves do not divide, both roundings."""
        if self.mix is not None:
            return ((self.mix.man, self.mix.woman),)
        less, more = self.size // 2, self.size - self.size // 2
        return ((more, less), (less, more)) if less != more else ((more, less),)

    def of_size(self, size: int) -> ClassShape:
        """The same class with another number of people on every day, in the same mix as nearly as can be."""
        man = 0 if self.mix is None else round(size * self.mix.man / self.size)
        mix = None if self.mix is None else {"man": man, "woman": size - man}
        return ClassShape.model_validate({**self.model_dump(), "size": size, "by_day": {}, "mix": mix})


class Kit(Value):
    """A set of equipment that some members have: a kit version of every session.

    Attributes:
        id: stable name.
        name: for the sheet.
        contains: items by id; ``everything`` alone means the whole gym.
        kg: for loaded items that are not a bar: the mass at hand for men and women.
    """

    id: Id
    name: Name
    contains: tuple[str, ...] = ()
    kg: dict[Id, tuple[Kg, Kg]] = Field(default_factory=dict)


class Athlete(Value):
    """A reference athlete, whose loads are printed.

    Attributes:
        id: ``man`` or ``woman``.
        name: for the sheet.
        bar_kg: mass of the bar they use.
        lifts: known 1RM in kg by reference lift.
        body_kg: body mass, kg; that of ``USUAL_BODIES`` unless said.
        stature_m: height, metres; as there unless said.
    """

    id: Literal["man", "woman"]
    name: Name
    bar_kg: Kg
    lifts: dict[Id, Kg]
    body_kg: Annotated[float, Field(ge=30, le=200)] | None = None
    stature_m: Annotated[float, Field(ge=1.2, le=2.3)] | None = None

    @property
    def body(self) -> Body:
        """Body mass and stature, as said or usual."""
        usual = USUAL_BODIES[self.id]
        return Body(self.body_kg or usual.mass_kg, self.stature_m or usual.stature_m)


def athlete_index(athlete: Athlete) -> int:
    """Place of an athlete in (man, woman)."""
    return 0 if athlete.id == "man" else 1


USUAL_BODIES = {"man": Body(80, 1.78), "woman": Body(65, 1.65)}
"""Bodies of reference: his are those of the worked examples in the reference folder; hers are common
practice."""


class Gym(Value):
    """A gym folder's ``gym.yaml``.

    Attributes:
        name: of the gym.
        invented: whether it is a demo.
        days: open days in order.
        timezone: IANA name, for the calendar.
        class_: the class.
        inventory: counts by item; by mass in kg for items counted by mass.
        collars_kg: mass of the pair of collars.
        kits: kit versions, the gym floor first.
        athletes: the man and the woman of reference.
        hard_days: days to prefer hard.
        easy_days: days to prefer easy.
    """

    name: Name
    invented: bool = False
    days: tuple[Day, ...] = Field(min_length=1)
    timezone: str = "UTC"
    class_: ClassShape = Field(alias="class")
    inventory: dict[Id, Count | Annotated[dict[Kg, Count], Field(max_length=MOST_MASSES)]]
    collars_kg: float = Field(0, ge=0, le=10)
    kits: tuple[Kit, ...] = Field(min_length=1, max_length=MOST_KITS)
    athletes: tuple[Athlete, ...] = Field(min_length=2, max_length=2)
    hard_days: tuple[Day, ...] = ()
    easy_days: tuple[Day, ...] = ()

    @model_validator(mode="after")
    def _hangs_together(self) -> Gym:
        if len({k.id for k in self.kits}) != len(self.kits):
            raise ValueError("two kit versions have the same id")
        if list(self.days) != sorted(set(self.days), key=DAYS.index):
            raise ValueError("days must be in the week's order, each once")
        if [a.id for a in self.athletes] != ["man", "woman"]:
            raise ValueError("athletes must be the man and then the woman of reference")
        by_day = self.class_.by_day
        if by_day and (unsaid := [day for day in self.days if day not in by_day]):
            raise ValueError(f"class.size is given by day, and says nothing of {', '.join(unsaid)}")
        if self.kits[0].contains != ("everything",):
            raise ValueError("the first kit version must be the gym floor: contains: [everything]")
        return self

    def on(self, day: Day) -> Gym:
        """The gym with the class of a day."""
        size = self.class_.on(day)
        return (
            self
            if size == self.class_.size
            else self.model_copy(update={"class_": self.class_.of_size(size)})
        )

    def count(self, item: str) -> int:
        """How many of an item the gym has, all masses together."""
        held = self.inventory.get(item, 0)
        return sum(held.values()) if isinstance(held, dict) else held
