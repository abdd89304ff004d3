"""Whether a movement can come on the gym floor at all, and if not, why."""

from __future__ import annotations

from planner.domain.at_hand import items_for, usable_setup
from planner.domain.gym import DAY_NAMES, Day
from planner.domain.requests import PieceName, Requests
from planner.errors import DataError
from planner.weeks.setting import Setting


def why_never(setting: Setting, movement: str, piece: PieceName | None = None) -> str:
    """Why a movement cannot come on the gym floor on any day; empty where it can.

    Args:
        setting: gym, catalogue, what was asked for.
        movement: id.
        piece: in which it should come; in any if None.
    """
    m, gym = setting.catalogue.movements[movement], setting.gym
    if any(b.movement == movement and b.day is None for b in setting.requests.bans):
        return f"{m.name} is ruled out this week"
    if m.skill > gym.class_.skill:
        return f"{m.name} asks for skill {m.skill}, and the class has {gym.class_.skill}"
    if not m.roles:
        return f"{m.name} is not programmed on the gym floor; the catalogue has it only as a stand-in"
    wanted = {"strength": ("main", "assistance"), "conditioning": ("conditioning",), None: m.roles}[piece]
    roles = [role for role in m.roles if role in wanted]
    if not roles:
        return f"{m.name} is never in the {piece} piece: it is programmed as {' or '.join(m.roles)}"
    if any(usable_setup(m, items_for(gym, gym.kits[0], role), role) for role in roles):
        return ""
    items = setting.catalogue.items
    needs = " or ".join(" and ".join(items[i].name for i in s.needs) for s in m.setups)
    return f"{m.name} needs {needs}, more than the gym has for a class"


def refuse_never(
    setting: Setting, asked: Requests, movement: str | None, day: Day | None, piece: PieceName | None = None
) -> None:
    """Refuse to lock or to ask for a movement that cannot come.

    Raises:
        DataError: it cannot, and why; nothing if no movement is named.
    """
    if movement is None:
        return
    never = why_never(setting.asking(asked), movement, piece)
    if never:
        raise DataError(never, advice="Name another movement; planner catalogue list shows them.")
    if day and any(b.movement == movement and b.day == day for b in asked.bans):
        name = setting.catalogue.movements[movement].name
        raise DataError(f"{name} is ruled out on {DAY_NAMES[day]}", advice="Allow it again first.")
