"""The files that a run names: found, read, and of the kind that is wanted."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from tauthide.findings import Finding
from tauthide.reading.faults import Fault
from tauthide.reading.files import FileTrouble, NamedFileError, Unusable, read_bytes, resolve_named
from tauthide.reading.located import Path as FieldPath
from tauthide.runs import faults
from tauthide.runs.values import found_at, value_at
from tauthide.schema.wording import dotted, shown
from tauthide.spec.chain import STDIN_NAME, Library, Source, read_source

_UNUSABLE: Mapping[Unusable, tuple[Fault, str]] = {
    Unusable.EMPTY: (faults.FILE_BAD_NAME, "it is empty"),
    Unusable.CHARACTER: (faults.FILE_BAD_NAME, "it has a character that no file's name should have"),
    Unusable.HOME: (faults.FILE_BAD_NAME, "it begins with `~`, which is another folder for everyone"),
    Unusable.ENDING: (faults.FILE_BAD_NAME, "it does not end with .yaml or .yml"),
    Unusable.ABSOLUTE: (faults.FILE_ABSOLUTE, ""),
    Unusable.OUTSIDE: (faults.FILE_OUTSIDE, ""),
    Unusable.ABSENT: (faults.FILE_ABSENT, ""),
    Unusable.NOT_A_FILE: (faults.FILE_IRREGULAR, ""),
}
"""Fault and reason, by what is wrong with the file that is named."""


class Named:
    """Reads the files that one run names, and gathers what is wrong with the naming."""

    def __init__(self, run: Source, library: Library) -> None:
        """Take the run, which must be a readable document."""
        assert run.document is not None  # only a readable document names files
        self._run = run
        self._located = run.document.located
        self._library = library
        self.findings: list[Finding] = []
        """What is wrong with the names, not with what is in the files."""

    def read(self, path: FieldPath, written: str, kind: str) -> Source | None:
        """Return the document that the run names as `written` at a path, unless it cannot be had.

        What is wrong with a file that cannot be read as YAML stands in the document that is returned.
        """
        target = self._resolve(path, written)
        if target is None:
            return None
        shown_name = self._library.show(target)
        try:
            content = read_bytes(target, shown_name)
        except FileTrouble as trouble:
            self.report(faults.FILE_UNREADABLE, path, reason=str(trouble).removeprefix(f"{shown_name}: "))
            return None
        source = read_source(target, shown_name, content)
        document = source.document
        if document is not None and document.kind != kind:
            allowed = f"a file that starts with `{kind}: 1`"
            self.report(faults.FILE_WRONG_KIND, path, allowed=allowed, kind=document.kind, wanted=kind)
            return None
        return source

    def _resolve(self, path: FieldPath, written: str) -> Path | None:
        if self._run.shown == STDIN_NAME:
            if not self.findings:
                self.report(faults.FROM_NOWHERE, path)
            return None
        try:
            return resolve_named(self._run.path, written)
        except NamedFileError as trouble:
            fault, reason = _UNUSABLE[trouble.reason]
            self.report(fault, path, reason=reason)
            return None

    def report(
        self, fault: Fault, path: FieldPath, *, allowed: str = "", reason: str = "", kind: str = "", wanted: str = ""
    ) -> None:
        """Note a fault of the name at a path."""
        written = shown(value_at(self._located.data, path))
        self.findings.append(
            found_at(self._located, fault, path, allowed=allowed, field=dotted(path), written=written,
                     reason=reason, kind=kind, wanted=wanted)
        )  # fmt: skip
