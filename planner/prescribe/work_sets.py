"""The work sets of a strength line, each with its own load for both athletes."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from planner.domain.catalogue import Movement, Scheme, Setup, Sides
from planner.domain.complexes import Complex
from planner.domain.gym import Athlete, athlete_index
from planner.domain.lifting import one_rm_kg
from planner.domain.plan import StrengthLine
from planner.domain.sets import Sets
from planner.domain.week import AlikeSets, Dose
from planner.domain.words import clock, listed
from planner.prescribe.loads import StrengthLoad, named_load, scheme_percents, set_load
from planner.prescribe.sentences import dose_text
from planner.prescribe.stock import Stock


def set_loads(
    line: StrengthLine, movement: Movement, setup: Setup, scheme: Scheme, stock: Stock, *, as_named: bool
) -> tuple[tuple[StrengthLoad, ...], ...]:
    """For each reference athlete the load of each work set: named by the coach, else by the scheme.

    Args:
        line: as planned.
        movement: what is lifted.
        setup: how, with this kit.
        scheme: its scheme.
        stock: the kit.
        as_named: whether the coach's loads are meant for it; those of a lift are not for its stand-in.
    """
    percents, sets = scheme_percents(scheme), scheme.work.sets

    def load(i: int, athlete: Athlete) -> StrengthLoad:
        named = sets[i].kg or line.kg if as_named else None
        if named is not None:
            return named_load(movement, setup, named[athlete_index(athlete)], stock, athlete)
        return set_load(movement, setup, percents[i], scheme.tier, stock, athlete)

    keys = [(percent, one.kg) for percent, one in zip(percents, sets, strict=True)]
    first = {key: keys.index(key) for key in keys}
    made = ({key: load(i, athlete) for key, i in first.items()} for athlete in stock.gym.athletes)
    return tuple(tuple(own[key] for key in keys) for own in made)


def heaviest(loads: Sequence[StrengthLoad]) -> StrengthLoad:
    """The heaviest of an athlete's sets; of those that are as heavy, one that should have been heavier."""
    return max(loads, key=lambda x: (x.load.kg if x.load else 0.0, x.short))


def alike_sets(
    scheme: Scheme, loads: Sequence[Sequence[StrengthLoad]], sides: Sides
) -> tuple[AlikeSets, ...]:
    """Work sets in a row that are alike, with their loads; empty where all of them are."""
    work = scheme.work
    rows = [
        (one.reps, one.text, one.reserve, tuple(own[i].load for own in loads if own[i].load is not None))
        for i, one in enumerate(work.sets)
    ]
    runs = [(row, len(list(same))) for row, same in groupby(rows)]
    if len(runs) == 1:
        return ()
    return tuple(
        AlikeSets(
            sets=count,
            reps=reps,
            text=dose_text(reps, work.unit, sides).replace(str(reps), said, 1),
            reserve=reserve,
            loads=tuple(x for x in each if x is not None),
        )
        for (reps, said, reserve, each), count in runs
    )


def sets_dose(work: Sets, sides: Sides) -> Dose:
    """The dose of a set; where sets are not as long as each other, of all of them in a row."""
    most = work.most
    text = dose_text(most, work.unit, sides)
    if work.practice_s:
        text = f"{clock(work.practice_s)} of practice"
    elif work.form == "find" and work.unit == "reps":
        text = "heavy single" if most == 1 else f"heavy {text}"
    elif not work.as_long or work.sets[0].least:
        text = text.replace(str(most), work.run if not work.as_long else work.sets[0].text, 1)
    elif work.cluster:
        text = text.replace(str(most), "+".join(map(str, work.cluster)), 1)
    return Dose(value=most, unit=work.unit, sides=sides, text=text)


def weakest(movement: Movement, athletes: Sequence[Athlete]) -> str:
    """Which part of a complex sets its load, as a sentence; empty for one movement."""
    if not isinstance(movement, Complex):
        return ""
    found = []
    for athlete in athletes:
        known = [(kg, part.name) for part, _ in movement.of if (kg := one_rm_kg(part, athlete)) is not None]
        found += [min(known)[1]] if known else []
    names = listed(dict.fromkeys(found))
    return f"The weakest lift sets the load: {names}" if names else ""
