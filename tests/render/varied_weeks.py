"""Weeks made by moving the sample's parts about: other days, kits, loads, clocks and lengths of text."""

from __future__ import annotations

import copy
import random
from functools import lru_cache
from typing import Any

from planner.domain.week import Line, Week

from .sample_week import sample_dict

SEEDS = range(50)
PRINTED = SEEDS[::4]
"""Those that a browser prints; fifty drafted weeks are printed where they are asked for."""
ZONES = ("Europe/Lisbon", "America/St_Johns", "Australia/Lord_Howe", "Asia/Kathmandu", "UTC")
STARTS = ("06:15", "12:00", "18:00", "23:30")
MONDAYS = {
    "2025-W49": "2025-12-01", "2026-W13": "2026-03-23", "2026-W44": "2026-10-26", "2026-W01": "2025-12-29",
}  # fmt: skip


@lru_cache(maxsize=64)
def varied_week(seed: int) -> Week:
    """A week that no other seed gives."""
    pick = random.Random(seed)
    data = sample_dict()
    kits = pick.randint(1, len(data["kits"]))
    data["kits"] = data["kits"][:1] + pick.sample(data["kits"][1:], kits - 1)
    names = [kit["id"] for kit in data["kits"]]
    strength = [p for s in data["sessions"] for p in s["pieces"] if p["kind"] == "strength"]
    conditioning = [p for s in data["sessions"] for p in s["pieces"] if p["kind"] == "conditioning"]
    for session in data["sessions"]:
        session["pieces"] = [
            _own(p, names, pick) if p["kind"] in {"warm_up", "cool_down"} else _own(other, names, pick)
            for p in session["pieces"]
            for other in [pick.choice(strength if p["kind"] == "strength" else conditioning)]
        ]
    week, monday = pick.choice(list(MONDAYS.items()))
    data.update(week=week, monday=monday, timezone=pick.choice(ZONES), class_start=pick.choice(STARTS))
    _redate(data, monday)
    data["sessions"] = sorted(
        pick.sample(data["sessions"], pick.randint(1, len(data["sessions"]))), key=lambda s: s["date"]
    )
    return Week.model_validate(data)


def _own(piece: dict[str, Any], kits: list[str], pick: random.Random) -> dict[str, Any]:
    """A copy of a piece for these kits, with another line or so, and other loads."""
    piece = copy.deepcopy(piece)
    versions = piece.get("versions", {})
    piece["versions"] = {kit: versions[kit] for kit in kits if kit in versions}
    for version in piece["versions"].values():
        lines = list(version["lines"])
        pick.shuffle(lines)
        version["lines"] = lines
        for line in lines:
            if pick.random() < 0.2:
                line["name"] += " with a pause at the bottom"
            if pick.random() < 0.2:
                line["how"] = "clean it, put it overhead, lower it to the back of the shoulders"
    return piece


def _redate(data: dict[str, Any], monday: str) -> None:
    from datetime import date, timedelta

    from planner.domain.gym import DAYS

    first = date.fromisoformat(monday)
    for session in data["sessions"]:
        session["date"] = (first + timedelta(days=DAYS.index(session["day"]))).isoformat()


def lines_of(week: Week, kit: str) -> list[Line]:
    """Every line of a kit version, in order."""
    return [
        line
        for session in week.sessions
        for piece in session.pieces
        if kit in piece.versions
        for line in piece.versions[kit].lines
    ]
