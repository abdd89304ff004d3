"""What encoders and audits share, so that neither can see a fault in it: the second measurement has to."""

from tests.mutants.fault import Fault

ALL = "tests/measured/test_shared.py"
SELECTS, DOSES = f"{ALL} -k selector", f"{ALL} -k doses_that_suit"
NEAR, TURNS = f"{ALL} -k has_what_is_near", f"{ALL} -k in_turns"
LONG, CLASS, INSTEAD_OF = f"{ALL} -k every_dose", f"{ALL} -k every_window", f"{ALL} -k stand_in"
WEEKS = "tests/measured/test_weeks.py::test_random_weeks_are_measured_alike"
PROBLEM = "planner/problem/problem.py"
LINE = "planner/domain/line.py"
AT_HAND = "planner/domain/at_hand.py"
TIMING = "planner/domain/timing.py"
CLOCK = "planner/domain/clock.py"
CATALOGUE = "planner/domain/catalogue.py"
WHERE = "planner/rules/where.py"
GROUPS = "planner/domain/groups.py"
CANDIDATES = "planner/problem/candidates.py"
OPTIONS = "planner/problem/options.py"
INSTEAD = "planner/domain/substitution.py"

FAULTS = (
    # What past weeks did.
    Fault(PROBLEM, "weeks_ago = (monday - monday_of(past.week)).days // 7", "weeks_ago = 1", WEEKS),
    Fault(PROBLEM, "7 * weeks_ago - DAYS.index(session.day)", "7 * weeks_ago + DAYS.index(session.day)", WEEKS),
    Fault(PROBLEM, "7 * weeks_ago - DAYS.index(session.day)", "7 * weeks_ago - DAYS.index(session.day) + 1", WEEKS),
    Fault(PROBLEM, "if line.scheme and not line.assistance and", "if line.scheme and", WEEKS),
    Fault(PROBLEM, "piece.versions.get(past.kits[0].id)", "piece.versions.get(past.kits[-1].id)", WEEKS),
    Fault(PROBLEM, 'piece.format, piece.domain or ""', 'piece.format, ""', WEEKS),
    Fault(PROBLEM, '"conditioning" if kind in RUNNING else ("assistance"', '"main" if kind in RUNNING else ("assistance"', WEEKS),
    Fault(PROBLEM, "beside = line.assistance or kind", "beside = kind", WEEKS),
    Fault(PROBLEM, "line_facts(piece, movement, line.tier, scheme", 'line_facts(piece, movement, "light", scheme', WEEKS),
    Fault(PROBLEM, "scheme, session.rating)", "scheme, 5)", WEEKS),
    # What is at hand, and what is near.
    Fault(PROBLEM, "counts={item: gym.count(item)", "counts={item: gym.count(item) + 1", WEEKS),
    Fault(PROBLEM, "i.id for i in catalogue.items.values() if not i.space", "i.id for i in catalogue.items.values() if not i.large", WEEKS),
    Fault(LINE, "NEAR_PERCENT = (60, 125)", "NEAR_PERCENT = (60, 150)", NEAR),
    Fault(LINE, "NEAR_PERCENT = (60, 125)", "NEAR_PERCENT = (40, 125)", NEAR),
    Fault(LINE, "if low <= kg <= high", "if low < kg < high", "tests/domain/test_at_hand.py"),
    Fault(LINE, "men_kg, women_kg = usual", "women_kg, men_kg = usual", NEAR),
    Fault(LINE, 'if items[n].loaded and movement.modality == "loaded"), "")', 'if items[n].loaded), "")', NEAR),
    Fault(AT_HAND, "gym.count(i) * gym.class_.turns >= gym.class_.size", "gym.count(i) * gym.class_.turns > gym.class_.size", TURNS),
    Fault(AT_HAND, "gym.count(i) * gym.class_.turns >= gym.class_.size", "gym.count(i) * 3 >= gym.class_.size", TURNS),
    Fault(AT_HAND, 'piece == "conditioning" and setup.start == "rack"', 'piece == "main" and setup.start == "rack"', TURNS),
    Fault(AT_HAND, "if gym.count(item) > 0)", "if gym.count(item) >= 0)", "tests/domain/test_at_hand.py"),
    Fault(AT_HAND, 'held_items(gym, kit) if piece == "conditioning"', 'held_items(gym, kit) if piece != "main"', TURNS),
    # Units and times.
    Fault(LINE, '(2 if movement.sides == "per_side" else 1)', "1", LONG),
    Fault(LINE, 'movement.sides == "per_side"', 'movement.sides != "both"', LONG),
    Fault(TIMING, "max(0, dose - pace.steady_to)", "max(0, dose - pace.steady_to - 1)", LONG),
    Fault(TIMING, "beyond * pace.slower_percent / 100", "beyond * pace.slower_percent / 200", LONG),
    Fault(TIMING, 'sides = 2 if movement.sides == "per_side" else 1', "sides = 1", LONG),
    Fault(TIMING, '"heavy": 150}', '"heavy": 140}', LONG),
    Fault(TIMING, '"moderate": 115', '"moderate": 116', LONG),
    Fault(TIMING, "return ceil(round(units", "return round(round(units", LONG),
    Fault(TIMING, "TRANSITION_TENTHS = 50", "TRANSITION_TENTHS = 60", WEEKS),
    Fault(TIMING, "sum(dose_tenths(movement, rung, tier) for rung in rungs)", "dose_tenths(movement, sum(rungs), tier)", LONG),
    Fault(TIMING, "if floor or shape.fixed_minutes is None:", "if shape.fixed_minutes is None:", CLASS),
    Fault(TIMING, "return least * low // 100", "return least", CLASS),
    Fault(TIMING, "-(-most * high // 100)", "most * high // 100", CLASS),
    Fault(TIMING, '"slots": (75, 115)', '"slots": (75, 150)', CLASS),
    Fault(TIMING, "return min(10, 1 +", "return min(10, 2 +", CLASS),
    Fault(TIMING, "HARD_FROM, EASY_TO = 8, 5", "HARD_FROM, EASY_TO = 8, 6", WEEKS),
    Fault(TIMING, "HARD_FROM, EASY_TO = 8, 5", "HARD_FROM, EASY_TO = 7, 5", WEEKS),
    Fault(CLOCK, "ceil(sets_seconds(scheme, turns) / 60)", "sets_seconds(scheme, turns) // 60", CLASS),
    Fault(CLOCK, "\nASSISTANCE = 2\n", "\nASSISTANCE = 3\n", CLASS),
    Fault(CLOCK, "\nWARM_UP = 9\n", "\nWARM_UP = 10\n", CLASS),
    Fault(CLOCK, "frame.change_over if done and minutes else 0", "0", CLASS),
    Fault(CATALOGUE, "(len(sets) - 1) * self.rest_s", "len(sets) * self.rest_s", CLASS),
    Fault(CATALOGUE, "self.seconds_per_rep + 60 for", "self.seconds_per_rep for", CLASS),
    # Which lines a selector means.
    Fault(CATALOGUE, "-PATTERNS.index(p))", "PATTERNS.index(p))", SELECTS),
    Fault(WHERE, '("main", "assistance") if "strength" in self.piece', '("main",) if "strength" in self.piece', SELECTS),
    Fault(WHERE, "x.movement.share_of(p) >= least for p", "x.movement.share_of(p) > least for p", SELECTS),
    Fault(LINE, "EXPOSURE_PERCENT = 30", "EXPOSURE_PERCENT = 35", SELECTS),
    Fault(WHERE, "any(x.movement.share_of(p) >= least for p in self.pattern)", "all(x.movement.share_of(p) >= least for p in self.pattern)", SELECTS),
    Fault(WHERE, "x.movement.skill >= self.skill_at_least", "x.movement.skill > self.skill_at_least", SELECTS),
    Fault(WHERE, "x.movement.takes.back >= self.back_at_least", "x.movement.takes.grip >= self.back_at_least", SELECTS),
    Fault(WHERE, "self.contacts == (x.movement.takes.contacts > 0)", "self.contacts == (x.movement.takes.contacts > 1)", SELECTS),
    Fault(WHERE, "self.eccentric == x.movement.eccentric", "x.movement.eccentric", SELECTS),
    Fault(WHERE, "and (not self.heats or shape.heats in self.heats)", "", WEEKS),
    Fault(WHERE, "not self.hardness or hardness_of(rating) in self.hardness", "not self.hardness or hardness_of(rating) == self.hardness[0]", "tests/rules/test_contract.py -k any-two-days"),
    Fault(WHERE, "x.scheme is not None and x.scheme.goal in self.goal", "x.scheme is None or x.scheme.goal in self.goal", SELECTS),
    Fault(GROUPS, '("horizontal_pull", "vertical_pull")', '("vertical_pull",)', SELECTS),
    Fault(GROUPS, '"lower": _LEGS', '"lower": _LEGS[:2]', SELECTS),
    # Which doses suit.
    Fault(CANDIDATES, "if dose.dose * shape.rounds > m.cap:", "if dose.dose * shape.rounds >= m.cap:", DOSES),
    Fault(CANDIDATES, "if dose.dose * shape.rounds > m.cap:", "if dose.dose > m.cap:", DOSES),
    Fault(CANDIDATES, "return low * 10 <= dose.tenths <= high * 10", "return dose.tenths <= high * 10", DOSES),
    Fault(CANDIDATES, ' or dose.chipper != (shape.format == "chipper"):', ":", DOSES),
    Fault(OPTIONS, "if sum(x) <= m.cap and max(x) <= numbers[-1]", "if sum(x) <= m.cap", DOSES),
    Fault(OPTIONS, "plain = [n for n in numbers if n > 1 or len(numbers) == 1]", "plain = list(numbers)", DOSES),
    Fault(OPTIONS, 'CHIPPER_TIMES if m.unit == "reps" else CHIPPER_TIMES[:1]', "CHIPPER_TIMES", DOSES),
    Fault(OPTIONS, "if m.skill <= self._gym.class_.skill]", "]", f"{ALL} -k no_more_skill"),
    Fault(INSTEAD, "if original.unit == stand_in.unit and min(numbers) <= dose", "if min(numbers) <= dose", INSTEAD_OF),
    Fault(INSTEAD, "min(numbers) <= dose <= min(max(numbers), stand_in.cap)", "dose <= min(max(numbers), stand_in.cap)", INSTEAD_OF),
    Fault(INSTEAD, "key=lambda x: (abs(dose_tenths(stand_in, x[0], x[1]) - wanted_tenths), x[0])", "key=lambda x: x[0]", INSTEAD_OF),
)  # fmt: skip
