"""What a man and a woman take in their hands, or stand at, for a line of a conditioning piece."""

from __future__ import annotations

from planner.domain.catalogue import Movement, Tier
from planner.domain.line import BARBELL, PLATE, Held, Takes
from planner.prescribe.loads import conditioning_loads
from planner.prescribe.stock import Stock


def takes_of(movement: Movement, needs: tuple[str, ...], tier: Tier, stock: Stock) -> Takes:
    """Items with their mass, where that is counted; bars and the plates on them are not among them.

    Args:
        movement: the movement.
        needs: items that it is done with; plates that load its bar may be among them.
        tier: how heavy.
        stock: the kit.
    """
    bar = BARBELL in needs
    own = tuple(item for item in needs if not bar or item not in {BARBELL, PLATE})
    setup = next((s for s in movement.setups if set(s.needs) <= set(needs)), movement.setups[0])
    lifted = "" if bar else stock.implement(needs) or ""

    def group(number: int) -> tuple[Held, ...]:
        (load,) = conditioning_loads([(movement, setup, tier)], stock, stock.gym.athletes[number])
        by_mass = bool(stock.counts(lifted))
        return tuple((i, load.kg if load and i == lifted and by_mass else None) for i in own)

    return group(0), group(1)
