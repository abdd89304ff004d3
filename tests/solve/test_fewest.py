"""A smallest part of what clashes, against every part."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from planner.solve.search.fewest import fewest

SMALL = st.frozensets(st.integers(0, 9), min_size=1, max_size=5)


@given(st.lists(SMALL, min_size=1, max_size=4), st.frozensets(st.integers(0, 9)))
def test_what_is_found_clashes_with_what_is_given_and_no_member_is_to_spare(
    clashes: list[frozenset[int]], given_too: frozenset[int]
) -> None:
    def clash(some: list[int]) -> bool:
        return any(c <= set(some) for c in clashes)

    stays = sorted(given_too)
    things = [x for x in range(10) if x not in given_too]
    if clash(stays) or not clash([*stays, *things]):
        return
    found = fewest(clash, things, stays)

    assert set(found) <= set(things)
    assert clash([*stays, *found])
    for one in found:
        assert not clash([*stays, *(x for x in found if x != one)])


def test_of_many_things_few_are_asked_about() -> None:
    asked: list[int] = []

    def clash(some: list[int]) -> bool:
        asked.append(len(some))
        return 77 in some

    assert fewest(clash, range(1000)) == [77]
    assert len(asked) < 40
