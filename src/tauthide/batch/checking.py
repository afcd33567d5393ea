"""Checking a batch: everything that is found, with nothing written."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from tauthide.approving.judging import not_approved
from tauthide.batch.building import Progress, is_spec
from tauthide.batch.compiling import compile_input
from tauthide.batch.inputs import Inputs, show_path
from tauthide.batch.survey import survey
from tauthide.findings import Finding, in_order
from tauthide.runs.loading import KINDS as RUN_KINDS
from tauthide.spec.chain import Library


@dataclass(frozen=True, slots=True)
class CheckedBatch:
    """What a check found."""

    specs: int
    others: Mapping[str, int]
    """How many runs, skins, lots and files of records there are, by kind."""
    findings: tuple[Finding, ...]
    unreadable: bool


def check_batch(inputs: Inputs, *, progress: Progress, approved: bool = False) -> CheckedBatch:
    """Check every input: specs as far as a build would, other documents against their schema.

    With `approved`, a drum that is not approved as it stands is an error.
    """
    library = Library(show_path)
    surveyed = survey(inputs.items, library, runs=True)
    findings = list(inputs.findings)
    missing = bool(findings)
    specs = 0
    for done, item in enumerate(surveyed, 1):
        findings += item.findings
        missing = missing or item.unreadable
        if is_spec(item):
            specs += 1
            if not item.unreadable:
                compiled = compile_input(item.input, library)
                findings += compiled.findings
                missed = not_approved(compiled.plan) if approved and compiled.plan is not None else None
                findings += () if missed is None else (missed,)
                missing = missing or compiled.unreadable
        progress(done, len(surveyed))
    kinds = [item.kind for item in surveyed]
    others = {kind: kinds.count(kind) for kind in RUN_KINDS} | {"record file": kinds.count("records")}
    return CheckedBatch(specs, others, in_order(findings), missing)
