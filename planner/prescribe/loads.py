"""Loads: 1RM by lift share, percent by scheme or tier, and what the bars and bells at hand can weigh.

Conditioning follows the rule of the trade that one bar does all of a piece: one load for every barbell line,
and the weakest lift sets it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from planner.domain.at_hand import EVERYTHING
from planner.domain.catalogue import Movement, Scheme, Setup, Tier
from planner.domain.gym import Athlete
from planner.domain.lifting import (
    TIER_LOAD_PERCENT,
    conditioning_target_kg,
    one_rm_kg,
    reference_kg,
    usual_kg,
)
from planner.domain.line import BARBELL, PLATE
from planner.domain.week import Load
from planner.prescribe.percent import set_percents
from planner.prescribe.plates import Loading, makeable, nearest_makeable, nearest_mass
from planner.prescribe.sentences import load_text
from planner.prescribe.stock import Stock

AGAIN_AND_AGAIN_PERCENT = 75
"""Of what an athlete can get into position once, what is asked for under fatigue, round after round; common
practice."""
UP_FROM_PERCENT = 20
"""A conditioning bar is rounded up once it is a fifth of the way to the next load; our choice. Strength
lines are never rounded up."""
SHORT_KG, SHORT_PERCENT = 2.5, 10
"""A load is short of what was wanted if it misses by more than both: rounding is no shortage."""
CEILING_PERCENT = 95
"""A setup that holds the load below this share of what was wanted makes the scheme another one."""


@dataclass(frozen=True)
class StrengthLoad:
    """A load on a strength line.

    Attributes:
        load: what to lift; None where there is no load to choose.
        short: whether the load that the scheme asks for cannot be had.
        because: why it cannot, in a few words; empty where it can.
    """

    load: Load | None
    short: bool = False
    because: str = ""


def scheme_percents(scheme: Scheme) -> tuple[float, ...]:
    """Percent of 1RM of each work set: stated, else by reps and reserve, else by its tier."""
    return set_percents(scheme.work, float(TIER_LOAD_PERCENT[scheme.tier]))


def scheme_percent(scheme: Scheme) -> float:
    """Percent of 1RM that a scheme asks for, on its heaviest set."""
    return max(scheme_percents(scheme))


def ceiling_kg(setup: Setup, athlete: Athlete) -> float | None:
    """The most that a setup lets an athlete use, such as what can be cleaned where there is no rack."""
    if setup.limit is None:
        return None
    base = reference_kg(setup.limit.of, athlete)
    return None if base is None else base * setup.limit.percent / 100


def again_and_again_kg(setup: Setup, athlete: Athlete) -> float | None:
    """The most that a setup lets an athlete use under fatigue, round after round."""
    once = ceiling_kg(setup, athlete)
    return None if once is None else once * AGAIN_AND_AGAIN_PERCENT / 100


def strength_target_kg(movement: Movement, scheme: Scheme, athlete: Athlete) -> float | None:
    """What a scheme asks for on a bar, whatever there is to make it from; None where nothing is known."""
    return _target_kg(movement, scheme_percent(scheme), scheme.tier, athlete)


def strength_load(
    movement: Movement, setup: Setup, scheme: Scheme, stock: Stock, athlete: Athlete
) -> StrengthLoad:
    """What an athlete lifts on the heaviest work set: never above what the scheme asks for.

    Args:
        movement: the movement.
        setup: how it is done with this kit.
        scheme: its sets, reps and percent.
        stock: the kit.
        athlete: whose 1RM.
    """
    return set_load(movement, setup, scheme_percent(scheme), scheme.tier, stock, athlete)


def set_load(  # noqa: PLR0917
    movement: Movement, setup: Setup, percent: float, tier: Tier, stock: Stock, athlete: Athlete
) -> StrengthLoad:
    """What an athlete lifts on a work set at a percent of 1RM; by its tier where no 1RM says it."""
    item = _item(movement, setup, stock)
    if item is None:
        return StrengthLoad(None)
    one_rm = one_rm_kg(movement, athlete)
    if item != BARBELL:
        target = usual_kg(movement, tier, athlete)
        if target is None and one_rm is not None:
            target = one_rm * percent / 100
        if target is None:
            return StrengthLoad(None)
        load = _mass(item, target, stock, athlete, None if movement.kg else one_rm)
        short = _misses(target, load.kg)
        return StrengthLoad(load, short, "no heavier one is at hand" if short else "")
    target = _target_kg(movement, percent, tier, athlete)
    return StrengthLoad(None) if target is None else _on_bar(movement, setup, target, stock, athlete)


def named_load(movement: Movement, setup: Setup, kg: float, stock: Stock, athlete: Athlete) -> StrengthLoad:
    """A load that the coach named: as it was named, on the gym floor in any case.

    In a kit version what is at hand takes its place where it does not come near it.
    """
    item = _item(movement, setup, stock)
    if item is None:
        return StrengthLoad(None)
    one_rm = one_rm_kg(movement, athlete)
    if item == BARBELL:
        found = _on_bar(movement, setup, kg, stock, athlete)
    else:
        load = _mass(item, kg, stock, athlete, None if movement.kg else one_rm)
        found = StrengthLoad(load, _misses(kg, load.kg), "no heavier one is at hand")
    if found.load is None or found.load.kg == kg or (found.short and stock.kit.contains != EVERYTHING):
        return found
    text = load_text(item, stock.items[item].name, kg)
    named = Load(athlete=athlete.id, kg=kg, text=text, percent_1rm=_percent(kg, one_rm))
    return StrengthLoad(named, because=f"nearest to {text} at hand is {found.load.text}")


def _target_kg(movement: Movement, percent: float, tier: Tier, athlete: Athlete) -> float | None:
    one_rm = one_rm_kg(movement, athlete)
    return usual_kg(movement, tier, athlete) if one_rm is None else one_rm * percent / 100


def _on_bar(movement: Movement, setup: Setup, target: float, stock: Stock, athlete: Athlete) -> StrengthLoad:
    most = ceiling_kg(setup, athlete)
    wanted = target if most is None else min(target, most)
    load = _bar_load(makeable(wanted, *_bar(stock, athlete)), athlete, one_rm_kg(movement, athlete))
    if most is not None and setup.limit is not None and most < target * CEILING_PERCENT / 100:
        return StrengthLoad(load, short=True, because=setup.limit.because)
    short = _misses(target, load.kg)
    return StrengthLoad(load, short, "the plates do not go that far" if short else "")


def conditioning_loads(
    lines: Sequence[tuple[Movement, Setup, Tier]], stock: Stock, athlete: Athlete
) -> list[Load | None]:
    """Loads of a conditioning piece: for each implement one load, which the weakest of its lifts sets.

    Args:
        lines: movement, setup and tier, in order.
        stock: the kit.
        athlete: whose.

    Returns:
        For each line its load, or None where there is no load to choose.
    """
    items = [_item(movement, setup, stock) for movement, setup, _ in lines]
    targets: dict[str, float] = {}
    ceilings: dict[str, float] = {}
    for item, (movement, setup, tier) in zip(items, lines, strict=True):
        if item is None:
            continue
        target = conditioning_target_kg(movement, item, tier, athlete)
        if target is not None:
            targets[item] = min(target, targets.get(item, target))
        most = again_and_again_kg(setup, athlete)
        if most is not None:
            ceilings[item] = min(most, ceilings.get(item, most))
    loads: list[Load | None] = []
    for item, (movement, _, _) in zip(items, lines, strict=True):
        if item is None or item not in targets:
            loads.append(None)
            continue
        one_rm = one_rm_kg(movement, athlete)
        if item == BARBELL:
            made = _conditioning_bar(targets[item], ceilings.get(item), stock, athlete)
            loads.append(_bar_load(made, athlete, one_rm))
        else:
            loads.append(_mass(item, targets[item], stock, athlete, None if movement.kg else one_rm))
    return loads


def said_load(kg: float, setup: Setup, stock: Stock, athlete: Athlete) -> Load:
    """A load that the coach named; with its plates, where the bars and plates at hand make it.

    Args:
        kg: of one implement, or of the whole bar.
        setup: how the line is done.
        stock: the kit.
        athlete: whose.
    """
    item = stock.implement(setup.needs) or BARBELL
    if item == BARBELL:
        made, per_side = makeable(kg, *_bar(stock, athlete))
        plates = per_side if made == kg else ()
        return Load(athlete=athlete.id, kg=kg, text=load_text(item, "", kg), per_side_kg=plates)
    return Load(athlete=athlete.id, kg=kg, text=load_text(item, stock.items[item].name, kg))


def build_up_kg(work_kg: float, percent: int, stock: Stock, athlete: Athlete) -> float:
    """Load of a build-up set on the bar, in percent of the work load; the empty bar at least."""
    return makeable(work_kg * percent / 100, *_bar(stock, athlete))[0]


def _item(movement: Movement, setup: Setup, stock: Stock) -> str | None:
    """The implement whose load is to be chosen; a bar that is only hopped over has none."""
    return stock.implement(setup.needs) if movement.modality == "loaded" else None


def _bar(stock: Stock, athlete: Athlete) -> tuple[float, dict[float, int], float]:
    return stock.bar_kg(athlete), stock.counts(PLATE), stock.gym.collars_kg


def _conditioning_bar(target: float, most: float | None, stock: Stock, athlete: Athlete) -> Loading:
    bar = _bar(stock, athlete)
    wanted = target if most is None else min(target, most)
    made = nearest_makeable(wanted, *bar, up_from_percent=UP_FROM_PERCENT)
    if most is not None and made[0] > most:
        return makeable(most, *bar)
    return made


def _bar_load(made: Loading, athlete: Athlete, one_rm: float | None) -> Load:
    kg, per_side = made
    return Load(
        athlete=athlete.id,
        kg=kg,
        text=load_text(BARBELL, "", kg),
        per_side_kg=per_side,
        percent_1rm=_percent(kg, one_rm),
    )


def _mass(item: str, target: float, stock: Stock, athlete: Athlete, one_rm: float | None) -> Load:
    nearest = nearest_mass(target, stock.masses_kg(item, athlete))
    kg = target if nearest is None else nearest
    return Load(
        athlete=athlete.id,
        kg=kg,
        text=load_text(item, stock.items[item].name, kg),
        percent_1rm=_percent(kg, one_rm),
    )


def _percent(kg: float, one_rm: float | None) -> int | None:
    return round(100 * kg / one_rm) if one_rm else None


def _misses(target: float, kg: float) -> bool:
    return target - kg > max(SHORT_KG, target * SHORT_PERCENT / 100)
