"""The command line's fixtures, and a gym with two candidates."""

from __future__ import annotations

from tests.cli.conftest import gym, home, no_solve, run
from tests.cli.test_life import kept, mine

__all__ = ["gym", "home", "kept", "mine", "no_solve", "run"]
