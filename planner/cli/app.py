"""The ``planner`` command: one entry for each verb, and how errors are told."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Annotated, Any

import typer
from typer.core import TyperCommand

from planner.cli import asking, catalogue, life, record, running, week
from planner.cli.arguments import check_numbers, check_words
from planner.errors import DataError, DiskError, PlannerError, of_system
from planner.extensions import VERBS, added

FAULT = 70
"""Exit code where the program itself is at fault."""
COMMANDS: dict[str, Callable[..., None]] = {
    "draft": week.draft,
    "audit": week.audit,
    "sheet": week.sheet,
    "sheets": week.sheets,
    "loads": week.loads,
    "run": running.run,
    "weeks": record.weeks,
    "choose": record.choose,
    "undo": record.undo,
    "redo": record.redo,
    "history": record.history,
    "log": record.log,
    "export": record.export_,
    "import": record.import_,
    "lock": asking.lock,
    "unlock": asking.unlock,
    "ban": asking.ban,
    "allow": asking.allow,
    "ask": asking.ask,
    "overrule": asking.overrule,
    "write": asking.write,
    "redraft": life.redraft,
    "merge": life.merge,
    "compare": life.compare,
    "why": life.why,
    "why-not": life.why_not,
    "price": life.price,
    "resilience": life.resilience,
    "init": catalogue.init,
    "rules": catalogue.rules,
    "schema": catalogue.schema,
    "catalogue check": catalogue.catalogue_check,
    "catalogue list": catalogue.catalogue_list,
    "catalogue show": catalogue.catalogue_show,
    "catalogue schemes": catalogue.catalogue_schemes,
    "catalogue formats": catalogue.catalogue_formats,
}
"""In the order of the help. A new verb is a module and an entry here."""
GROUPS = {"catalogue": "Looks at the catalogue of movements, schemes and formats."}
"""What is said of the first word of two."""


NOT_SAID = "what the command says cannot be written"


class SpokenCommand(TyperCommand):
    """A command that tells errors in words; only ``--debug`` shows a traceback."""

    def parse_args(self, ctx: Any, args: list[str]) -> list[str]:
        """Looks at the words before anything else does."""
        with _spoken(ctx):
            check_words(args)
        left: list[str] = super().parse_args(ctx, args)
        with _spoken(ctx):
            check_numbers(ctx.params)
        return left

    def invoke(self, ctx: Any) -> Any:
        """Runs the command; an error becomes its message and its exit code."""
        with _spoken(ctx):
            return super().invoke(ctx)


@contextmanager
def _spoken(ctx: Any) -> Iterator[None]:
    try:
        yield
    except (typer.Exit, typer.Abort):
        raise
    except BrokenPipeError:  # the reader has enough, as with "| head"
        raise typer.Exit(DiskError.exit_code) from None
    except Exception as error:
        if ctx.find_root().params.get("debug"):
            raise
        if isinstance(error, OSError):
            named = error.filename is not None
            error = of_system(error, "the system refuses this" if named else NOT_SAID)
        if isinstance(error, PlannerError):
            typer.echo(str(error), err=True)
            raise typer.Exit(error.exit_code) from None
        typer.echo(
            f"The program is at fault here, not your files: {type(error).__name__}: {error}\n"
            "Run it again as `planner --debug ...` and report what it prints.",
            err=True,
        )
        raise typer.Exit(FAULT) from None


def make_app(commands: dict[str, Callable[..., None]]) -> typer.Typer:
    """Builds the program.

    Args:
        commands: the function of each command by the command's words, in the order of the help.
    """
    app = typer.Typer(
        name="planner",
        help="Drafts a balanced training week for a functional-fitness gym, in every kit version.",
        no_args_is_help=True,
        pretty_exceptions_enable=False,
        add_completion=False,
    )
    app.callback()(_top)
    groups: dict[str, typer.Typer] = {}
    for words, function in commands.items():
        group, _, name = words.rpartition(" ")
        if group and group not in groups:
            groups[group] = typer.Typer(no_args_is_help=True, help=GROUPS.get(group))
            app.add_typer(groups[group], name=group)
        (groups[group] if group else app).command(name, cls=SpokenCommand)(function)
    return app


def main() -> None:
    """Runs the ``planner`` command, with the verbs that other packages add."""
    try:
        others = added(VERBS)
        taken = [name for name in others if name in COMMANDS]
        if taken:
            raise DataError(f'another package adds a verb "{taken[0]}", and there is one already')
    except PlannerError as error:
        typer.echo(str(error), err=True)
        raise SystemExit(error.exit_code) from None
    make_app(meant(COMMANDS | others, sys.argv[1:]))()


def meant(commands: dict[str, Callable[..., None]], words: list[str]) -> dict[str, Callable[..., None]]:
    """The commands that begin with the first word given, else all: those of others need not be looked at."""
    first = next((word for word in words if word != "--debug"), "")
    return {name: function for name, function in commands.items() if name.split()[0] == first} or commands


def _version(wanted: bool) -> None:
    if wanted:
        import planner

        typer.echo(f"planner {planner.__version__}")
        raise typer.Exit


def _top(
    debug: Annotated[bool, typer.Option("--debug", help="Show the traceback of an error.")] = False,
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Show the version.")
    ] = False,
) -> None:
    del debug, version  # each is read elsewhere
