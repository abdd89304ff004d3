"""Inputs that are wrong, each with the exit code and the words that it must get; nothing here is run.

In words, GYM stands for a gym of two candidates (A and B of 2026-W49, open Monday, Wednesday and Friday).
"""

from __future__ import annotations

from typing import NamedTuple

W = "2026-W49"
LONG = "n" * 300


class Words(NamedTuple):
    """A command that is refused, and what it must be told; all of ``said`` has to be in the message."""

    name: str
    command: tuple[str, ...]
    said: tuple[str, ...]
    code: int = 2


class InFile(NamedTuple):
    """A fault in a file: what stands in place of ``old``, and what must be told beside file and line."""

    name: str
    file: str
    old: str
    new: str
    said: tuple[str, ...]


WORDS = (
    # Weeks
    Words("year 9999", ("draft", "GYM", "--week", "9999-W52"), ("9999-W52", "1900 to 2999")),
    Words("year 0", ("choose", "GYM", "0000-W01", "A"), ("0000-W01", "1900 to 2999")),
    Words("week 54", ("lock", "GYM", "2026-W54", "mon"), ("2026 has 53 weeks",)),
    Words("digits of another script", ("weeks", "GYM", "\u0662\u0660\u0662\u0666-W49"), ("like 2026-W49",)),
    # Lengths
    Words("a path of 5,000 characters", ("draft", "p" * 5000), ("5,000 characters", "4,096")),
    Words("a path of 4,000 characters", ("draft", "p" * 4000), ("File name too long", "shorter name")),
    Words("a folder with a name of 300", ("init", LONG), ("cannot be read", "File name too long")),
    Words("a file with a name of 300", ("export", "demo", f"{LONG}.json"), ("File name too long", "shorter")),
    Words("a sheet with a name of 300", ("draft", "demo", "--out", f"{LONG}.html"), ("File name too long",)),
    Words("a week in a path too long", ("audit", "w/" * 1500 + "w", "--gym", "demo"), ("no such file",)),
    # Empty words
    Words("no candidate's name", ("choose", "GYM", W, ""), ("word 3", "is empty", "leave it out")),
    Words("a blank name", ("choose", "GYM", W, "  "), ("is empty",)),
    Words("no gym's name", ("draft", ""), ("word 1", "is empty")),
    Words("no folder's name", ("init", ""), ("is empty",)),
    Words("no open days", ("redraft", "GYM", W, "--days", ""), ("after --days", "is empty")),
    Words("no open days, with =", ("redraft", "GYM", W, "--days="), ("after --days", "is empty")),
    Words("open days of commas", ("redraft", "GYM", W, "--days", ",,"), ("no open day", "mon,tue,thu")),
    Words("no movement's name", ("ban", "GYM", W, ""), ("is empty",)),
    # What is no text
    Words("an escape", ("draft", "\x1b[31mgym"), ("unprintable", "U+001B")),
    Words("a turned name", ("log", "GYM", W, "mon", "done", "--note", "a\u202eb"), ("--note", "U+202E")),
    Words("bytes that are no text", ("draft", "gym\udcff"), ("unprintable", "U+DCFF")),
    # Numbers
    Words("a rating that is none", ("log", "GYM", W, "mon", "done", "--rating", "nan"), ("--rating",)),
    Words(
        "an endless bar",
        ("loads", "demo", "--lift", "bench press", "--scheme", "3x8", "--one-rm", "inf"),
        ("--one-rm", "inf"),
    ),
    Words("a half athlete", ("redraft", "GYM", W, "--class-size", "1.5"), ("--class-size",)),
    Words(
        "a count in another script", ("redraft", "GYM", W, "--set", "rower=\u0663"), ("rower=2", "up to 500")
    ),
    Words("a squared count", ("redraft", "GYM", W, "--set", "rower=\u00b2"), ("item=count",)),
    Words("a huge count", ("redraft", "GYM", W, "--set", "rower=999999999999"), ("up to 500",)),
    Words("a mass of nought", ("redraft", "GYM", W, "--set", "barbell0=2"), ("mass in kg", "at most 200")),
    Words("a count of what is not held", ("redraft", "GYM", W, "--set", "rowr=2"), ('"rower"?',)),
    # What is not there
    Words(
        "merge with a candidate that is not there",
        ("merge", "GYM", "A", "Z", "--take", "mon=A"),
        ('no candidate "Z"', "A, B"),
    ),
    Words("merge from a third", ("merge", "GYM", "A", "B", "--take", "mon=C"), ('"C"', "A and B")),
    Words(
        "lock a conditioning movement in the strength",
        ("lock", "GYM", W, "mon", "strength", "--movement", "row"),
        ("row is never in the strength piece", "conditioning"),
    ),
    Words(
        "lock what the gym cannot do",
        ("lock", "GYM", W, "mon", "--movement", "sled push"),
        ("sled push needs", "more than the gym has"),
    ),
    Words(
        "ask for what the gym cannot do", ("ask", "GYM", W, "--movement", "sled push"), ("sled push needs",)
    ),
    Words(
        "a kit version of a name that is none",
        ("redraft", "GYM", W, "--add-kit", "Big Kit=plate"),
        ("no id of a kit version",),
    ),
    Words("a movement that is nearly one", ("ban", "GYM", W, "burpe"), ('"burpee"?',)),
    Words("a shape of nothing", ("catalogue", "formats", "--domain", "forever"), ("short, medium, long",)),
    Words("no gym of that name", ("draft", "dmeo"), ('"demo"?',)),
    Words("a home that nobody has", ("draft", "~nobody-of-that-name/gym"), ("cannot be looked into",)),
)

GYM, OWN = "gym.yaml", "rules.yaml"
NAME, START, RACK, BARS = "name: Lantern", 'start: "18:00"', "rack: 4", "{20: 8, 15: 6}"

IN_FILES = (
    InFile("6pm", GYM, START, "start: 6pm", ("class.start", "a time of day", '"6pm"')),
    InFile(
        "digits of another script", GYM, START, 'start: "\u0661\u0668:00"', ("class.start", "a time of day")
    ),
    InFile("a time as a number", GYM, START, "start: 18.30", ("class.start", 'like "18:00"')),
    InFile("an hour too many", GYM, START, 'start: "24:00"', ("00:00 to 23:59",)),
    InFile("a count below nought", GYM, RACK, "rack: -1", ("inventory.rack: must be at least 0; it is -1",)),
    InFile("a count in halves", GYM, RACK, "rack: 1.5", ("inventory.rack", "whole number", "it is 1.5")),
    InFile("a count as a word", GYM, RACK, "rack: four", ("inventory.rack", "whole number", '"four"')),
    InFile("a huge number", GYM, RACK, "rack: 99999999999", ("99999999999", "larger than any")),
    InFile("a mass of nought", GYM, BARS, "{20: 8, 0: 6}", ("inventory.barbell.0", "more than 0")),
    InFile("a mass that is none", GYM, BARS, "{20: 8, .nan: 6}", ("inventory.barbell", '".nan"')),
    InFile("half a bar", GYM, BARS, "{20: 8, 15: 6.5}", ("inventory.barbell.15", "whole number")),
    InFile("an empty name", GYM, NAME, 'name: ""  # ', ("name: must not be empty",)),
    InFile("a name of blanks", GYM, NAME, 'name: "   "  # ', ("name: must not be empty",)),
    InFile("a bell in a name", GYM, NAME, 'name: "a\\u0007b"  # ', ("U+0007",)),
    InFile("a name that turns", GYM, NAME, 'name: "a\\u202Eb"  # ', ("U+202E",)),
    InFile("half a character", GYM, NAME, 'name: "a\\uD800b"  # ', ("not YAML", "a backslash")),
    InFile("a name without end", GYM, NAME, f'name: "{LONG}"  # ', ("name: must have at most 100",)),
    InFile(
        "two rules of one id",
        OWN,
        "",
        "rules:\n  - {id: easy-day, off: true}\n  - {id: easy-day, weight: 3}\n",
        ('"easy-day" is in this file twice', "line 2"),
    ),
    InFile(
        "a rule of two minds", OWN, "", "rules:\n  - {id: easy-day, off: maybe}\n", ("off", "true or false")
    ),
    InFile(
        "a weight without end", OWN, "", "rules:\n  - {id: easy-day, weight: 100000}\n", ("at most 1000",)
    ),
    InFile(
        "a kind that is a list",
        OWN,
        "",
        "rules:\n  - {id: x, kind: []}\n",
        ("no kind of rule", "Known kinds"),
    ),
    InFile("rules that are none", OWN, "", "rules: 7\n", ('"rules:"',)),
)
