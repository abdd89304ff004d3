"""Rows of the model, and what the search may call proved."""

from tests.mutants.fault import Fault
from tests.mutants.rooms.encoders import of

VIEW = "planner/solve/view.py"
ENCODE = "planner/solve/encode.py"
SEARCH = "planner/solve/search.py"
STARVED = "tests/solve/test_starved.py"

FAULTS = (
    Fault(VIEW, "self.model.add_bool_and(~x for x in literals).only_enforce_if(~made)", "pass", of("together")),
    Fault(VIEW, "self.model.add_bool_or([*literals, ~made])", "pass", of("together")),
    Fault(VIEW, "self.model.add_bool_or([made, *(~x for x in literals)])", "pass", of("rotate")),
    Fault(VIEW, "self.model.add(effort >= HARD_FROM - 1).only_enforce_if(made)", "self.model.add(effort >= HARD_FROM).only_enforce_if(made)", of("hard-from")),
    Fault(VIEW, "self.model.add(effort >= EASY_TO).only_enforce_if(~made)", "self.model.add(effort >= EASY_TO - 1).only_enforce_if(~made)", of("two-days")),
    Fault(VIEW, "return self.effort(day) + 1, MOST_RATING", "return self.effort(day), MOST_RATING", of("rotate")),
    Fault(VIEW, "s.cap_minutes // (s.heats if one_heat else 1)", "s.cap_minutes", of("fit")),
    Fault(VIEW, "beside = [(x.literal, clock.ASSISTANCE)", "beside = [(x.literal, 1)", of("fit")),
    Fault(VIEW, "most_round += max((d.choice.units for d in x.doses), default=0) * each", "most_round = max((d.choice.units for d in x.doses), default=0) * each", of("limit")),
    Fault(VIEW, 'amount = x.facts.scheme.sets if kind == "sets" else x.doses[0].choice.units * each', "amount = x.facts.scheme.sets", of("limit")),
    Fault(VIEW, "walking = [(lit, (len(s.ladder) or 1) * s.movements * TRANSITION_TENTHS)", "walking = [(lit, (len(s.ladder) or 1) * TRANSITION_TENTHS)", of("fit")),
    Fault(VIEW, "return 2 + max((s.movements for s, _ in self.days[day].shapes), default=0)", "return max((s.movements for s, _ in self.days[day].shapes), default=0)", of("limit")),
    Fault(VIEW, 'return 1 - self.hard_or_easy(day, "hard") - self.hard_or_easy(day, "easy")', 'return 1 - self.hard_or_easy(day, "hard")', of("two-days")),
    Fault(ENCODE, "return -(-(term.upper - term.limit) // term.divide)", "return (term.upper - term.limit) // term.divide", of("fit")),
    Fault(ENCODE, "return max(0, -(-(value - term.limit) // term.divide))", "return max(0, (value - term.limit) // term.divide)", of("fit")),
    Fault(ENCODE, "if term.expr > term.limit:", "if term.expr >= term.limit:", of("limit")),
)  # fmt: skip
