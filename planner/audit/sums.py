"""What has to hang together in any week's file, whoever wrote it: dates, clock, sums, plates, proof."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from planner.audit.days import Misfit
from planner.domain.gym import DAY_NAMES, DAYS, Gym
from planner.domain.iso_week import monday_of
from planner.domain.plan import LIFTING, RUNNING
from planner.domain.timing import hardness_of
from planner.domain.week import RULES_LAYER, Line, Piece, PieceVersion, Proof, Session, Week

PLATE, BARBELL = "plate", "barbell"
GRAMS = 1000


def sum_faults(week: Week) -> Iterator[Misfit]:
    """Dates against the ISO week, the class clock, totals, loads of days and week, and the rules' points."""
    monday = monday_of(week.week)
    if week.monday != monday.isoformat():
        yield Misfit("week", f"{week.week} begins on {monday.isoformat()}, not on {week.monday}.")
    for session in week.sessions:
        date = (monday + timedelta(days=DAYS.index(session.day))).isoformat()
        for wrong in _session(session, week.class_minutes, date):
            yield Misfit(session.day, f"{DAY_NAMES[session.day]}: {wrong}.")
    by_day = {s.day: s.load_au for s in week.sessions}
    if week.load.daily_au != tuple(by_day.get(day, 0) for day in DAYS):
        yield Misfit("week", "The week's loads by day are not those of its sessions.")
    if week.load.week_au != sum(week.load.daily_au):
        yield Misfit("week", f"The days' loads add up to {sum(week.load.daily_au)}, not {week.load.week_au}.")
    for rule in week.rules:
        if rule.measure != sum(p.measure for p in rule.places) or rule.cost != rule.weight * rule.measure:
            yield Misfit("week", f"The points of the rule {rule.id} do not add up.")


def proof_faults(proof: Proof, points: int) -> Iterator[Misfit]:
    """Layers whose bound, gap and verdict contradict each other, or whose price is not the rules'.

    Args:
        proof: of the file.
        points: what the weighted rules cost.
    """
    for tier in proof.tiers:
        gap = round((tier.objective - tier.bound) / max(1, tier.objective), 4)
        proved = "proved" if tier.objective == tier.bound else "not proved"
        if not 0 <= tier.bound <= tier.objective or (tier.gap, tier.status) != (gap, proved):
            yield Misfit("week", f"{tier.name}: objective, bound, gap and verdict do not fit each other.")
    price = next((t.objective for t in proof.tiers if t.name == RULES_LAYER), None)
    if proof.tiers and price != points:
        yield Misfit("week", f"The proof says {price} points for the rules, and they cost {points}.")


def plate_faults(week: Week, gym: Gym, *, only_by_hand: bool = False) -> Iterator[Misfit]:
    """Bars whose mass is not that of bar, plates and collars, or whose plates the gym does not have.

    Args:
        week: the file.
        gym: whose bars and plates.
        only_by_hand: whether only lines are looked at that the coach marked.
    """
    for session in week.sessions:
        for piece in session.pieces:
            for version in piece.versions.values():
                for line in version.lines:
                    if line.by_hand or not only_by_hand:
                        for wrong in _loads(line, gym):
                            yield Misfit(session.day, f"{DAY_NAMES[session.day]}, {line.name}: {wrong}.")


def _session(session: Session, class_minutes: int, date: str) -> Iterator[str]:
    if session.date != date:
        yield f"it is on {date}, not on {session.date}"
    start = 0
    for entry in session.clock:
        if entry.start_minute != start or entry.minutes <= 0:
            yield f"{entry.label} does not begin where the block before it ends"
        start = entry.start_minute + entry.minutes
    if start > class_minutes:
        yield f"the clock runs {start} minutes, and the class has {class_minutes}"
    if session.load_au != session.rating * class_minutes:
        yield f"a rating of {session.rating} and {class_minutes} minutes are no load of {session.load_au}"
    if session.hardness != hardness_of(session.rating):
        yield f"a day rated {session.rating} is {hardness_of(session.rating)}, not {session.hardness}"
    for piece in session.pieces:
        if piece.kind in LIFTING + RUNNING:
            yield from _totals(piece)


def _totals(piece: Piece) -> Iterator[str]:
    for version in piece.versions.values():
        for line in version.lines:
            times = line.sets if piece.kind in LIFTING else _times(piece, version, line)
            each = [(x.reps, x.sets) for x in line.work_sets] or [(line.dose.value, times or 1)]
            if line.total != sum(reps * sets for reps, sets in each):
                yield f"{line.name}: {line.dose.value} a time are not {line.total} in all"


def _times(piece: Piece, version: PieceVersion, line: Line) -> int:
    """How often the dose of a line comes; once where it is the sum of a number for each round."""
    rounds = piece.rounds or 1
    if line.numbers or line.spot in {"opening", "closing"} or (piece.ladder and line.spot == "turn"):
        return 1
    if line.spot == "after_each":
        return rounds * sum(x.spot == "turn" for x in version.lines)
    return rounds


def _loads(line: Line, gym: Gym) -> Iterator[str]:
    bars, plates = gym.inventory.get(BARBELL, 0), gym.inventory.get(PLATE, 0)
    for load in (*line.loads, *(load for alike in line.work_sets for load in alike.loads)):
        if f"{load.kg:g}" not in load.text:
            yield f"the text {load.text} is not {load.kg:g} kg"
        if not load.per_side_kg:
            continue
        own = next((a.bar_kg for a in gym.athletes if a.id == load.athlete), None)
        known = {kg for kg, count in bars.items() if count} if isinstance(bars, dict) else set()
        loaded = 2 * sum(round(GRAMS * kg) for kg in load.per_side_kg) + round(GRAMS * gym.collars_kg)
        bar = (round(GRAMS * load.kg) - loaded) / GRAMS
        if bar not in known | {own}:
            said = " + ".join(f"{kg:g}" for kg in load.per_side_kg)
            yield f"{said} kg on each side make no {load.kg:g} kg on any of the gym's bars"
        have = plates if isinstance(plates, dict) else {}
        for kg in dict.fromkeys(load.per_side_kg):
            if have.get(kg, 0) < 2 * load.per_side_kg.count(kg):
                yield f"the gym has not enough plates of {kg:g} kg for one bar"
