"""From a file of records to the records with the run that they are of, and everything that is wrong with them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from pathlib import Path

from tauthide.findings import Finding, has_errors, in_order
from tauthide.reading.files import FileTrouble, read_bytes
from tauthide.reading.located import Located
from tauthide.recording import faults
from tauthide.recording.records import Records, is_named_so, read_record, run_path_of
from tauthide.runs.dates import read_date
from tauthide.runs.loading import load_run
from tauthide.runs.run import Run
from tauthide.runs.values import as_list, found_at
from tauthide.schema.wording import nearest
from tauthide.spec.chain import Library, Source, check_source, read_source

SERIALS_TOLD = 6
"""Of the serials of a run so many are listed in a finding."""


def load_records(source: Source, library: Library) -> tuple[Records | None, tuple[Finding, ...]]:
    """Return the records in a file that was read with the run beside it, or None where there are errors.

    In any case all findings, also those of the run and of what it names.
    """
    if source.document is None:
        return None, source.findings
    checked = check_source(source)
    located = source.document.located
    run, found = _load_run(source, located, library)
    findings = [*checked.findings, *found, *_judge_serials(located, run)]
    if has_errors(checked.findings):
        return None, in_order(findings)
    days: list[date | None] = []
    for index, item in enumerate(as_list(located.data["drums"])):
        written = isinstance(item, dict) and "date" in item
        day = read_date(located, ("drums", index, "date")) if written else None
        days.append(None if isinstance(day, Finding) else day)
        findings += (day,) if isinstance(day, Finding) else ()
    if has_errors(findings) or run is None:
        return None, in_order(findings)
    findings += _early(located, days, run)
    records = tuple(read_record(located, index, day) for index, day in enumerate(days))
    return Records(source.path, source.shown, run, records), in_order(findings)


def _load_run(source: Source, located: Located, library: Library) -> tuple[Run | None, tuple[Finding, ...]]:
    place = located.place(("records",), key=True)
    if not is_named_so(Path(source.path.name)):
        return None, (faults.MISNAMED.at(place, found=source.shown),)
    path = run_path_of(source.path)
    if path is None:
        return None, (faults.NO_RUN.at(place, found=source.shown),)
    shown = library.show(path)
    try:
        read = read_source(path, shown, read_bytes(path, shown))
    except FileTrouble as trouble:
        return None, (faults.NO_RUN.at(place, found=str(trouble)),)
    if read.document is not None and read.document.kind != "run":
        return None, (faults.NOT_A_RUN.at(place, found=shown, kind=read.document.kind),)
    return load_run(read, library)


def serials_of(run: Run) -> tuple[str, ...]:
    """Return the serials of a run's drums, in order."""
    return tuple(serial for entry in run.entries for serial in entry.serials)


def serial_advice(serials: Sequence[str], serial: str) -> tuple[str, str]:
    """Return what is allowed in place of a serial that the run has not, and the one that is most likely meant."""
    more = f" and {len(serials) - SERIALS_TOLD} more" if len(serials) > SERIALS_TOLD else ""
    by_small = {each.casefold(): each for each in serials}
    likely = by_small.get(nearest(serial.casefold(), by_small), "")
    return ", ".join(serials[:SERIALS_TOLD]) + more, f"drum: {likely}" if likely else ""


def _judge_serials(located: Located, run: Run | None) -> Iterator[Finding]:
    serials = None if run is None else serials_of(run)
    seen: dict[str, int] = {}
    drums = located.data.get("drums")  # of a document whose fields may be wrong in any way
    for index, item in enumerate(drums if isinstance(drums, list) else ()):
        serial, path = item.get("drum") if isinstance(item, dict) else None, ("drums", index, "drum")
        if not isinstance(serial, str) or not serial.strip():
            continue
        if serials is not None and serial not in serials:
            allowed, write = serial_advice(serials, serial)
            yield found_at(located, faults.UNKNOWN_SERIAL, path, allowed=allowed, write=write, serial=serial)
        if serial in seen:
            yield found_at(located, faults.SERIAL_TWICE, path, serial=serial, line=seen[serial])
        seen.setdefault(serial, located.place(path).line)


def _early(located: Located, days: Sequence[date | None], run: Run) -> Iterator[Finding]:
    for index, day in enumerate(days):
        if day is not None and day < run.start:
            yield found_at(located, faults.EARLY, ("drums", index, "date"), start=run.start.isoformat())
