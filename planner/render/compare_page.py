"""Two candidates side by side as one HTML file: what is the same is quiet, what differs is marked.

The terminal draws the same rows.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from planner.domain.base import Value
from planner.domain.comparison import Comparison, Figure, Listing, gym_floors
from planner.domain.difference import Difference
from planner.domain.gym import DAY_NAMES
from planner.domain.week import Line, Piece, PieceVersion, RuleResult, Session, Week
from planner.domain.words import capital, spoken
from planner.render import notation
from planner.render.day_view import HEADINGS
from planner.render.page import Frame, frame, render
from planner.render.pictures import SCALE, Bar

PLACES_SHOWN = 3
"""More places of one rule would hide the next rule."""
SAME = "the same in both"
_TOLD = {"name": "{}", "text": "{}", "label": "{}", "minutes": "{} min", "dose": "{}", "said": "{}"}
"""Fields by which a value inside another is told, and how."""


@dataclass(frozen=True)
class Bit:
    """A piece of text, its style (dose, name, about, load, count, plain), and whether the other differs."""

    text: str
    style: str = "plain"
    differs: bool = False


@dataclass(frozen=True)
class Row:
    """Something of both weeks.

    Attributes:
        a: what the one has, or has alone; and ``b`` the other.
        words: in what they differ, or how far they are apart; empty where they are the same.
        term: what it is, and ``note`` more of it in small type.
        both: what both have, where ``a`` and ``b`` are what one has alone.
        bars: two that grow from the middle, where a picture says something.
    """

    a: tuple[Bit, ...]
    b: tuple[Bit, ...]
    words: str
    term: str = ""
    note: str = ""
    both: str = ""
    bars: tuple[Bar, ...] = ()


@dataclass(frozen=True)
class Block:
    """A day, a piece of it, or a kit version of that.

    Attributes:
        id: of the part of the page; empty for a kit version.
        name: heading.
        same: whether nothing differs.
        verdict: what does, in a few words.
        rows: of itself; of a kit version its lines and its forecast.
        parts: inside it; kit versions that are not the gym floor only where they differ.
        alike: names of the kit versions that are the same.
        shut: whether it is read when asked for: all kit versions but the gym floor.
    """

    id: str
    name: str
    same: bool
    verdict: str
    rows: tuple[Row, ...]
    parts: tuple[Block, ...] = ()
    alike: str = ""
    shut: bool = False


@dataclass(frozen=True)
class ComparePage:
    """The whole file.

    Attributes:
        frame: heading and colours.
        a: name of the one week, and ``b`` of the other.
        summary: sentences.
        days: of both weeks.
        tables: rows by the group of their figures and lists; ``rules``; ``made_for``, where class, kit
            versions or athletes differ.
        new_said: since when things are new; empty where no earlier week is known.
    """

    frame: Frame
    a: str
    b: str
    summary: tuple[str, ...]
    days: tuple[Block, ...]
    tables: Mapping[str, tuple[Row, ...]]
    new_said: str


def compare_html(comparison: Comparison, templates: Path | None = None) -> str:
    """The comparison as one HTML file: no network, no script, for screen and for paper.

    Args:
        comparison: of two weeks.
        templates: folder of templates; the program's own if None.
    """
    return render("pages/compare.html", compare_page(comparison), templates)


def compare_page(comparison: Comparison) -> ComparePage:
    """Everything that the file and the terminal show."""
    names, week = comparison.names, comparison.week
    view = _View(names, gym_floors(week), {kit.key: kit.known.name for kit in week.parts["kits"]})
    tables: dict[str, tuple[Row, ...]] = defaultdict(tuple)
    for x in comparison.figures:
        most = max(max(y.a or 0, y.b or 0) for y in comparison.figures if y.group == x.group)
        tables[x.group] += (_figure(x, most),)
    for things in comparison.lists:
        tables[things.group] += (_listing(things),)
    tables["rules"] = tuple(_rule(rule) for rule in comparison.rules)
    tables["made_for"] = tuple(view.made_for(week))
    since = notation.listed(notation.iso_week(name) for name in comparison.against)
    return ComparePage(
        frame=frame(week.known, " beside ".join(names)),
        a=names[0],
        b=names[1],
        summary=comparison.summary,
        days=tuple(view.day(day) for day in week.parts["sessions"]),
        tables=tables,
        new_said=f"Not on the gym floor in {since}." if since else "",
    )


# Days ---------------------------------------------------------------------------------------------------

Shown = tuple[tuple[str, str, Callable[[Any], str]], ...]
"""What is shown of a value whether it differs or not: its word, how it is set, its text."""


def _scheme(line: Line) -> str:
    parts = (
        "beside the main lift" if line.assistance else "",
        f"rest {notation.span(line.rest_s)}" if line.rest_s else "",
        f"{notation.count(line.reserve, 'rep')} in reserve" if line.reserve is not None else "",
    )
    return ", ".join(filter(None, parts))


_DAY: Shown = (
    ("title", "about", lambda session: session.title),
    ("effort", "plain", lambda session: f"{session.hardness}, effort {session.rating} of 10"),
)
_PIECE: Shown = (
    (
        "format",
        "name",
        lambda piece: "" if piece.title == HEADINGS[piece.kind] else notation.times(piece.title),
    ),
    ("minutes", "plain", lambda piece: f"{piece.minutes} min"),
    ("time domain", "plain", lambda piece: f"time domain {piece.domain}" if piece.domain else ""),
    ("cap", "plain", lambda piece: "" if piece.cap_minutes is None else f"cap {piece.cap_minutes} min"),
    ("drills", "count", lambda piece: notation.count(len(piece.drills), "drill") if piece.drills else ""),
)
_LINE: Shown = (
    ("dose", "dose", notation.dose),
    ("movement", "name", lambda line: line.name),
    ("load", "load", lambda line: notation.loads(line.loads)),
    ("scheme", "plain", _scheme),
)
_VERSION: Shown = (
    ("forecast", "plain", lambda version: capital(version.prediction.text) if version.prediction else ""),
)


@dataclass(frozen=True)
class _View:
    """Days and what is in them, with the names of weeks and kits, and the ids of the gym floors."""

    names: tuple[str, str]
    floors: frozenset[str]
    kits: dict[str, str]

    def made_for(self, week: Difference[Week]) -> Iterator[Row]:
        """What differs of the weeks as a whole: class, kit versions, athletes."""
        yield from (self.row(week, (), (word,)) for word in week.own)
        for part in (*week.parts["kits"], *week.parts["athletes"]):
            if not part.same:
                yield self.row(part, (("name", "name", lambda held: held.name),), part.words)

    def day(self, day: Difference[Session]) -> Block:
        """A day with its pieces."""
        return Block(
            id=day.key,
            name=DAY_NAMES[day.known.day],
            same=day.same,
            verdict=self.verdict(day, "pieces", "part"),
            rows=(self.row(day, _DAY, day.own),),
            parts=tuple(self.piece(piece, day.key) for piece in day.parts["pieces"]),
        )

    def piece(self, piece: Difference[Piece], day: str) -> Block:
        """A piece: how it runs, the gym floor's lines, and the kit versions that differ."""
        versions = [self.version(version) for version in piece.parts["versions"]]
        return Block(
            id=f"{day}-{piece.key.replace(' ', '-')}",
            name=HEADINGS[piece.known.kind],
            same=piece.same,
            verdict="",
            rows=(self.row(piece, _PIECE, piece.own),),
            parts=tuple(version for version in versions if not (version.shut and version.same)),
            alike=notation.listed(version.name for version in versions if version.shut and version.same),
        )

    def version(self, version: Difference[PieceVersion]) -> Block:
        """A kit version: its lines, and its forecast."""
        rows = [self.row(line, _LINE, line.words) for line in version.parts["lines"]]
        whole = self.row(version, _VERSION, version.own)
        return Block(
            id="",
            name=self.kits.get(version.key, version.key),
            same=version.same,
            verdict=self.verdict(version, "lines", "line"),
            rows=(*rows, whole) if whole.a or whole.b else tuple(rows),
            shut=version.key not in self.floors,
        )

    def row(self, node: Difference[Any], shown: Shown, differs: Iterable[str]) -> Row:
        """Both sides: what is shown of them in any case, and then whatever else differs."""
        sides: tuple[list[Bit], list[Bit]] = ([], [])
        others = [(word, "plain", _nothing) for word in differs if word not in [known for known, *_ in shown]]
        for word, style, text in (table := (*shown, *others)):
            apart = word in differs and not node.alone
            said = [text(x) if x else "" for x in (node.a, node.b)]
            marked = apart and style != "count" and said[0] != said[1]
            more = _told(node, word) if apart and not marked else ([], [])
            for bits, one, told in zip(sides, said, more, strict=True):
                usual = [Bit(one or f"no {word}", style, marked)] if one or marked else []
                bits.extend((*usual, *(Bit(x, differs=True) for x in told)))
        only = f"only in {self.names[node.a is None]}" if node.alone else ""
        return Row(
            tuple(sides[0]), tuple(sides[1]), only or ", ".join(word for word, *_ in table if word in differs)
        )

    def verdict(self, node: Difference[Any], inside: str, noun: str) -> str:
        """What differs in a few words: "3 of 4 parts differ, clock"."""
        if node.alone:
            return f"only in {self.names[node.a is None]}"
        differing = sum(not part.same for part in node.parts[inside])
        verb = "differs" if differing == 1 else "differ"
        said = [f"{differing} of {notation.count(len(node.parts[inside]), noun)} {verb}"] if differing else []
        return ", ".join([*said, *node.own]) or SAME


def _nothing(_: object) -> str:
    return ""


def _told(node: Difference[Any], word: str) -> tuple[list[str], list[str]]:
    """What a word stands for, here or inside, from the fields themselves: of each side what it alone has."""
    if word not in node.own:
        inside = [_told(x, word) for parts in node.parts.values() for x in parts if word in x.words]
        return [text for a, _ in inside for text in a], [text for _, b in inside for text in b]
    a, b = (
        [x for name in node.own[word] for x in _texts(getattr(side, name, None))] for side in (node.a, node.b)
    )
    if {*a} == {*b}:
        return a, b
    return [x for x in a if x not in b], [x for x in b if x not in a]


def _texts(value: object) -> list[str]:
    if isinstance(value, tuple) and not all(isinstance(x, int | float) for x in value):
        return [_said(x) for x in value]
    return list(filter(None, (_said(value),)))


def _said(value: object) -> str:
    if isinstance(value, tuple):
        return ", ".join(_said(x) for x in value)
    if isinstance(value, dict):
        return ", ".join(f"{_said(key)} {_said(x)}" for key, x in value.items())
    if isinstance(value, Value):
        told = (x.format(_said(getattr(value, name))) for name, x in _TOLD.items() if hasattr(value, name))
        return ", ".join(told)
    if isinstance(value, float):
        return notation.number(value)
    return "" if value is None else spoken(str(value))


# Figures, things, rules ---------------------------------------------------------------------------------


def _figure(x: Figure, most: float) -> Row:
    """A figure; a day's load with its rating and a pattern with the days that differ are drawn too."""
    texts = ["none" if value is None else notation.number(value) for value in (x.a, x.b)]
    note, apart, bars = x.note, "" if x.same else "other days", tuple[Bar, ...]()
    if x.a != x.b:
        apart = "not in both" if x.a is None or x.b is None else notation.number(abs(x.a - x.b))
    if x.parts:
        a, b = (round(SCALE / 2 * (value or 0) / (most or 1), 2) for value in (x.a, x.b))
        bars = (Bar(SCALE / 2 - a, a, "solid"), Bar(SCALE / 2, b, "half"))
    if x.group == "day":
        ratings = (x.parts[0].a, x.parts[0].b)
        texts = [
            f"{au}, rated {r:.0f}" if r is not None else "rest" for au, r in zip(texts, ratings, strict=True)
        ]
    elif x.group == "pattern":
        differing = (f"{d.term[:3]} {d.a:.0f} : {d.b:.0f}" for d in x.parts if not d.same)
        note = ", ".join(said.replace(" ", "\N{NO-BREAK SPACE}") for said in differing)
    return Row((Bit(texts[0]),), (Bit(texts[1]),), apart, x.term, note, bars=bars)


def _listing(x: Listing) -> Row:
    between = " / " if x.noun == "set" else ", "
    a, b = (between.join(y for y in one if y not in other) for one, other in ((x.a, x.b), (x.b, x.a)))
    last = notation.count(len(x.b), x.noun)
    return Row(
        a=(Bit(a),) if a else (),
        b=(Bit(b),) if b else (),
        words="differs" if a or b else "",
        term=x.term,
        note=last if len(x.a) == len(x.b) else f"{len(x.a)} against {last}",
        both=between.join(y for y in x.a if y in x.b),
    )


def _rule(rule: Difference[RuleResult]) -> Row:
    sides = [side for side in (rule.a, rule.b) if side]
    levels = (f"weight {side.weight}" if side.level == "weight" else side.level for side in sides)
    cost, measure = (abs(getattr(rule.a, f, 0) - getattr(rule.b, f, 0)) for f in ("cost", "measure"))
    apart = (
        notation.count(cost, "point")
        if cost
        else notation.amount(measure, rule.known.unit)
        if measure
        else ""
    )
    a, b = (_rule_side(side, rule.words) for side in (rule.a, rule.b))
    return Row(
        a=a,
        b=b,
        words=apart or ("not in both" if rule.alone else notation.listed(rule.words)),
        term=rule.key if "wording" in rule.words else notation.sentence(rule.known.statement),
        note=f"{rule.key}, {' / '.join(sorted(set(levels)))}",
    )


def _rule_side(side: RuleResult | None, differs: Sequence[str]) -> tuple[Bit, ...]:
    if side is None:
        return (Bit("not a rule here", "name"),)
    kept = "nothing" if side.level == "watch" else "holds"
    measure = notation.amount(side.measure, side.unit) if side.measure else kept
    cost = f", {notation.count(side.cost, 'point')}" if side.level == "weight" else ""
    hidden = len(side.places) - PLACES_SHOWN
    told = (
        side.statement if "wording" in differs else "",
        f"because {side.because}" if "reason" in differs else "",
        *(place.said for place in side.places[:PLACES_SHOWN]),
        f"and {hidden} more" if hidden > 0 else "",
    )
    return Bit(f"{measure}{cost}", "name"), *(Bit(notation.sentence(text)) for text in told if text)
