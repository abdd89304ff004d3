"""What a kind of sheet is: a heading in the index, and the files that it writes for a week."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from planner.domain.catalogue import Catalogue
from planner.domain.gym import Day, Gym
from planner.domain.week import Week
from planner.floor.lanes import PieceRun


@dataclass(frozen=True)
class Page:
    """A page, to be written as HTML, as PDF or both.

    Attributes:
        stem: its file's name without ending.
        what: what the index calls it.
        html: makes the page.
        paper: makes the page that is laid out for PDF, where it is another one.
    """

    stem: str
    what: str
    html: Callable[[], str]
    paper: Callable[[], str] | None = None


@dataclass(frozen=True)
class Attachment:
    """A file that is always written, whatever the formats.

    Attributes:
        name: of the file.
        what: what the index calls it.
        form: what the index says of its format.
        content: makes it.
    """

    name: str
    what: str
    form: str
    content: Callable[[], bytes]


@dataclass(frozen=True)
class SheetSource:
    """What sheets are made from.

    Attributes:
        week: the solved week.
        folder_id: stable name of the gym: its folder's.
        day: the one day that is asked for; None for the whole week.
        gym: whose bars and plates; None where it is not known.
        catalogue: that goes with the gym.
        before: what stands in the folder already, by the name of the file; None where it is not there.
        runs: a day's pieces on the floor; None where the gym is not known.
    """

    week: Week
    folder_id: str
    day: Day | None = None
    gym: Gym | None = None
    catalogue: Catalogue | None = None
    before: Callable[[str], bytes | None] = lambda _name: None
    runs: Callable[[Day], Sequence[PieceRun]] | None = None

    @property
    def days(self) -> tuple[Day, ...]:
        """The days that are asked for and have a session."""
        return tuple(s.day for s in self.week.sessions if self.day in {None, s.day})


@dataclass(frozen=True)
class SheetKind:
    """A kind of sheet.

    Attributes:
        name: by which it is asked for.
        heading: in the index.
        about: below that heading.
        files: makes its pages and other files.
        of_a_day: whether it can be of one day.
        needs_gym: what of the gym it cannot be made without, as said; empty where the week is enough.
    """

    name: str
    heading: str
    about: str
    files: Callable[[SheetSource], Iterable[Page | Attachment]]
    of_a_day: bool = False
    needs_gym: str = ""
