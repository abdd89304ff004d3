"""What is done with a week: differences, requests, names, reasons, prices, digests."""

from tests.mutants.fault import Fault

DIFF = "planner/weeks/diff.py"
MERGE = "planner/weeks/merge.py"
REQUESTS = "planner/weeks/requests.py"
NAMES = "planner/weeks/names.py"
KEEPING = "planner/weeks/keeping.py"
WHY = "planner/weeks/why.py"
OFFERED = "planner/weeks/offered.py"
PRICE = "planner/weeks/price.py"
WRITTEN = "planner/weeks/written.py"
RESILIENCE = "planner/weeks/resilience.py"
T = "tests/weeks/test_"
EDGES = f"{T}requests_edges.py"
OF_DIFF, OF_REQUESTS, OF_NAMES = f"{T}diff.py", f"{T}requests.py", f"{T}names.py"
OF_CANDIDATES, OF_WHYS, OF_WRITTEN = f"{T}candidates.py", f"{T}whys.py", f"{T}written.py"
PRICES, REASONS = f"{OF_WHYS} -k price", f"{OF_WHYS} -k reasons"

FAULTS = (
    Fault(DIFF, 'if apart or (piece == "conditioning" and _runs(day.a) != _runs(day.b)):', "if apart:", OF_DIFF),
    Fault(DIFF, "[line for line in difference(a, b).parts[piece] if not line.same]", "[*difference(a, b).parts[piece]]", OF_DIFF),
    Fault(DIFF, "for side in ([x.a for x in apart], [x.b for x in apart])", "for side in ([x.b for x in apart], [x.a for x in apart])", OF_DIFF),
    Fault(DIFF, "for kit in kits if (day.key, piece) not in differing else ():", "for kit in kits:", OF_DIFF),
    Fault(DIFF, "if kit in day.a.versions][1:]", "if kit in day.a.versions][2:]", OF_DIFF),
    Fault(DIFF, "{' beside' if line.assistance else ''}", "", OF_DIFF),
    Fault(DIFF, 'for side in "ba")', 'for side in "ab")', OF_DIFF),
    Fault(MERGE, "if day in taken:\n", "if day in taken and False:\n", f"{OF_CANDIDATES} -k take_from"),
    Fault(REQUESTS, 'update = {"locks": tuple(x for x in asked.locks if x != wanted)}', 'update = {"locks": ()}', EDGES),
    Fault(REQUESTS, 'part="conditioning" if wanted.part == "strength" else "strength")', 'part="strength" if wanted.part == "strength" else "conditioning")', OF_REQUESTS),
    Fault(REQUESTS, "if wanted in state.requests.bans:", "if wanted in state.requests.bans and wanted.day:", EDGES),
    Fault(REQUESTS, "left = tuple(b for b in bans if b != wanted)", "left = tuple(b for b in bans if b.movement != wanted.movement)", EDGES),
    Fault(REQUESTS, "if len(under) == 1:", "if under:", EDGES),
    Fault(REQUESTS, "if not (x.day == session.day and x.of_pieces))", "if x.day != session.day)", EDGES),
    Fault(REQUESTS, "others = tuple(s for s in state.requests.by_hand if s.day != session.day)", "others = state.requests.by_hand", EDGES),
    Fault(NAMES, "for i in setting.gym.inventory if i in items}", "for i in items}", EDGES),
    Fault(NAMES, "known = [rule.id for rule in setting.rules if not rule.off]", "known = [rule.id for rule in setting.rules]", EDGES),
    Fault(NAMES, 'word.casefold().replace("_", " ").replace("-", " ").split()', 'word.casefold().replace("_", " ").split()', OF_NAMES),
    Fault(KEEPING, "state.chosen if name is None else name.strip().upper()", "None if name is None else name.strip().upper()", f"{OF_CANDIDATES} -k meant"),
    Fault(WHY, "if x is not line))", "if x is line))", REASONS),
    Fault(WHY, 'if r.level != "watch" and after', 'if r.level == "must" and after', REASONS),
    Fault(WHY, 'x.level != "must", -x.by', 'x.level == "must", -x.by', REASONS),
    Fault(OFFERED, "if m.skill > gym.class_.skill:", "if m.skill > gym.class_.skill + 1:", EDGES),
    Fault(PRICE, "musts = [r for r in problem.rules if r.must]", 'musts = [r for r in problem.rules if r.must and getattr(r, "at_most", None) is None]', PRICES),
    Fault(PRICE, "waiting += [group[half:], group[:half]]", "waiting += [group[half:]]", PRICES),
    Fault(PRICE, "measure=0, saves=saves)", "measure=0, saves=cost)", PRICES),
    Fault(PRICE, "key=lambda p: (-p.saves, p.rule)", "key=lambda p: p.rule", PRICES),
    Fault(PRICE, "measure=r.measure, saves=r.weight)", "measure=r.measure, saves=r.cost)", PRICES),
    Fault(WRITTEN, "        problem.requests.model_dump_json(),\n", "", OF_WRITTEN),
    Fault(WRITTEN, '        problem.base.model_dump_json() if problem.base else "",\n', "", OF_WRITTEN),
    Fault(WRITTEN, "seconds, problem.stay_near]", "seconds]", OF_WRITTEN),
    Fault(WRITTEN, "    if broken:\n", "    if len(broken) > 1:\n", f"{T}confirm.py"),
    Fault(WRITTEN, "if total_cost(results) != points:", "if total_cost(results) > points:", f"{T}confirm.py"),
    Fault(RESILIENCE, "GymChanges(counts={item: count - 1})", "GymChanges(counts={item: count})", f"{T}resilience.py -k tiny"),
)  # fmt: skip
