"""The verbs over a gym's store: what a coach does with its weeks, as plain functions that return values.

Each takes an open store and the setting of a week (``setting_of``); the command line and any page call the
same ones. ``candidates.py`` makes and keeps weeks, ``requests.py`` has what the coach fixes or asks for,
``questions.py`` what can be asked about a week; ``by_hand.py`` reads a session that a coach wrote, and
``names.py`` finds what a word means.
"""

from __future__ import annotations

from planner.desk.by_hand import session_from_file
from planner.desk.candidates import (
    alternatives,
    choose,
    draft,
    keep,
    latest_week,
    meant,
    merge,
    next_name,
    redraft,
    states,
    take_from,
)
from planner.desk.names import day_named, item_named, movement_named, pattern_named
from planner.desk.questions import compare, log, price, resilience, why, why_not
from planner.desk.requests import allow, ask, ban, lock, overrule, unlock, wish_words, withdraw, write
from planner.desk.setting import AskedSetting, asked, setting_of

__all__ = [
    "AskedSetting",
    "allow",
    "alternatives",
    "ask",
    "asked",
    "ban",
    "choose",
    "compare",
    "day_named",
    "draft",
    "item_named",
    "keep",
    "latest_week",
    "lock",
    "log",
    "meant",
    "merge",
    "movement_named",
    "next_name",
    "overrule",
    "pattern_named",
    "price",
    "redraft",
    "resilience",
    "session_from_file",
    "setting_of",
    "states",
    "take_from",
    "unlock",
    "why",
    "why_not",
    "wish_words",
    "withdraw",
    "write",
]
