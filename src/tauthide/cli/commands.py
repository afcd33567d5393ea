"""The commands: what each does with its inputs, and what it says in the end."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from tauthide.batch.inputs import STDIN, Inputs, find_inputs, show_path
from tauthide.cli import exits
from tauthide.cli.arguments import DEFAULT_PATHS
from tauthide.cli.progress import ProgressLine
from tauthide.cli.report import Painter, counted, report_json, report_text, tally, wants_colours
from tauthide.findings import Finding, has_errors
from tauthide.output.comparison import Difference
from tauthide.output.files import StoreTrouble
from tauthide.reading.faults import MAX_BYTES
from tauthide.reading.files import FileTrouble
from tauthide.reading.templates import Templates
from tauthide.text import plain

if TYPE_CHECKING:
    from tauthide.printing.paper import Prints


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
        if arguments.command == "renew":
            from tauthide.cli.renew import run_renew

            return run_renew(arguments, _paths(arguments.paths))
        if arguments.command == "show":
            from tauthide.cli.show import run_show

            return run_show(arguments)
        if arguments.command == "run":
            from tauthide.cli.run import run_run

            return run_run(arguments, _inputs((arguments.file,)), progress)
        if arguments.command == "record":
            from tauthide.cli.record import run_record

            return run_record(arguments)
        if arguments.command == "learn":
            from tauthide.cli.learn import run_learn

            return run_learn(arguments, _inputs(arguments.paths))
        if arguments.command == "approve":
            from tauthide.cli.approve import run_approve

            return run_approve(arguments)
        if arguments.command == "compare":
            from tauthide.cli.compare import run_compare

            return run_compare(arguments)
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

    checked = check_batch(inputs, progress=progress, approved=arguments.approved)
    progress.clear()
    others = {kind: count for kind, count in checked.others.items() if count}
    counts = {"spec": checked.specs, **others} if checked.specs or not others else others
    said = ", ".join(counted(count, kind) for kind, count in counts.items())
    summary = {"specs": checked.specs, **{f"{kind.replace(' ', '_')}s": count for kind, count in others.items()}}
    _report(arguments, checked.findings, summary, said)
    return _exit_code(checked.findings, unreadable=checked.unreadable)


def _build(arguments: argparse.Namespace, inputs: Inputs, progress: ProgressLine) -> int:
    from tauthide.batch.building import build_batch, verify_batch
    from tauthide.batch.making import Making
    from tauthide.batch.workers import WorkerLostError

    work = verify_batch if arguments.verify else build_batch
    prints = _prints(arguments)
    templates, findings = _templates(arguments.templates)
    if has_errors(findings):
        progress.clear()
        _report(arguments, findings, {"specs": 0}, "nothing done")
        return exits.WRONG
    making = Making(prints, templates)
    try:
        built = work(inputs, Path(arguments.out), jobs=arguments.jobs, progress=progress, making=making)
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
    _report(arguments, built.findings, summary, f"{counted(built.specs, 'spec')}; {said}", built.differences)
    return _exit_code(built.findings, unreadable=built.unreadable, stale=bool(built.differences))


def _prints(arguments: argparse.Namespace) -> Prints:
    """Return what is to be printed; UsageTrouble, before anything is done, where a package for it is missing."""
    from tauthide.printing.paper import Prints, missing

    prints = Prints(arguments.html, arguments.pdf, arguments.paper)
    lacking = missing(prints)
    if lacking:
        raise exits.UsageTrouble(
            f"pages to print are made with packages that are not installed: {', '.join(lacking)}; "
            "pip install 'tauthide[print]' brings them"
        )
    return prints


def _templates(folder: str | None) -> tuple[Templates | None, tuple[Finding, ...]]:
    """Return the maker's own templates, if any are named, and what is wrong with them; FileTrouble if unreadable."""
    if folder is None:
        return None, ()
    from tauthide.batch.templating import load_templates

    return load_templates(Path(folder))


def _inputs(paths: Sequence[str]) -> Inputs:
    wanted = _paths(paths)
    stdin = sys.stdin.buffer.read(MAX_BYTES + 1) if STDIN in wanted else b""
    return find_inputs(wanted, stdin)


def _paths(paths: Sequence[str]) -> Sequence[str]:
    """Return the paths that are given, or the one that stands for none."""
    try:
        Path.cwd()
    except FileNotFoundError:
        raise exits.UsageTrouble("the current folder is not there any more; go to another one") from None
    if not paths and not Path(DEFAULT_PATHS[0]).exists():
        raise exits.UsageTrouble(f"there is no folder {DEFAULT_PATHS[0]} here; name a spec or a folder of specs")
    return paths or DEFAULT_PATHS


def _report(
    arguments: argparse.Namespace,
    findings: Sequence[Finding],
    summary: Mapping[str, Any],
    said: str,
    differences: Sequence[Difference] = (),
) -> None:
    if arguments.format == "github":
        _annotate(arguments, findings, differences, said)
        return
    if arguments.format == "json":
        sys.stdout.writelines(report_json(arguments.command, findings, summary))
        sys.stdout.flush()
        return
    painter = Painter(colours=wants_colours(sys.stderr, os.environ))
    sys.stderr.write(report_text(findings, painter))
    sys.stderr.write(f"{said}; {tally(findings)}\n")
    sys.stderr.flush()


def _annotate(
    arguments: argparse.Namespace, findings: Sequence[Finding], differences: Sequence[Difference], said: str
) -> None:
    """Say what is found as annotations, and add it to the step's summary where the runner has one.

    The text report would only say the same in the step's log, with lines of the maker's that a runner might obey.
    """
    from tauthide.cli import github

    folder = show_path(Path(arguments.out)) if differences else ""
    remarks = github.remarks_of(findings, differences, folder)
    sys.stdout.writelines(github.annotate(remarks, os.environ.get(github.WORKSPACE_VARIABLE, "")))
    sys.stdout.flush()
    sys.stderr.write(f"{said}; {tally(findings)}\n")
    sys.stderr.flush()
    file = os.environ.get(github.SUMMARY_VARIABLE)
    if file:
        github.add_summary(Path(file), arguments.command, said, findings, remarks)


def _exit_code(findings: Sequence[Finding], *, unreadable: bool, stale: bool = False) -> int:
    if unreadable:
        return exits.TROUBLE
    return exits.WRONG if stale or has_errors(findings) else exits.FINE
