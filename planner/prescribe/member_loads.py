"""One member's loads from their own 1RM or rep max, in plates that the gym has."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from difflib import get_close_matches

from planner.domain.catalogue import Catalogue, Movement, Scheme
from planner.domain.complexes import lifted
from planner.domain.gym import Gym
from planner.domain.line import BARBELL, PLATE
from planner.domain.week import Line, Week
from planner.errors import DataError
from planner.prescribe.estimators import spread_kg
from planner.prescribe.loads import scheme_percents
from planner.prescribe.one_rm import Reading, reading_of
from planner.prescribe.plates import grams, makeable

MOST_KG = 500.0
LOW_PERCENT, HIGH_PERCENT = 60, 130
"""The card goes from this share of the lighter reference 1RM to that of the heavier one; our choice."""
STEP_KG, WIDE_STEP_KG, WIDE_FROM_KG = 5, 10, 120
WEAKEST = "the weakest of these lifts"
REPS_MAX_COLUMNS = (2, 3, 5, 8, 10)
ESTIMATE_LOADS_KG = tuple(range(20, 161, 10))


@dataclass(frozen=True)
class BarLoad:
    """A load that can be made on one bar.

    Attributes:
        bar_kg: the empty bar.
        kg: bar, plates and collars.
        per_side_kg: plates on each side, heaviest first.
        percent_1rm: of the lift's own 1RM, rounded.
        too_heavy: whether even the empty bar is above what was asked for.
    """

    bar_kg: float
    kg: float
    per_side_kg: tuple[float, ...]
    percent_1rm: int
    too_heavy: bool


@dataclass(frozen=True)
class MemberLoad:
    """Work load for one 1RM: what the scheme asks for, and on each bar the heaviest not above it.

    Attributes:
        one_rm_kg: as tested.
        target_kg: what the scheme asks for.
        bars: a load for each.
    """

    one_rm_kg: float
    target_kg: float
    bars: tuple[BarLoad, ...]


@dataclass(frozen=True)
class LiftCard:
    """A lift of the week with its loads by 1RM.

    Attributes:
        days: it is lifted on.
        lift: name.
        scheme: "Four sets of six across".
        percent: of the lift's own 1RM that the scheme asks for, on its heaviest set.
        percents: of each set.
        tested: the lift whose 1RM the rows go by.
        rows: by 1RM, ascending.
    """

    days: tuple[str, ...]
    lift: str
    scheme: str
    percent: float
    percents: tuple[float, ...]
    tested: Reading
    rows: tuple[MemberLoad, ...]


def bars_of(gym: Gym) -> tuple[float, ...]:
    """Masses of the gym's bars, heaviest first; those of the reference athletes where none are counted."""
    held = gym.inventory.get(BARBELL)
    masses = [kg for kg, count in held.items() if count] if isinstance(held, dict) else []
    return tuple(sorted(set(masses or [athlete.bar_kg for athlete in gym.athletes]), reverse=True))


def member_load(
    one_rm: float, percent: float, gym: Gym, bars: tuple[float, ...] = (), *, share: int = 100
) -> MemberLoad:
    """The work load for a 1RM, rounded down to what the plates can make.

    Args:
        one_rm: in kg, of the tested lift.
        percent: of the lift's own 1RM that the scheme asks for.
        gym: whose plates and collars.
        bars: masses of the bars; the gym's own if empty.
        share: the lift's own 1RM in percent of the tested one.

    Raises:
        DataError: the 1RM is not a mass that anybody lifts.
    """
    if not 0 < one_rm <= MOST_KG:
        raise DataError(f"a 1RM of {one_rm:g} kg cannot be meant", advice=f"Give 1 to {MOST_KG:g} kg.")
    own = one_rm * share / 100
    target = own * percent / 100
    held = gym.inventory.get(PLATE)
    plates: Mapping[float, int] = held if isinstance(held, dict) else {}
    return MemberLoad(
        one_rm_kg=one_rm,
        target_kg=target,
        bars=tuple(_on_bar(target, own, bar, plates, gym.collars_kg) for bar in bars or bars_of(gym)),
    )


def _on_bar(
    target: float, own_kg: float, bar_kg: float, plates: Mapping[float, int], collars_kg: float
) -> BarLoad:
    kg, side = makeable(target, bar_kg, plates, collars_kg)
    return BarLoad(bar_kg, kg, side, round(100 * kg / own_kg), too_heavy=grams(kg) > grams(target))


def find_lift(name: str, catalogue: Catalogue) -> Movement:
    """A movement by its name or id.

    Raises:
        DataError: there is none, or it is not done with a bar whose 1RM can be known.
    """
    wanted = " ".join(name.casefold().replace("_", " ").split())
    named = {m.name.casefold(): m for m in catalogue.movements.values()}
    named |= {key.replace("_", " "): m for key, m in catalogue.movements.items()}
    lifts = sorted({m.name for m in named.values() if _is_lift(m)})
    found = named.get(wanted)
    if found is None:
        close = get_close_matches(wanted, lifts, n=1)
        hint = f' Did you mean "{close[0]}"?' if close else ""
        raise DataError(f'there is no lift "{name}".{hint}', advice="planner catalogue list shows all.")
    if not _is_lift(found):
        raise DataError(f"{found.name} has no 1RM on a bar", advice=f"Lifts: {', '.join(lifts)}.")
    return found


def _is_lift(movement: Movement) -> bool:
    return movement.lift is not None and any(BARBELL in setup.needs for setup in movement.setups)


def find_schemes(text: str, catalogue: Catalogue) -> tuple[Scheme, ...]:
    """Schemes of strength work by id, or by sets and reps such as "4x6"; those beside a main lift left out.

    Raises:
        DataError: there is none.
    """
    if text in catalogue.schemes:
        return (catalogue.schemes[text],)
    main = [s for s in catalogue.schemes.values() if s.goal != "assistance" and s.drafted]
    known = [s for s in main if s.unit == "reps"]
    match = re.fullmatch(r"\s*(\d+)\s*[x\N{MULTIPLICATION SIGN}]\s*(\d+)\s*", text)
    wanted = (int(match[1]), int(match[2])) if match else None
    found = tuple(s for s in known if (s.sets, s.reps) == wanted)
    if not found:
        forms = ", ".join(dict.fromkeys(f"{s.sets}x{s.reps}" for s in known))
        raise DataError(f'there is no scheme "{text}"', advice=f"Known, sets x reps: {forms}.")
    return found


def week_cards(week: Week, gym: Gym, catalogue: Catalogue) -> tuple[LiftCard, ...]:
    """The gym floor's main lifts on the bar, each with a table of loads by 1RM.

    Args:
        week: the solved week.
        gym: whose bars and plates.
        catalogue: for the percent of the schemes.
    """
    found: dict[tuple[str, str], tuple[list[str], Line, str, tuple[float, ...]]] = {}
    for session in week.sessions:
        for piece in session.pieces:
            version = piece.versions.get(week.kits[0].id) if piece.kind == "strength" else None
            for line in version.lines if version else ():
                percents = _percents(line, catalogue)
                looked_for = line.sets is None
                if line.assistance or looked_for or not (percents and any(x.per_side_kg for x in line.loads)):
                    continue
                key = (line.movement, piece.title)
                found.setdefault(key, ([], line, piece.title, percents))[0].append(session.day)
    return tuple(_card(*entry, gym, catalogue) for entry in found.values())


def _card(  # noqa: PLR0917
    days: list[str], line: Line, title: str, percents: tuple[float, ...], gym: Gym, catalogue: Catalogue
) -> LiftCard:
    movement, scheme = catalogue.movements.get(line.movement), _scheme(line, catalogue)
    whole = bool(movement and scheme and lifted(movement, scheme, catalogue.movements) is not movement)
    tested = Reading(WEAKEST if whole else line.name)
    if movement and not whole:
        tested = reading_of(movement, catalogue)
    rows = _rows(line, max(percents), tested, gym)
    return LiftCard(tuple(days), line.name, title, max(percents), percents, tested, rows)


def _scheme(line: Line, catalogue: Catalogue) -> Scheme | None:
    return (line.planned.own if line.planned else None) or catalogue.schemes.get(line.scheme)


def _percents(line: Line, catalogue: Catalogue) -> tuple[float, ...]:
    """What each set asks for; where the scheme is not known, or the loads were named, the printed loads."""
    scheme = _scheme(line, catalogue)
    named = line.planned is not None and line.planned.kg is not None
    if scheme is not None and not named and not any(one.kg for one in scheme.work.sets):
        return scheme_percents(scheme)
    each = [alike.loads for alike in line.work_sets for _ in range(alike.sets)] or [line.loads]
    known = [[x.percent_1rm for x in loads if x.percent_1rm is not None] for loads in each]
    return tuple(float(max(of_set)) for of_set in known if of_set)


def _rows(line: Line, percent: float, tested: Reading, gym: Gym) -> tuple[MemberLoad, ...]:
    best = [100 * x.kg / (x.percent_1rm or percent) * 100 / tested.percent for x in line.loads]
    low, high = min(best) * LOW_PERCENT / 100, max(best) * HIGH_PERCENT / 100
    step = STEP_KG if high - low <= WIDE_FROM_KG else WIDE_STEP_KG
    first, last = int(low // step * step) or step, int(-(-high // step) * step)
    every = range(first, last + 1, step)
    return tuple(member_load(float(kg), percent, gym, share=tested.percent) for kg in every)


def estimate_table() -> tuple[tuple[float, tuple[tuple[float, float, float], ...]], ...]:
    """For loads and reps of a set to failure the lowest, mean and highest estimate of the 1RM, in kg."""
    return tuple(
        (float(kg), tuple(spread_kg(kg, reps) for reps in REPS_MAX_COLUMNS)) for kg in ESTIMATE_LOADS_KG
    )
