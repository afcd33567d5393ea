"""Building a batch into an output folder, or finding what a build would change there."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

from tauthide.batch.fingerprint import made_fingerprint
from tauthide.batch.inputs import Inputs, show_path
from tauthide.batch.jobs import Job, Outcome, build, make, recall, row_of
from tauthide.batch.making import PLAIN, Making
from tauthide.batch.survey import Surveyed, survey
from tauthide.batch.workers import Workers
from tauthide.findings import Finding, Place, Severity, in_order
from tauthide.output.comparison import Difference, differences
from tauthide.output.store import TOP, Expected, Store
from tauthide.reading.documents import a_kind
from tauthide.reading.templates import Templates
from tauthide.sheets.custom import TemplateTrouble, render_index_with
from tauthide.sheets.sheet import render_index
from tauthide.spec.chain import Library

Progress = Callable[[int, int], None]
"""Told how many specs are done, of how many."""

SPECS_ALLOWED = "files that start with `spec: 1`, or a folder of such files"


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
    others: tuple[str, ...] = ()
    """Drums of an earlier build that this batch has not, and that are gone from the folder now."""
    differences: tuple[Difference, ...] = ()
    """Only of a build that writes nothing: what it would change."""


def build_batch(inputs: Inputs, folder: Path, *, jobs: int, progress: Progress, making: Making = PLAIN) -> Built:
    """Compile the inputs into a folder; StoreTrouble where it can't be written, with old files left whole.

    Nothing is done where a path led nowhere or to no spec: drums would be removed that are wanted still.
    """
    library = Library(show_path)
    surveyed = _survey(inputs, library, making)
    if _is_off(inputs, surveyed):
        return _refusal(inputs, surveyed)
    with Store(folder, show_path(folder)) as store:
        store.read()
        planned = _plan_jobs(surveyed, store, making)
        names = [job.drum for job in planned if job.drum is not None]
        with Workers(jobs, library) as workers:
            store.open(
                names, lambda: _expected(planned, _Outcomes(making.templates), workers, lambda _done, _all: None)
            )
        outcomes, waiting = _split(planned, surveyed, store)
        waiting = [job if job.drum is None else replace(job, ticket=store.ticket(job.drum)) for job in waiting]
        with Workers(jobs, library) as workers:
            for outcome in workers.map(build, waiting):
                if outcome.record is not None and outcome.written is not None:
                    store.record(outcome.record, outcome.written)
                outcomes.append(outcome)
                progress(len(outcomes), len(planned))
        others = store.others()
        made = _Outcomes(making.templates, outcomes)
        store.close(made.index())
        return replace(
            _result(surveyed, made),
            written=store.written,
            unchanged=store.unchanged,
            removed=store.removed,
            others=others,
        )


def verify_batch(inputs: Inputs, folder: Path, *, jobs: int, progress: Progress, making: Making = PLAIN) -> Built:
    """Compile the inputs and tell what differs in a folder; nothing is written, and nothing taken on trust."""
    library = Library(show_path)
    surveyed = _survey(inputs, library, making)
    if _is_off(inputs, surveyed):
        return _refusal(inputs, surveyed)
    store = Store(folder, show_path(folder))
    store.read()
    outcomes = _Outcomes(making.templates)
    planned = _plan_jobs(surveyed, store, making)
    with Workers(jobs, library) as workers:
        expected = _expected(planned, outcomes, workers, progress)
        found = differences(folder, show_path(folder), expected)
    return replace(_result(surveyed, outcomes), differences=found)


def is_spec(item: Surveyed) -> bool:
    """Tell whether an input is a spec, or may have been meant as one."""
    return item.kind == "spec" or item.unreadable or (item.kind is None and item.stops)


def _is_off(inputs: Inputs, surveyed: Sequence[Surveyed]) -> bool:
    return bool(inputs.findings) or not any(map(is_spec, surveyed))


def _refusal(inputs: Inputs, surveyed: Sequence[Surveyed]) -> Built:
    """Return what there is to say of a batch that is not built."""
    findings = (*inputs.findings, *(finding for item in surveyed for finding in item.findings))
    if not inputs.findings:
        message = "There is no spec here, so nothing is built, and nothing removed"
        place = Place(surveyed[0].input.shown if surveyed else "")
        findings = (*findings, Finding("no-specs", Severity.ERROR, message, place, allowed=SPECS_ALLOWED))
    return Built(0, in_order(findings), unreadable=True)


@dataclass(slots=True)
class _Outcomes:
    """What came of the jobs, and of the index."""

    templates: Templates | None
    all: list[Outcome] = field(default_factory=list)
    findings: tuple[Finding, ...] = ()
    """Only of the index."""

    def index(self) -> bytes:
        """Return the index; the built-in one where the maker's template fails."""
        rows = [row_of(outcome.record) for outcome in self.all if outcome.record is not None]
        if self.templates is not None:
            try:
                return render_index_with(self.templates, rows)
            except TemplateTrouble as trouble:
                self.findings = (trouble.finding,)
        return render_index(rows)


def _survey(inputs: Inputs, library: Library, making: Making) -> tuple[Surveyed, ...]:
    surveyed = survey(inputs.items, library)
    return tuple(replace(item, fingerprint=made_fingerprint(item.fingerprint, making)) for item in surveyed)


def _plan_jobs(surveyed: Sequence[Surveyed], store: Store, making: Making) -> list[Job]:
    """Return a job for every spec; one that can't be told its drum keeps a notice at the drums it made before.

    Of specs with the same drum the first has the drum's folder, for a notice.
    """
    planned: list[Job] = []
    specs = [item for item in surveyed if is_spec(item)]
    told = {item.drum.casefold() for item in specs if item.drum is not None}
    taken: set[str] = set()
    for item in specs:
        spec = item.input.stable
        if item.drum is None:
            free = (drum for drum in store.drums_of(spec) if drum.casefold() not in told | taken)
            drums: tuple[str | None, ...] = tuple(free) or (None,)
        else:
            drums = (item.drum if item.drum.casefold() not in taken else None,)
        taken.update(drum.casefold() for drum in drums if drum is not None)
        planned += [Job(item.input, spec, drum, item.findings, making=making) for drum in drums]
    return planned


def _split(planned: Sequence[Job], surveyed: Sequence[Surveyed], store: Store) -> tuple[list[Outcome], list[Job]]:
    """Part the jobs: outcomes of those whose files lie there just as they would be made, and the rest."""
    prints = {item.input.shown: item.fingerprint for item in surveyed}
    kept: list[Outcome] = []
    waiting: list[Job] = []
    for job in planned:
        outcome = _kept(job, prints[job.item.shown], store)
        if outcome is None or outcome.record is None:
            waiting.append(job)
        else:
            store.keep(outcome.record)
            kept.append(outcome)
    return kept, waiting


def _kept(job: Job, fingerprint: str, store: Store) -> Outcome | None:
    record = store.known(job.drum) if job.drum is not None and not job.findings else None
    # The fingerprint covers the program, so a record that it fits was written by this very code.
    if record is None or not fingerprint or record.fingerprint != fingerprint or record.spec != job.spec:
        return None
    return recall(job, record) if store.intact(record.drum) else None


def _expected(planned: Sequence[Job], outcomes: _Outcomes, workers: Workers, progress: Progress) -> Expected:
    """Yield what a build of the jobs would write, drum by drum; adds the outcomes as they come."""
    for done, made in enumerate(workers.map(make, planned), 1):
        progress(done, len(planned))
        outcomes.all.append(made.outcome)
        if made.outcome.record is not None:
            yield made.outcome.record.drum, made.files
    yield TOP, {"index.md": outcomes.index()}


def _result(surveyed: Sequence[Surveyed], outcomes: _Outcomes) -> Built:
    findings = [finding for outcome in outcomes.all for finding in outcome.findings]
    findings += outcomes.findings
    for item in surveyed:
        if not is_spec(item):
            findings += item.findings
            findings += _passed_over(item)
    return Built(
        specs=sum(map(is_spec, surveyed)),
        findings=in_order(findings),
        unreadable=any(item.unreadable for item in surveyed) or any(outcome.unreadable for outcome in outcomes.all),
    )


def _passed_over(item: Surveyed) -> tuple[Finding, ...]:
    """Tell of a file that was named though it is no spec; a shell's `specs/*.yaml` names bases and shop, too."""
    if not item.input.named:
        return ()
    kind = a_kind(item.kind) if item.kind else "another"
    message = f"This file is passed over: it is {kind} file, and only specs are built"
    return (Finding("not-a-spec", Severity.NOTE, message, Place(item.input.shown), allowed=SPECS_ALLOWED),)
