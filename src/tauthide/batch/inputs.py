"""What a batch is made of: the documents that the given paths lead to."""

from __future__ import annotations

import os
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from tauthide.reading.files import find_documents, read_bytes, repository_root
from tauthide.spec.chain import STDIN_NAME, Chain, Library, Source, read_source, stdin_chain

STDIN = "-"
"""The path that stands for standard input."""


class InputTrouble(Exception):
    """A path that leads nowhere; the message is for the maker."""


@dataclass(frozen=True, slots=True)
class Input:
    """One file, or standard input, that a batch may compile or check."""

    path: Path | None
    """None for standard input."""
    shown: str
    """Its name as the maker is shown it."""
    named: bool
    """Whether the maker named this very file, rather than a folder that it lies in."""
    content: bytes = b""
    """Only for standard input: what was read from it."""

    def read(self) -> Source:
        """Read it; FileTrouble where it can't be read."""
        if self.path is None:
            return stdin_chain(self.content).spec
        return read_source(self.path, self.shown, read_bytes(self.path, self.shown))

    def chain(self, library: Library) -> Chain:
        """Read it and find what feeds it; FileTrouble where one of these files can't be read."""
        return stdin_chain(self.content) if self.path is None else library.chain(self.read())


def show_path(path: Path) -> str:
    """Return a file's name as the maker is shown it: relative to the current folder if it lies in it."""
    absolute = os.path.abspath(path)  # noqa: PTH100 - Path.resolve would follow links
    relative = os.path.relpath(absolute)
    outside = relative == os.pardir or relative.startswith(os.pardir + os.sep)
    return Path(absolute if outside else relative).as_posix()


def stable_name(item: Input) -> str:
    """Return the input's name as seen from its repository: the same wherever that lies."""
    if item.path is None:
        return STDIN
    absolute = os.path.abspath(item.path)  # noqa: PTH100 - as above
    return Path(os.path.relpath(absolute, repository_root(item.path))).as_posix()


def find_inputs(paths: Iterable[str], stdin: bytes) -> tuple[Input, ...]:
    """Return the inputs that paths lead to, in order of their names, each once; folders are searched.

    InputTrouble for a path that leads nowhere, and for a folder without YAML files.
    """
    found: dict[str, Input] = {}
    for text in paths:
        if text == STDIN:
            found[STDIN] = Input(None, STDIN_NAME, True, stdin)
            continue
        path = Path(text)
        if path.is_dir():
            documents = find_documents(path)
            if not documents:
                raise InputTrouble(f"there are no YAML files in {show_path(path)}")
            for document in documents:
                shown = show_path(document)
                found.setdefault(shown, Input(document, shown, False))
        elif os.path.lexists(path):
            shown = show_path(path)
            found[shown] = Input(path, shown, True)
        else:
            raise InputTrouble(f"there is no file or folder {show_path(path)}")
    return tuple(item for _, item in sorted(found.items()))
