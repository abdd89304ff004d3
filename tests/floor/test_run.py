"""A week's class on the floor: as written, of another size, in words, and as a picture."""

from __future__ import annotations

import re

import pytest

from planner.domain.plan import ConditioningLine
from planner.errors import DataError
from planner.prescribe.class_loads import ROUNDED, lines_for_class
from planner.prescribe.lines import Bench, conditioning_lines
from planner.prescribe.set_out import Room, bars_out
from planner.prescribe.stock import Stock
from planner.render.brief import brief_html
from planner.render.run_page import run_html
from planner.render.setup_card import moves, setup_card
from planner.weeks.run import run_week
from tests.prescribe.builders import catalogue, gym
from tests.prescribe.test_write_out import WEEK


def test_each_piece_on_the_clock_is_run_by_everybody() -> None:
    days = run_week(WEEK, catalogue(), gym())
    assert [d.day for d in days] == ["mon", "wed"]
    assert [len(p.lanes) for d in days for p in d.pieces] == [12, 12]
    (monday,) = days[0].pieces
    quick, typical, slow = monday.outcome.finish_s or ()
    assert quick < typical < slow


def test_what_is_printed_is_what_the_run_says() -> None:
    piece = next(p for p in WEEK.sessions[1].pieces if p.kind == "conditioning")
    (run,) = run_week(WEEK, catalogue(), gym(), day="wed")[0].pieces
    assert piece.on_floor is not None
    assert piece.on_floor.longest_wait_s == run.outcome.longest_wait_s
    assert piece.class_flow == run.words


def test_eight_wait_less_than_sixteen() -> None:
    waits = [
        run_week(WEEK, catalogue(), gym(), day="wed", size=size)[0].pieces[0].outcome.longest_wait_s
        for size in (4, 8, 16)
    ]
    assert waits == sorted(waits)
    assert waits[0] < waits[2]


def test_a_day_without_a_session_is_said() -> None:
    with pytest.raises(DataError, match='no session on "sun"'):
        run_week(WEEK, catalogue(), gym(), day="sun")


def test_the_picture_says_in_words_what_it_shows() -> None:
    days = [(d.day, d.pieces) for d in run_week(WEEK, catalogue(), gym())]
    html = run_html(WEEK, 12, days)
    for number in (1, 2):
        assert f'aria-labelledby="lanes-{number}-title lanes-{number}-what"' in html
        assert re.search(rf'<title id="lanes-{number}-title">[^<]+</title>', html)
        assert re.search(rf'<desc id="lanes-{number}-what">Twelve lanes, [^<]+</desc>', html)
    assert html.count('<th scope="col">12</th>') == 2


def test_the_second_page_of_the_brief() -> None:
    runs = run_week(WEEK, catalogue(), gym(), day="mon")[0].pieces
    html = brief_html(WEEK, "mon", runs=runs)
    assert "Monday: set up and run" in html
    assert "barbells of 20 kg" in html
    assert 'class="lanes"' in html
    assert 'class="lanes"' not in brief_html(WEEK, "mon")


def test_what_moves_between_pieces() -> None:
    strength, conditioning = (p.set_out for p in WEEK.sessions[0].pieces if p.set_out)
    assert [t.piece for t in setup_card(WEEK.sessions[0])] == ["Strength", "Conditioning"]
    said = moves(strength, conditioning)
    assert "Bring four barbells of 20 kg and four barbells of 15 kg." in said
    assert said.count("Load ") == 2
    assert moves(strength, strength) == "Everything stays."


def plates_out(rows) -> dict[float, int]:
    out: dict[float, int] = {}
    for row in rows:
        for kg in row.per_side_kg:
            out[kg] = out.get(kg, 0) + 2 * row.count
    return out


def test_no_more_is_put_out_than_there_is() -> None:
    """Counted from the sheet's data: items, bars by mass, plates over all bars."""
    own = gym()
    for session in WEEK.sessions:
        for piece in session.pieces:
            for row in piece.set_out:
                held = own.inventory[row.item]
                most = held[row.kg] if isinstance(held, dict) and row.kg is not None else own.count(row.item)
                assert row.count <= most, (session.day, row)
            there = own.inventory["plate"]
            assert all(n <= there[kg] for kg, n in plates_out(piece.set_out).items())


def test_loads_are_rounded_to_what_all_bars_can_have() -> None:
    """32.5 kg for six women takes twelve plates of 1.25 kg, and there are four."""
    own = gym()
    plates = {**own.inventory["plate"], 1.25: 4}
    own = own.model_copy(update={"inventory": {**own.inventory, "plate": plates}})
    room = Room(catalogue(), own)
    bench = Bench(room.catalogue, Stock(own, own.kits[0], room.catalogue.items))
    line = ConditioningLine(movement="push_press", dose=10, tier="moderate")
    known = room.catalogue.shapes["four_rounds"]
    alone = conditioning_lines([line], [line], known, bench)[0]
    (lines,), note = lines_for_class([line], [line], known, bench, room)
    assert [1.25 in load.per_side_kg for load in alone.loads] == [False, True]
    assert note == ROUNDED
    assert all(abs(a.kg - b.kg) <= 2.5 for a, b in zip(lines.loads, alone.loads, strict=True))
    assert bars_out(room, [lines], (6, 6)) == (6, 6)
    assert bars_out(room, [alone], (6, 6)) == (6, 2)


def test_few_small_plates_leave_fewer_bars() -> None:
    """42.5 and 27.5 kg take a pair of 1.25 kg each: sixteen plates load eight bars."""
    room = Room(catalogue(), gym())
    line = next(p for p in WEEK.sessions[0].pieces if p.kind == "conditioning").versions["floor"].lines[0]
    loads = tuple(
        load.model_copy(update={"kg": kg, "per_side_kg": side})
        for load, kg, side in zip(line.loads, (42.5, 27.5), ((10.0, 1.25), (5.0, 1.25)), strict=True)
    )
    shared = [line.model_copy(update={"loads": loads})]
    assert bars_out(room, shared, (6, 6)) == (4, 4)
    assert bars_out(room, shared, (3, 3)) == (3, 3)
