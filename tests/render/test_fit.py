"""Widths that pages are laid out by, against those that a browser and the PDF library give the same texts."""

from __future__ import annotations

import io

import pytest
from fontTools.ttLib import TTFont

from planner import paths
from planner.errors import DataError
from planner.render import face
from planner.render.fit import width_em
from planner.render.wall_layout import FAR_MM, SEEN_MM

from .reading import CHROMIUM, chromium
from .sample_week import sample_week

TEXTS = (
    "each side 20+10+2.5+1.25 / 20+1.25",
    "3 \N{MULTIPLICATION SIGN} 12 alternating",
    "102.5 / 67.5 kg",
    "Rounds, and reps of the unfinished round, with the load.",
    "Every minute on the minute, 12 minutes: 3 movements in turn",
    "To Wave AV. Tyre, Type; Yoke: P.A.",
    "Kniebeugenständerhalterungsverlängerung",
    "Zażółć gęślą jaźń, São Tomé, Łódź, Ţara, e\N{COMBINING ACUTE ACCENT}t",
    "half \N{VULGAR FRACTION ONE HALF}, 3\N{PRIME}, 5 \N{NOT EQUAL TO} 4, 1\N{EN DASH}2, \N{MINUS SIGN}7 %",
    "up \N{RIGHTWARDS ARROW} down \N{HORIZONTAL ELLIPSIS} \N{LEFT DOUBLE QUOTATION MARK}so",
    "20+\N{ZERO WIDTH SPACE}2.5",
)
SHEET = '<meta charset="utf-8"><style>{faces} body{{margin:0;font:10px "{family}"}}</style>'
WIDTHS = """
texts => {
  const span = document.createElement('span');
  span.style.cssText = 'white-space:pre;font-size:200px;position:absolute';
  document.body.append(span);
  return texts.map(([text, weight]) => {
    span.style.fontWeight = weight;
    span.textContent = text;
    return span.getBoundingClientRect().width / 200;
  });
}
"""


def _said() -> list[str]:
    """Words of a whole week, besides those that are hard to measure."""
    lines = [
        x for s in sample_week().sessions for p in s.pieces for v in p.versions.values() for x in v.lines
    ]
    return [*TEXTS, *dict.fromkeys(text for x in lines for text in (x.name, x.dose.text, x.standard))]


def _sheet() -> str:
    return SHEET.format(faces=face.style_rules(paths.home().templates), family=face.FAMILY)


@pytest.mark.skipif(CHROMIUM is None, reason="no Chromium is installed")
def test_texts_are_as_wide_as_a_browser_sets_them() -> None:
    asked = [(text, weight) for text in _said() for weight in (400, 700)]
    with chromium() as browser:
        page = browser.new_page()
        page.set_content(_sheet())
        page.evaluate("Promise.all([...document.fonts].map(face => face.load()))")
        assert page.evaluate("[...document.fonts].map(face => face.status)") == ["loaded", "loaded"]
        seen = page.evaluate(WIDTHS, asked)

    for (text, weight), wide in zip(asked, seen, strict=True):
        assert width_em(text, bold=weight == 700) == pytest.approx(wide, rel=0.004), (text, weight)


def test_texts_are_as_wide_as_in_a_pdf() -> None:
    pytest.importorskip(
        "weasyprint", reason="the extra pdf is not installed", exc_type=(ImportError, OSError)
    )
    from pypdf import PdfReader

    from planner.render.pdf import pdf_bytes

    # A stroke of the other weight behind each text says where it ends; each has a line to itself.
    texts = [text for text in _said() if "|" not in text]
    rows = "".join(f'<p style="margin:0;white-space:pre">{text}<b>|</b></p>' for text in texts)
    html = f"{_sheet()}<style>@page{{size:2000px 9000px;margin:0}}</style>{rows}"
    ends: list[float] = []

    def seen(text, ctm, matrix, _font, size):
        if "|" in text:
            ends.append(matrix[4] / size)

    (sheet,) = PdfReader(io.BytesIO(pdf_bytes(html))).pages
    sheet.extract_text(visitor_text=seen)

    assert len(ends) == len(texts)
    for text, end in zip(texts, ends, strict=True):
        assert width_em(text) == pytest.approx(end, rel=0.004), text


@pytest.mark.parametrize("bold", [False, True])
def test_letters_that_stand_close_are_measured_close(bold):
    for pair in ("To", "AV", "y.", "LT"):
        apart = sum(width_em(letter, bold=bold) for letter in pair)
        assert width_em(pair, bold=bold) < 0.99 * apart
    assert width_em("nn", bold=bold) == 2 * width_em("n", bold=bold)
    assert width_em("", bold=bold) == 0


def test_what_the_face_does_not_have_has_room_and_what_is_not_seen_has_none():
    assert width_em("\N{CJK UNIFIED IDEOGRAPH-6DF1}") == face.UNKNOWN
    assert width_em("a\N{ZERO WIDTH SPACE}b") == width_em("a") + width_em("b")
    assert width_em("A\N{COMBINING RING ABOVE}") == width_em("Å")


@pytest.mark.parametrize("name", face.FILES.values())
def test_the_face_is_what_its_note_says(name):
    folder = paths.home().templates / "font"
    font = TTFont(folder / name)
    names = {record.nameID: str(record) for record in font["name"].names}

    # The licence reserves the name that the family was published under.
    assert all(names[number].startswith("Planner") for number in (1, 4, 6))
    assert "SIL Open Font License" in names[13]
    assert "SIL OPEN FONT LICENSE Version 1.1" in (folder / "OFL.txt").read_text(encoding="utf-8")
    assert names[5].partition(";")[0] in (folder / "README.md").read_text(encoding="utf-8")
    assert font["OS/2"].sCapHeight / font["head"].unitsPerEm == face.CAPITAL
    assert FAR_MM * face.CAPITAL >= SEEN_MM


def test_sheets_use_no_letter_that_the_face_does_not_have():
    home = paths.home()
    files = [*home.templates.rglob("*.html"), *home.shared.rglob("*.yaml"), *home.constraints.rglob("*.yaml")]
    written = {
        letter for file in files for letter in file.read_text(encoding="utf-8") if letter.isprintable()
    }
    for name in face.FILES.values():
        known = TTFont(home.templates / "font" / name).getBestCmap()
        assert [letter for letter in sorted(written) if ord(letter) not in known] == []


def test_a_face_that_is_not_there_is_named(tmp_path):
    with pytest.raises(DataError, match=r"regular\.woff2 cannot be read"):
        face.style_rules(tmp_path)
