"""Records of built drums: from their document to frozen records in base units."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

from tauthide.findings import Place
from tauthide.reading.files import ENDINGS, lies_there
from tauthide.reading.located import Data, Located
from tauthide.runs.run import Run
from tauthide.schema.fields import Field, fields
from tauthide.units import parse

ENDING = ".records.yaml"
"""How the name of a run's records ends, in the place of the run's own ending."""

GOOD, MENDED, LOST = "good", "mended", "lost"
"""What may have become of a drum."""

ITEM = "drums[]."
"""Where the fields of one drum stand in the table of fields."""


@dataclass(frozen=True, slots=True)
class Record:
    """What is known of one drum."""

    serial: str
    day: date | None
    """When it was finished or given up."""
    values: Mapping[str, float]
    """Measurements in base units, by field."""
    times: Mapping[str, float]
    """Hand time in minutes, by operation."""
    outcome: str
    """Good, mended or lost; as good as said where nothing went wrong."""
    trouble: str
    """What went wrong; empty for nothing."""
    step: str
    """The operation at which it went wrong; empty where that is not said."""
    place: Place
    places: Mapping[str, Place] = field(default_factory=dict)
    """Where each measurement stands; times as `times.skin.punch`."""


@dataclass(frozen=True, slots=True)
class Records:
    """The records of one run."""

    path: Path
    shown: str
    """The file's name as the maker is shown it."""
    run: Run
    records: tuple[Record, ...]
    """In the order of the file, each drum once."""


def records_path(run_path: Path) -> Path:
    """Return where the records of a run lie: beside it, `lending.records.yaml` for `lending.yaml`."""
    return run_path.with_name(run_path.stem + ENDING)


def run_path_of(path: Path) -> Path | None:
    """Return the run's file that lies beside its records; None where there is none, or the name is no records'."""
    stem = path.name.removesuffix(ENDING)
    if not is_named_so(path):
        return None
    return next((run for ending in ENDINGS if lies_there(run := path.with_name(stem + ending))), None)


def is_named_so(path: Path) -> bool:
    """Tell whether a file's name is that of records."""
    return path.name.endswith(ENDING) and path.name != ENDING


def measured_fields() -> Mapping[str, Field]:
    """Return the fields of a record that hold one quantity, by name, in the schema's order."""
    return {
        path.removeprefix(ITEM): found
        for path, found in fields("records").items()
        if path.startswith(ITEM) and found.quantity and not path.startswith(f"{ITEM}times.")
    }


def read_record(located: Located, index: int, day: date | None) -> Record:
    """Return the record at an index of a document that its schema finds nothing wrong with."""
    drums = located.data["drums"]
    assert isinstance(drums, list)
    item = drums[index]
    assert isinstance(item, dict)  # the schema says so
    values: dict[str, float] = {}
    places: dict[str, Place] = {}
    for name, about in measured_fields().items():
        if item.get(name) is not None:
            values[name] = parse(str(about.quantity), str(item[name]))
            places[name] = located.place(("drums", index, name))
    times = _times(item.get("times"))
    for name in times:
        places[f"times.{name}"] = located.place(("drums", index, "times", *name.split(".")))
    trouble = str(item.get("trouble", ""))
    outcome = str(item.get("outcome", MENDED if trouble else GOOD))
    place = located.place(("drums", index, "drum"))
    return Record(str(item["drum"]), day, values, times, outcome, trouble, str(item.get("step", "")), place, places)


def _times(data: Data) -> dict[str, float]:
    groups = data.items() if isinstance(data, dict) else ()
    return {
        f"{group}.{name}": parse("time", str(written))
        for group, operations in groups
        if isinstance(operations, dict)
        for name, written in operations.items()
    }
