"""Whether a week's file is what its plan comes to: its loads, times, clock, dates, points and words.

A week is a plan and what follows from it. Where the file names this version of the program and the inputs at
hand, all that follows is prescribed anew and the file is held to it. Elsewhere only its sums can be.
"""

from __future__ import annotations

from planner.audit.audit import STRUCTURE, total_cost
from planner.audit.days import Misfit
from planner.audit.differences import WrongField, differences
from planner.audit.faults import faults_result
from planner.audit.sums import plate_faults, proof_faults, sum_faults
from planner.domain.flow import WAIT_S
from planner.domain.gym import DAY_NAMES
from planner.domain.plan import Plan
from planner.domain.week import Line, Piece, PieceVersion, RuleResult, Week
from planner.domain.words import spoken
from planner.prescribe.write_out import write_out
from planner.problem.problem import Problem

AS_WRITTEN, BY_HAND, ORIGIN, WAITS = "as-written", "by-hand", "origin", "waits"
MOST_MISSED_PERCENT = 10
"""Of the slots on the clock so many may end before the work does; common practice."""


def file_results(
    week: Week, plan: Plan, problem: Problem, results: tuple[RuleResult, ...], elsewhere: str = ""
) -> tuple[RuleResult, ...]:
    """What the rules do not say of a file: whether it follows from its plan, and what was changed by hand.

    Args:
        week: as the file has it.
        plan: behind it.
        problem: the inputs at hand.
        results: of the rules, measured anew.
        elsewhere: why the file cannot be held to the inputs at hand; empty where it can.
    """
    structure = next(r for r in results if r.id == STRUCTURE)
    if not elsewhere and structure.measure:
        elsewhere = "lines are missing or too many, so that nothing follows from the plan"
    found: list[WrongField] = []
    played = week
    if elsewhere:
        faults = [*sum_faults(week), *proof_faults(week.proof, sum(r.cost for r in week.rules))]
        faults += plate_faults(week, problem.gym)
    else:
        played = _again(week, plan, problem, results)
        found = list(differences(week, played))
        faults = [Misfit(d.place[0], d.sentence()) for d in found if not d.by_hand]
        faults += proof_faults(week.proof, total_cost(results))
        faults += plate_faults(week, problem.gym, only_by_hand=True)
    return (_as_written(week, faults), _by_hand(week, found), _origin(elsewhere), _waits(played))


def marked(week: Week, plan: Plan, problem: Problem, results: tuple[RuleResult, ...]) -> Week:
    """The week with a mark on every line that is not what its plan comes to; arguments as above."""
    again = {s.day: {p.kind: p for p in s.pieces} for s in _again(week, plan, problem, results).sessions}

    def line(found: Line, right: Line) -> Line:
        return found.model_copy(update={"by_hand": found.by_hand or found != right})

    def version(found: PieceVersion, right: PieceVersion) -> PieceVersion:
        pairs = zip(found.lines, right.lines, strict=True)
        return found.model_copy(update={"lines": tuple(line(a, b) for a, b in pairs)})

    def piece(found: Piece, right: Piece) -> Piece:
        versions = {kit: version(v, right.versions[kit]) for kit, v in found.versions.items()}
        return found.model_copy(update={"versions": versions})

    return week.model_copy(
        update={
            "sessions": tuple(
                s.model_copy(update={"pieces": tuple(piece(p, again[s.day][p.kind]) for p in s.pieces)})
                for s in week.sessions
            )
        }
    )


def _again(week: Week, plan: Plan, problem: Problem, results: tuple[RuleResult, ...]) -> Week:
    """The week that the plan comes to, with what does not follow from a plan as the file has it."""
    return write_out(
        plan,
        problem.catalogue,
        problem.gym,
        rules=results,
        proof=week.proof,
        history=problem.history,
        inputs_digest=week.inputs_digest,
        program=week.program,
        basis_digest=week.basis_digest,
    )


def _as_written(week: Week, faults: list[Misfit]) -> RuleResult:
    return faults_result(
        AS_WRITTEN,
        faults,
        level="must",
        statement="Loads, times, clock, dates, points and words of the file follow from the plan behind it.",
        because="what members train from must be what was planned",
        unit="fields",
        checked=len(week.sessions),
        remedy="Put it right; if a line is meant so, planner audit --mark marks it as the coach's.",
    )


def _by_hand(week: Week, found: list[WrongField]) -> RuleResult:
    """The marked lines, each with what is other than prescribed where that is known."""
    marked = [
        (DAY_NAMES[session.day], spoken(piece.kind), spoken(kit), line.name)
        for session in week.sessions
        for piece in session.pieces
        for kit, version in piece.versions.items()
        for line in version.lines
        if line.by_hand
    ]
    said = [Misfit(d.place[0], d.sentence()) for d in found if d.by_hand]
    told = {d.place[:4] for d in found if d.by_hand}
    said += [Misfit(where[0], f"{', '.join(where)}.") for where in marked if where not in told]
    return faults_result(
        BY_HAND,
        said,
        level="watch",
        statement="Lines that the coach changed by hand are marked, and shown so on the sheets.",
        because="the coach's word goes; it is told apart from what was prescribed",
        unit="changes",
        checked=len(marked),
        remedy="Leave them if they are meant.",
    )


def _waits(week: Week) -> RuleResult:
    """Pieces in which the class, run again on the floor, waits for items or misses slots."""
    tested = [
        (session, piece.title, piece.on_floor)
        for session in week.sessions
        for piece in session.pieces
        if piece.on_floor is not None
    ]
    said = []
    for session, title, test in tested:
        where = f"{DAY_NAMES[session.day]}, {title}"
        if test.longest_wait_s > WAIT_S:
            wait = f"nine in ten wait {test.longest_wait_s} s at the longest"
            said.append(Misfit(session.day, f"{where}: {wait}, {test.waited_percent:g} % of their time."))
        if (test.missed_percent or 0) > MOST_MISSED_PERCENT:
            late = f"{test.missed_percent:g} % of the slots end before the work does"
            said.append(Misfit(session.day, f"{where}: {late}."))
    return faults_result(
        WAITS,
        said,
        level="watch",
        statement=f"Nobody waits longer than {WAIT_S} s for an item; the class was run again on the floor.",
        because="people came to train, not to queue",
        unit="pieces",
        checked=len(tested),
        remedy="Choose another flow or smaller doses at the item; planner run shows who waits for what.",
    )


def _origin(elsewhere: str) -> RuleResult:
    return faults_result(
        ORIGIN,
        [Misfit("week", f"Only sums, dates, plates and rules were checked: {elsewhere}.")]
        if elsewhere
        else [],
        level="watch",
        statement="The file is held to what this version prescribes from these inputs.",
        because="from another version or other inputs other numbers follow",
        unit="reasons",
        checked=1,
        remedy="Audit it with the version and the gym's files that it was written with.",
    )
