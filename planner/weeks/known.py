"""What is known of a gym before a week is thought of: its catalogue and the gym itself."""

from __future__ import annotations

from pathlib import Path

from planner import paths
from planner.domain.catalogue import Catalogue
from planner.domain.gym import Gym
from planner.load.catalogue import load_catalogue
from planner.load.gym import load_gym


def catalogue_and_gym(folder: Path) -> tuple[Catalogue, Gym]:
    """The catalogue with a gym's own entries, and the gym.

    Raises:
        DataError: a file cannot be used.
    """
    catalogue = load_catalogue(paths.home().shared / "catalogue", folder)
    return catalogue, load_gym(folder, catalogue)
