"""Reads sessions as a coach writes them on a board: line by line, and says all that is wrong at once."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from lark import Token, Tree

from planner.domain.characters import unprintable
from planner.domain.gym import DAY_NAMES, Day
from planner.domain.written import (
    WrittenConditioning,
    WrittenDrills,
    WrittenLift,
    WrittenPiece,
    WrittenSession,
    WrittenStrength,
)
from planner.errors import Place
from planner.language.faults import Amiss, Node, made, unknown_in_words
from planner.language.grammar import Start, Ungrammatical, tree_of
from planner.language.lifts import lift_line
from planner.language.parts import tokens_in
from planner.language.phrases import compact
from planner.language.tokens import UNKNOWN, TextLine, first_word, line_of
from planner.language.vocabulary import Vocabulary
from planner.language.works import Work
from planner.load.validate import MAX_PROBLEMS, Mistake, refuse

KINDS = {
    "STRENGTH": "strength", "SKILL": "skill", "CONDITIONING": "conditioning", "FINISHER": "finisher",
    "WARM_UP": "warm_up", "COOL_DOWN": "cool_down",
}  # fmt: skip
LONGEST_TEXT, LONGEST_LINE = 200_000, 1000
DRILL = re.compile(r"drill\s*:\s*")
_ENDS = re.compile(r"\r\n|\r|\n|[\x0b\x0c\x1c-\x1e\x85\u2028\u2029]")
_AFTER_HEADING = re.compile(r"\s*(?:$|[:;,(\-/@]|[0-9])")
_RULER = re.compile(r"[\s\-_=*#~.]*$")
_CLOCKS = {"for_time", "as_many", "every_turn", "work_rest", "as_long", "rounds", "ladder"}


@dataclass
class _Piece:
    """A piece as far as it has been read."""

    kind: str
    line: TextLine
    minutes: int | None = None
    lifts: list[WrittenLift] = field(default_factory=list)
    paired: bool = False
    work: Work = field(default_factory=Work)
    drills: list[str] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    spoilt: bool = False

    @property
    def start(self) -> Start:
        return "lift_line" if self.kind in {"strength", "skill"} else "work_line"

    def done(self) -> WrittenPiece:
        """The piece as a value.

        Raises:
            Amiss: its lines do not go together.
        """
        note = " ".join(self.notes)
        if self.kind in {"warm_up", "cool_down"}:
            return made(
                WrittenDrills,
                None,
                kind=self.kind,
                minutes=self.minutes,
                drills=tuple(self.drills),
                note=note,
            )
        if self.kind in {"strength", "skill"}:
            if not self.lifts:
                raise Amiss(None, "this piece has no lift: write, for instance, front squat 4x6 across")
            lifts = tuple(self.lifts)
            return made(WrittenStrength, None, kind=self.kind, lifts=lifts, paired=self.paired, note=note)
        if not self.work.lines:
            raise Amiss(
                None, "this piece has no movement: write each on a line of its own, like 15 kettlebell swing"
            )
        composition = self.work.composition(None)
        lines = tuple(self.work.lines)
        return made(
            WrittenConditioning, None, kind=self.kind, composition=composition, lines=lines, note=note
        )


@dataclass
class _Day:
    """A day as far as it has been read."""

    day: Day
    line: TextLine
    pieces: dict[str, list[_Piece]] = field(default_factory=dict)
    notes: list[str] = field(default_factory=list)


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
    if not reading.mistakes and not reading.days:
        reading.mistakes.append(
            Mistake(Place(file), 'there is no session here; begin with the day: "Wednesday"')
        )
    sessions = (
        [] if reading.mistakes else [session for day in reading.days if (session := reading.session(day))]
    )
    if reading.mistakes:
        refuse(reading.mistakes)
    return tuple(sessions)


@dataclass
class _Reading:
    """A text as far as it has been read."""

    vocabulary: Vocabulary
    file: Path
    days: list[_Day] = field(default_factory=list)
    mistakes: list[Mistake] = field(default_factory=list)
    version: str = ""
    piece: _Piece | None = None

    def read(self, text: str) -> None:
        if len(text) > LONGEST_TEXT:
            self._mistake(
                None, None, f"the text has {len(text):,} characters; at most {LONGEST_TEXT:,} are read"
            )
            return
        for number, raw in enumerate(_ENDS.split(text.removeprefix("\ufeff")), 1):
            if len(self.mistakes) > MAX_PROBLEMS:
                break
            if _RULER.match(raw):
                continue
            line = line_of(number, raw)
            try:
                self._line(line)
            except Amiss as amiss:
                self._mistake(line, amiss.column, str(amiss))
            except Ungrammatical as error:
                self._ungrammatical(line, error)
        self._check_pieces()

    def session(self, day: _Day) -> WrittenSession | None:
        """A day as a value; None where it has a mistake, which is kept."""
        pieces = {kit: tuple(piece.done() for piece in found) for kit, found in day.pieces.items()}
        floor = pieces.pop("", ())
        try:
            return made(
                WrittenSession, None, day=day.day, pieces=floor, versions=pieces, notes=tuple(day.notes)
            )
        except Amiss as amiss:
            self._mistake(day.line, None, str(amiss))
            return None

    def _check_pieces(self) -> None:
        for day in self.days:
            for piece in (piece for found in day.pieces.values() for piece in found if not piece.spoilt):
                try:
                    piece.done()
                except Amiss as amiss:
                    self._mistake(piece.line, amiss.column, str(amiss), amiss.where)
        self.mistakes.sort(key=lambda mistake: mistake.place.line or 0)

    def _line(self, line: TextLine) -> None:
        if strange := unprintable(line.raw):
            at = next(i for i, c in enumerate(line.raw, 1) if unprintable(c))
            self._mistake(line, at, f"there is an unprintable character here ({strange}); delete it")
            return
        if len(line.raw) > LONGEST_LINE:
            self._mistake(
                line, None, f"the line has {len(line.raw):,} characters; at most {LONGEST_LINE:,} are read"
            )
            return
        heading = heading_of(line, self.vocabulary)
        drills = self.piece is not None and self.piece.kind in {"warm_up", "cool_down"}
        if not line.said and not (drills and line.note > line.start):
            self._note(line.note_text, line)
        elif heading in KINDS:
            self._begin(KINDS[heading], line)
        elif heading == "DAY":
            self._day(line)
        elif heading == "KIT":
            self._version(line)
        elif not self.days:
            raise Amiss(None, 'begin with the day: "Wednesday"')
        elif drills:
            assert self.piece is not None
            self._drill(line, self.piece)
        else:
            self._body(line)

    def _day(self, line: TextLine) -> None:
        tree, _ = tree_of(line, "heading", self.vocabulary)
        token = next(tree.scan_values(lambda t: isinstance(t, Token) and t.type == "DAY"))
        day = next(day for day in DAY_NAMES if day == token)
        before = next((d for d in self.days if d.day == day), None)
        self.days.append(_Day(day, line))
        self.piece, self.version = None, ""
        if line.note_text:
            self.days[-1].notes.append(line.note_text)
        if before:
            raise Amiss(
                token, f"{DAY_NAMES[day]} is here a second time; the first is on line {before.line.number}"
            )

    def _version(self, line: TextLine) -> None:
        kit = self.vocabulary.kit_words[compact(line.said.rstrip(":").strip())]
        if not self.days:
            raise Amiss(None, 'begin with the day: "Wednesday"')
        first = next(iter(self.vocabulary.kits), "")
        self.version, self.piece = "" if kit == first else kit, None
        if self.version in self.days[-1].pieces and self.version:
            raise Amiss(None, f"{self.vocabulary.kits[kit]} is here a second time on this day")
        self.days[-1].pieces.setdefault(self.version, [])
        if line.note_text:
            self.days[-1].notes.append(line.note_text)

    def _begin(self, kind: str, line: TextLine) -> None:
        if not self.days:
            raise Amiss(None, 'begin with the day: "Wednesday"')
        self.piece = _Piece(kind, line, spoilt=True)  # until its first line has been understood
        self.days[-1].pieces.setdefault(self.version, []).append(self.piece)
        tree, said_aside = tree_of(line, "heading", self.vocabulary)
        head = next(c for c in tree.children if isinstance(c, Tree))
        note = ", ".join(filter(None, (said_aside, line.note_text)))
        self.piece.spoilt = False
        if kind in {"warm_up", "cool_down"}:
            self._minutes(head, self.piece)
            self.piece.notes += filter(None, [note])
            return
        under = next((c for c in head.children if isinstance(c, Tree)), None)
        self._take(under, note, self.piece)

    def _minutes(self, head: Tree[Token], piece: _Piece) -> None:
        for token in tokens_in(head, "DURATION"):
            if int(token) % 60:
                raise Amiss(token, "a warm-up or a cool-down is given in whole minutes")
            piece.minutes = int(token) // 60

    def _body(self, line: TextLine) -> None:
        piece = self.piece
        if piece is None or piece.start == "lift_line":
            if piece is not None and (piece.lifts or piece.spoilt) and (work := self._works(line)):
                self._headless("conditioning", line, *work)
                return
            if piece is None:
                if work := self._works(line):
                    self._headless("conditioning", line, *work)
                else:
                    self._headless("strength", line, *tree_of(line, "lift_line", self.vocabulary))
                return
        try:
            tree, said_aside = tree_of(line, piece.start, self.vocabulary)
            self._take(tree, ", ".join(filter(None, (said_aside, line.note_text))), piece)
        except (Amiss, Ungrammatical):
            piece.spoilt = True
            raise

    def _works(self, line: TextLine) -> tuple[Tree[Token], str] | None:
        """The line as the first of a conditioning piece without a heading, if it is one."""
        try:
            tree, said_aside = tree_of(line, "work_line", self.vocabulary)
        except Ungrammatical:
            return None
        clock = any(isinstance(c, Tree) and c.data in _CLOCKS for c in tree.children)
        return (tree, said_aside) if clock else None

    def _headless(self, kind: str, line: TextLine, tree: Tree[Token], said_aside: str) -> None:
        self.piece = _Piece(kind, line)
        self.days[-1].pieces.setdefault(self.version, []).append(self.piece)
        self._take(tree, ", ".join(filter(None, (said_aside, line.note_text))), self.piece)

    def _take(self, tree: Tree[Token] | None, note: str, piece: _Piece) -> None:
        """Add what a line says to the piece."""
        try:
            if piece.start == "lift_line":
                found = lift_line(tree or Tree("lift_line", []), piece.kind, note, self.vocabulary)
                piece.paired = piece.paired or found.paired
                if found.lift:
                    piece.lifts.append(found.lift)
                    return
            elif tree is not None and piece.work.take(tree, note, self.vocabulary):
                return
        except Amiss:
            piece.spoilt = True
            raise
        piece.notes += filter(None, [note])

    def _drill(self, line: TextLine, piece: _Piece) -> None:
        text = line.raw[line.start :].strip()
        if guard := DRILL.match(line.plain, line.start):
            text = line.raw[guard.end() :].strip()
        made(WrittenDrills, None, kind="warm_up", drills=(text,))
        piece.drills.append(text)

    def _note(self, text: str, line: TextLine) -> None:
        if not text:
            return
        if self.piece is not None:
            self.piece.notes.append(text)
        elif self.days:
            self.days[-1].notes.append(text)
        else:
            raise Amiss(None, 'begin with the day: "Wednesday"')

    def _ungrammatical(self, line: TextLine, error: Ungrammatical) -> None:
        token = error.token
        if token is not None and token.type == UNKNOWN:
            self._mistake(line, token.column, unknown_in_words(str(token), self.vocabulary))
            return
        column = token.column if token is not None else len(line.raw[: line.note].rstrip()) + 1
        self._mistake(line, column, str(error))

    def _mistake(
        self, line: TextLine | None, column: int | None, what: str, where: Node | None = None
    ) -> None:
        number = line.number if line else None
        token: Any = where if isinstance(where, Token) else None
        if isinstance(where, Tree):
            token = next(iter(where.scan_values(lambda _: True)), None)
        self.mistakes.append(Mistake(Place(self.file, token.line if token else number, column=column), what))


def heading_of(line: TextLine, vocabulary: Vocabulary) -> str:
    """The terminal of the heading that a line is; empty where it is none."""
    word, end = first_word(line, vocabulary)
    heads = word is not None and (word.kind in KINDS or word.kind == "DAY")
    if word is not None and heads and _AFTER_HEADING.match(line.plain[: line.note], end):
        return word.kind
    name = line.said
    return "KIT" if name and compact(name.rstrip(":").strip()) in vocabulary.kit_words else ""
