"""Widths that pages are laid out by, against a browser's own in the widest face."""

from __future__ import annotations

import pytest

from planner.render.fit import width_em

from .reading import CHROMIUM, chromium

TEXTS = (
    "each side 20+10+2.5+1.25 / 20+1.25",
    "3 \N{MULTIPLICATION SIGN} 12 alternating",
    "102.5 / 67.5 kg",
    "Rounds, and reps of the unfinished round, with the load.",
    "Every minute on the minute, 12 minutes: 3 movements in turn",
    "Dumbbell front-rack carry",
    "2 December, Week 49 of 2026. Hard day, effort 8 of 10.",
)
WIDTH = """
([text, weight]) => {
  document.body.innerHTML = '<span style="white-space:pre;font-size:100px"></span>';
  const span = document.body.firstChild;
  span.style.fontFamily = 'DejaVu Sans';
  span.style.fontVariantNumeric = 'tabular-nums lining-nums';
  span.style.fontWeight = weight;
  span.textContent = text;
  return span.getBoundingClientRect().width / 100;
}
"""
M_EM = 0.974
"""Advance of "m" in DejaVu Sans, as measured; tells whether the face is there."""


@pytest.mark.skipif(CHROMIUM is None, reason="no Chromium is installed")
def test_letters_are_as_wide_as_in_the_widest_face() -> None:
    with chromium() as browser:
        page = browser.new_page()
        if page.evaluate(WIDTH, ["m", 400]) != pytest.approx(M_EM, abs=0.002):
            pytest.skip("DejaVu Sans is not installed")
        for text in TEXTS:
            for weight, bold in ((400, False), (700, True)):
                wide = page.evaluate(WIDTH, [text, weight])
                assert 0.98 * wide <= width_em(text, bold=bold) <= 1.12 * wide, text
