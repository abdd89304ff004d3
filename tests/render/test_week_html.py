"""The week's file as text: whole, escaped, self-contained."""

from __future__ import annotations

import dataclasses
import itertools
import re
from html.parser import HTMLParser

import pytest
from jinja2 import UndefinedError

from planner import paths
from planner.domain.gym import DAY_NAMES
from planner.domain.week import Week
from planner.render import contexts
from planner.render.brief import brief_html
from planner.render.html import environment, week_html
from planner.render.report_view import report_view
from planner.render.week_print import week_print_html

from .reading import FACE
from .sample_week import sample_dict, sample_week

VOID = {"meta", "input", "br", "link", "hr", "img"}
DRAWN = {"circle", "rect", "path"}


class Tree(HTMLParser):
    """Checks that tags close in order, and keeps what the tests ask about."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.classes: list[str] = []
        self.texts: dict[str, list[str]] = {"standard": [], "dose": [], "load": [], "name": []}

    def handle_starttag(self, tag, attrs):
        found = dict(attrs)
        assert len(found) == len(attrs), f"an attribute twice in {tag}"
        self.tags.append((tag, found))
        if tag not in VOID:
            self.open.append(tag)
            self.classes.append(found.get("class") or "")

    def handle_startendtag(self, tag, attrs):
        self.tags.append((tag, dict(attrs)))

    def handle_endtag(self, tag):
        assert self.open.pop() == tag
        self.classes.pop()

    def handle_data(self, data):
        for kind, texts in self.texts.items():
            if self.classes and self.classes[-1] == kind:
                texts.append(data.strip())


def parse(html: str) -> Tree:
    tree = Tree()
    tree.feed(html)
    tree.close()
    assert tree.open == []
    return tree


@pytest.fixture(scope="module")
def html() -> str:
    return week_html(sample_week())


def _lines(week: Week):
    return [
        line
        for session in week.sessions
        for piece in session.pieces
        for version in piece.versions.values()
        for line in version.lines
    ]


def test_the_file_parses_and_every_line_has_its_dose_and_standard(html):
    tree = parse(html)
    lines = _lines(sample_week())

    assert len([tag for tag, attrs in tree.tags if attrs.get("class") == "entry"]) == len(lines)
    assert [text for text in tree.texts["name"] if text] == [line.name for line in lines]
    assert len([text for text in tree.texts["dose"] if text]) == len(lines)
    standards = [text for text in tree.texts["standard"] if text]
    assert [s.casefold().rstrip(".") for s in standards] == [line.standard.casefold() for line in lines]
    loaded = [tag for tag, attrs in tree.tags if attrs.get("class") == "load"]
    assert len(loaded) == sum(1 for line in lines if line.loads)


def test_the_file_asks_nothing_of_the_network_and_runs_no_script(html):
    tree = parse(html)
    # One data block, which no browser runs; the name of its vocabulary is the only address in the file.
    assert [attrs for tag, attrs in tree.tags if tag == "script"] == [{"type": "application/ld+json"}]
    html = FACE.sub("", html.replace('"@context": "https://schema.org"', ""))

    assert not re.search(r"https?:|//[a-z]|@import|url\((?!#)", html)
    assert not {tag for tag, _ in tree.tags} & {"link", "img", "iframe", "object", "embed"}
    for _, attrs in tree.tags:
        assert not {name for name in attrs if name.startswith("on") or name in {"src", "action"}}
        assert (attrs.get("href") or "#").startswith("#")


def test_links_and_labels_lead_somewhere_and_ids_are_unique(html):
    tree = parse(html)
    ids = [attrs["id"] for _, attrs in tree.tags if "id" in attrs]

    assert len(ids) == len(set(ids))
    for _, attrs in tree.tags:
        if "href" in attrs:
            assert attrs["href"][1:] in ids
        if "aria-labelledby" in attrs:
            assert set(attrs["aria-labelledby"].split()) <= set(ids)


def test_the_file_can_be_found_around_in_by_ear(html):
    tree = parse(html)
    tags = [tag for tag, _ in tree.tags]
    levels = [int(tag[1]) for tag in tags if re.fullmatch(r"h[1-6]", tag)]

    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after <= before + 1 for before, after in itertools.pairwise(levels))
    for landmark in ("main", "nav", "footer", "header"):
        assert landmark in tags
    assert ("html", {"lang": "en"}) in tree.tags
    assert all(attrs.get("scope") for tag, attrs in tree.tags if tag == "th")
    for tag, attrs in tree.tags:
        if tag == "svg":
            assert attrs.get("aria-hidden") == "true" or (
                attrs.get("role") == "img" and attrs.get("aria-label")
            )
    assert tags.count("table") == tags.count("caption")


def test_everything_a_coach_looks_for_is_there(html):
    text = re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", html.split("</style>")[1]))

    for wanted in (
        "Week 49 of 2025",
        "1 to 7 December 2025",
        "an invented gym",
        "Not proved",
        "All 5 musts hold",
        "42.5 / 30 kg",
        "each side 10+1.25 / 5+2.5",
        "From the rack.",
        "79 % of 1RM",
        "build up: 5 at 60 / 40 kg",
        "not a forecast of injury",
        "Keep the bikes free on Saturday.",
        "CP-SAT 9.14",
        "9f2c" * 16,
        "Raise",
        "Potentiate",
        "3:30",
        "In the file",
        "in place of back squat",
        "Standard, as on the gym floor",
    ):
        assert wanted.casefold() in text.casefold(), wanted


NASTY = "<script>alert('x')</script>&\"'{{ 7*7 }}</style>"


def test_a_hostile_name_stays_text():
    data = sample_dict()
    data["gym"] = NASTY
    data["kits"] = [{**kit, "name": NASTY, "contains": NASTY} for kit in data["kits"]]
    data["sessions"][0]["title"] = NASTY
    data["rules"][0]["statement"] = NASTY
    version = data["sessions"][0]["pieces"][1]["versions"]["gym_floor"]
    version["lines"][0]["name"] = NASTY
    version["lines"][0]["standard"] = NASTY

    html = week_html(Week.model_validate(data))

    parse(html)
    assert re.findall("<script[^>]*>", html) == ['<script type="application/ld+json">']
    assert html.count("</style>") == 1
    assert "&lt;script&gt;" in html
    assert "49" not in re.findall(r"alert\(.x.\).{0,40}", html)


def test_a_field_that_a_template_misspells_is_an_error():
    env = environment(paths.home().templates)

    with pytest.raises(UndefinedError):
        env.from_string("{{ nothing_of_that_name }}").render()
    with pytest.raises(UndefinedError):
        env.from_string("{{ fact.valeu }}").render(fact=contexts.Fact("a", "b"))


def test_every_field_of_every_context_is_used_by_a_template():
    text = "\n".join(f.read_text(encoding="utf-8") for f in paths.home().templates.rglob("*.html"))
    unused = [
        f"{name}.{field.name}"
        for name, kind in vars(contexts).items()
        if dataclasses.is_dataclass(kind)
        for field in dataclasses.fields(kind)
        if not re.search(rf"\b{field.name}\b", text)
    ]

    assert unused == []


def test_a_proved_week_and_a_broken_one_say_so_in_the_first_line():
    data = sample_dict()
    for tier in data["proof"]["tiers"]:
        tier.update(status="proved", gap=0.0)
    assert "Proved best:" in week_html(Week.model_validate(data))

    data["rules"][0].update(measure=2, places=[{"place": "tue", "measure": 2, "sentence": "22 hours apart"}])
    html = week_html(Week.model_validate(data))
    assert "Does not hold:" in html
    assert "Musts that do not hold" in html
    assert "4 of 5 musts hold" in html


def test_an_overruled_rule_is_said_at_the_top_on_its_day_and_in_the_report():
    data = sample_dict()
    reason = "a competition on Saturday"
    data["rules"][0].update(
        measure=0,
        places=[
            {
                "place": "mon-tue",
                "measure": 0,
                "sentence": "Monday and Tuesday are both hard",
                "overruled": reason,
            }
        ],
    )
    week = Week.model_validate(data)
    html = week_html(week)
    text = re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", html.split("</style>")[1]))
    top, rest = text.split("The week at a glance", 1)

    parse(html)
    for part in (top, *(a.split("</article>")[0] for a in html.split('<article class="day"')[1:3]), rest):
        assert "A competition on Saturday." in part
        assert "Monday and Tuesday are both hard." in part
    wednesday = html.split('<article class="day"')[3].split("</article>")[0]
    assert "A competition" not in wednesday
    assert "1 rule overruled" in top
    verdicts = {r.anchor: r.verdict for group in report_view(week).groups for r in group.rules}
    assert verdicts[f"rule-{week.rules[0].id}"] == "overruled"
    assert f"Overruled: {reason}" in rest
    assert "A competition on Saturday." in brief_html(week, "tue")
    assert "A competition on Saturday." not in brief_html(week, "wed")
    assert "A competition on Saturday." in week_print_html(week)


def test_a_bare_week_still_renders():
    """One day, one kit, no strength, no history, nothing in the balance."""
    data = sample_dict()
    wednesday = data["sessions"][2]
    for piece in wednesday["pieces"]:
        piece["versions"] = {k: v for k, v in piece.get("versions", {}).items() if k == "gym_floor"} or {}
    data.update(sessions=[wednesday], kits=data["kits"][:1], rules=[], cautions=[])
    data["balance"].update(patterns={}, domains={}, modality={})
    data["load"].update(
        daily_au=[0] * 7, week_au=0, monotony=None, strain=None, last_weeks_au=[], change_percent=None
    )
    data["proof"]["tiers"] = []

    html = week_html(Week.model_validate(data))

    parse(html)
    assert html.count("No class") == 6


def test_the_same_week_gives_the_same_bytes(html):
    assert week_html(sample_week()) == html


def test_days_come_in_order(html):
    names = re.findall(r'<span class="when">(\w+)', html)

    assert names == [DAY_NAMES[session.day] for session in sample_week().sessions]
