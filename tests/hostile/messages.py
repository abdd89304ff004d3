"""All messages of the program in one list; ``python -m tests.hostile.messages`` prints it."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

import planner

ROOT = Path(planner.__file__).parent
RAISED = {"DataError", "RuleError", "DiskError", "NoPlanError", "StoreConflict", "NothingThereError"}
OF_VALUES = {"ValueError", "Mistake"}
"""The loaders say them with file, line and key."""


class Message(NamedTuple):
    """One message.

    Attributes:
        where: module and line.
        what: the sentence, with ... for what is filled in.
        advice: what would be right, or empty.
    """

    where: str
    what: str
    advice: str


def messages() -> Iterator[Message]:
    """Every message that is written where it is raised."""
    for path in sorted(ROOT.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and getattr(node.func, "id", "") in RAISED | OF_VALUES:
                made = _message(node)
                if made:
                    yield Message(f"{path.relative_to(ROOT)}:{node.lineno}", *made)


def _message(call: ast.Call) -> tuple[str, str] | None:
    given = list(call.args)
    if getattr(call.func, "id", "") == "Mistake":
        given = given[1:] + given[:1]
    named = {k.arg: k.value for k in call.keywords}
    what = _text(given[0]) if given else None
    advice = named.get("advice") or (given[2] if len(given) > 2 else None)
    return (what, _text(advice) or "" if advice is not None else "") if what else None


def _text(node: ast.expr) -> str | None:
    """A text as it is written; None where it comes from elsewhere."""
    if isinstance(node, ast.Constant):
        return node.value if isinstance(node.value, str) else None
    if isinstance(node, ast.JoinedStr):
        return "".join(str(p.value) if isinstance(p, ast.Constant) else "..." for p in node.values)
    if isinstance(node, ast.BinOp):
        return "".join(filter(None, (_text(node.left) or "...", _text(node.right) or "...")))
    if isinstance(node, ast.IfExp):
        return _text(node.body)
    return None


if __name__ == "__main__":
    for message in messages():
        print(f"{message.where}\n    {message.what}\n    {message.advice}".rstrip())
