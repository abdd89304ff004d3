"""Commands: exit codes, what a word means, what is refused."""

from tests.mutants.fault import Fault

BASE = "planner/cli/base.py"
ERRORS = "planner/errors.py"
COMMANDS, BAD = "tests/cli/test_commands.py", "tests/cli/test_bad_input.py"
NO_WEEK, CLASH = f"{BAD} -k a_week_that_is_none", f"{BAD} -k clashing_musts"

FAULTS = (
    Fault(ERRORS, "exit_code = 3", "exit_code = 2", CLASH),
    Fault(ERRORS, "exit_code = 2", "exit_code = 1", NO_WEEK),
    Fault(ERRORS, "exit_code = 70", "exit_code = 1", f"{BAD} -k fault_of_ours"),
    Fault(BASE, "if word not in words:", "if word not in words and not words:", f"{COMMANDS} -k nearest_word"),
    Fault("planner/cli/week.py", "raise typer.Exit(BROKEN)", "raise typer.Exit(0)", f"{COMMANDS} -k by_its_exit_code"),
    Fault("planner/cli/week.py", 'if rule.level == "must" and rule.measure]', "if rule.measure]", f"{COMMANDS} -k by_its_exit_code"),
    Fault("planner/cli/catalogue.py", "raise typer.Exit(BROKEN)", "raise typer.Exit(0)", f"{COMMANDS} -k check"),
)  # fmt: skip
