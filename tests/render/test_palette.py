"""The colours: the formula against published values, then every pair in use."""

from __future__ import annotations

import re

import pytest

from planner import paths
from planner.render.palette import DARK, LIGHT, PAIRS, SCHEMES, contrast, declarations, luminance

# Source: WCAG 2.2, definitions of contrast ratio and relative luminance; the rows are published examples
# that were confirmed by hand: foreground, background, luminances, contrast.
CONFIRMED = (
    ("#000000", "#FFFFFF", 0.0, 1.0, 21.0),
    ("#0000FF", "#FFFFFF", 0.0722, 1.0, 8.5925),
    ("#0000FF", "#FF0000", 0.0722, 0.2126, 2.1489),
    ("#E5E5E5", "#AABB00", 0.783538, 0.440867, 1.6981),
    ("#FF8100", "#64003A", 0.369605, 0.030148, 5.2354),
)


@pytest.mark.parametrize(("front", "back", "lum_front", "lum_back", "ratio"), CONFIRMED)
def test_the_formula_gives_the_published_values(front, back, lum_front, lum_back, ratio):
    assert luminance(front) == pytest.approx(lum_front, abs=1e-6)
    assert luminance(back) == pytest.approx(lum_back, abs=1e-6)
    assert contrast(front, back) == contrast(back, front) == pytest.approx(ratio, abs=5e-5)


@pytest.mark.parametrize("scheme", SCHEMES)
@pytest.mark.parametrize("pair", PAIRS, ids=lambda pair: f"{pair.front}-on-{pair.back}")
def test_every_pair_can_be_read(scheme, pair):
    colours = SCHEMES[scheme]

    assert contrast(colours[pair.front], colours[pair.back]) >= pair.least


def test_both_schemes_name_the_same_colours():
    assert list(LIGHT) == list(DARK)


def test_a_colour_written_otherwise_is_refused():
    with pytest.raises(ValueError, match="#RRGGBB"):
        luminance("green")


def test_no_template_writes_a_colour_and_every_name_exists():
    named = set(re.findall(r"--([a-z-]+):", declarations("light"))) - {"scheme"}
    for file in paths.home().templates.rglob("*.[hc]*"):
        text = file.read_text(encoding="utf-8")
        assert not re.search(r"[:\s]#[0-9a-fA-F]{3,8}\s*[;}\"]|rgba?\(|hsl", text), file
        if file.name == "week.css":
            used = set(re.findall(r"var\(--([a-z-]+)\)", text)) - {"face", "gap", "rows"}
            assert used <= named
