"""Whether a movement can come on the gym floor at all, and if not, why."""

from __future__ import annotations

from planner.domain.catalogue import Catalogue, Movement, Role, Scheme, Tier
from planner.domain.gym import DAY_NAMES, Day
from planner.domain.requests import PieceName, Requests
from planner.errors import DataError
from planner.prescribe.equipped import equipped
from planner.prescribe.stock import Stock
from planner.problem.candidates import suits
from planner.weeks.setting import Setting


def why_never(setting: Setting, movement: str, piece: PieceName | None = None) -> str:
    """Says why a movement is never programmed on the gym floor; empty if it can be.

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
    stock = Stock(gym, gym.kits[0], setting.catalogue.items)
    ways = ((role, *way) for role in roles for way in _ways(m, role, setting.catalogue))
    lacks = [equipped(m, role, tier, scheme, stock).lacks for role, tier, scheme in ways]
    return lacks[0] if lacks and all(lacks) else ""


def refuse_never(
    setting: Setting, asked: Requests, movement: str | None, day: Day | None, piece: PieceName | None = None
) -> None:
    """Refuses to lock or to ask for a movement that cannot come.

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


def _ways(m: Movement, role: Role, catalogue: Catalogue) -> list[tuple[Tier, Scheme | None]]:
    """How heavy, or by which schemes, a movement is programmed in a piece."""
    if role == "conditioning":
        return [(tier, None) for tier in m.doses]
    return [(s.tier, s) for s in catalogue.schemes.values() if suits(m, s, role)]
