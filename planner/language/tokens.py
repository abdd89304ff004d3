"""Makes tokens of a line: names and words of several words become one, numbers that belong together too."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from typing import Literal

from lark import Token

from planner.language.text_line import TextLine
from planner.language.vocabulary import MOST_WORDS, Vocabulary, Word

UNKNOWN = "UNKNOWN"
MOST_NUMBER = 1_000_000
"""A larger number is as wrong as this one."""
MOST_STEPS = 99
MINUTE_S = 60
MOST_CHUNKS_UNKNOWN = 3
"""So many words are tried together where no name begins with the first."""
Brackets = Literal["signs", "commas", "aside"]
"""What brackets are taken for: signs of the grammar, commas, or the ends of what is left out."""

_TOKEN = re.compile(
    r"""(?P<skip>[\s.\-*_!|=]+?)
    | (?P<growing>[0-9]{1,6}(?:\s?-\s?[0-9]{1,6})+(?:\s?-)?\s?(?:\.\.+|\u2026)(?:\s?-?\s?([0-9]{1,6}))?)
    | (?P<ladder>[0-9]+(?:\s?-\s?[0-9]+)+(?![0-9.:]))
    | (?P<clock>([0-9]{1,3}):([0-9]{2})(?![0-9:]))
    | (?P<both>([0-9]{1,3})\s?(?:min|mins|')\s?([0-9]{1,2})\s?(?:secs?|s|")(?![^\W_]))
    | (?P<minutes>([0-9]{1,4}(?:\.[0-9]{1,2})?)[\s-]?(?:minutes?|mins?|')(?![^\W_]))
    | (?P<seconds>([0-9]{1,4}(?:\.[0-9]{1,2})?)[\s-]?(?:seconds?|secs?|s|")(?![^\W_]))
    | (?P<number>[0-9]+(?:\.[0-9]+|,[0-9](?=\s?(?:/|kg)))?)
    | (?P<every>e[2-9]mom(?![^\W_]))
    | (?P<word>[^\W\d_]+|&)
    | (?P<quoted>"[^"]*")
    | (?P<sign>[,;:@%/+()])
    | (?P<other>.)""",
    re.VERBOSE,
)
_CHUNK = re.compile(r"[\s\-_']*([^\W\d_]+|[0-9]+|,|&)")
_TEMPO = re.compile(r"[\s:]*([0-9x](?:[-./ ]?[0-9x]){3})(?![0-9x])")
_NO_TEMPO = re.compile(r"[\s:]*[0-9][0-9x./-]*")
_DIGITS = re.compile("[0-9]+")
_SIGNS = {
    ",": "SEP", ";": "SEP", ":": "SEP", "@": "AT", "%": "PERCENT", "/": "SLASH", "+": "PLUS", "(": "LPAR",
    ")": "RPAR",
}  # fmt: skip
_MINUTES_AFTER = {"AS_MANY", "EMOM", "CAP"}
_SECONDS_BEFORE = {"ON", "OFF"}
_Found = tuple[str, str, int, int]
"""Terminal, value, start and end."""


def tokens(line: TextLine, vocabulary: Vocabulary, brackets: Brackets = "signs") -> list[Token]:
    """The tokens of a line.

    Args:
        line: the line.
        vocabulary: names and words.
        brackets: what they are taken for.

    Returns:
        Tokens whose ``line`` and ``column`` are set and whose value is what the terminal stands for;
        a word that is not known, with its neighbours, is of the type ``UNKNOWN``.
    """
    return _joined(_settled([_token(found, line) for found in _found(line, vocabulary, brackets)]), line)


def first_word(line: TextLine, vocabulary: Vocabulary) -> tuple[Word | None, int]:
    """The name or word that a line begins with, and where it ends."""
    return _longest(line.plain[: line.note], line.start, vocabulary)


def _token(found: _Found, line: TextLine) -> Token:
    kind, value, start, end = found
    return Token(kind, value, start, line.number, start + 1, line.number, end + 1, end)


def _found(line: TextLine, vocabulary: Vocabulary, brackets: Brackets) -> Iterator[_Found]:
    plain, at = line.plain[: line.note], line.start
    left_out = dict(line.brackets()) if brackets == "aside" else {}
    while at < len(plain):
        if at in left_out:
            at = left_out[at] + 1
            continue
        match = _TOKEN.match(plain, at)
        assert match is not None  # the last alternative takes anything
        named = _name(plain, at, vocabulary) if match.lastgroup in {"word", "number"} else None
        if named is not None:
            yield named
            at = named[3]
            continue
        group, text = match.lastgroup or "", match[match.lastgroup or 0]
        if group in {"sign", "quoted"}:
            yield (*_sign(text, vocabulary, brackets), at, match.end())
        elif group == "every":  # "E2MOM": every two minutes
            yield "EVERY", text[0], at, at + 1
            yield "DURATION", str(int(text[1]) * MINUTE_S), at + 1, match.end()
        elif group != "skip":
            yield (*_NUMBERS.get(group, _unknown)(match), at, match.end())
        at = match.end()


def _name(plain: str, at: int, vocabulary: Vocabulary) -> _Found | None:
    """The name or word in general use that begins here; names may begin with a digit, words do not."""
    word, end = _longest(plain, at, vocabulary)
    if word is None or (plain[at].isdigit() and word.kind not in {"MOVEMENT", "SCHEME"}):
        return None
    if word.kind == "TEMPO":
        tempo, wrong = _TEMPO.match(plain, end), _NO_TEMPO.match(plain, end)
        digits = re.sub(r"[-./ ]", "", tempo[1]).replace("x", "0") if tempo else ""
        ends = tempo or wrong
        return "TEMPO", digits, at, ends.end() if ends else end
    return word.kind, " ".join(word.values), at, end


def _longest(plain: str, at: int, vocabulary: Vocabulary) -> tuple[Word | None, int]:
    """The longest name or word that begins here, and where it ends."""
    best: tuple[Word | None, int] = None, at
    key, end, most = "", at, 1
    for count in range(MOST_WORDS):
        chunk = _CHUNK.match(plain, end)
        if not chunk or count == most:
            break
        if not count:
            most = vocabulary.chunks_after.get(chunk[1], MOST_CHUNKS_UNKNOWN)
        key += "and" if chunk[1] == "&" else chunk[1].casefold()
        end = chunk.end()
        if key in vocabulary.words and chunk[1] != ",":
            best = vocabulary.words[key], end
    return best


def _sign(text: str, vocabulary: Vocabulary, brackets: Brackets) -> tuple[str, str]:
    if text[0] == '"':
        name = text.strip('"')
        known = {"MOVEMENT": name in vocabulary.movements, "SCHEME": name in vocabulary.schemes}
        return next((kind for kind, found in known.items() if found), UNKNOWN), name
    return "SEP" if brackets == "commas" and text in "()" else _SIGNS[text], text


def _unknown(match: re.Match[str]) -> tuple[str, str]:
    return UNKNOWN, match[0]


def _growing(match: re.Match[str]) -> tuple[str, str]:
    """Numbers without end; with a last one after the dots, as many as lead to it."""
    numbers = [int(n) for n in _DIGITS.findall(match[0])]
    if match[0].endswith((".", "\u2026")):
        return "GROWING", " ".join(map(str, numbers))
    first, second, *_, last = numbers
    step = second - first
    if not step or (last - first) % step or not 0 < (last - first) // step <= MOST_STEPS:
        return UNKNOWN, match[0]
    return "LADDER", " ".join(map(str, range(first, last + step, step)))


def _ladder(match: re.Match[str]) -> tuple[str, str]:
    return "LADDER", " ".join(_DIGITS.findall(match[0]))


def _clock(match: re.Match[str]) -> tuple[str, str]:
    minutes, seconds = map(int, _DIGITS.findall(match[0]))
    return ("DURATION", str(minutes * MINUTE_S + seconds)) if seconds < MINUTE_S else (UNKNOWN, match[0])


def _length(unit_s: int) -> Callable[[re.Match[str]], tuple[str, str]]:
    return lambda match: ("DURATION", str(round(float(re.sub(r"[^0-9.]", "", match[0])) * unit_s)))


def _number(match: re.Match[str]) -> tuple[str, str]:
    return "NUMBER", match[0].replace(",", ".")


_NUMBERS: dict[str, Callable[[re.Match[str]], tuple[str, str]]] = {
    "growing": _growing, "ladder": _ladder, "clock": _clock, "both": _clock, "minutes": _length(MINUTE_S),
    "seconds": _length(1), "number": _number,
}  # fmt: skip


def _settled(found: list[Token]) -> list[Token]:
    """Without words that say nothing; bare numbers beside "cap" or "on" are times; "kg 40" is "40 kg"."""
    kept: list[Token] = []
    kg: list[Token] = []
    for token in found:
        last = kept[-1] if kept else None
        before, kind = last.type if last is not None else "", token.type
        if kind == "NOISE" or (kind == "OF" and before != "SETS"):
            continue
        if last is not None and kind in _SECONDS_BEFORE and before == "NUMBER":
            kept[-1] = _time(last, 1)
        if kind == "KG" and before != "NUMBER":
            kg = [token]
            continue
        if kind not in {"NUMBER", "SLASH", "KG"}:
            kept += kg
        kg = kg if kind in {"NUMBER", "SLASH"} else []
        after = kept[-2].type if before == "SEP" and len(kept) > 1 and kept[-2].type == "CAP" else before
        kept.append(_time(token, MINUTE_S) if kind == "NUMBER" and after in _MINUTES_AFTER else token)
    return kept + kg


def _time(number: Token, unit_s: int) -> Token:
    """A bare number as a time."""
    large = len(number) >= len(str(MOST_NUMBER))
    seconds = MOST_NUMBER if large else round(float(number) * unit_s)
    return Token.new_borrow_pos("DURATION", str(seconds), number)


def _joined(found: list[Token], line: TextLine) -> list[Token]:
    """Words that are not known become one with each other and with names beside them, and are as written."""
    kept: list[Token] = []
    for token in found:
        last = kept[-1] if kept else None
        start, end = token.start_pos or 0, token.end_pos or 0
        if last is not None and {last.type, token.type} <= {UNKNOWN, "MOVEMENT"}:
            start = last.start_pos or 0
            kept[-1] = _token((UNKNOWN, line.raw[start:end], start, end), line)
        elif token.type == UNKNOWN:
            kept.append(_token((UNKNOWN, line.raw[start:end], start, end), line))
        else:
            kept.append(token)
    return kept
