"""A document with the place of every key and value."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from tauthide.findings import Place

Path = tuple[str | int, ...]
"""Way to a value from the document's root: keys of maps, indexes of lists. `()` is the root."""

Data = dict[str, "Data"] | list["Data"] | str | int | float | bool | None
"""What YAML 1.2's core rules make of a text: keys are always text, numbers always finite."""


@dataclass(frozen=True, slots=True)
class Mark:
    """Where a scalar or collection starts: line and column from 1, and its width on that line."""

    line: int
    column: int
    width: int


@dataclass(frozen=True, slots=True)
class Located:
    """One document: its data, and the marks of keys and values by path."""

    file: str
    """The file's name as the maker is shown it."""
    lines: tuple[str, ...]
    """The text's lines, without line ends."""
    data: dict[str, Data]
    keys: Mapping[Path, Mark]
    """Mark of the key at a path; list items have none."""
    values: Mapping[Path, Mark]
    """Mark of the value at a path."""

    def place(self, path: Path, *, key: bool = False) -> Place:
        """Return the place of the value at `path`, or of its key; of the nearest parent where it is absent."""
        marks = (self.keys, self.values) if key else (self.values, self.keys)
        while True:
            for table in marks:
                mark = table.get(path)
                if mark is not None:
                    return self._place(mark)
            if not path:
                return Place(self.file, 1, 1, 1, self.lines[0] if self.lines else "")
            path, marks = path[:-1], (self.keys, self.values)

    def _place(self, mark: Mark) -> Place:
        text = self.lines[mark.line - 1] if mark.line <= len(self.lines) else ""
        return Place(self.file, mark.line, mark.column, mark.width, text)
