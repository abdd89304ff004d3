"""Tells where a gym's folder is copied to other computers behind our back, and what that risks."""

from __future__ import annotations

import os
import re
from itertools import islice
from pathlib import Path

_MARK = re.compile(r"\..*sync|\.tmp.*load|.*\bsync.?conflict|.*\bconflicted copy", re.IGNORECASE)
"""What synchronising leaves lying about: hidden files that say so, and both of two versions of a file."""
_NAME = re.compile(r".*(?:cloud|sync|drive\b)", re.IGNORECASE)
"""Generic words in the name of the topmost folder."""
MOST_NAMES = 2000
"""So many names of a folder are looked at: of a full one not all, since opening a store is to be quick."""

RISK = (
    "this folder seems to be synchronised with other computers. Where two of them change weeks at the same "
    "time, each keeps a file of its own, and one is lost: change them on one computer at a time, and wait "
    "until all is copied. planner export makes a copy that is safe to send. (This is said once.)"
)


def is_synchronised(folder: Path) -> bool:
    """Whether a folder, or one that it is in, looks as if a program kept it the same on several computers.

    No program's own names are known here, so that one which leaves no such sign is not recognised.
    """
    place = Path(os.path.realpath(folder))
    return any(_NAME.match(each.name) or _marked(each) for each in (place, *place.parents))


def _marked(folder: Path) -> bool:
    try:
        with os.scandir(folder) as found:
            return any(_MARK.match(entry.name) for entry in islice(found, MOST_NAMES))
    except OSError:  # it may not be looked into
        return False
