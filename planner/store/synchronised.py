"""Tells where a gym's folder is copied to other computers behind our back, and what that risks."""

from __future__ import annotations

import os
from pathlib import Path

_MARKS = (
    ".dropbox",
    ".dropbox.cache",
    ".owncloudsync.log",
    ".nextcloudsync.log",
    ".stfolder",
    ".sync",
    ".SynologyWorkingDirectory",
    ".tmp.drivedownload",
    ".tmp.driveupload",
)
"""What programs that synchronise folders leave in the topmost one."""
_NAMES = ("dropbox", "onedrive", "google drive", "googledrive", "nextcloud", "owncloud", "icloud")
"""How the topmost folder of such a program begins, in any case."""
_INSIDE = ("CloudStorage", "Mobile Documents")
"""Folders in which one system keeps all such folders."""

RISK = (
    "this folder seems to be synchronised with other computers. Where two of them change weeks at the same "
    "time, each keeps a file of its own, and one is lost: change them on one computer at a time, and wait "
    "until all is copied. planner export makes a copy that is safe to send. (This is said once.)"
)


def is_synchronised(folder: Path) -> bool:
    """Whether a folder, or one that it is in, looks as if a program kept it the same on several computers."""
    place = Path(os.path.realpath(folder))
    places = (place, *place.parents)
    return any(
        place.name.lower().startswith(_NAMES)
        or place.name in _INSIDE
        or any(os.path.exists(place / mark) for mark in _MARKS)  # noqa: PTH110  (no, where it may not look)
        for place in places
    )
