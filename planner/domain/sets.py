"""Work sets, as a coach writes them and as the catalogue's schemes have them: numbers, nothing worked out."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from planner.domain.base import Id, Unit, Value

Number = Annotated[int, Field(ge=1, le=5000)]
Kg = Annotated[float, Field(gt=0, le=500)]
SetForm = Literal["across", "ascending", "waves", "back_off", "cluster", "find"]
AS_FAST_S = 1
"""Seconds of a phase that is as fast as can be, or of a turn without a pause; common practice."""


class WorkSet(Value):
    """One work set.

    Attributes:
        reps: in the unit of ``Sets``; the most, where a range of reps is written.
        least: the fewest of such a range.
        percent: of the 1RM, where that is said.
        reserve: reps in reserve, where that is said.
        kg: what a man and a woman lift, where that is said.
    """

    reps: Number
    least: Number | None = None
    percent: Annotated[int, Field(ge=20, le=110)] | None = None
    reserve: Annotated[int, Field(ge=0, le=8)] | None = None
    kg: tuple[Kg, Kg] | None = None

    @model_validator(mode="after")
    def _from_few_to_many(self) -> WorkSet:
        if self.least is not None and self.least >= self.reps:
            raise ValueError("a range of reps goes from fewer to more, like 8-12")
        return self

    @property
    def text(self) -> str:
        """Its units: "5", "8 to 12"."""
        return str(self.reps) if self.least is None else f"{self.least} to {self.reps}"


class Sets(Value):
    """Work sets as a coach writes them.

    Attributes:
        sets: each work set, in order; with ``find`` the one set that is sought.
        form: the same load on each (across), heavier from set to set (ascending), waves, lighter sets after
            the heavy ones (back_off), short rests inside a set (cluster), or a heavy set to be found (find).
        unit: that ``reps`` counts.
        rest_s: after each set.
        every_s: a set starts every so many seconds, instead of a rest.
        tempo: four digits: seconds down, at the bottom, up (0: as fast as can be), at the top; or empty.
        pause_s: held at the hardest point.
        cluster: reps of each part of a cluster set, with ``rest_s`` between sets and ``within_s`` within.
        within_s: rest between the parts of a cluster.
        people: who share a bar and take turns because it is written so: 1, 2 or 3.
        practice_s: seconds of practice, in the place of sets that are counted; the one set then says nothing.
    """

    sets: tuple[WorkSet, ...] = Field(min_length=1, max_length=30)
    form: SetForm = "across"
    unit: Unit = "reps"
    rest_s: Annotated[int, Field(ge=0, le=900)] | None = None
    every_s: Annotated[int, Field(ge=10, le=900)] | None = None
    tempo: Annotated[str, Field(pattern=r"^([0-9]{4})?$")] = ""
    pause_s: Annotated[int, Field(ge=1, le=20)] | None = None
    cluster: tuple[Number, ...] = ()
    within_s: Annotated[int, Field(ge=1, le=120)] | None = None
    people: int = Field(1, ge=1, le=3)
    practice_s: Annotated[int, Field(ge=30, le=3600)] | None = None

    @model_validator(mode="after")
    def _hangs_together(self) -> Sets:
        if self.rest_s is not None and self.every_s is not None:
            raise ValueError("a set starts on the clock or after a rest, not both")
        if (self.form == "cluster") != bool(self.cluster):
            raise ValueError("a cluster says the reps of its parts, and nothing else does")
        if self.cluster and any(one.reps != sum(self.cluster) for one in self.sets):
            raise ValueError("each set of a cluster has the reps of its parts")
        if self.form == "find" and len(self.sets) != 1:
            raise ValueError("one set is sought")
        if self.form in {"cluster", "find"} and any(one.least for one in self.sets):
            raise ValueError("a range of reps is for sets that are done as they are written")
        said = self.model_dump(exclude_defaults=True, exclude={"practice_s"})
        if self.practice_s is not None and said != {"sets": ({"reps": 1},)}:
            raise ValueError("practice has minutes, and neither sets nor rests")
        return self

    @property
    def alike(self) -> bool:
        """Whether every work set is the same."""
        return all(one == self.sets[0] for one in self.sets)

    @property
    def most(self) -> int:
        """Units of the longest work set."""
        return max(one.reps for one in self.sets)

    @property
    def total(self) -> int:
        """Units of all work sets together."""
        return sum(one.reps for one in self.sets)

    @property
    def as_long(self) -> bool:
        """Whether every work set has as many units."""
        return len({one.text for one in self.sets}) == 1

    @property
    def run(self) -> str:
        """The units of each set in a row: "3-2-1-3-2-1"; with ranges among them "5, 8 to 12"."""
        return (", " if any(one.least for one in self.sets) else "-").join(one.text for one in self.sets)

    @property
    def tempo_seconds(self) -> int | None:
        """Seconds of a rep at its tempo; None where none is said."""
        if not self.tempo:
            return None
        down, bottom, up, top = map(int, self.tempo)
        return down + bottom + (up or AS_FAST_S) + top

    @property
    def within_seconds(self) -> int:
        """Rest inside each set, seconds: between the parts of a cluster."""
        return max(0, len(self.cluster) - 1) * (self.within_s or 0)


class ComplexPart(Value):
    """One movement of a complex, and its reps within one rep of the set."""

    movement: Id
    reps: Number = 1
