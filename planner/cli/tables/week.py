"""Tables for the terminal: the week at a glance, the rules, the catalogue."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from rich import box
from rich.table import Table
from rich.text import Text

from planner.domain.gym import DAY_NAMES, Athlete

if TYPE_CHECKING:  # what is not shown is not waited for
    from planner.domain.catalogue import Movement, Scheme, Shape, Tier
    from planner.domain.week import Piece, Proof, RuleResult, Session, Week
    from planner.rules import Rule

PLACES_SHOWN = 4
"""More places of one rule would push the others off the screen."""


def table(title: str, *headings: str, right: Iterable[int] = ()) -> Table:
    """A plain table; columns in ``right`` hold numbers."""
    made = Table(title=title or None, title_justify="left", box=box.SIMPLE_HEAD, pad_edge=False)
    numbers = set(right)
    for index, heading in enumerate(headings):
        made.add_column(heading, justify="right" if index in numbers else "left", overflow="fold")
    return made


def week_table(week: Week) -> Table:
    """One row for each session: lift, conditioning, minutes and rating."""
    made = table(
        f"{week.gym}, {week.week}, from {week.monday}",
        "Day", "Strength", "Conditioning", "Min", "Rating",
        right=(3, 4),
    )  # fmt: skip
    for session in week.sessions:
        minutes = sum(entry.minutes for entry in session.clock)
        made.add_row(
            DAY_NAMES[session.day],
            _strength(session),
            _conditioning(session),
            str(minutes),
            f"{session.rating} {session.hardness}",
        )
    return made


def proof_line(week: Week) -> str:
    """How good the week is, in a line."""
    proof = week.proof
    layers = "; ".join(_layer(proof))
    gave_way = [rule for rule in week.rules if rule.measure and rule.level == "weight"]
    points = sum(rule.cost for rule in gave_way)
    but = f", but for {len(overruled_lines(week))} overruled" if overruled_lines(week) else ""
    return (
        f"Proof: every must holds{but}. {layers}. {len(gave_way)} weighted rules gave way, {points} points. "
        f"Seed {proof.seed}, {proof.seconds:.1f} s, {proof.solver}."
    )


def overruled_lines(week: Week) -> tuple[str, ...]:
    """One line for each place where a must does not count, and why: overruled, or not kept in this gym."""
    musts = (rule for rule in week.rules if rule.level == "must")
    return tuple(f"{r.id}: {r.statement} {p.said}" for r in musts for p in r.places if p.overruled)


def rules_table(results: tuple[RuleResult, ...]) -> Table:
    """Every rule with its measure: broken ones first, then the most expensive."""
    made = table("", "Rule", "Level", "Measure", "Checked", "What it says", right=(2, 3))
    for rule in sorted(results, key=_severity):
        level = f"weight {rule.weight}" if rule.level == "weight" else rule.level
        measure = f"{rule.measure} {rule.unit}" if rule.measure else "0"
        style = "" if not rule.measure else ("bold red" if rule.level == "must" else "yellow")
        made.add_row(
            Text(rule.id), level, Text(measure, style=style), str(rule.checked), Text(rule.statement)
        )
    return made


def breach_lines(results: tuple[RuleResult, ...]) -> tuple[str, ...]:
    """One line for each place where a rule gave way, and what would mend it; the worst first."""
    lines: list[str] = []
    for rule in sorted((r for r in results if r.measure), key=_severity):
        lines.append(f"{rule.id} ({rule.level}): {rule.statement}")
        lines += [f"    {place.said}" for place in rule.places[:PLACES_SHOWN]]
        hidden = len(rule.places) - PLACES_SHOWN
        if hidden > 0:
            lines.append(f"    ... and {hidden} more.")
        if rule.remedy:
            lines.append(f"    {rule.remedy}")
    return tuple(lines)


def rule_list(rules: Iterable[Rule], origins: dict[str, str]) -> Table:
    """One row for each rule in force: its level, statement, reason and file."""
    made = table("", "Rule", "Level", "What it says, and why", "From")
    for rule in rules:
        level = "off" if rule.off else f"weight {rule.weight}" if rule.level == "weight" else rule.level
        said = Text(f"{rule.statement()}\n").append(f"Because {rule.because}.", style="dim")
        made.add_row(Text(f"{rule.id}\n").append(rule.kind, style="dim"), level, said, origins[rule.id])
    return made


def movement_lines(movements: Iterable[Movement]) -> Iterator[str]:
    """A line for each movement: hundreds of rows of a table would take longer than all the rest."""
    for m in movements:
        shares = ", ".join(f"{pattern.replace('_', ' ')} {share}" for pattern, share in m.patterns.items())
        needs = " / ".join(dict.fromkeys(" + ".join(setup.needs) or "nothing" for setup in m.setups))
        used = ", ".join(m.all_roles) or "an easier option only"
        yield f"{m.name} ({m.id}): {shares}; needs {needs.replace('_', ' ')}; {used}; skill {m.skill}"


def work_table(movement: Movement, athletes: Iterable[Athlete]) -> Table:
    """Work and power of a movement, one row for each athlete and load."""
    from planner.domain.lifting import load_in_hands_kg
    from planner.domain.motion import PARTS
    from planner.domain.work import effort_of

    unit = movement.unit.removesuffix("s")
    made = table("", "Athlete", "Load", "kg in hands", f"J a {unit}", "W", "Done by", right=(2, 3, 4))
    for athlete in athletes:
        tiers: tuple[Tier, ...] = tuple(movement.doses or movement.kg) or ("open",)
        for tier in tiers:
            kg = load_in_hands_kg(movement, tier, athlete)
            effort = effort_of(movement, kg, athlete.body, tier)
            if effort is None:
                continue
            shares = sorted(((effort.share(part), part) for part in PARTS), reverse=True)
            by = ", ".join(f"{part} {share:.0%}" for share, part in shares if share >= 0.01)  # noqa: PLR2004
            named = "none" if tier == "open" else tier
            made.add_row(athlete.name, named, f"{kg:.3g}", f"{effort.total:.0f}", f"{effort.watts:.0f}", by)
    return made


def schemes_table(schemes: Iterable[Scheme]) -> Table:
    """One row for each scheme, under the name that a session by hand takes."""
    made = table("", "Scheme", "In words", "Sets x each", "Load", "Rest", "For", right=(4,))
    made.columns[0].no_wrap = True
    for s in schemes:
        each = s.work.run if not s.work.as_long else f"{s.sets} x {s.reps}"
        each += "" if s.unit == "reps" else f" {s.unit}"
        rest = f"every {s.work.every_s} s" if s.work.every_s else f"{s.rest_s} s"
        tier = "none" if s.tier == "open" else s.tier
        made.add_row(s.id, Text(s.name), each, tier, rest, s.goal)
    return made


def shapes_table(shapes: Iterable[Shape]) -> Table:
    """One row for each shape of a conditioning piece, under the name that a session by hand takes."""
    made = table("", "Shape", "In words", "Movements", "Time domain", "Heats", right=(2, 4))
    made.columns[0].no_wrap = True
    for s in shapes:
        made.add_row(s.id, Text(s.title), str(s.movements), s.domain, str(s.heats))
    return made


def _severity(rule: RuleResult) -> tuple[bool, bool, int, str]:
    broken_must = rule.level == "must" and rule.measure > 0
    return (not broken_must, not rule.measure, -rule.cost, rule.id)


def _layer(proof: Proof) -> list[str]:
    said = []
    for tier in proof.tiers:
        best = "proved best" if tier.status == "proved" else f"no week below {tier.bound}"
        said.append(f"{tier.name}: {tier.objective}, {best}")
    return said


def _piece(session: Session, kind: str) -> Piece | None:
    return next((piece for piece in session.pieces if piece.kind == kind), None)


def _strength(session: Session) -> Text:
    piece = _piece(session, "strength")
    if piece is None:
        return Text("none")
    return Text(f"{_names(piece)}: {piece.title}")


def _conditioning(session: Session) -> Text:
    piece = _piece(session, "conditioning")
    if piece is None:
        return Text("none")
    return Text(f"{piece.title}: {_names(piece)}")


def _names(piece: Piece) -> str:
    floor = next(iter(piece.versions.values()), None)
    return ", ".join(line.name for line in floor.lines) if floor else ""
