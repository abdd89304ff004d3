"""The grammar of sessions as text, in EBNF, from the files that the program reads by.

``python -m planner.reference.session_grammar docs/session_text.md`` prints that page with its end made
anew; a test compares.
"""

from __future__ import annotations

import re
import sys
from pathlib import Path

from planner.domain.words import listed
from planner.language.grammar import GRAMMAR
from planner.language.phrases import passed_over, terminals

BEGINS = "## The grammar\n"
NOTATION = """
Notation as in the XML specification: `::=` defines, `|` is or, `?` `*` `+` are at most once, any number of
times and at least once, `[0-9]` is one of. Names in capitals are words and signs; they are below. Between any
two there may be spaces. Capital and small letters are the same, and so are `pull-up`, `pull up` and `pullup`.
Passed
over are {words}, and a date behind a day.
"""
_PATTERNS = {
    "MOVEMENT": "/* a movement's name, id or other name, in singular or plural */",
    "SCHEME": "/* a scheme's name or id */",
    "KIT": "/* the name or id of one of the gym's kits, alone on its line */",
    "DRILL": "/* any line; after `drill:` even one that would be read as something else */",
    "NOTE": '"note:" /* and anything up to the end of the line */',
    "END": "/* the end of a line; empty lines, and lines of dashes, do not count */",
    "NUMBER": '[0-9]+ ("." [0-9]+)? | "one" | "two" /* and so on, up to twelve */',
    "LADDER": '[0-9]+ ("-" [0-9]+)+',
    "GROWING": '[0-9]+ ("-" [0-9]+)+ "-"? "..."',
    "DURATION": '[0-9]+ ":" [0-9] [0-9] | [0-9]+ ("." [0-9]+)? ("s" | "min") | [0-9]+ "min" [0-9]+ "s"',
    "TEMPO": '"tempo" [0-9X] [0-9X] [0-9X] [0-9X]',
    "EVERY": '"every" /* "E2MOM" is "every" "2 min" */',
    "SEP": '"," | ";" | ":" | "&" | "and"',
    "AT": '"@" | "at"',
    "PERCENT": '"%" | "percent"',
    "SLASH": '"/"',
    "PLUS": '"+" | "plus"',
    "LPAR": '"("',
    "RPAR": '")"',
}


def ebnf() -> str:
    """Every production and every terminal, one a line."""
    kept = [re.sub(r"\s*//.*$", "", line) for line in GRAMMAR.read_text(encoding="utf-8").split("\n")]
    said = " ".join(line.strip() for line in kept if line.strip() and not line.startswith("%"))
    rules = re.split(r"\s*\b(_?[a-z_]+): ", said)[1:]
    lines = [
        f"{name.lstrip('_')} ::= {_plain(body)}" for name, body in zip(rules[::2], rules[1::2], strict=True)
    ]
    words = {kind: " | ".join(f'"{word}"' for word in said) for kind, said in terminals().items()}
    return "\n".join(
        [*lines, "", *(f"{kind} ::= {body}" for kind, body in sorted((words | _PATTERNS).items()))]
    )


def section() -> str:
    """The end of the page on sessions as text."""
    words = listed(f"`{word}`" for word in passed_over())
    return f"{BEGINS}{NOTATION.format(words=words)}\n```ebnf\n{ebnf()}\n```\n"


def _plain(body: str) -> str:
    return re.sub(r"\b_(?=[a-z])", "", " ".join(body.split()))


if __name__ == "__main__":
    page = Path(sys.argv[1])
    sys.stdout.write(page.read_text(encoding="utf-8").split(BEGINS)[0] + section())
