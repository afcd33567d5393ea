"""One spec's way through a build, as a job that may run in another process."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from tauthide.batch.compiling import compile_input, render_drum, row_of
from tauthide.batch.inputs import Input, show_path
from tauthide.findings import Finding, Place, Severity, finding_data, has_errors, in_order
from tauthide.output.drums import Ticket, Written, write_drum
from tauthide.output.manifest import DrumRecord
from tauthide.sheets.sheet import render_notice
from tauthide.spec.chain import Library


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


def make(job: Job) -> Made:
    """Compile a job's spec and render its files, or its notice; nothing is written."""
    compiled = compile_input(job.item, _library())
    findings = in_order((*job.findings, *compiled.findings))
    plan = compiled.plan
    if plan is not None and plan.spec.drum != job.drum and not has_errors(findings):
        findings = (*findings, _changed(job, plan.spec.place))
    failed = plan is None or has_errors(findings)
    files: Mapping[str, bytes] = {}
    row: Any = None
    if job.drum is not None:
        if failed or plan is None:
            files = {"sheet.md": render_notice(job.drum, findings, job.item.shown)}
        else:
            files, row = render_drum(plan, findings), row_of(plan)
    record = None
    if job.drum is not None:
        data = tuple(finding_data(finding, job.item.shown) for finding in findings)
        record = DrumRecord(job.drum, job.spec, compiled.fingerprint, failed, data, row)
    return Made(Outcome(job, findings, record, None, compiled.unreadable), files)


def build(job: Job) -> Outcome:
    """Compile a job's spec and write its files; StoreTrouble where that can't be done."""
    made = make(job)
    if job.ticket is None:
        return made.outcome
    outcome = made.outcome
    return Outcome(
        job, outcome.findings, outcome.record, write_drum(job.ticket, made.files), outcome.unreadable
    )


@cache
def _library() -> Library:
    """Return the library of this process: shop and base files are read once."""
    return Library(show_path)


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
