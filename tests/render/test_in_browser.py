"""The week's file in a real browser: nothing runs off the side, everything can be read, and it prints."""

from __future__ import annotations

import re
import shutil

import pytest

from planner.domain.week import Week
from planner.render.html import week_html
from planner.render.palette import AA_TEXT

from .sample_week import sample_dict, sample_week

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="no Chromium is installed")
ARGS = ["--no-sandbox", "--disable-gpu", "--disable-background-networking"]

# Contrast of every text node as computed, against the nearest opaque background above it.
CONTRAST = """
() => {
  const parse = c => c.match(/[\\d.]+/g).map(Number);
  const lin = v => (v /= 255) <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
  const lum = c => 0.2126 * lin(c[0]) + 0.7152 * lin(c[1]) + 0.0722 * lin(c[2]);
  const seen = {};
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  let texts = 0;
  while (walk.nextNode()) {
    const node = walk.currentNode;
    if (!node.textContent.trim()) continue;
    texts += 1;
    const style = getComputedStyle(node.parentElement);
    const front = parse(style.color);
    let up = node.parentElement, back = null;
    for (; up; up = up.parentElement) {
      const b = parse(getComputedStyle(up).backgroundColor);
      if (b.length < 4 || b[3] === 1) { back = b; break; }
    }
    const [hi, lo] = [lum(front), lum(back)].sort((a, b) => b - a);
    const key = style.color + ' on ' + back.slice(0, 3).join(',');
    seen[key] = (hi + 0.05) / (lo + 0.05);
  }
  return {texts, seen};
}
"""
OVERFLOW = """
() => {
  const wide = document.documentElement.clientWidth;
  const off = e => e.closest('.off, .skip') || getComputedStyle(e).position === 'absolute';
  return {
    page: document.documentElement.scrollWidth - wide,
    parts: [...document.body.querySelectorAll('*')]
      .filter(e => !off(e) && e.getBoundingClientRect().right > wide + 0.5)
      .map(e => e.tagName + '.' + e.getAttribute('class')).slice(0, 5),
  };
}
"""


@pytest.fixture(scope="module")
def browser():
    from playwright.sync_api import sync_playwright

    with sync_playwright() as play:
        chromium = play.chromium.launch(executable_path=CHROMIUM, args=ARGS)
        yield chromium
        chromium.close()


@pytest.fixture(scope="module")
def html() -> str:
    return week_html(sample_week())


@pytest.fixture
def open_page(browser, html):
    pages = []

    def opened(width: int = 1280, scheme: str = "light"):
        page = browser.new_page(viewport={"width": width, "height": 900}, color_scheme=scheme)
        pages.append(page)
        asked: list[str] = []
        page.on("request", lambda request: asked.append(request.url))
        page.set_content(html)
        assert asked == []
        return page

    yield opened
    for page in pages:
        page.close()


@pytest.mark.parametrize("width", [320, 360, 768, 1280])
def test_nothing_runs_off_the_side(open_page, width):
    page = open_page(width)
    page.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")

    assert page.evaluate(OVERFLOW) == {"page": 0, "parts": []}


@pytest.mark.parametrize("kits", [1, 2, 3])
@pytest.mark.parametrize("width", [360, 1280])
def test_long_words_and_fewer_kits_stay_on_the_page(browser, kits, width):
    data = sample_dict()
    data["kits"] = data["kits"][:kits]
    long = "Kniebeugenständerhalterungsverlängerung"
    data["gym"] = data["sessions"][0]["title"] = long
    for version in data["sessions"][0]["pieces"][1]["versions"].values():
        version["lines"][0].update(name=long)
        version["lines"][0]["dose"]["text"] = "10 wiederholungen each side, alternating"
    page = browser.new_page(viewport={"width": width, "height": 900})
    page.set_content(week_html(Week.model_validate(data)))

    assert page.evaluate(OVERFLOW) == {"page": 0, "parts": []}
    page.close()


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_every_text_can_be_read(open_page, scheme):
    page = open_page(1280, scheme)
    found = page.evaluate(CONTRAST)

    assert found["texts"] > 1000
    assert {pair: ratio for pair, ratio in found["seen"].items() if ratio < AA_TEXT} == {}
    paper = page.evaluate("getComputedStyle(document.body).backgroundColor")
    assert (paper == "rgb(255, 255, 255)") == (scheme == "light")


def test_one_version_can_be_read_alone(open_page):
    page = open_page()
    visible = (
        "[...document.querySelectorAll('.version')].filter(e => e.offsetHeight).map(e => e.classList[1])"
    )
    assert set(page.evaluate(visible)) == {"v0", "v1", "v2", "v3"}

    page.check("#kit-2")

    assert set(page.evaluate(visible)) == {"v2"}
    # Alone, it stands on its own: every standard is in the open, on screen and on paper.
    unread = "[...document.querySelectorAll('.v2 .standard')].filter(e => !e.getClientRects().length).length"
    assert page.evaluate(unread) == 0
    page.emulate_media(media="print")
    assert page.evaluate(unread) == 0
    assert set(page.evaluate(visible)) == {"v2"}


def test_the_first_key_press_offers_to_skip_and_focus_shows(open_page):
    page = open_page()
    page.keyboard.press("Tab")

    assert page.evaluate("document.activeElement.className") == "skip"
    assert page.evaluate("document.activeElement.getBoundingClientRect().top") >= 0
    page.keyboard.press("Tab")
    assert page.evaluate("getComputedStyle(document.activeElement).outlineWidth") == "3px"


def test_targets_are_large_enough_for_a_finger(open_page):
    """WCAG 2.2, 2.5.8: 24 by 24 CSS pixels, links inside sentences excepted."""
    page = open_page(360)
    heights = page.evaluate(
        "[...document.querySelectorAll('nav a, label, summary')].map(e => e.getBoundingClientRect().height)"
    )

    assert min(heights) >= 24


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_it_prints_with_everything_open(open_page, paper):
    page = open_page()
    pdf = page.pdf(format=paper, prefer_css_page_size=True)
    pages = len(re.findall(rb"/Type\s*/Page\b", pdf))
    days = len(sample_week().sessions)

    # A front page or two, at most three pages a day, a few for the report.
    assert days + 2 <= pages <= 3 * days + 6
    page.emulate_media(media="print")
    # Closed details have a box for their contents only if the style sheet opens them.
    shut = page.evaluate(
        "[...document.querySelectorAll('details:not(.same) > dl')].filter(e => !e.offsetHeight).length"
    )
    assert shut == 0


def test_each_day_starts_a_page(open_page):
    page = open_page()
    page.emulate_media(media="print")

    breaks = page.evaluate("[...document.querySelectorAll('.day')].map(e => getComputedStyle(e).breakBefore)")
    assert breaks == ["page"] * 6
