"""The coach's brief: what whoever runs or films the session needs, on one page."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

from planner.domain.gym import DAY_NAMES, Day
from planner.domain.week import Line, Piece, PieceVersion, Session, Week
from planner.render import words
from planner.render.contexts import Fact
from planner.render.day_view import HEADINGS
from planner.render.fit import largest, line_count
from planner.render.instead import WORK, inside, short_line
from planner.render.page import Frame, frame, render, session_of

# A4 upright, in mm: the page inside its margins, less a little, so that rounding never makes a second page.
WIDE_MM, HIGH_MM = 210 - 2 * 10, 297 - 2 * 9 - 8
PT_MM = 25.4 / 72
MOST_PT, LEAST_PT = 10.5, 5.6
LEADING, GAP_MM = 1.3, 6.0
# What CSS columns lose where a paragraph must not be broken, as a share of the height.
BROKEN = 1.03
HOUR = 60
SECONDS = 60


@dataclass(frozen=True)
class Watched:
    """What to watch for in a movement.

    Attributes:
        name: of the movement.
        where: the versions that do it; empty where all do.
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
        style: ``work``, or ``drills`` in warm-up and cool-down.
        point: what it is for, in a line.
        end: when to call time, and how it should stand half-way; empty without a cap.
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
        size_pt: of the type.
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
    cautions: tuple[str, ...]
    size_pt: float


def brief_html(week: Week, day: Day, *, templates: Path | None = None) -> str:
    """The coach's brief of one day: exactly one A4 page.

    Args:
        week: the solved week.
        day: which day.
        templates: folder of templates; the program's own if None.

    Raises:
        DataError: there is no class that day.
    """
    return render("pages/brief.html", brief_page(week, session_of(week, day)), templates)


def brief_page(week: Week, session: Session) -> BriefPage:
    """Everything that the page shows, and the size of type at which it is one page."""
    name = DAY_NAMES[session.day]
    running = [
        Fact(_clock(week, entry.start_minute), entry.label, f"{entry.minutes} min") for entry in session.clock
    ]
    page = BriefPage(
        frame=frame(week, f"{name}, coach's brief"),
        day=name,
        date=words.day_month(session.date),
        about=session.title,
        effort=f"{words.capital(session.hardness)} day, {session.rating} of 10: {session.rating_words}. "
        f"Class of {week.class_size}, {week.class_minutes} min.",
        running=(*running, Fact(_clock(week, week.class_minutes), "End of class")),
        floor=_floor(session, week),
        pieces=tuple(_piece(piece, session, week) for piece in session.pieces),
        say=tuple(Fact(kit.name, _say(session, kit.id)) for kit in week.kits),
        watch=_watch(session, week),
        cautions=tuple(words.sentence(text) for text in (*session.cautions, *week.cautions)),
        size_pt=MOST_PT,
    )
    texts = _texts(page)
    return replace(page, size_pt=largest(lambda pt: _high_mm(texts, pt) <= HIGH_MM, MOST_PT, LEAST_PT, 0.1))


def _clock(week: Week, minute: int) -> str:
    """The time of day so many minutes into the class."""
    hours, minutes = (int(part) for part in week.class_start.split(":"))
    hours, minutes = divmod(hours * HOUR + minutes + minute, HOUR)
    return f"{hours % 24}:{minutes:02d}"


def _floor(session: Session, week: Week) -> tuple[Fact, ...]:
    """The room: what the set-up says for each piece, and how the bars are loaded."""
    facts = []
    for piece in session.pieces:
        texts = [words.sentence(text) for text in piece.floor_setup]
        version = piece.versions.get(week.kits[0].id)
        texts += _loaded(version, week) if version else []
        if texts:
            facts.append(Fact(HEADINGS[piece.kind], " ".join(texts)))
    return tuple(facts)


def _loaded(version: PieceVersion, week: Week) -> list[str]:
    names = {athlete.id: athlete.name for athlete in week.athletes}
    texts = []
    for line in version.lines:
        parts = []
        for load in line.loads:
            plates = "+".join(words.number(kg) for kg in load.per_side_kg)
            side = f", each side {plates}" if plates else ""
            parts.append(f"{names.get(load.athlete, load.athlete)} {words.times(load.text)}{side}")
        if parts:
            texts.append(f"{words.capital(line.name)}: {'; '.join(parts)}.")
    return texts


def _piece(piece: Piece, session: Session, week: Week) -> BriefPiece:
    floor = piece.versions.get(week.kits[0].id)
    drills = tuple(f"{drill.dose} {inside(drill.name)}" for drill in piece.drills)
    return BriefPiece(
        heading=f"{HEADINGS[piece.kind]}, {piece.minutes} min",
        title="" if piece.title == HEADINGS[piece.kind] else words.capital(words.times(piece.title)),
        point=words.sentence(piece.stimulus),
        how=words.sentence(piece.how),
        work=tuple(short_line(line) for line in floor.lines) if floor else drills,
        style="work" if floor else "drills",
        score=words.sentence(piece.score),
        end=_end(piece, session, week),
    )


def _end(piece: Piece, session: Session, week: Week) -> str:
    """When to cap, on the piece's own clock and on the wall's, and how it should stand half-way."""
    start = next((e.start_minute for e in session.clock if WORK.get(piece.kind) == e.label), None)
    if piece.kind != "conditioning" or piece.cap_minutes is None:
        return ""
    at = f", {_clock(week, start + piece.cap_minutes)} if you start on time" if start is not None else ""
    texts = [f"Call time at {piece.cap_minutes}:00{at}."]
    seen = [v.prediction for v in piece.versions.values() if v.prediction and v.prediction.unit == "seconds"]
    if seen:
        slow = max(prediction.slow for prediction in seen)
        done = slow <= piece.cap_minutes * SECONDS
        texts.append(f"The slow {'finish in' if done else 'would need'} {words.clock(slow)}.")
    half = words.clock(piece.cap_minutes * SECONDS // 2)
    texts.append(f"Who is not half-way by {half} takes the easier option from there.")
    return " ".join(texts)


def _say(session: Session, kit: str) -> str:
    """What to say to one version: what they do in each piece, and what is different about it."""
    texts = []
    for piece in session.pieces:
        version = piece.versions.get(kit)
        if version is None:
            continue
        work = "; ".join(_with_how(line) for line in version.lines)
        texts += [f"{HEADINGS[piece.kind]}: {work}.", words.sentence(version.note)]
    return " ".join(text for text in texts if text)


def _with_how(line: Line) -> str:
    """A movement, and in brackets how it is done with this kit, where that needs saying."""
    how = line.how.strip().rstrip(".")
    return f"{short_line(line)} [{how}]" if how else short_line(line)


def _watch(session: Session, week: Week) -> tuple[Watched, ...]:
    """Each movement once, the gym floor's in full, what only the others do more briefly."""
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
    return tuple(
        _watched(line, "" if len(kits[key]) == len(week.kits) else words.listed(kits[key]), full=key in full)
        for key, line in found.items()
    )


def _watched(line: Line, where: str, *, full: bool) -> Watched:
    most = None if full else 1
    return Watched(
        name=words.capital(line.name),
        where=where,
        look=" ".join(words.sentence(text) for text in line.points[:most]),
        faults=" ".join(words.sentence(text) for text in line.faults[:most]),
        easier="; ".join(f"{inside(option.name)}, {option.how}" for option in line.easier),
        cautions=" ".join(words.sentence(text) for text in line.cautions) if full else "",
    )


def _texts(page: BriefPage) -> list[str]:
    """Every paragraph of the page as it is set; an empty one stands for a heading."""
    texts = [f"{f.term}   {f.value} {f.note}" for f in page.running]
    texts += ["", *(f"{f.term}: {f.value}" for f in page.floor)] if page.floor else []
    texts.append("")
    for piece in page.pieces:
        texts += [f"{piece.heading}  {piece.title}", f"{piece.point} {piece.how}", "; ".join(piece.work)]
        texts += [text for text in (f"Write down: {piece.score}" if piece.score else "", piece.end) if text]
    texts += ["", *(f"{f.term}: {f.value}" for f in page.say), ""]
    texts += [
        f"{x.name} ({x.where}) {x.look} Faults: {x.faults} Easier: {x.easier}. {x.cautions}"
        for x in page.watch
    ]
    return [*texts, "", *page.cautions]


def _high_mm(texts: list[str], size_pt: float) -> float:
    """Height of the page at a size of type, as the style sheet sets it in two columns."""
    em_mm = size_pt * PT_MM
    wide_em = (WIDE_MM - GAP_MM) / 2 / em_mm
    lines = sum(line_count(text, wide_em - 0.6) + 0.24 if text else 1.9 for text in texts)
    head = 5.2 * em_mm
    return head + BROKEN * lines / 2 * LEADING * em_mm
