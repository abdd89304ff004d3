"""Commands: exit codes, what a word means, what is refused."""

from tests.mutants.fault import Fault

BASE = "planner/cli/base.py"
ERRORS = "planner/errors.py"
COMMANDS = "tests/cli/test_commands.py"
CODES = "tests/cli/test_exit_codes.py"

FAULTS = (
    Fault(ERRORS, "exit_code = 3", "exit_code = 2", CODES),
    Fault(ERRORS, "exit_code = 2", "exit_code = 1", CODES),
    Fault(ERRORS, "exit_code = 70", "exit_code = 1", CODES),
    Fault(BASE, "if word not in words:", "if word not in words and not words:", f"{COMMANDS} -k nearest_word"),
    Fault("planner/cli/week.py", "raise typer.Exit(BROKEN)", "raise typer.Exit(0)", f"{COMMANDS} -k by_its_exit_code"),
    Fault("planner/cli/week.py", 'if rule.level == "must" and rule.measure]', "if rule.measure]", f"{COMMANDS} -k by_its_exit_code"),
    Fault("planner/cli/catalogue.py", "raise typer.Exit(BROKEN)", "raise typer.Exit(0)", f"{COMMANDS} -k check"),
)  # fmt: skip
