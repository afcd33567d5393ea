"""The command `run`: the papers of a run of drums."""

from __future__ import annotations

import argparse
import os
import sys
from dataclasses import replace
from pathlib import Path
from typing import Any

from tauthide.batch.inputs import Inputs
from tauthide.batch.running import PlannedRun, plan_source, render_papers_of
from tauthide.cli import exits
from tauthide.cli.progress import ProgressLine
from tauthide.cli.report import Painter, counted, report_json, report_text, tally, wants_colours
from tauthide.findings import has_errors
from tauthide.output.run_store import WrittenRun, write_run
from tauthide.reading.documents import a_kind

RUN_ALLOWED = "the file of a run"
"""What the command takes; other commands take specs, folders and standard input, too."""


def run_run(arguments: argparse.Namespace, inputs: Inputs, progress: ProgressLine) -> int:
    """Run the command and return its exit code."""
    if inputs.findings:
        found = tuple(replace(finding, allowed=RUN_ALLOWED) for finding in inputs.findings)
        planned = PlannedRun(None, found, unreadable=True)
    elif len(inputs.items) != 1 or not inputs.items[0].named:
        raise exits.UsageTrouble(f"{arguments.file} is a folder; run takes the file of one run")
    elif inputs.items[0].path is None:
        raise exits.UsageTrouble("a run names other files, so it can't come from standard input; name its file")
    else:
        source = inputs.items[0].read()
        if source.document is not None and source.document.kind != "run":
            kind = a_kind(source.document.kind)
            raise exits.UsageTrouble(f"{source.shown} is {kind} file; run takes the file of a run")
        progress.things = "rounds"
        planned = plan_source(source, arguments.effort, progress, keep_partial=arguments.keep_partial)
    progress.clear()
    written = None
    if planned.plan is not None and not has_errors(planned.findings):
        files = render_papers_of(planned.plan, planned.findings)
        written = write_run(Path(arguments.out), arguments.out, files)
    _report(arguments, planned, written)
    if planned.interrupted:
        return exits.INTERRUPTED
    if planned.unreadable:
        return exits.TROUBLE
    return exits.WRONG if has_errors(planned.findings) else exits.FINE


def _report(arguments: argparse.Namespace, planned: PlannedRun, written: WrittenRun | None) -> None:
    drums = 0 if planned.plan is None else len(planned.plan.drums)
    summary: dict[str, Any] = {"drums": drums, "partial": planned.interrupted}
    said = "nothing written"
    if written is not None:
        summary |= {"written": written.written, "unchanged": written.unchanged, "removed": written.removed}
        files = counted(written.written, "file")
        said = f"{files} written, {written.unchanged} unchanged, {written.removed} removed"
    if planned.interrupted:
        said += "; interrupted, so this is the best so far"
    if arguments.format == "json":
        sys.stdout.writelines(report_json("run", planned.findings, summary))
        sys.stdout.flush()
        return
    painter = Painter(colours=wants_colours(sys.stderr, os.environ))
    sys.stderr.write(report_text(planned.findings, painter))
    sys.stderr.write(f"{counted(drums, 'drum')}; {said}; {tally(planned.findings)}\n")
    sys.stderr.flush()
