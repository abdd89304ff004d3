"""From a lift as a coach wrote it to a scheme and a line of the plan, and back.

The catalogue's scheme is taken where it is the same. Else one is made, with the catalogue's own yardstick for
how heavy it is and how hard it will feel.
"""

from __future__ import annotations

from planner.domain.catalogue import Catalogue, Goal, Movement, Scheme, Tier
from planner.domain.lifting import TIER_LOAD_PERCENT
from planner.domain.plan import OWN, StrengthLine, scheme_of_line
from planner.domain.sets import ComplexPart, Sets, WorkSet
from planner.domain.words import capital, spelt
from planner.domain.written import WrittenLift
from planner.errors import DataError
from planner.prescribe.percent import set_percents
from planner.prescribe.set_words import sets_title

HEAVY_PERCENT, MODERATE_PERCENT = 80, 69
"""Of 1RM on the heaviest set, from which sets count as heavy and as moderate: so are the shipped schemes."""
NEAR_FAILURE, LONG_SET = 1, 8
"""Sets of up to eight with a rep in reserve at most are heavy, whatever their percent."""
SLOW_S = 5
"""A rep that takes longer is slow on purpose: a coach who means that says so."""
SINGLE, STRENGTH_REPS, MUSCLE_REPS = 1, 6, 12
MANY_SETS = 4
BUILD_UP: dict[Tier, tuple[tuple[int, int], ...]] = {
    "heavy": ((55, 5), (75, 3), (90, 1)),
    "moderate": ((60, 5), (80, 3)),
    "light": ((60, 4),),
    "open": (),
}
"""Before the work sets, in percent of the heaviest; common practice, as in the shipped schemes."""
BEFORE_ASCENDING = ((50, 5), (65, 3))
BEFORE_FINDING = ((50, 5), (65, 3), (80, 2), (90, 1))
SECONDS_PER_REP: dict[Goal, float] = {
    "strength": 3.5, "power": 4, "hypertrophy": 3, "skill": 4, "assistance": 3,
}  # fmt: skip
LIMITED: dict[Tier, str] = {
    "heavy": "three seconds down, a second's pause, up fast; two reps in reserve",
    "moderate": "three seconds down, up fast; three reps in reserve",
    "light": "four seconds down, a second's pause; three reps in reserve",
    "open": "well short of fatigue",
}
SAY = {
    "across": "One weight, {count} good sets.",
    "ascending": "Up in even steps; the last set is the heavy one, and still a good one.",
    "waves": "Each wave wakes you up for the next: the second may go higher than the first.",
    "back_off": "One heavy set while fresh, then the work at a weight that moves well.",
    "cluster": "Short rests inside the set keep every rep as good as the first.",
    "find": "Find today's number, not your best ever: the last good set counts.",
}


PRACTISE = "Fresh and unhurried: every try a good one."


def line_of(
    lift: WrittenLift, catalogue: Catalogue, *, assistance: bool = False, paired: bool = False
) -> StrengthLine:
    """The line of a plan for a lift as written.

    Args:
        lift: as written.
        catalogue: movements and schemes.
        assistance: whether it is done beside the main lift.
        paired: whether it is done in turn with the line before it.

    Raises:
        DataError: the catalogue has no such movement.
    """
    scheme = scheme_of(lift, catalogue, assistance=assistance)
    return StrengthLine(
        movement=lift.parts[0].movement,
        scheme=scheme.id,
        assistance=assistance,
        own=None if catalogue.schemes.get(scheme.id) == scheme else scheme,
        kg=lift.kg,
        tier=lift.tier,
        start=lift.start,
        paired=paired,
        note=lift.note,
    )


def lift_of(line: StrengthLine, catalogue: Catalogue) -> WrittenLift:
    """A line of a plan as a coach writes it; what she left open is said where the catalogue's scheme says it.

    Raises:
        DataError: the catalogue has no such scheme.
    """
    scheme = scheme_of_line(line, catalogue)
    if scheme is None:
        raise DataError(f'there is no scheme "{line.scheme}"')
    whole = bool(scheme.parts) and scheme.parts[0].movement == line.movement
    return WrittenLift(
        parts=scheme.parts if whole else (ComplexPart(movement=line.movement),),
        sets=scheme.work,
        scheme=None if line.own else scheme.id,
        kg=line.kg,
        tier=line.tier,
        start=line.start,
        note=line.note,
    )


def scheme_of(lift: WrittenLift, catalogue: Catalogue, *, assistance: bool = False) -> Scheme:
    """The scheme of a lift: the catalogue's where it says the same, else one made from it.

    Args:
        lift: as written.
        catalogue: movements and schemes.
        assistance: whether it is done beside the main lift.

    Raises:
        DataError: the catalogue has no such movement.
    """
    for part in lift.parts:
        if part.movement not in catalogue.movements:
            raise DataError(f'there is no movement "{part.movement}"')
    movement = catalogue.movements[lift.parts[0].movement]
    same = [s for s in catalogue.schemes.values() if _says_the_same(lift, s, assistance=assistance)]
    named = [s for s in same if s.id == lift.scheme]
    meant = [s for s in same if s.goal in movement.goals or assistance]
    return next(iter((*named, *meant)), None) or _made(lift, movement, assistance=assistance)


def tier_of(work: Sets) -> Tier:
    """How heavy work sets are, by percent and reserve; where neither is said, by form and reps."""
    said = [one for one in work.sets if one.percent is not None or one.reserve is not None]
    if not said:
        if work.form != "across" or work.most < STRENGTH_REPS:
            return "moderate" if work.tempo or work.pause_s else "heavy"
        return "moderate" if work.most <= MUSCLE_REPS else "light"
    percent = max(set_percents(work, TIER_LOAD_PERCENT["moderate"]))
    hard = any(x.reserve is not None and x.reserve <= NEAR_FAILURE and x.reps <= LONG_SET for x in said)
    if percent >= HEAVY_PERCENT or hard:
        return "heavy"
    return "moderate" if percent >= MODERATE_PERCENT else "light"


def effort_of(work: Sets, tier: Tier, goal: Goal) -> int:
    """What work sets add to the expected rating, 0 to 4, by the yardstick of the shipped schemes."""
    if goal in {"skill", "assistance"}:
        return 0
    if work.form == "find":
        return 4 if work.most == SINGLE else 3
    if tier != "heavy":
        return 2 if tier == "moderate" else 1
    if goal == "power":
        return 2
    near_failure = any(x.reserve is not None and x.reserve <= NEAR_FAILURE for x in work.sets)
    return 3 if len(work.sets) >= MANY_SETS or near_failure else 2


def _says_the_same(lift: WrittenLift, scheme: Scheme, *, assistance: bool) -> bool:
    """Whether a scheme says all that is written, and nothing that would be written if it were meant."""
    said, known = lift.sets, scheme.work
    alone = len(lift.parts) == 1 and lift.parts[0].reps == 1
    slow = not said.tempo and scheme.seconds_per_rep > SLOW_S
    opened = {"sets": known.sets} | ({"rest_s": known.rest_s} if said.rest_s is None else {})
    return (
        (scheme.goal == "assistance") == assistance
        and scheme.parts == (() if alone else lift.parts)
        and lift.tier in {None, scheme.tier}
        and (not slow or lift.scheme == scheme.id)
        and len(said.sets) == len(known.sets)
        and said.model_copy(update=opened) == known
        and all(map(_set_says_the_same, said.sets, known.sets))
    )


def _set_says_the_same(said: WorkSet, known: WorkSet) -> bool:
    asked = said.model_dump(exclude_none=True)
    return asked == {key: x for key, x in known.model_dump().items() if key in asked}


def _made(lift: WrittenLift, movement: Movement, *, assistance: bool) -> Scheme:
    work = lift.sets
    parts = lift.parts if len(lift.parts) > 1 or lift.parts[0].reps > 1 else ()
    loaded = movement.modality == "loaded"
    usual: Tier = "light" if work.practice_s else tier_of(work)
    tier: Tier = lift.tier or (usual if loaded else "open")
    goal: Goal = "assistance" if assistance else "skill" if work.practice_s else _goal(work, movement)
    counted = work.unit == "reps" and not work.practice_s
    return Scheme(
        id=_id(lift.parts if parts else (), work, lift.tier),
        name=sets_title(work, whole=bool(parts)),
        goal=goal,
        work=work,
        parts=parts,
        tier=tier,
        build_up=_build_up(work, tier, whole=bool(parts)) if counted and loaded and not assistance else (),
        effort=effort_of(work, tier, goal),
        seconds_per_rep=SECONDS_PER_REP[goal] if counted else 1,
        limited=LIMITED[tier],
        limited_reps=_limited_reps(work) if counted else min(60, work.most),
        say=PRACTISE if work.practice_s else capital(SAY[work.form].format(count=spelt(len(work.sets)))),
        drafted=False,
    )


def _goal(work: Sets, movement: Movement) -> Goal:
    order: tuple[Goal, ...] = ("strength", "power", "hypertrophy", "skill")
    if work.most > STRENGTH_REPS:
        order = ("hypertrophy", "strength", "power", "skill")
    return next((goal for goal in order if goal in movement.goals), "strength")


def _build_up(work: Sets, tier: Tier, *, whole: bool) -> tuple[tuple[int, int], ...]:
    """Sets before the work sets, none longer than a work set but the first; of a complex once or twice."""
    steps = BUILD_UP[tier]
    if work.form in {"ascending", "waves"}:
        steps = BEFORE_ASCENDING
    elif work.form == "find":
        steps = BEFORE_FINDING
    most = [2] * len(steps) if whole else [steps[0][1], *[max(work.most, 2)] * (len(steps) - 1)]
    return tuple((percent, min(reps, limit)) for (percent, reps), limit in zip(steps, most, strict=True))


def _limited_reps(work: Sets) -> int:
    """More reps with less: so many more as the shipped schemes have."""
    longest = max(work.cluster, default=0) or work.most
    more = 3 if longest < MANY_SETS else (4 if longest <= LONG_SET else 2)
    return min(60, longest + more)


def _id(parts: tuple[ComplexPart, ...], work: Sets, tier: Tier | None) -> str:
    """An id that says all of it: other sets, another id."""
    sets = work.sets
    said = [
        f"{OWN}{len(sets)}x{sets[0].reps}"
        if work.as_long
        else f"{OWN}{'_'.join(str(one.reps) for one in sets)}",
        work.form,
        "" if work.unit == "reps" else work.unit,
        *(_of_each(word, [getattr(x, word) for x in sets]) for word in ("least", "percent", "reserve", "kg")),
        "" if work.rest_s is None else f"rest_{work.rest_s}",
        f"every_{work.every_s}" if work.every_s else "",
        f"tempo_{work.tempo}" if work.tempo else "",
        f"pause_{work.pause_s}" if work.pause_s else "",
        f"practice_{work.practice_s}" if work.practice_s else "",
        f"parts_{'_'.join(map(str, work.cluster))}" if work.cluster else "",
        f"within_{work.within_s}" if work.within_s else "",
        f"people_{work.people}" if work.people > 1 else "",
        f"of_{'_'.join(f'{x.reps}_{x.movement}' for x in parts)}" if parts else "",
        tier or "",
    ]
    return "_".join(filter(None, said))


def _of_each(word: str, values: list[object]) -> str:
    """What is said of each set: once where it is the same for all, empty where nothing is."""
    if all(x is None for x in values):
        return ""
    each = values[:1] if all(x == values[0] for x in values) else values
    return f"{word}_" + "_".join(_plain(x) for x in each)


def _plain(value: object) -> str:
    if isinstance(value, tuple):
        return "_".join(str(kg).removesuffix(".0").replace(".", "p").replace("-", "m") for kg in value)
    return "none" if value is None else str(value)
