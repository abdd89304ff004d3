"""Rules in plain Python over a finished week, and the audit around them."""

from tests.mutants.fault import Fault
from tests.mutants.rooms.encoders import CAPACITY, FIT, LIMIT, ROTATE, SEQUENCE, SHARE, SPACING, TOGETHER, of

AUDIT = "planner/audit/audit.py"
DAYS = "planner/audit/days.py"
DOSES = "planner/audit/doses.py"
READING = "planner/audit/reading.py"
TAMPERED = "tests/audit/test_tampered_weeks.py"
WEEKS = "tests/measured/test_weeks.py::test_random_weeks_are_measured_alike"
PLANS = "tests/audit/test_plans.py"

FAULTS = (
    Fault(LIMIT, "over = max(0, n - self.at_most) if", "over = max(0, n - self.at_most - 1) if", of("limit")),
    Fault(LIMIT, "under = max(0, self.at_least - n) if", "under = min(1, max(0, self.at_least - n)) if", of("limit")),
    Fault(LIMIT, "if first <= d.index < first + self.span_days]", "if first <= d.index <= first + self.span_days]", of("limit")),
    Fault(LIMIT, "for first in range(7 - self.span_days + 1):", "for first in range(7 - self.span_days):", of("limit")),
    Fault(LIMIT, "sum(x.units * x.facts.movement.takes.contacts for x in lines)", "sum(x.units for x in lines if x.facts.movement.takes.contacts)", of("limit")),
    Fault(LIMIT, "sum(x.facts.scheme.sets for x in lines if x.facts.scheme)", "sum(1 for x in lines if x.facts.scheme)", of("limit")),
    Fault(LIMIT, "len({x.facts.load for x in lines} - {None})", "len({x.facts.implement for x in lines})", of("limit")),
    Fault(LIMIT, "len({item for x in lines for item in x.facts.large})", "len([item for x in lines for item in x.facts.large])", of("limit")),
    Fault(LIMIT, "lines = [x for x in lines if x.facts.movement.share_of(kind) >= self.where.share_at_least]", "lines = [x for x in lines if x.facts.movement.main_pattern == kind]", of("limit")),
    Fault(SPACING, "if 0 < gap < self.hours:", "if 0 < gap <= 24:", of("spacing")),
    Fault(SPACING, "gap = (a.index + p.days_ago) * 24", "gap = p.days_ago * 24", of("spacing")),
    Fault(SPACING, "places.append((a.day + suffix, self.hours - gap))", "places.append((a.day + suffix, 24))", of("spacing")),
    Fault(TOGETHER, "wrong = here and not self._there(self.needs, d, kind)", "wrong = not here and not self._there(self.needs, d, kind)", of("together")),
    Fault(TOGETHER, "share = x.facts.movement.share_of(kind) if kind else 100", "share = 100", of("together")),
    Fault(SHARE, "abs(a - b) - self.within", "a - b - self.within", of("share")),
    Fault(SHARE, "too_many = -(-(100 * a - self.percent[1] * b) // 100)", "too_many = (100 * a - self.percent[1] * b) // 100", of("share")),
    Fault(ROTATE, "earlier = [p for p in facts.past if p.weeks_ago <= self.weeks]", "earlier = [*facts.past]", of("rotate")),
    Fault(ROTATE, "low = floor(mean", "low = ceil(mean", of("rotate")),
    Fault(ROTATE, "(d.index + p.days_ago) % 7 == 0", "d.index + p.days_ago == 7", of("rotate")),
    Fault(ROTATE, "return len([f for f in mine if f.movement.id in before])", "return len({f.movement.id for f in mine if f.movement.id in before} & {before[0]})", of("rotate")),
    Fault(ROTATE, "and f.scheme and p.scheme == f.scheme.id", "", of("rotate")),
    Fault(ROTATE, "        met = set()\n        for p in earlier:", "        met = set()\n        for p in earlier[:1]:", of("rotate")),
    Fault(SEQUENCE, "a, b = by_index.get(start), by_index.get(start + 1)", "a, b = by_index.get(start), by_index.get(start + 2)", of("sequence")),
    Fault(SEQUENCE, "int(all(met))", "int(any(met))", of("sequence")),
    Fault(SEQUENCE, "        for start in range(7):", "        for start in range(5 if self.never else 7):", of("sequence")),
    Fault(CAPACITY, "return shape.heats * turns * (shape.movements if shape.stations else 1)", "return shape.movements if shape.stations else 1", of("capacity")),
    Fault(CAPACITY, "return shape.heats * turns * (shape.movements if shape.stations else 1)", "return shape.heats * turns * shape.movements", of("capacity")),
    Fault(CAPACITY, "wanted = -(-facts.class_size // (", "wanted = (facts.class_size // (", of("capacity")),
    Fault(CAPACITY, "x.facts.at_hand if own else facts.counts.get(item, 0)", "facts.counts.get(item, 0)", of("capacity")),
    Fault(FIT, "places.append((d.day, -(-outside // 10)))", "places.append((d.day, outside // 10))", of("fit")),
    Fault(FIT, "outside = max(0, taken - most, least - taken)", "outside = max(0, taken - most)", of("fit")),
    Fault(FIT, "left = facts.class_minutes - d.clock_minutes + waiting", "left = facts.class_minutes - d.clock_minutes", of("fit")),
    Fault(FIT, "(len(d.shape.ladder) or 1) * len(lines)", "len(lines)", WEEKS),
    Fault(AUDIT, "b.measure <= over.most", "True", "tests/weeks/test_every_gym.py -k claims_more"),
    Fault(AUDIT, "measure -= excused", "measure -= 1", PLANS),
    Fault(AUDIT, "measure=b.measure - excused", "measure=b.measure", PLANS),
    Fault(AUDIT, 'problem.gym.kits if rule.versions == "all" else (floor,)', "(floor,)", WEEKS),
    Fault(AUDIT, 'r.level == "must" and r.measure > 0', 'r.level == "must" and r.measure > 1', PLANS),
    Fault(AUDIT, "return sum(r.cost for r in results)", "return sum(r.measure for r in results)", "tests/audit/test_plans.py"),
    Fault(AUDIT, "cost=measure * rule.weight,", "cost=min(measure, 5) * rule.weight,", WEEKS),
    Fault(AUDIT, 'prefix = "" if kit is floor else f"{kit.name}, "', 'prefix = ""', WEEKS),
    Fault(DAYS, "if days != problem.gym.days:", "if set(days) - set(problem.gym.days):", PLANS),
    Fault(DAYS, "len(version.conditioning) != shape.movements or", "len(version.conditioning) > shape.movements or", PLANS),
    Fault(DAYS, "if sum(not x.assistance for x in version.strength) != 1:", "if sum(not x.assistance for x in version.strength) > 1:", PLANS),
    Fault(DAYS, "if len(set(ids)) < len(ids):", "if len(set(ids)) < len(ids) and kit is problem.gym.kits[0]:", PLANS),
    Fault(DAYS, "if len(tiers) > 1:", "if len(tiers) > 2:", PLANS),
    Fault(DAYS, "version_window(facts.shape, floor=floor)", "version_window(facts.shape, floor=True)", WEEKS),
    Fault(DAYS, "work_units(timed, shape) * shape.rounds", "work_units(timed, shape)", WEEKS),
    Fault(DAYS, "clock_minutes=facts.minutes,", "clock_minutes=facts.minutes - 2,", WEEKS),
    Fault(DOSES, "max(shape.ladder) <= numbers[-1]", "max(shape.ladder) < numbers[-1]", "tests/audit/test_plans.py tests/audit/test_tampered_weeks.py::test_which_doses_are_usual"),
    Fault(DOSES, "twice = min(2 * numbers[-1], movement.cap)", "twice = 2 * numbers[-1]", "tests/audit/test_tampered_weeks.py::test_which_doses_are_usual"),
    Fault(DOSES, "numbers[0] == 1 < numbers[-1] and", "", "tests/audit/test_tampered_weeks.py::test_which_doses_are_usual"),
    Fault(READING, 'return sum(piece.ladder) if piece.ladder and line.spot == "turn" else line.dose.value', "return line.dose.value", "tests/audit/test_plans.py",
          unseen="the dose that a ladder's line shows is the sum of its rungs, so that both read the same number"),
    Fault(READING, '"assistance": line.assistance}', '"assistance": False}', "tests/audit/test_plans.py"),
)  # fmt: skip
