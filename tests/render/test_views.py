"""What views make of a week, before any template: order and sums, times, other versions."""

from __future__ import annotations

from datetime import UTC, timedelta
from typing import Any

import pytest
from icalendar import Calendar

from planner.domain.week import RuleResult, Session, TierProof, Week
from planner.render import notation
from planner.render.brief import brief_page
from planner.render.calendar import calendar_ics
from planner.render.instead import OTHERS_SAME, SAME, instead, short_line
from planner.render.page import session_of
from planner.render.report_view import proof_view, report_view

from .sample_week import sample_week

WEEK = sample_week()


def rule(name: str, weight: int, measure: int, overruled: str = "") -> RuleResult:
    place = {"place": "mon", "measure": 0 if overruled else measure, "sentence": "Monday: too much.",
             "overruled": overruled}  # fmt: skip
    return RuleResult.model_validate(
        {"id": name, "kind": "limit", "level": "weight" if weight else "must", "weight": weight,
         "statement": f"As {name} says.", "because": "for the test", "source": "", "unit": "days",
         "checked": 1,
         "measure": measure, "cost": weight * measure, "places": [place] if measure or overruled else []}
    )  # fmt: skip


def test_what_gave_way_is_told_the_dearest_first_and_added_up() -> None:
    rules = (
        rule("cheap", 1, 5),
        rule("dear", 9, 1),
        rule("kept", 7, 0),
        rule("meant", 4, 0, "it is meant so"),
    )
    view = report_view(WEEK.model_copy(update={"rules": rules}))

    assert [x.anchor for x in view.gave_way] == ["rule-dear", "rule-cheap"]
    assert view.cost == "14 points"
    assert view.weights == "2 of 4 weighted rules kept in full"
    verdicts = {r.anchor: r.verdict for g in view.groups for r in g.rules}
    assert verdicts["rule-meant"] == "overruled"
    assert verdicts["rule-kept"] == "holds"
    assert verdicts["rule-cheap"].startswith("off by 5")


@pytest.mark.parametrize(("status", "gap"), [("proved", 0.0), ("not proved", 0.0), ("not proved", 0.25)])
def test_proved_is_what_the_proof_says_and_not_a_gap_that_rounds_to_nought(status: Any, gap: float) -> None:
    tier = TierProof(name="a layer", objective=40_000, bound=39_999, gap=gap, status=status, seconds=1)
    (layer,) = proof_view(
        WEEK.model_copy(update={"proof": WEEK.proof.model_copy(update={"tiers": (tier,)})})
    ).layers
    assert layer.proved == (status == "proved")


# The other versions -------------------------------------------------------------------------------------


def with_own_lines(change: Any) -> tuple[Session, Week]:
    """The first day with the second version's conditioning changed from the floor's."""
    session, (floor, other, *_) = WEEK.sessions[0], [kit.id for kit in WEEK.kits]
    pieces = []
    for piece in session.pieces:
        if not piece.versions:
            pieces.append(piece)
            continue
        base = piece.versions[floor]
        lines = change(base.lines) if piece.kind == "conditioning" else base.lines
        own = base.model_copy(update={"kit": other, "lines": tuple(lines)})
        pieces.append(piece.model_copy(update={"versions": {**piece.versions, other: own}}))
    made = session.model_copy(update={"pieces": tuple(pieces)})
    return made, WEEK.model_copy(update={"sessions": (made, *WEEK.sessions[1:])})


def test_a_version_says_what_it_does_otherwise_and_no_more() -> None:
    def another(lines: Any) -> list[Any]:
        dose = lines[0].dose.model_copy(update={"value": 7, "text": "7 reps"})
        return [lines[0].model_copy(update={"dose": dose}), *lines[1:]]

    same, one = (instead(*with_own_lines(c), "conditioning")[0].value for c in (list, another))
    session, _ = with_own_lines(another)
    changed = next(p for p in session.pieces if p.kind == "conditioning").versions[WEEK.kits[1].id].lines

    assert same == "all the same."
    assert one == f"{short_line(changed[0])}, {OTHERS_SAME}."
    assert instead(*with_own_lines(another))[0].value.startswith(f"Strength: {SAME}. Conditioning: 7 ")


def test_the_implement_is_not_said_twice() -> None:
    line = next(
        x for s in WEEK.sessions for p in s.pieces for v in p.versions.values() for x in v.lines if x.loads
    )
    plate = line.model_copy(
        update={"name": "plate squat", "loads": tuple(x.model_copy(update={"text": f"{kg} kg plate"})
                                                      for x, kg in zip(line.loads, (15, 10), strict=True))}
    )  # fmt: skip
    assert short_line(plate).endswith("plate squat (15 / 10 kg)")
    assert short_line(plate.model_copy(update={"name": "lunge"})).endswith("lunge (15 / 10 kg plate)")


# The brief ----------------------------------------------------------------------------------------------


def test_a_class_over_midnight_ends_on_the_next_day() -> None:
    late = WEEK.model_copy(update={"class_start": "23:30", "class_minutes": 55})
    assert brief_page(late, session_of(late, "mon")).running[-1].term == "0:25"


def test_the_slowest_of_all_versions_and_half_the_cap_are_said() -> None:
    session = next(
        s for s in WEEK.sessions for p in s.pieces if p.kind == "conditioning" and p.cap_minutes is not None
    )
    piece = next(p for p in session.pieces if p.kind == "conditioning")
    assert piece.cap_minutes is not None
    slow = [v.prediction.slow for v in piece.versions.values() if v.prediction]
    assert len(set(slow)) > 1
    end = next(p.end for p in brief_page(WEEK, session).pieces if p.end)

    assert f"{max(slow) // 60}:{max(slow) % 60:02d}." in end
    assert f"half-way by {piece.cap_minutes // 2}:{30 * (piece.cap_minutes % 2):02d} " in end


# The calendar and small words ---------------------------------------------------------------------------


def event_of(week: Week, before: bytes | None = None) -> Any:
    content = calendar_ics(week, "a gym", before)
    return next(iter(Calendar.from_ical(content).walk("VEVENT")))


@pytest.mark.parametrize("minutes", [45, 55, 75])
def test_a_class_ends_when_it_is_over(minutes: int) -> None:
    event = event_of(WEEK.model_copy(update={"class_minutes": minutes}))
    assert event["dtend"].dt - event["dtstart"].dt == timedelta(minutes=minutes)


@pytest.mark.parametrize(
    ("week", "monday", "day", "start", "utc"),
    [
        ("2026-W13", "2026-03-23", "2026-03-29", "00:30", "02:15"),
        ("2026-W43", "2026-10-19", "2026-10-25", "00:30", "02:15"),
    ],
)  # fmt: skip
def test_a_class_over_a_change_of_the_clocks_is_no_longer_and_no_shorter(
    week: str, monday: str, day: str, start: str, utc: str
) -> None:
    """Lisbon's clocks go from 1 to 2 in March and from 2 to 1 in October, both at 1:00 UTC."""
    session = WEEK.sessions[0].model_copy(update={"day": "sun", "date": day})
    made = WEEK.model_copy(
        update={"week": week, "monday": monday, "timezone": "Europe/Lisbon", "class_start": start,
                "class_minutes": 105 if day < "2026-06" else 165, "sessions": (session,)}
    )  # fmt: skip
    assert event_of(made)["dtend"].dt.astimezone(UTC).strftime("%H:%M") == utc


def test_a_longer_class_or_other_work_is_another_version_of_its_event() -> None:
    before = calendar_ics(WEEK, "a gym")
    longer = WEEK.model_copy(update={"class_minutes": WEEK.class_minutes + 5})
    careful = WEEK.sessions[0].model_copy(update={"cautions": ("Mind the step.",)})
    other = WEEK.model_copy(update={"sessions": (careful, *WEEK.sessions[1:])})

    assert [event_of(w, before)["sequence"] for w in (WEEK, longer, other)] == [0, 1, 1]


@pytest.mark.parametrize(
    ("first", "last", "said"),
    [
        ("2026-11-30", "2026-12-05", "30 November to 5 December 2026"),
        ("2026-03-02", "2026-04-05", "2 March to 5 April 2026"),
        ("2026-03-02", "2026-03-05", "2 to 5 March 2026"),
    ],
)
def test_the_month_is_said_twice_where_it_changes(first: str, last: str, said: str) -> None:
    assert notation.date_range(first, last) == said


def test_small_words_are_right_at_their_edges() -> None:
    assert [notation.count(n, "point") for n in (0, 1, 2)] == ["0 points", "1 point", "2 points"]
    assert [notation.sentence(t) for t in ("so", "so!", "so?", "so:", "so.")] == [
        "So.",
        "So!",
        "So?",
        "So:",
        "So.",
    ]


def test_a_total_is_said_where_rounds_make_it_more_and_not_for_plain_sets() -> None:
    lines = [x for s in WEEK.sessions for p in s.pieces for v in p.versions.values() for x in v.lines]
    in_sets = next(x for x in lines if x.sets and x.sets > 1)
    sets = in_sets.model_copy(update={"total": in_sets.sets * in_sets.dose.value})
    once = next(x for x in lines if not x.sets)

    assert notation.total(sets) == ""
    assert notation.total(once.model_copy(update={"total": 4 * once.dose.value})).endswith("in all")
    assert notation.total(once.model_copy(update={"total": once.dose.value})) == ""
