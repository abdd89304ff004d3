"""A cut that was proved on one day strikes no week that exists because of another day."""

from __future__ import annotations

from planner.domain.plan import ConditioningLine, Plan, SessionPlan, StrengthLine, VersionPlan
from planner.domain.timing import TRANSITION_TENTHS
from planner.problem.problem import Problem, assemble_problem
from planner.solve.model.master import build_master
from planner.solve.model.versions import FloorDay
from planner.solve.search.cuts import cut
from planner.solve.search.draft import Drafted, finish
from tests.rules.universe import WEEK, catalogue, gym, rule, with_windows

SHORT = 80
"""Metres of rowing, less than the catalogue offers, and about as long as ten hops."""
TIME = rule(kind="fit", what="domain", must=True)
ROWING = {"piece": "conditioning", "movement": "row"}
ROW = rule(id="row", kind="limit", where=ROWING, count="days", per="week", at_least=1, must=True)


def short_row() -> Problem:
    """Only a dose of a session planned for Tuesday brings rowing into the time of the piece."""
    window = (190 + TRANSITION_TENTHS, 230 + TRANSITION_TENTHS)
    made = with_windows(catalogue(("squat", "row", "hop"), ("heavy",), ("dash",)), {"dash": window})
    floor = VersionPlan(
        strength=(StrengthLine(movement="squat", scheme="heavy"),),
        conditioning=(ConditioningLine(movement="row", dose=SHORT, tier="open"),),
    )
    base = Plan(week=WEEK, sessions=(SessionPlan(day="tue", shape="dash", versions={"floor": floor}),))
    return assemble_problem(made, gym(), (TIME, ROW), (), WEEK, 1, base=base)


def after_a_cut_on_monday(problem: Problem, movement: str) -> Drafted:
    """A draft that begins with Monday's conditioning cut, if it cannot be filled."""
    options = problem.options
    main = next(c.facts for c in options.main)

    def day(name: str) -> FloorDay:
        line = next(c.facts for c in options.conditioning if c.facts.movement.id == name)
        return FloorDay(options.families[0], (main, line))

    master = build_master(problem)
    before = len(master.model.proto.constraints)
    assert cut(master, problem, {"mon": day(movement), "tue": day("hop")}) == ["mon"]
    assert len(master.model.proto.constraints) > before
    return finish(master, 2.0)


def test_lines_with_a_dose_of_their_own_on_another_day_are_not_cut_there() -> None:
    drafted = after_a_cut_on_monday(short_row(), "row")

    assert not drafted.lifted
    assert drafted.plan is not None
    (tuesday,) = (s for s in drafted.plan.sessions if s.day == "tue")
    assert [(x.movement, x.dose) for x in tuesday.versions["floor"].conditioning] == [("row", SHORT)]
