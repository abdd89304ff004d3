"""The one door through which files go out: whole or not at all, and over nothing that is somebody else's.

A file with the program's own mark inside may be replaced, whatever its name; an empty one too. Anything else
is replaced only where the coach insists, and a gym's own files, rules and kept weeks not even then. A link is
followed, and what it leads to is judged; a device or a pipe is written to.
"""

from __future__ import annotations

import contextlib
import errno
import mmap
import os
import re
import stat
import tempfile
from collections.abc import Iterable, Iterator
from pathlib import Path

from planner.domain.mark import MARK
from planner.errors import DataError, Place, of_system
from planner.stopping import keeping

INPUT_SUFFIXES = (".yaml", ".yml")
_STORE = "planner.db"
_STORE_HEADER = re.compile(rb"SQLite format 3\0.{52}WPLN", re.DOTALL)
_M = re.escape(MARK.encode())
_OURS = tuple(
    re.compile(pattern, re.IGNORECASE | re.DOTALL)
    for pattern in (
        rb'<!doctype html>.{0,2000}?<meta name="generator" content="' + _M,
        rb"BEGIN:VCALENDAR.{0,200}?PRODID:-//" + _M,
        rb"%PDF-.*?/ID ?\[\(" + _M,
        rb'\{.*?"format": ?"' + _M + rb' gym"',
        rb'\{.{0,200}?"\$comment": ?"' + _M,
        rb'\{\s*"schema_version":.*?"inputs_digest": ?"[0-9a-f]{64}"',  # a week
    )
)
_FIRST_HEAD = (
    rb'<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
    rb'<meta name="viewport" content="width=device-width, initial-scale=1">\n'
    rb'<meta http-equiv="Content-Security-Policy" content="default-src '
    rb"'none'; style-src 'unsafe-inline'\">\n"
    rb'<meta name="color-scheme" content="light dark">\n<title>[^<\n]*</title>\n'
    rb"<style>\n:root\{ color-scheme:light;--paper:#"
)
_FIRST = re.compile(_FIRST_HEAD)
"""The first version's pages have no mark, but ten first lines that nobody else would write so."""
_UNMARKED = re.compile(rb'%PDF-|\{\s*"\$schema":')
"""Its PDFs and schemas have nothing by which they could be told from another program's."""
_ADVICE = "Check the permissions of the file and its folder, or name another place."


def check_writable(path: Path, *, force: bool = False, inputs: Iterable[Path] = ()) -> bool:
    """Find out whether a file may and could be written, and leave everything as it was.

    A search takes seconds; to learn only afterwards that its result has nowhere to go would waste them.

    Args:
        path: the file.
        force: replace a file that is not the program's.
        inputs: files that the result is made from; they are never replaced.

    Returns:
        Whether there is a file that would be replaced.

    Raises:
        DataError: the file may not or could not be written; nothing has been changed.
        DiskError: there is no room.
    """
    with _spoken(path):
        found = _refuse(path, force=force, inputs=inputs)
        if found is not None and not stat.S_ISREG(found.st_mode):
            return False
        folder = _real(path).parent
        while not folder.exists() and folder != folder.parent:
            folder = folder.parent
        # Only a try tells: permissions do not know of read-only disks. This file is gone at once.
        with tempfile.TemporaryFile(dir=folder):
            pass
        _check_name(folder, _real(path))
        return found is not None and found.st_size > 0


def write_file(path: Path, content: str | bytes, *, force: bool = False, inputs: Iterable[Path] = ()) -> bool:
    """Write a file so that a reader sees the old one or the new one, never half of one.

    Args:
        path: the file; its folder is made where there is none. Where it is a link, what it leads to is
            written; a device or a pipe is written to.
        content: all of it; text becomes UTF-8.
        force: replace a file that is not the program's.
        inputs: files that the result is made from; they are never replaced.

    Returns:
        Whether a file was replaced.

    Raises:
        DataError: the file may not or cannot be written; an old file is then as it was.
        DiskError: there is no room, or the device fails.
    """
    data = content.encode() if isinstance(content, str) else content
    with _spoken(path):
        found = _refuse(path, force=force, inputs=inputs)
        if found is not None and not stat.S_ISREG(found.st_mode):
            with path.open("wb", buffering=0) as device:
                device.write(data)
            return False
    write_bytes_atomically(_real(path) if found or path.is_symlink() else path, data)
    return found is not None and found.st_size > 0


def carries_mark(content: bytes | mmap.mmap) -> bool:
    """Tells whether the program has written this."""
    return any(pattern.match(content) for pattern in (*_OURS, _FIRST))


def write_text_atomically(path: Path, text: str, *, told: bool = True) -> None:
    """Write a UTF-8 text file, as ``write_bytes_atomically`` does."""
    write_bytes_atomically(path, text.encode(), told=told)


def write_bytes_atomically(path: Path, content: bytes, *, told: bool = True) -> None:
    """Write a file that is known to be new or ours, whole or not at all.

    Args:
        path: the file; its folder is made where there is none.
        content: the whole content.
        told: whether a command that is stopped later names it as written.

    Raises:
        DataError: the file cannot be written; an old file is then as it was.
        DiskError: there is no room, or the device fails.
    """
    temporary: Path | None = None
    try:
        with _spoken(path), keeping() as step:
            path.parent.mkdir(parents=True, exist_ok=True)
            # A file that must not be written stays: replacing it needs only the folder's permission.
            if path.exists() and not os.access(path, os.W_OK):
                raise PermissionError(errno.EACCES, "it is read-only")
            # A short name: the file's own may be as long as the disk allows.
            handle, name = tempfile.mkstemp(dir=path.parent, prefix=".planner-", suffix=".new")
            temporary = Path(name)
            with os.fdopen(handle, "wb") as file:
                file.write(content)
                file.flush()
                os.fsync(file.fileno())
            temporary.chmod(_mode(path))
            step.hold(str(path) if told else "")
            temporary.replace(path)
    finally:
        if temporary is not None:
            with contextlib.suppress(OSError):
                temporary.unlink()


@contextlib.contextmanager
def _spoken(path: Path) -> Iterator[None]:
    try:
        yield
    except OSError as error:
        raise of_system(error, "the file cannot be written", path, _ADVICE) from None
    except ValueError as error:  # a null character in the name
        raise DataError(f"this cannot be a file's name: {error}", advice="Name another file.") from None


def _refuse(path: Path, *, force: bool, inputs: Iterable[Path]) -> os.stat_result | None:
    """What is there now, once it is known that it may be replaced or written to; None where nothing is."""
    target = _real(path)
    _refuse_kept(path, target)
    try:
        found = path.stat()
    except FileNotFoundError:
        return None
    if stat.S_ISDIR(found.st_mode):
        raise DataError("this is a folder", Place(path), "Name a file in it.")
    if stat.S_ISBLK(found.st_mode) or stat.S_ISSOCK(found.st_mode):
        raise DataError("this is a disk or a socket, not a file", Place(path), "Name a file.")
    if not stat.S_ISREG(found.st_mode):
        return found
    if path.absolute().parts[1:2] in {("dev",), ("proc",)}:
        what = f"this leads to the file {target}, to which something else is being written"
        raise DataError(what, Place(path), "Name another file.")
    if any(os.path.samestat(found, each.stat()) for each in inputs if each.exists()):
        raise DataError("this is the file that is read", Place(path), "Name another file for the result.")
    with target.open("r+b") as file:
        if not found.st_size:
            return found
        with mmap.mmap(file.fileno(), 0, access=mmap.ACCESS_READ) as content:
            if _STORE_HEADER.match(content):
                raise DataError("a gym's weeks are kept in this file", Place(path), "Name another file.")
            ours, unmarked = carries_mark(content), _UNMARKED.match(content)
    behind = target.parent.name == "history" and (target.parent.parent / "gym.yaml").exists()
    if force or (ours and not behind):
        return found
    what = (
        "this is one of the weeks that the gym looks back to, and it is not replaced unasked"
        if behind
        else "this file was not written by the planner, and is not replaced unasked"
    )
    once = " One of the planner's first version carries no mark: it needs --force once." if unmarked else ""
    raise DataError(what, Place(path), f"Name another file, or give --force to replace it.{once}")


def _refuse_kept(path: Path, target: Path) -> None:
    """Names under which a coach's own work is kept, whatever is there now."""
    for each in (path, target):
        if each.suffix.casefold() in INPUT_SUFFIXES:
            raise DataError(
                f"nothing is written to {each.suffix} files, which hold what a coach has written",
                Place(path),
                "Name a file that ends in .html or .json.",
            )
        if each.name.casefold().startswith(_STORE):
            raise DataError("a gym's weeks are kept under this name", Place(path), "Name another file.")


def _real(path: Path) -> Path:
    """What a path leads to, itself no link; where links lead in a circle, the path."""
    return Path(os.path.realpath(path))


def _check_name(folder: Path, target: Path) -> None:
    """Whether the disk takes each name that would be made."""
    longest = os.pathconf(folder, "PC_NAME_MAX") if hasattr(os, "pathconf") else 255
    for part in target.relative_to(folder).parts:
        if len(os.fsencode(part)) > longest:
            raise OSError(errno.ENAMETOOLONG, f"a name of {len(part)} characters, more than {longest}")


def _mode(path: Path) -> int:
    """Permissions of the old file, or those that any new file would get."""
    if path.exists():
        return path.stat().st_mode & 0o777
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask
