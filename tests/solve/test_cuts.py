"""A cut that was proved on one day strikes no week that exists because of another day."""

from __future__ import annotations

from planner.domain.plan import ConditioningLine, Plan, SessionPlan, StrengthLine, VersionPlan
from planner.domain.timing import TRANSITION_TENTHS
from planner.problem.problem import Problem, assemble_problem
from planner.solve.model.master import build_master, set_value
from planner.solve.model.versions import FloorDay
from planner.solve.search.crowding import cut_crowded
from planner.solve.search.cuts import cut
from planner.solve.search.draft import Drafted, finish
from tests.rules.solving import least
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


def test_no_more_lines_than_movements_that_can_stand_in_for_them() -> None:
    """With nothing at hand one movement can stand in: pieces of two go on every day, those of one stay."""
    made = catalogue(("squat", "row", "hop"), ("heavy",), ("dash", "pair"))
    problem = assemble_problem(made, gym(kits=("bare",)), (), (), WEEK, 1)
    options, master = problem.options, build_master(problem)
    conditioning = {c.facts.movement.id: c.facts for c in options.conditioning}
    lines = (options.main[0].facts, *list(conditioning.values())[:2])
    pair = next(f for f in options.families if f.lead.movements == 2)

    def possible(movements: int) -> list[bool]:
        out = []
        for v in master.view.days.values():
            model = master.model.clone()
            for shape, literal in v.shapes:
                if shape.movements == movements:
                    set_value(model, literal, 1)
            out.append(least(model) is not None)
        return out

    assert possible(1) == possible(2) == [True, True]
    cut_crowded(master, problem, "mon", FloorDay(pair, lines))
    assert (possible(1), possible(2)) == ([True, True], [False, False])
