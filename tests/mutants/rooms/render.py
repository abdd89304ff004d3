"""A week on paper, on the screen and in the calendar."""

from tests.mutants.fault import Fault

CALENDAR = "planner/render/calendar.py"
NOTATION = "planner/render/notation.py"
INSTEAD = "planner/render/instead.py"
PALETTE = "planner/render/palette.py"
REPORT = "planner/render/report_view.py"
BRIEF = "planner/render/brief.py"
T = "tests/render/test_"
OF_CALENDAR, OF_NOTATION, OF_PALETTE = f"{T}calendar.py", f"{T}notation.py", f"{T}palette.py"
VIEWS = f"{T}views.py"

FAULTS = (
    Fault(CALENDAR, "start.astimezone(UTC) + timedelta(minutes=week.class_minutes)", "start + timedelta(minutes=week.class_minutes)", VIEWS),
    Fault(CALENDAR, "timedelta(minutes=week.class_minutes)", "timedelta(minutes=60)", VIEWS),
    Fault(CALENDAR, "+ (0 if same else 1)", "+ (1 if same else 0)", OF_CALENDAR),
    Fault(CALENDAR, 'said = ("dtstart", "dtend", "summary", "description", "location")', 'said = ("dtstart", "summary", "location")', VIEWS),
    Fault(CALENDAR, 'f"{week.week}-{session.day}-{gym}@{DOMAIN}"', 'f"{week.week}-{session.date}-{gym}@{DOMAIN}"', OF_CALENDAR),
    Fault(CALENDAR, "stamp + timedelta(minutes=sequence)", "stamp", OF_CALENDAR),
    Fault(CALENDAR, "if piece.kind not in LABELS or floor is None:", 'if floor is None or piece.kind == "strength":', OF_CALENDAR),
    Fault(NOTATION, "if a.year != b.year:", "if a.year != b.year and a.month == b.month:", OF_NOTATION),
    Fault(NOTATION, "if a.month == b.month else", "if a.day < b.day else", VIEWS),
    Fault(NOTATION, "minutes, rest = divmod(seconds, 60)", "minutes, rest = divmod(seconds, 100)", OF_NOTATION),
    Fault(NOTATION, 'r"(\\d{4})-W0?(\\d{1,2})"', 'r"(\\d{4})-W(\\d{1,2})"', OF_NOTATION),
    Fault(NOTATION, "if line.total == line.dose.value * (line.sets or 1):", "if line.total == line.dose.value:", VIEWS),
    Fault(NOTATION, 'if len({part["rest"] for part in parts}) == 1:', "if parts:", OF_NOTATION),
    Fault(NOTATION, 'or "empty bar"', 'or ""', OF_NOTATION),
    Fault(NOTATION, "one if amount == 1 else", "one if amount <= 1 else", VIEWS),
    Fault(NOTATION, 'text[-1] in ".!?:"', 'text[-1] in "."', VIEWS),
    Fault(INSTEAD, "if told(line) not in known)", "if told(line) in known)", VIEWS),
    Fault(INSTEAD, "(OTHERS_SAME if other else SAME,)", "(SAME if other else OTHERS_SAME,)", VIEWS),
    Fault(INSTEAD, "implement.casefold() in line.name.casefold()", "implement.casefold() not in line.name.casefold()", VIEWS),
    Fault(INSTEAD, "if all(text == SAME for text in texts):", "if any(text == SAME for text in texts):", VIEWS),
    Fault(PALETTE, "return (lighter + 0.05) / (darker + 0.05)", "return lighter / (darker + 0.05)", OF_PALETTE),
    Fault(PALETTE, "0.2126 * red + 0.7152 * green + 0.0722 * blue", "0.2126 * red + 0.0722 * green + 0.7152 * blue", OF_PALETTE),
    Fault(REPORT, "key=lambda rule: (-rule.cost, rule.id)", "key=lambda rule: (rule.cost, rule.id)", VIEWS),
    Fault(REPORT, 'proved=tier.status == "proved"', "proved=tier.gap == 0", VIEWS),
    Fault(REPORT, "sum(rule.cost for rule in weights)", "sum(rule.measure for rule in weights)", VIEWS),
    Fault(REPORT, 'verdict = "overruled" if holds', 'verdict = "holds" if holds', VIEWS),
    Fault(BRIEF, 'return f"{hours % 24}:{minutes:02d}"', 'return f"{hours}:{minutes:02d}"', VIEWS),
    Fault(BRIEF, "slow = max(prediction.slow for prediction in seen)", "slow = min(prediction.slow for prediction in seen)", VIEWS),
    Fault(BRIEF, "piece.cap_minutes * SECONDS // 2)", "piece.cap_minutes * SECONDS // 3)", VIEWS),
)  # fmt: skip
