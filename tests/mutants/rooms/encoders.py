"""Rules as terms of the model."""

from tests.mutants.fault import Fault

CONTRACT = "tests/rules/test_contract.py"
LIMIT = "planner/rules/limit.py"
SPACING = "planner/rules/spacing.py"
TOGETHER = "planner/rules/together.py"
SHARE = "planner/rules/share.py"
ROTATE = "planner/rules/rotate.py"
SEQUENCE = "planner/rules/sequence.py"
CAPACITY = "planner/rules/capacity.py"
FIT = "planner/rules/fit.py"


def of(kind: str) -> str:
    """The contract, for one kind of rule."""
    return f"{CONTRACT} -k {kind}"


FAULTS = (
    Fault(LIMIT, "self.at_most is not None and upper > self.at_most:", "self.at_most is not None and upper > self.at_most + 1:", of("limit")),
    Fault(LIMIT, "self.at_least is not None and self.at_least > 0:", "self.at_least is not None and self.at_least > 1:", of("limit")),
    Fault(LIMIT, "yield Term(at, -sum(c.most for c in counted), -self.at_least, 0)", "yield Term(at, -sum(c.most for c in counted), -self.at_least, -1)", of("limit")),
    Fault(LIMIT, "self.at_most, upper)", "self.at_most, upper - 1)", of("limit")),
    Fault(LIMIT, "for i in range(len(DAYS) - span_days + 1)", "for i in range(len(DAYS) - span_days)", of("limit")),
    Fault(LIMIT, "DAYS[i : i + span_days] for i", "DAYS[i : i + span_days - 1] for i", of("limit")),
    Fault(LIMIT, "for p in self.where.pattern or PATTERNS]\n        if self", "for p in PATTERNS]\n        if self", of("limit")),
    Fault(SPACING, "for second in facts.days[i + 1 :]:", "for second in facts.days[i + 1 : i + 2]:", of("spacing")),
    Fault(SPACING, "DAYS.index(second) - DAYS.index(first))", "facts.days.index(second) - facts.days.index(first))", of("spacing")),
    Fault(SPACING, "HOURS_A_DAY * (DAYS.index(first) + past.days_ago)", "HOURS_A_DAY * past.days_ago", of("spacing")),
    Fault(SPACING, "if short > 0 and any(x.facts and where.matches(x.facts)", "if 0 < short <= 48 and any(x.facts and where.matches(x.facts)", of("spacing")),
    Fault(SPACING, 'yield Term(f"{first}-{second}{suffix}", pair, 1, 2, scale=short)', 'yield Term(f"{first}-{second}{suffix}", pair, 1, 2, scale=24)', of("spacing")),
    Fault(TOGETHER, "yield Term(place, first - second, 0, 1)", "yield Term(place, second - first, 0, 1)", of("together")),
    Fault(TOGETHER, "yield Term(place, first + second, 1, 2)", "yield Term(place, first + second, 1, 1)", of("together")),
    Fault(TOGETHER, "b = other.narrowed(pattern=(tag,)) if tag else other", "b = other", of("together")),
    Fault(SHARE, 'yield Term("week", b - a, self.within, most_b)', 'yield Term("week", a - b, self.within, most_a)', of("share")),
    Fault(SHARE, "0, 100 * most_a, divide=100)", "0, 100 * most_a, divide=50)", of("share")),
    Fault(SHARE, "low * b - 100 * a, 0, low * most_b, divide=100)", "low * b - 100 * a, 50, low * most_b, divide=100)", of("share")),
    Fault(ROTATE, "past = [p for p in facts.past if p.weeks_ago <= self.weeks]", "past = [p for p in facts.past if p.weeks_ago < self.weeks]", of("rotate")),
    Fault(ROTATE, "high = -(-mean_times_weeks *", "high = (mean_times_weeks *", of("rotate")),
    Fault(ROTATE, "len({p.weeks_ago for p in past})", "self.weeks", of("rotate")),
    Fault(ROTATE, "(7 - p.days_ago) % 7 == DAYS.index(day)", "7 - p.days_ago == DAYS.index(day)", of("rotate")),
    Fault(ROTATE, "(f.movement.id, f.scheme.id) in used", "f.movement.id in {m for m, _ in used}", of("rotate")),
    Fault(ROTATE, "for x in p.lines if x.facts and self.where.matches(x.facts)}\n            return [lit", "for x in p.lines}\n            return [lit", of("rotate")),
    Fault(ROTATE, "for pair in combinations(ids, 2))\n        out", "for pair in [*combinations(ids, 2)][:1])\n        out", of("rotate")),
    Fault(ROTATE, "return [lit for s, lit in view.shapes(day) if (s.format, s.domain) in kinds]", "return [lit for s, lit in view.shapes(day) if s.format in {k for k, _ in kinds}]", of("rotate")),
    Fault(SEQUENCE, "for i in range(len(DAYS) - n + 1):", "for i in range(len(DAYS) - n):", of("sequence")),
    Fault(SEQUENCE, "met, n - 1, n)", "met, n, n)", of("sequence")),
    Fault(SEQUENCE, "if all(d in facts.days for d in run):", "if run[0] in facts.days and run[-1] in facts.days:", of("sequence")),
    Fault(SEQUENCE, "for first, second in pairwise(DAYS):", "for first, second in pairwise(facts.days):", of("sequence")),
    Fault(CAPACITY, "short = ceil(facts.class_size / self.sharing) - have", "short = facts.class_size // self.sharing - have", of("capacity")),
    Fault(CAPACITY, "at_once = ceil(class_size / shape.heats)", "at_once = class_size // shape.heats", of("capacity")),
    Fault(CAPACITY, "return ceil(at_once / shape.movements) if shape.stations else at_once", "return ceil(at_once / shape.movements)", of("capacity")),
    Fault(CAPACITY, "return ceil(at_once / shape.movements) if", "return at_once // shape.movements if", of("capacity")),
    Fault(CAPACITY, "have = line.at_hand if line.implement == item else facts.counts.get(item, 0)", "have = facts.counts.get(item, 0)", of("capacity")),
    Fault(CAPACITY, "needs = [n for n in sorted(by_demand) if n > have]", "needs = [n for n in sorted(by_demand) if n > have + 1]", of("capacity")),
    Fault(FIT, "pace.shortest - pace.takes.most, 0, pace.upper", "pace.shortest - pace.takes.most, 10, pace.upper", of("fit")),
    Fault(FIT, "yield Term(day, minutes, facts.class_minutes, most)", "yield Term(day, minutes, facts.class_minutes + 1, most)", of("fit")),
    Fault(FIT, "view.clock(day, one_heat=True)", "view.clock(day)", of("fit")),
)  # fmt: skip
