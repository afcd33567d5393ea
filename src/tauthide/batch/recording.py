"""Records of built drums with the plans of these drums: for checking them, amending them, and learning from them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from tauthide.batch.compiling import compile_chain
from tauthide.findings import Finding, has_errors, in_order
from tauthide.plan.plan import Plan
from tauthide.reading.files import FileTrouble, read_bytes
from tauthide.recording.judging import judge_records
from tauthide.recording.loading import load_records
from tauthide.recording.records import Records
from tauthide.spec.chain import Chain, Library, Source, read_source


@dataclass(frozen=True, slots=True)
class Recorded:
    """Records, and what was planned for their drums."""

    records: Records
    plans: Mapping[str, Plan]
    """Of every drum of the run, by serial."""
    chains: Mapping[str, Chain]
    """What feeds the spec of every drum of the run, by serial."""


def see_records(source: Source, library: Library) -> tuple[Recorded | None, tuple[Finding, ...]]:
    """Return records that were read with the plans of their drums, or None where there are errors, and all findings.

    FileTrouble where a file that feeds a spec of the run can't be read.
    """
    records, findings = load_records(source, library)
    if records is None:
        return None, findings
    plans: dict[str, Plan] = {}
    chains: dict[str, Chain] = {}
    found = list(findings)
    for entry in records.run.entries:
        chain = library.chain(read_source(entry.path, entry.shown, read_bytes(entry.path, entry.shown)))
        compiled = compile_chain(chain)
        found += () if compiled.plan is not None else compiled.findings
        for serial in entry.serials:
            chains[serial] = chain
            if compiled.plan is not None:
                plans[serial] = compiled.plan
    if has_errors(found):
        return None, in_order(found)
    found += judge_records(records, plans)
    return Recorded(records, plans, chains), in_order(found)


def check_records(source: Source, library: Library) -> tuple[Finding, ...]:
    """Return what is wrong with a file of records, and with the run and specs that it is of."""
    try:
        return see_records(source, library)[1]
    except FileTrouble:
        return load_records(source, library)[1]
