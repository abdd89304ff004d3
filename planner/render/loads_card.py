"""The loads card: what to put on the bar for the week's lifts, by 1RM."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from pathlib import Path

from planner.domain.catalogue import Catalogue
from planner.domain.gym import DAY_NAMES, DAYS, Gym
from planner.domain.week import Week
from planner.domain.words import capital, listed
from planner.prescribe.estimators import ESTIMATORS
from planner.prescribe.member_loads import (
    REPS_MAX_COLUMNS,
    WEAKEST,
    BarLoad,
    LiftCard,
    bars_of,
    estimate_table,
    week_cards,
)
from planner.render import notation
from planner.render.page import Frame, frame, render
from planner.render.sheet_kind import Page, SheetKind, SheetSource


@dataclass(frozen=True)
class CardCell:
    """A load on a bar and the plates on each side, or a word instead."""

    kg: str
    plates: tuple[str, ...]


@dataclass(frozen=True)
class CardRow:
    """A 1RM and its loads on each bar."""

    one_rm: str
    cells: tuple[CardCell, ...]


@dataclass(frozen=True)
class CardTable:
    """A lift: its days, scheme, percent, the lift whose 1RM the rows go by, and loads by 1RM."""

    anchor: str
    lift: str
    days: str
    scheme: str
    percent: str
    one_rm_of: str
    share: str
    rows: tuple[CardRow, ...]


@dataclass(frozen=True)
class EstimateRow:
    """A load lifted to failure, with the mean estimate and its spread for each number of reps."""

    kg: str
    cells: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class LoadsPage:
    """The card.

    Attributes:
        bars: "20 kg bar", heaviest first: the columns of each table.
        collars: a sentence about their mass; empty if they weigh nothing.
        reps: columns of the estimates.
        formulas: their names.
    """

    frame: Frame
    bars: tuple[str, ...]
    collars: str
    tables: tuple[CardTable, ...]
    reps: tuple[int, ...]
    estimates: tuple[EstimateRow, ...]
    formulas: str


def loads_card_html(week: Week, gym: Gym, catalogue: Catalogue, *, templates: Path | None = None) -> str:
    """Loads by 1RM for the week's main lifts, and 1RM from a rep max.

    Args:
        week: the solved week.
        gym: whose bars, plates and collars.
        catalogue: for the percent of the schemes.
        templates: folder of templates; the program's own if None.
    """
    tables = []
    for number, card in enumerate(week_cards(week, gym, catalogue)):
        tables.append(
            CardTable(
                anchor=f"lift-{number}",
                lift=capital(card.lift),
                days=listed(DAY_NAMES[day] for day in DAYS if day in card.days),
                scheme=notation.times(card.scheme),
                percent=_percent(card),
                one_rm_of=card.tested.of,
                share=_share(card),
                rows=tuple(
                    CardRow(notation.number(row.one_rm_kg), tuple(_cell(bar) for bar in row.bars))
                    for row in card.rows
                ),
            )
        )
    page = LoadsPage(
        frame=frame(week, "Loads"),
        bars=tuple(f"{notation.number(kg)} kg bar" for kg in bars_of(gym)),
        collars=f"Collars of {notation.number(gym.collars_kg)} kg a pair are counted in."
        if gym.collars_kg
        else "",
        tables=tuple(tables),
        reps=REPS_MAX_COLUMNS,
        estimates=tuple(
            EstimateRow(
                notation.number(kg),
                tuple((f"{mean:.0f}", f"{low:.0f}\N{EN DASH}{high:.0f}") for low, mean, high in spreads),
            )
            for kg, spreads in estimate_table()
        ),
        formulas=listed("O'Conner" if name == "OConner" else name for name in ESTIMATORS),
    )
    return render("pages/loads.html", page, templates)


def _pages(source: SheetSource) -> list[Page]:
    assert source.gym is not None
    assert source.catalogue is not None
    html = partial(loads_card_html, source.week, source.gym, source.catalogue)
    return [Page("loads", "The week's lifts", html)]


KIND = SheetKind(
    name="loads",
    heading="Loads",
    about="What to put on the bar by your own 1RM.",
    files=_pages,
    needs_gym="a loads card needs the gym's bars and plates",
)


def _percent(card: LiftCard) -> str:
    """What the scheme asks for: of each set where they differ."""
    if len(set(card.percents)) == 1:
        return f"{notation.number(card.percent)} % of its 1RM"
    each = listed(notation.number(percent) for percent in card.percents)
    return f"sets at {each} % of its 1RM; the loads below are for the heaviest"


def _share(card: LiftCard) -> str:
    """Whose 1RM is meant, where a member could mean another."""
    tested = card.tested
    if tested.of == WEAKEST:
        return f"By your 1RM of {WEAKEST}."
    if not tested.other:
        return ""
    if tested.of == card.lift:
        return f"By the 1RM of {tested.of} itself, not of {tested.other}."
    return f"By your 1RM of {tested.of}; {card.lift} is trained as {tested.percent} % of it."


def _cell(bar: BarLoad) -> CardCell:
    if bar.too_heavy:
        return CardCell("\N{EN DASH}", ("less than the bar",))
    plates = tuple(notation.number(kg) for kg in bar.per_side_kg)
    return CardCell(notation.number(bar.kg), plates or ("empty bar",))
