"""The commands: what each does with its inputs, and what it says in the end."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from tauthide.batch.inputs import STDIN, Input, InputTrouble, find_inputs
from tauthide.cli import exits
from tauthide.cli.arguments import DEFAULT_PATHS
from tauthide.cli.progress import ProgressLine
from tauthide.cli.report import Painter, report_json, report_text, tally, wants_colours
from tauthide.findings import Finding, has_errors
from tauthide.output.files import StoreTrouble
from tauthide.reading.faults import MAX_BYTES
from tauthide.reading.files import FileTrouble


def run(arguments: argparse.Namespace) -> int:
    """Run the command that the arguments name and return its exit code."""
    progress = ProgressLine(sys.stderr, wanted=arguments.format == "text")
    try:
        inputs = _inputs(arguments.paths or DEFAULT_PATHS)
        if arguments.command == "check":
            return _check(arguments, inputs, progress)
        return _build(arguments, inputs, progress)
    except (InputTrouble, FileTrouble, StoreTrouble) as trouble:
        raise exits.UsageTrouble(str(trouble)) from trouble
    finally:
        progress.clear()


def _check(arguments: argparse.Namespace, inputs: Sequence[Input], progress: ProgressLine) -> int:
    from tauthide.batch.checking import check_batch

    checked = check_batch(inputs, progress=progress)
    progress.clear()
    summary = {"specs": checked.specs}
    _report(arguments, checked.findings, summary, _specs(checked.specs))
    return _exit_code(checked.findings, unreadable=checked.unreadable)


def _build(arguments: argparse.Namespace, inputs: Sequence[Input], progress: ProgressLine) -> int:
    from tauthide.batch.building import build_batch, verify_batch

    work = verify_batch if arguments.verify else build_batch
    built = work(inputs, Path(arguments.out), jobs=arguments.jobs, progress=progress)
    progress.clear()
    summary: dict[str, Any] = {"specs": built.specs}
    if arguments.verify:
        summary["differences"] = [{"path": item.path, "gap": str(item.gap)} for item in built.differences]
        said = f"{_specs(built.specs)}; " + (
            f"{len(built.differences)} files differ from what they should be" if built.differences else "all up to date"
        )
        if arguments.format == "text":
            sys.stderr.writelines(f"{item.gap}: {item.path}\n" for item in built.differences)
    else:
        summary |= {"written": built.written, "unchanged": built.unchanged, "removed": built.removed}
        said = f"{_specs(built.specs)}; {built.written} files written, {built.unchanged} unchanged, {built.removed} removed"
    _report(arguments, built.findings, summary, said)
    return _exit_code(built.findings, unreadable=built.unreadable, stale=bool(built.differences))


def _inputs(paths: Sequence[str]) -> tuple[Input, ...]:
    stdin = sys.stdin.buffer.read(MAX_BYTES + 1) if STDIN in paths else b""
    if not paths == DEFAULT_PATHS or Path(DEFAULT_PATHS[0]).exists():
        return find_inputs(paths, stdin)
    raise InputTrouble(f"there is no folder {DEFAULT_PATHS[0]} here; name a spec or a folder of specs")


def _report(
    arguments: argparse.Namespace, findings: Sequence[Finding], summary: Mapping[str, Any], said: str
) -> None:
    if arguments.format == "json":
        sys.stdout.write(report_json(arguments.command, findings, summary))
        sys.stdout.flush()
        return
    painter = Painter(colours=wants_colours(sys.stderr, os.environ))
    sys.stderr.write(report_text(findings, painter))
    sys.stderr.write(f"{said}; {tally(findings)}\n")
    sys.stderr.flush()


def _specs(count: int) -> str:
    return f"{count} spec{'' if count == 1 else 's'}"


def _exit_code(findings: Sequence[Finding], *, unreadable: bool, stale: bool = False) -> int:
    if unreadable:
        return exits.TROUBLE
    return exits.WRONG if stale or has_errors(findings) else exits.FINE
