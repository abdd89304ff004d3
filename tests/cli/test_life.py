"""What a coach does with a week once there is one: the whole flow once for real, the rest over kept weeks."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from planner.domain.record import Candidate, WeekState
from planner.domain.week import Week
from planner.errors import NoPlanError
from planner.store.store import open_store
from tests.cli.conftest import Run

WEEK = "2026-W49"
RIG = (("first",), ("second",), ("one rule", "another"), ("fourth",), ("fifth",))
SESSION = """\
Wednesday
strength: front squat 5x5
conditioning: 5 rounds for time
  20 air squat
  20 kettlebell swing @ moderate
"""


@pytest.fixture
def mine(run: Run, tmp_path: Path) -> Path:
    """A gym of one's own that opens on three days, with two kit versions."""
    folder = tmp_path / "mine"
    assert run("init", folder).code == 0
    path = folder / "gym.yaml"
    text = path.read_text(encoding="utf-8")
    for key, days in (("days", "[mon, wed, fri]"), ("hard_days", "[]"), ("easy_days", "[]")):
        text = re.sub(rf"(?m)^{key}:.*$", f"{key}: {days}", text)
    text = re.sub(r"(?ms)^  - id: home_barbell\n.*?(?=^  - id: no_kit)", "", text)
    path.write_text(text, encoding="utf-8")
    return folder


@pytest.fixture
def kept(mine: Path) -> Path:
    """The same gym with two candidates of a week that were not solved just now."""
    from tests.render.sample_week import sample_week

    week = sample_week().model_copy(update={"week": WEEK})
    candidates = (
        Candidate(name="A", label="drafted", week=week),
        Candidate(name="B", label="without the rig", week=_other(week)),
    )
    with open_store(mine) as store:
        store.change(WEEK, lambda _: (WeekState(week=WEEK, candidates=candidates), "drafted"))
    return mine


def _other(week: Week) -> Week:
    data = json.loads(week.model_dump_json())
    data["sessions"][0]["title"] = "Another day"
    return Week.model_validate(data)


def test_sheets_of_a_kept_week_need_no_file(run: Run, kept: Path, tmp_path: Path) -> None:
    newest = run("sheets", kept, WEEK, "--to", tmp_path / "newest", "--only", "wall", "--day", "mon")
    assert newest.code == 0, newest.err
    assert "Another day" in (tmp_path / "newest" / "wall-mon.html").read_text(encoding="utf-8")
    assert run("sheets", kept, WEEK, "--to", tmp_path / "a", "--day", "mon", "--candidate", "a").code == 0
    assert "Another day" not in (tmp_path / "a" / "wall-mon.html").read_text(encoding="utf-8")

    assert 'no candidate "Q"' in run("sheets", kept, WEEK, "--candidate", "Q").err
    assert "there is no candidate" in run("sheets", kept, "2026-W50").err
    wrong = run("sheets", kept, "W49")
    assert wrong.code == 2
    assert "2026-W49" in wrong.err
    assert "Leave --candidate out" in run("sheets", kept, tmp_path / "w.json", "--candidate", "A").err


def test_the_whole_flow_for_real(run: Run, mine: Path, tmp_path: Path) -> None:
    drafted = run("draft", mine, "--week", WEEK, "--seconds", "2.5", "--out", tmp_path / "a.html")
    assert drafted.code == 0, drafted.err
    assert f"Kept as candidate A of {WEEK} in {mine}." in drafted.out
    assert run("lock", mine, WEEK, "fri").out.startswith("Friday is locked.")

    with open_store(mine) as store:
        friday = next(s for s in store.state(WEEK).candidates[0].week.sessions if s.day == "fri")
    used = {e for p in friday.pieces for v in p.versions.values() for x in v.lines for e in x.equipment}
    losses = {"rower": "rower", "place at the rig": "places at the rig", "box": "box", "rack": "rack"}
    lost = [word for name, word in losses.items() if name not in used][:2]
    assert lost, "Friday uses all of them"
    without = [x for word in lost for x in ("--without", word)]
    again = run("redraft", mine, WEEK, *without, "--seconds", "1", "--out", tmp_path / "b.html")
    assert again.code == 0, again.err
    assert "Kept as candidate B" in again.out
    assert re.search(
        r"No week .*changes fewer than|No piece has to change|pieces change and at least", again.out
    )
    assert "Weighted rules cost" in again.out
    assert (tmp_path / "b.html").exists()
    with open_store(mine) as store:
        a, b = (c.week for c in store.state(WEEK).candidates)
    fridays = [next(s for s in w.sessions if s.day == "fri") for w in (a, b)]
    lines = [[x.movement for p in s.pieces for v in p.versions.values() for x in v.lines] for s in fridays]
    assert lines[0] == lines[1]

    why_not = run("why-not", mine, WEEK, "mon", "Air Squat", "--seconds", "1")
    assert why_not.code == 0, why_not.err
    assert re.search(r"It can be had|No week has it", why_not.out)
    why = run("why", mine, WEEK, "mon", "conditioning")
    assert why.code == 0, why.err
    side_by_side = run("compare", mine, "A", "B", "--out", tmp_path / "c.html")
    assert side_by_side.code == 0, side_by_side.err
    assert (tmp_path / "c.html").read_text(encoding="utf-8").lower().startswith("<!doctype html>")

    assert run("choose", mine, WEEK, "B").out == f"B is chosen for {WEEK}.\n"
    assert "chosen: none" in run("undo", mine, WEEK).out
    assert "chosen: B" in run("redo", mine, WEEK).out
    history = run("history", mine, WEEK).out
    assert [v in history for v in ("A: drafted", "Friday is locked", "B: redrafted from A", "chose B")] == [
        True
    ] * 4
    logged = run("log", mine, WEEK, "mon", "done", "--rating", "7")
    assert logged.code == 0, logged.err
    assert re.search(r"Planned load \d+\. Of what is rated: 420 against \d+ planned", logged.out)


def test_a_shipped_gym_keeps_no_weeks(run: Run, gym: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from planner.weeks import draft as drafting
    from tests.render.sample_week import sample_week

    monkeypatch.setattr(drafting, "draft", lambda *_, **__: sample_week())
    drafted = run("draft", "demo", "--week", WEEK)
    assert "Not kept: demo comes with the program" in drafted.out
    assert not (gym / "planner.db").exists()
    answer = run("undo", "demo", WEEK)
    assert answer.code == 2
    assert "planner export demo" in answer.err


def test_an_undo_may_name_the_change_that_was_seen(run: Run, kept: Path) -> None:
    assert run("choose", kept, WEEK, "A").code == 0
    late = run("undo", kept, WEEK, "--seen", "1")
    assert late.code == 2
    assert "Wanted: to undo from: drafted (change 1). Now there stands: chose A (change 2)" in late.err
    assert "chosen: none" in run("undo", kept, WEEK, "--seen", "2").out


def test_before_anything_is_kept(run: Run, mine: Path) -> None:
    for words in (
        ("weeks", mine),
        ("undo", mine, WEEK),
        ("lock", mine, WEEK, "fri"),
        ("compare", mine, "A", "B"),
    ):
        answer = run(*words)
        assert answer.code == 2
        assert "no week is kept of this gym yet" in answer.err
    assert not (mine / "planner.db").exists()


def test_alternatives_are_kept_with_what_sets_them_apart(
    run: Run, mine: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from planner.weeks import alternatives as many
    from tests.render.sample_week import sample_week

    def found(_setting: object, count: int, **_: object) -> tuple[many.Alternative, ...]:
        labels = ("fewest points", "least set-up", "most carrying")[:count]
        return tuple(many.Alternative(label=x, week=sample_week(), points=3, figures={}) for x in labels)

    monkeypatch.setattr(many, "alternatives", found)
    answer = run("draft", mine, "--week", WEEK, "--alternatives", "3", "--out", tmp_path / "a.html")
    assert answer.code == 0, answer.err
    assert "B: least set-up" in answer.out
    assert f"Kept as candidates A, B, C of {WEEK}" in answer.out
    assert sorted(p.name for p in tmp_path.glob("*.html")) == ["a-B.html", "a-C.html", "a.html"]


def test_no_week_exits_with_3_and_changes_nothing(
    run: Run, kept: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from planner.weeks import redraft as again

    def fail(*_: object, **__: object) -> None:
        raise NoPlanError(
            "No week can hold all of this together:", (("Friday is locked",),), ("unlock Friday",)
        )

    monkeypatch.setattr(again, "redraft", fail)
    before = run("history", kept, WEEK).out
    answer = run("redraft", kept, WEEK, "--without", "rig")
    assert answer.code == 3
    assert "  - Friday is locked" in answer.err
    assert "What would help:\n  - unlock Friday" in answer.err
    assert run("history", kept, WEEK).out == before


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("redraft", "--without", "riggg"), 'Did you mean "rig"?'),
        (("redraft", "--set", "rower"), "write item=count"),
        (("redraft", "--days", "mon,xyz"), '"xyz" is not a day'),
        (("redraft", "--drop-kit", "no_kitt"), 'Did you mean "no_kit"?'),
        (("redraft", "--candidate", "Q"), 'no candidate "Q"'),
        (("lock", "sun"), "closed"),
        (("lock", "fri", "strenght"), 'Did you mean "strength"?'),
        (("lock", "fri", "--domain", "longer"), 'Did you mean "long"?'),
        (("lock", "fri", "strength", "--hardness", "hard"), "Leave the piece out."),
        (("lock", "fri", "--pattern", "squat", "--domain", "long"), "one thing at a time"),
        (("unlock", "fri"), "Friday has no lock"),
        (("ban", "burpe"), 'Did you mean "burpee"?'),
        (("allow", "burpee"), "nothing is ruled out"),
        (("ask",), "Give one of --movement"),
        (("ask", "--hard", "fri", "--day", "mon"), "Leave --day out."),
        (("ask", "--pattern", "squatt"), 'Did you mean "squat"?'),
        (("overrule", "easy-dayy", "thu", "--because", "a party"), 'Did you mean "easy-day"?'),
        (("overrule", "easy-day", "week"), "say why"),
        (("why", "mon", "strenth"), 'Did you mean "strength"?'),
        (("why-not", "mon", "bench pres"), 'Did you mean "bench press"?'),
        (("choose", "Q"), 'no candidate "Q"'),
        (("log", "mon", "doen"), 'Did you mean "done"?'),
        (("log", "mon", "done"), "is chosen yet"),
        (("redo",), "nothing to redo"),
    ],
)
def test_what_is_not_understood_is_said(words: tuple[str, ...], said: str, run: Run, kept: Path) -> None:
    name, *others = words
    answer = run(name, kept, WEEK, *others)
    assert answer.code == 2, answer.out
    assert said in answer.err
    assert len(run("history", kept, WEEK).out.split("drafted")) == 2


def test_a_week_that_is_none(run: Run, kept: Path) -> None:
    for words in (
        ("undo", kept, "2026-49"),
        ("weeks", kept, "2026-W60"),
        ("why", kept, "x", "mon", "strength"),
    ):
        answer = run(*words)
        assert answer.code == 2
        assert "not a week" in answer.err or "there is no 2026-W60" in answer.err


def test_what_is_asked_for_is_listed(run: Run, kept: Path, tmp_path: Path) -> None:
    path = tmp_path / "session.txt"
    path.write_text(SESSION, encoding="utf-8")
    for words in (
        ("lock", "fri", "strength"),
        ("lock", "mon", "--movement", "Back Squat"),
        ("lock", "fri", "--domain", "long"),
        ("lock", "wed", "--pattern", "Pull day"),
        ("lock", "wed", "--pattern", "vertical pull"),
        ("ban", "burpee", "--day", "mon"),
        ("ask", "--pattern", "carry"),
        ("ask", "--pattern", "upper", "--day", "mon"),
        ("ask", "--easy", "wed"),
        ("overrule", "easy-day", "week", "--because", "a competition"),
        ("write", path),
    ):
        answer = run(words[0], kept, WEEK, *words[1:])
        assert answer.code == 0, answer.err
        assert "Drafts and redrafts of the week keep to it" in answer.out
    listed = run("weeks", kept, WEEK).out
    for said in (
        "Friday's strength is locked.",
        "Monday is locked with back squat.",
        "Friday stays long in the conditioning.",
        "Wednesday stays a pull day.",
        "Wednesday keeps vertical pull work.",
        "Wednesday was written by hand, and is locked.",
        "No burpee on monday.",
        "Asked for: carry work some time.",
        "Asked for: upper-body work on Monday.",
        "Asked for: Wednesday easy.",
        "easy-day does not count at week: a competition.",
    ):
        assert f"{WEEK}: {said}".lower() in listed.lower()
    for words in (
        ("unlock", "fri"),
        ("allow", "burpee", "--day", "mon"),
        ("ask", "--easy", "wed", "--withdraw"),
        ("overrule", "easy-day", "week", "--withdraw"),
        ("unlock", "wed", "--pattern", "pull"),
        ("unlock", "wed"),
    ):
        assert run(words[0], kept, WEEK, *words[1:]).code == 0
    assert len(re.findall(rf"(?m)^{WEEK}: ", run("weeks", kept, WEEK).out)) == 3


def test_an_unknown_pattern_is_answered_with_patterns_and_groups(run: Run, kept: Path) -> None:
    for words in (("lock", kept, WEEK, "fri"), ("ask", kept, WEEK), ("catalogue", "list")):
        answer = run(*words, "--pattern", "biceps")
        assert answer.code == 2
        assert 'no pattern or group of patterns "biceps". Known: squat, ' in answer.err
        assert "cyclic, push, pull, legs, upper, lower." in answer.err


def test_movements_of_a_group_are_those_of_its_patterns(run: Run) -> None:
    from planner.cli.base import known_catalogue

    pulls = {"vertical_pull", "horizontal_pull"}
    movements = known_catalogue().movements.values()
    many = sum(bool(pulls & set(m.patterns)) for m in movements)
    assert f"\n{many} of {len(movements)} movements." in run("catalogue", "list", "--pattern", "pull").out


def test_a_session_by_hand_that_is_wrong(run: Run, kept: Path, tmp_path: Path) -> None:
    path = tmp_path / "session.txt"
    path.write_text(SESSION.replace("front squat", "frunt squat"), encoding="utf-8")
    answer = run("write", kept, WEEK, path)
    assert answer.code == 2
    assert answer.err.startswith(f'{path}:2:11: there is no movement "frunt squat"')
    assert '"front squat"' in answer.err


def test_choose_writes_the_week_and_compare_takes_the_newest(run: Run, kept: Path, tmp_path: Path) -> None:
    assert (
        run("choose", kept, WEEK, "a", "--json", tmp_path / "w.json", "--out", tmp_path / "w.html").code == 0
    )
    assert Week.model_validate_json((tmp_path / "w.json").read_text(encoding="utf-8")).week == WEEK
    assert "chosen" in run("weeks", kept).out
    assert run("compare", kept, "A", "A").code == 2


@pytest.mark.parametrize(
    ("take", "said"),
    [
        (["mon"], "Write days=candidate"),
        (["mon=C"], "candidate"),
        (["mon=A", "mon=B"], "twice"),
        (["xyz=A"], "day"),
    ],
)
def test_what_merge_does_not_understand(take: list[str], said: str, run: Run, kept: Path) -> None:
    answer = run("merge", kept, "A", "B", *(w for t in take for w in ("--take", t)))
    assert answer.code == 2
    assert said in answer.err


def test_losses_are_listed_the_worst_first(run: Run, kept: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from planner.weeks import resilience as losing

    found = (
        losing.Loss(item="barbell", name="barbells", lost="all", left=0, impossible=(("heavy-squat: ...",),)),
        losing.Loss(item="rower", name="rowers", lost="one", left=3, pieces=2, points=4, proved=False),
        losing.Loss(item="box", name="boxes", lost="all", left=0),
        losing.Loss(item="box", name="boxes", lost="one", left=7),
        losing.Loss(item="rack", name="racks", lost="one", left=2),
        losing.Loss(item="rig", name="places at the rig", lost="all", left=0, impossible=RIG),
    )
    monkeypatch.setattr(losing, "resilience_kept", lambda *_, **__: found)
    answer = run("resilience", kept, WEEK)
    assert answer.code == 0, answer.err
    assert "no week is possible" in answer.out
    assert re.search(r"one of the rowers +3 +2 +\+4 +fewer changes not ruled out", answer.out)
    assert "  - heavy-squat: ..." in answer.out
    assert "Nothing has to change without the boxes, or one of the racks." in answer.out
    assert "  3. one rule\n     together with: another\n  - and 2 more; a redraft" in answer.out
    assert "the boxes  " not in answer.out


def test_prices(run: Run, kept: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from planner.weeks import price as prices

    monkeypatch.setattr(prices, "price_kept", lambda *_, **__: ())
    assert "No rule costs anything" in run("price", kept, WEEK).out
    found = (prices.Price(rule="easy-day", statement="An easy day.", measure=2, saves=4),)
    monkeypatch.setattr(prices, "price_kept", lambda *_, **__: found)
    assert re.search(r"easy-day +4 points +2 +An easy day", run("price", kept, WEEK).out)


def test_export_and_import(run: Run, kept: Path, tmp_path: Path) -> None:
    assert run("export", kept, tmp_path / "one.json").code == 0
    assert run("import", tmp_path / "one.json", tmp_path / "copy").code == 0
    assert run("export", tmp_path / "copy", tmp_path / "two.json").code == 0
    assert (tmp_path / "one.json").read_bytes() == (tmp_path / "two.json").read_bytes()
    for words in (
        ("export", kept, kept / "planner.db"),
        ("import", tmp_path / "one.json", kept),
        ("import", kept / "gym.yaml", tmp_path / "third"),
    ):
        assert run(*words).code == 2
    answer = run("import", kept / "gym.yaml", tmp_path / "third")
    assert answer.err.startswith(f"{kept / 'gym.yaml'}: this is not an exported gym")


def test_help_of_every_command(run: Run) -> None:
    import typer

    from planner.cli import app

    group = typer.main.get_command(app)
    for name, command in group.commands.items():  # type: ignore[attr-defined]
        assert command.help, name
        assert run(name, "--help").code == 0
        for parameter in getattr(command, "params", ()):
            if not hasattr(command, "commands") and parameter.name != "help":
                assert getattr(parameter, "help", ""), f"{name} {parameter.name}"
