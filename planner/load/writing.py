"""Writes a file whole or not at all."""

from __future__ import annotations

import contextlib
import os
import tempfile
from pathlib import Path

from planner.errors import DataError, Place


def write_text_atomically(path: Path, text: str) -> None:
    """Write a UTF-8 text file so that a reader sees the old file or the new one, never half of one.

    Args:
        path: the file; its folder is made where there is none.
        text: the whole content.

    Raises:
        DataError: the file cannot be written; an old file is then as it was.
    """
    write_bytes_atomically(path, text.encode("utf-8"))


def write_bytes_atomically(path: Path, content: bytes) -> None:
    """Write a file so that a reader sees the old file or the new one, never half of one.

    Args:
        path: the file; its folder is made where there is none.
        content: the whole content.

    Raises:
        DataError: the file cannot be written; an old file is then as it was.
    """
    temporary: Path | None = None
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        # A file that must not be written stays: replacing it needs only the folder's permission.
        if path.exists() and not os.access(path, os.W_OK):
            raise PermissionError(13, "it is read-only")
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.", suffix=".new")
        temporary = Path(name)
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        temporary.chmod(_mode(path))
        temporary.replace(path)
    except OSError as error:
        raise DataError(
            f"the file cannot be written: {error.strerror or error}",
            Place(path),
            "Check the folder's permissions and the space left, or name another place.",
        ) from None
    finally:
        if temporary is not None:
            with contextlib.suppress(OSError):
                temporary.unlink()


def _mode(path: Path) -> int:
    """Permissions of the old file, or those that any new file would get."""
    if path.exists():
        return path.stat().st_mode & 0o777
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask
