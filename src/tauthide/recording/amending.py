"""Records amended: fields set in a file of records, or a new file, with comments and order kept."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from copy import deepcopy
from dataclasses import dataclass

from tauthide.findings import Place
from tauthide.reading.events import read_yaml
from tauthide.reading.located import Data, Path
from tauthide.recording.records import ITEM
from tauthide.schema.fields import fields
from tauthide.schema.wording import flow
from tauthide.suggesting.patching import patch

TIMES = "times"


@dataclass(frozen=True, slots=True)
class Amendment:
    """A field of one drum's record that is set."""

    serial: str
    path: Path
    """Of the field within the record, such as `("times", "skin", "punch")`."""
    value: str
    """As a maker would write it, with its unit."""
    place: Place | None = None
    """Where it stands in a table; None where it comes from the command line."""


@dataclass(frozen=True, slots=True)
class Amended:
    """A file of records with fields set."""

    content: bytes | None
    """None where the file's layout can't be changed safely, or can't be read."""
    places: Mapping[str, Place]
    """Of values that stand in a table, their place there by dotted path in the document."""


def field_path(name: str) -> Path:
    """Return the path of the field that a maker names: `blank`, `times.skin.punch`, or short `skin.punch`."""
    steps = tuple(name.strip().split("."))
    short = len(steps) > 1 and f"{ITEM}{TIMES}.{steps[0]}" in fields("records")
    return (TIMES, *steps) if short else steps


def amend(source: bytes | None, amendments: Sequence[Amendment]) -> Amended:
    """Return a file of records with fields set; None as `source` makes a new file."""
    if source is None:
        data: dict[str, Data] = {"records": 1, "drums": []}
        places = _set_all(data, amendments)
        return Amended(_written(data), places)
    located, _ = read_yaml(source, "")
    if located is None or not isinstance(located.data.get("drums"), list):
        return Amended(None, {})
    data = deepcopy(located.data)
    places = _set_all(data, amendments)
    return Amended(patch(source, data, {}), places)


def _set_all(data: dict[str, Data], amendments: Iterable[Amendment]) -> dict[str, Place]:
    places: dict[str, Place] = {}
    for amendment in amendments:
        drums = data["drums"]
        assert isinstance(drums, list)  # the caller has looked
        index = next((at for at, item in enumerate(drums) if _is(item, amendment.serial)), len(drums))
        if index == len(drums):
            drums.append({"drum": amendment.serial})
        item = drums[index]
        assert isinstance(item, dict)
        _set(item, amendment.path, amendment.value)
        if amendment.place is not None:
            places[".".join(map(str, ("drums", index, *amendment.path)))] = amendment.place
            places.setdefault(f"drums.{index}.drum", amendment.place)
    return places


def _is(item: Data, serial: str) -> bool:
    return isinstance(item, dict) and item.get("drum") == serial


def _set(item: dict[str, Data], path: Path, value: str) -> None:
    for step in path[:-1]:
        inner = item.get(str(step))
        if not isinstance(inner, dict):
            inner = item[str(step)] = {}
        item = inner
    item[str(path[-1])] = value


def _written(data: Mapping[str, Data]) -> bytes:
    """Return a new file's text."""
    lines = ["records: 1", "drums:"]
    drums = data["drums"]
    assert isinstance(drums, list)
    for item in drums:
        assert isinstance(item, dict)
        fields_of = [f"{flow(key)}: {flow(value)}" for key, value in item.items()]
        lines += [f"{'    ' if number else '  - '}{line}" for number, line in enumerate(fields_of)]
    return ("\n".join(lines) + "\n").encode("utf-8")
