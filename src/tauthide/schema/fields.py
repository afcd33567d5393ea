"""The table of fields: what the schemas say of each place in a document, for programs and pages."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Any

from tauthide.schema.store import Schema, resolved
from tauthide.schema.wording import flow


@dataclass(frozen=True, slots=True)
class Field:
    """One field of a document, or one part of it."""

    path: str
    """Dotted path: `frame.depth`, `hides.goat.soak`; of a field of a list's items, `accept[].rule`."""
    title: str
    description: str
    type: str
    """In JSON Schema's words: `string`, `integer`, `array`, or `object` for a part."""
    quantity: str | None
    """Kind of quantity, such as `length`, of the field or a list's items; none for words and counts."""
    choices: tuple[str | int, ...]
    """The only values it may have; empty where any within the limits will do."""
    least: str
    """Lower limit, quantities with their unit; empty where there is none."""
    most: str
    """Upper limit, quantities with their unit, texts in characters; empty where there is none."""
    multiple_of: int
    """What a count must be a multiple of; 1 for any whole number, and for all that is no count."""
    examples: tuple[Any, ...]

    @property
    def name(self) -> str:
        """The field's own key, without those of the parts round it."""
        return self.path.rpartition(".")[2]

    @property
    def part(self) -> str:
        """Path of the part that the field belongs to; empty at the top of the document."""
        return self.path.rpartition(".")[0]

    @property
    def allowed(self) -> str:
        """What may stand in the field, in words; empty for parts and for lists of anything but quantities."""
        if self.choices:
            return ", ".join(map(flow, self.choices))
        if self.quantity:
            return f"{self.least} to {self.most}"
        if self.type == "integer":
            return f"{'even' if self.multiple_of == 2 else 'whole'} numbers from {self.least} to {self.most}"
        if self.type == "number":
            return f"numbers from {self.least} to {self.most}"
        return f"text of at most {self.most} characters" if self.type == "string" and self.most else ""


@cache
def fields(kind: str) -> Mapping[str, Field]:
    """Return the fields of a kind of document by dotted path, parts too, in the schema's reading order."""
    return MappingProxyType({field.path: field for field in _walk("", resolved(kind))})


def _walk(prefix: str, schema: Schema) -> Iterator[Field]:
    for key, sub in schema.get("properties", {}).items():
        path = f"{prefix}.{key}" if prefix else key
        yield _field(path, sub)
        yield from _walk(path, sub)
        yield from _walk(f"{path}[]", sub.get("items", {}))


def _field(path: str, schema: Schema) -> Field:
    limits = schema["items"] if "x-quantity" in schema.get("items", {}) else schema
    return Field(
        path=path,
        title=schema["title"],
        description=schema["description"],
        type=schema["type"],
        quantity=limits.get("x-quantity"),
        choices=(schema["const"],) if "const" in schema else tuple(schema.get("enum", ())),
        least=_first(limits, "x-least", "minimum"),
        most=_first(limits, "x-most", "maximum", "maxLength"),
        multiple_of=schema.get("multipleOf", 1),
        examples=tuple(schema["examples"]),
    )


def _first(schema: Schema, *keywords: str) -> str:
    return next((str(schema[keyword]) for keyword in keywords if keyword in schema), "")
