"""Rows of the model, what the first stage relaxes, and what may be called proved."""

from tests.mutants.fault import Fault
from tests.mutants.rooms.encoders import of

VIEW = "planner/solve/model/view.py"
ROWS = "planner/solve/model/rows.py"
SEARCH = "planner/solve/search/solver.py"
CLIMB = "planner/solve/search/lexicographic.py"
CUTS = "planner/solve/search/cuts.py"
FEWEST = "planner/solve/search/fewest.py"
CLASHES = "planner/solve/explain/clashes.py"
DRAFT = "planner/solve/search/draft.py"
STARVED = "tests/solve/test_starved.py"
BRUTE = "tests/solve/test_brute_force.py"
LATE, LINES = f"{BRUTE} -k wait_for", f"{BRUTE} -k solved_to_the_optimum"
PROOFS = "tests/solve/test_proofs.py"
REQUIREMENTS = "tests/solve/test_requirements.py"
OVERRULES = "tests/solve/test_overrules.py"

CROWDING = "planner/solve/search/crowding.py"
CROWDED = "tests/solve/test_cuts.py -k stand_in"

FAULTS = (
    Fault(CROWDING, "for x in lines) <= len(crowd)", "for x in lines) <= len(crowd) - 1", CROWDED),
    Fault(CROWDING, "if len(shared) < size:", "if len(shared) < size - 1:", CROWDED),
    Fault(VIEW, "self.model.add_bool_and(~x for x in literals).only_enforce_if(~made)", "pass", of("together")),
    Fault(VIEW, "self.model.add_bool_or([*literals, ~made])", "pass", of("together")),
    Fault(VIEW, "self.model.add_bool_or([made, *(~x for x in literals)])", "pass", of("rotate")),
    Fault(VIEW, "self.model.add(effort >= HARD_FROM - 1).only_enforce_if(made)", "self.model.add(effort >= HARD_FROM).only_enforce_if(made)", of("hard-from")),
    Fault(VIEW, "self.model.add(effort >= EASY_TO).only_enforce_if(~made)", "self.model.add(effort >= EASY_TO - 1).only_enforce_if(~made)", of("two-days")),
    Fault(VIEW, "self.model.add(effort <= EASY_TO - 1).only_enforce_if(made)", "self.model.add(effort <= EASY_TO - 2).only_enforce_if(made)", of("two-days")),
    Fault(VIEW, "self.effort(day) + 1), MOST_RATING", "self.effort(day)), MOST_RATING", of("rotate")),
    Fault(VIEW, "s.cap_minutes // (s.heats if one_heat else 1)", "s.cap_minutes", of("fit")),
    Fault(VIEW, "beside = [(x.literal, clock.ASSISTANCE)", "beside = [(x.literal, 1)", of("fit")),
    Fault(VIEW, 'return 1 - self.hard_or_easy(day, "hard") - self.hard_or_easy(day, "easy")', 'return 1 - self.hard_or_easy(day, "hard")', of("two-days")),
    Fault(VIEW, 'x.facts.scheme.sets if kind == "sets" else x.units * each)', "x.facts.scheme.sets)", of("limit")),
    Fault(VIEW, "self.model.add(amount == fixed.least + times * one_round)", "self.model.add(amount == fixed.least + one_round)", of("limit")),
    Fault(VIEW, "least = weighted([(literal, each * low) for literal, each, (low, _) in spans])", "least = weighted([(literal, each * high) for literal, each, (_, high) in spans])", PROOFS),
    Fault(VIEW, "(literal, f.work_tenths if f.kind == kind else (0, beyond))", "(literal, f.work_tenths if f.kind == kind else (0, 0))", f"{LATE} {LINES}"),
    Fault(ROWS, "problem.overruled.get((rule.id, term.place))", "next((o for (r, _), o in problem.overruled.items() if r == rule.id), None)", OVERRULES),
    Fault(ROWS, "if over is not None:\n            if", "if over is not None and not rule.must:\n            if", PROOFS),
    Fault(ROWS, "return -(-(term.upper - term.limit) // term.divide)", "return (term.upper - term.limit) // term.divide // 2", of("limit")),
    Fault(ROWS, "return max(0, -(-(value - term.limit) // term.divide))", "return max(0, (value - term.limit) // term.divide)", of("fit")),
    Fault(ROWS, "if term.expr > term.limit:", "if term.expr >= term.limit:", of("together")),
    Fault(ROWS, "rule.weight * term.scale, exact)", "rule.weight, exact)", of("spacing")),
    Fault(ROWS, "model.add(term.expr - term.divide * slack <= term.limit)\n                priced", "model.add(term.expr - slack <= term.limit)\n                priced", of("share")),
    Fault(DRAFT, '"stand-ins": filled.stand_in_points,', '"stand-ins": filled.stand_in_points // 2,', f"{BRUTE} -k stand_ins"),
    Fault(DRAFT, "value_of(weighted(exact), values) + filled.breach_points", "value_of(weighted(exact), values)", LATE),
    Fault(DRAFT, 'status="proved" if verdict(reached, bound) == "proved" else "not proved"', 'status="proved"', f"{STARVED} -k starved_draft"),
    Fault(DRAFT, "hold = bounds_that_hold(known, best.reached)", "hold = {name: best.reached[name] for name in known}", PROOFS),
    Fault(SEARCH, 'return "proved" if bound == reached else "not proved"', 'return "proved" if 4 * bound >= 3 * reached else "not proved"', f"{STARVED} -k a_bound_above"),
    Fault(SEARCH, "    if bound > reached:\n", "    if bound > 2 * reached:\n", f"{STARVED} -k a_bound_above"),
    Fault(CLIMB, "if reached[name] > answer.objective:", "if reached[name] > 2 * answer.objective:", f"{STARVED} -k holds_among"),
    Fault(DRAFT, "step.certain and not self.aside", "step.certain", f"{REQUIREMENTS} -k ran_out_of_time"),
    Fault(CUTS, "[*(~x for x in literals), ~master.guards[ASIDE]]", "[~x for x in literals]", f"{REQUIREMENTS} -k ran_out_of_time"),
    Fault(CUTS, "all(x in there and x not in own for x in struck.lines)", "all(x in there for x in struck.lines)", "tests/solve/test_cuts.py"),
    Fault(FEWEST, "_shrink(clash, fixed + first, second, asked=True)", "_shrink(clash, fixed, second, asked=True)", "tests/solve/test_fewest.py"),
    Fault(CLASHES, 'on < key if verdict == "possible" else', 'key < on if verdict == "possible" else', "tests/weeks/test_clashes.py -k brute_force"),
)  # fmt: skip
