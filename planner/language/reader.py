"""Reads sessions as a coach writes them on a board: line by line, and says all that is wrong at once."""

from __future__ import annotations

import difflib
import re
from dataclasses import dataclass, field
from pathlib import Path

from lark import Token, Tree

from planner.domain.characters import unprintable
from planner.domain.gym import DAY_NAMES
from planner.domain.written import WrittenSession
from planner.errors import Place
from planner.language.drafts import DayDraft, PieceDraft
from planner.language.faults import Amiss, unknown_in_words
from planner.language.grammar import Ungrammatical, tree_of
from planner.language.parts import position
from planner.language.phrases import compact
from planner.language.running import CLOCK_OF
from planner.language.text_line import TextLine, line_of
from planner.language.tokens import UNKNOWN, first_word, tokens
from planner.language.vocabulary import Vocabulary
from planner.load.validate import MAX_PROBLEMS, Mistake, refuse

KINDS = {
    "STRENGTH": "strength", "SKILL": "skill", "CONDITIONING": "conditioning", "FINISHER": "finisher",
    "WARM_UP": "warm_up", "COOL_DOWN": "cool_down",
}  # fmt: skip
LONGEST_TEXT, LONGEST_LINE = 200_000, 1000
DRILL = re.compile(r"drill\s*:\s*")
PRACTICE = "practi"
"""All words that say so have this in them."""
NO_DAY = 'begin with the day: "Wednesday"'
_ENDS = re.compile(r"\r\n|[\r\n\x0b\x0c\x1c-\x1e\x85\u2028\u2029]")
_AFTER_HEADING = re.compile(r"\s*(?:$|[.:;,(\-/@]|[0-9])")
_DATE = re.compile(
    r"[\s,:;.]*(?:[0-9]{1,4}(?:st|nd|rd|th)?[\s./-]*)?"
    r"(?:(?:jan|feb|mar|apr|may|june?|july?|aug|sept?|oct|nov|dec)[a-z]*\.?\s*)?"
    r"(?:[0-9]{1,4}(?:st|nd|rd|th)?[\s./,-]*){0,2}[\s:;.]*$"
)
"""What may stand behind a day's name and is not kept: the week says the date."""
_RULER = re.compile(r"[\s\-_=*#~.]*$")
_RUNS = {*CLOCK_OF, "rounds", "ladder"}


def read_sessions(text: str, vocabulary: Vocabulary, file: Path = Path("text")) -> tuple[WrittenSession, ...]:
    """The sessions of a text, one or a whole week.

    Args:
        text: as a coach wrote or pasted it.
        vocabulary: the names that it may say.
        file: named in messages.

    Returns:
        At least one, in the order of the text.

    Raises:
        DataError: with line and column of everything that is wrong, and what would be right.
    """
    reading = _Reading(vocabulary, file)
    reading.read(text)
    sessions = reading.done()
    if reading.mistakes:
        refuse(sorted(reading.mistakes, key=lambda mistake: mistake.place.line or 0))
    return sessions


def unknown_names(text: str, vocabulary: Vocabulary) -> tuple[str, ...]:
    """Words of a text that stand where a movement may, and are none: what a gym may want to add to its own.

    Args:
        text: as a coach wrote or pasted it.
        vocabulary: the names that it may say.

    Returns:
        Each once, as written, in the order of the text; not those that are a slip in a word of the language.
    """
    reading = _Reading(vocabulary, Path("text"))
    reading.read(text)
    return tuple(dict.fromkeys(reading.unknown))


@dataclass
class _Reading:
    """A text as far as it has been read."""

    vocabulary: Vocabulary
    file: Path
    unknown: list[str] = field(default_factory=list)
    days: list[DayDraft] = field(default_factory=list)
    mistakes: list[Mistake] = field(default_factory=list)
    version: str = ""
    piece: PieceDraft | None = None
    last_line: int = 0

    def read(self, text: str) -> None:
        if len(text) > LONGEST_TEXT:
            what = f"the text has {len(text):,} characters; at most {LONGEST_TEXT:,} are read"
            self.mistakes.append(Mistake(Place(self.file), what))
            return
        for number, raw in enumerate(_ENDS.split(text.removeprefix("\ufeff")), 1):
            if len(self.mistakes) > MAX_PROBLEMS:
                return
            if _RULER.match(raw):
                continue
            line = line_of(number, raw.replace("\t", " "))
            try:
                self._line(line)
            except Amiss as amiss:
                self._mistake(line, amiss)
            except Ungrammatical as error:
                self._ungrammatical(line, error)
            self.last_line = number

    def done(self) -> tuple[WrittenSession, ...]:
        """The days as values; what is wrong with one is added to the mistakes."""
        if not self.days and not self.mistakes:
            self.mistakes.append(Mistake(Place(self.file), f"there is no session here; {NO_DAY}"))
        for piece in (piece for day in self.days for piece in day.all_pieces() if not piece.spoilt):
            try:
                piece.done()
            except Amiss as amiss:
                self._mistake(piece.line, amiss)
        sessions = []
        for day in self.days if not self.mistakes else ():
            try:
                sessions.append(day.done())
            except Amiss as amiss:
                self._mistake(day.line, amiss)
        return tuple(sessions)

    def _line(self, line: TextLine) -> None:
        _check(line)
        heading = heading_of(line, self.vocabulary)
        if not self.days and heading != "DAY":
            self._no_day(line)
            if not heading and line.said and _nearest_day(line):
                return
        if not line.said:
            self._note(line.note_text)
        elif heading == "DAY":
            self._day(line)
        elif heading == "KIT":
            self._version(line)
        elif heading:
            self._begin(KINDS[heading], line)
        elif self.piece is not None and self.piece.of_drills:
            guard = DRILL.match(line.plain, line.start)
            self.piece.drill(line.raw[guard.end() if guard else line.start :].strip())
        else:
            self._body(line)

    def _no_day(self, line: TextLine) -> None:
        """Say so once, and go on as if there were one."""
        near = _nearest_day(line)
        self._mistake(
            line, Amiss(None, f'"{line.said}" is no day. Did you mean "{near}"?' if near else NO_DAY)
        )
        self.days.append(DayDraft("mon", line, guessed=True))

    def _day(self, line: TextLine) -> None:
        word, end = first_word(line, self.vocabulary)
        day = next(day for day in DAY_NAMES if word and word.values == (day,))
        if not _DATE.match(line.plain[: line.note], end):
            where = Token(UNKNOWN, "", line=line.number, column=end + 2)
            raise Amiss(
                where,
                'the day stands alone on its line, or with its date; what else there is goes after "note:"',
            )
        before = next((other for other in self.days if other.day == day and not other.guessed), None)
        self.days.append(DayDraft(day, line))
        self.piece, self.version = None, ""
        self._note(line.note_text)
        if before is not None:
            first = before.line.number
            raise Amiss(None, f"{DAY_NAMES[day]} is here a second time; the first is on line {first}")

    def _version(self, line: TextLine) -> None:
        kit, day = self.vocabulary.kit_words[_kit_key(line)], self._this_day()
        floor = next(iter(self.vocabulary.kits), "")
        self.version, self.piece = "" if kit == floor else kit, None
        if self.version and self.version in day.pieces:
            raise Amiss(None, f"{self.vocabulary.kits[kit]} is here a second time on this day")
        day.pieces.setdefault(self.version, [])
        self._note(line.note_text)

    def _begin(self, kind: str, line: TextLine) -> None:
        self.piece = self._this_day().begin(kind, line, self.version)
        self.piece.spoilt = True  # until its first line has been understood
        tree, said_aside = tree_of(line, "heading", self.vocabulary)
        head = next(part for part in tree.children if isinstance(part, Tree))
        self.piece.begin(head, line, _both(said_aside, line.note_text), self.vocabulary)
        self.piece.spoilt = False

    def _body(self, line: TextLine) -> None:
        self._this_day()
        if other := self._other_lifts(line):
            self.piece = self._this_day().begin(other, line, self.version)
        elif self.piece is None:
            kind = "conditioning" if self._runs(line) else "strength"
            self.piece = self._this_day().begin(kind, line, self.version)
        elif self.piece.complete and self._runs(line) and not self._goes_on(line):
            self.piece = self._this_day().begin("conditioning", line, self.version)
        piece = self.piece
        spoilt, piece.spoilt = piece.spoilt, True
        tree, said_aside = tree_of(line, piece.start, self.vocabulary)
        piece.take(tree, line, _both(said_aside, line.note_text), self.vocabulary)
        piece.spoilt = spoilt

    def _other_lifts(self, line: TextLine) -> str:
        """Which piece a line without a heading begins by itself: practice is skill, sets after it are not."""
        said = tokens(line, self.vocabulary) if PRACTICE in line.plain else []
        practised = any(token.type == "PRACTICE" for token in said)
        if self.piece is None or self.piece.start != "lift_line":
            return "skill" if practised else ""
        of_skill = self.piece.kind == "skill"
        headed = bool(heading_of(self.piece.line, self.vocabulary))
        if of_skill == practised or not self.piece.lifts or (headed and of_skill):
            return ""
        return "skill" if practised else "strength"

    def _goes_on(self, line: TextLine) -> bool:
        """Whether the line, right under another, says more of a lift."""
        try:
            tree_of(line, "lift_line", self.vocabulary)
        except Ungrammatical:
            return False
        return line.number == self.last_line + 1

    def _runs(self, line: TextLine) -> bool:
        """Whether the line begins a conditioning piece without a heading: it says how it runs."""
        try:
            tree, _ = tree_of(line, "work_line", self.vocabulary)
        except Ungrammatical:
            return False
        return any(isinstance(part, Tree) and part.data in _RUNS for part in tree.children)

    def _note(self, text: str) -> None:
        notes = self.piece.notes if self.piece is not None else self._this_day().notes
        notes += filter(None, [text])

    def _this_day(self) -> DayDraft:
        return self.days[-1]

    def _mistake(self, line: TextLine, amiss: Amiss) -> None:
        number, column = position(amiss.where) if amiss.where is not None else (0, 0)
        place = Place(self.file, number or line.number, column=column or line.start + 1)
        self.mistakes.append(Mistake(place, str(amiss)))

    def _ungrammatical(self, line: TextLine, error: Ungrammatical) -> None:
        end = len(line.raw[: line.note].rstrip()) + 1
        what = str(error)
        if error.token is not None and error.token.type == UNKNOWN:
            word = str(error.token)
            what = unknown_in_words(word, self.vocabulary)
            self.unknown += [word] * (word[0].isalpha() and not self.vocabulary.nearest_word(word))
        column = error.token.column if error.token is not None else end
        self.mistakes.append(Mistake(Place(self.file, line.number, column=column), what))


def heading_of(line: TextLine, vocabulary: Vocabulary) -> str:
    """The terminal of the heading that a line is; empty where it is none."""
    word, end = first_word(line, vocabulary)
    heads = word is not None and (word.kind in KINDS or word.kind == "DAY")
    if word is not None and heads and _AFTER_HEADING.match(line.plain[: line.note], end):
        return word.kind
    return "KIT" if _kit_key(line) in vocabulary.kit_words else ""


def _nearest_day(line: TextLine) -> str:
    """The day that a line of one word may mean."""
    days = {name.lower(): name for name in DAY_NAMES.values()}
    near = difflib.get_close_matches(line.said.rstrip(":.").lower(), days, n=1, cutoff=0.6)
    return days[near[0]] if near else ""


def _kit_key(line: TextLine) -> str:
    return compact(line.said.rstrip(":").strip())


def _check(line: TextLine) -> None:
    if strange := unprintable(line.raw):
        at = next(at for at, character in enumerate(line.raw, 1) if unprintable(character))
        where = Token(UNKNOWN, "", line=line.number, column=at)
        raise Amiss(where, f"there is an unprintable character here ({strange}); delete it")
    if len(line.raw) > LONGEST_LINE:
        raise Amiss(None, f"the line has {len(line.raw):,} characters; at most {LONGEST_LINE:,} are read")


def _both(*notes: str) -> str:
    return ", ".join(filter(None, notes))
