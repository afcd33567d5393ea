"""The command `approve`: records that a drum's plan has been reviewed, or withdraws that."""

from __future__ import annotations

import argparse
import datetime
import os
import sys
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from tauthide.approving.judging import read_approval
from tauthide.approving.record import Approval, approval_text, make_approval
from tauthide.batch.compiling import compile_chain
from tauthide.batch.inputs import STDIN, Input, find_inputs, show_path, unreadable
from tauthide.cli import exits
from tauthide.cli.report import Painter, report_json, report_text, tally, wants_colours
from tauthide.findings import Finding
from tauthide.output.rewriting import remove_file, rewrite_file, write_new_file
from tauthide.reading.documents import a_kind, peek_kind
from tauthide.reading.files import FileTrouble, approval_path, approved_paths, lies_there, read_bytes
from tauthide.schema.fields import fields
from tauthide.spec.chain import Chain, Library, Source
from tauthide.text import plain


def run_approve(arguments: argparse.Namespace) -> int:
    """Run the command and return its exit code."""
    if arguments.spec == STDIN:
        raise exits.UsageTrouble("what comes from standard input has no approval: it lies in no folder")
    if Path(arguments.spec).is_dir():
        raise exits.UsageTrouble(f"{arguments.spec} is a folder; each spec is approved by itself")
    if arguments.withdraw:
        return _withdraw(arguments)
    if arguments.by is None:
        raise exits.UsageTrouble("say who approves it: --by TEXT")
    by, note = _text(arguments.by, "by"), "" if arguments.note is None else _text(arguments.note, "note")
    date = _date(arguments.date)
    item = _input(arguments)
    if isinstance(item, tuple):
        return _tell(arguments, item, {}, exits.TROUBLE)
    try:
        chain = item.chain(Library(show_path))
    except FileTrouble as trouble:
        return _tell(arguments, (unreadable(item.shown, trouble),), {}, exits.TROUBLE)
    return _approve(arguments, chain, by, date, note)


def _approve(arguments: argparse.Namespace, chain: Chain, by: str, date: str, note: str) -> int:
    document = chain.spec.document
    if document is not None and document.kind != "spec":
        raise exits.UsageTrouble(f"{chain.spec.shown} is {a_kind(document.kind)} file; only specs are approved")
    path, shown = _place(chain.spec.path)
    compiled = compile_chain(chain)
    if compiled.plan is None:
        return _tell(arguments, compiled.findings, {}, exits.WRONG)
    # What is found in an approval that is there already says nothing of the drum.
    findings = tuple(finding for finding in compiled.findings if finding.place.file != shown)
    approval = make_approval(compiled.plan, chain, findings, by, date, note)
    there = chain.approval
    summary = {"drum": approval.drum, "digest": approval.digest, "file": shown, "written": True, "withdrawn": False}
    if there is None:
        write_new_file(path, shown, approval_text(approval).encode("utf-8"))
    elif _is_same(there, approval):
        summary["written"] = False
    else:
        _require_approval(there.source, shown)
        rewrite_file(path, shown, there.source, approval_text(approval).encode("utf-8"))
    return _tell(arguments, findings, summary, exits.FINE)


def _withdraw(arguments: argparse.Namespace) -> int:
    for name in ("by", "note", "date"):
        if getattr(arguments, name) is not None:
            raise exits.UsageTrouble(f"--{name} does not go with --withdraw")
    path = approval_path(Path(arguments.spec))
    shown = show_path(path)
    if not lies_there(path):
        raise exits.UsageTrouble(f"there is no approval to withdraw: no {shown}")
    content = read_bytes(path, shown)
    _require_approval(content, shown)
    remove_file(path, shown, content)
    return _tell(arguments, (), {"file": shown, "written": False, "withdrawn": True}, exits.FINE)


def _input(arguments: argparse.Namespace) -> Input | tuple[Finding, ...]:
    inputs = find_inputs((arguments.spec,), b"")
    return inputs.findings or inputs.items[0]


def _place(spec: Path) -> tuple[Path, str]:
    """Return where a spec's approval is to lie, and its name as shown; UsageTrouble where two specs would share it."""
    path = approval_path(spec)
    others = [other for other in approved_paths(path) if other.name != spec.name]
    if others:
        raise exits.UsageTrouble(f"{spec.name} and {others[0].name} would share {path.name}; rename one of the two")
    return path, show_path(path)


def _is_same(there: Source, approval: Approval) -> bool:
    """Tell whether a file holds this very approval, of whatever day."""
    known, _ = read_approval(there)
    if known is None:
        return False
    return approval_text(known).splitlines()[:-1] == [
        line if not line.startswith("date: ") else f'date: "{known.date}"'
        for line in approval_text(approval).splitlines()[:-1]
    ]


def _require_approval(content: bytes, shown: str) -> None:
    if peek_kind(content) != "approval":
        raise exits.UsageTrouble(f"{shown} is there and is no approval, so it is left alone; name it otherwise")


def _text(text: str, name: str) -> str:
    """Return what was said, on one line; UsageTrouble where it says nothing, or too much."""
    said = plain(" ".join(text.split()))
    most = int(fields("approval")[name].most)
    if not said:
        raise exits.UsageTrouble(f"--{name} says nothing")
    if len(said) > most:
        raise exits.UsageTrouble(f"--{name} is too long: {len(said)} characters, at most {most}")
    return said


def _date(text: str | None) -> str:
    """Return the day of the approval; today where none is given."""
    if text is None:
        return datetime.date.today().isoformat()  # the only use of a clock: it is kept, and read from there
    try:
        day = datetime.date.fromisoformat(text)
    except ValueError:
        day = None
    if day is None or day.isoformat() != text:
        raise exits.UsageTrouble(f"--date {text} is not a day such as 2026-03-02")
    return text


def _tell(arguments: argparse.Namespace, findings: Sequence[Finding], summary: Mapping[str, Any], code: int) -> int:
    if arguments.format == "json":
        sys.stdout.writelines(report_json("approve", findings, summary or {"written": False, "withdrawn": False}))
        sys.stdout.flush()
        return code
    if not summary:
        said = "not approved"
    elif summary["withdrawn"]:
        said = f"approval withdrawn: {summary['file']} is removed"
    elif summary["written"]:
        said = f"{summary['drum']} approved, digest {summary['digest']}: {summary['file']} written"
    else:
        said = f"{summary['drum']} is approved as it stands: {summary['file']} is unchanged"
    painter = Painter(colours=wants_colours(sys.stderr, os.environ))
    sys.stderr.write(report_text(findings, painter))
    sys.stderr.write(f"{plain(said)}; {tally(findings)}\n")
    sys.stderr.flush()
    return code
