"""Worker processes: jobs done side by side, their results in order, and nothing left half done at the end."""

from __future__ import annotations

import os
import signal
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from functools import cache, partial
from types import FrameType, TracebackType
from typing import TYPE_CHECKING, Self, TypeVar

from tauthide.batch.inputs import show_path
from tauthide.batch.jobs import Job
from tauthide.spec.chain import Library

if TYPE_CHECKING:
    from concurrent.futures import ProcessPoolExecutor

CHUNK = 8
"""Jobs that a worker process is handed at a time."""

PARALLEL_FROM = 16
"""Below this many jobs starting worker processes takes longer than they save."""

ENDED = 143
"""Exit code of a worker that was told to end: 128 and the number of the signal."""

Result = TypeVar("Result")
Work = Callable[[Job, Library], Result]


class WorkerLostError(Exception):
    """A worker process ended before its work was done; the message is for the maker."""


class Workers:
    """As many worker processes as are wanted and worth it; when a `with` block is left, all have ended."""

    def __init__(self, jobs: int, library: Library) -> None:
        """Take how many jobs may be done at a time, and the library for work in this very process."""
        self._jobs = jobs
        self._library = library
        self._pool: ProcessPoolExecutor | None = None

    def __enter__(self) -> Self:
        """Return the workers; none is started yet."""
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        """Let each worker finish the files that it is writing, and end it."""
        if self._pool is not None:
            self._pool.shutdown(cancel_futures=True)

    def map(self, work: Work[Result], jobs: Sequence[Job]) -> Iterator[Result]:
        """Yield the results of the work in order; WorkerLostError where a worker was killed."""
        if self._jobs == 1 or len(jobs) < PARALLEL_FROM:
            yield from (work(job, self._library) for job in jobs)
            return
        from concurrent.futures.process import BrokenProcessPool, ProcessPoolExecutor  # late: slow to import

        self._pool = ProcessPoolExecutor(min(self._jobs, -(-len(jobs) // CHUNK)), initializer=_start)
        try:
            with _interrupts_held():
                results = self._pool.map(partial(_do, work), jobs, chunksize=CHUNK)
            yield from results
        except BrokenProcessPool:
            raise WorkerLostError(
                "a worker process was ended from outside, perhaps for want of memory. No file is half written; "
                "build again, with fewer --jobs"
            ) from None


@contextmanager
def _interrupts_held() -> Iterator[None]:
    """Hold back an interrupt at the keyboard while workers start: it would end them with a traceback."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


class _Now:
    """What this worker process is about."""

    busy = False


def _start() -> None:
    """Leave interrupts to the parent, and on being told to end let no half-written file stay behind."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    signal.signal(signal.SIGTERM, _end)


def _end(_number: int, _frame: FrameType | None) -> None:
    if _Now.busy:
        raise SystemExit(ENDED)  # tidies up on its way out of the job
    os._exit(ENDED)


def _do(work: Work[Result], job: Job) -> Result:
    _Now.busy = True
    try:
        return work(job, _own_library())
    except SystemExit:
        os._exit(ENDED)  # the pool would take it for a job's result, and go on
    finally:
        _Now.busy = False


@cache
def _own_library() -> Library:
    """Return the library of this worker process, which lives for one batch: shop and base files are read once."""
    return Library(show_path)
