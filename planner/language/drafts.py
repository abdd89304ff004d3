"""Days and pieces as far as a text has been read, and the values that they become."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from lark import Token, Tree

from planner.domain.gym import Day
from planner.domain.written import (
    WrittenConditioning,
    WrittenDrills,
    WrittenLift,
    WrittenPiece,
    WrittenSession,
    WrittenStrength,
)
from planner.language.faults import Amiss, made
from planner.language.grammar import Start
from planner.language.lifts import Unfinished, lift_line
from planner.language.parts import kinds, tokens_in
from planner.language.text_line import TextLine
from planner.language.vocabulary import Vocabulary
from planner.language.works import Work

MINUTE_S = 60
_NAMES = {"complex", "in_brackets", "turns_of"}
_SETS = {"reps", "set_at", "sets", "cluster", "find", "then", "scheme", "practice"}
"""Parts of a line that name a lift, and those that say its sets."""


@dataclass
class PieceDraft:
    """A piece as far as it has been read.

    Attributes:
        kind: as in the value.
        line: where it begins.
        unfinished: a lift whose sets are to come, or the other way round: its tree, its note, and what lacks.
        last: the last lift's tree and note.
        spoilt: whether a line of it could not be read: what is missing then is no mistake of its own.
    """

    kind: str
    line: TextLine
    minutes: int | None = None
    lifts: list[WrittenLift] = field(default_factory=list)
    labels: list[str] = field(default_factory=list)
    paired: bool = False
    work: Work = field(default_factory=Work)
    drills: list[str] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    unfinished: tuple[Tree[Token], str, Unfinished] | None = None
    last: tuple[Tree[Token], str] = field(default_factory=lambda: (Tree("lift_line", []), ""))
    spoilt: bool = False

    @property
    def start(self) -> Start:
        """The rule of the grammar that its lines follow."""
        return "lift_line" if self.kind in {"strength", "skill"} else "work_line"

    @property
    def complete(self) -> bool:
        """Whether it is one of lifts and another piece may follow."""
        return self.start == "lift_line" and bool(self.lifts or self.unfinished or self.spoilt)

    @property
    def of_drills(self) -> bool:
        """Whether its lines are kept as they stand."""
        return self.kind in {"warm_up", "cool_down"}

    def begin(self, head: Tree[Token], line: TextLine, note: str, vocabulary: Vocabulary) -> None:
        """Add what the heading says.

        Raises:
            Amiss: it cannot be meant.
        """
        if not self.of_drills:
            under = next((part for part in head.children if isinstance(part, Tree)), Tree(self.start, []))
            self.take(under, line, note, vocabulary)
            return
        for token in tokens_in(head, "DURATION"):
            if int(token) % MINUTE_S or self.minutes:
                raise Amiss(token, "a warm-up or a cool-down is given in whole minutes, once")
            self.minutes = int(token) // MINUTE_S
        self.notes += filter(None, [note])

    def take(self, tree: Tree[Token], line: TextLine, note: str, vocabulary: Vocabulary) -> None:
        """Add what a line says; a note that no movement or lift of the line takes is the piece's.

        Raises:
            Amiss: it cannot be meant.
        """
        if self.start == "work_line":
            placed = self.work.take(tree, note, vocabulary)
        else:
            placed = self._lift(tree, line, note, vocabulary)
        if not placed:
            self.notes += filter(None, [note])

    def _lift(self, tree: Tree[Token], line: TextLine, note: str, vocabulary: Vocabulary) -> bool:
        """Add a lift, or to a lift: its sets or its rest may stand on a line of their own."""
        if self.unfinished is not None and tree.children:
            before, its_note, lacks = self.unfinished
            self.unfinished = None
            both_say_sets = _says(before, _SETS) and _says(tree, _SETS)
            if both_say_sets or _says(before, _NAMES) == _says(tree, _NAMES):
                raise lacks
            tree, note = _after(before, tree), "; ".join(filter(None, (its_note, note)))
        if self.lifts and tree.children and not _says(tree, _NAMES | _SETS | {"superset"}):
            before, its_note = self.last
            tree, note = _after(before, tree), "; ".join(filter(None, (its_note, note)))
            self.lifts.pop()
            self.labels.pop()
        try:
            found = lift_line(tree, self.kind, note, vocabulary)
        except Unfinished as lacks:
            self.unfinished = tree, note, lacks
            return True
        self.paired = self.paired or found.paired
        if found.lift is None:
            return False
        self.lifts.append(found.lift)
        self.labels.append(line.letter)
        self.last = tree, note
        return True

    def drill(self, text: str) -> None:
        """Add a line of a warm-up or a cool-down as it stands.

        Raises:
            Amiss: it is too long.
        """
        made(WrittenDrills, None, kind="warm_up", drills=(text,))
        self.drills.append(text)

    def done(self) -> WrittenPiece:
        """The piece as a value.

        Raises:
            Amiss: its lines do not go together.
        """
        note = "; ".join(self.notes)
        if self.of_drills:
            drills = tuple(self.drills)
            return made(WrittenDrills, None, kind=self.kind, minutes=self.minutes, drills=drills, note=note)
        if self.unfinished is not None:
            raise self.unfinished[2]
        if self.start == "lift_line":
            if not self.lifts:
                raise Amiss(None, "this piece has no lift: write, for instance, front squat 4x6 across")
            lettered = len(set(self.labels)) < len(self.labels) and "" not in self.labels
            paired, lifts = self.paired or lettered, tuple(self.lifts)
            return made(WrittenStrength, None, kind=self.kind, lifts=lifts, paired=paired, note=note)
        if not self.work.lines:
            raise Amiss(None, "this piece has no movement: write each on a line, like 15 kettlebell swing")
        how, lines = self.work.done()
        return made(WrittenConditioning, None, kind=self.kind, composition=how, lines=lines, note=note)


@dataclass
class DayDraft:
    """A day as far as it has been read.

    Attributes:
        day: of the week.
        line: where it begins.
        pieces: by kit id; under no id those for the gym floor.
        notes: for the day.
        guessed: whether the text does not name it.
    """

    day: Day
    line: TextLine
    pieces: dict[str, list[PieceDraft]] = field(default_factory=dict)
    notes: list[str] = field(default_factory=list)
    guessed: bool = False

    def begin(self, kind: str, line: TextLine, version: str) -> PieceDraft:
        """Add a piece."""
        piece = PieceDraft(kind, line)
        self.pieces.setdefault(version, []).append(piece)
        return piece

    def all_pieces(self) -> Iterator[PieceDraft]:
        """Those of every version."""
        return (piece for found in self.pieces.values() for piece in found)

    def done(self) -> WrittenSession:
        """The day as a value.

        Raises:
            Amiss: it cannot be so.
        """
        pieces = {kit: tuple(piece.done() for piece in found) for kit, found in self.pieces.items()}
        floor, notes = pieces.pop("", ()), tuple(self.notes)
        return made(WrittenSession, None, day=self.day, pieces=floor, versions=pieces, notes=notes)


def _says(tree: Tree[Token], rules: set[str]) -> bool:
    return any(rule in rules for rule, _ in kinds(tree))


def _after(before: Tree[Token], tree: Tree[Token]) -> Tree[Token]:
    return Tree(tree.data, [*before.children, Token("SEP", ","), *tree.children])
