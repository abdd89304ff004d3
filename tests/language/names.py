"""The shipped catalogue's and the demo gym's names."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from planner.language import Vocabulary, vocabulary_of
from planner.load.catalogue import load_catalogue
from planner.load.gym import load_gym

SHARED = Path(__file__).parents[2] / "shared"


@cache
def shipped() -> Vocabulary:
    catalogue = load_catalogue(SHARED / "catalogue")
    return vocabulary_of(catalogue, load_gym(SHARED / "gyms" / "demo", catalogue))
