"""A line that the coach changed in the week's file is shown as such on every sheet that has the line."""

from __future__ import annotations

from typing import Any

import pytest

from planner.domain.week import Week
from planner.render.brief import brief_html
from planner.render.html import week_html
from planner.render.member import member_html
from planner.render.wall import wall_html

from .reading import Sheet
from .sample_week import sample_dict

MARK = "(changed by the coach)"


def with_a_mark(*, by_hand: bool) -> Week:
    tree: dict[str, Any] = sample_dict()
    piece = next(p for p in tree["sessions"][0]["pieces"] if p["kind"] == "conditioning")
    next(iter(piece["versions"].values()))["lines"][0]["by_hand"] = by_hand
    return Week.model_validate(tree)


@pytest.mark.parametrize("by_hand", [True, False])
def test_the_mark_is_on_week_wall_brief_and_members_sheet(by_hand: bool) -> None:
    week = with_a_mark(by_hand=by_hand)
    day, kit = week.sessions[0].day, week.kits[0].id
    pages = (week_html(week), wall_html(week, day), brief_html(week, day), member_html(week, kit))

    assert [MARK in Sheet(page).text for page in pages] == [by_hand] * len(pages)
