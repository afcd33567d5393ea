"""Building a batch into an output folder, or finding what a build would change there."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TypeVar

from tauthide.batch.inputs import Input, show_path, stable_name
from tauthide.batch.jobs import Job, Outcome, build, make
from tauthide.batch.survey import Surveyed, survey
from tauthide.findings import Finding, Place, Severity, finding_from, in_order
from tauthide.output.comparison import Difference, differences
from tauthide.output.manifest import DrumRecord
from tauthide.output.store import TOP, Expected, Store
from tauthide.sheets.index import render_index
from tauthide.spec.chain import Library

CHUNK = 8
"""Jobs that a worker process is handed at a time."""

PARALLEL_FROM = 16
"""Below this many jobs starting worker processes takes longer than they save."""

Progress = Callable[[int, int], None]
"""Told how many specs are done, of how many."""

Result = TypeVar("Result")


@dataclass(frozen=True, slots=True)
class Built:
    """What a build did, or would do."""

    specs: int
    findings: tuple[Finding, ...]
    unreadable: bool
    """Whether a file could not be read at all."""
    written: int = 0
    unchanged: int = 0
    removed: int = 0
    differences: tuple[Difference, ...] = ()
    """Only of a build that writes nothing: what it would change."""


def build_batch(inputs: Sequence[Input], folder: Path, *, jobs: int, progress: Progress) -> Built:
    """Compile the inputs into a folder; StoreTrouble where it can't be written, with old files left whole."""
    surveyed = survey(inputs, Library(show_path))
    with Store(folder, show_path(folder)) as store:
        store.read()
        planned = _plan_jobs(surveyed, store)
        names = [job.drum for job in planned if job.drum is not None]
        store.open(names, lambda: _expected(planned, [], jobs, lambda _done, _all: None))
        kept, waiting = _split(planned, surveyed, store)
        outcomes = list(kept)
        waiting = [_with_ticket(job, store) for job in waiting]
        with _mapper(jobs, len(waiting)) as run:
            for done, outcome in enumerate(run(build, waiting), len(kept) + 1):
                progress(done, len(planned))
                if outcome.record is not None and outcome.written is not None:
                    store.record(outcome.record, outcome.written)
                outcomes.append(outcome)
        store.close(_index(outcomes))
        return replace(
            _result(surveyed, outcomes), written=store.written, unchanged=store.unchanged, removed=store.removed
        )


def verify_batch(inputs: Sequence[Input], folder: Path, *, jobs: int, progress: Progress) -> Built:
    """Compile the inputs and tell what differs in a folder; nothing is written, and nothing taken on trust."""
    surveyed = survey(inputs, Library(show_path))
    store = Store(folder, show_path(folder))
    store.read()
    outcomes: list[Outcome] = []
    planned = _plan_jobs(surveyed, store)
    found = differences(folder, show_path(folder), _expected(planned, outcomes, jobs, progress))
    return replace(_result(surveyed, outcomes), differences=found)


def is_spec(item: Surveyed) -> bool:
    """Tell whether an input is a spec, or may have been meant as one."""
    return item.kind == "spec" or item.unreadable or (item.kind is None and item.stops)


def _plan_jobs(surveyed: Sequence[Surveyed], store: Store) -> list[Job]:
    """Return a job for every spec; one that can't be told its drum keeps a notice at the drums it made before."""
    planned: list[Job] = []
    taken: set[str] = set()
    for item in surveyed:
        if not is_spec(item):
            continue
        spec = stable_name(item.input)
        if item.drum is not None and item.drum.casefold() not in taken:
            drums: tuple[str | None, ...] = (item.drum,)
        elif item.drum is None:
            drums = tuple(drum for drum in store.drums_of(spec) if drum.casefold() not in taken) or (None,)
        else:
            drums = (None,)
        taken.update(drum.casefold() for drum in drums if drum is not None)
        planned += [Job(item.input, spec, drum, item.findings) for drum in drums]
    return planned


def _split(
    planned: Sequence[Job], surveyed: Sequence[Surveyed], store: Store
) -> tuple[list[Outcome], list[Job]]:
    """Part the jobs into those whose files lie there just as they would be made, and those to be done."""
    prints = {item.input.shown: item.fingerprint for item in surveyed}
    kept: list[Outcome] = []
    waiting: list[Job] = []
    for job in planned:
        record = store.known(job.drum) if job.drum is not None and not job.findings else None
        if record is not None and _is_current(record, job, prints[job.item.shown]) and store.intact(record.drum):
            store.keep(record)
            kept.append(Outcome(job, _remembered(record, job), record, None, False))
        else:
            waiting.append(job)
    return kept, waiting


def _is_current(record: DrumRecord, job: Job, fingerprint: str) -> bool:
    return bool(fingerprint) and record.fingerprint == fingerprint and record.spec == job.spec


def _remembered(record: DrumRecord, job: Job) -> tuple[Finding, ...]:
    return tuple(finding_from(data, job.item.shown) for data in record.findings if isinstance(data, dict))


def _with_ticket(job: Job, store: Store) -> Job:
    return job if job.drum is None else replace(job, ticket=store.ticket(job.drum))


def _expected(planned: Sequence[Job], outcomes: list[Outcome], jobs: int, progress: Progress) -> Expected:
    """Yield what a build of the jobs would write, drum by drum; adds the outcomes as they come."""
    with _mapper(jobs, len(planned)) as run:
        for done, made in enumerate(run(make, planned), 1):
            progress(done, len(planned))
            outcomes.append(made.outcome)
            if made.outcome.record is not None:
                yield made.outcome.record.drum, made.files
    yield TOP, {"index.md": _index(outcomes)}


def _index(outcomes: Iterable[Outcome]) -> bytes:
    ordered = sorted(outcomes, key=lambda outcome: (outcome.job.spec, outcome.job.drum or ""))
    rows = [outcome.record.index_row for outcome in ordered if outcome.record and not outcome.record.failed]
    failed = [(outcome.job.drum, outcome.job.spec) for outcome in ordered
              if outcome.record is None or outcome.record.failed]  # fmt: skip
    return render_index(rows, failed)


def _result(surveyed: Sequence[Surveyed], outcomes: Sequence[Outcome]) -> Built:
    findings = [finding for outcome in outcomes for finding in outcome.findings]
    for item in surveyed:
        if not is_spec(item):
            findings += [_not_a_spec(item)] if item.input.named else item.findings
    return Built(
        specs=sum(map(is_spec, surveyed)),
        findings=in_order(findings),
        unreadable=any(item.unreadable for item in surveyed) or any(outcome.unreadable for outcome in outcomes),
    )


def _not_a_spec(item: Surveyed) -> Finding:
    kind = item.kind or "foreign"
    return Finding(
        "not-a-spec",
        Severity.ERROR,
        f"Only specs are built, and this is a {kind} file",
        Place(item.input.shown),
        found=f"{kind}: 1",
        allowed="a file that starts with `spec: 1`, or a folder of such files",
    )


@contextmanager
def _mapper(
    jobs: int, count: int
) -> Iterator[Callable[[Callable[[Job], Result], Sequence[Job]], Iterator[Result]]]:
    """Give a `map` that keeps order and runs in as many processes as are wanted and worth it."""
    if jobs == 1 or count < PARALLEL_FROM:
        yield lambda work, planned: map(work, planned)
        return
    pool = ProcessPoolExecutor(jobs, initializer=_ignore_interrupts)
    try:
        yield lambda work, planned: pool.map(work, planned, chunksize=CHUNK)
    finally:
        pool.shutdown(cancel_futures=True)


def _ignore_interrupts() -> None:
    """Leave an interrupt at the keyboard to the parent: a worker finishes the files that it is writing."""
    import signal

    signal.signal(signal.SIGINT, signal.SIG_IGN)
