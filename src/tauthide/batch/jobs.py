"""One spec's way through a build, as a job that may run in another process."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass, replace
from typing import Any

from tauthide.batch.compiling import Compiled, compile_input, render_drum
from tauthide.batch.fingerprint import made_fingerprint
from tauthide.batch.inputs import Input
from tauthide.batch.making import PLAIN, Making
from tauthide.findings import Finding, Place, Severity, finding_data, finding_from, has_errors, in_order
from tauthide.output.drums import Ticket, Written, write_drum
from tauthide.output.manifest import DrumRecord
from tauthide.output.plan_json import exact
from tauthide.printing.prints import render_failed_prints
from tauthide.sheets.custom import TemplateTrouble
from tauthide.sheets.index import IndexRow, failed_row, index_row
from tauthide.sheets.sheet import render_notice
from tauthide.spec.chain import Library

MOST_FINDINGS = 50
"""A notice shows so many findings of a spec, and no more are remembered."""

MOST_TEXT = 20_000
"""Nor are findings remembered that are about lines with more characters than this in all."""


@dataclass(frozen=True, slots=True)
class Job:
    """One spec to compile, and the drum whose files it makes."""

    item: Input
    spec: str
    """The spec's name as seen from its repository."""
    drum: str | None
    """None where no drum can be told: then only findings come of it."""
    findings: tuple[Finding, ...] = ()
    """What was found before."""
    ticket: Ticket | None = None
    """Leave to write; without it nothing is written."""
    making: Making = PLAIN


@dataclass(frozen=True, slots=True)
class Outcome:
    """What came of a job; small, since a batch keeps all of them."""

    job: Job
    findings: tuple[Finding, ...]
    record: DrumRecord | None
    """None where no drum can be told."""
    written: Written | None
    unreadable: bool


@dataclass(frozen=True, slots=True)
class Made:
    """A job's files, in memory."""

    outcome: Outcome
    files: Mapping[str, bytes]


def make(job: Job, library: Library) -> Made:
    """Compile a job's spec and render its files, or its notice; nothing is written."""
    compiled = compile_input(job.item, library)
    findings = in_order((*job.findings, *compiled.findings))
    plan = compiled.plan
    if plan is not None and plan.spec.drum != job.drum and not has_errors(findings):
        findings = (*findings, _changed(job, plan.spec.place))
    if job.drum is None:
        return Made(Outcome(job, findings, None, None, compiled.unreadable), {})
    files, findings = _render(job, job.drum, compiled, findings)
    failed = plan is None or has_errors(findings)
    row = failed_row(job.drum, findings=findings) if failed or plan is None else index_row(plan, findings)
    record = _record(job, made_fingerprint(compiled.fingerprint, job.making), findings, row)
    return Made(Outcome(job, findings, record, None, compiled.unreadable), files)


def _render(
    job: Job, drum: str, compiled: Compiled, findings: tuple[Finding, ...]
) -> tuple[Mapping[str, bytes], tuple[Finding, ...]]:
    """Return a drum's files, or its notice, and the findings with what the maker's templates add to them."""
    if compiled.plan is not None and not has_errors(findings):
        try:
            return render_drum(compiled.plan, findings, job.making), findings
        except TemplateTrouble as trouble:
            findings = in_order((*findings, trouble.finding))
    files = {"sheet.md": render_notice(drum, "", _first(findings), job.item.shown)}
    return files | render_failed_prints(drum, files, job.making.prints), findings


def build(job: Job, library: Library) -> Outcome:
    """Compile a job's spec and write its files; StoreTrouble where that can't be done."""
    made = make(job, library)
    if job.ticket is None:
        return made.outcome
    return replace(made.outcome, written=write_drum(job.ticket, made.files))


def recall(job: Job, record: DrumRecord) -> Outcome | None:
    """Return what a drum's record tells of the job's outcome; None where the record is not what we write."""
    try:
        findings = tuple(finding_from(data, job.item.shown) for data in record.findings if isinstance(data, dict))
        row_of(record)
    except (KeyError, TypeError, ValueError):
        return None
    return Outcome(job, findings, record, None, False)


def row_of(record: DrumRecord) -> IndexRow:
    """Return a record's row of the index; TypeError where it is none."""
    if not isinstance(record.index_row, dict):
        raise TypeError("not a row of the index")
    return IndexRow(**record.index_row)


def _record(job: Job, fingerprint: str, findings: tuple[Finding, ...], row: IndexRow) -> DrumRecord:
    """Return what the next build is to know of the drum.

    Without a fingerprint it is compiled again: where what is wrong does not lie in the files that feed it
    alone, such as a name that another spec has too, and where there is too much to remember.
    """
    assert job.drum is not None  # the caller has looked
    much = len(findings) > MOST_FINDINGS or sum(len(finding.place.text) for finding in findings) > MOST_TEXT
    if job.findings or much:
        return DrumRecord(job.drum, job.spec, "", row.failed, (), _plain(row))
    data = tuple(finding_data(finding, job.item.shown) for finding in findings)
    return DrumRecord(job.drum, job.spec, fingerprint, row.failed, data, _plain(row))


def _first(findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """Return as many findings as a notice has room for, and a word on the rest."""
    more = len(findings) - MOST_FINDINGS
    if more <= 0:
        return findings
    message = f"There are {more} more findings; `tauthide check --format json` gives them all"
    last = findings[MOST_FINDINGS - 1]
    return (*findings[:MOST_FINDINGS], Finding("more-findings", Severity.NOTE, message, last.place))


def _plain(row: IndexRow) -> dict[str, Any]:
    """Return a row of the index as plain data whose bytes are the same on any machine."""
    return {name: exact(value) if isinstance(value, float) else value for name, value in asdict(row).items()}


def _changed(job: Job, place: Place) -> Finding:
    return Finding(
        "changed-while-building",
        Severity.ERROR,
        f"This file has become another drum's since the build began; it was {job.drum}",
        place,
        "drum",
        allowed="a file that is left alone while it is built",
        write="tauthide build",
    )
