"""Two candidates side by side as one HTML file: what is the same is quiet, what differs is marked.

The terminal draws the same rows.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from planner.domain.comparison import Comparison, Figure, Listing, gym_floors
from planner.domain.difference import Difference
from planner.domain.week import RuleResult
from planner.domain.words import listed
from planner.render import notation
from planner.render.compare_rows import Bit, Block, Days, Row
from planner.render.page import Frame, frame, render
from planner.render.pictures import SCALE, Bar

PLACES_SHOWN = 3
"""More places of one rule would hide the next rule."""


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
    view = Days(names, gym_floors(week), {kit.key: kit.known.name for kit in week.parts["kits"]})
    tables: dict[str, tuple[Row, ...]] = defaultdict(tuple)
    for x in comparison.figures:
        most = max(max(y.a or 0, y.b or 0) for y in comparison.figures if y.group == x.group)
        tables[x.group] += (_figure(x, most),)
    for things in comparison.lists:
        tables[things.group] += (_listing(things),)
    tables["rules"] = tuple(_rule(rule) for rule in comparison.rules)
    tables["made_for"] = tuple(view.made_for(week))
    since = listed(notation.iso_week(name) for name in comparison.against)
    return ComparePage(
        frame=frame(week.known, " beside ".join(names)),
        a=names[0],
        b=names[1],
        summary=comparison.summary,
        days=tuple(view.day(day) for day in week.parts["sessions"]),
        tables=tables,
        new_said=f"Not on the gym floor in {since}." if since else "",
    )


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
        words=apart or ("not in both" if rule.alone else listed(rule.words)),
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
