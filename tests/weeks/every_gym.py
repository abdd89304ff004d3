"""Gyms of every size, all invented: no such place, no such people. Each has to get a week."""

from __future__ import annotations

from typing import Any

import yaml

from planner import paths
from planner.domain.gym import Gym

DEMO: dict[str, Any] = yaml.safe_load(
    (paths.home().shared / "gyms/demo/gym.yaml").read_text(encoding="utf-8")
)
ALL_WEEK = ("mon", "tue", "wed", "thu", "fri", "sat")
HALL = {
    "rack": 12, "bench": 8, "box": 12, "rig": 12, "wall": 12, "run_route": 24,
    "barbell": {20: 12, 15: 12},
    "plate": {20: 24, 15: 24, 10: 48, 5: 48, 2.5: 24, 1.25: 24},
}  # fmt: skip

# Open days, athletes, minutes of the class, inventory.
INVENTED: dict[str, tuple[tuple[str, ...], int, int, dict[str, Any]]] = {
    "garage with one bar for six": (
        ALL_WEEK, 6, 60, {"barbell": {20: 1}, "plate": {20: 2, 10: 4, 5: 4}, "rack": 1, "run_route": 6},
    ),
    "park with nothing": (ALL_WEEK, 10, 60, {"run_route": 10, "lane": 4}),
    "hotel room": (("mon", "wed", "fri"), 1, 40, {"dumbbell": {10: 2, 15: 2}, "wall": 1}),
    "alone at home with one kettlebell": (ALL_WEEK, 1, 45, {"kettlebell": {16: 1}, "run_route": 1}),
    "school hall without a bar": (
        ("tue", "thu"), 20, 45, {"medicine_ball": {6: 10}, "skipping_rope": 20, "box": 6, "wall": 10},
    ),
    "hall with twelve racks": (ALL_WEEK, 24, 60, HALL),
    "two open days": (("tue", "sat"), 12, 55, DEMO["inventory"]),
    "one open day": (("wed",), 12, 55, DEMO["inventory"]),
    "25 minutes": (ALL_WEEK, 12, 25, DEMO["inventory"]),
    "15 minutes": (ALL_WEEK, 12, 15, DEMO["inventory"]),
    "plates alone": (ALL_WEEK, 8, 60, {"plate": {20: 4, 10: 8}, "run_route": 8}),
    "sixty with ropes": (ALL_WEEK, 60, 120, {"run_route": 60, "skipping_rope": 60, "wall": 20}),
    "seven days of nothing": ((*ALL_WEEK, "sun"), 1, 60, {}),
}  # fmt: skip
KEEP_ALL = {"hall with twelve racks"}
"""Those that can keep every must."""


def invented(name: str) -> dict[str, Any]:
    """One of them as its gym.yaml would be read."""
    days, size, minutes, inventory = INVENTED[name]
    bars = inventory.get("barbell") or {20: 0, 15: 0}
    athletes = [a if a["bar_kg"] in bars else {**a, "bar_kg": max(bars)} for a in DEMO["athletes"]]
    kits = [kit for kit in DEMO["kits"] if kit["id"] in ("floor", "no_kit")]
    return {
        **DEMO, "name": f"{name} (invented)", "days": list(days), "inventory": inventory, "kits": kits,
        "class": {**DEMO["class"], "size": size, "minutes": minutes}, "hard_days": [], "easy_days": [],
        "athletes": athletes,
    }  # fmt: skip


def gym_of(name: str) -> Gym:
    """One of them."""
    return Gym.model_validate(invented(name))
