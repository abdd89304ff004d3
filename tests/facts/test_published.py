"""Published facts against the shipped catalogue, rules and code; tables and status in ``shared/reference``.

Checked elsewhere on the same grounds, and not again here:

- percent of 1RM by reps, estimators, identities: ``tests/prescribe/test_percent_and_estimators.py``
- set totals by zone of the power schemes: ``tests/prescribe/test_schemes.py``
- session load, monotony, strain, the formulas: ``tests/prescribe/test_times_clock_and_load.py``
- pound plates, collars: ``tests/prescribe/test_plates.py``
- contrast of every pair of colours in use: ``tests/render/test_palette.py``
- how 2027-W53 is refused by the commands: ``tests/cli/test_bad_input.py``
"""

from __future__ import annotations

import re
from datetime import date

import pytest

from planner.domain.catalogue import Catalogue, Movement, Scheme
from planner.domain.clock import strength_minutes
from planner.domain.gym import DAYS, Gym
from planner.domain.iso_week import monday_of, week_of
from planner.domain.timing import dose_tenths
from planner.domain.week import Line, Week
from planner.paths import home
from planner.prescribe.clock import class_clock
from planner.prescribe.loads import scheme_percent
from planner.prescribe.percent import percent_of_1rm
from planner.prescribe.plates import makeable
from planner.prescribe.week_load import week_load
from planner.problem.candidates import suits
from planner.render.palette import AA_GRAPHIC, AA_TEXT, PAIRS, contrast
from planner.rules import Rule
from planner.rules.limit import Limit
from planner.rules.spacing import Spacing
from planner.weeks.sheets import sheet
from tests.prescribe.builders import table

EXPOSURE = 30
"""Percent of a movement from which a pattern counts as trained."""
RATES = {row["movement"]: row for row in table("rep_rates.csv")}
OLYMPIC = (
    "snatch", "power_snatch", "hang_snatch", "hang_power_snatch", "snatch_balance", "clean", "power_clean",
    "hang_clean", "hang_power_clean", "clean_and_jerk", "push_jerk", "split_jerk",
)  # fmt: skip


def rate_s(name: str) -> float:
    """Seconds a rep of a row of the rate table."""
    return float(RATES[name]["seconds_per_rep"])


def done_in(movement: Movement, seconds: int) -> int:
    """How many reps the planner expects of a typical athlete in one set of so many seconds."""
    return sum(dose_tenths(movement, n) <= seconds * 10 for n in range(1, 200))


def all_lines(week: Week, kind: str, kit: str = "") -> list[tuple[int, Line]]:
    """(day of the week, line) of each piece of a kind, of one kit version or of all."""
    return [
        (DAYS.index(session.day), line)
        for session in week.sessions
        for piece in session.pieces
        if piece.kind == kind
        for version in piece.versions.values()
        if kit in ("", version.kit)
        for line in version.lines
    ]


# -- Loads, sets and reps ----------------------------------------------------------------------------------


def test_schemes_with_reps_in_reserve_read_the_percent_table(catalogue: Catalogue) -> None:
    """NSCA Training Load Chart: reps done and reps left give the row."""
    by_reserve = [s for s in catalogue.schemes.values() if s.reserve is not None and s.percent is None]
    assert len(by_reserve) >= 8
    for scheme in by_reserve:
        assert scheme_percent(scheme) == percent_of_1rm(scheme.reps + (scheme.reserve or 0)), scheme.id


def outside(scheme: Scheme) -> set[str]:
    """In what a scheme leaves its row of the goal table."""
    power = "power_single_effort" if scheme.reps <= 2 else "power_multiple_effort"
    goal = power if scheme.goal == "power" else scheme.goal
    row = next(r for r in table("goals.csv") if r["goal"] == goal)
    values = {
        "load_pct_1rm": scheme_percent(scheme),
        "reps": scheme.reps,
        "sets": scheme.sets,
        "rest_s": scheme.rest_s,
    }
    return {
        name.split("_")[0]
        for name, value in values.items()
        if not float(row[f"{name}_min"]) <= value <= float(row[f"{name}_max"])
    }


def test_schemes_are_inside_the_goal_table_or_say_that_they_are_not(catalogue: Catalogue) -> None:
    """NSCA Essentials ch. 17, load, reps, sets and rest; what departs is marked in the file itself."""
    text = (home().shared / "catalogue" / "schemes.yaml").read_text(encoding="utf-8")
    marked = r"# Outside the goal table in ([a-z, ]+):.*common practice\.\n  - \{id: (\w+)"
    said = {match[2]: set(match[1].split(", ")) for match in re.finditer(marked, text)}
    schemes = [s for s in catalogue.schemes.values() if s.goal in ("strength", "hypertrophy", "power")]
    departing = {s.id: outside(s) for s in schemes if outside(s)}
    assert len(departing) < len(schemes)
    assert said == departing


def test_olympic_lifts_take_only_schemes_inside_the_zone_table(catalogue: Catalogue) -> None:
    """Prilepin, as printed by Hristov 2005: by intensity, how many lifts in all and in a set."""
    zones = {int(r["zone"]): r for r in table("zone_totals.csv")}
    edges = {1: 0.0, 2: 70.0, 3: 80.0, 4: 90.0}  # the printing without gaps
    checked = 0
    for name in OLYMPIC:
        for scheme in catalogue.schemes.values():
            if scheme.parts or not suits(catalogue.movements[name], scheme, "main"):
                continue  # a complex is not one lift
            row = zones[max(z for z, edge in edges.items() if scheme_percent(scheme) >= edge)]
            total = scheme.sets * scheme.reps
            assert int(row["total_min"]) <= total <= int(row["total_max"]), f"{name}: {scheme.id}"
            assert scheme.reps <= int(row["reps_per_set_max"]), f"{name}: {scheme.id}"
            checked += 1
    assert checked >= 3 * len(OLYMPIC)


# -- Rest and volume ---------------------------------------------------------------------------------------


def test_a_must_keeps_heavy_work_on_every_pattern_48_hours_apart(rules: dict[str, Rule]) -> None:
    """ACSM 2009: non-consecutive days; 48 h. On the lift and in the conditioning alike."""
    row = next(r for r in table("frequency_and_spacing.csv") if r["value"] == "48")
    rule = rules["heavy-pattern-rest"]
    assert isinstance(rule, Spacing)
    assert rule.must
    assert (rule.hours, rule.each) == (int(row["value"]), "pattern")
    assert rule.where.load == ("heavy",)
    assert rule.where.share_at_least <= EXPOSURE
    where = rule.where
    narrowed = where.piece or where.pattern or where.movement or where.modality or where.goal or where.item
    assert not narrowed, "the rule leaves some heavy work out"
    assert "ACSM 2009" in rule.source


@pytest.mark.slow
def test_the_drafted_week_rests_every_heavy_pattern_for_48_hours(drafted: Week) -> None:
    floor = drafted.kits[0].id
    days: dict[str, set[int]] = {}
    for kind in ("strength", "conditioning"):
        for day, line in all_lines(drafted, kind, floor):
            for pattern, share in line.patterns.items():
                if line.tier == "heavy" and share >= EXPOSURE:
                    days.setdefault(pattern, set()).add(day)
    assert days
    for pattern, on in days.items():
        assert not any(day + 1 in on for day in on), f"{pattern} is heavy on days running: {sorted(on)}"


def test_a_must_asks_for_two_strengthening_days_or_more(rules: dict[str, Rule]) -> None:
    """WHO 2020: muscle strengthening on two or more days a week."""
    adults = [r for r in table("weekly_activity.csv") if "adults" in r["population"]]
    least = min(int(r["strength_days_per_wk_min"]) for r in adults)
    rule = rules["strengthening-days"]
    assert isinstance(rule, Limit)
    assert rule.must
    assert (rule.count, rule.per) == ("days", "week")
    assert rule.where.piece == ("main",)
    assert least == 2
    assert (rule.at_least or 0) >= least
    assert "WHO 2020" in rule.source


@pytest.mark.slow
def test_the_drafted_week_strengthens_on_two_days_or_more(drafted: Week) -> None:
    for kit in drafted.kits:
        assert len({day for day, line in all_lines(drafted, "strength", kit.id) if not line.assistance}) >= 2


def beginners_contacts() -> int:
    """The most foot contacts of a beginner's session."""
    return next(
        int(r["foot_contacts_max"]) for r in table("plyometrics.csv") if r["experience"] == "beginner"
    )


def test_a_must_holds_landings_to_what_beginners_may_do(rules: dict[str, Rule]) -> None:
    """NSCA Essentials ch. 18 by way of secondary pages: 80 to 100 contacts a session for beginners."""
    most = beginners_contacts()
    rule = rules["landings-a-day"]
    assert isinstance(rule, Limit)
    assert rule.must
    assert (rule.count, rule.per, rule.versions) == ("contacts", "day", "all")
    assert rule.at_most is not None
    assert rule.at_most <= most


def test_jumps_count_as_landings_and_skips_do_not(catalogue: Catalogue) -> None:
    """Only jumps of a stated intensity count: a hundred skips alone would use up the beginner's allowance."""
    for movement in catalogue.movements.values():
        # In a jumping pull-up the feet come back to the box that they left.
        if movement.patterns.get("jump", 0) >= EXPOSURE and movement.id != "jumping_pull_up":
            assert movement.takes.contacts >= 1, movement.id
        if "skip" in movement.id:
            assert movement.takes.contacts == 0, movement.id


@pytest.mark.slow
def test_the_drafted_week_keeps_landings_inside_in_every_version(drafted: Week, catalogue: Catalogue) -> None:
    most = beginners_contacts()
    for session in drafted.sessions:
        assert session.contacts <= most
        for kit in drafted.kits:
            lines = [x for p in session.pieces if kit.id in p.versions for x in p.versions[kit.id].lines]
            contacts = 0
            for line in lines:
                movement = catalogue.movements[line.movement]
                contacts += line.total * movement.takes.contacts * (2 if movement.sides == "per_side" else 1)
            assert contacts <= most, f"{session.day} {kit.id}"


# -- The week's minutes and load ---------------------------------------------------------------------------


@pytest.mark.slow
def test_vigorous_and_other_minutes_are_reported(drafted: Week) -> None:
    """WHO 2020 counts both; the week reports both, and the sheet shows them."""
    vigorous = moderate = 0
    for session in drafted.sessions:
        for piece in session.pieces:
            if piece.kind == "conditioning" and session.rating >= 7:
                vigorous += piece.minutes
            elif piece.kind in ("strength", "conditioning"):
                moderate += piece.minutes
    assert (drafted.load.vigorous_minutes, drafted.load.moderate_minutes) == (vigorous, moderate)
    text = re.sub(r"<[^>]+>|\s+", " ", sheet(drafted))
    assert re.search(rf"[Mm]inutes\s+{vigorous}\b", text)
    assert re.search(rf"[Mm]inutes\s+{moderate}\b", text)


@pytest.mark.slow
def test_the_sheet_puts_the_published_minutes_beside_them(drafted: Week) -> None:
    """WHO 2020: 75 to 150 vigorous minutes, or 150 to 300 moderate ones, a week."""
    row = next(r for r in table("weekly_activity.csv") if r["population"] == "adults 18-64")
    text = re.sub(r"<[^>]+>|\s+", " ", sheet(drafted))
    for kind in ("vigorous", "moderate"):
        low, high = row[f"{kind}_min_per_wk_min"], row[f"{kind}_min_per_wk_max"]
        assert re.search(rf"\b{low} to {high}\b", text), f"{kind}: {low} to {high} minutes"


@pytest.mark.slow
def test_seven_equal_days_have_no_monotony_and_the_sheet_says_so(drafted: Week) -> None:
    """Foster 1998: mean over deviation, which is nought where all days are alike."""
    sessions = tuple(drafted.sessions[0].model_copy(update={"day": day}) for day in DAYS)
    load = week_load(drafted.week, sessions, ())
    assert len(set(load.daily_au)) == 1
    assert (load.monotony, load.strain) == (None, None)
    text = re.sub(r"<[^>]+>|\s+", " ", sheet(drafted.model_copy(update={"load": load})))
    assert re.search(r"Monotony\s+none", text)
    assert re.search(r"Strain\s+none", text)


@pytest.mark.slow
def test_session_load_is_rating_times_minutes_of_the_class(drafted: Week) -> None:
    """Foster 2001; rest days count as nought."""
    for session in drafted.sessions:
        assert session.load_au == session.rating * drafted.class_minutes
    assert drafted.load.week_au == sum(drafted.load.daily_au) == sum(s.load_au for s in drafted.sessions)
    trained = {s.day for s in drafted.sessions}
    assert all(au == 0 for day, au in zip(DAYS, drafted.load.daily_au, strict=True) if day not in trained)


# -- Paces -------------------------------------------------------------------------------------------------


def test_burpee_pace_lies_between_the_means_of_men_and_women(catalogue: Catalogue) -> None:
    """Podstawski 2019: 56.69 and 48.84 in three minutes; average bands 47 to 66 and 37 to 60."""
    burpee = catalogue.movements["burpee"]
    assert rate_s("burpee, 3 min, men mean") <= burpee.pace.seconds <= rate_s("burpee, 3 min, women mean")
    assert "Podstawski 2019" in burpee.pace.source
    bands = [r for r in table("burpee_norms.csv") if r["category"] == "average"]
    assert len(bands) == 2
    for band in bands:
        assert int(band["reps_min"]) <= done_in(burpee, 180) <= int(band["reps_max"]), band["sex"]


def test_no_burpee_with_more_to_it_is_quicker(catalogue: Catalogue) -> None:
    kinds = [m for m in catalogue.movements.values() if m.id.startswith("burpee_")]
    assert len(kinds) >= 5
    best = rate_s("burpee, 3 min, best man")
    assert all(m.pace.seconds >= catalogue.movements["burpee"].pace.seconds > best for m in kinds)


def test_push_up_pace_lies_inside_the_published_rates(catalogue: Catalogue) -> None:
    """Army: 42 reps in two minutes pass, 71 are full marks (men 17-21); school and metronome cadences."""
    push_up = catalogue.movements["push_up"]
    assert rate_s("push-up, 2-min maximal (men 17-21, 100 points)") <= push_up.pace.seconds
    assert push_up.pace.seconds <= rate_s("push-up, 2-min pass (men 17-21)")
    assert rate_s("push-up, metronome test") <= push_up.pace.seconds <= rate_s("push-up, school test cadence")
    assert 42 <= done_in(push_up, 120) <= 71


@pytest.mark.parametrize(
    ("movement", "row"),
    [
        ("sit_up", "sit-up, 2-min pass (17-21)"),  # army norm
        ("back_rack_lunge", "lunge, research metronome"),  # Vezina 2012
        ("front_rack_lunge", "lunge, research metronome"),
        ("bench_press", "bench press, YMCA test"),
    ],
)
def test_paces_that_name_a_rate_have_it(catalogue: Catalogue, movement: str, row: str) -> None:
    assert catalogue.movements[movement].pace.seconds == pytest.approx(rate_s(row), abs=0.05)


def test_other_paces_lie_between_their_published_rates(catalogue: Catalogue) -> None:
    pace = {m.id: m.pace.seconds for m in catalogue.movements.values()}
    assert rate_s("step-up, YMCA test") <= pace["step_up"] <= rate_s("step-up, Queens College women")
    # Compendium 2011, 100 to 120 skips a minute, and up to 160 for the quick kind.
    assert 60 / 120 <= pace["skip_single"] <= rate_s("rope jump, slow")
    assert 60 / 160 <= pace["skip_alternate"] <= rate_s("rope jump, slow")
    # Farrar 2010 has the rests of twelve minutes in it: fresh is quicker.
    assert pace["kettlebell_swing"] < rate_s("kettlebell swing 16 kg, 12 min, men")


@pytest.mark.parametrize(
    ("movement", "row", "units"),
    [
        ("air_squat", "air squat", 1),
        ("walking_lunge", "walking lunge (per step)", 1),
        ("sit_up", "sit-up", 1),
        ("pull_up", "pull-up (unbroken)", 1),
        ("deadlift", "deadlift, light (unbroken)", 1),
        ("thruster", "thruster (unbroken)", 1),
        ("box_jump", "box jump 20-24 in", 1),
        ("medicine_ball_squat_throw", "wall-ball throw", 1),
        ("skip_double", "double-under", 1),
        ("kettlebell_swing", "kettlebell swing", 1),
        ("power_clean", "power clean, light (touch-and-go)", 1),
        ("toes_to_bar", "toes-to-bar", 1),
        ("handstand_push_up", "handstand push-up", 1),
        ("row_erg", "row 100 m (pace 2:00-2:30 per 500 m)", 100),
        ("run", "run 100 m (5:00-6:30 per km)", 100),
    ],
)
def test_paces_without_a_publication_are_inside_the_planning_range(
    catalogue: Catalogue, movement: str, row: str, units: int
) -> None:
    """Common practice: no publication was found for these."""
    low, high = map(float, RATES[f"{row} - planning range"]["seconds_per_rep"].split("-"))
    assert low <= catalogue.movements[movement].pace.seconds * units <= high


# -- Rowing ------------------------------------------------------------------------------------------------


def watts(pace_s_per_m: float) -> float:
    """The display's cube law: 2.80 over the cube of the pace; a maker's choice."""
    return 2.80 / pace_s_per_m**3


def calories_an_hour(pace_s_per_m: float) -> float:
    """Display calories, The Physics of Ergometers sec. 11: (4 kJ + 0.35 s) / 4.2."""
    return (4 * watts(pace_s_per_m) * 3.6 + 0.35 * 3600) / 4.2


def test_the_rowing_formulas_give_the_published_rows() -> None:
    rows = table("rowing_pace_power.csv")
    printed = {float(r["watts"]) for r in rows if r["status"] == "confirmed"}
    assert printed == {103.704, 142.255, 202.546, 302.343}
    for row in rows:
        pace = float(row["pace_s_per_m"])
        assert watts(pace) == pytest.approx(float(row["watts"]), abs=0.001)
        assert calories_an_hour(pace) == pytest.approx(float(row["display_kcal_per_hour"]), abs=0.06)


def test_both_rows_of_the_catalogue_are_the_same_effort(catalogue: Catalogue) -> None:
    """Metres at 2:15 per 500 m, which is 142.255 W, and calories as the display counts them there."""
    metres, calories = (catalogue.movements[m].pace for m in ("row_erg", "row_erg_calories"))
    row = next(r for r in table("rowing_pace_power.csv") if float(r["pace_s_per_m"]) == metres.seconds)
    assert row["split_mm_ss_per_500m"] == "2:15"
    assert all("2:15 per 500 m" in pace.source for pace in (metres, calories))
    assert watts(metres.seconds) == pytest.approx(142.255, abs=0.001)
    assert calories.seconds == pytest.approx(3600 / calories_an_hour(metres.seconds), abs=0.05)


# -- Masses ------------------------------------------------------------------------------------------------


def test_every_bar_takes_a_pair_of_every_disc() -> None:
    """IWF rules: bars of 20 and 15 kg, discs of 25 down to 0.5 kg, in grams and without rounding."""
    discs = [float(r["mass_kg"]) for r in table("discs.csv")]
    for bar in (float(r["mass_kg"]) for r in table("bars.csv")):
        for disc in discs:
            assert makeable(bar + 2 * disc, bar, {disc: 2}) == (bar + 2 * disc, (disc,))
        kg, side = makeable(500, bar, dict.fromkeys(discs, 2))
        assert (kg, side) == (bar + 2 * sum(discs), tuple(sorted(discs, reverse=True)))


def test_the_demo_gym_has_bars_discs_and_bells_of_published_masses(gym: Gym) -> None:
    held = {item: set(masses) for item, masses in gym.inventory.items() if isinstance(masses, dict)}
    bars = {float(r["mass_kg"]) for r in table("bars.csv")}
    discs = {float(r["mass_kg"]) for r in table("discs.csv")} | {1.25}  # not in the rules; common practice
    assert held["barbell"] == bars == {a.bar_kg for a in gym.athletes}
    assert held["plate"] <= discs
    bells = {float(r["mass_kg"]) for r in table("kettlebells.csv")}
    assert held["kettlebell"] | held["kettlebell_pair"] <= bells


# -- Weeks -------------------------------------------------------------------------------------------------


def test_dates_lie_in_their_iso_weeks() -> None:
    """ISO 8601: Monday first, and 4 January is in week 01."""
    for row in table("iso_weeks.csv"):
        day = date.fromisoformat(row["date"])
        week, weekday = row["iso_week_date"].rsplit("-", 1)
        assert week_of(day) == week
        assert (day - monday_of(week)).days + 1 == int(weekday)


def test_2026_has_53_weeks_and_2027_has_not() -> None:
    assert monday_of("2026-W53") == date(2026, 12, 28)
    assert monday_of("2027-W01") == date(2027, 1, 4)
    with pytest.raises(ValueError, match="2027 has 52 weeks"):
        monday_of("2027-W53")


def test_71_years_in_400_have_53_weeks() -> None:
    """The Gregorian cycle has 20871 weeks: 400 years of 52, and 71 more."""

    def long(year: int) -> bool:
        try:
            return bool(monday_of(f"{year}-W53"))
        except ValueError:
            return False

    assert sum(map(long, range(2000, 2400))) == 71


# -- Colours -----------------------------------------------------------------------------------------------


def test_contrast_and_its_limits_are_the_published_ones() -> None:
    """WCAG 2.2; a grey on either side of 4.5 to 1 among the rows."""
    assert (AA_TEXT, AA_GRAPHIC) == (4.5, 3)
    assert {pair.least for pair in PAIRS} == {AA_TEXT, AA_GRAPHIC}
    for row in table("contrast.csv"):
        ratio = contrast(row["foreground"], row["background"])
        assert ratio == pytest.approx(float(row["contrast"]), abs=5e-5)
        assert (ratio >= AA_TEXT) == (row["aa_text"] == "yes")
        assert (ratio >= AA_GRAPHIC) == (row["aa_large_or_ui"] == "yes")


# -- Order: power before strength before endurance ---------------------------------------------------------


def test_the_sources_of_the_order() -> None:
    rows = {r["value"]: r["source"] for r in table("exercise_order.csv")}
    assert "NSCA Essentials" in rows["power, then other core, then assistance"]
    assert any("resistance first" in value and "Eddens" in source for value, source in rows.items())


def test_power_is_only_ever_the_main_lift(catalogue: Catalogue) -> None:
    """So nothing comes before it but the warm-up. NSCA Essentials ch. 17."""
    power = [s for s in catalogue.schemes.values() if s.goal == "power"]
    for movement in catalogue.movements.values():
        assert not any(suits(movement, scheme, "assistance") for scheme in power), movement.id
        if "power" in movement.goals:
            assert "assistance" not in movement.roles, f"{movement.id} would come after a strength lift"


def test_strength_comes_before_conditioning_on_every_class_clock(catalogue: Catalogue) -> None:
    """Eddens 2018: strength first gains 6.91 % more lower-body strength. Held for every scheme and shape."""
    for scheme in catalogue.schemes.values():
        for shape in catalogue.shapes.values():
            pieces = (
                ("strength", strength_minutes(scheme, assistance=True)),
                ("conditioning", shape.cap_minutes),
            )
            starts = {e.label: e.start_minute for e in class_clock(pieces)}
            assert starts["Warm-up"] < starts["Strength"] < starts["Conditioning"], (scheme.id, shape.id)


@pytest.mark.slow
def test_the_drafted_week_is_in_order(drafted: Week, catalogue: Catalogue) -> None:
    order = ("warm_up", "strength", "conditioning", "cool_down")
    for session in drafted.sessions:
        kinds = [p.kind for p in session.pieces]
        assert kinds == sorted(kinds, key=order.index)
        for piece in session.pieces:
            for version in piece.versions.values():
                beside = [line.assistance for line in version.lines]
                assert beside == sorted(beside), "the main lift comes before what is done beside it"
                goals = [catalogue.schemes[x.scheme].goal if x.scheme else "" for x in version.lines]
                assert "power" not in goals[1:]
