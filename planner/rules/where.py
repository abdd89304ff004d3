"""The one selector that every kind of rule uses to say what it is about."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import cached_property
from typing import Annotated, Any, Literal

from pydantic import AfterValidator, BeforeValidator, Field, model_validator

from planner.domain.base import Id, Unit, Value
from planner.domain.catalogue import DomainName, Goal, Modality, SetFamily, Shape, Sides, Tier
from planner.domain.groups import GROUPS, PatternOrGroup, group_spoken, is_group, patterns_of
from planner.domain.line import EXPOSURE_PERCENT, LineFacts
from planner.domain.timing import Hardness, hardness_of
from planner.domain.words import spoken

PieceName = Literal["main", "assistance", "strength", "conditioning"]


def _listed(value: Any) -> Any:
    """Lets a coach write ``load: heavy`` for ``load: [heavy]``."""
    return value if isinstance(value, (list, tuple)) else (value,)


def _each_pattern(names: tuple[PatternOrGroup, ...]) -> tuple[PatternOrGroup, ...]:
    """Patterns, with those of a group in its place; none twice."""
    return tuple(dict.fromkeys(p for name in names for p in patterns_of(name)))


_Patterns = Annotated[tuple[PatternOrGroup, ...], BeforeValidator(_listed), AfterValidator(_each_pattern)]


class Where(Value):
    """What a rule is about: lines of a session, or whole sessions. All that is given must hold.

    Attributes:
        piece: main, assistance, strength (both), conditioning.
        movement: any of these movements.
        pattern: any of these patterns, with at least ``share_at_least`` percent of the movement. A group
            stands for its patterns: push and pull for the horizontal and the vertical one, upper for all
            four, legs (or lower) for squat, hinge and lunge.
        share_at_least: percent; 30 unless given.
        main_pattern: counted as any of these patterns.
        load: any of open, light, moderate, heavy.
        modality: any of loaded, bodyweight, cyclic.
        item: needs any of these items.
        skill_at_least: 1 to 3.
        grip_at_least: 1 to 2; so ``overhead_at_least`` and ``back_at_least``.
        contacts: true for movements with landing contacts.
        eccentric: true for movements with deep or unaccustomed lengthening work.
        sides: any of both, alternating, per_side.
        goal: schemes of any of these goals; strength lines only.
        scheme: any of these schemes.
        sets: schemes whose sets are any of these: across, ascending, waves, back_off, cluster, find (a heavy
            set is looked for), tempo, paused, on_the_clock, complex.
        unit: counted in any of these.
        format: sessions whose conditioning runs so.
        domain: sessions whose conditioning is short, medium or long.
        hardness: sessions expected to be easy, medium or hard.
        movements: sessions with as many movements in the conditioning.
        heats: sessions whose conditioning runs in so many heats.
    """

    piece: Annotated[tuple[PieceName, ...], BeforeValidator(_listed)] = ()
    movement: Annotated[tuple[Id, ...], BeforeValidator(_listed)] = ()
    pattern: _Patterns = ()
    share_at_least: int = Field(EXPOSURE_PERCENT, ge=1, le=100)
    main_pattern: _Patterns = ()
    load: Annotated[tuple[Tier, ...], BeforeValidator(_listed)] = ()
    modality: Annotated[tuple[Modality, ...], BeforeValidator(_listed)] = ()
    item: Annotated[tuple[Id, ...], BeforeValidator(_listed)] = ()
    skill_at_least: int = Field(0, ge=0, le=3)
    grip_at_least: int = Field(0, ge=0, le=2)
    overhead_at_least: int = Field(0, ge=0, le=2)
    back_at_least: int = Field(0, ge=0, le=2)
    contacts: bool | None = None
    eccentric: bool | None = None
    sides: Annotated[tuple[Sides, ...], BeforeValidator(_listed)] = ()
    goal: Annotated[tuple[Goal, ...], BeforeValidator(_listed)] = ()
    scheme: Annotated[tuple[Id, ...], BeforeValidator(_listed)] = ()
    sets: Annotated[tuple[SetFamily, ...], BeforeValidator(_listed)] = ()
    unit: Annotated[tuple[Unit, ...], BeforeValidator(_listed)] = ()
    format: Annotated[tuple[Id, ...], BeforeValidator(_listed)] = ()
    domain: Annotated[tuple[DomainName, ...], BeforeValidator(_listed)] = ()
    hardness: Annotated[tuple[Hardness, ...], BeforeValidator(_listed)] = ()
    movements: Annotated[tuple[int, ...], BeforeValidator(_listed)] = ()
    heats: Annotated[tuple[int, ...], BeforeValidator(_listed)] = ()

    @model_validator(mode="after")
    def _one_subject(self) -> Where:
        if self.about_sessions and self.about_lines:
            raise ValueError(
                "a selector is about lines (piece, pattern, load, ...) or about sessions "
                "(format, domain, hardness, movements), not both; use `together` to join them"
            )
        if self.hardness and (self.format or self.domain or self.movements or self.heats):
            raise ValueError("hardness stands alone in a selector")
        return self

    @classmethod
    def kept_by_lock(cls, name: PatternOrGroup) -> Where:
        """What a day locked to a pattern or a group keeps: work of the pattern; a main lift of the group."""
        return cls(piece=("main",), main_pattern=(name,)) if is_group(name) else cls(pattern=(name,))

    @property
    def about_sessions(self) -> bool:
        """Whether it selects whole sessions."""
        return bool(self.format or self.domain or self.hardness or self.movements or self.heats)

    @property
    def about_lines(self) -> bool:
        """Whether it selects lines by anything at all."""
        session_keys = {"format", "domain", "hardness", "movements", "heats", "share_at_least"}
        return any(
            getattr(self, name) != field.get_default()
            for name, field in type(self).model_fields.items()
            if name not in session_keys
        )

    def matches(self, line: LineFacts) -> bool:
        """Whether a line is meant."""
        return all(check(line) for check in self.line_checks)

    def select(self, lines: Iterable[LineFacts]) -> list[LineFacts]:
        """Those of some lines that are meant, in their order."""
        found = list(lines)
        for check in self.line_checks:
            found = [x for x in found if check(x)]
        return found

    @cached_property
    def line_checks(self) -> tuple[Callable[[LineFacts], bool], ...]:
        """A check for each condition on lines that is given; kept, as rules ask it of every line there is."""
        pieces = {*self.piece, *(("main", "assistance") if "strength" in self.piece else ())}
        least = self.share_at_least
        every: tuple[tuple[object, Callable[[LineFacts], bool]], ...] = (
            (self.movement, lambda x: x.movement.id in self.movement),
            (self.main_pattern, lambda x: x.movement.main_pattern in self.main_pattern),
            (self.piece, lambda x: x.piece in pieces),
            (self.load, lambda x: x.tier in self.load),
            (self.pattern, lambda x: any(x.movement.share_of(p) >= least for p in self.pattern)),
            (self.modality, lambda x: x.movement.modality in self.modality),
            (self.item, lambda x: any(i in self.item for i in x.needs)),
            (self.skill_at_least, lambda x: x.movement.skill >= self.skill_at_least),
            (self.grip_at_least, lambda x: x.movement.takes.grip >= self.grip_at_least),
            (self.overhead_at_least, lambda x: x.movement.takes.overhead >= self.overhead_at_least),
            (self.back_at_least, lambda x: x.movement.takes.back >= self.back_at_least),
            (self.contacts is not None, lambda x: self.contacts == (x.movement.takes.contacts > 0)),
            (self.eccentric is not None, lambda x: self.eccentric == x.movement.eccentric),
            (self.sides, lambda x: x.movement.sides in self.sides),
            (self.unit, lambda x: x.movement.unit in self.unit),
            (self.goal, lambda x: x.scheme is not None and x.scheme.goal in self.goal),
            (self.scheme, lambda x: x.scheme is not None and x.scheme.id in self.scheme),
            (self.sets, lambda x: x.scheme is not None and x.scheme.family in self.sets),
        )
        return tuple(check for given, check in every if given)

    def matches_session(self, shape: Shape | None, rating: int) -> bool:
        """Whether a session is meant: its conditioning's shape, or its expected rating."""
        if shape is None:
            asks = self.format or self.domain or self.movements or self.heats
            return not asks and bool(self.hardness) and hardness_of(rating) in self.hardness
        return (
            (not self.format or shape.format in self.format)
            and (not self.domain or shape.domain in self.domain)
            and (not self.movements or shape.movements in self.movements)
            and (not self.heats or shape.heats in self.heats)
            and (not self.hardness or hardness_of(rating) in self.hardness)
        )

    def narrowed(self, **more: Any) -> Where:
        """A copy with more conditions; used where a rule is applied to each pattern or movement."""
        return self.model_copy(update=more)

    def words(self) -> str:
        """The selector as a coach would say it: "heavy squat work in the main lift"."""
        if self.about_sessions:
            return self._session_words()
        named = [*_grouped(self.pattern), *_grouped(self.main_pattern), *map(spoken, self.movement)]
        lead = [" or ".join("unloaded" if t == "open" else t for t in self.load), " or ".join(self.modality)]
        noun = _listed_words(named)
        text = [*(x for x in lead if x), f"{noun} work" if noun else "work", *self._demands()]
        if self.piece:
            text.append("in the " + " or ".join(_PIECE_WORDS[p] for p in self.piece))
        return " ".join(text)

    def _demands(self) -> list[str]:
        """What the lines ask of people and equipment."""
        levels = (
            (self.grip_at_least, "on the grip"),
            (self.overhead_at_least, "on the shoulders overhead"),
            (self.back_at_least, "on the lower back"),
        )
        said = [("hard " if level > 1 else "") + what for level, what in levels if level]
        if self.skill_at_least:
            said.append(f"of skill {self.skill_at_least} or more")
        said += [words for flag, words in ((self.contacts, "with landings"),) if flag]
        said += [words for flag, words in ((self.eccentric, "with deep lengthening"),) if flag]
        if self.sides:
            said.append("on one side at a time" if "both" not in self.sides else "on both sides")
        if self.item:
            said.append("with a " + " or ".join(spoken(i) for i in self.item))
        if self.unit:
            said.append("counted in " + " or ".join(self.unit))
        if self.sets:
            said.append(" or ".join(_SETS_WORDS[s] for s in self.sets))
        if self.goal or self.scheme:
            said.append("for " + " or ".join(spoken(g) for g in (*self.goal, *self.scheme)))
        return said

    def _session_words(self) -> str:
        if self.hardness:
            return " or ".join(self.hardness) + " days"
        parts = []
        if self.domain:
            parts.append(" or ".join("middle" if d == "medium" else d for d in self.domain))
        parts.append("conditioning")
        if self.format:
            parts.append("as " + " or ".join(spoken(f) for f in self.format))
        if self.movements:
            parts.append("of " + " or ".join(map(str, self.movements)) + " movements")
        if self.heats:
            parts.append("in " + " or ".join(map(str, self.heats)) + " heats")
        return " ".join(parts)


_PIECE_WORDS: dict[PieceName, str] = {
    "main": "main lift",
    "assistance": "assistance",
    "strength": "strength piece",
    "conditioning": "conditioning",
}


_SETS_WORDS: dict[SetFamily, str] = {
    "across": "in sets across",
    "ascending": "in sets that climb",
    "waves": "in waves",
    "back_off": "with lighter sets after",
    "cluster": "in clusters",
    "find": "up to a heavy set",
    "tempo": "at a tempo",
    "paused": "with pauses",
    "on_the_clock": "on the clock",
    "complex": "as a complex",
}
FEW_NAMES = 6


def _grouped(patterns: tuple[PatternOrGroup, ...]) -> list[str]:
    """Patterns in words; the word for all of them where they are a group's."""
    group = [name for name, those in GROUPS.items() if set(those) == set(patterns)]
    return [group_spoken(group[-1])] if group else [spoken(name) for name in patterns]


def _listed_words(names: list[str]) -> str:
    """Names joined; a long list is cut short."""
    if len(names) > FEW_NAMES:
        return ", ".join(names[:FEW_NAMES]) + f" or {len(names) - FEW_NAMES} more"
    return " or ".join(names)
