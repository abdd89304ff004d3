"""Commands: exit codes, what a word means, what is refused."""

from tests.mutants.fault import Fault

BASE = "planner/cli/base.py"
ERRORS = "planner/errors.py"
COMMANDS, BAD, LIFE = "tests/cli/test_commands.py", "tests/cli/test_bad_input.py", "tests/cli/test_life.py"

FAULTS = (
    Fault(ERRORS, "exit_code = 3", "exit_code = 2", COMMANDS),
    Fault(ERRORS, "exit_code = 2", "exit_code = 1", BAD),
    Fault(BASE, 'in_a_checkout = place.parent.name == "gyms" and', 'in_a_checkout = place.parent.name == "gym" and', f"{COMMANDS} {LIFE}"),
    Fault(BASE, "if word not in words:", "if word not in words and not words:", f"{COMMANDS} {BAD}"),
    Fault(BASE, "if not (folder / FILE_NAME).exists():", "if not folder.exists():", LIFE),
    Fault("planner/cli/week.py", "typer.Exit(BROKEN)", "typer.Exit(0)", f"{COMMANDS} {BAD}"),
    Fault("planner/cli/catalogue.py", "typer.Exit(BROKEN)", "typer.Exit(0)", f"{COMMANDS} {BAD}"),
)  # fmt: skip
