"""An invented week of six days and four kit versions, as full as a real one, for the sheets' tests."""

from __future__ import annotations

from typing import Any

from planner.domain.gym import DAYS
from planner.domain.week import Week

KITS = [
    {"id": "gym_floor", "name": "Gym floor", "contains": "everything the gym owns"},
    {
        "id": "home_barbell",
        "name": "Barbell at home",
        "contains": "a barbell, bumper plates and a rope; no rack",
    },
    {"id": "one_plate", "name": "One plate", "contains": "a single plate, 15 kg or 10 kg"},
    {"id": "no_kit", "name": "Nothing at all", "contains": "a floor, a wall and a step"},
]
ATHLETES = [
    {"id": "man", "name": "Men", "lifts": "back squat 120 kg, deadlift 150 kg, strict press 60 kg"},
    {"id": "woman", "name": "Women", "lifts": "back squat 80 kg, deadlift 100 kg, strict press 38 kg"},
]

# id: name, patterns, modality, standard, points, faults, easier (name, how), cautions
MOVES: dict[str, tuple[Any, ...]] = {
    "back_squat": (
        "Back squat",
        {"squat": 100},
        "loaded",
        "hip crease below the top of the knee, then hips and knees straight",
        ("Brace before each rep", "Knees follow the toes"),
        ("Heels lift", "Chest falls forward out of the bottom"),
        (("Box squat", "to a box at knee height, same load or less"),),
        (),
    ),
    "front_squat": (
        "Front squat",
        {"squat": 100},
        "loaded",
        "hip crease below the top of the knee with the bar on the shoulders, then stand tall",
        ("Elbows high", "Sit between the heels"),
        ("Elbows drop",),
        (("Goblet squat", "one dumbbell held at the chest"),),
        ("Release the grip to two fingers if the wrists complain",),
    ),
    "plate_squat": (
        "Plate squat, held out in front",
        {"squat": 80, "trunk": 20},
        "loaded",
        "hip crease below the top of the knee with the plate at arm's length, then stand tall",
        ("Ribs down", "Slow on the way down"),
        ("Plate drifts to the chest",),
        (("Plate squat at the chest", "hug the plate"),),
        (),
    ),
    "tempo_squat": (
        "Air squat, three seconds down",
        {"squat": 100},
        "bodyweight",
        "hip crease below the top of the knee, then hips and knees straight",
        ("Count to three on the way down", "Whole foot on the floor"),
        ("Bouncing out of the bottom",),
        (("Squat to a chair", "touch and stand"),),
        (),
    ),
    "deadlift": (
        "Deadlift",
        {"hinge": 100},
        "loaded",
        "plates on the floor at the start, hips and knees straight at the top",
        ("Bar stays against the legs", "Back flat from the floor"),
        ("Hips shoot up first",),
        (("Deadlift from blocks", "plates raised to mid-shin"),),
        ("Stop the set when the back rounds",),
    ),
    "plate_hinge": (
        "Plate good morning",
        {"hinge": 100},
        "loaded",
        "trunk near level with a flat back, then stand tall",
        ("Hips go back first",),
        ("Knees lock",),
        (("Hip hinge to a wall", "no plate"),),
        (),
    ),
    "single_leg_hinge": (
        "Single-leg hinge",
        {"hinge": 80, "lunge": 20},
        "bodyweight",
        "back leg and trunk in one line near level, then stand tall without the other foot down",
        ("Hips stay square",),
        ("Back hip opens",),
        (("Kickstand hinge", "toes of the back foot stay down"),),
        (),
    ),
    "strict_press": (
        "Strict press",
        {"vertical_push": 100},
        "loaded",
        "bar from the shoulders to overhead, elbows locked, no help from the legs",
        ("Squeeze the glutes", "Head through at the top"),
        ("Leaning back",),
        (("Seated dumbbell press", "two lighter dumbbells"),),
        (),
    ),
    "pike_press": (
        "Pike press-up",
        {"vertical_push": 90, "trunk": 10},
        "bodyweight",
        "head touches the floor ahead of the hands, elbows locked at the top",
        ("Hips stay high",),
        ("Hips sink",),
        (("Pike press-up, hands on a step", "higher hands, easier"),),
        (),
    ),
    "plate_press": (
        "Plate press",
        {"vertical_push": 100},
        "loaded",
        "plate from the chin to overhead, elbows locked",
        ("Ribs down",),
        (),
        (("Plate push press", "a dip of the knees"),),
        (),
    ),
    "bench_press": (
        "Bench press",
        {"horizontal_push": 100},
        "loaded",
        "bar touches the chest, elbows locked at the top, hips on the bench",
        ("Feet planted", "Shoulder blades together"),
        ("Bouncing off the chest",),
        (("Dumbbell floor press", "from the floor, shorter range"),),
        ("Always with a spotter or safety arms",),
    ),
    "floor_press": (
        "Barbell floor press",
        {"horizontal_push": 100},
        "loaded",
        "upper arms touch the floor, elbows locked at the top",
        ("Pause on the floor",),
        (),
        (("Press-up", "hands on a bench"),),
        (),
    ),
    "push_up": (
        "Press-up",
        {"horizontal_push": 90, "trunk": 10},
        "bodyweight",
        "chest touches the floor, elbows locked at the top, body in one line",
        ("Elbows at 45 degrees",),
        ("Hips sag",),
        (("Press-up from a box", "hands at knee height"),),
        (),
    ),
    "pull_up": (
        "Pull-up",
        {"vertical_pull": 100},
        "bodyweight",
        "arms straight at the bottom, chin over the bar at the top",
        ("Shoulders down first",),
        ("Half reps",),
        (
            ("Ring row", "walk the feet back until the sets go unbroken"),
            ("Jumping pull-up", "slow on the way down"),
        ),
        ("Stop if the skin of the palm lifts",),
    ),
    "bent_row": (
        "Bent-over row",
        {"horizontal_pull": 100},
        "loaded",
        "bar from straight arms to the belly, back flat",
        ("Trunk stays still",),
        ("Standing up with each rep",),
        (("One-arm row", "a hand on a bench"),),
        (),
    ),
    "plate_row": (
        "Plate row",
        {"horizontal_pull": 100},
        "loaded",
        "plate from straight arms to the ribs, back flat",
        ("Elbows close",),
        (),
        (("Band row", "a light band"),),
        (),
    ),
    "table_row": (
        "Row under a table",
        {"horizontal_pull": 100},
        "bodyweight",
        "chest to the edge, arms straight at the bottom, body in one line",
        ("Check that the table holds",),
        (),
        (("Row with bent knees", "feet closer"),),
        ("Only under a table that cannot tip",),
    ),
    "wall_ball": (
        "Wall ball",
        {"squat": 60, "vertical_push": 40},
        "loaded",
        "hip crease below the knee, ball hits the line",
        ("Catch and sit in one movement",),
        ("Catching with straight legs",),
        (("Wall ball to a lower line", "30 cm lower"),),
        (),
    ),
    "thruster": (
        "Thruster",
        {"squat": 50, "vertical_push": 50},
        "loaded",
        "hip crease below the knee, bar locked out overhead in one movement",
        ("Drive before pressing",),
        ("Pressing early",),
        (("Front squat and press", "in two movements"),),
        (),
    ),
    "row": (
        "Row",
        {"cyclic": 100},
        "cyclic",
        "the monitor shows the distance",
        ("Legs, trunk, arms", "Hold one pace"),
        (),
        (("Shorter distance", "a fifth less"),),
        (),
    ),
    "run": (
        "Run",
        {"cyclic": 100},
        "cyclic",
        "to the turning point and back",
        ("Quick, short steps",),
        (),
        (("Brisk walk", "same time"),),
        ("Look before crossing",),
    ),
    "rope": (
        "Rope skip",
        {"jump": 60, "cyclic": 40},
        "cyclic",
        "the rope passes under both feet",
        ("Turn from the wrists",),
        (),
        (("Side-to-side hops", "without a rope"),),
        (),
    ),
    "burpee": (
        "Burpee",
        {"horizontal_push": 40, "jump": 40, "trunk": 20},
        "bodyweight",
        "chest on the floor, then a jump with the hands over the head",
        ("Step down if you must, keep moving",),
        (),
        (("Burpee without the jump", "step in and stand tall"),),
        (),
    ),
    "box_jump": (
        "Box jump",
        {"jump": 100},
        "bodyweight",
        "both feet on the box, hips straight on top; step down",
        ("Land softly",),
        ("Jumping down",),
        (("Step-up", "same box"),),
        ("Step down, do not jump down",),
    ),
    "lunge": (
        "Walking lunge",
        {"lunge": 100},
        "bodyweight",
        "back knee touches the floor, stand tall between steps",
        ("Long enough for an upright shin",),
        (),
        (("Split squat", "on the spot, a hand on a wall"),),
        (),
    ),
    "farmers": (
        "Farmer's carry",
        {"carry": 100},
        "loaded",
        "a load in each hand, standing tall for the whole distance",
        ("Short steps", "Shoulders back"),
        (),
        (("Lighter carry", "same distance"),),
        ("Bend the knees to pick up and to put down",),
    ),
    "suitcase": (
        "Suitcase carry with a full rucksack",
        {"carry": 90, "trunk": 10},
        "bodyweight",
        "load in one hand, trunk upright, change hands half-way",
        ("Do not lean",),
        (),
        (("Lighter rucksack", "half the load"),),
        (),
    ),
    "plate_carry": (
        "Plate carry overhead",
        {"carry": 80, "vertical_push": 20},
        "loaded",
        "plate over the head on straight arms for the whole distance",
        ("Ribs down",),
        (),
        (("Plate at the chest", "hug it"),),
        (),
    ),
    "sit_up": (
        "Sit-up",
        {"trunk": 100},
        "bodyweight",
        "shoulder blades touch the floor, hands touch the feet",
        ("Smooth, not thrown",),
        (),
        (("Dead bug", "slow"),),
        (),
    ),
    "swing": (
        "Kettlebell swing",
        {"hinge": 100},
        "loaded",
        "bell to eye level, hips and knees straight",
        ("Snap the hips", "Arms are ropes"),
        ("Squatting the swing",),
        (("Deadlift with the bell", "same bell"),),
        (),
    ),
}

REST_OF_FLOOR = {"barbell": ("barbell", "plates"), "none": ()}


def _loads(man: float, woman: float, kind: str, percent: int | None) -> list[dict[str, Any]]:
    def one(athlete: str, kg: float) -> dict[str, Any]:
        figure = f"{kg:g}"
        text = {
            "bar": f"{figure} kg",
            "plate": f"{figure} kg plate",
            "pair": f"2 x {figure} kg",
            "ball": f"{figure} kg ball",
        }
        bar = 20 if athlete == "man" else 15
        side, left = [], (kg - bar) / 2
        for disc in (20, 15, 10, 5, 2.5, 1.25):
            while kind == "bar" and left >= disc - 1e-9:
                side.append(disc)
                left -= disc
        return {"athlete": athlete, "kg": kg, "text": text[kind], "per_side_kg": side, "percent_1rm": percent}

    return [one("man", man), one("woman", woman)]


def line(move: str, dose: str, value: int, **more: Any) -> dict[str, Any]:
    """One line; ``load`` is (man, woman, kind, percent)."""
    name, patterns, modality, standard, points, faults, easier, cautions = MOVES[move]
    load = more.pop("load", None)
    unit = "metres" if dose.endswith(" m") else "seconds" if dose.endswith(" s") else "reps"
    per_side = "each side" in dose
    rounds = more.pop("rounds", 1)
    return {
        "movement": move,
        "name": name,
        "patterns": patterns,
        "modality": modality,
        "tier": "heavy" if load and (load[3] or 0) >= 75 else "open",
        "dose": {"value": value, "unit": unit, "sides": "per_side" if per_side else "both", "text": dose},
        "total": value * (more.get("sets") or rounds),
        "loads": _loads(*load) if load else [],
        "standard": standard,
        "points": points,
        "faults": faults,
        "easier": [{"name": n, "how": h} for n, h in easier],
        "too_heavy": "Take a tenth off if the last reps slow down; add a tenth next week if they do not."
        if load
        else "",
        "cautions": cautions,
        "seconds": value * 3,
        **more,
    }


def strength(title: str, stimulus: str, lines: list[dict[str, Any]], **more: Any) -> dict[str, Any]:
    return {
        "kind": "strength",
        "title": title,
        "stimulus": stimulus,
        "minutes": 20,
        "score": "the heaviest set",
        "how": "Work up in the build-up sets, then all work sets at the same load",
        "floor_setup": ("Four racks, three athletes to a rack.", "One works, one loads, one rests."),
        "versions": {
            kit["id"]: {
                "kit": kit["id"],
                "lines": each if isinstance(each, list) else [each],
                **({"note": "Every bar starts from the floor"} if kit["id"] == "home_barbell" else {}),
            }
            for kit, each in zip(KITS, lines, strict=True)
        },
        **more,
    }


def conditioning(
    title: str, domain: str, cap: int | None, lines: list[list[dict[str, Any]]], **more: Any
) -> dict[str, Any]:
    rounds = cap is None
    times = more.pop("times", (55, 48, 39) if rounds else (400, 520, 690))
    versions = {}
    for i, (kit, each) in enumerate(zip(KITS, lines, strict=True)):
        quick, typical, slow = (t + (2 if rounds else 15) * i for t in times)
        said = (
            f"{quick / 10} rounds quick, {slow / 10} slow"
            if rounds
            else f"{quick // 60}:{quick % 60:02d} quick, {slow // 60}:{slow % 60:02d} slow"
        )
        versions[kit["id"]] = {
            "kit": kit["id"],
            "lines": each,
            "prediction": {
                "unit": "tenths_of_rounds" if rounds else "seconds",
                "quick": quick,
                "typical": typical,
                "slow": slow,
                "text": said,
            },
        }
    return {
        "kind": "conditioning",
        "title": title,
        "stimulus": "steady and hard: a pace you can hold to the last round",
        "how": "Everyone starts together; finish a round before starting the next",
        "score": "time, or rounds and reps at the cap",
        "minutes": (cap or 14) + 1,
        "cap_minutes": cap,
        "domain": domain,
        "rounds": more.pop("rounds", None if cap is None else 4),
        "floor_setup": ("Rowers along the window, six of them, two athletes to each.",),
        "versions": versions,
        **more,
    }


WARM_UP = {
    "kind": "warm_up",
    "title": "Raise, wake up, loosen, sharpen",
    "stimulus": "warm, and ready for the first heavy set",
    "minutes": 12,
    "drills": [
        {
            "drill": "easy_row",
            "name": "Easy row or jog",
            "phase": "raise",
            "dose": "3 min",
            "prepares": ["pulse"],
            "point": "you can still talk",
            "seconds": 180,
        },
        {
            "drill": "bridge",
            "name": "Glute bridge",
            "phase": "activate",
            "dose": "10 reps",
            "prepares": ["hips"],
            "point": "pause at the top",
            "seconds": 40,
        },
        {
            "drill": "bug",
            "name": "Dead bug",
            "phase": "activate",
            "dose": "6 each side",
            "prepares": ["trunk"],
            "seconds": 40,
        },
        {
            "drill": "ankle",
            "name": "Ankle rock",
            "phase": "mobilise",
            "dose": "8 each side",
            "prepares": ["ankles"],
            "point": "heel down",
            "seconds": 50,
        },
        {
            "drill": "thoracic",
            "name": "Upper back turn on all fours",
            "phase": "mobilise",
            "dose": "6 each side",
            "prepares": ["thoracic_spine"],
            "seconds": 50,
        },
        {
            "drill": "goblet",
            "name": "Goblet squat, light",
            "phase": "potentiate",
            "dose": "5 reps",
            "prepares": ["hips"],
            "point": "quick out of the bottom",
            "seconds": 30,
        },
    ],
}
COOL_DOWN = {
    "kind": "cool_down",
    "title": "Slow down and let go",
    "stimulus": "breathing back to normal before the door",
    "minutes": 5,
    "drills": [
        {
            "drill": "walk",
            "name": "Easy walk",
            "phase": "raise",
            "dose": "2 min",
            "prepares": ["pulse"],
            "seconds": 120,
        },
        {
            "drill": "couch",
            "name": "Half-kneeling hip stretch",
            "phase": "mobilise",
            "dose": "45 s each side",
            "prepares": ["hips"],
            "point": "breathe out slowly",
            "seconds": 90,
        },
    ],
}


def _day(  # noqa: PLR0917
    index: int,
    title: str,
    rating: int,
    hard: str,
    pieces: list[dict[str, Any]],
    patterns: dict[str, int],
    **more: Any,
) -> dict[str, Any]:
    work = next(p["minutes"] for p in pieces if p["kind"] == "conditioning")
    lift = any(p["kind"] == "strength" for p in pieces)
    blocks = [
        ("Brief", 3),
        ("Warm-up", 12),
        *(
            [("Strength", min(20, 37 - work)), ("Change over", 3)]
            if lift
            else [("Practice", min(10, 40 - work))]
        ),
        ("Conditioning", work),
        ("Cool-down", 5),
    ]
    clock, at = [], 0
    for label, minutes in blocks:
        clock.append({"label": label, "start_minute": at, "minutes": minutes})
        at += minutes
    words = {4: "somewhat hard", 3: "moderate", 5: "hard", 6: "hard", 7: "very hard", 8: "very hard"}[rating]
    return {
        "day": DAYS[index],
        "date": f"2025-12-{index + 1:02d}",
        "title": title,
        "pieces": [WARM_UP, *pieces, COOL_DOWN],
        "clock": clock,
        "rating": rating,
        "rating_words": words,
        "load_au": rating * 60,
        "hardness": hard,
        "patterns": patterns,
        "contacts": patterns.get("jump", 0) * 24,
        **more,
    }


def sample_dict() -> dict[str, Any]:
    """The sample as plain data, to be changed by a test before it is checked."""
    work = {"sets": 5, "rest_s": 150, "reserve": 2}
    row_load: dict[str, Any] = {"load": (42.5, 30, "bar", 50), "start": "from the floor"}
    for_row: dict[str, Any] = {"stands_for": "Bent-over row"}
    monday = _day(
        0,
        "Heavy squat, short and sharp after",
        7,
        "hard",
        [
            strength(
                "Five sets of five across",
                "maximal strength in the legs",
                [
                    line(
                        "back_squat",
                        "5 reps",
                        5,
                        load=(95, 62.5, "bar", 79),
                        start="from the rack",
                        **work,
                        build_up="build up: 5 at 60 / 40 kg, 3 at 80 / 52.5 kg",
                    ),
                    line(
                        "front_squat",
                        "5 reps",
                        5,
                        load=(70, 47.5, "bar", 74),
                        start="from the floor",
                        stands_for="Back squat",
                        how="clean it to the shoulders; the clean sets the load",
                        substitution_cost=12,
                        **work,
                    ),
                    line(
                        "plate_squat",
                        "12 reps",
                        12,
                        load=(15, 10, "plate", None),
                        stands_for="Back squat",
                        substitution_cost=30,
                        how="three seconds down",
                        sets=5,
                        rest_s=90,
                        reserve=2,
                    ),
                    line(
                        "tempo_squat",
                        "15 reps",
                        15,
                        stands_for="Back squat",
                        substitution_cost=40,
                        sets=5,
                        rest_s=60,
                        reserve=3,
                    ),
                ],
            ),
            conditioning(
                "16-12-8 for time",
                "short",
                9,
                [
                    [
                        line("bent_row", "16-12-8", 16, total=36, **row_load),
                        line("burpee", "16-12-8", 16, total=36),
                    ],
                    [
                        line("bent_row", "16-12-8", 16, total=36, **row_load),
                        line("burpee", "16-12-8", 16, total=36),
                    ],
                    [
                        line("plate_row", "24-18-12", 24, total=54, load=(15, 10, "plate", None), **for_row),
                        line("burpee", "16-12-8", 16, total=36),
                    ],
                    [
                        line("table_row", "16-12-8", 16, total=36, **for_row),
                        line("burpee", "16-12-8", 16, total=36),
                    ],
                ],
                ladder=(16, 12, 8),
                rounds=1,
                times=(210, 320, 500),
            ),
        ],
        {"squat": 1, "horizontal_pull": 1, "horizontal_push": 1, "jump": 1},
        cautions=("Heavy squats again on Friday at the earliest",),
    )
    tuesday = _day(
        1,
        "Press and a long row",
        5,
        "medium",
        [
            strength(
                "Four sets of six across",
                "strength overhead",
                [
                    line(
                        "strict_press",
                        "6 reps",
                        6,
                        load=(45, 27.5, "bar", 75),
                        start="from the rack",
                        **{**work, "sets": 4},
                    ),
                    line(
                        "strict_press",
                        "6 reps",
                        6,
                        load=(45, 27.5, "bar", 75),
                        start="from the floor",
                        **{**work, "sets": 4},
                        how="clean it first",
                    ),
                    line(
                        "plate_press",
                        "12 reps",
                        12,
                        load=(15, 10, "plate", None),
                        stands_for="Strict press",
                        sets=4,
                        rest_s=60,
                    ),
                    line("pike_press", "8 reps", 8, stands_for="Strict press", sets=4, rest_s=90),
                ],
            ),
            conditioning(
                "Five rounds for time",
                "long",
                24,
                [
                    [
                        line("row", "500 m", 500, rounds=5),
                        line("farmers", "60 m", 60, load=(24, 16, "pair", None), rounds=5),
                        line("sit_up", "20 reps", 20, rounds=5),
                    ],
                    [
                        line("run", "400 m", 400, stands_for="Row", rounds=5),
                        line(
                            "deadlift",
                            "12 reps",
                            12,
                            load=(60, 40, "bar", 40),
                            stands_for="Farmer's carry",
                            rounds=5,
                        ),
                        line("sit_up", "20 reps", 20, rounds=5),
                    ],
                    [
                        line("run", "400 m", 400, stands_for="Row", rounds=5),
                        line(
                            "plate_carry",
                            "60 m",
                            60,
                            load=(15, 10, "plate", None),
                            stands_for="Farmer's carry",
                            rounds=5,
                        ),
                        line("sit_up", "20 reps", 20, rounds=5),
                    ],
                    [
                        line("run", "400 m", 400, stands_for="Row", rounds=5),
                        line("suitcase", "60 m", 60, stands_for="Farmer's carry", rounds=5),
                        line("sit_up", "20 reps", 20, rounds=5),
                    ],
                ],
                rounds=5,
                times=(960, 1140, 1380),
            ),
        ],
        {"vertical_push": 1, "cyclic": 1, "carry": 1, "trunk": 1},
    )
    wednesday = _day(
        2,
        "Easy legs and lungs",
        3,
        "easy",
        [
            conditioning(
                "As many rounds as possible in 14 minutes",
                "medium",
                None,
                [
                    [
                        line("rope", "60 reps", 60),
                        line("lunge", "10 each side", 10),
                        line("push_up", "10 reps", 10),
                    ],
                    [
                        line("rope", "60 reps", 60),
                        line("lunge", "10 each side", 10),
                        line("push_up", "10 reps", 10),
                    ],
                    [
                        line("run", "100 m", 100, stands_for="Rope skip"),
                        line("lunge", "10 each side", 10),
                        line("push_up", "10 reps", 10),
                    ],
                    [
                        line("run", "100 m", 100, stands_for="Rope skip"),
                        line("lunge", "10 each side", 10),
                        line("push_up", "10 reps", 10),
                    ],
                ],
            ),
        ],
        {"jump": 1, "cyclic": 1, "lunge": 1, "horizontal_push": 1},
    )
    thursday = _day(
        3,
        "Heavy hinge, then run",
        8,
        "hard",
        [
            strength(
                "Five sets of three, rising",
                "maximal strength from the floor",
                [
                    line(
                        "deadlift",
                        "3 reps",
                        3,
                        load=(130, 87.5, "bar", 87),
                        start="from the floor",
                        sets=5,
                        rest_s=180,
                        reserve=1,
                        build_up="build up: 5 at 70 / 45 kg, 3 at 100 / 65 kg, 1 at 120 / 80 kg",
                    ),
                    line(
                        "deadlift",
                        "3 reps",
                        3,
                        load=(130, 87.5, "bar", 87),
                        start="from the floor",
                        sets=5,
                        rest_s=180,
                        reserve=1,
                    ),
                    line(
                        "plate_hinge",
                        "15 reps",
                        15,
                        load=(15, 10, "plate", None),
                        stands_for="Deadlift",
                        sets=5,
                        rest_s=60,
                        how="three seconds down",
                    ),
                    line("single_leg_hinge", "10 each side", 10, stands_for="Deadlift", sets=5, rest_s=60),
                ],
            ),
            conditioning(
                "Four rounds for time",
                "medium",
                14,
                [
                    [
                        line("run", "400 m", 400, rounds=4),
                        line("wall_ball", "20 reps", 20, load=(9, 6, "ball", None), rounds=4),
                        line("pull_up", "10 reps", 10, rounds=4),
                    ],
                    [
                        line("run", "400 m", 400, rounds=4),
                        line(
                            "thruster",
                            "12 reps",
                            12,
                            load=(40, 27.5, "bar", 50),
                            stands_for="Wall ball",
                            rounds=4,
                        ),
                        line(
                            "bent_row",
                            "12 reps",
                            12,
                            load=(40, 27.5, "bar", 50),
                            stands_for="Pull-up",
                            rounds=4,
                        ),
                    ],
                    [
                        line("run", "400 m", 400, rounds=4),
                        line(
                            "plate_squat",
                            "20 reps",
                            20,
                            load=(15, 10, "plate", None),
                            stands_for="Wall ball",
                            rounds=4,
                        ),
                        line(
                            "plate_row",
                            "15 reps",
                            15,
                            load=(15, 10, "plate", None),
                            stands_for="Pull-up",
                            rounds=4,
                        ),
                    ],
                    [
                        line("run", "400 m", 400, rounds=4),
                        line("tempo_squat", "20 reps", 20, stands_for="Wall ball", rounds=4),
                        line("table_row", "10 reps", 10, stands_for="Pull-up", rounds=4),
                    ],
                ],
            ),
        ],
        {"hinge": 1, "cyclic": 1, "squat": 1, "vertical_push": 1, "vertical_pull": 1},
    )
    friday = _day(
        4,
        "Bench and pull",
        5,
        "medium",
        [
            strength(
                "Three sets of eight across",
                "size and strength in chest and back",
                [
                    [
                        line(
                            "bench_press",
                            "8 reps",
                            8,
                            load=(65, 37.5, "bar", 70),
                            start="from the rack",
                            sets=3,
                            rest_s=120,
                            reserve=2,
                        ),
                        line(
                            "bent_row",
                            "10 reps",
                            10,
                            load=(50, 32.5, "bar", None),
                            start="from the floor",
                            sets=3,
                            rest_s=60,
                            assistance=True,
                        ),
                    ],
                    [
                        line(
                            "floor_press",
                            "8 reps",
                            8,
                            load=(60, 35, "bar", 68),
                            start="from the floor",
                            stands_for="Bench press",
                            sets=3,
                            rest_s=120,
                            reserve=2,
                        ),
                        line(
                            "bent_row",
                            "10 reps",
                            10,
                            load=(50, 32.5, "bar", None),
                            start="from the floor",
                            sets=3,
                            rest_s=60,
                            assistance=True,
                        ),
                    ],
                    [
                        line("push_up", "15 reps", 15, stands_for="Bench press", sets=3, rest_s=60),
                        line(
                            "plate_row",
                            "12 reps",
                            12,
                            load=(15, 10, "plate", None),
                            stands_for="Bent-over row",
                            sets=3,
                            rest_s=60,
                            assistance=True,
                        ),
                    ],
                    [
                        line("push_up", "15 reps", 15, stands_for="Bench press", sets=3, rest_s=60),
                        line(
                            "table_row",
                            "10 reps",
                            10,
                            stands_for="Bent-over row",
                            sets=3,
                            rest_s=60,
                            assistance=True,
                        ),
                    ],
                ],
            ),
            conditioning(
                "Every minute for twelve minutes",
                "medium",
                None,
                [
                    [
                        line("swing", "15 reps", 15, load=(24, 16, "ball", None)),
                        line("box_jump", "10 reps", 10),
                        line("sit_up", "15 reps", 15),
                    ],
                    [
                        line(
                            "deadlift", "12 reps", 12, load=(60, 40, "bar", 40), stands_for="Kettlebell swing"
                        ),
                        line("burpee", "8 reps", 8, stands_for="Box jump"),
                        line("sit_up", "15 reps", 15),
                    ],
                    [
                        line(
                            "plate_hinge",
                            "15 reps",
                            15,
                            load=(15, 10, "plate", None),
                            stands_for="Kettlebell swing",
                        ),
                        line("burpee", "8 reps", 8, stands_for="Box jump"),
                        line("sit_up", "15 reps", 15),
                    ],
                    [
                        line("single_leg_hinge", "6 each side", 6, stands_for="Kettlebell swing"),
                        line("burpee", "8 reps", 8, stands_for="Box jump"),
                        line("sit_up", "15 reps", 15),
                    ],
                ],
            ),
        ],
        {"horizontal_push": 2, "horizontal_pull": 2, "hinge": 1, "jump": 1, "trunk": 1},
    )
    saturday = _day(
        5,
        "A long one together",
        6,
        "medium",
        [
            conditioning(
                "Chipper for time",
                "long",
                30,
                [
                    [
                        line("run", "800 m", 800),
                        line("lunge", "30 each side", 30),
                        line("burpee", "40 reps", 40),
                        line("wall_ball", "50 reps", 50, load=(9, 6, "ball", None)),
                        line("row", "1000 m", 1000),
                    ],
                    [
                        line("run", "800 m", 800),
                        line("lunge", "30 each side", 30),
                        line("burpee", "40 reps", 40),
                        line("thruster", "30 reps", 30, load=(30, 20, "bar", 40), stands_for="Wall ball"),
                        line("run", "800 m", 800, stands_for="Row"),
                    ],
                    [
                        line("run", "800 m", 800),
                        line("lunge", "30 each side", 30),
                        line("burpee", "40 reps", 40),
                        line(
                            "plate_press", "50 reps", 50, load=(15, 10, "plate", None), stands_for="Wall ball"
                        ),
                        line("run", "800 m", 800, stands_for="Row"),
                    ],
                    [
                        line("run", "800 m", 800),
                        line("lunge", "30 each side", 30),
                        line("burpee", "40 reps", 40),
                        line("tempo_squat", "50 reps", 50, stands_for="Wall ball"),
                        line("run", "800 m", 800, stands_for="Row"),
                    ],
                ],
                rounds=1,
                times=(1260, 1500, 1740),
            ),
        ],
        {"cyclic": 2, "lunge": 1, "squat": 1, "vertical_push": 1, "jump": 2, "horizontal_push": 1},
    )
    sessions = [monday, tuesday, wednesday, thursday, friday, saturday]
    daily = [s["load_au"] for s in sessions] + [0]
    return {
        "week": "2025-W49",
        "monday": "2025-12-01",
        "gym": "Millpond Strength Hall",
        "invented": True,
        "class_size": 12,
        "class_minutes": 60,
        "timezone": "Europe/Vienna",
        "class_start": "18:00",
        "kits": KITS,
        "athletes": ATHLETES,
        "sessions": sessions,
        "balance": {
            "patterns": {s["day"]: s["patterns"] for s in sessions},
            "domains": {
                s["day"]: p["domain"] for s in sessions for p in s["pieces"] if p["kind"] == "conditioning"
            },
            "modality": {"loaded": 6, "bodyweight": 8, "cyclic": 6},
        },
        "load": {
            "daily_au": daily,
            "week_au": sum(daily),
            "monotony": 1.74,
            "strain": 3549.6,
            "last_weeks_au": [1980, 1920, 2040, 1860],
            "change_percent": 5,
            "vigorous_minutes": 25,
            "moderate_minutes": 187,
        },
        "rules": _rules(),
        "proof": {
            "tiers": [
                {
                    "name": "Weighted rules",
                    "objective": 57,
                    "bound": 57,
                    "gap": 0.0,
                    "status": "proved",
                    "seconds": 6.2,
                },
                {
                    "name": "Closeness of the kit versions",
                    "objective": 212,
                    "bound": 212,
                    "gap": 0.0,
                    "status": "proved",
                    "seconds": 1.1,
                },
                {
                    "name": "Coach's wishes",
                    "objective": 3,
                    "bound": 2,
                    "gap": 0.3333,
                    "status": "not proved",
                    "seconds": 10.0,
                },
            ],
            "seed": 7,
            "solver": "CP-SAT 9.14",
            "seconds": 18.4,
            "variables": 18423,
            "constraints": 60211,
        },
        "cautions": (
            "Loads suit someone who has trained for a year; take less if you are new, ill, pregnant or back.",
            "Pain that is sharp, or that changes how you move, ends the set.",
            "Dark urine or swelling after hard work: see a doctor the same day.",
        ),
        "inputs_digest": "9f2c" * 16,
    }


def _rules() -> list[dict[str, Any]]:
    must = [
        (
            "heavy-squat-rest",
            "spacing",
            "two heavy squat days are at least 48 hours apart",
            "hard work on the same pattern needs two days",
            "ACSM 2009",
            "hours",
        ),
        (
            "racks",
            "capacity",
            "no more than three athletes to a rack",
            "more than three wait longer than they rest",
            "",
            "racks",
        ),
        ("class-clock", "fit", "the class fits in 60 minutes", "people have trains to catch", "", "minutes"),
        (
            "hard-days",
            "sequence",
            "never three hard days in a row",
            "the third is done badly",
            "common practice",
            "days",
        ),
        (
            "one-bar",
            "together",
            "one loaded implement an athlete and piece",
            "nobody changes plates against the clock",
            "",
            "implements",
        ),
    ]
    rules = [
        {
            "id": i,
            "kind": k,
            "level": "must",
            "weight": 0,
            "statement": s,
            "because": b,
            "source": src,
            "unit": u,
            "checked": 6,
            "measure": 0,
            "cost": 0,
            "places": [],
        }
        for i, k, s, b, src, u in must
    ]
    rules += [
        {
            "id": "push-pull",
            "kind": "share",
            "level": "weight",
            "weight": 8,
            "statement": "push and pull are even over the week",
            "because": "shoulders like it",
            "source": "common practice",
            "unit": "exposures",
            "checked": 1,
            "measure": 4,
            "cost": 32,
            "places": [{"place": "week", "measure": 4, "sentence": "8 pushes against 4 pulls, 4 apart"}],
            "remedy": "swap the burpees on Saturday for ring rows",
        },
        {
            "id": "fresh-movements",
            "kind": "rotate",
            "level": "weight",
            "weight": 5,
            "statement": "conditioning repeats no movement of last week",
            "because": "variety keeps people coming",
            "source": "",
            "unit": "movements",
            "checked": 20,
            "measure": 5,
            "cost": 25,
            "places": [
                {"place": "tue", "measure": 1, "sentence": "the row on Tuesday was there last Thursday"},
                {"place": "sat", "measure": 4, "sentence": "four movements on Saturday were there last week"},
            ],
            "remedy": "keep the bikes free on Saturday",
        },
        {
            "id": "midweek-easy",
            "kind": "sequence",
            "level": "weight",
            "weight": 10,
            "statement": "an easy or free day in the middle of the week",
            "because": "it lets the second half be hard",
            "source": "common practice",
            "unit": "days",
            "checked": 1,
            "measure": 0,
            "cost": 0,
            "places": [],
        },
        {
            "id": "landings",
            "kind": "limit",
            "level": "watch",
            "weight": 0,
            "statement": "landing contacts stay under 120 a day",
            "because": "shins and Achilles tendons are slow to adapt",
            "source": "from memory",
            "unit": "contacts",
            "checked": 6,
            "measure": 0,
            "cost": 0,
            "places": [],
        },
        {
            "id": "grip-days",
            "kind": "limit",
            "level": "watch",
            "weight": 0,
            "statement": "no more than three days that are hard on the grip",
            "because": "palms need days too",
            "source": "",
            "unit": "days",
            "checked": 1,
            "measure": 1,
            "cost": 0,
            "places": [{"place": "week", "measure": 1, "sentence": "four days are hard on the grip"}],
        },
    ]
    return rules


def sample_week() -> Week:
    """The sample, checked."""
    return Week.model_validate(sample_dict())
