"""A place where a document breaks its schema, with what is needed to put it into words."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from tauthide.findings import Finding
from tauthide.reading.faults import Fault, excerpt
from tauthide.reading.located import Path
from tauthide.schema.fields import Field, fields
from tauthide.schema.places import PlaceOf
from tauthide.schema.wording import dotted, flow, shown


@dataclass(frozen=True, slots=True)
class Violation:
    """One keyword of the schema that one value does not meet."""

    kind: str
    """Kind of the document."""
    path: Path
    keyword: str
    expected: Any
    """What the keyword asks for."""
    value: Any
    schema: Mapping[str, Any]
    """The part of the schema that holds the keyword."""
    route: tuple[str | int, ...]
    """Way through the schema to the keyword."""
    root: Any
    """The whole document's data."""
    place_of: PlaceOf

    @property
    def field(self) -> Field | None:
        """What the table of fields says of the place; of its list for an item, None for the document."""
        return field_at(self.kind, self.path)

    @property
    def of_a_couple(self) -> bool:
        """Whether the value is refused because of another one beside it, that says the same."""
        return self.keyword == "not" and "dependentSchemas" in self.route

    @property
    def allowed(self) -> str:
        """What may stand here, in words."""
        if "enum" in self.schema:
            return ", ".join(map(flow, self.schema["enum"]))
        if self.schema.get("type") == "number":
            return f"numbers from {self.schema['minimum']} to {self.schema['maximum']}"
        return self.field.allowed if self.field else ""

    @property
    def example(self) -> str:
        """A value that may stand here, as one line of YAML."""
        return flow(self.schema["examples"][0])

    @property
    def written(self) -> str:
        """The value as the maker spelt it where that can be told, as with `1.50`; else as one would."""
        if isinstance(self.value, (int, float)):
            place = self.place_of(self.path, False)
            spelt = place.text[place.column - 1 : place.column - 1 + place.width]
            if _is_number(spelt, self.value):
                return spelt
        return shown(self.value)

    def report(
        self,
        fault: Fault,
        *,
        path: Path | None = None,
        at: Path | None = None,
        key: bool = False,
        found: str | None = None,
        allowed: str = "",
        write: str = "",
        **words: str,
    ) -> Finding:
        """Return the finding of a fault at the value, or at its key.

        `path` is the field meant where that is another one, `at` the place where it does not stand there.
        """
        path = self.path if path is None else path
        found = self.written if found is None else found
        words = {"field": dotted(path), "value": excerpt(found)} | words
        place = self.place_of(path if at is None else at, key)
        return fault.at(place, path=dotted(path), found=found, allowed=allowed, write=write, **words)


def field_at(kind: str, path: Path) -> Field | None:
    """Return the field at a path of a kind of document; of the outermost list for an item, None where there is none."""
    steps = ["[]" if isinstance(step, int) else f".{step}" for step in path]
    while steps and steps[-1] == "[]":
        steps.pop()
    return fields(kind).get("".join(steps).removeprefix("."))


def _is_number(spelt: str, value: float) -> bool:
    try:
        return float(spelt) == value and not isinstance(value, bool)
    except ValueError:
        return False
