"""A short turn at the manifest, so that of two builds neither loses what the other has just written there."""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

WAIT_S = 2.0
"""Longest wait for the other build: a turn takes milliseconds, so one that lasts longer belongs to a process
that was stopped, and a build must not hang on it."""

MOST_WAIT_S = 10.0
"""Longest waits in vain of one process, taken together: there is a turn for every drum."""

_STEP_S = 0.005


class _Patience:
    """How long this process has waited in vain so far."""

    spent_s = 0.0


@contextmanager
def turn(folder: Path) -> Iterator[bool]:
    """Hold the folder's lock; tell whether it was got.

    The lock is on the folder itself, so no file is needed for it, and the system drops it when a process
    ends, however it ends. Without it, where the system or the disk has none, all goes on: an update of the
    manifest may then be lost to another build at the very same moment, and no more.
    """
    handle = _grasp(folder)
    try:
        yield handle is not None
    finally:
        if handle is not None:
            os.close(handle)


def _grasp(folder: Path) -> int | None:
    """Return a handle of the folder that holds the lock, or None."""
    if sys.platform == "win32":
        return None
    import fcntl  # late: it is not there on every system

    try:
        handle = os.open(folder, os.O_RDONLY | os.O_CLOEXEC)
    except OSError:
        return None
    got = False
    try:
        start = time.monotonic()
        end = start + min(WAIT_S, max(MOST_WAIT_S - _Patience.spent_s, 0.0))
        while not got:
            try:
                fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
                got = True
            except BlockingIOError:
                if time.monotonic() >= end:
                    _Patience.spent_s += time.monotonic() - start
                    break
                time.sleep(_STEP_S)
            except OSError:  # a disk that knows no locks
                break
    finally:
        if not got:
            os.close(handle)
    return handle if got else None
