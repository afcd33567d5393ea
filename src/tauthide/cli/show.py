"""The command `show`: a drum with all its values and figures as text, also for git to compare."""

from __future__ import annotations

import argparse
import os
import re
import sys
from collections.abc import Iterable
from pathlib import Path

from tauthide.batch.compiling import compile_chain
from tauthide.batch.inputs import show_path, unreadable
from tauthide.cli import exits
from tauthide.cli.one_spec import OneSpec, read_one_spec
from tauthide.cli.report import Painter, report_text, wants_colours
from tauthide.explaining.resolved import resolved_text
from tauthide.findings import Finding, Severity, has_errors
from tauthide.reading.files import FileTrouble, find_documents, read_bytes, repository_root
from tauthide.spec.chain import Chain, Library, Source, read_source, stdin_chain
from tauthide.spec.resolving import resolve
from tauthide.text import plain

ALONE = "# read by itself, without shop file: it is not known where this file belongs\n"
"""Stands above a file that lies outside of the repository, and like none in it."""

_PUT_ASIDE = re.compile(r"[A-Za-z0-9]{6}_(?=.)")
"""What an older git puts before the name of a file that it writes for a text conversion."""


def run_show(arguments: argparse.Namespace) -> int:
    """Run the command and return its exit code."""
    if arguments.textconv:
        return _convert(Path(arguments.spec))
    read = read_one_spec(arguments.spec, "show")
    if not isinstance(read, OneSpec):
        return _tell(read, exits.TROUBLE)
    text, findings = _shown(read.chain)
    _write(text)
    return _tell(findings, exits.WRONG if has_errors(findings) else exits.FINE)


def _convert(path: Path) -> int:
    """Write a file as text for git: a spec as the drum that it makes, anything else as it stands.

    A conversion that fails would keep git from showing any difference: so what can't be resolved is told above
    the file's own text, and is no failure.
    """
    source = read_source(path, path.name, read_bytes(path, str(path)))
    if source.document is None or source.document.kind != "spec":
        return _pass_through(path, source.findings)
    home = _home_of(path, source)
    try:
        chain = stdin_chain(source.source) if home is None else _as_if_at(home, source)
        text, findings = _shown(chain)
    except FileTrouble as trouble:
        text, findings = "", (unreadable(path.name, trouble),)
    if not text:
        return _pass_through(path, findings)
    _write((ALONE if home is None else "") + text)
    return exits.FINE


def _as_if_at(home: Path, source: Source) -> Chain:
    return Library(show_path).chain(read_source(home, show_path(home), source.source))


def _shown(chain: Chain) -> tuple[str, tuple[Finding, ...]]:
    """Return a drum as text, empty where its fields are not right, and what was found."""
    compiled = compile_chain(chain)
    spec = compiled.plan.spec if compiled.plan is not None else resolve(chain)[0]
    return ("" if spec is None else resolved_text(spec, compiled.plan, compiled.findings)), compiled.findings


def _home_of(path: Path, source: Source) -> Path | None:
    """Return where a file belongs in the current folder's repository; None where that can't be told.

    Git writes an older version into a folder for temporary files, under its own name. It belongs where a file of
    that name lies, if there is one only, or only one with the same drum.
    """
    root = repository_root(Path.cwd())
    if path.resolve().is_relative_to(root):
        return path
    names = {path.name, _PUT_ASIDE.sub("", path.name, count=1)}
    alike = [found for found in find_documents(root) if found.name in names]
    if len(alike) > 1:
        assert source.document is not None  # the caller has looked
        drum = source.document.located.data.get("drum")
        alike = [found for found in alike if _drum_of(found) == drum]
    return alike[0] if len(alike) == 1 else None


def _drum_of(path: Path) -> object:
    document = read_source(path, path.name, read_bytes(path, path.name)).document
    return None if document is None else document.located.data.get("drum")


def _pass_through(path: Path, findings: Iterable[Finding]) -> int:
    """Write the errors, each as a comment, and the file as it stands, to its last byte."""
    errors = (finding for finding in findings if finding.severity is Severity.ERROR)
    notes = "".join(f"# {finding.name}: {plain(finding.message)}\n" for finding in errors)
    sys.stdout.flush()
    sys.stdout.buffer.write(notes.encode("utf-8") + path.read_bytes())
    sys.stdout.flush()
    return exits.FINE


def _write(text: str) -> None:
    sys.stdout.flush()
    # In UTF-8 whatever the locale: git compares the bytes.
    sys.stdout.buffer.write(text.encode("utf-8"))
    sys.stdout.flush()


def _tell(findings: tuple[Finding, ...], code: int) -> int:
    painter = Painter(colours=wants_colours(sys.stderr, os.environ))
    sys.stderr.write(report_text(findings, painter))
    sys.stderr.flush()
    return code
