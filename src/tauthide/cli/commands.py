"""The commands: what each does with its inputs, and what it says in the end."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from tauthide.batch.inputs import STDIN, Inputs, find_inputs
from tauthide.cli import exits
from tauthide.cli.arguments import DEFAULT_PATHS
from tauthide.cli.progress import ProgressLine
from tauthide.cli.report import Painter, counted, report_json, report_text, tally, wants_colours
from tauthide.findings import Finding, has_errors
from tauthide.output.files import StoreTrouble
from tauthide.reading.faults import MAX_BYTES
from tauthide.reading.files import FileTrouble
from tauthide.reading.templates import Templates
from tauthide.text import plain


def run(arguments: argparse.Namespace) -> int:
    """Run the command that the arguments name and return its exit code."""
    progress = ProgressLine(sys.stderr, os.environ, wanted=arguments.format == "text")
    try:
        if arguments.command in ("explain", "rules"):
            from tauthide.cli.explain import run_explain, run_rules

            return run_explain(arguments) if arguments.command == "explain" else run_rules(arguments)
        if arguments.command == "suggest":
            from tauthide.cli.suggest import run_suggest

            return run_suggest(arguments)
        inputs = _inputs(arguments.paths)
        if arguments.command == "check":
            return _check(arguments, inputs, progress)
        return _build(arguments, inputs, progress)
    except (FileTrouble, StoreTrouble) as trouble:
        raise exits.UsageTrouble(str(trouble)) from trouble
    finally:
        progress.clear()


def _check(arguments: argparse.Namespace, inputs: Inputs, progress: ProgressLine) -> int:
    from tauthide.batch.checking import check_batch

    checked = check_batch(inputs, progress=progress)
    progress.clear()
    _report(arguments, checked.findings, {"specs": checked.specs}, counted(checked.specs, "spec"))
    return _exit_code(checked.findings, unreadable=checked.unreadable)


def _build(arguments: argparse.Namespace, inputs: Inputs, progress: ProgressLine) -> int:
    from tauthide.batch.building import build_batch, verify_batch
    from tauthide.batch.workers import WorkerLostError

    work = verify_batch if arguments.verify else build_batch
    templates, findings = _templates(arguments.templates)
    if has_errors(findings):
        progress.clear()
        _report(arguments, findings, {"specs": 0}, "nothing done")
        return exits.WRONG
    try:
        built = work(inputs, Path(arguments.out), jobs=arguments.jobs, progress=progress, templates=templates)
    except WorkerLostError as lost:
        raise exits.LostError(str(lost)) from lost
    progress.clear()
    built = replace(built, findings=(*findings, *built.findings))
    summary: dict[str, Any] = {"specs": built.specs}
    if arguments.verify:
        summary["differences"] = [{"path": item.path, "gap": str(item.gap)} for item in built.differences]
        if arguments.format == "text":
            sys.stderr.writelines(f"{item.gap}: {plain(item.path)}\n" for item in built.differences)
        amiss = counted(len(built.differences), "file") + " to be built, or left over"
        said = amiss if built.differences else "nothing stale, missing or left over"
    else:
        summary |= {"written": built.written, "unchanged": built.unchanged, "removed": built.removed}
        summary["removed_drums"] = list(built.others)
        if built.others and arguments.format == "text":
            gone = ", ".join(map(plain, built.others))
            sys.stderr.write(f"removed, since this batch has no spec for them: {gone}\n")
        written = counted(built.written, "file")
        said = f"{written} written, {built.unchanged} unchanged, {built.removed} removed"
    if not built.specs:
        said = "nothing done"
    _report(arguments, built.findings, summary, f"{counted(built.specs, 'spec')}; {said}")
    return _exit_code(built.findings, unreadable=built.unreadable, stale=bool(built.differences))


def _templates(folder: str | None) -> tuple[Templates | None, tuple[Finding, ...]]:
    """Return the maker's own templates, if any are named, and what is wrong with them; FileTrouble if unreadable."""
    if folder is None:
        return None, ()
    from tauthide.batch.templating import load_templates

    return load_templates(Path(folder))


def _inputs(paths: Sequence[str]) -> Inputs:
    try:
        Path.cwd()
    except FileNotFoundError:
        raise exits.UsageTrouble("the current folder is not there any more; go to another one") from None
    if not paths and not Path(DEFAULT_PATHS[0]).exists():
        raise exits.UsageTrouble(f"there is no folder {DEFAULT_PATHS[0]} here; name a spec or a folder of specs")
    stdin = sys.stdin.buffer.read(MAX_BYTES + 1) if STDIN in paths else b""
    return find_inputs(paths or DEFAULT_PATHS, stdin)


def _report(arguments: argparse.Namespace, findings: Sequence[Finding], summary: Mapping[str, Any], said: str) -> None:
    if arguments.format == "json":
        sys.stdout.writelines(report_json(arguments.command, findings, summary))
        sys.stdout.flush()
        return
    painter = Painter(colours=wants_colours(sys.stderr, os.environ))
    sys.stderr.write(report_text(findings, painter))
    sys.stderr.write(f"{said}; {tally(findings)}\n")
    sys.stderr.flush()


def _exit_code(findings: Sequence[Finding], *, unreadable: bool, stale: bool = False) -> int:
    if unreadable:
        return exits.TROUBLE
    return exits.WRONG if stale or has_errors(findings) else exits.FINE
