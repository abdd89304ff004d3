"""The coach's brief: a page with what the coach of the session needs, and one with what to put out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path

from planner.domain.clock import LABELS
from planner.domain.gym import DAY_NAMES, Day
from planner.domain.week import Line, Piece, PieceVersion, Session, Week
from planner.domain.words import capital, clock, listed
from planner.floor.lanes import PieceRun
from planner.render import notation
from planner.render.brief_layout import CLOSE, Text, type_size_pt
from planner.render.contexts import Fact
from planner.render.day_view import HEADINGS, spare
from planner.render.floor_view import FloorPicture, floor_picture
from planner.render.instead import inside, otherwise, short_line
from planner.render.overruled import overruled
from planner.render.page import Frame, frame, render, session_of
from planner.render.setup_card import SetTable, setup_card
from planner.render.sheet_kind import Page, SheetKind, SheetSource

SHARED_LETTERS = 40
HOUR = 60
SECONDS = 60


@dataclass(frozen=True)
class Watched:
    """What to look for in a movement.

    Attributes:
        name: of the movement.
        where: the versions that do it; empty where the gym floor does.
        look: points of performance.
        faults: what usually goes wrong.
        easier: easier options.
        cautions: short.
    """

    name: str
    where: str
    look: str
    faults: str
    easier: str
    cautions: str


@dataclass(frozen=True)
class BriefPiece:
    """A piece in the coach's words.

    Attributes:
        style: ``work``; ``drills`` in warm-up and cool-down.
        point: its purpose, in a line.
        end: the time cap and where to be half-way; empty without a cap.
    """

    heading: str
    title: str
    point: str
    how: str
    work: tuple[str, ...]
    style: str
    score: str
    end: str


@dataclass(frozen=True)
class BriefPage:
    """The page.

    Attributes:
        running: clock, block, minutes.
        floor: set-up of the room, with counts.
        say: by kit version, what to say in turn.
        watch: by movement.
        overruled: rules that the coach has overruled on this day, and why.
        set_out: what to put out, on the second page.
        pictures: of the class on the floor, there too; none where the gym is not known.
        size_pt: of the type on the first page.
    """

    frame: Frame
    day: str
    date: str
    about: str
    effort: str
    running: tuple[Fact, ...]
    floor: tuple[Fact, ...]
    pieces: tuple[BriefPiece, ...]
    say: tuple[Fact, ...]
    watch: tuple[Watched, ...]
    overruled: tuple[str, ...]
    cautions: tuple[str, ...]
    set_out: tuple[SetTable, ...]
    pictures: tuple[FloorPicture, ...]
    size_pt: float


def brief_html(week: Week, day: Day, *, runs: Sequence[PieceRun] = (), templates: Path | None = None) -> str:
    """The coach's brief of one day: an A4 page, and a second with what to put out and how the class runs.

    Args:
        week: the solved week.
        day: which day.
        runs: the day's pieces on the floor; none where the gym is not known.
        templates: folder of templates; the program's own if None.

    Raises:
        DataError: there is no class that day.
    """
    page = brief_page(week, session_of(week, day))
    pictures = tuple(floor_picture(run, i) for i, run in enumerate(runs, 1))
    return render("pages/brief.html", replace(page, pictures=pictures), templates)


def _with_runs(source: SheetSource, day: Day) -> str:
    return brief_html(source.week, day, runs=source.runs(day) if source.runs else ())


KIND = SheetKind(
    name="brief",
    heading="For the coach",
    about="One day on an A4 page; on a second one what to put out, and the class on the floor.",
    files=lambda source: [
        Page(f"brief-{day}", DAY_NAMES[day], partial(_with_runs, source, day)) for day in source.days
    ],
    of_a_day=True,
)


def brief_page(week: Week, session: Session) -> BriefPage:
    """The contents of the page, and the type size at which it fits one page."""
    name = DAY_NAMES[session.day]
    running = [
        Fact(_clock(week, entry.start_minute), entry.label, f"{entry.minutes} min") for entry in session.clock
    ]
    left = spare(session, week)
    if left:
        running.append(Fact(_clock(week, left.start), left.label, f"{left.minutes} min"))
    page = BriefPage(
        frame=frame(week, f"{name}, coach's brief"),
        day=name,
        date=notation.day_month(session.date),
        about=session.title,
        effort=f"{notation.effort(session)} Class of {week.class_size}, {week.class_minutes} min.",
        running=(*running, Fact(_clock(week, week.class_minutes), "End of class")),
        floor=_floor(session, week),
        pieces=tuple(_piece(piece, session, week) for piece in session.pieces),
        say=_say(session, week),
        watch=_watch(session, week),
        overruled=tuple(f"{row.said} Because: {row.because}" for row in overruled(week, session.day)),
        cautions=tuple(notation.sentence(text) for text in (*session.cautions, *week.cautions)),
        set_out=setup_card(session),
        pictures=(),
        size_pt=0.0,
    )
    whole = [
        *map(_watch_text, page.watch),
        *(Text("; ".join(p.work), "") for p in page.pieces if p.style == "work"),
    ]
    head = (Text(name, session.title), Text("", _meta(page)))
    return replace(page, size_pt=type_size_pt(head, _texts(page), whole))


def _meta(page: BriefPage) -> str:
    """As long as what the template has below the heading."""
    top = page.frame
    made_up = ", an invented gym" if top.invented else ""
    return f"{top.gym}{made_up}. {page.date}, {top.week}. {page.effort} Loads: {top.reading}."


def _clock(week: Week, minute: int) -> str:
    """The time of day when the class is this many minutes old."""
    hours, minutes = (int(part) for part in week.class_start.split(":"))
    hours, minutes = divmod(hours * HOUR + minutes + minute, HOUR)
    return f"{hours % 24}:{minutes:02d}"


def _floor(session: Session, week: Week) -> tuple[Fact, ...]:
    """The room: the set-up of each piece and how the bars are loaded."""
    facts = []
    for piece in session.pieces:
        texts = [*filter(None, [piece.class_flow]), *map(notation.sentence, piece.floor_setup)]
        version = piece.versions.get(week.kits[0].id)
        texts += _loaded(version) if version else []
        if texts:
            facts.append(Fact(HEADINGS[piece.kind], " ".join(texts)))
    return tuple(facts)


def _loaded(version: PieceVersion) -> list[str]:
    """Bars with their plates, athletes in the heading's order; other loads stand beside the movements."""
    texts = []
    for line in version.lines:
        bars = []
        for load in line.loads:
            plates = "+".join(notation.number(kg) for kg in load.per_side_kg)
            on_it = f"each side {plates}" if plates else "empty bar"
            bars.append(f"{notation.number(load.kg)} kg, {on_it}")
        if any(load.per_side_kg for load in line.loads):
            which = ", heaviest set" if line.work_sets else ""
            texts.append(f"{capital(line.name)}{which}: {' / '.join(bars)}.")
    return texts


def _piece(piece: Piece, session: Session, week: Week) -> BriefPiece:
    floor = piece.versions.get(week.kits[0].id)
    drills = tuple(f"{drill.dose} {inside(drill.name)}" for drill in piece.drills)
    return BriefPiece(
        heading=f"{HEADINGS[piece.kind]}, {piece.minutes} min",
        title="" if piece.title == HEADINGS[piece.kind] else capital(notation.times(piece.title)),
        point=" ".join(filter(None, (notation.sentence(piece.stimulus), _taxes(floor)))),
        how=notation.sentence(piece.how),
        work=tuple(_with_how(line, set()) for line in floor.lines) if floor else drills,
        style="work" if floor else "drills",
        score=notation.sentence(piece.score),
        end=_end(piece, session, week),
    )


def _taxes(floor: PieceVersion | None) -> str:
    """What the lines tax in turn: "Taxes lungs (row), legs (front squat)."; empty where it is not known."""
    found: dict[str, list[str]] = {}
    for line in floor.lines if floor else ():
        if line.taxes:
            found.setdefault(line.taxes, []).append(inside(line.name))
    if len(found) == 1:
        return f"Taxes {next(iter(found))} throughout."
    said = ", ".join(f"{what} ({listed(names)})" for what, names in found.items())
    return f"Taxes {said}." if said else ""


def _end(piece: Piece, session: Session, week: Week) -> str:
    """The time cap, on the piece's clock and as time of day, and where to be half-way."""
    start = next((e.start_minute for e in session.clock if LABELS.get(piece.kind) == e.label), None)
    if piece.cap_minutes is None:
        return ""
    at = f", {_clock(week, start + piece.cap_minutes)} if you start on time" if start is not None else ""
    texts = [f"Call time at {piece.cap_minutes}:00{at}."]
    seen = [v.prediction for v in piece.versions.values() if v.prediction and v.prediction.unit == "seconds"]
    if seen:
        slow = max(prediction.slow for prediction in seen)
        done = slow <= piece.cap_minutes * SECONDS
        texts.append(f"The slow {'finish in' if done else 'would need'} {clock(slow)}.")
    half = clock(piece.cap_minutes * SECONDS // 2)
    texts.append(f"Who is not half-way by {half} takes the easier option from there.")
    return " ".join(texts)


def _say(session: Session, week: Week) -> tuple[Fact, ...]:
    """What to tell each version: what it does instead in each piece, and how."""
    told: set[tuple[str, str]] = set()
    floor_notes = []
    for piece in session.pieces:
        for line in _lines(piece, week.kits[0].id):
            _with_how(line, told)
        version = piece.versions.get(week.kits[0].id)
        floor_notes += [notation.sentence(version.note)] if version and version.note else []
    said = [Fact(week.kits[0].name, " ".join(["As in the pieces above.", *floor_notes]))]
    for kit in week.kits[1:]:
        texts = []
        for piece in session.pieces:
            version = piece.versions.get(kit.id)
            if version is None:
                continue
            other, rest = otherwise(version.lines, _lines(piece, week.kits[0].id), _line_and_how)
            work = [*(_with_how(line, told) for line in other), *rest]
            texts += [f"{HEADINGS[piece.kind]}: {'; '.join(work)}.", notation.sentence(version.note)]
        said.append(Fact(kit.name, " ".join(text for text in texts if text)))
    return tuple(said)


def _line_and_how(line: Line) -> tuple[str, str]:
    return short_line(line), line.how


def _lines(piece: Piece, kit: str) -> tuple[Line, ...]:
    version = piece.versions.get(kit)
    return version.lines if version else ()


def _with_how(line: Line, told: set[tuple[str, str]]) -> str:
    """A movement; in brackets how it is done with this kit, if that is not obvious.

    Args:
        line: of a version.
        told: what was said already, and of which movement; long advice that several share is said once.
    """
    said = []
    for text in line.how.strip().rstrip(".").split(". "):
        known = (line.movement if len(text) < SHARED_LETTERS else "", text)
        if text and known not in told:
            told.add(known)
            said.append(text)
    return f"{short_line(line)} [{'. '.join(said)}]" if said else short_line(line)


def _watch(session: Session, week: Week) -> tuple[Watched, ...]:
    """Each movement once: those of the gym floor in full, those of other versions more briefly."""
    found: dict[str, Line] = {}
    kits: dict[str, list[str]] = {}
    for number, kit in enumerate(week.kits):
        for piece in session.pieces:
            for line in piece.versions[kit.id].lines if kit.id in piece.versions else ():
                found.setdefault(line.movement, line)
                names = kits.setdefault(line.movement, [])
                if kit.name not in names:
                    names.append(kit.name)
        if number == 0:
            full = set(found)
    return tuple(_watched(line, _where(kits[key], week), full=key in full) for key, line in found.items())


def _where(kits: list[str], week: Week) -> str:
    """Which versions do a movement; empty for the gym floor, one word for all other versions."""
    others = [kit.name for kit in week.kits[1:]]
    if week.kits[0].name in kits:
        return ""
    return "all but the gym floor" if len(kits) == len(others) > 1 else listed(kits)


def _watched(line: Line, where: str, *, full: bool) -> Watched:
    most = None if full else 1
    return Watched(
        name=capital(line.name),
        where=where,
        look=" ".join(notation.sentence(text) for text in line.points[:most]),
        faults=" ".join(notation.sentence(text) for text in line.faults[:most]),
        easier="; ".join(f"{inside(option.name)}, {option.how}" for option in line.easier[:most]),
        cautions=" ".join(notation.sentence(text) for text in line.cautions) if full else "",
    )


def _texts(page: BriefPage) -> list[Text | None]:
    """Every paragraph of the page; None stands for a heading."""
    # Two entries of the running order beside each other: as high as the longer one twice.
    entries = [f"{f.term} {f.value} {f.note} " for f in page.running]
    pairs = [2 * max(entries[i : i + 2], key=len) for i in range(0, len(entries), 2)]
    texts: list[Text | None] = [None, *(Text("", pair, 0) for pair in pairs)]
    texts += [None, *(Text(f"{f.term}:", f.value) for f in page.floor)] if page.floor else []
    texts.append(None)
    for piece in page.pieces:
        work = "; ".join(piece.work)
        texts += [Text(piece.title, piece.heading, 0), Text("", f"{piece.point} {piece.how}", CLOSE)]
        texts.append(Text(work, "", CLOSE) if piece.style == "work" else Text("", work, CLOSE))
        texts += [Text("", f"Write down: {piece.score}", CLOSE)] if piece.score else []
        texts.append(Text(piece.end, ""))
    texts += [None, *(Text(f"{f.term}:", f.value) for f in page.say)]
    texts += [None, *map(_watch_text, page.watch)]
    texts += [None, *(Text("", text) for text in page.overruled)] if page.overruled else []
    return texts + ([None, *(Text("", text) for text in page.cautions)] if page.cautions else [])


def _watch_text(seen: Watched) -> Text:
    parts = (
        f"({seen.where})" if seen.where else "",
        seen.look,
        f"Faults: {seen.faults}" if seen.faults else "",
        f"Easier: {seen.easier}." if seen.easier else "",
        f"Careful: {seen.cautions}" if seen.cautions else "",
    )
    return Text(seen.name, " ".join(part for part in parts if part))
