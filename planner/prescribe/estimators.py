"""1RM from a set to failure: seven published formulas, and how far they disagree.

Formulas as printed in several secondary pages and in the comparison papers; see
``shared/reference/estimators.csv`` and ``estimator_examples.csv`` for sources and worked figures. All of
them get worse as reps rise (Whisenant 2003); the linear ones stop at 10 (Reynolds 2006).
"""

from __future__ import annotations

from collections.abc import Callable
from math import exp
from statistics import mean

MOST_REPS = 12
"""Beyond this the formulas are guesses; published advice stops at 10."""


def epley(load_kg: float, reps: int) -> float:
    """Epley 1985: w(1 + r/30). At one rep the formula would give 1.033 w; one rep is the 1RM itself."""
    return load_kg if reps == 1 else load_kg * (1 + reps / 30)


def brzycki(load_kg: float, reps: int) -> float:
    """Brzycki 1993: 36w/(37 - r)."""
    return load_kg * 36 / (37 - reps)


def lombardi(load_kg: float, reps: int) -> float:
    """Lombardi 1989: w r^0.10."""
    return load_kg * float(reps**0.10)


def oconner(load_kg: float, reps: int) -> float:
    """O'Conner, Simmons and O'Shea 1989: w(1 + 0.025 r)."""
    return load_kg * (1 + 0.025 * reps)


def wathan(load_kg: float, reps: int) -> float:
    """Wathan 1994: 100w/(48.8 + 53.8 e^(-0.075 r))."""
    return 100 * load_kg / (48.8 + 53.8 * exp(-0.075 * reps))


def mayhew(load_kg: float, reps: int) -> float:
    """Mayhew and others 1992: 100w/(52.2 + 41.9 e^(-0.055 r))."""
    return 100 * load_kg / (52.2 + 41.9 * exp(-0.055 * reps))


def lander(load_kg: float, reps: int) -> float:
    """Lander 1985: 100w/(101.3 - 2.67123 r)."""
    return 100 * load_kg / (101.3 - 2.67123 * reps)


ESTIMATORS: dict[str, Callable[[float, int], float]] = {
    "Epley": epley,
    "Brzycki": brzycki,
    "Lombardi": lombardi,
    "OConner": oconner,
    "Wathan": wathan,
    "Mayhew": mayhew,
    "Lander": lander,
}


def estimates_kg(load_kg: float, reps: int) -> dict[str, float]:
    """Every formula's 1RM in kg, by name.

    Args:
        load_kg: of the set.
        reps: done to failure, 1 to ``MOST_REPS``.

    Raises:
        ValueError: outside those reps.
    """
    if not 1 <= reps <= MOST_REPS:
        raise ValueError(f"{reps} reps: a 1RM can be estimated from 1 to {MOST_REPS} reps")
    return {name: formula(load_kg, reps) for name, formula in ESTIMATORS.items()}


def spread_kg(load_kg: float, reps: int) -> tuple[float, float, float]:
    """Lowest, mean and highest of the seven estimates, in kg."""
    values = list(estimates_kg(load_kg, reps).values())
    return min(values), mean(values), max(values)
