"""Two candidates on one page: marks in words, nothing from outside, and in a real browser."""

from __future__ import annotations

import io
import re
from typing import Any

import pytest
from rich.console import Console

from planner.cli.tables.compare import compare_text
from planner.domain.comparison import Comparison
from planner.domain.difference import Difference
from planner.domain.week import Week
from planner.render.compare_page import compare_html, compare_page
from planner.render.palette import AA_TEXT
from planner.weeks.compare import compare
from tests.weeks.two_weeks import BASE, changed, heavier, with_line, with_piece

from .reading import FACE
from .test_in_browser import ARGS, CHROMIUM, CONTRAST, OVERFLOW

needs_chromium = pytest.mark.skipif(CHROMIUM is None, reason="no Chromium is installed")

SQUAT = next(p for p in BASE.sessions[0].pieces if p.kind == "strength").versions["gym_floor"].lines[0]


def pair() -> Comparison:
    """One line heavier, one kit's dose changed, two days exchanged, one day gone, rules and past."""
    other = with_line(BASE, 0, "strength", loads=heavier(SQUAT))
    other = with_line(other, 1, "conditioning", "no_kit", dose=changed(SQUAT.dose, value=9, text="9 reps"))
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
    assert not re.search(r"<script|<link|https?://|url\(|@import| on\w+=", FACE.sub("", html))
    assert "Least &lt;set-up&gt;" in html
    assert "<set-up>" not in html
    assert "prefers-color-scheme:dark" in html


def differing(found: Comparison) -> list[Difference[Any]]:
    """Lines, gym floor or not, that differ."""
    return [
        line for day in found.week.parts["sessions"] for piece in day.parts["pieces"]
        for version in piece.parts["versions"] for line in version.parts["lines"] if not line.same
    ]  # fmt: skip


def rows_of(html: str) -> list[tuple[str, str]]:
    """Each row of the days: how it is marked, and the words between its sides."""
    found = re.findall(r'class="row (is-same|is-diff)">.*?<p class="mid">(.*?)</p>', html, re.DOTALL)
    return [(kind, " ".join(re.sub(r"<[^>]+>|\s+", " ", said).split())) for kind, said in found]


def test_every_difference_has_a_word_and_nothing_else_has(found: Comparison, html: str) -> None:
    rows = rows_of(html)
    marked = [said for kind, said in rows if kind == "is-diff"]

    assert len(differing(found)) > 3
    for line in differing(found):
        said = "only in " if line.alone else line.words[0]
        assert any(said in row for row in marked)
    assert len(marked) >= len(differing(found))
    assert all(re.fullmatch(r"differs: .+", said) for said in marked)
    assert all(said == "the same" for kind, said in rows if kind == "is-same")
    assert html.count('<svg class="glyph"') >= len(rows)


def spoken_of(comparison: Comparison) -> str:
    console = Console(width=120, record=True, color_system=None, file=io.StringIO())
    console.print(compare_text(comparison))
    return console.export_text()


DRILLS = BASE.sessions[0].pieces[0].drills
OTHER_PLATES = (changed(SQUAT.loads[0], per_side_kg=(25.0, 12.5)), SQUAT.loads[1])


@pytest.mark.parametrize(
    ("other", "word", "before", "after"),
    [
        (with_piece(BASE, 0, "conditioning", shape="relay_3"), "format", "16-12-8 for time", "relay 3"),
        (with_piece(BASE, 0, "conditioning", cap_minutes=None), "cap", "cap 9 min", "no cap"),
        (with_piece(BASE, 0, "warm_up", drills=DRILLS[1:]), "drills", DRILLS[0].name, "5 drills"),
        (with_line(BASE, 0, "strength", loads=heavier(SQUAT)), "load", "95 / 62.5 kg", "100 / 67.5 kg"),
        (with_line(BASE, 0, "strength", loads=OTHER_PLATES), "plates", "20, 15, 2.5", "25, 12.5"),
        (with_line(BASE, 0, "strength", rest_s=45), "scheme", "rest 2 min 30 s", "rest 45 s"),
        (with_line(BASE, 0, "strength", start="from blocks"), "set-up", "from the rack", "from blocks"),
        (with_line(BASE, 0, "strength", cautions=("Slowly.",)), "notes", "Back squat", "Slowly."),
        (with_line(BASE, 0, "strength", "no_kit", movement="pistol", name="Pistol"), "movement", "Air squat",
         "Pistol"),
    ],
)  # fmt: skip
def test_a_change_alone_is_marked_once_with_both_sides(
    other: Week, word: str, before: str, after: str
) -> None:
    found = compare(BASE, other)
    html = compare_html(found)
    days = html[html.index('class="day"') :]
    flat = re.sub(r"<[^>]+>|\s+", " ", days)

    assert [said for kind, said in rows_of(html) if kind == "is-diff"] == [f"differs: {word}"]
    assert before in flat
    assert after in flat
    assert len(re.findall(r'<span class="\w+ d">', days)) in {1, 2}
    said = spoken_of(found)
    assert "1 of 4 parts differs" in re.sub(r"\s+", " ", said)
    assert word in said or "1 of 1 line differs" in said


def test_what_one_week_alone_has_is_said_of_that_week() -> None:
    found = compare(BASE, changed(BASE, sessions=BASE.sessions[1:]), ("Ours", "Theirs"))
    html, said = compare_html(found), spoken_of(found)
    monday = html[html.index('id="mon"') : html.index('id="tue"')]

    assert monday.count("only in Ours") > 3
    assert "only in Theirs" not in monday
    assert "only in Ours" in said[: said.index("Tuesday  ")]
    assert monday.index("short and sharp after") < monday.index("No class")


def test_a_rule_says_for_each_week_whether_it_holds_and_what_it_cost() -> None:
    broken = tuple(
        changed(rule, measure=2, cost=2 * rule.weight) if rule.id in {"racks", "midweek-easy"} else rule
        for rule in BASE.rules
    )
    rows = {row.note: row for row in compare_page(compare(BASE, changed(BASE, rules=broken))).tables["rules"]}

    assert {note: (row.a[0].text, row.b[0].text, row.words) for note, row in rows.items()} == {
        "racks, must": ("holds", "2 racks", "2 racks"),
        "midweek-easy, weight 10": ("holds, 0 points", "2 days, 20 points", "20 points"),
    }


def test_a_rule_that_is_another_is_shown_though_it_did_the_same() -> None:
    stricter = tuple(
        changed(rule, level="weight", weight=3) if rule.id == "racks" else rule for rule in BASE.rules
    )
    found = compare(BASE, changed(BASE, rules=stricter))

    assert "racks, must / weight 3" in compare_html(found)
    assert "racks, must / weight 3" in spoken_of(found)


def test_what_the_weeks_were_made_for_is_shown_where_it_differs() -> None:
    kits = (
        *BASE.kits[:2],
        changed(BASE.kits[2], contains="two bricks"),
        changed(BASE.kits[3], id="bag", name="Bag"),
    )
    found = compare(BASE, changed(BASE, kits=kits, class_size=9))

    for said in (compare_html(found), spoken_of(found)):
        assert "two bricks" in said
        assert "class size" in said
        assert "only in B" in said
        assert "only in A" in said
    assert "made-for" not in compare_html(compare(BASE, BASE))


def test_the_page_shows_every_figure_and_rule(found: Comparison, html: str) -> None:
    for sentence in found.summary:
        assert sentence.replace("<", "&lt;").replace(">", "&gt;") in html
    for rule in found.rules:
        assert f"{rule.key}, " in html
    for x in found.figures:
        assert x.term in html
        if x.group == "day":
            assert f"{x.a:,.0f}, rated {x.parts[0].a:.0f}" in html
    for day in found.week.parts["sessions"]:
        assert f'id="{day.key}"' in html


def test_a_week_with_itself_is_quiet_all_over() -> None:
    html = compare_html(compare(BASE, BASE))

    assert not re.search(r'class="(row |[^"]* )?is-diff', html)
    assert ' d">' not in html
    assert "Every rule is the same, and did the same, in both." in html
    assert "No earlier week is known" in html


def test_ids_are_met_once_and_links_lead_somewhere(html: str) -> None:
    ids = re.findall(r' id="([^"]+)"', html)

    assert len(ids) == len(set(ids))
    assert {*re.findall(r'href="#([^"]+)"', html)} <= set(ids)


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
    for rule in found.rules:
        assert rule.key in said


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

    shut = "[...document.querySelectorAll('details > :is(ol, section)')].filter(e => !e.offsetHeight).length"
    assert page.evaluate(shut) == 0
    pages = len(re.findall(rb"/Type\s*/Page\b", page.pdf(format="A4", prefer_css_page_size=True)))
    assert 4 <= pages <= 26
    page.close()
