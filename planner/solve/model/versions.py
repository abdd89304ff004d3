"""For given lines: which member of the shape's family, which doses, and every kit version, in one model.

All kit versions share the shape and hang on the gym floor's doses, so they are solved together with it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from ortools.sat.python import cp_model

from planner.domain.catalogue import Shape
from planner.domain.clock import frame_of
from planner.domain.gym import Day
from planner.domain.line import LineFacts
from planner.domain.plan import ConditioningLine, SessionPlan, StrengthLine, VersionPlan
from planner.problem.candidates import DoseChoice, dose_suits, explicit_dose
from planner.problem.families import Family
from planner.problem.given import GivenDay, GivenLine
from planner.problem.options import StandIn
from planner.problem.problem import Problem
from planner.problem.requirements import NEAR
from planner.rules.base import Expr
from planner.solve.model.reading import Chosen, given_line, in_order, session_plan, version_plan
from planner.solve.model.rows import PricedTerm, write_rules
from planner.solve.model.view import DayVars, DoseVar, LineVar, ModelView, total, weighted

STEPS_OUT = 100
"""In so many steps is measured how far the version of a session by hand is out of its time."""
MOST_WATCHED, WATCHED_STEP = 12, 10
"""What is only watched is counted in steps of ten units, and no more than so many in a place."""
CHANGED_NUMBER = 20
"""Dislike of another number than the floor's, against one for each step from a middling dose."""


@dataclass(frozen=True, slots=True)
class FloorDay:
    """A day as the first stage leaves it: the family of shapes and the lines, without doses.

    Attributes:
        family: of shapes; None on a day without conditioning.
        lines: on the gym floor.
        base: a session of which some pieces stay exactly as they are, or None.
        stays: which: strength, conditioning.
    """

    family: Family | None
    lines: tuple[LineFacts, ...]
    base: SessionPlan | None = None
    stays: frozenset[str] = frozenset()

    def given(self, kit: str, facts: LineFacts, floor_kit: str) -> StrengthLine | ConditioningLine | None:
        """What stands for a line in a kit version of the base session, where its piece stays."""
        piece = "conditioning" if facts.scheme is None else "strength"
        if self.base is None or piece not in self.stays or kit not in self.base.versions:
            return None
        floor = getattr(self.base.versions[floor_kit], piece)
        mine = getattr(self.base.versions[kit], piece)
        for here, there in zip(floor, mine, strict=False):
            beside = getattr(here, "assistance", False) == (facts.piece == "assistance")
            if here.movement == facts.movement.id and beside:
                found: StrengthLine | ConditioningLine = there
                return found
        return None


@dataclass(frozen=True, slots=True, eq=False)
class _Choice:
    """A stand-in for the floor's line ``parent``, as decisions."""

    parent: int
    line: LineVar
    stand_in: StandIn


class DayModel:
    """One day: the shape, the floor's doses, and each kit's stand-ins."""

    def __init__(self, problem: Problem, model: cp_model.CpModel, day: Day, floor: FloorDay) -> None:
        self._problem, self._model, self._day, self.given = problem, model, day, floor
        self._floor_kit = problem.gym.kits[0].id
        self._banned = problem.banned_on(day)
        self.by_hand = problem.options.given.get(day)
        self._written = {x.facts: x for x in self.by_hand.lines} if self.by_hand else {}
        self.shapes = [(s, model.new_bool_var(f"{day}/{s.id}")) for s in self._members(floor)]
        if self.shapes:
            model.add_exactly_one(literal for _, literal in self.shapes)
        self._suits: dict[tuple[int, ...], cp_model.IntVar] = {}
        self.floor = [self._floor_line(facts) for facts in floor.lines]
        self._spots_are_taken()
        self.kits = {kit.id: self._kit(kit.id) for kit in problem.gym.kits[1:]}

    def _spots_are_taken(self) -> None:
        """As many lines come at each spot as the shape has there; a coach's own are where they are."""
        if self.by_hand is not None:
            return
        doses = [d for x in self.floor if x.facts.scheme is None for d in x.doses]
        for spot in dict.fromkeys(spot for s, _ in self.shapes for spot in s.spots):
            here = total(d.literal for d in doses if d.choice.part.spot == spot)
            self._model.add(here == weighted([(lit, s.spots.get(spot, 0)) for s, lit in self.shapes]))

    @staticmethod
    def _members(floor: FloorDay) -> list[Shape]:
        if floor.family is None:
            return []
        if floor.base is not None and "conditioning" in floor.stays and len(floor.family.members) > 1:
            return [s for s in floor.family.members if s.id == floor.base.shape]
        return list(floor.family.members)

    @property
    def possible(self) -> bool:
        """Whether every line has a dose, and a stand-in with every kit."""
        every = range(len(self.floor))
        return all(x.doses for x in self.floor) and all(
            {c.parent for c in choices} >= set(every) for choices in self.kits.values()
        )

    def _suiting(
        self, facts: LineFacts, dose: DoseChoice, own: Shape | None = None, *, floor: bool = True
    ) -> cp_model.IntVar | None:
        """Literal of the shapes in which a dose can be written; of what the coach wrote, in her own shape."""
        if self.by_hand is not None:
            fits: tuple[int, ...] = (0,)
        else:
            fits = tuple(
                i
                for i, (s, _) in enumerate(self.shapes)
                if s is own or dose_suits(dose, facts.movement, s if floor else s.alone)
            )
        if not fits:
            return None
        if fits not in self._suits:
            made = self._model.new_bool_var("suits")
            self._model.add(total(self.shapes[i][1] for i in fits) == made)
            self._suits[fits] = made
        return self._suits[fits]

    def _floor_line(self, facts: LineFacts) -> LineVar:
        one = self._model.new_constant(1)
        if facts in self._written:
            return LineVar(facts, one, (DoseVar(self._written[facts].dose, one),))
        candidate = self._problem.options.candidate(facts)
        if facts.scheme is not None:
            return LineVar(facts, one, (DoseVar(candidate.doses[0], one),))
        given = self.given.given(self._floor_kit, facts, self._floor_kit)
        if isinstance(given, ConditioningLine):
            return LineVar(
                facts, one, (DoseVar(explicit_dose(facts.movement, given, self.shapes[0][0]), one),)
            )
        doses = []
        own = self._problem.options.own_doses.get(self._day, {}).get(facts, [])
        for choice, shape in [*((d, None) for d in candidate.doses), *((o.dose, o.shape) for o in own)]:
            suits = self._suiting(facts, choice, shape)
            if suits is not None:
                literal = self._model.new_bool_var(f"{self._day}/{facts.movement.id}/{choice.dose}")
                self._model.add_implication(literal, suits)
                doses.append(DoseVar(choice, literal))
        self._model.add_exactly_one(d.literal for d in doses)
        return LineVar(facts, one, tuple(doses))

    def _kit(self, kit: str) -> list[_Choice]:
        """Each line gets one stand-in, and no movement stands twice in a piece."""
        found: list[_Choice] = []
        for parent, line in enumerate(self.floor):
            mine = []
            given = self._given_stand_in(kit, line)
            if given is not None:
                found.append(_Choice(parent, given[1], given[0]))
                continue
            for stand_in in self._problem.options.stand_ins(
                kit,
                line.facts,
                tuple(d.choice for d in line.doses),
                self._banned,
                near=NEAR not in self._problem.given_up,
                given=self._written.get(line.facts),
            ):
                made = self._stand_in(kit, line, stand_in)
                if made is not None:
                    mine.append(_Choice(parent, made, stand_in))
            if mine:
                self._model.add_exactly_one(c.line.literal for c in mine)
            found += mine
        self._no_movement_twice(found)
        return found

    def _no_movement_twice(self, choices: list[_Choice]) -> None:
        """Two movements of a piece have two stand-ins; one that comes twice has the same each time."""
        by_movement: dict[tuple[object, ...], dict[str, list[cp_model.IntVar]]] = {}
        for c in choices:
            original = self.floor[c.parent].facts
            key = (original.scheme is not None, original.piece_number, c.stand_in.facts.movement.id)
            whose = original.movement.id if self.by_hand is not None else str(c.parent)
            for_it = by_movement.setdefault(key, {}).setdefault(whose, [])
            for_it.append(c.line.literal)
        for same in by_movement.values():
            for first, *again in same.values():
                for other in again:
                    self._model.add(other == first)
            if len(same) > 1:
                self._model.add_at_most_one(literals[0] for literals in same.values())

    def _given_stand_in(self, kit: str, line: LineVar) -> tuple[StandIn, LineVar] | None:
        """The base session's own stand-in, where its piece stays and the kit and the bans still allow it."""
        written = self._written.get(line.facts)
        if written is None:
            given = self.given.given(kit, line.facts, self._floor_kit)
            shape = self.shapes[0][0] if self.shapes else None
        else:
            given, shape = self._in_version(kit, written), written.shape.alone if written.shape else None
        if given is None:
            return None
        stand_in = self._problem.options.explicit_stand_in(kit, line.facts, given, shape)
        if stand_in is None or stand_in.facts.movement.id in self._banned:
            return None
        one = self._model.new_constant(1)
        return stand_in, LineVar(stand_in.facts, one, (DoseVar(stand_in.doses[0][0], one),))

    def _in_version(self, kit: str, written: GivenLine) -> StrengthLine | ConditioningLine | None:
        """The line in a version that the coach wrote too."""
        assert self.by_hand is not None
        piece, place = written.at
        return dict(enumerate(self.by_hand.session.pieces[piece].versions.get(kit, ()))).get(place)

    def _stand_in(self, kit: str, parent: LineVar, stand_in: StandIn) -> LineVar | None:
        facts, model = stand_in.facts, self._model
        there = model.new_bool_var(f"{self._day}/{kit}/{facts.movement.id}")
        if facts.scheme is not None:
            return LineVar(facts, there, (DoseVar(stand_in.doses[0][0], there),))
        doses = []
        for choice, positions in stand_in.doses:
            suits = self._suiting(facts, choice, floor=False)
            if suits is None:
                continue
            literal = model.new_bool_var(f"{self._day}/{kit}/{facts.movement.id}/{choice.dose}")
            model.add_implication(literal, suits)
            model.add_bool_or([~literal, *(parent.doses[i].literal for i in positions)])
            doses.append(DoseVar(choice, literal))
        if not doses:
            return None
        model.add_exactly_one([*(d.literal for d in doses), ~there])
        return LineVar(facts, there, tuple(doses))

    def changed_numbers(self) -> list[cp_model.IntVar]:
        """For each conditioning stand-in, whether its number is another than that of the floor's line.

        No number is another where the two are not counted in the same unit.
        """
        out = []
        for c in (c for choices in self.kits.values() for c in choices):
            parent, mine = self.floor[c.parent], c.line
            units = {parent.facts.movement.unit, mine.facts.movement.unit}
            if mine.facts.scheme is not None or len(units) > 1:
                continue
            changed = self._model.new_bool_var(f"{self._day}/changed")
            hers = c.stand_in.doses[0][0].dose if self.by_hand is not None else None
            for x in mine.doses:
                if x.choice.dose == hers:
                    continue  # her number, or her share of one
                same = [p.literal for p in parent.doses if hers is None and p.choice.dose == x.choice.dose]
                self._model.add_bool_or([changed, ~x.literal, *same])
            out.append(changed)
        return out


@dataclass(frozen=True, slots=True, eq=False)
class VersionsModel:
    """The subproblem: doses and kit versions for given lines.

    Attributes:
        model: the model, with the objective.
        days: its decisions.
        priced: weighted rules that wait for doses or speak of kit versions.
        objective: see ``_objective``.
    """

    model: cp_model.CpModel
    days: dict[Day, DayModel]
    priced: list[PricedTerm]
    objective: Expr


def build_versions(problem: Problem, floor: dict[Day, FloorDay]) -> VersionsModel | None:
    """Writes the subproblem down; None where a line has no dose, or no stand-in with some kit, at all."""
    model = cp_model.CpModel()
    days = {day: DayModel(problem, model, day, f) for day, f in floor.items()}
    if not all(d.possible for d in days.values()):
        return None
    views = _views(problem, model, days)
    priced = _rules(problem, model, days, views)
    gives, watched = _gives(problem, model, days, views[1:]), _watched(problem, model, days, views[0])
    return VersionsModel(model, days, priced, _objective(days, priced, gives, watched))


def points_by_line(d: DayModel, values: tuple[int, ...]) -> dict[LineFacts, int]:
    """What each floor line's stand-ins cost, over all kits."""
    points = dict.fromkeys((x.facts for x in d.floor), 0)
    for choices in d.kits.values():
        for c in choices:
            if values[c.line.literal.index]:
                points[d.floor[c.parent].facts] += c.stand_in.points
    return points


def _views(problem: Problem, model: cp_model.CpModel, days: dict[Day, DayModel]) -> list[ModelView]:
    """Each kit version, the gym floor first."""
    frame = frame_of(problem.gym.class_.minutes)
    on_floor = {day: DayVars(day, list(d.floor), list(d.shapes), given=d.by_hand) for day, d in days.items()}
    floor = ModelView(model, on_floor, frame=frame)
    out = [floor]
    for kit in problem.gym.kits[1:]:
        lines = {
            day: DayVars(day, [c.line for c in d.kits[kit.id]], list(d.shapes), given=d.by_hand)
            for day, d in days.items()
        }
        out.append(ModelView(model, lines, floor=False, frame=frame))
    return out


def _rules(
    problem: Problem, model: cp_model.CpModel, days: dict[Day, DayModel], views: list[ModelView]
) -> list[PricedTerm]:
    """On the floor what waits for doses; in the kit versions all that speaks of every version."""
    here = replace(problem, facts=replace(problem.facts, days=tuple(days)))
    everywhere = tuple(r for r in problem.rules if r.versions == "all")
    waiting = tuple(r for r in problem.rules if r.stage == "doses")
    floor, *kits = views
    priced = write_rules(model, floor, waiting, here)
    for view in kits:
        priced += write_rules(model, view, everywhere, here)
    return priced


def _gives(
    problem: Problem, model: cp_model.CpModel, days: dict[Day, DayModel], versions: list[ModelView]
) -> list[tuple[Expr, int]]:
    """Steps by which the versions of what the coach wrote leave the time that it should take.

    A rule on the time does not count against her session; the versions keep to it all the same if they can.
    """
    out: list[tuple[Expr, int]] = []
    written = tuple(day for day in days if problem.by_hand(day))
    timed = [r for r in problem.rules if r.on_time and r.must]
    if not written or not timed:
        return out
    facts = replace(problem.facts, days=written)
    for view in versions:
        for term in timed[0].encode(view, facts):
            slack = model.new_int_var(0, STEPS_OUT, "gives")
            model.add(term.expr - max(1, -(-term.upper // STEPS_OUT)) * slack <= term.limit)
            out.append((slack, 1))
    return out


def _watched(
    problem: Problem, model: cp_model.CpModel, days: dict[Day, DayModel], floor: ModelView
) -> list[tuple[Expr, int]]:
    """Steps beyond what rules on the conditioning only watch: no points, but a liking."""
    out: list[tuple[Expr, int]] = []
    rules = [r for r in problem.rules if r.level == "watch" and r.on_conditioning]
    facts = replace(problem.facts, days=tuple(days))
    for term in (t for r in rules for t in r.encode(floor, facts)):
        slack = model.new_int_var(0, MOST_WATCHED, "watched")
        model.add(term.expr - WATCHED_STEP * term.divide * slack <= term.limit).only_enforce_if(
            short := model.new_bool_var("within")
        )
        out += [(slack, 1), (1 - short, MOST_WATCHED)]
    return out


def _objective(
    days: dict[Day, DayModel],
    priced: list[PricedTerm],
    gives: list[tuple[Expr, int]],
    watched: list[tuple[Expr, int]],
) -> Expr:
    """Exactly in layers, each weight more than all that is below it can add up to.

    A point of a rule outweighs all time by which versions of a session by hand are too quick or too slow, a
    step of that every stand-in point, a stand-in point every remainder of cost, a remainder all that is only
    watched, and that every liking for middling doses.
    """
    layers = [
        _likings(days),
        (watched, MOST_WATCHED * len(watched)),
        _of_choices(days, lambda c: c.stand_in.cost),
        _of_choices(days, lambda c: c.stand_in.points),
        (gives, sum(STEPS_OUT for _ in gives)),
        ([(t.slack, t.points) for t in priced], 0),
    ]
    terms: list[tuple[Expr, int]] = []
    scale = 1
    for layer, most in layers:
        terms += [(x, scale * weight) for x, weight in layer]
        scale *= 1 + most
    return weighted(terms)


Layer = tuple[list[tuple[Expr, int]], int]
"""Weighted literals, and the most that they add up to in a solution."""


def _likings(days: dict[Day, DayModel]) -> Layer:
    """Middling doses, and stand-ins with the floor's number."""
    out: list[tuple[Expr, int]] = []
    most = 0
    for d in days.values():
        for line in d.floor:
            if line.facts.scheme is None:
                mine = [(x.literal, abs(2 * i + 1 - len(line.doses))) for i, x in enumerate(line.doses)]
                out, most = [*out, *mine], most + max(weight for _, weight in mine)
        out += [(literal, CHANGED_NUMBER) for literal in d.changed_numbers()]
        most += CHANGED_NUMBER * len(d.floor) * len(d.kits)
    return out, most


def _of_choices(days: dict[Day, DayModel], price: Callable[[_Choice], int]) -> Layer:
    """What stand-ins cost; each floor line has one with each kit."""
    out: list[tuple[Expr, int]] = []
    most = 0
    for d in days.values():
        for choices in d.kits.values():
            out += [(c.line.literal, price(c)) for c in choices]
            worst: dict[int, int] = {}
            for c in choices:
                worst[c.parent] = max(worst.get(c.parent, 0), price(c))
            most += sum(worst.values())
    return out, most


def session_of(problem: Problem, day: Day, d: DayModel, values: tuple[int, ...]) -> SessionPlan:
    """A day as a solution of the subproblem has it."""
    if d.by_hand is not None:
        return _as_given(problem, d.by_hand, d, values)
    shape = next(s for s, literal in d.shapes if values[literal.index])
    dosed = [(x, _dose(x, values)) for x in d.floor]
    order = _order(dosed, shape, d.given)
    versions: dict[str, VersionPlan] = {problem.gym.kits[0].id: version_plan([dosed[i] for i in order])}
    for kit, choices in d.kits.items():
        mine = {c.parent: (c.line, _dose(c.line, values)) for c in choices if values[c.line.literal.index]}
        versions[kit] = version_plan([mine[i] for i in order])
    return session_plan(day, shape, versions)


def _as_given(problem: Problem, given: GivenDay, d: DayModel, values: tuple[int, ...]) -> SessionPlan:
    """A day that the coach wrote, with the versions made for it."""
    pieces = []
    there = {x.facts: i for i, x in enumerate(d.floor)}
    for number, piece in enumerate(given.session.pieces):
        # A filling may be asked for the conditioning alone.
        mine = [(there[x.facts], x) for x in given.lines if x.at[0] == number and x.facts in there]
        versions = {problem.gym.kits[0].id: piece.versions[problem.gym.kits[0].id]}
        for kit, choices in d.kits.items():
            chosen = {c.parent: c.line for c in choices if values[c.line.literal.index]}
            lines = [(x, chosen[i], _dose(chosen[i], values)) for i, x in mine]
            versions[kit] = tuple(given_line(*line) for line in lines)
        pieces.append(piece.model_copy(update={"versions": versions}))
    return given.session.model_copy(update={"pieces": tuple(pieces)})


def _order(lines: list[Chosen], shape: Shape, given: FloorDay) -> list[int]:
    """Positions in the order of doing: main lift, assistance, then conditioning with the least clash.

    A piece that stays keeps the order that it has.
    """
    strength = [i for p in ("main", "assistance") for i, x in enumerate(lines) if x[0].facts.piece == p]
    if given.base is not None and "conditioning" in given.stays:
        floor = next(iter(given.base.versions.values()))
        written = [x.movement for x in floor.conditioning]
        mine = [i for i, x in enumerate(lines) if x[0].facts.piece == "conditioning"]
        return [*strength, *sorted(mine, key=lambda i: written.index(lines[i][0].facts.movement.id))]
    conditioning = in_order([x for x in lines if x[0].facts.piece == "conditioning"], shape)
    return [*strength, *(next(i for i, x in enumerate(lines) if x is y) for y in conditioning)]


def _dose(line: LineVar, values: tuple[int, ...]) -> DoseChoice:
    return next(d.choice for d in line.doses if values[d.literal.index])
