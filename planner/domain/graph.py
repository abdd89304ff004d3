"""How movements hang together: easier options, stand-ins, and what the loss of equipment would cost.

``easier`` edges are the catalogue's own; stand-in edges are computed by ``substitution_cost``.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from graphlib import CycleError, TopologicalSorter
from typing import TYPE_CHECKING, Literal

from planner.domain.at_hand import held_items, usable_setup
from planner.domain.catalogue import PATTERNS, Catalogue, Movement, Pattern
from planner.domain.gym import Gym
from planner.domain.substitution import substitution_cost
from planner.domain.timing import TRANSITION_TENTHS, dose_tenths
from planner.domain.words import spoken

if TYPE_CHECKING:
    import networkx as nx  # imported late: whoever only loads a catalogue does not wait for it

STAND_IN_LIMIT = 40
"""A dearer stand-in is none: most of what the original was for is lost; a design choice."""
FEW_OF_A_PATTERN, FEW_WITHOUT_KIT = 12, 25
"""Fewer movements than these, and a week with rotation soon repeats itself; a design choice."""

Coverage = dict[Pattern, dict[str, int]]


@dataclass(frozen=True)
class CheckFinding:
    """Something that a check of the catalogue has to say.

    Attributes:
        level: ``error`` must be mended, ``warning`` should be, ``info`` is only good to know.
        text: in a sentence or two.
    """

    level: Literal["error", "warning", "info"]
    text: str


@dataclass(frozen=True)
class ItemLoss:
    """What the loss of one item of equipment would do.

    Attributes:
        item: id.
        movements: that could not be done any more, by id, in catalogue order.
        cost: of the best stand-ins for those, added up; 100 where there is none.
    """

    item: str
    movements: tuple[str, ...]
    cost: int


def easier_graph(catalogue: Catalogue) -> nx.DiGraph[str]:
    """An edge from each movement to each of its easier options, with ``how`` on it."""
    import networkx as nx

    graph: nx.DiGraph[str] = nx.DiGraph()
    graph.add_nodes_from(catalogue.movements)
    for movement in catalogue.movements.values():
        graph.add_edges_from((movement.id, e.to, {"how": e.how}) for e in movement.easier)
    return graph


def easier_cycle(catalogue: Catalogue) -> tuple[str, ...]:
    """Movements that lead back to themselves over easier options, in order; empty where none do."""
    try:
        TopologicalSorter({m.id: [e.to for e in m.easier] for m in catalogue.movements.values()}).prepare()
    except CycleError as error:
        circle: list[str] = error.args[1][:0:-1]  # it names each after the one that leads to it
        at = circle.index(min(circle, key=list(catalogue.movements).index))
        return (*circle[at:], *circle[:at])
    return ()


def substitution_graph(catalogue: Catalogue, limit: int = STAND_IN_LIMIT) -> nx.DiGraph[str]:
    """An edge from each movement to each stand-in, its ``weight`` the cost.

    Args:
        catalogue: the movements.
        limit: the highest cost that still makes an edge.
    """
    import networkx as nx

    graph: nx.DiGraph[str] = nx.DiGraph()
    graph.add_nodes_from(catalogue.movements)
    movements = tuple(catalogue.movements.values())
    for original in movements:
        costs = ((stand_in.id, substitution_cost(original, stand_in)) for stand_in in movements)
        graph.add_weighted_edges_from(
            (original.id, s, c) for s, c in costs if s != original.id and c <= limit
        )
    return graph


def coverage(catalogue: Catalogue, gym: Gym | None) -> Coverage:
    """How many movements each pattern has in each kit version, each movement counted once, by main pattern.

    Args:
        catalogue: the movements.
        gym: for its kit versions and the skill of its class; without one, ``everything`` and ``no_kit``.

    Returns:
        Counts by pattern, then by kit version; every pattern is there, if only with nought.
    """
    kits = _kits(catalogue, gym)
    table: Coverage = {pattern: dict.fromkeys(kits, 0) for pattern in PATTERNS}
    for movement in _within_skill(catalogue, gym):
        for kit, held in kits.items():
            table[movement.main_pattern][kit] += usable_setup(movement, held) is not None
    return table


def no_kit_reachable(catalogue: Catalogue, limit: int = STAND_IN_LIMIT) -> dict[str, str | None]:
    """The nearest movement without equipment, for each movement.

    A movement without equipment is its own. Otherwise the cheapest stand-in counts, be it an easier option,
    directly or over several steps, or a stand-in of at most ``limit``.

    Returns:
        Id of the nearest, by id; None where there is none.
    """
    import networkx as nx

    free = [m for m in catalogue.movements.values() if usable_setup(m, frozenset()) is not None]
    easier = easier_graph(catalogue)
    nearest: dict[str, str | None] = {}
    for movement in catalogue.movements.values():
        below = nx.descendants(easier, movement.id) | {movement.id}
        costs = [(substitution_cost(movement, other), other.id) for other in free]
        near = [(cost, other) for cost, other in costs if cost <= limit or other in below]
        nearest[movement.id] = min(near)[1] if near else None
    return nearest


def item_losses(catalogue: Catalogue) -> tuple[ItemLoss, ...]:
    """What each single item's loss would do, all else at hand, the worst first."""
    every = frozenset(catalogue.items)
    ranked = {
        movement.id: sorted(
            (substitution_cost(movement, other), other.id) for other in _others(catalogue, movement)
        )
        for movement in catalogue.movements.values()
    }
    losses: list[ItemLoss] = []
    for item in catalogue.items:
        left = every - {item}
        possible = {m.id for m in catalogue.movements.values() if usable_setup(m, left) is not None}
        lost = tuple(m for m in catalogue.movements if m not in possible)
        costs = (next((cost for cost, other in ranked[m] if other in possible), 100) for m in lost)
        losses.append(ItemLoss(item, lost, sum(costs)))
    return tuple(sorted(losses, key=lambda loss: (-loss.cost, -len(loss.movements), loss.item)))


def critical_item(catalogue: Catalogue) -> ItemLoss | None:
    """The single item whose loss hurts most; None where no movement needs any."""
    worst = next(iter(item_losses(catalogue)), None)
    return worst if worst and worst.movements else None


def coverage_rows(catalogue: Catalogue, gym: Gym | None) -> tuple[tuple[str, ...], ...]:
    """The coverage as rows of text: a heading, one row for each pattern, and the totals."""
    table = coverage(catalogue, gym)
    kits = tuple(_kits(catalogue, gym))
    names = (
        {kit.id: kit.name for kit in gym.kits} if gym else {"everything": "Everything", "no_kit": "No kit"}
    )
    rows = [("Pattern", *(names[kit] for kit in kits))]
    rows += [(spoken(p), *(str(counts[kit]) for kit in kits)) for p, counts in table.items()]
    rows.append(("All", *(str(sum(counts[kit] for counts in table.values())) for kit in kits)))
    return tuple(rows)


def check_catalogue(catalogue: Catalogue, gym: Gym | None = None) -> tuple[CheckFinding, ...]:
    """All that is wrong, thin or out of reach in the catalogue, for a gym or for any; errors first.

    Args:
        catalogue: the catalogue.
        gym: its kit versions, equipment and skill count where it is given.
    """
    cycle = easier_cycle(catalogue)
    findings = [
        *([CheckFinding("error", f"Easier options run in a circle: {' -> '.join(cycle)}.")] if cycle else []),
        *_unreachable(catalogue),
        *_orphans(catalogue),
        *_dead(catalogue, gym),
        *_starved(catalogue),
        *_out_of_reach(catalogue, gym),
        *_most_critical(catalogue),
    ]
    order = ("error", "warning", "info")
    return tuple(sorted(findings, key=lambda finding: order.index(finding.level)))


def _unreachable(catalogue: Catalogue) -> Iterator[CheckFinding]:
    for movement, nearest in no_kit_reachable(catalogue).items():
        if nearest is None:
            yield CheckFinding(
                "error",
                f"No movement without equipment can stand for {catalogue.movements[movement].name}: give it "
                f"an easier option that needs none, or a cost of at most {STAND_IN_LIMIT} under substitutes.",
            )


def _orphans(catalogue: Catalogue) -> Iterator[CheckFinding]:
    graph = substitution_graph(catalogue)
    for movement in catalogue.movements.values():
        if not graph.out_degree(movement.id):
            yield CheckFinding(
                "error", f"Nothing can stand for {movement.name}: no stand-in costs at most {STAND_IN_LIMIT}."
            )


def _dead(catalogue: Catalogue, gym: Gym | None) -> Iterator[CheckFinding]:
    goals = {scheme.goal for scheme in catalogue.schemes.values()}
    kits = _kits(catalogue, gym)
    easier = {e.to for m in catalogue.movements.values() for e in m.easier}
    for movement in catalogue.movements.values():
        if not movement.all_roles and movement.id in easier:
            continue  # it is only ever an easier option
        reasons: list[str] = []
        if not any(usable_setup(movement, held) for held in kits.values()):
            reasons.append("the gym lacks the equipment")
        if gym and movement.skill > gym.class_.skill:
            reasons.append(f"it asks skill {movement.skill}, the class has {gym.class_.skill}")
        lifts = "main" in movement.all_roles and not goals.isdisjoint(movement.goals)
        helps = "assistance" in movement.all_roles and "assistance" in goals
        if not (lifts or helps or _fits_conditioning(movement, catalogue)):
            reasons.append("no scheme has its goals, and no dose of it fits a conditioning piece")
        if reasons:
            yield CheckFinding("warning", f"No week can use {movement.name}: {'; '.join(reasons)}.")


def _fits_conditioning(movement: Movement, catalogue: Catalogue) -> bool:
    """Whether some dose fits inside some shape, at least beside other movements, and under the cap."""
    if "conditioning" not in movement.all_roles:
        return False
    for shape in catalogue.shapes.values():
        for tier, doses in movement.doses.items():
            for dose in (sum(shape.ladder),) if shape.ladder else doses:
                tenths = dose_tenths(movement, dose, tier)
                least, most = shape.station_s or (0, tenths)
                fits_slot = least * 10 <= tenths <= most * 10 or not shape.station_s
                fits_round = tenths + shape.movements * TRANSITION_TENTHS <= shape.window_tenths[1]
                if fits_slot and fits_round and dose * shape.rounds <= movement.cap:
                    return True
    return False


def _starved(catalogue: Catalogue) -> Iterator[CheckFinding]:
    for pattern, counts in coverage(catalogue, None).items():
        if counts["everything"] < FEW_OF_A_PATTERN:
            yield CheckFinding(
                "warning",
                f"Only {counts['everything']} movements have {spoken(pattern)} as their main pattern; "
                f"with fewer than {FEW_OF_A_PATTERN} the weeks soon repeat.",
            )
    without = sum(counts["no_kit"] for counts in coverage(catalogue, None).values())
    if without < FEW_WITHOUT_KIT:
        yield CheckFinding(
            "warning",
            f"Only {without} movements need no equipment; with fewer than {FEW_WITHOUT_KIT} the weeks of a "
            "member without kit soon repeat.",
        )


def _out_of_reach(catalogue: Catalogue, gym: Gym | None) -> Iterator[CheckFinding]:
    kits = _kits(catalogue, gym)
    names = (
        {kit.id: kit.name for kit in gym.kits} if gym else {"everything": "Everything", "no_kit": "No kit"}
    )
    usable = _within_skill(catalogue, gym)
    for pattern, counts in coverage(catalogue, gym).items():
        originals = [m for m in usable if m.main_pattern == pattern]
        for kit, held in kits.items():
            if counts[kit]:
                continue
            possible = [m for m in usable if usable_setup(m, held) is not None]
            pairs = [(substitution_cost(o, s), o.name, s.name) for o in originals for s in possible]
            text = f"{spoken(pattern).capitalize()} is out of reach in the version {names[kit]}"
            if pairs:
                cost, original, stand_in = min(pairs)
                text += f"; the nearest stand-in is {stand_in} for {original}, cost {cost} of 100"
            yield CheckFinding("info", f"{text}.")


def _most_critical(catalogue: Catalogue) -> Iterator[CheckFinding]:
    worst = critical_item(catalogue)
    if worst:
        item = catalogue.items[worst.item]
        yield CheckFinding(
            "info",
            f"The loss of all {item.plural} would hurt most: {len(worst.movements)} movements could not be "
            f"done, and their best stand-ins cost {worst.cost} in all.",
        )


def _kits(catalogue: Catalogue, gym: Gym | None) -> dict[str, frozenset[str]]:
    if gym is None:
        return {"everything": frozenset(catalogue.items), "no_kit": frozenset()}
    return {kit.id: held_items(gym, kit) for kit in gym.kits}


def _within_skill(catalogue: Catalogue, gym: Gym | None) -> tuple[Movement, ...]:
    return tuple(m for m in catalogue.movements.values() if gym is None or m.skill <= gym.class_.skill)


def _others(catalogue: Catalogue, movement: Movement) -> Iterator[Movement]:
    return (m for m in catalogue.movements.values() if m.id != movement.id)
