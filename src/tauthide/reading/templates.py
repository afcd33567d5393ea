"""A folder of a maker's own templates, read whole and once: what makes sheets of them touches no disk."""

from __future__ import annotations

import hashlib
import os
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from tauthide.findings import Finding, Place
from tauthide.reading import template_faults as faults
from tauthide.reading.faults import Fault
from tauthide.reading.files import FileTrouble, read_bytes

ENDING = ".j2"
FIXED = ("notice.md.j2",)
"""Built-in templates that no folder replaces."""


@dataclass(frozen=True, eq=False)
class Templates:
    """The templates of one folder; equal to others that have the same names and texts."""

    shown: str
    """The folder's name as the maker is shown it."""
    files: Mapping[str, str]
    """Text by name: the path within the folder, with `/`."""

    @cached_property
    def digest(self) -> str:
        """A hash over all names and texts."""
        total = hashlib.sha256()
        for name, text in sorted(self.files.items()):
            for part in (name.encode("utf-8", "surrogateescape"), text.encode()):
                total.update(len(part).to_bytes(8, "big"))
                total.update(part)
        return total.hexdigest()

    def __eq__(self, other: object) -> bool:
        """Compare by folder's name and digest."""
        return isinstance(other, Templates) and (self.shown, self.digest) == (other.shown, other.digest)

    def __hash__(self) -> int:
        """Return a hash that fits `__eq__`."""
        return hash((self.shown, self.digest))

    def path(self, name: str) -> str:
        """Return a template's file as the maker is shown it."""
        return f"{self.shown}/{name}"

    def place(self, name: str, line: int = 1) -> Place:
        """Return a line of a template as a place; a line past its end is its last."""
        lines = self.files.get(name, "").split("\n")
        number = min(max(line, 1), len(lines))
        text = lines[number - 1].rstrip("\r")
        start = len(text) - len(text.lstrip())
        return Place(self.path(name), number, start + 1, max(len(text.strip()), 1), text)


def read_templates(folder: Path, shown: str) -> tuple[Templates, tuple[Finding, ...]]:
    """Return a folder's templates, and what is wrong with its files, in order of their names.

    Files that don't end with `.j2` are passed over, and so are names that begin with a dot. FileTrouble where
    the folder is none, can't be read, or has no templates.
    """
    if not folder.is_dir():
        raise FileTrouble(f"{shown} is no folder, where a folder of templates is wanted")
    names, links = _find(folder, shown)
    findings = [_at(faults.TEMPLATE_LINK, shown, name) for name in links]
    if len(names) > faults.MAX_TEMPLATES:
        findings.append(faults.TEMPLATES_TOO_MANY.at(Place(shown), found=str(len(names))))
        return Templates(shown, {}), tuple(findings)
    files: dict[str, str] = {}
    for name in names:
        source = read_bytes(folder / name, f"{shown}/{name}")
        if name in FIXED:
            findings.append(_at(faults.TEMPLATE_FIXED, shown, name))
        elif len(source) > faults.MAX_TEMPLATE_BYTES:
            findings.append(_at(faults.TEMPLATE_TOO_LARGE, shown, name))
        else:
            try:
                files[name] = source.decode("utf-8-sig")
            except UnicodeDecodeError as error:
                line = source.count(b"\n", 0, error.start) + 1
                findings.append(faults.TEMPLATE_NOT_UTF8.at(Place(f"{shown}/{name}", line)))
    if not names and not links:
        raise FileTrouble(f"{shown} has no templates: files whose names end with {ENDING}")
    return Templates(shown, files), tuple(findings)


def _at(fault: Fault, shown: str, name: str) -> Finding:
    return fault.at(Place(f"{shown}/{name}"), name=name)


def _find(folder: Path, shown: str) -> tuple[list[str], list[str]]:
    """Return the names of templates, and of links, in a folder and below, in order."""
    names: list[str] = []
    links: list[str] = []
    waiting = [""]
    while waiting:
        within = waiting.pop()
        try:
            with os.scandir(folder / within) as entries:
                for entry in entries:
                    name = f"{within}{entry.name}"
                    if entry.name.startswith("."):
                        continue
                    if entry.is_symlink():
                        if entry.name.endswith(ENDING) or entry.is_dir():
                            links.append(name)
                    elif entry.is_dir():
                        waiting.append(f"{name}/")
                    elif entry.name.endswith(ENDING):
                        names.append(name)
        except OSError as error:
            where = f"{shown}/{within}".rstrip("/")
            raise FileTrouble(f"{where}: it cannot be read ({error.strerror})") from error
    return sorted(names), sorted(links)
