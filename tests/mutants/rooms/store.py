"""What is kept of a gym: nothing lost, nothing overwritten."""

from tests.mutants.fault import Fault

PACKING = "planner/store/packing.py"
LOG = "planner/store/log.py"
PAST = "planner/store/past.py"
TRANSFER = "planner/store/transfer.py"
STORE = "planner/store/store.py"
T = "tests/store/test_"
OF_PACKING = f"{T}packing.py"
OF_STORE, OF_LOG, OF_TRANSFER = f"{T}store.py", f"{T}log.py", f"{T}transfer.py"

FAULTS = (
    Fault(PACKING, "if text is None or sha256_of(text) != sha256:", "if text is None:", OF_PACKING),
    Fault(PACKING, "if version != SCHEMA_VERSION:", "if version is None:", OF_PACKING),
    Fault(LOG, "rated = round(rating * week.class_minutes)", "rated = round(session.rating * week.class_minutes)", OF_LOG),
    Fault(LOG, "rated = 0 if skipped else None", "rated = None", OF_LOG),
    Fault(LOG, "known = [row for row in rows if row.rated_au is not None]", "known = [row for row in rows if row.rated_au]", OF_LOG),
    Fault(LOG, "if day not in held:", "if day not in DAYS:", OF_LOG),
    Fault(LOG, "log = {**state.log, day: entry}", "log = {day: entry, **state.log}", OF_LOG),
    Fault(PAST, "weeks |= {week.week: week for week in opened.chosen_before(before_week, limit)}", "weeks = {week.week: week for week in opened.chosen_before(before_week, limit)} | weeks", OF_STORE),
    Fault(PAST, "sorted(weeks, reverse=True)[: max(0, limit)]", "sorted(weeks)[: max(0, limit)]", OF_STORE),
    Fault(TRANSFER, 'if data.get("version") != FORMAT_VERSION:', 'if data.get("version") is None:', OF_TRANSFER),
    Fault(TRANSFER, 'files[f"history/{path.name}"] = _text(path)', "pass", OF_TRANSFER),
    Fault(STORE, 'raise ValueError(f"{week} has two candidates of one name")', "pass", OF_STORE),
    Fault(STORE, 'raise ValueError(f"{week} has no candidate {state.chosen}")', "pass", OF_STORE),
    Fault(STORE, 'raise ValueError(f"this state is of {state.week}, not of {week}")', "pass", OF_STORE),
)  # fmt: skip
