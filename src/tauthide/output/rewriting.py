"""A maker's own file written anew, or a new one: whole or not at all, and never over another's change."""

from __future__ import annotations

import os
import stat
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

from tauthide.output.files import (
    TEMPORARY_PREFIX,
    TEMPORARY_SUFFIX,
    Kind,
    StoreTrouble,
    kind_of,
    read_file,
    told,
)

_FLAGS = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_CLOEXEC", 0) | getattr(os, "O_BINARY", 0)
_FILE_MODE = 0o666  # less the umask, which the system takes off by itself


def rewrite_file(path: Path, shown: str, old: bytes, new: bytes) -> None:
    """Replace a plain file's content in one step, its mode kept; `old` is what it must still hold.

    StoreTrouble where it is a link or no file, has been changed in between, or can't be written.
    """
    _require(path, shown, old)
    temporary = path.parent / f"{TEMPORARY_PREFIX}{os.urandom(8).hex()}{TEMPORARY_SUFFIX}"
    try:
        with told(shown, ""):
            _write(temporary, new)
            with suppress(NotImplementedError):
                temporary.chmod(stat.S_IMODE(path.stat().st_mode))
            temporary.replace(path)
    finally:
        with suppress(OSError):
            temporary.unlink(missing_ok=True)


def remove_file(path: Path, shown: str, old: bytes) -> None:
    """Remove a plain file; `old` is what it must still hold. StoreTrouble as `rewrite_file`."""
    _require(path, shown, old)
    with told(shown, ""):
        path.unlink()


def write_overlaid(path: Path, shown: str, content: bytes, is_ours: Callable[[bytes], bool]) -> None:
    """Write a file that is not there yet, or one of ours anew; StoreTrouble where another's stands there."""
    old = read_file(str(path.parent), shown, path.name) if kind_of(path) is Kind.FILE else None
    if old is None or not is_ours(old):
        write_new_file(path, shown, content)
    elif old != content:
        rewrite_file(path, shown, old, content)


def _require(path: Path, shown: str, old: bytes) -> None:
    kind = kind_of(path)
    if kind is Kind.LINK:
        raise StoreTrouble(f"{shown} is a link; name the file that it leads to")
    if kind is not Kind.FILE:
        raise StoreTrouble(f"{shown} is not a file that can be written")
    if read_file(str(path.parent), shown, path.name) != old:
        raise StoreTrouble(f"{shown} has just been changed; nothing is written, try again")


def write_new_file(path: Path, shown: str, content: bytes) -> None:
    """Write a file that is not there yet; StoreTrouble where something stands there, or it can't be written."""
    if kind_of(path) is not None:
        raise StoreTrouble(f"{shown} is there already, and is not overwritten; name another file")
    try:
        with told(shown, ""):
            _write(path, content)
    except StoreTrouble as trouble:
        if isinstance(trouble.__cause__, FileExistsError):  # put there just now
            raise StoreTrouble(f"{shown} is there already, and is not overwritten; name another file") from None
        raise


def _write(path: Path, content: bytes) -> None:
    """Write a file that must not be there yet; none is left that could not be written to its end."""
    handle = os.open(path, _FLAGS, _FILE_MODE)
    try:
        rest = memoryview(content)
        while rest:
            rest = rest[os.write(handle, rest) :]
    except BaseException:
        with suppress(OSError):
            path.unlink()
        raise
    finally:
        os.close(handle)
