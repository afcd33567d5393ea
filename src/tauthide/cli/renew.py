"""The command `renew`: files of an older version written anew in the present one."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

from tauthide.batch.inputs import STDIN, Input, find_inputs, unreadable
from tauthide.cli import exits
from tauthide.cli.report import Painter, counted, difference, report_json, report_text, tally, wants_colours
from tauthide.findings import Finding, Severity, has_errors, in_order
from tauthide.output.rewriting import rewrite_file
from tauthide.reading.documents import VERSION, peek_kind, read_document, steps_to_present
from tauthide.reading.files import FileTrouble, read_bytes
from tauthide.suggesting.renewing import renew
from tauthide.text import plain


@dataclass(frozen=True, slots=True)
class Renewal:
    """What is to become of one file."""

    path: Path
    shown: str
    old: bytes
    new: bytes


def run_renew(arguments: argparse.Namespace, paths: Sequence[str]) -> int:
    """Run the command and return its exit code."""
    if STDIN in paths:
        raise exits.UsageTrouble("renew needs files: what comes from standard input can't be written back")
    inputs = find_inputs(paths, b"")
    findings = list(inputs.findings)
    missing = bool(findings)
    renewals: list[Renewal] = []
    for item in inputs.items:
        try:
            renewal, found = _renewal(item)
        except FileTrouble as trouble:
            renewal, found = None, (unreadable(item.shown, trouble),)
            missing = True
        findings += found
        if renewal is not None:
            renewals.append(renewal)
    if not arguments.check:
        for renewal in renewals:
            rewrite_file(renewal.path, renewal.shown, renewal.old, renewal.new)
    _tell(arguments, renewals, in_order(findings))
    if missing:
        return exits.TROUBLE
    return exits.WRONG if has_errors(findings) or (arguments.check and renewals) else exits.FINE


def _renewal(item: Input) -> tuple[Renewal | None, tuple[Finding, ...]]:
    """Return what is to become of a file, if anything, and why it can't be renewed, if it can't."""
    assert item.path is not None  # standard input was refused
    source = read_bytes(item.path, item.shown)
    document, findings = read_document(source, item.shown)
    if document is None:
        # In a folder there may be files of others.
        return None, findings if item.named or peek_kind(source) else ()
    if document.version == VERSION:
        return None, ()
    new = renew(source, steps_to_present(document.kind, document.version) or ())
    if new is None:
        return None, (_by_hand(findings),)
    return Renewal(item.path, item.shown, source, new), ()


def _by_hand(findings: Iterable[Finding]) -> Finding:
    (note,) = findings  # that the version is old: there is nothing else to say of a document that can be read
    message = "The file's layout can't be changed safely; renew it by hand"
    return Finding("renew-by-hand", Severity.ERROR, message, note.place, note.path, note.found, note.allowed)


def _tell(arguments: argparse.Namespace, renewals: Sequence[Renewal], findings: Sequence[Finding]) -> None:
    lines = [line for each in renewals for line in difference(each.old, each.new, each.shown)]
    if arguments.format == "json":
        files = [each.shown for each in renewals]
        summary = {"old": files, "written": not arguments.check, "patch": "".join(lines)}
        sys.stdout.writelines(report_json("renew", findings, summary))
        sys.stdout.flush()
        return
    sys.stdout.writelines(f"{plain(line.removesuffix(chr(10)))}\n" for line in lines)
    sys.stdout.flush()
    painter = Painter(colours=wants_colours(sys.stderr, os.environ))
    sys.stderr.write(report_text(findings, painter))
    said = "to be renewed" if arguments.check else "renewed"
    sys.stderr.write(f"{counted(len(renewals), 'file')} {said}; {tally(findings)}\n")
    sys.stderr.flush()
