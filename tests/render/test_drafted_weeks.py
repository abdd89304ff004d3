"""Sheets of fifty weeks that were really drafted: whole, and each on its pages."""

from __future__ import annotations

import re
from functools import cache

import pytest

from planner import draft, paths
from planner.domain.week import Week
from planner.render.brief import brief_html, brief_page
from planner.render.html import week_html
from planner.render.loads_card import loads_card_html
from planner.render.member import member_html
from planner.render.wall import wall_html, wall_page
from planner.render.wall_layout import FAR_MM, REM_MM

from .reading import CHROMIUM, OVERFLOW, Sheet, assert_stands_alone, chromium, printed_pages
from .test_brief import READ_PT, assert_briefs_whole
from .test_in_browser import OVERFLOW as WEEK_OVERFLOW
from .test_member import assert_members_whole
from .test_sheets import _known
from .test_wall import assert_walls_whole
from .test_week_html import parse

SEEDS = range(1, 51)
SECONDS = 2.5
"""A small budget: sheets do not care how good a week is."""
pytestmark = [pytest.mark.slow, pytest.mark.fifty]


@cache
def drafted(seed: int) -> Week:
    return draft(paths.home().shared / "gyms" / "demo", week="2026-W49", seed=seed, seconds=SECONDS)


@pytest.mark.parametrize("seed", SEEDS)
def test_no_dose_load_standard_or_easier_option_is_missing(seed):
    week = drafted(seed)
    assert_members_whole(week)
    assert_walls_whole(week)
    assert_briefs_whole(week)
    html = week_html(week)
    read = parse(html)
    lines = [x for s in week.sessions for p in s.pieces for v in p.versions.values() for x in v.lines]
    for kind in ("name", "dose", "standard"):
        assert len([text for text in read.texts[kind] if text]) == len(lines)
    assert all(line.dose.text and line.standard and line.easier for line in lines)
    loads = loads_card_html(week, **_known())
    assert_stands_alone(loads)
    assert Sheet(loads).texts("kg")


@pytest.mark.skipif(CHROMIUM is None, reason="no Chromium is installed")
@pytest.mark.parametrize("seed", SEEDS)
def test_every_sheet_keeps_to_its_pages_and_nothing_runs_off_the_side(seed):
    week = drafted(seed)
    with chromium() as browser:
        page = browser.new_page(viewport={"width": 360, "height": 900})
        for session in week.sessions:
            wall = wall_page(week, session, "A3").sheets
            assert printed_pages(page, wall_html(week, session.day)) == len(wall)
            assert page.evaluate(OVERFLOW) == []
            assert all(sheet.big_rem * REM_MM >= FAR_MM - 0.01 for sheet in wall)
            assert printed_pages(page, brief_html(week, session.day)) == 1
            assert page.evaluate(OVERFLOW) == []
            assert brief_page(week, session).size_pt >= READ_PT - 0.5
        for kit in week.kits:
            page.set_content(member_html(week, kit.id))
            assert page.evaluate(OVERFLOW) == []
        page.set_content(week_html(week))
        assert page.evaluate(WEEK_OVERFLOW) == {"page": 0, "parts": []}
        pages = len(re.findall(rb"/Type\s*/Page\b", page.pdf(prefer_css_page_size=True)))
        assert len(week.sessions) + 2 <= pages <= 3 * len(week.sessions) + 10
