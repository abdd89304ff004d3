"""The week in numbers, counted on the gym floor's lines."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from planner.domain.catalogue import PATTERNS, DomainName, Modality, Pattern
from planner.domain.gym import Day
from planner.domain.line import EXPOSURE_PERCENT
from planner.domain.week import Balance, Line, Session


def floor_lines(session: Session, kind: str = "") -> tuple[Line, ...]:
    """Lines of the gym floor, which is the first kit version; of one kind of piece if it is given."""
    lines: list[Line] = []
    for piece in session.pieces:
        if piece.versions and kind in ("", piece.kind):
            lines += next(iter(piece.versions.values())).lines
    return tuple(lines)


def exposures(lines: Iterable[Line]) -> dict[Pattern, int]:
    """How many lines count for each pattern, in the catalogue's order; patterns without any left out."""
    counts = dict.fromkeys(PATTERNS, 0)
    for line in lines:
        for pattern, share in line.patterns.items():
            counts[pattern] += share >= EXPOSURE_PERCENT
    return {pattern: count for pattern, count in counts.items() if count}


def balance(sessions: Sequence[Session]) -> Balance:
    """Exposures, time domains, modality; what is weighed against what is counted by the rules.

    Args:
        sessions: of the week.
    """
    patterns: dict[Day, dict[Pattern, int]] = {s.day: s.patterns for s in sessions}
    domains: dict[Day, DomainName] = {}
    modality: dict[Modality, int] = {"loaded": 0, "bodyweight": 0, "cyclic": 0}
    for session in sessions:
        domain = next((p.domain for p in session.pieces if p.domain is not None), None)
        if domain is not None:
            domains[session.day] = domain
        for line in floor_lines(session, "conditioning"):
            modality[line.modality] += 1

    return Balance(patterns=patterns, domains=domains, modality=modality)
