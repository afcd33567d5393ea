"""Values of a document whose schema has found nothing wrong with it, and findings at their places."""

from __future__ import annotations

from collections.abc import Mapping

from tauthide.findings import Finding
from tauthide.reading.faults import Fault
from tauthide.reading.located import Data, Located, Path
from tauthide.schema.wording import dotted, shown


def as_map(data: Data) -> Mapping[str, Data]:
    """Return what the schema says is a map."""
    assert isinstance(data, dict)
    return data


def as_list(data: Data) -> list[Data]:
    """Return what the schema says is a list."""
    assert isinstance(data, list)
    return data


def as_number(data: Data) -> float:
    """Return what the schema says is a number."""
    assert isinstance(data, (int, float))
    return float(data)


def as_count(data: Data) -> int:
    """Return what the schema says is a whole number."""
    assert isinstance(data, int)
    return data


def number_or_none(data: Data) -> float | None:
    """Return a number that may be left out."""
    return None if data is None else as_number(data)


def value_at(data: Data, path: Path) -> Data:
    """Return the value at a path of a document that has one there."""
    for step in path:
        data = data[step]  # type: ignore[index]
    return data


def found_at(
    located: Located,
    fault: Fault,
    path: Path,
    *,
    key: bool = False,
    allowed: str = "",
    write: str = "",
    **words: object,
) -> Finding:
    """Return the finding of a fault at the value at a path, or at its key; texts and lists are shown as found."""
    value = value_at(located.data, path)
    found = "" if key or isinstance(value, dict) else shown(value)
    texts = {name: str(word) for name, word in words.items()}
    return fault.at(located.place(path, key=key), path=dotted(path), found=found, allowed=allowed, write=write, **texts)
