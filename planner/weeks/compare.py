"""Two candidate weeks side by side: days, pieces, kit versions and lines aligned, and the figures."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from planner.domain.comparison import (
    Aspect,
    Both,
    Cell,
    Comparison,
    DayHead,
    DayPair,
    PieceHead,
    PieceKind,
    PiecePair,
    Tally,
    VersionPair,
    WeekHead,
)
from planner.domain.gym import DAYS, Day
from planner.domain.requests import PIECES
from planner.domain.week import Line, Piece, PieceVersion, Session, Week
from planner.errors import DataError
from planner.weeks.compare_figures import figures
from planner.weeks.compare_summary import summary
from planner.weeks.keeping import meant
from planner.weeks.setting import Setting

if TYPE_CHECKING:
    from planner.store.store import Store

_NOWHERE = 1_000_000
_FOLLOWS_FLOOR = {"stands_for", "substitution_cost"}
"""Said of a kit version only because of what the gym floor does: no difference of its own."""
_FOLLOWS_ROUNDS = {"total", "seconds"}


def compare(
    a: Week, b: Week, names: tuple[str, str] = ("A", "B"), last_weeks: tuple[Week, ...] = ()
) -> Comparison:
    """Two weeks side by side.

    Args:
        a: the one.
        b: the other.
        names: what to call them.
        last_weeks: weeks before, in any order, for what is new; the last four count.

    Returns:
        What is the same and what differs, all from the weeks alone; with the weeks and names exchanged, the
        same value with its sides exchanged.

    Raises:
        DataError: both have the same name.
    """
    if names[0] == names[1]:
        raise DataError(f'both weeks are called "{names[0]}"', advice="Give them two names.")
    held = Both[dict[Day, Session]](a={s.day: s for s in a.sessions}, b={s.day: s for s in b.sessions})
    kits = _kits(a, b)
    floors = {week.kits[0].id for week in (a, b) if week.kits}
    days = tuple(
        _day(day, held.a.get(day), held.b.get(day), kits, floors)
        for day in DAYS
        if day in held.a or day in held.b
    )
    called = Both[str](a=names[0], b=names[1])
    counts = _tally(days)
    numbers = figures(a, b, last_weeks)
    return Comparison(
        names=called,
        heads=Both[WeekHead](a=_week_head(a), b=_week_head(b)),
        days=days,
        tally=counts,
        figures=numbers,
        summary=summary(called, days, counts, numbers),
    )


def compare_kept(store: Store, setting: Setting, a: str, b: str) -> Comparison:
    """Two candidates of a week, side by side.

    Raises:
        DataError: there is no such candidate.
    """
    state = store.state(setting.week)
    one, other = meant(state, a), meant(state, b)
    return compare(one.week, other.week, (one.name, other.name), setting.history)


def _week_head(week: Week) -> WeekHead:
    return WeekHead(week=week.week, monday=week.monday, gym=week.gym, invented=week.invented)


def _kits(a: Week, b: Week) -> dict[str, str]:
    """Names of all kit versions, each as early as either week has it."""
    at: dict[str, list[int]] = {}
    said: dict[str, set[str]] = {}
    for week in (a, b):
        for index, kit in enumerate(week.kits):
            at.setdefault(kit.id, []).append(index)
            said.setdefault(kit.id, set()).add(kit.name)
    order = sorted(at, key=lambda kit: (min(at[kit]), max(at[kit]), kit))
    return {kit: " / ".join(sorted(said[kit])) for kit in order}


def _day(day: Day, a: Session | None, b: Session | None, kits: dict[str, str], floors: set[str]) -> DayPair:
    pairs = _aligned([_numbered(piece.kind for piece in s.pieces) if s else [] for s in (a, b)])
    pieces = tuple(
        _piece(
            a.pieces[i] if a and i is not None else None,
            b.pieces[j] if b and j is not None else None,
            kits,
            floors,
        )
        for i, j in pairs
    )
    differs: list[Aspect] = []
    if a is None or b is None:
        differs = ["only"]
    elif all(piece.same for piece in pieces) and _session_rest(a) != _session_rest(b):
        differs = ["notes"]
    return DayPair(
        day=day,
        heads=Both[DayHead | None](a=_day_head(a), b=_day_head(b)),
        pieces=pieces,
        differs=tuple(differs),
    )


def _session_rest(session: Session) -> Session:
    """All of a session but its date and its pieces."""
    return session.model_copy(update={"date": "", "pieces": ()})


def _day_head(session: Session | None) -> DayHead | None:
    if session is None:
        return None
    return DayHead(
        title=session.title,
        date=session.date,
        rating=session.rating,
        hardness=session.hardness,
    )


def _numbered(keys: Iterable[str]) -> list[tuple[str, int]]:
    """Each key with how often it was there before, so that it is met once."""
    seen: dict[str, int] = {}
    out = []
    for key in keys:
        seen[key] = seen.get(key, -1) + 1
        out.append((key, seen[key]))
    return out


def _aligned(keys: Sequence[Sequence[tuple[str, int]]]) -> list[tuple[int | None, int | None]]:
    """Where each key is on the one side and on the other, in an order that favours neither side."""
    places = [{key: i for i, key in enumerate(side)} for side in keys]
    rows = [(places[0].get(key), places[1].get(key), key) for key in {*places[0], *places[1]}]
    rows.sort(key=lambda row: (*_order(row[0], row[1]), row[2]))
    return [(i, j) for i, j, _ in rows]


def _order(i: int | None, j: int | None) -> tuple[int, int]:
    low, high = sorted(_NOWHERE if x is None else x for x in (i, j))
    return low, high


def _piece(a: Piece | None, b: Piece | None, kits: dict[str, str], floors: set[str]) -> PiecePair:
    known = a or b
    assert known is not None
    ours, theirs = (piece.versions if piece else {} for piece in (a, b))
    versions = tuple(
        _version(kit, name, kit in floors, ours.get(kit), theirs.get(kit))
        for kit, name in kits.items()
        if kit in ours or kit in theirs
    )
    differs = _piece_differs(a, b)
    if a and b and not differs and all(v.same for v in versions) and _bare(a) != _bare(b):
        differs = ("notes",)
    return PiecePair(
        kind=known.kind,
        heads=Both[PieceHead | None](a=_piece_head(a), b=_piece_head(b)),
        versions=versions,
        differs=differs,
    )


def _piece_differs(a: Piece | None, b: Piece | None) -> tuple[Aspect, ...]:
    if a is None or b is None:
        return ("only",)
    titled: dict[PieceKind, Aspect] = {"strength": "scheme", "conditioning": "format"}
    out: list[Aspect] = []
    if a.kind in titled and _runs(a) != _runs(b):
        out.append(titled[a.kind])
    if a.domain != b.domain:
        out.append("domain")
    if a.cap_minutes != b.cap_minutes:
        out.append("cap")
    if a.minutes != b.minutes:
        out.append("minutes")
    if a.drills != b.drills:
        out.append("drills")
    return tuple(out)


def _runs(piece: Piece) -> tuple[object, ...]:
    return piece.title, piece.format, piece.shape, piece.rounds, piece.ladder


def _bare(piece: Piece) -> object:
    """All of a piece, but for what its lines say only because of the gym floor's."""
    versions = {
        kit: version.model_copy(update={"lines": tuple(_line_rest(x, _FOLLOWS_FLOOR) for x in version.lines)})
        for kit, version in piece.versions.items()
    }
    return piece.model_copy(update={"versions": versions})


def _piece_head(piece: Piece | None) -> PieceHead | None:
    if piece is None:
        return None
    return PieceHead(
        title=piece.title,
        minutes=piece.minutes,
        cap_minutes=piece.cap_minutes,
        format=piece.format,
        domain=piece.domain,
        drills=tuple(f"{drill.name}, {drill.dose}" for drill in piece.drills),
    )


def _version(kit: str, name: str, floor: bool, a: PieceVersion | None, b: PieceVersion | None) -> VersionPair:
    rows = _line_rows(a.lines if a else (), b.lines if b else ())
    cells = tuple(
        Cell(lines=Both[Line | None](a=one, b=other), differs=_line_differs(one, other))
        for one, other in rows
    )
    forecasts = Both[str](a=_forecast(a), b=_forecast(b))
    differs: list[Aspect] = []
    if a is None or b is None:
        differs = ["only"]
    else:
        if _common(a, b) != _common(b, a):
            differs.append("order")
        if not forecasts.same:
            differs.append("forecast")
        if a.note != b.note and not differs and not any(cell.differs for cell in cells):
            differs.append("notes")
    return VersionPair(
        kit=kit, name=name, floor=floor, cells=cells, forecasts=forecasts, differs=tuple(differs)
    )


def _forecast(version: PieceVersion | None) -> str:
    return version.prediction.text if version and version.prediction else ""


def _common(of: PieceVersion, other: PieceVersion) -> list[tuple[str, int]]:
    """The movements that both do, in the order of the first."""
    there = set(_numbered(line.movement for line in other.lines))
    return [key for key in _numbered(line.movement for line in of.lines) if key in there]


def _line_rows(a: Sequence[Line], b: Sequence[Line]) -> list[tuple[Line | None, Line | None]]:
    """Each line beside the one that does the same movement, and the rest in order, main lift by main lift."""
    keys = [_numbered(line.movement for line in side) for side in (a, b)]
    rows = _aligned(keys)
    met: list[tuple[int | None, int | None]] = [row for row in rows if None not in row]
    for beside in (False, True):
        left = [i for i, j in rows if i is not None and j is None and a[i].assistance == beside]
        right = [j for i, j in rows if j is not None and i is None and b[j].assistance == beside]
        both = min(len(left), len(right))
        left.sort()
        right.sort()
        met += zip(left[:both], right[:both], strict=True)
        met += [(i, None) for i in left[both:]]
        met += [(None, j) for j in right[both:]]

    def order(row: tuple[int | None, int | None]) -> tuple[object, ...]:
        i, j = row
        said = [keys[0][i] if i is not None else ("", 0), keys[1][j] if j is not None else ("", 0)]
        return *_order(i, j), sorted(said)

    met.sort(key=order)
    return [(a[i] if i is not None else None, b[j] if j is not None else None) for i, j in met]


def _line_differs(a: Line | None, b: Line | None) -> tuple[Aspect, ...]:
    if a is None or b is None:
        return ("only",)
    out: list[Aspect] = []
    same_movement = a.movement == b.movement
    if not same_movement:
        out.append("movement")
    if a.dose != b.dose:
        out.append("dose")
    if _weights(a) != _weights(b) or (same_movement and a.tier != b.tier):
        out.append("load")
    if _scheme(a) != _scheme(b):
        out.append("scheme")
    if same_movement and (a.start, a.how, a.equipment) != (b.start, b.how, b.equipment):
        out.append("setup")
    ignored = _FOLLOWS_FLOOR | _FOLLOWS_ROUNDS
    if not out and _line_rest(a, ignored) != _line_rest(b, ignored):
        out.append("notes")
    return tuple(out)


def _weights(line: Line) -> tuple[object, ...]:
    return tuple((load.athlete, load.kg, load.text) for load in line.loads)


def _scheme(line: Line) -> tuple[object, ...]:
    return line.scheme, line.sets, line.rest_s, line.reserve, line.assistance


def _line_rest(line: Line, ignored: set[str]) -> Line:
    empty = {"stands_for": "", "substitution_cost": 0, "total": 0, "seconds": 0}
    return line.model_copy(update={name: empty[name] for name in ignored})


def _tally(days: Sequence[DayPair]) -> Tally:
    pieces = [piece for day in days for piece in day.pieces if piece.kind in PIECES]
    cells = [cell for piece in pieces for v in piece.versions if v.floor for cell in v.cells]
    return Tally(
        days=len(days),
        days_differ=sum(not day.same for day in days),
        pieces=len(pieces),
        pieces_differ=sum(not piece.floor_same for piece in pieces),
        kits_differ=sum(piece.floor_same and not piece.same for piece in pieces),
        lines=len(cells),
        lines_differ=sum(bool(cell.differs) for cell in cells),
    )
