"""Two candidates on one page: marks in words, nothing from outside, and in a real browser."""

from __future__ import annotations

import io
import re

import pytest
from rich.console import Console

from planner.cli.tables.compare import compare_text
from planner.domain.comparison import Comparison
from planner.render.compare_page import compare_html
from planner.render.compare_words import ASPECT_WORDS
from planner.render.palette import AA_TEXT
from planner.weeks.compare import compare
from tests.weeks.two_weeks import BASE, changed, heavier, with_line

from .test_in_browser import ARGS, CHROMIUM, CONTRAST, OVERFLOW

needs_chromium = pytest.mark.skipif(CHROMIUM is None, reason="no Chromium is installed")


def pair() -> Comparison:
    """One line heavier, one kit's dose changed, two days exchanged, one day gone, rules and past."""
    line = next(p for p in BASE.sessions[0].pieces if p.kind == "strength").versions["gym_floor"].lines[0]
    other = with_line(BASE, 0, "strength", loads=heavier(line))
    other = with_line(other, 1, "conditioning", "no_kit", dose=changed(line.dose, value=9, text="9 reps"))
    tue, wed, thu, fri = other.sessions[1:5]
    wed, thu = changed(thu, day="wed"), changed(wed, day="thu")
    rules = tuple(changed(rule, measure=2, cost=2 * rule.weight) for rule in other.rules)
    other = changed(other, sessions=(other.sessions[0], tue, wed, thu, fri), rules=rules)
    past = changed(BASE, week="2025-W48", sessions=BASE.sessions[:2])
    return compare(BASE, other, ("A", "Least <set-up>"), (past,))


@pytest.fixture(scope="module")
def found() -> Comparison:
    return pair()


@pytest.fixture(scope="module")
def html(found: Comparison) -> str:
    return compare_html(found)


def test_nothing_comes_from_outside(html: str) -> None:
    assert "default-src 'none'" in html
    assert not re.search(r"<script|<link|https?://|url\(|@import| on\w+=", html)
    assert "Least &lt;set-up&gt;" in html
    assert "<set-up>" not in html
    assert "prefers-color-scheme:dark" in html


def test_every_difference_has_a_word_and_nothing_else_has(found: Comparison, html: str) -> None:
    cells = [c for d in found.days for p in d.pieces for v in p.versions for c in v.cells]
    rows = re.findall(r'<li class="row (is-same|is-diff)">.*?<p class="mid">(.*?)</p>', html, re.DOTALL)
    words = [re.sub(r"<[^>]+>|\s+", " ", said).split() for kind, said in rows if kind == "is-diff"]

    assert sum(bool(cell.differs) for cell in cells) <= len(words)
    assert all(said[0] == "differs:" and len(said) > 1 for said in words)
    assert all("differs" not in said for kind, said in rows if kind == "is-same")
    assert all("the same" in said for kind, said in rows if kind == "is-same")
    assert html.count('<svg class="glyph"') >= len(rows)


def test_the_page_shows_every_figure_and_rule(found: Comparison, html: str) -> None:
    for sentence in found.summary:
        assert sentence.replace("<", "&lt;").replace(">", "&gt;") in html
    for rule in found.figures.rules:
        assert f"{rule.id}, " in html
    for load in found.figures.load.days:
        assert f"{load.au.a:,}, rated {load.rating.a}" in html
    for day in found.days:
        assert f'id="{day.day}"' in html


def test_a_week_with_itself_is_quiet_all_over() -> None:
    html = compare_html(compare(BASE, BASE))

    assert not re.search(r'class="(row |[^"]* )?is-diff', html)
    assert 'class="d">' not in html.replace('<span class="d">differs</span>', "")
    assert "Every rule did the same in both." in html
    assert "No earlier week is known" in html


def test_ids_are_met_once_and_links_lead_somewhere(html: str) -> None:
    ids = re.findall(r' id="([^"]+)"', html)

    assert len(ids) == len(set(ids))
    assert {*re.findall(r'href="#([^"]+)"', html)} <= set(ids)


def test_every_aspect_has_words() -> None:
    from typing import get_args

    from planner.domain.comparison import Aspect

    assert set(ASPECT_WORDS) == set(get_args(Aspect))


@pytest.mark.parametrize("width", [80, 120])
def test_the_terminal_says_the_same(found: Comparison, width: int) -> None:
    console = Console(width=width, record=True, color_system=None, file=io.StringIO())
    console.print(compare_text(found))
    said = console.export_text()

    assert max(len(row) for row in said.splitlines()) <= width
    assert "Wednesday" in said
    assert "load" in said
    flat = re.sub(r"\s+", " ", said)
    assert all(sentence in flat for sentence in found.summary)
    for rule in found.figures.rules:
        assert rule.id in said


@pytest.fixture(scope="module")
def browser():
    if CHROMIUM is None:
        pytest.skip("no Chromium is installed")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as play:
        chromium = play.chromium.launch(executable_path=CHROMIUM, args=ARGS)
        yield chromium
        chromium.close()


@needs_chromium
def test_side_by_side_on_a_screen_stacked_on_a_phone_and_never_off_the_side(browser, html):
    page = browser.new_page()
    page.set_content(html)
    page.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
    for width in (320, 390, 768, 1280):
        page.set_viewport_size({"width": width, "height": 900})

        assert page.evaluate(OVERFLOW) == {"page": 0, "parts": []}, width
        boxes = page.evaluate(
            "[...document.querySelector('li.row.is-diff').querySelectorAll('.cell')]"
            ".map(e => [e.getBoundingClientRect().left, e.getBoundingClientRect().top])"
        )
        assert (boxes[0][0] == boxes[1][0]) == (width < 768)
        assert (boxes[0][1] < boxes[1][1]) == (width < 768)
    page.close()


@needs_chromium
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_what_is_quiet_can_still_be_read(browser, html, scheme):
    page = browser.new_page(color_scheme=scheme)
    page.set_content(html)
    seen = page.evaluate(CONTRAST)

    assert seen["texts"] > 300
    assert {two: ratio for two, ratio in seen["seen"].items() if ratio < AA_TEXT} == {}
    page.close()


@needs_chromium
def test_it_prints_with_everything_open(browser, html):
    page = browser.new_page()
    page.set_content(html)
    page.emulate_media(media="print")

    shut = "[...document.querySelectorAll('details > ol')].filter(e => !e.offsetHeight).length"
    assert page.evaluate(shut) == 0
    pages = len(re.findall(rb"/Type\s*/Page\b", page.pdf(format="A4", prefer_css_page_size=True)))
    assert 4 <= pages <= 26
    page.close()
