"""The wall sheet: whole, one page, and large enough."""

from __future__ import annotations

import pytest

from planner.domain.clock import LABELS
from planner.domain.week import Week
from planner.domain.words import capital
from planner.errors import DataError
from planner.render import notation
from planner.render.contexts import Fact
from planner.render.fit import largest, line_count, width_em, wrapped
from planner.render.instead import instead, short_dose, short_line, short_load
from planner.render.page import session_of
from planner.render.wall import wall_html, wall_page
from planner.render.wall_layout import (
    FAR_MM,
    NEAR_MM,
    REM_MM,
    SEEN_MM,
    STANDS_OUT,
    WallLine,
    WallPiece,
    spread,
)

from .reading import CHROMIUM, OVERFLOW, Sheet, assert_stands_alone, chromium, printed_pages
from .sample_week import sample_dict, sample_week
from .varied_weeks import PRINTED, SEEDS, varied_week

# Height in mm of the capitals of each text that is not marked as read from near by, in the font in which the
# browser draws it, with the text itself.
CAPITALS = """
() => {
  const pen = document.createElement('canvas').getContext('2d');
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  const seen = [];
  while (walk.nextNode()) {
    const node = walk.currentNode, up = node.parentElement;
    if (!node.textContent.trim()) continue;
    const style = getComputedStyle(up);
    pen.font = `${style.fontStyle} ${style.fontWeight} ${style.fontSize} ${style.fontFamily}`;
    const high = pen.measureText('H').actualBoundingBoxAscent * 25.4 / 96;
    seen.push([high, up.className || up.tagName, node.textContent.trim(), !!up.closest('.near')]);
  }
  return seen;
}
"""


@pytest.mark.parametrize("seed", SEEDS)
def test_no_dose_load_cap_or_version_is_missing(seed):
    assert_walls_whole(varied_week(seed))


def assert_walls_whole(week: Week) -> None:
    """Every day's sheet has every dose, load, cap and version, and every caution."""
    floor = week.kits[0].id
    for session in week.sessions:
        html = wall_html(week, session.day)
        page = Sheet(html)
        assert_stands_alone(html)
        pieces = [piece for piece in session.pieces if piece.kind in LABELS]
        lines = [line for piece in pieces for line in piece.versions[floor].lines]

        assert page.texts("dose") == [short_dose(line) for line in lines]
        assert page.texts("name") == [capital(line.name) for line in lines]
        assert page.texts("load") == [short_load(line) for line in lines if line.loads]
        caps = [piece.cap_minutes for piece in pieces if piece.cap_minutes is not None]
        assert page.texts("cap") == [f"Cap {minutes} min" for minutes in caps]
        shown = wall_page(week, session, "A3").sheets
        kinds = [None] if len(shown) == 1 else [piece.kind for piece in pieces]
        for kind in kinds:
            for fact in instead(session, week, kind):
                assert f"{fact.term} {fact.value}" in page.text
        for text in session.cautions:
            assert notation.sentence(text) in page.text


@pytest.mark.parametrize("seed", SEEDS)
def test_each_version_is_told_what_differs_and_no_more(seed):
    week = varied_week(seed)
    floor = week.kits[0].id
    for session in week.sessions:
        for kit, fact in zip(week.kits[1:], instead(session, week), strict=True):
            for piece in session.pieces:
                if piece.kind not in LABELS:
                    continue
                known = {short_line(line) for line in piece.versions[floor].lines}
                for line in piece.versions[kit.id].lines:
                    assert (short_line(line) in fact.value) or short_line(line) in known


def test_a_load_names_its_implement_once():
    line = next(x for s in sample_week().sessions for p in s.pieces for v in p.versions.values()
                for x in v.lines if notation.loads(x.loads).endswith(" kg plate"))  # fmt: skip

    assert (
        short_load(line.model_copy(update={"name": "Plate squat"}))
        == notation.loads(line.loads)[: -len(" plate")]
    )
    assert short_load(line.model_copy(update={"name": "Lunge"})) == notation.loads(line.loads)


def test_the_smallest_letter_seen_at_four_metres_is_five_minutes_of_arc():
    assert round(SEEN_MM, 2) == 5.82


def _days():
    sample = sample_week()
    return [(sample, s) for s in sample.sessions] + [(w, w.sessions[-1]) for w in map(varied_week, PRINTED)]


@pytest.mark.skipif(CHROMIUM is None, reason="no Chromium is installed")
def test_every_sheet_is_exactly_one_page():
    jobs = [(week, session, "A3") for week, session in _days()]
    jobs += [(sample_week(), session, "A4") for session in sample_week().sessions]
    with chromium() as browser:
        page = browser.new_page()
        counts = [printed_pages(page, wall_html(week, s.day, paper=paper)) for week, s, paper in jobs]

    assert counts == [len(wall_page(week, session, "A3").sheets) for week, session, _ in jobs]


@pytest.mark.skipif(CHROMIUM is None, reason="no Chromium is installed")
def test_all_that_is_read_across_the_room_can_be_read_at_four_metres_in_the_browsers_own_fonts():
    with chromium() as browser:
        page = browser.new_page()
        page.emulate_media(media="print")
        for week, session in _days()[:18]:
            page.set_content(wall_html(week, session.day))
            seen = page.evaluate(CAPITALS)
            assert [text for height, _, text, near in seen if height < SEEN_MM and not near] == []
            # Movements, doses, loads and the cap stand out from the other versions by a third at least.
            kits = max((height for height, name, _, _ in seen if name == "DD"), default=0)
            main = [height for height, name, _, near in seen if name in {"dose", "name", "load", "cap"}]
            assert min(main) >= 1.33 * kits
            assert not kits or kits > 0.7 * SEEN_MM


def test_a_full_day_goes_on_a_second_sheet_rather_than_smaller():
    line = WallLine(
        "12 alternating", "Sandbag bear-hug squat from the floor", "40 / 20 kg sandbag", "", "rest 1 min"
    )
    kits = (Fact("One plate", "8 plate front squat (15 / 10 kg), " * 4),) * 3
    pieces = tuple(
        WallPiece(
            kind, kind, "3 rounds for time", (line,) * 6, "Cap 16 min", "Your time.", "All together.", kits
        )
        for kind in ("strength", "conditioning")
    )
    both = spread(("Wednesday", "Squat", "2 December."), pieces, kits, ("Land quietly.",))
    alone = spread(("Wednesday", "Squat", "2 December."), pieces[:1], (), ())

    assert len(alone) == 1
    assert len(both) > 1
    for sheet in (*both, *alone):
        kits_mm = 0 if not sheet.instead else NEAR_MM if sheet.near else FAR_MM
        assert sheet.big_rem * REM_MM >= max(FAR_MM, STANDS_OUT * kits_mm) - 0.01
        assert min(sheet.title_rem, sheet.rest_rem) * REM_MM >= FAR_MM - 0.01
    for number, sheet in enumerate(both, 1):
        assert sheet.part == f"Sheet {number} of {len(both)}, as one could not be read from 4 m"
    assert [p.kind for sheet in both for p, _ in sheet.pieces if p.lines] == ["strength", "conditioning"]
    assert [sheet.cautions for sheet in both if sheet.cautions] == [("Land quietly.",)]
    assert sum((sheet.instead for sheet in both), ()) == kits * 2


def test_a_day_of_the_usual_length_is_one_sheet_and_its_versions_are_set_smaller_before_another_is_taken():
    line = WallLine("12 alternating", "Walking lunge", "40 / 20 kg", "", "rest 1 min")
    few, many = ((Fact("One plate", "8 plate front squat (15 / 10 kg), " * n),) * 3 for n in (2, 6))

    def day(kits):
        pieces = tuple(
            WallPiece(
                kind,
                kind,
                "3 rounds for time",
                (line,) * n,
                "Cap 16 min",
                "Your time.",
                "All together.",
                kits,
            )
            for kind, n in (("strength", 1), ("conditioning", 4))
        )
        return spread(("Wednesday", "Lunge", "2 December."), pieces, kits, ("Land quietly.",))

    assert [(sheet.near, sheet.part) for sheet in day(few)] == [(False, "")]
    assert [(sheet.near, sheet.part) for sheet in day(many)] == [(True, "")]


@pytest.mark.skipif(CHROMIUM is None, reason="no Chromium is installed")
def test_a_word_of_any_length_and_many_lines_stay_on_the_page():
    data = sample_dict()
    for version in data["sessions"][5]["pieces"][1]["versions"].values():
        version["lines"] += version["lines"][:2] * 3
        version["lines"][0]["name"] = "Kniebeugenständerhalterungsverlängerung"
    week = Week.model_validate(data)
    with chromium() as browser:
        page = browser.new_page(viewport={"width": 1280, "height": 800})
        sheets = len(wall_page(week, week.sessions[5], "A3").sheets)
        assert printed_pages(page, wall_html(week, "sat")) == sheets
        assert page.evaluate(OVERFLOW) == []
        page.set_viewport_size({"width": 360, "height": 700})
        assert page.evaluate(OVERFLOW) == []


def test_a_day_without_a_class_is_named():
    with pytest.raises(DataError, match='no session on "sun"'):
        session_of(sample_week(), "sun")


def test_lines_are_counted_as_words_break():
    em = width_em("back squat")
    assert line_count("back squat", em) == 1
    assert line_count("back squat", em - 0.1) == 2
    assert line_count("", 10) == 1
    assert line_count("squat" * 10, width_em("squat" * 5)) == 2
    assert width_em("squat", bold=True) > width_em("squat")
    assert wrapped([3, 3, 3], 1, 7) == 2
    assert wrapped([], 1, 7) == 1


def test_the_largest_size_that_fits_is_found():
    assert largest(lambda size: size <= 1.5, 2.0, 1.0, 0.1) == pytest.approx(1.5)
    assert largest(lambda _: False, 2.0, 1.0) == 1.0
    assert largest(lambda _: True, 2.0, 1.0) == 2.0
