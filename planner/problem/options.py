"""What could be written: lines on the gym floor, and what may stand for them in each kit version."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import lru_cache

from planner.domain.at_hand import items_for, usable_setup
from planner.domain.catalogue import Catalogue, Movement, Part, Scheme, Setup, Shape, Tier
from planner.domain.complexes import lifted
from planner.domain.gym import Day, Gym
from planner.domain.line import BARBELL, LineFacts, LinePiece, line_facts
from planner.domain.plan import ConditioningLine, SessionPlan, StrengthLine, scheme_of_line
from planner.domain.running import near as near_time
from planner.domain.substitution import WORST_COST, for_strength, stand_in_dose, substitution_cost
from planner.domain.timing import line_tenths, own_share
from planner.prescribe.equipped import Equipped, equipped
from planner.prescribe.stock import Stock
from planner.prescribe.taking import takes_of
from planner.problem.candidates import (
    DoseChoice,
    LineOption,
    dose_suits,
    explicit_dose,
    ladder_dose,
    plain_dose,
    strength_dose,
    suits,
)
from planner.problem.families import OwnDose, Reach, families_of, reach_of
from planner.problem.given import GivenLine, given_day

WORST_STAND_IN = 45
"""A stand-in that costs more than this is not offered while a better one is there; a design choice."""
BEST_STAND_INS = 7
"""How many stand-ins are offered for a line, the cheapest first."""
FREE_COST, COST_STEP = 24, 6
"""A cost up to ``FREE_COST`` keeps pattern and power for the most part, and is free; each further step is a
point. Set so that as large a part of the stand-ins on offer is free as when costs went by looks."""
RANGE_COST = 8
"""Choosing among stand-ins, each step of load range lost costs so much: at home the bar goes first.
It is not counted in points: nobody without a bar can be blamed for having none."""
BAR_RANGE = 2
"""Where a kit has a bar, a smaller load than that stands behind it for any loaded original."""
LEAVING_COST = 60
"""Choosing another movement where the kit allows the floor's own costs so much more: it gives last."""
MOST_NEAREST = 16
"""How many are looked at to find those."""
LARGE_TIMES = (1, 2)
"""What comes once asks for these multiples of a movement's largest number of reps, up to its cap."""
BETWEEN_TENTHS = (80, 350)
"""A line between the others takes so long each time, 8 to 35 seconds: a breath, no station; our choice."""


@dataclass(frozen=True, slots=True, eq=False)
class StandIn:
    """What may replace a floor line in a kit version.

    Attributes:
        facts: the line.
        lost: what is lost, 0 (the same movement) to 100.
        cost: that, and ``RANGE_COST`` for each step of load range lost: what a choice among them goes by.
        doses: each with the positions of the floor's doses that it may stand for.
    """

    facts: LineFacts
    lost: int
    cost: int
    doses: tuple[tuple[DoseChoice, tuple[int, ...]], ...]

    @property
    def points(self) -> int:
        """The cost in points."""
        return points_of(self.lost)


def line_key(facts: LineFacts) -> tuple[str, str, str, str]:
    """What tells a line from another on the same day: piece, movement, scheme, tier."""
    return facts.piece, facts.movement.id, facts.scheme.id if facts.scheme else "", facts.tier


STRENGTH: tuple[LinePiece, ...] = ("main", "assistance")
Found = tuple[LineFacts, tuple[tuple[DoseChoice, tuple[int, ...]], ...]]


def points_of(cost: int) -> int:
    """A cost in points: nought while the stimulus is kept, then one for each step."""
    return max(0, -(-(cost - FREE_COST) // COST_STEP))


def _parts_of(catalogue: Catalogue) -> tuple[Part, ...]:
    """How doses count in the shapes that a draft picks from."""
    every = (part for shape in catalogue.shapes.values() for part in map(shape.part, shape.spots))
    return tuple(dict.fromkeys(every))


def _in_the_time_of(line: ConditioningLine, original: Movement, stand_in: Movement) -> int:
    """How much of a stand-in a typical athlete does in the time that a line takes."""
    seconds = line_tenths(original, line.dose, line.tier) / 10
    each = stand_in.pace.seconds * (2 if stand_in.sides == "per_side" else 1)
    return max(1, int(seconds / each))


class Options:
    """Floor candidates by piece, and stand-ins by kit."""

    def __init__(
        self,
        catalogue: Catalogue,
        gym: Gym,
        written: tuple[SessionPlan, ...] = (),
        given: tuple[SessionPlan, ...] = (),
    ) -> None:
        """Enumerates what a gym could write.

        Args:
            catalogue: movements, schemes, formats.
            gym: what it has.
            written: sessions that exist already; their lines and doses are offered on their own days even
                where they would not be chosen freely.
            given: sessions that stay as they are.
        """
        self.given = {s.day: given_day(s, catalogue, gym) for s in given}
        self._catalogue, self._gym = catalogue, gym
        pieces: tuple[LinePiece, ...] = ("main", "assistance", "conditioning")
        self._held = {(kit.id, piece): items_for(gym, kit, piece) for kit in gym.kits for piece in pieces}
        self._stocks = {kit.id: Stock(gym, kit, catalogue.items) for kit in gym.kits}
        self._outfits: dict[tuple[str, ...], Equipped] = {}
        # Where no bar serves the class, what else only stands in for a lift is the lift.
        self._bars_serve = BARBELL in self._held[gym.kits[0].id, "main"]
        self._parts = _parts_of(catalogue)
        floor = gym.kits[0].id
        own = [
            *self._strength("main", floor),
            *self._strength("assistance", floor),
            *self._conditioning(floor),
        ]
        self.only_on: dict[LineFacts, frozenset[Day]] = {}
        self.own_doses: dict[Day, dict[LineFacts, list[OwnDose]]] = {}
        every = [*own, *self._written(written, floor, own)]
        self.main = tuple(c for c in every if c.facts.piece == "main")
        self.assistance = tuple(c for c in every if c.facts.piece == "assistance")
        self.families = families_of(catalogue)
        found = [(c, reach_of(c, self.families)) for c in every if c.facts.piece == "conditioning"]
        written_lines = {facts for doses in self.own_doses.values() for facts in doses}
        kept = [(c, reach) for c, reach in found if reach.families or c.facts in written_lines]
        self.conditioning = tuple(c for c, _ in kept)
        self._reaches = {c.facts: reach for c, reach in kept}
        self._by_facts = {c.facts: c for c in (*self.main, *self.assistance, *self.conditioning)}
        self.nearest = lru_cache(maxsize=None)(self._nearest)
        self._cost = lru_cache(maxsize=None)(self._substitution_cost)
        self._least = lru_cache(maxsize=None)(self._least_points)
        self._pool = {kit.id: self._available(kit.id) for kit in gym.kits}

    def _movements(self) -> list[Movement]:
        return [m for m in self._catalogue.movements.values() if m.skill <= self._gym.class_.skill]

    def conditioning_on(self, day: Day) -> list[tuple[LineOption, Reach]]:
        """Conditioning lines on offer on a day, each with what its doses there can reach."""
        mine = self.own_doses.get(day, {})
        return [
            (
                c,
                reach_of(c, self.families, tuple(mine[c.facts]))
                if c.facts in mine
                else self._reaches[c.facts],
            )
            for c in self.conditioning
            if day in self.only_on.get(c.facts, (day,))
        ]

    def _written(
        self, sessions: tuple[SessionPlan, ...], kit: str, own: list[LineOption]
    ) -> list[LineOption]:
        """Lines of existing sessions that are not offered anyway; their own doses are noted by day."""
        known = {line_key(c.facts): c for c in own}
        made: dict[tuple[str, str, str, str], LineOption] = {}
        days: dict[LineFacts, set[Day]] = {}
        for session in sessions:
            floor, shape = session.versions[self._gym.kits[0].id], self._catalogue.shapes.get(session.shape)
            if session.own:
                continue  # no draft comes to it
            lines: tuple[StrengthLine | ConditioningLine, ...] = (*floor.strength, *floor.conditioning)
            for line in lines:
                facts = self._written_facts(line, kit)
                if facts is None:
                    continue
                key = line_key(facts)
                candidate = known.get(key) or made.setdefault(
                    key, LineOption(facts, self._scheme_dose(facts))
                )
                if key not in known:
                    days.setdefault(candidate.facts, set()).add(session.day)
                if isinstance(line, ConditioningLine) and shape is not None:
                    dose = explicit_dose(facts.movement, line, shape)
                    if all(
                        d.dose != dose.dose or not dose_suits(d, facts.movement, shape)
                        for d in candidate.doses
                    ):
                        doses = self.own_doses.setdefault(session.day, {})
                        doses.setdefault(candidate.facts, []).append(OwnDose(shape, dose))
        self.only_on = {facts: frozenset(on) for facts, on in days.items()}
        return list(made.values())

    def _written_facts(self, line: StrengthLine | ConditioningLine, kit: str) -> LineFacts | None:
        """A line as it is written; None where the catalogue or the kit does not have it."""
        m = self._catalogue.movements.get(line.movement)
        if m is None:
            return None
        if isinstance(line, ConditioningLine):
            return self._facts("conditioning", m, line.tier, None, kit)
        scheme = scheme_of_line(line, self._catalogue)
        piece: LinePiece = "assistance" if line.assistance else "main"
        return None if scheme is None else self._facts(piece, m, scheme.tier, scheme, kit)

    @staticmethod
    def _scheme_dose(facts: LineFacts) -> tuple[DoseChoice, ...]:
        return () if facts.scheme is None else (strength_dose(facts.movement, facts.scheme),)

    def explicit_stand_in(
        self, kit: str, facts: LineFacts, line: StrengthLine | ConditioningLine, shape: Shape | None
    ) -> StandIn | None:
        """A stand-in that is given, movement, dose and all; None where the kit cannot do it."""
        m = self._catalogue.movements.get(line.movement)
        if m is None:
            return None
        lost = self._cost(facts.movement.id, m.id, for_strength(facts.scheme))
        if isinstance(line, StrengthLine):
            scheme = scheme_of_line(line, self._catalogue)
            made = None if scheme is None else self._facts(facts.piece, m, scheme.tier, scheme, kit)
            if scheme is None or made is None:
                return None
            return StandIn(made, lost, lost, ((strength_dose(m, scheme), (0,)),))
        made = self._facts("conditioning", m, line.tier, None, kit)
        if made is None or shape is None:
            return None
        return StandIn(made, lost, lost, ((explicit_dose(m, line, shape), ()),))

    def _facts(
        self, piece: LinePiece, m: Movement, tier: Tier, scheme: Scheme | None, kit: str
    ) -> LineFacts | None:
        found = self.equipped(piece, m, tier, scheme, kit)
        if found.lacks:
            return None
        floor, items = kit == self._gym.kits[0].id, self._catalogue.items
        made = line_facts(piece, m, tier, scheme, found.needs, items, self._gym, floor=floor)
        if piece == "conditioning" and floor:
            return replace(made, takes=takes_of(m, found.needs, tier, self._stocks[kit]))
        return made

    def equipped(
        self, piece: LinePiece, m: Movement, tier: Tier, scheme: Scheme | None, kit: str
    ) -> Equipped:
        """What a line takes with a kit version, its load included, and what is lacking."""
        key = kit, piece, m.id, tier, scheme.id if scheme else ""
        if key not in self._outfits:
            self._outfits[key] = equipped(m, piece, tier, scheme, self._stocks[kit])
        return self._outfits[key]

    def lacking(self, line: StrengthLine | ConditioningLine) -> str:
        """What a line lacks on the gym floor, as a sentence without its full stop; empty where nothing."""
        m, floor = self._catalogue.movements.get(line.movement), self._gym.kits[0].id
        if m is None:
            return f"{line.movement} is not in the catalogue"
        if isinstance(line, ConditioningLine):
            return self.equipped("conditioning", m, line.tier, None, floor).lacks
        scheme = scheme_of_line(line, self._catalogue)
        if scheme is None:
            return f"{line.scheme} is not among the schemes"
        return self.equipped("assistance" if line.assistance else "main", m, scheme.tier, scheme, floor).lacks

    def everything(self) -> list[LineFacts]:
        """Every line that any gym could write, whatever it owns."""
        items, out = self._catalogue.items, []
        for m in self._catalogue.movements.values():
            for setup in m.setups:
                out += [
                    line_facts(piece, m, scheme.tier, scheme, setup.needs, items)
                    for piece in STRENGTH
                    for scheme in self._catalogue.schemes.values()
                    if suits(m, scheme, piece)
                ]
                out += [line_facts("conditioning", m, tier, None, setup.needs, items) for tier in m.doses]
        return out

    def _strength(self, piece: LinePiece, kit: str) -> list[LineOption]:
        out = []
        for m in self._movements():
            if piece not in (m.roles if self._bars_serve else m.all_roles):
                continue
            for scheme in self._catalogue.schemes.values():
                if not suits(m, scheme, piece) or self._gym.class_.minutes > scheme.class_at_most:
                    continue
                whole = lifted(m, scheme, self._catalogue.movements)
                facts = self._facts(piece, whole, scheme.tier, scheme, kit)
                if facts is not None:
                    out.append(LineOption(facts, (strength_dose(whole, scheme),)))
        return out

    def _conditioning(self, kit: str) -> list[LineOption]:
        out = []
        for m in self._movements():
            if "conditioning" not in m.roles:
                continue
            for tier, numbers in m.doses.items():
                facts = self._facts("conditioning", m, tier, None, kit)
                doses = tuple(self._doses(m, tier, numbers))
                if facts is not None and doses:
                    out.append(LineOption(facts, doses))
        return out

    def _doses(self, m: Movement, tier: Tier, numbers: tuple[int, ...]) -> list[DoseChoice]:
        plain = [n for n in numbers if n > 1 or len(numbers) == 1]
        in_ladders = numbers[0] == 1 and len(numbers) > 1
        times = LARGE_TIMES if m.unit == "reps" else LARGE_TIMES[:1]
        large = dict.fromkeys(n for k in times if plain and (n := min(k * plain[-1], m.cap)) >= plain[-1])
        low, high = BETWEEN_TENTHS
        short = [n for n in plain if low <= line_tenths(m, n, tier) <= high]
        out = []
        for part in self._parts:
            if part.spot != "turn" and m.modality == "loaded":
                continue  # before, between and after the rounds nobody picks a load up; common practice
            if part.ladder:
                if in_ladders and sum(part.ladder) <= m.cap and max(part.ladder) <= numbers[-1]:
                    out.append(ladder_dose(m, tier, part))
            else:
                here = large if part.large else short if part.spot == "after_each" else plain
                out += [plain_dose(m, tier, n, part) for n in here]
        return out

    def _available(self, kit: str) -> dict[LinePiece, tuple[Movement, ...]]:
        """Movements that can be done with a kit, by piece; a main lift may stand in as assistance."""

        def can(m: Movement, roles: set[str], piece: LinePiece) -> bool:
            return (
                bool(roles & set(m.all_roles)) and usable_setup(m, self._held[kit, piece], piece) is not None
            )

        every = self._movements()
        return {
            "main": tuple(m for m in every if can(m, {"main"}, "main")),
            "assistance": tuple(m for m in every if can(m, {"main", "assistance"}, "assistance")),
            "conditioning": tuple(m for m in every if can(m, {"conditioning"}, "conditioning")),
        }

    def _substitution_cost(self, original: str, stand_in: str, lift: bool) -> int:
        movements = self._catalogue.movements
        return substitution_cost(movements[original], movements[stand_in], lift=lift)

    def candidate(self, facts: LineFacts) -> LineOption:
        """The candidate of a floor line."""
        return self._by_facts[facts]

    def least_points(self, kit: str, facts: LineFacts, barred: frozenset[str] = frozenset()) -> int:
        """The fewest points that any stand-in for a line can cost with a kit; a bound from below."""
        return self._least(kit, facts.piece, facts.movement.id, for_strength(facts.scheme), barred)

    def _least_points(
        self, kit: str, piece: LinePiece, movement: str, lift: bool, barred: frozenset[str]
    ) -> int:
        pool, least = [m for m in self._pool[kit][piece] if m.id not in barred], WORST_COST
        mine = self._catalogue.movements[movement].main_pattern
        for m in sorted(pool, key=lambda m: (m.id != movement, m.main_pattern != mine)):
            least = min(least, self._cost(movement, m.id, lift))
            if points_of(least) == 0:  # it gets no better, and most end here early
                break
        return points_of(least)

    def _nearest(
        self, kit: str, piece: LinePiece, movement: str, barred: frozenset[str], lift: bool = False
    ) -> tuple[tuple[Movement, int, int], ...]:
        """Movements that may stand for another, what is lost and the load range lost, the cheapest first."""
        found = [
            (m, self._cost(movement, m.id, lift), self._range_lost(kit, piece, movement, m))
            for m in self._pool[kit][piece]
            if m.id not in barred
        ]
        return tuple(sorted(found, key=lambda x: x[1] + x[2]))

    def pool(self, kit: str, piece: LinePiece) -> frozenset[str]:
        """Ids of all that could stand in for a line of a piece with a kit, were nothing banned."""
        return frozenset(m.id for m in self._pool[kit][piece])

    def _looked_at(
        self, kit: str, facts: LineFacts, barred: frozenset[str], *, near: bool
    ) -> tuple[tuple[Movement, int, int], ...]:
        """The nearest that can be loaded as a line asks; the dearer ones only where there are no others."""
        every = self.nearest(kit, facts.piece, facts.movement.id, barred, for_strength(facts.scheme))
        loaded = [x for x in every if x[0].modality != "loaded" or not self._lacks(kit, facts, x[0])]
        if not near:
            return tuple(loaded)
        cheap = [x for x in loaded if x[1] <= WORST_STAND_IN]
        return tuple((cheap or loaded)[:MOST_NEAREST])

    def _lacks(self, kit: str, facts: LineFacts, m: Movement) -> str:
        """Why a movement cannot be loaded as a line asks; empty where it can."""
        tier = facts.tier if facts.tier in m.doses else next(iter(m.doses), facts.tier)
        return self.equipped(facts.piece, m, tier, facts.scheme, kit).lacks

    def stand_ins(
        self,
        kit: str,
        facts: LineFacts,
        doses: tuple[DoseChoice, ...],
        barred: frozenset[str] = frozenset(),
        *,
        near: bool = True,
        given: GivenLine | None = None,
    ) -> tuple[StandIn, ...]:
        """What may replace a line in a kit version, the cheapest first.

        Args:
            kit: its id.
            facts: the line on the gym floor.
            doses: that it could have there.
            barred: movements that may not, on the day that is meant.
            near: only the few that are nearest; otherwise all that the kit can do.
            given: the line as the coach wrote it: then its numbers come first.
        """
        out: list[StandIn] = []
        nearest = self._looked_at(kit, facts, barred, near=near)
        own = any(m.id == facts.movement.id for m, _, _ in nearest)
        for m, lost, range_lost in nearest:
            leaving = LEAVING_COST if own and m.id != facts.movement.id else 0
            if given is not None and given.shape is not None:
                found = self._given_stand_in(given, m, kit)
            elif facts.piece == "conditioning":
                found = self._conditioning_stand_in(facts, doses, m, kit)
            else:
                found = self._strength_stand_in(facts, m, kit)
            if found is not None:
                out.append(StandIn(found[0], lost, lost + range_lost + leaving, found[1]))
            if near and len(out) == BEST_STAND_INS:
                break
        return tuple(out)

    def _strength_stand_in(self, facts: LineFacts, m: Movement, kit: str) -> Found | None:
        scheme = facts.scheme
        assert scheme is not None
        if m.unit != scheme.unit and not scheme.work.practice_s:
            beside = [
                s for s in self._catalogue.schemes.values() if s.goal == "assistance" and s.unit == m.unit
            ]
            if facts.piece == "main" or not beside:
                return None
            scheme = beside[0]
        made = self._facts(facts.piece, m, scheme.tier, scheme, kit)
        return None if made is None else (made, ((strength_dose(m, scheme), (0,)),))

    def _given_stand_in(self, given: GivenLine, m: Movement, kit: str) -> Found | None:
        """A movement in the place of a line that the coach wrote: her numbers, or near, for one person."""
        line, facts, shape = given.line, given.facts, given.shape
        assert isinstance(line, ConditioningLine)
        assert shape is not None
        tier: Tier = facts.tier if facts.tier in m.doses else next(iter(m.doses), "open")
        made = self._facts("conditioning", m, tier, None, kit)
        if made is None:
            return None
        same = m.unit == facts.movement.unit
        numbers: list[tuple[int, tuple[int, ...]]]
        if line.open:  # as many as one can: the slot is as long for every movement
            once = line.model_copy(update={"dose": line.numbers[0]}) if line.numbers else line
            most, times = _in_the_time_of(once, facts.movement, m), len(line.numbers)
            numbers = [(most * (times or 1), (most,) * times)]
            return made, self._as_given(numbers, line, m, tier, shape)
        rungs = line.numbers or (shape.ladder if line.spot == "turn" else ())
        part = shape.part(line.spot)
        share = tuple(own_share(n, part) for n in rungs)
        if rungs and (same or {m.unit, facts.movement.unit} <= {"reps", "calories"}):
            numbers = [(sum(share), share)]
        elif rungs:
            each = round(sum(share) / len(share))
            found = stand_in_dose(facts.movement, each, m, facts.tier)
            numbers = [(n * len(share), (n,) * len(share)) for n in found]
        else:
            own = own_share(line.dose, part)
            listed = sorted((n for n in m.doses.get(tier, ()) if n > 1), key=lambda n: abs(n - own))[:3]
            low, high = near_time(line_tenths(facts.movement, own, facts.tier))
            hers = low <= line_tenths(m, own, tier) <= high  # then no other number is needed for the time
            others = [] if hers else listed
            plain = [own, *others] if same else stand_in_dose(facts.movement, own, m, facts.tier)
            numbers = [(n, ()) for n in dict.fromkeys(plain)]
        return made, self._as_given(numbers, line, m, tier, shape)

    @staticmethod
    def _as_given(
        numbers: Iterable[tuple[int, tuple[int, ...]]],
        line: ConditioningLine,
        m: Movement,
        tier: Tier,
        shape: Shape,
    ) -> tuple[tuple[DoseChoice, tuple[int, ...]], ...]:
        """Doses of a stand-in, each with its numbers by round, in the place of a line that is given."""
        home = shape.alone.model_copy(update={"ladder": ()})
        written = [
            ConditioningLine(movement=m.id, dose=dose, tier=tier, spot=line.spot, numbers=own)
            for dose, own in numbers
        ]
        return tuple((explicit_dose(m, x, home), (0,)) for x in written)

    def _conditioning_stand_in(
        self, facts: LineFacts, doses: tuple[DoseChoice, ...], m: Movement, kit: str
    ) -> Found | None:
        tier: Tier = facts.tier if facts.tier in m.doses else next(iter(m.doses))
        made = self._facts("conditioning", m, tier, None, kit)
        if made is None:
            return None
        offered: dict[tuple[int, Part], list[int]] = {}
        for index, dose in enumerate(doses):
            alone = dose.part._replace(turns=1, shares=1)
            for number in self._numbers(facts, dose, m, tier):
                offered.setdefault((number, alone), []).append(index)
        built = []
        for (number, part), parents in offered.items():
            dose = ladder_dose(m, tier, part) if part.ladder else plain_dose(m, tier, number, part)
            built.append((dose, tuple(parents)))
        return (made, tuple(built)) if built else None

    def _range_lost(self, kit: str, piece: LinePiece, movement: str, stand_in: Movement) -> int:
        original = self._catalogue.movements[movement]
        here = usable_setup(stand_in, self._held[kit, piece], piece)
        before, after = self._load_range(original.setups[0]), self._load_range(here) if here else 0
        if stand_in.modality == "loaded" and BARBELL in self._held[kit, piece] and before:
            before = max(before, BAR_RANGE)  # who has a bar uses it
        return RANGE_COST * max(0, before - after)

    def _load_range(self, setup: Setup) -> int:
        return max((self._catalogue.items[i].load_range for i in setup.needs), default=0)

    def _numbers(self, facts: LineFacts, dose: DoseChoice, m: Movement, tier: Tier) -> tuple[int, ...]:
        """Numbers that a stand-in may have for one dose of the floor's line."""
        if dose.ladder:
            fits = m.unit in ("reps", "calories") and dose.dose <= m.cap
            return (dose.dose,) if fits else ()
        share = own_share(dose.dose, dose.part)
        if m.id == facts.movement.id:
            # Beside it others may be slower at home: then its number gives before the movement does.
            own = [n for n in m.doses.get(facts.tier, ()) if n > 1]
            return tuple(dict.fromkeys((share, *sorted(own, key=lambda n: abs(n - share))[:3])))
        numbers = stand_in_dose(facts.movement, share, m, facts.tier)
        if dose.part.large:
            numbers = tuple(dict.fromkeys((*numbers, *self._large(facts.movement, share, m, tier))))
        return numbers

    @staticmethod
    def _large(original: Movement, dose: int, m: Movement, tier: Tier) -> tuple[int, ...]:
        if original.unit == m.unit and dose <= m.cap:
            return (dose,)
        return tuple(min(k * m.doses[tier][-1], m.cap) for k in LARGE_TIMES)
