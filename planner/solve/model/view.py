"""Decision literals of one kit version, and the questions that rules ask of them.

A session's lines are literals; a dose is a literal under its line; the shape of the conditioning is one of
many. What several rules ask for ("any heavy squat on Tuesday") is made once and shared.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any, Literal

from ortools.sat.python import cp_model

from planner.domain import clock
from planner.domain.catalogue import Shape
from planner.domain.gym import Day
from planner.domain.line import LineFacts
from planner.domain.timing import (
    EASY_TO,
    HARD_FROM,
    hardness_of,
    turning_tenths,
    version_window,
    walking_tenths,
)
from planner.problem.candidates import DoseChoice
from planner.problem.families import Family, Reach
from planner.problem.given import GivenDay
from planner.rules.base import Amount, Expr, PieceTime, TurnWork
from planner.rules.where import Where

MOST_RATING = 10
"""Of the scale."""


@dataclass(frozen=True, slots=True, eq=False)
class DoseVar:
    """A dose and the literal that it is written."""

    choice: DoseChoice
    literal: Expr


@dataclass(frozen=True, slots=True, eq=False)
class LineVar:
    """A line, the literal that it is there, and its doses."""

    facts: LineFacts
    literal: Expr
    doses: tuple[DoseVar, ...]

    @property
    def units(self) -> int:
        """Of a strength line, which has the one dose of its scheme: all sets."""
        return self.doses[0].choice.units


@dataclass(slots=True)
class DayVars:
    """One day.

    Attributes:
        day: which.
        lines: that could be there, or are.
        shapes: of the conditioning, with their literals.
        families: that the shapes stand for, where doses are still open.
        given: the day as the coach wrote it, where she did.
    """

    day: Day
    lines: list[LineVar] = field(default_factory=list)
    shapes: list[tuple[Shape, Expr]] = field(default_factory=list)
    families: tuple[Family, ...] = ()
    given: GivenDay | None = None

    def piece(self, *pieces: str) -> list[LineVar]:
        """Lines of some pieces."""
        return [x for x in self.lines if x.facts.piece in pieces]


class ModelView:
    """Answers rules' questions; see ``planner.rules.base.View``."""

    def __init__(
        self,
        model: cp_model.CpModel,
        days: dict[Day, DayVars],
        *,
        floor: bool = True,
        frame: clock.ClassFrame = clock.USUAL,
    ) -> None:
        self.model, self.days, self._floor, self._frame = model, days, floor, frame.minutes
        self._matching: dict[tuple[Day, Where], list[LineVar]] = {}
        self._literals: dict[tuple[Day, Where], Expr] = {}
        self._units: dict[tuple[Day, Where, str], Amount] = {}
        self._hardness: dict[tuple[Day, str], Expr] = {}
        self._matched: dict[Where, list[LineFacts]] = {}
        self._by_facts = {day: {x.facts: x for x in v.lines} for day, v in days.items()}
        self._every = list(dict.fromkeys(facts for here in self._by_facts.values() for facts in here))
        self._by_movement: dict[str, list[LineFacts]] = {}
        for facts in self._every:
            self._by_movement.setdefault(facts.movement.id, []).append(facts)

    # Lines ------------------------------------------------------------------------------------------

    def line_vars(self, day: Day, where: Where) -> list[LineVar]:
        """Lines that match on a day."""
        key = (day, where)
        if key not in self._matching:
            here = self._by_facts[day]
            self._matching[key] = [here[facts] for facts in self._hits(where) if facts in here]
        return self._matching[key]

    def _hits(self, where: Where) -> list[LineFacts]:
        """Lines of any day that match."""
        if where not in self._matched:
            named = [x for name in where.movement for x in self._by_movement.get(name, ())]
            self._matched[where] = where.select(named if where.movement else self._every)
        return self._matched[where]

    def matching(self, day: Day, where: Where) -> list[tuple[LineFacts, Expr]]:
        """Each matching line and its literal."""
        return [(x.facts, x.literal) for x in self.line_vars(day, where)]

    def shapes(self, day: Day) -> list[tuple[Shape, Expr]]:
        """Each shape and its literal."""
        return self.days[day].shapes

    def lines(self, day: Day, where: Where) -> Amount:
        """How many lines match on a day."""
        found = self.line_vars(day, where)
        return Amount.exactly(total(x.literal for x in found), min(len(found), self._most_lines(day)))

    def literal(self, day: Day, where: Where) -> Expr:
        """1 where any line, or the session, matches."""
        key = (day, where)
        if key not in self._literals:
            self._literals[key] = (
                self._session(day, where) if where.about_sessions else self._any_line(day, where)
            )
        return self._literals[key]

    def _any_line(self, day: Day, where: Where) -> Expr:
        found = self.line_vars(day, where)
        if self.days[day].given is not None:
            return (
                min(1, len(found)) if self._floor else self.any_of([x.literal for x in found], f"any_{day}")
            )
        pieces = {x.facts.piece for x in found}
        if len(pieces) <= 1 and "conditioning" not in pieces:
            return total(x.literal for x in found)  # at most one main lift and one assistance a day
        return self.any_of([x.literal for x in found], f"any_{day}")

    def any_of(self, literals: list[Expr], name: str) -> Expr:
        """1 where any literal is; exact both ways."""
        if len(literals) <= 1:
            return literals[0] if literals else 0
        made = self.model.new_bool_var(name)
        self.model.add_bool_or([*literals, ~made])
        self.model.add_bool_and(~x for x in literals).only_enforce_if(~made)
        return made

    def all_of(self, literals: list[Expr], name: str) -> Expr:
        """1 where all literals are; exact both ways."""
        made = self.model.new_bool_var(name)
        self.model.add_bool_or([made, *(~x for x in literals)])
        self.model.add_bool_and(literals).only_enforce_if(made)
        return made

    def items(self, day: Day, where: Where, kind: Literal["implements", "large"]) -> Amount:
        """Distinct loads in the hands, or large stations, that the matching lines need."""
        by_item: dict[str | tuple[str, int], list[Expr]] = {}
        for x in self.line_vars(day, where):
            named = x.facts.large if kind == "large" else ((x.facts.load,) if x.facts.load else ())
            for item in named:
                by_item.setdefault(item, []).append(x.literal)
        used = [self.any_of(literals, f"{day}_{item}") for item, literals in by_item.items()]
        return Amount.exactly(total(used), len(used))

    # Amounts ----------------------------------------------------------------------------------------

    def units(self, day: Day, where: Where, kind: Literal["units", "contacts", "sets"]) -> Amount:
        """Units, landing contacts or sets of the matching lines over the day."""
        key = (day, where, kind)
        if key not in self._units:
            strength, conditioning = [], []
            for x in self.line_vars(day, where):
                each = x.facts.movement.takes.contacts if kind == "contacts" else 1
                if x.facts.scheme is not None:
                    strength.append((x.literal, x.facts.scheme.sets if kind == "sets" else x.units * each))
                elif kind != "sets" and each:
                    conditioning.append((x, each))
            fixed = Amount.exactly(weighted(strength), sum(amount for _, amount in strength))
            self._units[key] = self._with_conditioning(day, fixed, conditioning) if conditioning else fixed
        return self._units[key]

    def _with_conditioning(self, day: Day, fixed: Amount, lines: list[tuple[LineVar, int]]) -> Amount:
        """What the strength piece has, and units of conditioning lines over all rounds, times some factor."""
        one_round = weighted([(d.literal, d.choice.units * each) for x, each in lines for d in x.doses])
        most_round = sum(max((d.choice.units for d in x.doses), default=0) * each for x, each in lines)
        by_rounds: dict[int, list[Expr]] = {}
        for shape, literal in self.days[day].shapes:
            by_rounds.setdefault(shape.rounds, []).append(literal)
        upper = fixed.upper + max(by_rounds) * most_round
        if len(by_rounds) == 1:
            return Amount.exactly(fixed.least + max(by_rounds) * one_round, upper)
        amount = self.model.new_int_var(0, upper, f"units_{day}")
        for times, literals in sorted(by_rounds.items()):
            chosen = self.any_of(literals, f"{day}_rounds_{times}")
            self.model.add(amount == fixed.least + times * one_round).only_enforce_if(chosen)
        return Amount.exactly(amount, upper)

    # Sessions ---------------------------------------------------------------------------------------

    def effort(self, day: Day) -> Expr:
        """What main lift and conditioning add to the session's rating."""
        mains = [(x.literal, x.facts.scheme.effort) for x in self.days[day].piece("main") if x.facts.scheme]
        return weighted([*mains, *((literal, s.effort) for s, literal in self.days[day].shapes)])

    def _session(self, day: Day, where: Where) -> Expr:
        if where.hardness:
            return total(self.hard_or_easy(day, h) for h in where.hardness)
        return total(lit for s, lit in self.days[day].shapes if where.matches_session(s, 0))

    def hard_or_easy(self, day: Day, hardness: str) -> Expr:
        """1 where the day is hard (or easy, or medium) by its expected rating."""
        given = self.days[day].given
        if given is not None:
            return int(hardness_of(given.rating) == hardness)
        if hardness == "medium":
            return 1 - self.hard_or_easy(day, "hard") - self.hard_or_easy(day, "easy")
        key = (day, hardness)
        if key not in self._hardness:
            made, effort = self.model.new_bool_var(f"{hardness}_{day}"), self.effort(day)
            if hardness == "hard":
                self.model.add(effort >= HARD_FROM - 1).only_enforce_if(made)
                self.model.add(effort <= HARD_FROM - 2).only_enforce_if(~made)
            else:
                self.model.add(effort <= EASY_TO - 1).only_enforce_if(made)
                self.model.add(effort >= EASY_TO).only_enforce_if(~made)
            self._hardness[key] = made
        return self._hardness[key]

    def rating(self, day: Day) -> tuple[Expr, int]:
        """Expected rating of the session, and the most there can be."""
        given = self.days[day].given
        return (given.rating if given else self.effort(day) + 1), MOST_RATING

    def clock(self, day: Day, *, one_heat: bool = False) -> tuple[Expr, int]:
        """Minutes of the class; with ``one_heat`` only those in which an athlete has something to do."""
        given = self.days[day].given
        if given is not None:
            return given.minutes, given.minutes
        mains = [
            (x.literal, clock.strength_minutes(x.facts.scheme, assistance=False, turns=x.facts.turns))
            for x in self.days[day].piece("main")
        ]
        beside = [(x.literal, clock.ASSISTANCE) for x in self.days[day].piece("assistance")]
        shapes = [(x, s.cap_minutes // (s.heats if one_heat else 1)) for s, x in self.days[day].shapes]
        longest = max((m for _, m in mains), default=0), max((m for _, m in shapes), default=0)
        most = self._frame + clock.ASSISTANCE + sum(longest)
        return weighted([*mains, *beside, *shapes]) + self._frame, most

    def paces(self, day: Day) -> list[PieceTime]:
        """Tenths of a round, with its window by the shape; exact, since the doses are decisions here."""
        found = [x for x in self.days[day].piece("conditioning") if not x.facts.piece_number]
        doses, shapes = [d for x in found for d in x.doses], self.days[day].shapes
        if not shapes:
            return []
        walking = [(lit, walking_tenths(s)) for s, lit in shapes]
        taken = weighted([*((d.literal, d.choice.tenths) for d in doses), *walking])
        windows = [(lit, version_window(s, floor=self._floor)) for s, lit in shapes]
        least = weighted([(lit, low) for lit, (low, _) in windows])
        most = weighted([(lit, high) for lit, (_, high) in windows])
        bound = sum(d.choice.tenths for d in doses) + max(w for _, w in walking)
        upper = max([bound, *(high for _, (_, high) in windows)])
        return [PieceTime(Amount.exactly(taken, upper), least, most, upper)]

    def turns(self, day: Day) -> list[TurnWork]:
        """What the lines of a turn take; exact, since the doses are decisions here."""
        shapes = self.days[day].shapes
        if not shapes or shapes[0][0].station_s is not None:
            return []
        lead, upper, lines = shapes[0][0], 0, []
        for x in self.days[day].piece("conditioning"):
            doses = [d for d in x.doses if d.choice.part.spot in {"turn", "after_each"}]
            if not x.facts.piece_number and doses:
                taken = weighted([(d.literal, d.choice.tenths) for d in doses])
                there = x.literal
                if len(doses) < len(x.doses):  # it may come before or after the turns instead
                    there = self.model.new_bool_var(f"{day}/in_turn")
                    self.model.add(total(d.literal for d in doses) == there)
                lines.append((x.facts, there, taken, taken))
                upper += max(d.choice.tenths for d in doses)
        walking = weighted([(literal, turning_tenths(s)) for s, literal in shapes])
        return [TurnWork(tuple(lines), walking, 0, lead.part("turn").turns, lead.heats, 1, upper)]

    def _most_lines(self, day: Day) -> int:
        if self.days[day].given is not None:
            return len(self.days[day].lines)
        return 2 + max((s.movements for s, _ in self.days[day].shapes), default=0)


class LinesView(ModelView):
    """The first stage's view: lines and families are decisions, doses are not.

    What depends on doses is an interval, from the least to the most that the lines chosen could have in any
    family they can go with. So every rule over doses bounds the first stage, and none is stricter there than
    it will be: the first stage relaxes every requirement.
    """

    def __init__(
        self,
        model: cp_model.CpModel,
        days: dict[Day, DayVars],
        reaches: dict[Day, dict[LineFacts, Reach]],
        frame: clock.ClassFrame = clock.USUAL,
    ) -> None:
        super().__init__(model, days, frame=frame)
        self._reaches = reaches

    def _with_conditioning(self, day: Day, fixed: Amount, lines: list[tuple[LineVar, int]]) -> Amount:
        if self.days[day].given is not None:
            return super()._with_conditioning(day, fixed, lines)
        spans = [(x.literal, each, self._reaches[day][x.facts].units) for x, each in lines]
        least = weighted([(literal, each * low) for literal, each, (low, _) in spans])
        most = weighted([(literal, each * high) for literal, each, (_, high) in spans])
        return Amount(
            fixed.least + least,
            fixed.most + most,
            fixed.upper + sum(each * high for _, each, (_, high) in spans),
        )

    def paces(self, day: Day) -> list[PieceTime]:
        """For each kind of family: what the doses of the lines reach over all rounds, against its window.

        Where a family of another kind is chosen, neither bound says anything.
        """
        if self.days[day].given is not None:
            return super().paces(day)
        found = []
        lines, shapes = self.days[day].piece("conditioning"), self.days[day].shapes
        families = self.days[day].families
        for kind in dict.fromkeys(f.kind for f in families):
            spans = [(x.literal, self._reaches[day][x.facts].tenths.get(kind, (0, 0))) for x in lines]
            least = weighted([(literal, low) for literal, (low, _) in spans])
            most = weighted([(literal, high) for literal, (_, high) in spans])
            beyond = self._most_lines(day) * max((low for _, (low, _) in spans), default=0)
            windows = [
                (literal, f.work_tenths if f.kind == kind else (0, beyond))
                for (_, literal), f in zip(shapes, families, strict=True)
            ]
            shortest = weighted([(literal, low) for literal, (low, _) in windows])
            longest = weighted([(literal, high) for literal, (_, high) in windows])
            upper = max(beyond, *(high for _, (_, high) in windows))
            rounds = max(s.rounds for f in families if f.kind == kind for s in f.members)
            found.append(PieceTime(Amount(least, most, upper), shortest, longest, upper, rounds))
        return found

    def turns(self, day: Day) -> list[TurnWork]:
        """For each kind of family: the least and the most of the lines over all rounds."""
        if self.days[day].given is not None:
            return super().turns(day)
        found = []
        lines, shapes = self.days[day].piece("conditioning"), self.days[day].shapes
        families = self.days[day].families
        for kind in dict.fromkeys(f.kind for f in families if f.lead.station_s is None):
            mine = [(f, literal) for (_, literal), f in zip(shapes, families, strict=True) if f.kind == kind]
            once = any(f.lead.opening or f.lead.closing for f, _ in mine)
            spans = [(x, self._reaches[day][x.facts].tenths.get(kind, (0, 0))) for x in lines]
            worked = tuple(
                (x.facts, x.literal, (0 if once else low) * x.literal, high * x.literal)
                for x, (low, high) in spans
                if high
            )
            members = [s for f, _ in mine for s in f.members]
            longest = sorted((high for _, (_, high) in spans), reverse=True)[: self._most_lines(day)]
            found.append(
                TurnWork(
                    lines=worked,
                    walking=max(s.rounds * turning_tenths(s) for s in members),
                    idle=1 - total(literal for _, literal in mine),
                    people=mine[0][0].lead.part("turn").turns,
                    heats=max(s.heats for s in members),
                    rounds=max(s.rounds for s in members),
                    upper=sum(longest),
                    spans=tuple((0 if once else low, high) for _, (low, high) in spans if high),
                    window=(
                        min(f.work_tenths[0] for f, _ in mine),
                        max(
                            f.work_tenths[1] + max(s.rounds * walking_tenths(s) for s in f.members)
                            for f, _ in mine
                        ),
                    ),
                )
            )
        return found


def total(literals: Any) -> Expr:
    """A sum of literals; 0 for none."""
    listed = list(literals)
    return cp_model.LinearExpr.sum(listed) if listed else 0


def weighted(pairs: list[tuple[Expr, int]]) -> Expr:
    """A weighted sum; 0 for none."""
    kept = [(e, w) for e, w in pairs if w]
    if not kept:
        return 0
    return cp_model.LinearExpr.weighted_sum([e for e, _ in kept], [w for _, w in kept])


def value_of(expr: Expr, values: tuple[int, ...]) -> int:
    """A linear expression's value in an answer."""
    if isinstance(expr, int):
        return expr
    flat = cp_model.FlatIntExpr(expr)
    return int(flat.offset + sum(c * values[v.index] for v, c in zip(flat.vars, flat.coeffs, strict=True)))


def least_of(model: cp_model.CpModel, expr: Expr) -> int:
    """The least that a linear expression can be, going by the bounds of its variables alone."""
    if isinstance(expr, int):
        return expr
    flat, variables = cp_model.FlatIntExpr(expr), model.proto.variables
    ends = ((c, list(variables[v.index].domain)) for v, c in zip(flat.vars, flat.coeffs, strict=True))
    return int(flat.offset + sum(c * (d[0] if c > 0 else d[-1]) for c, d in ends))
