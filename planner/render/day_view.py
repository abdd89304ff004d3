"""The view of a day."""

from __future__ import annotations

from planner.domain.clock import LABELS
from planner.domain.gym import DAY_NAMES
from planner.domain.week import AlikeSets, Line, Piece, PieceVersion, Prediction, Session, Week
from planner.domain.words import clock
from planner.render import notation
from planner.render.contexts import (
    ClockBlock,
    DayView,
    DrillGroup,
    Fact,
    ForecastView,
    Hardness,
    LineView,
    PieceView,
    Spare,
    VersionView,
)
from planner.render.overruled import overruled
from planner.render.pictures import SCALE, Bar

HEADINGS = {"warm_up": "Warm-up", **LABELS, "cool_down": "Cool-down"}
_GLYPHS = {"easy": "open", "medium": "half", "hard": "solid"}
_WORK = {"skill": "solid", "strength": "solid", "conditioning": "half", "finisher": "half"}


SPARE = "Left over, for equipment away, results and questions"


def spare(session: Session, week: Week) -> Spare | None:
    """The minutes between the end of the plan and the end of the class; None where there are none."""
    end = max((entry.start_minute + entry.minutes for entry in session.clock), default=0)
    return Spare(end, week.class_minutes - end, SPARE) if end < week.class_minutes else None


def hardness(word: str) -> Hardness:
    """A day's hardness with its glyph."""
    return Hardness(word, _GLYPHS[word])


def day_view(session: Session, week: Week) -> DayView:
    """One day's page."""
    end = max([week.class_minutes, *(entry.start_minute + entry.minutes for entry in session.clock)])
    left = spare(session, week)
    return DayView(
        anchor=session.day,
        name=DAY_NAMES[session.day],
        date=notation.day_month(session.date),
        title=session.title,
        hardness=hardness(session.hardness),
        rating=session.rating,
        rating_words=session.rating_words,
        facts=(
            Fact("planned load", f"{session.load_au:,}"),
            Fact("landing contacts", f"{session.contacts:,}"),
        ),
        clock=tuple(
            ClockBlock(
                entry.label,
                entry.start_minute,
                entry.minutes,
                Bar(
                    round(SCALE * entry.start_minute / end, 3),
                    round(SCALE * entry.minutes / end, 3),
                    _clock_fill(entry.label),
                ),
            )
            for entry in session.clock
        ),
        clock_said=", ".join(
            [f"{e.label} from minute {e.start_minute}, {e.minutes} min" for e in session.clock]
            + ([f"{left.label}, from minute {left.start}, {left.minutes} min"] if left else [])
        ),
        spare=left,
        clock_end=end,
        pieces=tuple(_piece(piece, week) for piece in session.pieces),
        cautions=tuple(notation.sentence(text) for text in session.cautions),
        overruled=overruled(week, session.day),
    )


def _clock_fill(label: str) -> str:
    return next((fill for word, fill in _WORK.items() if word in label.lower()), "open")


def _piece(piece: Piece, week: Week) -> PieceView:
    floor = piece.versions.get(week.kits[0].id) if week.kits else None
    floor_movements = {line.movement for line in floor.lines} if floor else set()
    versions = tuple(
        VersionView(
            number=number,
            name=kit.name,
            contains=kit.contains,
            note=" ".join(notation.sentence(x) for x in (version.own_title, version.note) if x),
            lines=tuple(
                _line(line, number > 0 and line.movement in floor_movements, week) for line in version.lines
            ),
            forecast=_forecast(version, piece.cap_minutes),
        )
        for number, kit in enumerate(week.kits)
        if (version := piece.versions.get(kit.id))
    )
    return PieceView(
        kind=piece.kind,
        heading=HEADINGS[piece.kind],
        minutes=piece.minutes,
        title="" if piece.title == HEADINGS[piece.kind] else notation.times(piece.title),
        stimulus=notation.sentence(piece.stimulus),
        how=notation.sentence(piece.how),
        facts=_piece_facts(piece),
        floor_setup=tuple(map(notation.sentence, filter(None, (piece.class_flow, *piece.floor_setup)))),
        drill_groups=_drills(piece),
        versions=versions,
        rows=max((len(version.lines) for version in versions), default=0),
    )


def _piece_facts(piece: Piece) -> tuple[Fact, ...]:
    facts = []
    if piece.domain:
        facts.append(Fact("Time domain", piece.domain))
    if piece.cap_minutes is not None:
        facts.append(Fact("Time cap", f"{piece.cap_minutes} min"))
    if piece.ladder:
        facts.append(Fact("Rungs", "-".join(str(rung) for rung in piece.ladder)))
    elif piece.rounds is not None and piece.rounds > 1:
        facts.append(Fact("Rounds", str(piece.rounds)))
    if piece.score:
        facts.append(Fact("Score", piece.score))
    return tuple(facts)


def _drills(piece: Piece) -> tuple[DrillGroup, ...]:
    """Drills by phase, in the order of the phases."""
    phases = list(dict.fromkeys(drill.phase for drill in piece.drills))
    return tuple(
        DrillGroup(
            notation.PHASE_WORDS[phase] if piece.kind == "warm_up" else "",
            tuple(Fact(d.dose, d.name, notation.sentence(d.point)) for d in piece.drills if d.phase == phase),
        )
        for phase in phases
    )


def _line(line: Line, same: bool, week: Week) -> LineView:
    names = {athlete.id: athlete.name for athlete in week.athletes}
    extras = [
        *notation.terms(line),
        "" if line.work_sets else notation.percent(line.loads),
        notation.total(line),
    ]
    setup = " ".join(notation.sentence(text) for text in (line.start, line.how) if text)
    return LineView(
        name=line.name + notation.by_hand(line),
        dose=notation.dose(line),
        same=same,
        stands_for=line.stands_for,
        assistance=line.assistance,
        load=notation.line_loads(line),
        loads_said=", ".join(f"{names.get(load.athlete, load.athlete)} {load.text}" for load in line.loads),
        plates=() if line.work_sets else notation.plates(line.loads),
        sets=tuple(_alike(alike) for alike in line.work_sets),
        extras=tuple(text for text in extras if text),
        build_up=notation.sentence(notation.times(line.build_up)),
        setup=setup,
        standard=notation.sentence(line.standard),
        points=tuple(notation.sentence(text) for text in line.points),
        faults=tuple(notation.sentence(text) for text in line.faults),
        easier=tuple(Fact(option.name, notation.sentence(option.how)) for option in line.easier),
        too_heavy=notation.sentence(line.too_heavy),
        cautions=tuple(notation.sentence(text) for text in line.cautions),
    )


def _alike(alike: AlikeSets) -> Fact:
    """Work sets in a row: what they are, their loads, and the plates for them."""
    text = f"{alike.sets} \N{MULTIPLICATION SIGN} {alike.text}" if alike.sets > 1 else alike.text
    plates = " / ".join(notation.plates(alike.loads))
    notes = [
        f"each side {plates}" if plates else "",
        notation.percent(alike.loads),
        f"{notation.count(alike.reserve, 'rep')} in reserve" if alike.reserve is not None else "",
    ]
    return Fact(text, notation.loads(alike.loads), ", ".join(filter(None, notes)))


def _forecast(version: PieceVersion, cap_minutes: int | None) -> ForecastView | None:
    """The quick, typical and slow forecast; drawn on a scale if there is a cap and times are predicted."""
    seen = version.prediction
    if seen is None:
        return None
    values = (("Quick", seen.quick), ("Typical", seen.typical), ("Slow", seen.slow))
    timed = seen.unit == "seconds"
    marks: tuple[float, ...] = ()
    cap = ""
    if timed and cap_minutes:
        cap = f"{cap_minutes}:00"
        marks = tuple(round(min(SCALE, SCALE * value / (60 * cap_minutes)), 2) for _, value in values)
    return ForecastView(
        facts=tuple(Fact(name, _amount(seen, value)) for name, value in values),
        said=seen.text or ", ".join(f"{name} {_amount(seen, value)}" for name, value in values),
        unit="" if timed else "rounds",
        marks=marks,
        cap=cap,
    )


def _amount(seen: Prediction, value: int) -> str:
    return clock(value) if seen.unit == "seconds" else f"{value / 10:.1f}"
