"""The command `record`: what was measured on a drum, kept beside the run that it belongs to."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from tauthide.batch.inputs import STDIN, find_inputs, show_path
from tauthide.batch.recording import see_records
from tauthide.cli import exits
from tauthide.cli.report import Painter, counted, difference, report_json, report_text, tally, wants_colours
from tauthide.findings import Finding, Place, Severity, has_errors, in_order
from tauthide.output.rewriting import rewrite_file, write_new_file
from tauthide.plan.plan import make_plan
from tauthide.quantities.figures import start_workings
from tauthide.reading.documents import VERSION
from tauthide.reading.files import lies_there, read_bytes
from tauthide.recording.amending import Amendment, amend, field_path
from tauthide.recording.records import records_path
from tauthide.recording.travellers import read_traveller
from tauthide.rules.registry import hold_rules
from tauthide.running.drums import Batch
from tauthide.running.steps import steps_of
from tauthide.runs.loading import load_run
from tauthide.spec.chain import Library, read_source
from tauthide.text import plain


def run_record(arguments: argparse.Namespace) -> int:
    """Run the command and return its exit code."""
    _require_usage(arguments)
    inputs = find_inputs((arguments.file,), b"")
    if inputs.findings:
        return _tell(arguments, inputs.findings, {}, exits.TROUBLE)
    path = Path(arguments.file)
    target = records_path(path)
    shown = show_path(target)
    old = read_bytes(target, shown) if lies_there(target) else None
    if arguments.csv is None:
        amendments, findings = _from_arguments(arguments), list[Finding]()
    else:
        table = show_path(Path(arguments.csv))
        amendments, findings = read_traveller(read_bytes(Path(arguments.csv), table), table, _steps(path))
    if not amendments:
        return _tell(arguments, findings, {}, exits.WRONG if has_errors(findings) else exits.FINE)
    return _record(arguments, target, shown, old, amendments, findings)


def _record(arguments: argparse.Namespace, target: Path, shown: str, old: bytes | None,
            amendments: Sequence[Amendment], told: Sequence[Finding]) -> int:  # fmt: skip
    if old is not None:
        before = read_source(target, shown, old)
        if before.document is None or before.document.kind != "records":
            if before.document is not None:
                raise exits.UsageTrouble(f"{shown} is there and holds no records, so it is left alone")
            return _tell(arguments, before.findings, {}, exits.WRONG)
        if before.document.version != VERSION:
            raise exits.UsageTrouble(f"{shown} is of an older version; renew it first: `tauthide renew {shown}`")
    amended = amend(old, amendments)
    new = amended.content
    if new is None:
        raise exits.UsageTrouble(f"the layout of {shown} can't be changed safely; write the values in by hand")
    seen, found = see_records(read_source(target, shown, new), Library(show_path))
    findings = in_order((*told, *(_at_table(finding, amended.places) for finding in found)))
    if seen is None or has_errors(findings):
        return _tell(arguments, findings, {}, exits.WRONG)
    drums = len({amendment.serial for amendment in amendments})
    changed = difference(old or b"", new, shown)
    if old is None:
        write_new_file(target, shown, new)
    elif old != new:
        rewrite_file(target, shown, old, new)
    summary = {"file": shown, "drums": drums, "written": old != new, "patch": "".join(changed)}
    return _tell(arguments, findings, summary, exits.FINE)


def _require_usage(arguments: argparse.Namespace) -> None:
    if arguments.file == STDIN:
        raise exits.UsageTrouble("a run names other files, so it can't come from standard input; name its file")
    if Path(arguments.file).is_dir():
        raise exits.UsageTrouble(f"{arguments.file} is a folder; record takes the file of one run")
    if arguments.csv is not None and (arguments.serial is not None or arguments.settings):
        raise exits.UsageTrouble("--csv takes the drums from the table, so it does not go with SERIAL and fields")
    if arguments.csv is None and arguments.serial is None:
        raise exits.UsageTrouble("say which drum: SERIAL FIELD=VALUE..., or take a table: --csv FILE")
    if arguments.csv is None and not arguments.settings:
        raise exits.UsageTrouble("say what was measured: FIELD=VALUE...")


def _from_arguments(arguments: argparse.Namespace) -> tuple[Amendment, ...]:
    amendments = []
    for setting in arguments.settings:
        name, equals, value = setting.partition("=")
        if not equals or not name.strip() or not value.strip():
            raise exits.UsageTrouble(f'{setting!r} is not FIELD=VALUE, such as lace_used="6.35 m"')
        amendments.append(Amendment(plain(arguments.serial), field_path(name), plain(value.strip())))
    return tuple(amendments)


def _steps(path: Path) -> tuple[str, ...]:
    """Return the names of the run's steps as its papers number them; none where the run can't be planned."""
    shown = show_path(path)
    run, _ = load_run(read_source(path, shown, read_bytes(path, shown)), Library(show_path))
    batches = []
    for entry in () if run is None else run.entries:
        workings = start_workings(entry.spec)
        if has_errors(hold_rules(workings)):
            return ()
        batches.append(Batch(entry, make_plan(workings)))
    return tuple(step.name for step in steps_of(batches))


def _at_table(finding: Finding, places: Mapping[str, Place]) -> Finding:
    """Return a finding at its cell, where the value that it is of comes from a table."""
    place = places.get(finding.path)
    return finding if place is None else replace(finding, place=place)


def _tell(arguments: argparse.Namespace, findings: Iterable[Finding], summary: Mapping[str, Any], code: int) -> int:
    findings = tuple(findings)
    if arguments.format == "json":
        sys.stdout.writelines(report_json("record", findings, summary or {"drums": 0, "written": False, "patch": ""}))
        sys.stdout.flush()
        return code
    said = "nothing recorded"
    if summary:
        sys.stdout.write("".join(f"{plain(line)}\n" for line in str(summary["patch"]).splitlines()))
        sys.stdout.flush()
        what = counted(int(summary["drums"]), "drum")
        said = f"{what} recorded: {summary['file']} {'written' if summary['written'] else 'is unchanged'}"
    painter = Painter(colours=wants_colours(sys.stderr, os.environ))
    errors = sum(finding.severity is Severity.ERROR for finding in findings)
    sys.stderr.write(report_text(findings, painter))
    sys.stderr.write(f"{plain(said)}; {tally(findings)}{', nothing written' if errors else ''}\n")
    sys.stderr.flush()
    return code
