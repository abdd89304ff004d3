"""Makes tokens of a line: names and words of several words become one, numbers that belong together too."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from lark import Token

from planner.language.vocabulary import MOST_WORDS, Vocabulary, Word

UNKNOWN = "UNKNOWN"
MOST_CHUNKS_UNKNOWN = 3
"""So many words are tried together where no name begins with the first."""
MOST_NUMBER = 1_000_000
"""A larger number is as wrong as this one."""

_PLAINER = str.maketrans(
    dict.fromkeys("\t\N{NO-BREAK SPACE}\u2002\u2003\u2007\u2009\u200a\u202f\u3000", " ")
    | dict.fromkeys("\u2010\u2011\u2012\u2013\u2014\u2015\u2212\ufe63\uff0d", "-")
    | dict.fromkeys("\N{MULTIPLICATION SIGN}\u2715\u2716\u00d7", "x")
    | dict.fromkeys("\u2018\u2019\u2032\u00b4`", "'")
    | dict.fromkeys("\u201c\u201d\u2033", '"')
    | dict.fromkeys("\u2024\u00b7\u2022\u25aa\u25e6\u2023\u25cf\u25cb\u2043", "*")
)
_LABEL = re.compile(
    r"\s*(?:[-*>+o#]+\s+|\*+)?(?:(?:[a-f][1-4]?|[0-9]{1,2})[.)]\s+|(?:min|minute)\s+[0-9]{1,2}\s*:\s*)?"
)
_NOTE = re.compile(r"(?:(?<=[\s,;(])|^)note\s*:\s*")
_TOKEN = re.compile(
    r"""(?P<skip>\s+)
    | (?P<growing>[0-9]{1,6}(?:\s?-\s?[0-9]{1,6})+(?:\s?-)?\s?(?:\.\.+|\u2026)(?:\s?-?\s?(?P<last>[0-9]{1,6}))?)
    | (?P<ladder>[0-9]+(?:\s?-\s?[0-9]+)+)(?![0-9.:])
    | (?P<clock>[0-9]{1,3}):(?P<clock_s>[0-9]{2})(?![0-9:])
    | (?P<both_min>[0-9]{1,3})\s?(?:min|mins|')\s?(?P<both_s>[0-9]{1,2})\s?(?:secs?|s|")(?![^\W_])
    | (?P<length>[0-9]{1,4}(?:\.[0-9]{1,2})?)[\s-]?(?P<of>minutes?|mins?|seconds?|secs?|s|'|")(?![^\W_])
    | (?P<number>[0-9]+(?:\.[0-9]+|,[0-9](?=\s?(?:/|kg)))?)
    | (?P<word>[^\W\d_]+|&)
    | "(?P<quoted>[^"]*)"
    | (?P<sign>[,;:@%/+()])
    | (?P<other>.)""",
    re.VERBOSE,
)
_CHUNK = re.compile(r"(?P<gap>[\s\-_']*)(?P<chunk>[^\W\d_]+|[0-9]+|,|&)")
_TEMPO = re.compile(r"[\s:]*([0-9x](?:[-./ ]?[0-9x]){3})(?![0-9x])")
_SIGNS = {",": "SEP", ";": "SEP", ":": "SEP", "@": "AT", "%": "PERCENT", "/": "SLASH", "+": "PLUS", "(": "LPAR",
          ")": "RPAR"}  # fmt: skip
_MINUTES_AFTER = {"AS_MANY", "EMOM", "CAP"}
_SECONDS_BEFORE = {"ON", "OFF"}


@dataclass(frozen=True)
class TextLine:
    """One line of a text.

    Attributes:
        number: counted from 1.
        raw: as written.
        plain: the same with plain signs and small letters, character for character.
        start: where what is said begins, after bullets and labels.
        note: where ``note:`` begins; the length of the line where there is none.
        note_text: what it says, as written.
    """

    number: int
    raw: str
    plain: str
    start: int
    note: int
    note_text: str

    @property
    def said(self) -> str:
        """What is said, as written, without bullet and note."""
        return self.raw[self.start : self.note].strip()

    @property
    def label(self) -> str:
        """What stands before it: a bullet, a number."""
        return self.raw[: self.start]


def line_of(number: int, raw: str) -> TextLine:
    """A line, looked at for what is no token."""
    plain = "".join(low if len(low := c.lower()) == 1 else c for c in raw.translate(_PLAINER))
    start = label.end() if (label := _LABEL.match(plain)) else 0
    note = _NOTE.search(plain, start)
    text = raw[note.end() :].strip() if note else ""
    return TextLine(number, raw, plain, start, note.start() if note else len(raw), text)


def tokens(line: TextLine, vocabulary: Vocabulary, brackets: str = "") -> list[Token]:
    """The tokens of a line.

    Args:
        line: the line.
        vocabulary: names and words.
        brackets: "aside" where what is in brackets is left out, "comma" where they are commas.

    Returns:
        Tokens whose ``line`` and ``column`` are set and whose ``value`` is what the terminal stands for;
        a word that is not known, with its neighbours, is of the type ``UNKNOWN``.
    """
    found = [Token(kind, value, at, line.number, at + 1, line.number, end + 1, end)
             for kind, value, at, end in _found(line, vocabulary, brackets)]  # fmt: skip
    return _joined(_settled(found), line)


def aside(line: TextLine) -> str:
    """What the line says in brackets, as written."""
    return " ".join(line.raw[a + 1 : b].strip() for a, b in _brackets(line.plain, line.start, line.note))


def _brackets(plain: str, start: int, end: int) -> Iterator[tuple[int, int]]:
    """Where the outer brackets open and close; one that is not closed closes at the end."""
    depth, opened = 0, start
    for at in range(start, end):
        if plain[at] == "(":
            opened = at if not depth else opened
            depth += 1
        elif plain[at] == ")" and depth:
            depth -= 1
            if not depth:
                yield opened, at
    if depth:
        yield opened, end


def _found(line: TextLine, vocabulary: Vocabulary, brackets: str) -> Iterator[tuple[str, str, int, int]]:
    plain, at = line.plain[: line.note], line.start
    left_out = dict(_brackets(plain, at, line.note)) if brackets == "aside" else {}
    while at < len(plain):
        if at in left_out:
            at = left_out[at] + 1
            continue
        match = _TOKEN.match(plain, at)
        assert match is not None
        kind, end = match.lastgroup or "", match.end()
        if kind == "word" or (kind == "number" and match["number"].isdigit()):
            word, word_end = _longest(plain, at, vocabulary)
            if word and (kind == "word" or word.kind in {"MOVEMENT", "SCHEME"}):
                if word.kind == "TEMPO" and (tempo := _TEMPO.match(plain, word_end)):
                    digits = re.sub(r"[-./ ]", "", tempo[1]).replace("x", "0")
                    yield "TEMPO", digits, at, tempo.end()
                    at = tempo.end()
                    continue
                yield word.kind, " ".join(word.values), at, word_end
                at = word_end
                continue
        for token_kind, value in _simple(match, brackets, vocabulary):
            yield token_kind, value, at, end
        at = end


def _simple(match: re.Match[str], brackets: str, vocabulary: Vocabulary) -> Iterator[tuple[str, str]]:
    """The tokens of anything but a word."""
    if match["growing"]:
        yield _growing(match)
    elif match["ladder"]:
        yield "LADDER", " ".join(re.findall("[0-9]+", match["ladder"]))
    elif match["clock"]:
        right = int(match["clock_s"]) < 60  # noqa: PLR2004  (seconds)
        seconds = int(match["clock"]) * 60 + int(match["clock_s"])
        yield ("DURATION", str(seconds)) if right else (UNKNOWN, match["clock"])
    elif match["both_min"]:
        yield "DURATION", str(int(match["both_min"]) * 60 + int(match["both_s"]))
    elif match["length"]:
        unit = 60 if match["of"][0] in "m'" else 1
        yield "DURATION", str(round(float(match["length"]) * unit))
    elif match["number"]:
        yield "NUMBER", match["number"].replace(",", ".")
    elif match["quoted"] is not None:
        known = match["quoted"] in vocabulary.movements, match["quoted"] in vocabulary.schemes
        yield ("MOVEMENT" if known[0] else "SCHEME" if known[1] else UNKNOWN), match["quoted"]
    elif match["sign"]:
        sign = match["sign"]
        yield ("SEP" if brackets == "comma" and sign in "()" else _SIGNS[sign]), sign
    elif match["word"]:
        yield UNKNOWN, match["word"]
    elif match["other"] and match["other"] not in ".-*_!|=":
        yield UNKNOWN, match["other"]


def _growing(match: re.Match[str]) -> tuple[str, str]:
    numbers = [int(n) for n in re.findall("[0-9]+", match["growing"])]
    if match["last"] is None:
        return "GROWING", " ".join(map(str, numbers))
    first, second, *_, last = numbers
    step = second - first
    if not step or (last - first) % step or not 0 < (last - first) // step <= 99:
        return UNKNOWN, match["growing"]
    return "LADDER", " ".join(map(str, range(first, last + step, step)))


def _longest(plain: str, at: int, vocabulary: Vocabulary) -> tuple[Word | None, int]:
    """The longest name or word that begins here, and where it ends."""
    best: tuple[Word | None, int] = None, at
    key, end, words = "", at, vocabulary.words
    most = 1
    for count in range(MOST_WORDS):
        chunk = _CHUNK.match(plain, end)
        if not chunk or count == most:
            break
        most = most if count else vocabulary.chunks_after.get(chunk["chunk"], MOST_CHUNKS_UNKNOWN)
        key += "and" if chunk["chunk"] == "&" else chunk["chunk"].casefold()
        end = chunk.end()
        if key in words and not key.endswith(","):
            best = words[key], end
    return best


def _settled(found: list[Token]) -> list[Token]:
    """Without words that say nothing; bare numbers beside "cap" or "on" are times; "kg 40" is "40 kg"."""
    kept: list[Token] = []
    kg: Token | None = None
    for token in found:
        last = kept[-1].type if kept else ""
        kind = token.type
        if kind == "NOISE" or (kind == "OF" and last != "SETS"):
            continue
        if kind == "NUMBER" and last in _MINUTES_AFTER and "." not in token:
            token = Token.new_borrow_pos("DURATION", str(_number(token) * 60), token)
        elif kind in _SECONDS_BEFORE and last == "NUMBER" and "." not in kept[-1]:
            kept[-1] = Token.new_borrow_pos("DURATION", str(_number(kept[-1])), kept[-1])
        if kind == "KG" and last != "NUMBER":
            kg = token
            continue
        if kg is not None and kind not in {"NUMBER", "SLASH", "KG"}:
            kept.append(kg)
            kg = None
        elif kind == "KG":
            kg = None
        kept.append(token)
    return [*kept, kg] if kg is not None else kept


def _joined(found: list[Token], line: TextLine) -> list[Token]:
    """Words that are not known become one with each other and with names beside them."""
    kept: list[Token] = []
    for token in found:
        last = kept[-1] if kept else None
        if last is not None and {last.type, token.type} <= {UNKNOWN, "MOVEMENT"} and last.end_pos is not None:
            start, end = last.start_pos or 0, token.end_pos or 0
            kept[-1] = Token(
                UNKNOWN, line.raw[start:end], start, line.number, start + 1, line.number, end + 1, end
            )
        elif token.type == UNKNOWN:
            kept.append(Token.new_borrow_pos(UNKNOWN, line.raw[token.start_pos : token.end_pos], token))
        else:
            kept.append(token)
    return kept


def _number(token: Token) -> int:
    return int(token) if len(token) < len(str(MOST_NUMBER)) else MOST_NUMBER


def first_word(line: TextLine, vocabulary: Vocabulary) -> tuple[Word | None, int]:
    """The name or word that a line begins with, and where it ends."""
    return _longest(line.plain[: line.note], line.start, vocabulary)
