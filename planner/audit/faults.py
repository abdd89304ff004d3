"""What an audit finds that is no rule's: each fault counts one, and none costs points."""

from __future__ import annotations

from collections.abc import Sequence

from planner.audit.days import Misfit
from planner.domain.week import RulePlace, RuleResult
from planner.rules.base import Level


def faults_result(
    name: str,
    found: Sequence[Misfit],
    *,
    level: Level,
    statement: str,
    because: str,
    unit: str,
    checked: int,
    remedy: str,
) -> RuleResult:
    """Faults as a result beside those of the rules.

    Args:
        name: id and kind.
        found: the faults.
        level: must or watch.
        statement: what should be.
        because: why.
        unit: of the faults.
        checked: how many places were looked at.
        remedy: said where there is a fault.
    """
    return RuleResult(
        id=name,
        kind=name,
        level=level,
        weight=0,
        statement=statement,
        because=because,
        source="common practice",
        unit=unit,
        checked=checked,
        measure=len(found),
        cost=0,
        places=tuple(RulePlace(place=m.place, measure=1, sentence=m.sentence) for m in found),
        remedy=remedy if found else "",
    )
