"""From a plan to lines with loads, times and words."""

from tests.mutants.fault import Fault

PLATES = "planner/prescribe/plates.py"
PERCENT = "planner/prescribe/percent.py"
LOADS, LIFTING = "planner/prescribe/loads.py", "planner/domain/lifting.py"
ONE_RM = "planner/prescribe/one_rm.py"
MEMBER = "planner/prescribe/member_loads.py"
LINES = "planner/prescribe/lines.py"
SET_LOADS, SET_WORDS = "planner/prescribe/work_sets.py", "planner/prescribe/set_words.py"
OWN = "planner/prescribe/own_scheme.py"
TIMES = "planner/prescribe/times.py"
WEEK_LOAD = "planner/prescribe/week_load.py"
WARM_UP = "planner/prescribe/warm_up.py"
SESSION = "planner/prescribe/session.py"
RUNNING = "planner/domain/running.py"
SETUP = "planner/prescribe/floor_setup.py"
BALANCE = "planner/prescribe/balance.py"
WORDS = "planner/prescribe/sentences.py"
STOCK = "planner/prescribe/stock.py"
ESTIMATORS = "planner/prescribe/estimators.py"
OUT = "planner/prescribe/write_out.py"

T = "tests/prescribe/test_"
OF_SETS, OF_OWN = f"{T}work_sets.py", f"{T}own_scheme.py"
OF_PLATES, OF_LOADS, OF_OUT = f"{T}plates.py", f"{T}loads.py", f"{T}write_out.py"
OF_TIMES, OF_PERCENT = f"{T}times_clock_and_load.py", f"{T}percent_and_estimators.py"
OF_WORDS, CARD = f"{T}warm_up_and_sentences.py", "tests/render/test_loads_card.py"
EDGES = f"{T}edges.py"
MEASURED = "tests/measured/test_weeks.py::test_random_weeks_are_measured_alike"

FAULTS = (
    Fault(PLATES, "(grams(kg), n // 2) for kg, n in plates.items() if n > 1", "(grams(kg), n) for kg, n in plates.items() if n > 1", OF_PLATES),
    Fault(PLATES, "if before is None or (len(way), before) < (len(before), way):", "if before is None:", OF_PLATES),
    Fault(PLATES, "if total > most:", "if total >= most:", OF_PLATES),
    Fault(PLATES, "if (wanted - grams(below[0])) * 100 > way * up_from_percent:", "if (wanted - grams(below[0])) * 100 >= way * up_from_percent:", OF_PLATES),
    Fault(PLATES, "(most + pairs[0][0]) // TABLE_STEP + 1", "most // TABLE_STEP", OF_PLATES),
    Fault(PLATES, "empty = grams(bar_kg) + grams(collars_kg)\n    most", "empty = grams(bar_kg)\n    most", OF_PLATES),
    Fault(PLATES, "key=lambda kg: (abs(grams(kg) - grams(target_kg)), kg)", "key=lambda kg: (abs(grams(kg) - grams(target_kg)), -kg)", OF_PLATES),
    Fault(PERCENT, "step * (reps - low), 1)", "step * (reps - low) + 0.5, 1)", OF_PERCENT),
    Fault(PERCENT, "max(LEAST_PERCENT, PERCENT_BY_REPS[last]", "max(0, PERCENT_BY_REPS[last]", EDGES),
    Fault(PERCENT, "return percent_of_1rm(reps + reserve)", "return percent_of_1rm(reps)", OF_PERCENT),
    Fault(PERCENT, "7: 83", "7: 82", OF_PERCENT),
    Fault(ESTIMATORS, "53.8 * exp(-0.075 * reps)", "53.8 * exp(-0.057 * reps)", OF_PERCENT),
    Fault(ESTIMATORS, "load_kg if reps == 1 else load_kg * (1 + reps / 30)", "load_kg * (1 + reps / 30)", OF_PERCENT),
    Fault(LOADS, "targets[item] = min(target, targets.get(item, target))", "targets[item] = max(target, targets.get(item, target))", OF_LOADS),
    Fault(LOADS, "else once * AGAIN_AND_AGAIN_PERCENT / 100", "else once", OF_LOADS),
    Fault(LOADS, "ceilings[item] = min(most, ceilings.get(item, most))", "ceilings[item] = max(most, ceilings.get(item, most))", EDGES),
    Fault(LIFTING, "share *= percent / 100", "share = percent / 100", OF_LOADS),
    Fault(LIFTING, "(DEADLIFT_TIER_PERCENT if on_deadlift else TIER_LOAD_PERCENT)[tier]", "TIER_LOAD_PERCENT[tier]", EDGES),
    Fault(LOADS, "if most is not None and made[0] > most:", "if most is not None and made[0] > 2 * most:", OF_LOADS),
    Fault(LIFTING, "min(known, key=lambda t: (abs(TIER_ORDER.index(t) - at), TIER_ORDER.index(t)))", "min(known, key=lambda t: (abs(TIER_ORDER.index(t) - at), -TIER_ORDER.index(t)))", OF_LOADS),
    Fault(LOADS, "if most is not None and setup.limit is not None and most < target", "if most is not None and setup.limit is not None and most > target", OF_LOADS),
    Fault(LOADS, "return target - kg > max(SHORT_KG, target * SHORT_PERCENT / 100)", "return target - kg > min(SHORT_KG, target * SHORT_PERCENT / 100)", EDGES),
    Fault(LIFTING, "first, second = (by_rm, usual) if item == BARBELL else (usual, by_rm)", "first, second = (by_rm, usual)", EDGES),
    Fault(LOADS, "wanted = target if most is None else min(target, most)\n    load", "wanted = target\n    load", OF_LOADS),
    Fault(STOCK, "return (own[athlete_index(athlete)],)", "return (own[0],)", f"{OF_LOADS} {MEASURED}"),
    Fault(STOCK, "kg for kg, count in self.counts(item).items() if count", "kg for kg, count in self.counts(item).items()", EDGES),
    Fault(STOCK, "if BARBELL in needs:\n            return BARBELL", "if needs[:1] == (BARBELL,):\n            return BARBELL", EDGES),
    Fault(MEMBER, "too_heavy=grams(kg) > grams(target)", "too_heavy=grams(kg) >= grams(target)", EDGES),
    Fault(ONE_RM, "return int(low * 10) / 10", "return round(low, 1)", EDGES),
    Fault(MEMBER, "if not 0 < one_rm <= MOST_KG:", "if not 0 <= one_rm <= MOST_KG:", f"{CARD} tests/cli/test_bad_input.py"),
    Fault(MEMBER, "first, last = int(low // step * step) or step", "first, last = int(-(-low // step) * step)", EDGES),
    Fault(MEMBER, "(s.sets, s.reps) == wanted", "(s.reps, s.sets) == wanted", CARD),
    Fault(LINES, "limited = (short or stands_in)", "limited = short", OF_OUT),
    Fault(LINES, "total=sets * reps if limited", "total=scheme.work.total if limited", OF_OUT),
    Fault(LINES, "reserve=None if limited else scheme.reserve", "reserve=scheme.reserve", OF_OUT),
    Fault(LINES, "seconds=ceil(sides * (", "seconds=ceil(1 * (", MEASURED),
    Fault(LINES, "seconds=ceil(line_tenths(movement, dose, tier, rungs) / 10)", "seconds=ceil(line_tenths(movement, dose, tier) / 10)", MEASURED),
    Fault(LIFTING, "return min((kg for kg in known", "return max((kg for kg in known", OF_SETS),
    Fault(PERCENT, "max(HEAVY_RESERVE, FIRST_WAVE_RESERVE - wave)", "FIRST_WAVE_RESERVE", OF_SETS),
    Fault(PERCENT, "(100 - STEP_UP_PERCENT * (last - i))", "(100 - STEP_UP_PERCENT * i)", OF_SETS),
    Fault(SET_LOADS, "named = sets[i].kg or line.kg if as_named else None", "named = sets[i].kg or line.kg", OF_SETS),
    Fault(SET_LOADS, "(x.load.kg if x.load else 0.0, x.short)", "x.short", OF_SETS),
    Fault(SET_WORDS, 'if scheme.work.form != "find":\n        return ()', 'if scheme.work.form == "find":\n        return ()', OF_SETS),
    Fault(OWN, "and lift.tier in {None, scheme.tier}", "", OF_OWN),
    Fault(OWN, "percent >= HEAVY_PERCENT or hard", "percent >= HEAVY_PERCENT", OF_OWN),
    Fault(LINES, "total=dose * (1 if rungs else shape.comes(line.spot) * shape.rounds)", "total=dose", OF_OUT),
    Fault(LINES, '"stands_for": "" if movement.id == original.id else original.name', '"stands_for": original.name', EDGES),
    Fault(LINES, "any(x.short for x in loads)", "all(x.short for x in loads)", EDGES),
    Fault(TIMES, "typical * QUICK_PERCENT // 100, ceil(typical * SLOW_PERCENT / 100)", "typical * SLOW_PERCENT // 100, ceil(typical * QUICK_PERCENT / 100)", OF_TIMES),
    Fault(TIMES, "quick, typical, slow = (length_s * shape.turns * 10", "slow, typical, quick = (length_s * shape.turns * 10", OF_TIMES),
    Fault(TIMES, "return max(1, min(on_clock, needed))", "return max(1, max(on_clock, needed))", OF_TIMES),
    Fault(TIMES, "on_clock = shape.cap_minutes // shape.heats", "on_clock = shape.cap_minutes", OF_TIMES),
    Fault("planner/domain/timing.py", "(100 + domain.fatigue_percent) / 1000)", "100 / 1000)", OF_TIMES),
    Fault(WEEK_LOAD, "return mean(daily_au) / stdev(daily_au)", "return stdev(daily_au) / mean(daily_au)", OF_TIMES),
    Fault(WEEK_LOAD, "if w.week < week}", "if w.week <= week}", EDGES),
    Fault(WEEK_LOAD, "return round(100 * (week_au / mean(last_weeks_au) - 1))", "return round(100 * (week_au / last_weeks_au[0] - 1))", EDGES),
    Fault(WEEK_LOAD, "session.rating >= VIGOROUS_RATING", "session.rating > VIGOROUS_RATING", EDGES),
    Fault(WEEK_LOAD, "sorted(by_id, reverse=True)[:WEEKS_BACK]", "sorted(by_id)[:WEEKS_BACK]", EDGES),
    Fault(WARM_UP, "free = [d for d in drills if not d.needs and not d.calm]", "free = [d for d in drills if not d.calm]", OF_WORDS),
    Fault(WARM_UP, "calm = [d for d in drills if d.calm and not d.needs]", "calm = [d for d in drills if not d.needs]", EDGES),
    Fault(WARM_UP, "left -= best.seconds", "left -= 1", EDGES),
    Fault(WARM_UP, "at = turn % len(drills) if drills else 0", "at = 0", OF_WORDS),
    Fault(WARM_UP, "sorted(chosen, key=lambda d: PHASES.index(d.phase))", "chosen", OF_WORDS),
    Fault(SESSION, "return line.total * (2 if", "return line.total * (1 if", OF_OUT),
    Fault(SESSION, "sum(m.takes.overhead >= MUCH for _, m in moved) >= OVERHEAD_LINES", "sum(m.takes.overhead >= MUCH for _, m in moved) > OVERHEAD_LINES", EDGES),
    Fault(RUNNING, "(shape.cap_minutes if shape else 0)", "(shape.cap_minutes // shape.heats if shape else 0)", MEASURED),
    Fault(SESSION, "load_au=session_load_au(facts.rating, gym.class_.minutes)", "load_au=session_load_au(facts.rating, facts.minutes)", MEASURED),
    Fault(SESSION, "patterns=exposures(lines)", "patterns=exposures(lines[1:])", MEASURED),
    Fault(SETUP, "each = ceil(gym.class_.size / count)", "each = gym.class_.size // count", EDGES),
    Fault(SETUP, "at_once = ceil(size / shape.heats)", "at_once = size // shape.heats", EDGES),
    Fault(SETUP, "each = ceil(at_once / movements)", "each = at_once // movements", EDGES),
    Fault(BALANCE, "counts[pattern] += share >= EXPOSURE_PERCENT", "counts[pattern] += share > EXPOSURE_PERCENT", MEASURED),
    Fault(BALANCE, "modality[line.modality] += 1", "modality[line.modality] = 1", MEASURED),
    Fault(OUT, "timedelta(days=DAYS.index(session.day))", "timedelta(days=index)", OF_OUT),
    Fault(OUT, "load=week_load(plan.week, sessions, history)", "load=week_load(plan.week, sessions, ())", OF_OUT),
    Fault(WORDS, 'f"2 x {kg_text(kg)} kg"', 'f"{kg_text(kg)} kg"', f"{OF_WORDS} {OF_LOADS}"),
    Fault(WORDS, "least = ceil(dose / HALF)", "least = dose // HALF", OF_WORDS),
    Fault(WORDS, "above = min(r for r in CR10_ANCHORS if r > rating)", "above = max(CR10_ANCHORS)", OF_WORDS),
    Fault(WORDS, 'f"{kg:.2f}".rstrip("0").rstrip(".")', 'f"{kg:.1f}".rstrip("0").rstrip(".")', f"{OF_WORDS} {OF_PLATES}"),
)  # fmt: skip
