"""Tables and sentences for the terminal: candidates, changes and answers."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING

from rich.table import Table
from rich.text import Text

from planner.cli.tables.week import table
from planner.domain.gym import DAY_NAMES
from planner.domain.words import SPOT_WORDS, capital, spoken
from planner.errors import clash_lines

if TYPE_CHECKING:
    from planner.domain.record import Candidate, WeekState
    from planner.domain.requests import Requests
    from planner.domain.week import Line, Piece, RuleResult, Week
    from planner.store.log import LoadTable
    from planner.store.store import Revision
    from planner.weeks.diff import PieceChange
    from planner.weeks.price import Price
    from planner.weeks.redraft import Redrafted, UnmetWish
    from planner.weeks.resilience import Loss
    from planner.weeks.why import Reason
    from planner.weeks.why_not import WhyNot

STAYS, CHANGES = "=", "*"
"""Marks of a line, so that nothing hangs on colour."""
MOST_REASONS = 3
"""Clashes told of each loss: more would not be read in a list of losses."""


def candidates_table(states: Iterable[WeekState]) -> Table:
    """One row for each candidate of each week."""
    made = table("", "Week", "Candidate", "How it came about", "Points", "", right=(3,))
    for state in states:
        for c in state.candidates:
            chosen = "chosen" if c.name == state.chosen else ""
            made.add_row(state.week, c.name, Text(c.label), str(c.week.points), chosen)
        if not state.candidates:
            made.add_row(state.week, "none", "", "", "")
    return made


def request_lines(requests: Requests) -> Iterator[str]:
    """One line for each lock, ban, wish and overrule."""
    yield from (f"{x.words()}." for x in requests.locks)
    yield from (f"{DAY_NAMES[s.day]} was written by hand, and is locked." for s in requests.by_hand)
    yield from (f"{capital(b.words())}." for b in requests.bans)
    yield from (f"Asked for: {w.words()}." for w in requests.wishes)
    yield from (f"{o.rule} does not count at {o.place}: {o.reason}." for o in requests.overrules)


def history_table(revisions: Sequence[Revision], head: int | None) -> Table:
    """Every change of a week on every branch, the oldest first."""
    made = table("", "Change", "After", "When (UTC)", "What", "", right=(0, 1))
    for r in revisions:
        here = "here now" if r.id == head else ""
        made.add_row(str(r.id), str(r.parent or ""), r.created[:16].replace("T", " "), Text(r.verb), here)
    return made


def log_table(loads: LoadTable) -> Table:
    """Planned and rated load, one row for each day."""
    made = table(
        "", "Day", "Planned rating", "Planned load", "How it went", "Rating", "Rated load", right=(1, 2, 4, 5)
    )
    for row in loads.days:
        made.add_row(
            DAY_NAMES[row.day],
            str(row.planned_rating),
            str(row.planned_au),
            row.status or "",
            "" if row.rating is None else f"{row.rating:g}",
            "" if row.rated_au is None else str(row.rated_au),
        )
    return made


def log_line(loads: LoadTable) -> str:
    """The week's load in a sentence: rating times minutes, planned against rated."""
    if loads.difference_percent is None:
        return f"Planned load {loads.planned_au}; nothing is rated yet."
    more = "more" if loads.difference_percent > 0 else "less"
    differs = f"{abs(loads.difference_percent)} % {more}" if loads.difference_percent else "the same"
    return (
        f"Planned load {loads.planned_au}. Of what is rated: {loads.rated_au} against {loads.compared_au} "
        f"planned, {differs}."
    )


# Changes ------------------------------------------------------------------------------------------------


def changes_table(old: Candidate, new: Candidate | tuple[str, Week], changes: Sequence[PieceChange]) -> Table:
    """The old and the new lines of every piece that differs."""
    name, week = new if isinstance(new, tuple) else (new.name, new.week)
    made = table(f"{STAYS} stays, {CHANGES} changes", "Day", "Piece", old.name, "", name)
    for change in changes:
        before, after = (_piece(w, change) for w in (old.week, week))
        rows = list(_rows(before, after))
        for number, (was, mark, now) in enumerate(rows):
            day, piece = (DAY_NAMES[change.day], change.piece) if not number else ("", "")
            made.add_row(day, piece, Text(was), mark, Text(now), end_section=number == len(rows) - 1)
    return made


def _piece(week: Week, change: PieceChange) -> Piece | None:
    pieces = (p for s in week.sessions if s.day == change.day for p in s.pieces)
    return next((p for p in pieces if p.kind == change.piece), None)


def _rows(before: Piece | None, after: Piece | None) -> Iterator[tuple[str, str, str]]:
    """Title and lines of the gym floor, with the lines of one movement side by side."""
    titles = [p.title if p else "none" for p in (before, after)]
    yield titles[0], STAYS if titles[0] == titles[1] else CHANGES, titles[1]
    old, new = _floor(before), _floor(after)
    alone = [x for x in new if all(x.movement != y.movement for y in old)]
    for line in old:
        match = next((x for x in new if x.movement == line.movement), None)
        if match is None and alone:
            match = alone.pop(0)
        texts = _text(line), _text(match) if match else "none"
        yield texts[0], STAYS if texts[0] == texts[1] else CHANGES, texts[1]
    yield from (("none", CHANGES, _text(x)) for x in alone)


def _floor(piece: Piece | None) -> tuple[Line, ...]:
    return next(iter(piece.versions.values())).lines if piece and piece.versions else ()


def _text(line: Line) -> str:
    dose = f"{line.sets} x {line.dose.text}" if line.sets else SPOT_WORDS[line.spot] + line.dose.text
    tier = f", {line.tier}" if line.tier != "open" and not line.sets else ""
    return f"{line.name}: {dose}{tier}"


def redraft_lines(old: Candidate, new: Candidate, made: Redrafted) -> Iterator[str]:
    """What is proved about the change, and what it costs."""
    yield f"{made.certificate}"
    yield from version_lines(new.week, made)
    if made.loads_only:
        days = ", ".join(DAY_NAMES[d] for d in made.loads_only)
        yield f"Lines stay and loads differ on: {days}."
    yield _cost(made.points_before, made.points_after)
    yield from map(_unmet, made.unmet)
    yield from rule_lines(old.week.rules, new.week.rules)


def _unmet(wish: UnmetWish) -> str:
    """A wish that did not come, and what it would change."""
    if wish.pieces is None:
        why = "no week has it" if wish.decided else "whether any week has it was not settled in the time"
        return f"Not met: {wish.words}; {why}."
    pieces = f"{wish.pieces} piece{'' if wish.pieces == 1 else 's'}"
    some = "" if wish.decided else ", perhaps fewer"
    cost = f"and the rules would cost {wish.points} points; lock it to have it"
    return f"Not met: {wish.words}. With it {pieces} would change{some}, {cost}."


def version_lines(week: Week, made: Redrafted) -> Iterator[str]:
    """Changed stand-ins for pieces that stay."""
    kits = {kit.id: kit.name for kit in week.kits}
    for x in made.versions:
        gone, new = (" and ".join(spoken(m) for m in names) for names in (x.gone, x.new))
        yield f"{DAY_NAMES[x.day]}'s {x.piece} stays, but with {kits[x.kit]} {gone} becomes {new}."


def _cost(before: int, after: int) -> str:
    more = after - before
    change = f"{abs(more)} {'more' if more > 0 else 'less'}" if more else "the same"
    return f"Weighted rules cost {after} points, {change} (before: {before})."


def rule_lines(before: Sequence[RuleResult], after: Sequence[RuleResult]) -> Iterator[str]:
    """Rules whose measure differs, with both values."""
    was = {r.id: r.measure for r in before}
    for rule in after:
        if rule.level != "watch" and rule.measure != was.get(rule.id, 0):
            yield f"  - {rule.statement} {was.get(rule.id, 0)} before, {rule.measure} now ({rule.unit})."


# Answers ------------------------------------------------------------------------------------------------


def reason_lines(reasons: Sequence[Reason]) -> Iterator[str]:
    """What speaks for each line."""
    for reason in reasons:
        yield f"{reason.name}:"
        for rule in reason.rules:
            must = "a must, " if rule.level == "must" else ""
            yield f"  - without it, {must}worse by {rule.by} ({rule.unit}): {rule.statement} ({rule.because})"
        yield from (f"  - {also}" for also in reason.also)
        if not reason.rules and not reason.also:
            yield "  - no rule needs it: others would do as well"


def why_not_lines(answer: WhyNot) -> Iterator[str]:
    """What it would break or cost; where it cannot be, what makes it so and what would help."""
    if answer.verdict == "undecided":
        yield "Whether any week has it was not settled in the time; give it more with --seconds."
        return
    if answer.verdict == "impossible":
        together = " together" if any(len(clash) > 1 for clash in answer.clashes) else ""
        yield f"No week has it, because of this{together}:"
        yield from clash_lines(answer.clashes) or ["  - the time was too short to say what"]
        if answer.ways_out:
            yield "What would make it possible:"
            yield from (f"  - {way}" for way in answer.ways_out)
        return
    pieces = len(answer.changes)
    yield f"It can be had: {pieces} piece{'' if pieces == 1 else 's'} would change, and nothing else."
    more = answer.points
    yield (
        f"Weighted rules would cost {abs(more)} points {'more' if more > 0 else 'less'}."
        if more
        else ("It would cost no points.")
    )
    if answer.free is not None:
        some = "" if answer.free_proved else " or less"
        yield f"A week with it that may change all else costs {answer.free} points{some}."
    yield from (f"  - {said} {before} now, {after} then." for said, before, after in answer.worse)


def price_table(prices: Sequence[Price]) -> Table:
    """The dearest first."""
    made = table("", "Rule", "Saves", "Gives way by", "What it says", right=(1, 2))
    for p in prices:
        made.add_row(
            Text(p.rule), f"{p.saves} points", str(p.measure) if p.measure else "a must", Text(p.statement)
        )
    return made


def loss_table(losses: Sequence[Loss]) -> Table:
    """Losses that change anything, the worst first."""
    made = table("", "Without", "Left", "Pieces changed", "Points", "", right=(1, 2, 3))
    for x in filter(_hurts, losses):
        if x.impossible:
            made.add_row(_lost(x), str(x.left), "", "", "no week is possible")
            continue
        if x.undecided:
            made.add_row(_lost(x), str(x.left), "", "", "not settled in the time")
            continue
        points = f"{x.points:+d}" if x.points else "0"
        proved = "" if x.proved else "fewer changes not ruled out"
        made.add_row(_lost(x), str(x.left), str(x.pieces), points, proved)
    return made


def loss_lines(losses: Sequence[Loss]) -> Iterator[str]:
    """A few reasons for each loss after which no week is possible; then what can be lost without harm."""
    for x in losses:
        if x.impossible:
            yield f"Without {_lost(x)} no week is possible:"
            yield from clash_lines(x.impossible[:MOST_REASONS])
            more = len(x.impossible) - MOST_REASONS
            if more > 0:
                yield f"  - and {more} more; a redraft without it says them all"
    unhurt = [x for x in losses if not _hurts(x)]
    every = {x.item for x in unhurt if x.lost == "all"}
    names = [_lost(x) for x in unhurt if x.lost == "all" or x.item not in every]
    if names:
        yield f"Nothing has to change without {', or '.join(names)}."


def _lost(loss: Loss) -> str:
    return f"one of the {loss.name}" if loss.lost == "one" else f"the {loss.name}"


def _hurts(loss: Loss) -> bool:
    return bool(loss.impossible or loss.undecided or loss.pieces or loss.points)
