"""Of things that cannot all be together, a smallest part that cannot either."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TypeVar

Thing = TypeVar("Thing")


def fewest(
    clash: Callable[[list[Thing]], bool], things: Sequence[Thing], given: Sequence[Thing] = ()
) -> list[Thing]:
    """QuickXplain (Junker 2004): those of ``things`` that clash with what is given, none of them to spare.

    Args:
        clash: whether some things cannot be together; then they cannot with more beside them either.
        things: that clash, all together, with those given.
        given: things that stay.
    """
    return _shrink(clash, list(given), list(things), asked=False) if things else []


def _shrink(
    clash: Callable[[list[Thing]], bool], fixed: list[Thing], open_: list[Thing], *, asked: bool
) -> list[Thing]:
    if asked and clash(fixed):
        return []
    if len(open_) == 1:
        return open_
    first, second = open_[: len(open_) // 2], open_[len(open_) // 2 :]
    of_second = _shrink(clash, fixed + first, second, asked=True)
    return _shrink(clash, fixed + of_second, first, asked=bool(of_second)) + of_second
