"""Every sheet as an accessibility checker sees it: axe-core, WCAG 2 A and AA and its own good practice."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from functools import partial
from pathlib import Path

import pytest

from planner.render.brief import brief_html
from planner.render.compare_page import compare_html
from planner.render.html import week_html
from planner.render.member import member_html
from planner.render.run_page import run_html
from planner.render.wall import wall_html
from planner.weeks.compare import compare
from planner.weeks.run import DayRun, run_week
from tests.prescribe.builders import catalogue, gym
from tests.prescribe.test_write_out import WEEK as ON_FLOOR
from tests.render.sample_week import sample_week

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="no Chromium is installed")

SAMPLE = sample_week()
WEEK = SAMPLE.model_copy(update={"sessions": SAMPLE.sessions[:2]})
"""Enough days to see every element and every colour."""
DAY = WEEK.sessions[0].day
OTHER = WEEK.model_copy(update={"sessions": tuple(reversed(WEEK.sessions))})
SHEETS = ("week", "wall", "brief", "brief and floor", "run", "compare", "member floor", "member least")
FAULTS = {"resultTypes": ["violations"]}
"""What is in order is not listed, element by element."""
OPTIONS = {"light": FAULTS, "dark": {**FAULTS, "runOnly": {"type": "tag", "values": ["cat.color"]}}}
"""All that the checker knows, once; what depends on the colours, in the dark as well."""


@pytest.fixture(scope="module")
def browser() -> Iterator[object]:
    from playwright.sync_api import sync_playwright

    with sync_playwright() as started:
        opened = started.chromium.launch(
            executable_path=CHROMIUM,
            args=["--no-sandbox", "--disable-gpu", "--disable-background-networking"],
        )
        yield opened
        opened.close()


def _runs() -> tuple[DayRun, ...]:
    return run_week(ON_FLOOR, catalogue(), gym())


def _html(sheet: str) -> str:
    made = {
        "week": partial(week_html, WEEK),
        "wall": partial(wall_html, WEEK, DAY),
        "brief": partial(brief_html, WEEK, DAY),
        "brief and floor": lambda: brief_html(ON_FLOOR, "wed", runs=_runs()[1].pieces),
        "run": lambda: run_html(ON_FLOOR, 12, [(d.day, d.pieces) for d in _runs()]),
        "compare": lambda: compare_html(compare(WEEK, OTHER)),
        "member floor": partial(member_html, WEEK, WEEK.kits[0].id),
        "member least": partial(member_html, WEEK, WEEK.kits[-1].id),
    }
    return made[sheet]()


@pytest.mark.slow
@pytest.mark.parametrize("scheme", OPTIONS)
@pytest.mark.parametrize("sheet", SHEETS)
def test_axe_finds_nothing(browser, sheet: str, scheme: str, tmp_path: Path) -> None:
    from axe_playwright_python.sync_playwright import Axe

    file = tmp_path / "sheet.html"
    file.write_text(_html(sheet), encoding="utf-8")
    page = browser.new_page(color_scheme=scheme)
    page.goto(file.as_uri())

    found = Axe().run(page, options=OPTIONS[scheme]).response["violations"]

    page.close()
    assert [(v["id"], v["nodes"][0]["target"]) for v in found] == []
