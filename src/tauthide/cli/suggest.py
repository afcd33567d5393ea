"""The command `suggest`: values that meet the rules, as text, as a patch, or as a new spec."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Sequence
from dataclasses import replace
from difflib import unified_diff
from pathlib import Path
from typing import Any

from tauthide.batch.inputs import STDIN, Input, find_inputs, show_path, unreadable
from tauthide.cli import exits
from tauthide.cli.report import Painter, counted, report_json, report_text, tally, wants_colours
from tauthide.findings import Finding, Place, has_errors
from tauthide.output.rewriting import rewrite_file, write_new_file
from tauthide.reading.documents import a_kind
from tauthide.reading.faults import MAX_BYTES
from tauthide.reading.files import ENDINGS, FileTrouble
from tauthide.reading.located import Data
from tauthide.reading.sources import split_lines
from tauthide.schema.check import check_data
from tauthide.schema.names import judge, mend
from tauthide.spec.chain import Chain, Library, read_source
from tauthide.suggesting.draft import start
from tauthide.suggesting.patching import patch
from tauthide.suggesting.search import Suggested, suggest
from tauthide.suggesting.starting import Started, answers, begin
from tauthide.text import plain

ANSWERS = {
    "diameter": "frame.diameter",
    "depth": "frame.depth",
    "hide": "head.hide",
    "pitch": "voice.pitch",
    "stations": "stations.count",
}
"""The options that answer a question about a new drum, and the field that each fills."""

NEW_FILE = "new.yaml"
"""Where a new spec is taken to lie that is only printed: in the current folder, so that its shop file counts."""


def run_suggest(arguments: argparse.Namespace) -> int:
    """Run the command and return its exit code."""
    given = {ANSWERS[name]: value for name in ANSWERS if (value := getattr(arguments, name)) is not None}
    if arguments.spec is None:
        return _start(arguments, given)
    for name in ("name", "out", *ANSWERS):
        if getattr(arguments, name) is not None:
            raise exits.UsageTrouble(f"--{name} starts a new spec, so it does not go with a SPEC")
    return _improve(arguments)


def _improve(arguments: argparse.Namespace) -> int:
    if arguments.spec == STDIN and arguments.write:
        raise exits.UsageTrouble("--write needs a file: what comes from standard input can't be written back")
    stdin = sys.stdin.buffer.read(MAX_BYTES + 1) if arguments.spec == STDIN else b""
    if arguments.spec != STDIN and Path(arguments.spec).is_dir():
        raise exits.UsageTrouble(f"{arguments.spec} is a folder; suggest takes one spec at a time")
    inputs = find_inputs((arguments.spec,), stdin)
    if inputs.findings:
        return _tell_findings(arguments, inputs.findings, exits.TROUBLE)
    (item,) = inputs.items
    try:
        chain = item.chain(Library(show_path))
    except FileTrouble as trouble:
        return _tell_findings(arguments, (unreadable(item.shown, trouble),), exits.TROUBLE)
    document = chain.spec.document
    if document is None:
        return _tell_findings(arguments, chain.findings, exits.WRONG)
    if document.kind != "spec":
        raise exits.UsageTrouble(f"{item.shown} is {a_kind(document.kind)} file; suggest takes a spec")
    return _tell(arguments, item, chain, suggest(chain))


def _tell(arguments: argparse.Namespace, item: Input, chain: Chain, suggested: Suggested) -> int:
    old = chain.spec.source
    new = patch(old, suggested.draft.data, suggested.draft.renames) if suggested.suggestions else old
    findings = suggested.draft.findings if new is None else _findings_of(chain, new)
    difference = [] if new is None else _difference(old, new, item.shown)
    written = bool(arguments.write and new is not None and new != old)
    if written:
        assert item.path is not None  # standard input was refused
        assert new is not None
        rewrite_file(item.path, item.shown, old, new)
    if arguments.format == "json":
        summary = {"suggestions": _as_data(suggested), "patch": "".join(difference), "written": written}
        sys.stdout.writelines(report_json("suggest", findings, summary))
    else:
        sys.stdout.write(_as_text(suggested, item.shown))
        if new is None:
            sys.stdout.write("\nThe file's layout can't be changed safely; write these values in by hand.\n")
        elif difference:
            sys.stdout.write("\n" + "".join(f"{plain(line)}\n" for line in "".join(difference).splitlines()))
    sys.stdout.flush()
    said = f"{item.shown} written" if written else counted(len(suggested.suggestions), "suggestion")
    _tell_rest(arguments, findings, said)
    if new is None and arguments.write:
        return exits.TROUBLE
    return exits.WRONG if has_errors(findings) else exits.FINE


def _start(arguments: argparse.Namespace, given: dict[str, Any]) -> int:
    if arguments.write:
        raise exits.UsageTrouble("--write changes a SPEC; a new one goes to --out FILE")
    if "frame.diameter" not in given:
        raise exits.UsageTrouble("name a SPEC, or give at least --diameter to start a new one")
    path = Path(NEW_FILE if arguments.out is None else arguments.out)
    if arguments.out is not None and not path.name.lower().endswith(ENDINGS):
        raise exits.UsageTrouble(f"--out {arguments.out}: a spec's name ends with {' or '.join(ENDINGS)}")
    shown = path.as_posix()
    library = Library(show_path)

    def read(source: bytes) -> Chain:
        return library.chain(read_source(path, show_path(path), source))

    data = answers(_drum_name(arguments), given)
    _refuse_answers(data)
    started = begin(data, read)
    if started.text and arguments.out is not None:
        write_new_file(path, shown, started.text.encode("utf-8"))
    return _tell_started(arguments, started, shown)


def _tell_started(arguments: argparse.Namespace, started: Started, shown: str) -> int:
    written = bool(started.text) and arguments.out is not None
    if arguments.format == "json":
        summary = {"spec": started.text, "written": written}
        sys.stdout.writelines(report_json("suggest", started.findings, summary))
    elif not written:
        sys.stdout.write(started.text)
    sys.stdout.flush()
    said = f"{shown} written" if written else "a new spec" if started.text else "no spec can be made"
    _tell_rest(arguments, started.findings, said)
    return exits.WRONG if has_errors(started.findings) else exits.FINE


def _refuse_answers(data: dict[str, Data]) -> None:
    """Say of the first answer that the schema does not take what is wrong with it."""
    options = {path: f"--{name}" for name, path in (*ANSWERS.items(), ("name", "drum"))}
    for finding in check_data("spec", data, lambda _path, _key: Place("")):
        path = finding.path
        value = data.get(path) if path == "drum" else (data.get(path.partition(".")[0]) or {})
        if path in options and (path == "drum" or (isinstance(value, dict) and path.partition(".")[2] in value)):
            allowed = f"; allowed: {finding.allowed}" if finding.allowed else ""
            write = f"; write: {finding.write}" if finding.write else ""
            raise exits.UsageTrouble(f"{options[path]}: {finding.message}{allowed}{write}")


def _drum_name(arguments: argparse.Namespace) -> str:
    """Return the drum's name: the one given, or made of the file's name or of hide and size."""
    if arguments.name is not None:
        return str(arguments.name)
    if arguments.out is not None:
        stem = Path(arguments.out).stem.upper()
        return stem if not judge(stem) else mend(stem) or "DRUM"
    return mend(f"{arguments.hide or 'drum'}-{arguments.diameter}".upper()) or "DRUM"


def _findings_of(chain: Chain, new: bytes) -> tuple[Finding, ...]:
    """Return what is found in a spec once the patch is made, at its places there."""
    return start(replace(chain, spec=read_source(chain.spec.path, chain.spec.shown, new))).findings


def _difference(old: bytes, new: bytes, shown: str) -> list[str]:
    """Return the change as a unified difference, lines with their ends; nothing where there is none."""
    before, after = (split_lines(text.decode("utf-8-sig")) for text in (old, new))
    return [f"{line}\n" for line in unified_diff(before, after, shown, shown, lineterm="")]


def _as_text(suggested: Suggested, shown: str) -> str:
    if not suggested.suggestions:
        return f"{plain(shown)}: nothing to suggest\n"
    lines: list[str] = []
    for item in suggested.suggestions:
        origin = f" ({item.origin})" if item.origin and item.origin != "spec" else ""
        old = f"{item.old}{origin} -> " if item.old else ""
        lines.append(f"{item.path}: {old}{item.new}")
        lines += [f"    {reason}" for reason in item.reasons]
    return "".join(f"{plain(line)}\n" for line in lines)


def _as_data(suggested: Suggested) -> list[dict[str, Any]]:
    return [
        {
            "path": item.path,
            "old": item.old,
            "origin": item.origin,
            "new": item.new,
            "reasons": list(item.reasons),
        }
        for item in suggested.suggestions
    ]


def _tell_rest(arguments: argparse.Namespace, findings: Sequence[Finding], said: str) -> None:
    """Say on standard error what is left, unless all is said in JSON."""
    if arguments.format == "json":
        return
    painter = Painter(colours=wants_colours(sys.stderr, os.environ))
    sys.stderr.write(report_text(findings, painter))
    left = "nothing left to mend" if not findings else f"left: {tally(findings)}"
    sys.stderr.write(f"{plain(said)}; {left}\n")
    sys.stderr.flush()


def _tell_findings(arguments: argparse.Namespace, findings: Sequence[Finding], code: int) -> int:
    """Say what keeps a spec from being looked at, and return the exit code."""
    if arguments.format == "json":
        summary = {"suggestions": [], "patch": "", "written": False}
        sys.stdout.writelines(report_json("suggest", findings, summary))
        sys.stdout.flush()
    _tell_rest(arguments, findings, counted(0, "suggestion"))
    return code
