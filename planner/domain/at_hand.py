"""What a kit version has at hand, and how a movement is done with it."""

from __future__ import annotations

from planner.domain.catalogue import Movement, Setup
from planner.domain.gym import Gym, Kit
from planner.domain.line import LinePiece

EVERYTHING = ("everything",)


def held_items(gym: Gym, kit: Kit) -> frozenset[str]:
    """Items at hand in a kit version; on the gym floor all that the gym has at least one of."""
    if kit.contains == EVERYTHING:
        return frozenset(item for item in gym.inventory if gym.count(item) > 0)
    return frozenset(kit.contains)


def enough_in_turns(gym: Gym, kit: Kit) -> frozenset[str]:
    """Items at hand in the strength piece: on the gym floor only those that serve the class in turns.

    Four racks serve twelve people, three to a rack; with two, the class takes its bars from the floor.
    """
    held = held_items(gym, kit)
    if kit.contains != EVERYTHING:
        return held
    return frozenset(i for i in held if gym.count(i) * gym.class_.turns >= gym.class_.size)


def items_for(gym: Gym, kit: Kit, piece: LinePiece) -> frozenset[str]:
    """Items at hand for a piece."""
    return held_items(gym, kit) if piece == "conditioning" else enough_in_turns(gym, kit)


def usable_setup(movement: Movement, held: frozenset[str], piece: LinePiece | None = None) -> Setup | None:
    """The setup used: the first, in the catalogue's order of preference, whose every item is at hand.

    Args:
        movement: the movement.
        held: ids of the items at hand.
        piece: in which it is done; in conditioning the bar never comes from a rack. Any if None.

    Returns:
        The setup, or None where the movement cannot be done.
    """
    for setup in movement.setups:
        if held.issuperset(setup.needs) and not (piece == "conditioning" and setup.start == "rack"):
            return setup
    return None
