"""What a batch is made of: the documents that the given paths lead to."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from tauthide.findings import Finding, Place, Severity
from tauthide.reading.files import FileTrouble, find_documents, read_bytes, repository_root
from tauthide.spec.chain import STDIN_NAME, Chain, Library, Source, read_source, stdin_chain

STDIN = "-"
"""The path that stands for standard input."""

_PATH_ALLOWED = "a spec, a folder of specs, or `-` for standard input"


@dataclass(frozen=True, slots=True)
class Input:
    """One file, or standard input, that a batch may compile or check."""

    path: Path | None
    """None for standard input."""
    shown: str
    """Its name as the maker is shown it."""
    named: bool
    """Whether the maker named this very file, rather than a folder that it lies in."""
    stable: str
    """Its name as seen from its repository: the same wherever that lies."""
    content: bytes = b""
    """Only for standard input: what was read from it."""

    def read(self) -> Source:
        """Read it; FileTrouble where it can't be read."""
        if self.path is None:
            return stdin_chain(self.content).spec
        return read_source(self.path, self.shown, read_bytes(self.path, self.shown))

    def chain(self, library: Library, source: Source | None = None) -> Chain:
        """Read it, unless that is done, and find what feeds it; FileTrouble where a file can't be read."""
        return stdin_chain(self.content) if self.path is None else library.chain(source or self.read())


@dataclass(frozen=True, slots=True)
class Inputs:
    """What the given paths lead to."""

    items: tuple[Input, ...]
    """In order of their names, each once."""
    findings: tuple[Finding, ...] = ()
    """One for each path that leads nowhere: then the batch is not what the maker meant."""


def show_path(path: Path) -> str:
    """Return a file's name as the maker is shown it: relative to the current folder if it lies in it.

    Links to folders are followed, so that a file has one name however it is reached, and the names of two
    files say how one is seen from the other.
    """
    absolute = _real(path)
    relative = os.path.relpath(absolute)
    outside = relative == os.pardir or relative.startswith(os.pardir + os.sep)
    return Path(absolute if outside else relative).as_posix()


def find_inputs(paths: Iterable[str], stdin: bytes) -> Inputs:
    """Return what the paths lead to; folders are searched, and a path given twice counts once."""
    found: dict[str, Input] = {}
    findings: list[Finding] = []
    for text in paths:
        try:
            for item in _follow(text, stdin):
                if item.named or item.shown not in found:
                    found[item.shown] = item
        except _PathTrouble as trouble:
            findings.append(trouble.finding)
        except FileTrouble as trouble:
            findings.append(_finding(text, "unreadable-file", _without_name(trouble, text)))
    return Inputs(tuple(item for _, item in sorted(found.items())), tuple(findings))


def unreadable(shown: str, trouble: FileTrouble) -> Finding:
    """Return the finding for a file that can't be read."""
    message = _without_name(trouble, shown)
    return Finding("unreadable-file", Severity.ERROR, message, Place(shown), allowed="a file that can be read")


class _PathTrouble(Exception):  # noqa: N818 - a maker's trouble, not a fault of ours
    def __init__(self, finding: Finding) -> None:
        super().__init__(finding.message)
        self.finding = finding


def _follow(text: str, stdin: bytes) -> Iterator[Input]:
    if text == STDIN:
        yield Input(None, STDIN_NAME, True, STDIN, stdin)
        return
    path = Path(text)
    if not text.strip():
        raise _PathTrouble(_finding("(empty)", "missing-file", "An empty path names no file"))
    if not os.path.lexists(path):
        message = "There is no such file or folder"
        raise _PathTrouble(_finding(show_path(path), "missing-file", message))
    if not path.is_dir():
        yield Input(path, show_path(path), True, _stable(path, repository_root(path)))
        return
    yield from _search(path)


def _search(folder: Path) -> Iterator[Input]:
    documents = find_documents(folder)
    if not documents:
        message = "There are no YAML files in this folder, nor below it"
        raise _PathTrouble(_finding(show_path(folder), "no-documents", message))
    real = Path(os.path.realpath(folder))
    names: dict[Path, tuple[str, str]] = {}
    for document in documents:
        # Links to folders are not followed in the search, so this is the file's real folder.
        parent = (real / document.relative_to(folder)).parent
        if parent not in names:
            names[parent] = show_path(parent), _stable(parent, repository_root(parent))
        shown, stable = (_within(name, document.name) for name in names[parent])
        yield Input(document, shown, False, stable)


def _within(folder: str, name: str) -> str:
    return name if folder == os.curdir else f"{folder.rstrip('/')}/{name}"


def _finding(shown: str, name: str, message: str) -> Finding:
    return Finding(name, Severity.ERROR, message, Place(shown), allowed=_PATH_ALLOWED)


def _without_name(trouble: FileTrouble, shown: str) -> str:
    """Return what the trouble says, without the file's name that the finding's place tells already."""
    return str(trouble).removeprefix(f"{shown}: ")


def _stable(path: Path, root: Path) -> str:
    return Path(os.path.relpath(_real(path), root)).as_posix()


def _real(path: Path) -> str:
    """Return the absolute path with its folder's links followed, but not a link that the file may be itself."""
    if path.name in ("", os.pardir):
        return os.path.realpath(path)
    return os.path.join(os.path.realpath(path.parent), path.name)  # noqa: PTH118 - a Path takes longer
