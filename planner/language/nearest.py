"""The right words that are nearest to a wrong one."""

from __future__ import annotations

import difflib
from collections import Counter, defaultdict
from collections.abc import Iterable
from functools import cached_property

from planner.language.phrases import compact

SHORTLIST = 30
LONGEST = 60
"""Letters of a word that are looked at."""


class Nearest:
    """Words to be near to, by their letters and digits.

    Args:
        words: each once; their order decides between two that are as near.
    """

    def __init__(self, words: Iterable[str]) -> None:
        self.words = {compact(word): word for word in words}

    def to(self, word: str, least: float) -> list[tuple[str, float]]:
        """The words that are near to one, with how near, the nearest first.

        Args:
            word: as found.
            least: how near at least, 0 to 1; the ratio of ``difflib``.
        """
        key = compact(word)[:LONGEST]
        shared = Counter(known for pair in set(_pairs(key)) for known in self._by_pair.get(pair, ()))
        some = sorted(shared, key=lambda known: shared[known] / (len(known) + len(key)), reverse=True)
        matcher = difflib.SequenceMatcher(b=key)
        ratios = []
        for known in some[:SHORTLIST]:
            matcher.set_seq1(known)
            ratios.append((self.words[known], matcher.ratio()))
        near = [(known, ratio) for known, ratio in ratios if ratio >= least]
        return sorted(near, key=lambda found: found[1], reverse=True)

    @cached_property
    def _by_pair(self) -> dict[str, list[str]]:
        """Which words have two letters next to each other: so few words need a closer look."""
        found: dict[str, list[str]] = defaultdict(list)
        for known in self.words:
            for pair in set(_pairs(known)):
                found[pair].append(known)
        return dict(found)


def _pairs(key: str) -> list[str]:
    return [key[at : at + 2] for at in range(len(key) - 1)]
