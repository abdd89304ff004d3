"""All sheets at once: which files there are, PDF, the index, and the folder they are written to."""

from __future__ import annotations

import io
import itertools
import pickle
import re
from functools import lru_cache
from pathlib import Path

import pytest

from planner import paths
from planner.domain.week import Week
from planner.errors import DataError, Place
from planner.load.catalogue import load_catalogue
from planner.load.gym import load_gym
from planner.render import notation
from planner.render.instead import short_dose, short_load
from planner.render.palette import AA_TEXT, declarations
from planner.render.sheets import KINDS, sheets
from planner.render.wall import wall_html, wall_page
from planner.render.wall_layout import FAR_MM, REM_MM
from planner.weeks.sheets import write_sheets

from .reading import CHROMIUM, OVERFLOW, Sheet, assert_stands_alone, chromium, flat
from .sample_week import sample_week
from .test_in_browser import CONTRAST
from .varied_weeks import SEEDS, lines_of, varied_week


@lru_cache(maxsize=1)
def _known():
    catalogue = load_catalogue(paths.home().shared / "catalogue")
    return {"gym": load_gym(paths.home().shared / "gyms" / "demo", catalogue), "catalogue": catalogue}


def test_there_is_a_file_for_each_day_and_each_version():
    week = sample_week()
    files = sheets(week, "demo", **_known())
    days = [session.day for session in week.sessions]

    assert next(iter(files)) == "index.html"
    assert set(files) == {
        "index.html", "week.html", "week.json", "loads.html", "calendar.ics",
        *(f"wall-{day}.html" for day in days), *(f"brief-{day}.html" for day in days),
        *(f"member-{kit.id}.html" for kit in week.kits),
    }  # fmt: skip
    assert Week.model_validate_json(files["week.json"]) == week
    for name, content in files.items():
        if name.endswith(".html"):
            html = content.decode()
            if name == "index.html":
                Sheet(html)
            else:
                assert_stands_alone(html)


@pytest.mark.parametrize("seed", SEEDS)
def test_the_index_leads_to_every_file_and_nowhere_else(seed):
    files = sheets(varied_week(seed), "demo", only=tuple(KINDS)[1:4], **_known())
    page = Sheet(files["index.html"].decode())
    links = [attrs["href"] for tag, attrs in page.tags if tag == "a"]

    assert sorted(links) == sorted(set(files) - {"index.html"})


def test_the_same_week_gives_the_same_bytes():
    assert sheets(sample_week(), "demo", **_known()) == sheets(sample_week(), "demo", **_known())


@pytest.mark.parametrize("kind", KINDS)
def test_one_kind_alone(kind):
    files = sheets(sample_week(), "demo", only=iter([kind]), **_known())

    assert all(name.startswith((kind, "index")) for name in files)
    assert len(files) > 1


def test_what_cannot_be_made_is_said():
    with pytest.raises(DataError, match='no kind of sheet "walls"'):
        sheets(sample_week(), "demo", only=["walls"])
    with pytest.raises(DataError, match='no format "docx"'):
        sheets(sample_week(), "demo", formats=["docx"])
    with pytest.raises(DataError, match="bars and plates"):
        sheets(sample_week(), "demo", only=["loads"])
    assert "loads.html" not in sheets(sample_week(), "demo")


@pytest.mark.skipif(CHROMIUM is None, reason="no Chromium is installed")
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_every_text_of_every_kind_can_be_read_and_none_runs_off_the_side(scheme):
    files = sheets(sample_week(), "demo", only=tuple(KINDS)[1:5], **_known())
    names = ("index", "wall-mon", "brief-mon", "loads", "member-home_barbell")
    with chromium() as browser:
        for width in (360, 1280):
            page = browser.new_page(viewport={"width": width, "height": 900}, color_scheme=scheme)
            for name in names:
                page.set_content(files[f"{name}.html"].decode())
                seen = page.evaluate(CONTRAST)["seen"]
                assert {pair: ratio for pair, ratio in seen.items() if ratio < AA_TEXT} == {}, name
                assert page.evaluate(OVERFLOW) == [], name


def test_the_style_sheets_use_colours_that_have_names():
    named = set(re.findall(r"--([a-z-]+):", declarations("light")))
    for file in ("base.css", "sheets.css", "week_print.css"):
        text = (paths.home().templates / file).read_text(encoding="utf-8")
        assert set(re.findall(r"var\(--([a-z-]+)\)", text)) <= named | {"face", "gap", "far"}
        assert "background:var(--paper)" in text or "background:var(--tint)" in text


def test_headings_come_in_order_and_tables_have_names():
    files = sheets(sample_week(), "demo", only=tuple(KINDS)[1:5], **_known())
    for name, content in files.items():
        if not name.endswith(".html"):
            continue
        tags = [tag for tag, _ in Sheet(content.decode()).tags]
        levels = [int(tag[1]) for tag in tags if re.fullmatch(r"h[1-6]", tag)]
        assert levels.count(1) == 1, name
        assert all(after <= before + 1 for before, after in itertools.pairwise(levels)), name
        assert tags.count("table") == tags.count("caption"), name
        assert {"main", "header"} <= set(tags), name


MM_PER_POINT = 25.4 / 72


def _read_pdf(content: bytes) -> tuple[int, str, set[str]]:
    from pypdf import PdfReader

    reader = PdfReader(io.BytesIO(content))
    fonts = {
        str(font.get_object()["/BaseFont"])
        for page in reader.pages
        for font in page["/Resources"].get("/Font", {}).values()
    }
    return len(reader.pages), flat(" ".join(page.extract_text() for page in reader.pages)), fonts


def test_a_pdf_says_what_the_week_says_with_its_fonts_inside():
    pytest.importorskip(
        "weasyprint", reason="the extra pdf is not installed", exc_type=(ImportError, OSError)
    )
    week = varied_week(3)
    files = sheets(week, "demo", only=["wall", "brief", "loads"], formats=["pdf"], **_known())
    floor = week.kits[0].id

    for session in week.sessions:
        lines = [line for piece in session.pieces if piece.versions for line in piece.versions[floor].lines]
        for kind in ("wall", "brief"):
            pages, text, fonts = _read_pdf(files[f"{kind}-{session.day}.pdf"])
            assert pages == (1 if kind == "brief" else len(wall_page(week, session, "A3").sheets))
            # A subset of each font is in the file under a name of six letters and a plus.
            assert fonts
            assert all(re.match(r"/[A-Z]{6}\+", font) for font in fonts)
            joined = _letters(text)
            for line in lines:
                assert _letters(line.name) in joined
                assert _letters(short_dose(line)) in joined
                assert _letters(short_load(line)) in joined


@pytest.mark.parametrize("seed", [1, 3])
def test_the_walls_pdf_is_set_in_the_size_that_is_read_from_four_metres(seed):
    pytest.importorskip(
        "weasyprint", reason="the extra pdf is not installed", exc_type=(ImportError, OSError)
    )
    from pypdf import PdfReader

    from planner.render.pdf import pdf_bytes

    week = varied_week(seed)
    session = week.sessions[0]
    sheets_of_day = wall_page(week, session, "A3").sheets
    read = PdfReader(io.BytesIO(pdf_bytes(wall_html(week, session.day))))
    for page, sheet in zip(read.pages, sheets_of_day, strict=True):
        sizes: dict[str, float] = {}

        def seen(text, ctm, matrix, _font, size, sizes=sizes):
            sizes[_letters(text)] = size * abs(matrix[3] * ctm[3]) * MM_PER_POINT

        page.extract_text(visitor_text=seen)
        lines = [line for piece, _ in sheet.pieces for line in piece.lines]
        assert lines
        for line in lines:
            # A name that takes two lines is in two parts, and its load may be in one with it.
            first = _letters(line.name.split()[0])
            parts = [mm for text, mm in sizes.items() if text.startswith(first)]
            assert max(parts) == pytest.approx(sheet.big_rem * REM_MM, rel=0.01)
            assert sizes[_letters(line.dose)] == pytest.approx(sheet.big_rem * REM_MM, rel=0.01)
        for kit in sheet.instead:
            assert sizes[_letters(kit.term)] == pytest.approx(FAR_MM, rel=0.01)


def test_the_weeks_pdf_has_every_version_dose_load_and_standard_and_the_rule_report():
    pytest.importorskip(
        "weasyprint", reason="the extra pdf is not installed", exc_type=(ImportError, OSError)
    )
    sample = sample_week()
    week = sample.model_copy(update={"sessions": sample.sessions[:2]})
    files = sheets(week, "demo", only=["week"], formats=["pdf"])
    pages, text, fonts = _read_pdf(files["week.pdf"])
    joined = _letters(text)

    assert set(files) == {"index.html", "week.json", "week.pdf"}
    # A front of two pages at most, two or three a day, the report.
    assert 2 + 2 <= pages <= 2 + 3 * len(week.sessions) + 4
    assert fonts
    assert all(re.match(r"/[A-Z]{6}\+", font) for font in fonts)
    for kit in week.kits:
        assert _letters(kit.name) in joined
        for line in lines_of(week, kit.id):
            said = [line.name, notation.dose(line), notation.loads(line.loads), line.standard, line.too_heavy]
            said += [f"{option.name}: {option.how}" for option in line.easier]
            assert [text for text in said if _letters(text) not in joined] == []
    for rule in week.rules:
        assert _letters(rule.statement) in joined
        assert all(_letters(place.sentence) in joined for place in rule.places)
    for text in week.cautions:
        assert _letters(text) in joined


def test_pages_laid_out_in_two_processes_are_those_of_one():
    pytest.importorskip(
        "weasyprint", reason="the extra pdf is not installed", exc_type=(ImportError, OSError)
    )
    from planner.render.pdf_pool import printer

    pages = {name: f"<title>{name}</title><p>{name} squat" for name in ("wall", "brief", "week")}
    with printer(3, processes=2) as beside, printer(3, processes=1) as alone:
        apart = beside(pages)

        assert list(apart) == list(pages)
        assert apart == alone(pages)


def test_where_no_other_process_may_run_pages_are_laid_out_one_after_another(monkeypatch):
    pytest.importorskip(
        "weasyprint", reason="the extra pdf is not installed", exc_type=(ImportError, OSError)
    )
    from planner.render import pdf_pool

    def refused(*_):
        raise PermissionError("no semaphores here")

    monkeypatch.setattr(pdf_pool, "ProcessPoolExecutor", refused)

    with pdf_pool.printer(2, processes=2) as printed:
        assert all(pdf.startswith(b"%PDF") for pdf in printed({"a": "a", "b": "b"}).values())


def test_what_went_wrong_in_another_process_speaks_to_a_coach_still():
    said = DataError("PDF needs a library", Place(Path("a.yaml"), 3), "Install it.")
    heard = pickle.loads(pickle.dumps(said))  # noqa: S301  (one's own)

    assert str(heard) == str(said)
    assert (heard.what, heard.place, heard.advice) == (said.what, said.place, said.advice)


def test_a_members_pdf_has_every_name_and_dose():
    pytest.importorskip(
        "weasyprint", reason="the extra pdf is not installed", exc_type=(ImportError, OSError)
    )
    from planner.render.member import member_html
    from planner.render.pdf import pdf_bytes

    week = sample_week()
    _, text, _ = _read_pdf(pdf_bytes(member_html(week, "one_plate", "thu")))
    joined = _letters(text)
    thursday = week.model_copy(update={"sessions": (week.sessions[3],)})
    for line in lines_of(thursday, "one_plate"):
        for said in (line.name, notation.dose(line), line.standard, line.too_heavy):
            assert _letters(said) in joined


def _letters(text: str) -> str:
    """Without spaces and hyphens, which a page may break at."""
    return re.sub(r"[\s\N{SOFT HYPHEN}\N{HYPHEN}-]+", "", text).casefold()


def test_a_pdf_asks_for_nothing_from_outside():
    pytest.importorskip(
        "weasyprint", reason="the extra pdf is not installed", exc_type=(ImportError, OSError)
    )
    from planner.render.pdf import pdf_bytes

    with_picture = pdf_bytes('<p>squat <img src="file:///etc/hostname" alt="picture"></p>')
    assert "squat" in _read_pdf(with_picture)[1]
    assert b"/Image" not in with_picture


@pytest.fixture
def week_file(tmp_path: Path) -> Path:
    path = tmp_path / "week.json"
    path.write_text(sample_week().model_dump_json(), encoding="utf-8")
    return path


@pytest.fixture
def demo() -> Path:
    return paths.home().shared / "gyms" / "demo"


def test_a_folder_is_written_and_written_again(tmp_path, week_file, demo):
    to = tmp_path / "out"
    first = write_sheets(sample_week(), to, source=week_file, gym_folder=demo)
    contents = {path: path.read_bytes() for path in first}
    again = write_sheets(sample_week(), to, source=week_file, gym_folder=demo)

    assert first[0] == to / "index.html"
    assert sorted(first) == sorted(to.iterdir())
    assert {path: path.read_bytes() for path in again} == contents
    assert b"-demo@" in (to / "calendar.ics").read_bytes()


def test_one_day_has_its_own_sheets_of_every_version():
    files = sheets(sample_week(), "demo", day="tue", **_known())
    kits = [kit.id for kit in sample_week().kits]

    assert set(files) == {
        "index.html",
        "wall-tue.html",
        "brief-tue.html",
        *(f"member-{kit}-tue.html" for kit in kits),
    }
    assert b"Thursday" not in files[f"member-{kits[0]}-tue.html"]


def test_what_is_of_the_whole_week_is_not_of_a_day():
    with pytest.raises(DataError, match="calendar is of the whole week"):
        sheets(sample_week(), "demo", only=["wall", "calendar"], day="tue")
    with pytest.raises(DataError, match='no session on "sun"'):
        sheets(sample_week(), "demo", day="sun")


def test_a_fault_leaves_the_folder_as_it_was(tmp_path):
    to = tmp_path / "out"
    with pytest.raises(DataError, match="bars and plates"):
        write_sheets(sample_week(), to, only=["wall", "loads"])
    assert not to.exists()

    to.mkdir()
    (to / "brief-tue.html").mkdir()
    with pytest.raises(DataError, match="this is a folder"):
        write_sheets(sample_week(), to)
    assert [path.name for path in to.iterdir()] == ["brief-tue.html"]


def test_a_sheet_never_replaces_the_week_or_a_file(tmp_path, week_file):
    before = week_file.read_bytes()
    with pytest.raises(DataError, match="file that is read"):
        write_sheets(sample_week(), tmp_path, source=week_file)
    with pytest.raises(DataError, match="this is a file"):
        write_sheets(sample_week(), week_file)
    assert week_file.read_bytes() == before


def test_the_command_line_writes_sheets_and_says_loads(tmp_path, week_file, monkeypatch):
    from typer.testing import CliRunner

    from planner.cli import app

    monkeypatch.setenv("COLUMNS", "200")
    run = CliRunner()
    made = run.invoke(
        app, ["sheets", "demo", str(week_file), "--to", str(tmp_path / "a"), "--only", "wall,loads"]
    )
    assert made.exit_code == 0, made.output
    assert "Wrote 8 files" in made.output
    alone = run.invoke(app, ["sheets", str(week_file), "--to", str(tmp_path / "b")])
    assert alone.exit_code == 0, alone.output
    assert "no loads card" in alone.output
    missing = run.invoke(app, ["sheets", "demo"])
    assert missing.exit_code == 2
    assert "no week is named" in missing.output

    said = run.invoke(app, ["loads", "demo", "--lift", "bench press", "--one-rm", "85", "--scheme", "4x6"])
    assert said.exit_code == 0, said.output
    assert "65 kg" in said.output
    assert "20 + 2.5" in said.output
    assert "--of" not in said.output
    share = ["loads", "demo", "--lift", "pause front squat", "--scheme", "4x6", "--one-rm"]
    taken = run.invoke(app, [*share, "100"])
    assert taken.exit_code == 0, taken.output
    assert "67.5 kg" in taken.output
    assert "trained as 90 % of front squat" in taken.output
    assert 'If it is your pause front squat: --of "pause front squat"' in taken.output
    assert "75 kg" in run.invoke(app, [*share, "100", "--of", "pause front squat"]).output
    slip = run.invoke(app, [*share, "1000"])
    assert slip.exit_code == 2
    slip = run.invoke(app, [*share, "300"])
    assert slip.exit_code == 2
    assert "kg are usual" in slip.output
    assert run.invoke(app, [*share, "300", "--yes"]).exit_code == 0
    spread = run.invoke(
        app, ["loads", "demo", "--lift", "deadlift", "--reps-max", "5@100", "--scheme", "3x5", "--bar", "20"]
    )
    assert spread.exit_code == 0, spread.output
    assert "lowest 112.5 kg" in spread.output
    both = run.invoke(
        app,
        ["loads", "demo", "--lift", "deadlift", "--reps-max", "5@100", "--one-rm", "9", "--scheme", "3x5"],
    )
    assert both.exit_code == 2
    assert "one of the two" in both.output
