"""What a coach has fixed, ruled out, asked for, or overruled for one week."""

from __future__ import annotations

from typing import Literal

from pydantic import Field, model_validator

from planner.domain.base import Id, Value
from planner.domain.catalogue import DomainName
from planner.domain.groups import PatternOrGroup, day_words, is_group, work_words
from planner.domain.gym import DAY_NAMES, Day
from planner.domain.plan import SessionPlan
from planner.domain.words import spoken

PieceName = Literal["strength", "conditioning"]
PIECES: tuple[PieceName, ...] = ("strength", "conditioning")
Part = PieceName | Literal["day", "movement", "property"]


class Lock(Value):
    """Something that stays as it is.

    Attributes:
        day: which day.
        part: the whole day, one piece, one movement wherever it is on the day, or a property of the day.
        movement: with ``part: movement``.
        piece: with ``part: movement``: where on the day; anywhere if None.
        pattern: with ``part: property``: a pattern, of which the day keeps some work in any piece; or a
            group, after which the day is named ("stays a pull day"): its main lift, of which every day has
            one, stays one that is counted as a pattern of the group.
        domain: with ``part: property``: the conditioning stays short, medium or long.
        hardness: with ``part: property``: the day stays hard or easy.
        made_by: the coach, or a merge or a question on the way to its answer; only words differ.
    """

    day: Day
    part: Part
    movement: Id | None = None
    piece: PieceName | None = None
    pattern: PatternOrGroup | None = None
    domain: DomainName | None = None
    hardness: Literal["hard", "easy"] | None = None
    made_by: Literal["coach", "merge", "question"] = "coach"

    @model_validator(mode="after")
    def _hangs_together(self) -> Lock:
        if (self.part == "movement") != (self.movement is not None):
            raise ValueError("a locked movement needs its name, and only that")
        properties = [p for p in (self.pattern, self.domain, self.hardness) if p is not None]
        if (self.part == "property") != (len(properties) == 1):
            raise ValueError("a locked property is one of pattern, domain, hardness")
        return self

    @property
    def of_pieces(self) -> bool:
        """Whether it keeps a piece, or all of a day, line by line."""
        return self.part == "day" or self.part in PIECES

    def words(self) -> str:
        """The lock as a coach says it."""
        day = DAY_NAMES[self.day]
        if self.part == "movement":
            movement, where = spoken(self.movement or ""), f" in the {self.piece}" if self.piece else ""
            if self.made_by == "question":
                return f"{movement} on {day}{where}, as asked here"
            return f"{day} is locked with {movement}{where}"
        if self.part == "property":
            return f"{day} {self._property_words()}"
        return f"{self._what()} is {'taken as it is' if self.made_by == 'merge' else 'locked'}"

    def give_up(self) -> str:
        """What giving it up means; empty for what a question asks, without which it is not the question."""
        if self.made_by == "question":
            return ""
        if self.made_by == "merge":
            return f"do not take {DAY_NAMES[self.day]}"
        if self.part in {"movement", "property"}:
            return f"undo: {self.words()}"
        return f"unlock {self._what()}"

    def _what(self) -> str:
        day = DAY_NAMES[self.day]
        return day if self.part == "day" else f"{day}'s {self.part}"

    def _property_words(self) -> str:
        if self.pattern:
            named_after = is_group(self.pattern)
            return f"stays {day_words(self.pattern)}" if named_after else f"keeps {work_words(self.pattern)}"
        return f"stays {self.domain} in the conditioning" if self.domain else f"stays {self.hardness}"


class Ban(Value):
    """A movement that is not to be used, on one day or all week."""

    movement: Id
    day: Day | None = None

    def words(self) -> str:
        """The ban as a coach says it."""
        return f"no {spoken(self.movement)} " + (f"on {DAY_NAMES[self.day]}" if self.day else "this week")


class Wish(Value):
    """A movement, or work of a pattern or a group of patterns, that should come; or a hard or easy day.

    Attributes:
        movement: in any piece on the gym floor.
        pattern: a pattern or a group: some work of it, in any piece.
        hardness: of ``day``.
        day: which; some time in the week if None.
    """

    movement: Id | None = None
    pattern: PatternOrGroup | None = None
    hardness: Literal["hard", "easy"] | None = None
    day: Day | None = None

    @model_validator(mode="after")
    def _one_thing(self) -> Wish:
        if len([x for x in (self.movement, self.pattern, self.hardness) if x is not None]) != 1:
            raise ValueError("ask for one thing: a movement, a pattern, or a hard or easy day")
        if self.hardness and self.day is None:
            raise ValueError("say which day should be hard or easy")
        return self

    def words(self) -> str:
        """The wish as a coach says it."""
        if self.hardness and self.day:
            return f"{DAY_NAMES[self.day]} {self.hardness}"
        what = work_words(self.pattern) if self.pattern else spoken(self.movement or "")
        return what + (f" on {DAY_NAMES[self.day]}" if self.day else " some time")


class Overrule(Value):
    """A rule that does not count in one place, this week only.

    Attributes:
        rule: its id.
        place: as the rule report has it: a day, ``week``, ...
        reason: shown on the week.
        most: units of breach that it lets be, all kit versions alike; any number if None.
    """

    rule: str
    place: str
    reason: str = Field(min_length=3)
    most: int | None = Field(None, ge=0)


class Requests(Value):
    """All of it, for one week.

    Attributes:
        locks: what stays.
        bans: what does not come.
        wishes: what should come, if nothing more important is in the way.
        overrules: rules that do not count in one place.
        by_hand: sessions that the coach wrote; each is locked as a whole day.
    """

    locks: tuple[Lock, ...] = ()
    bans: tuple[Ban, ...] = ()
    wishes: tuple[Wish, ...] = ()
    overrules: tuple[Overrule, ...] = ()
    by_hand: tuple[SessionPlan, ...] = ()
