"""What is kept of one week: its candidates, what was asked for, which one was chosen, how it went."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from planner.domain.base import Value
from planner.domain.gym import Day
from planner.domain.requests import Requests
from planner.domain.week import Week


class Candidate(Value):
    """One solved week.

    Attributes:
        name: short: "A", "B", ...
        label: what sets it apart, or how it came about: "drafted", "without the rig".
        week: the week.
    """

    name: str = Field(pattern=r"^[A-Z][A-Z0-9]{0,3}$")
    label: str
    week: Week


class LogEntry(Value):
    """How a session went.

    Attributes:
        status: done, skipped or changed.
        rating: that the class gave it, 0 to 10; None if nobody asked.
        result: the median result, as written down.
        note: what was changed, or anything else.
    """

    status: Literal["done", "skipped", "changed"]
    rating: float | None = Field(None, ge=0, le=10)
    result: str = ""
    note: str = ""


class WeekState(Value):
    """Everything about one week at one moment.

    Attributes:
        week: ISO week.
        candidates: by name, in the order in which they came.
        chosen: the name of the one that is published, or None.
        requests: locks, bans, wishes, overrules.
        log: by day.
    """

    week: str
    candidates: tuple[Candidate, ...] = ()
    chosen: str | None = None
    requests: Requests = Requests()
    log: dict[Day, LogEntry] = Field(default_factory=dict)
