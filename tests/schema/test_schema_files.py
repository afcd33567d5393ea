"""The schema files themselves: sound, complete, and of one mind with the program."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from schema_findings import nowhere
from tauthide.schema import KINDS, Field, fields, schema
from tauthide.schema.check import check_data
from tauthide.schema.keywords import limit_of, validator
from tauthide.schema.report import KEYWORDS
from tauthide.schema.store import ANNOTATIONS, resolved
from tauthide.schema.wording import DOCUMENTS
from tauthide.units import KINDS as QUANTITIES

COMBINING = frozenset({"$schema", "default", "properties", "items", "allOf", "if", "then", "else", "dependentSchemas"})
"""Keywords that only lead to others, or mean nothing to a checker."""

LIMITS = frozenset({"x-least", "x-most"})
"""Keywords that `x-quantity` reads."""

TABLE = {
    "frame": "outline diameter sides across_flats length width depth wall edge_radius make",
    "head": "hide thickness dry_thickness turnover drop stretch outer spine origin",
    "stations": "count mark_at hand web pair_spacing margin edge_distance hole marking",
    "lace": "lacing laces ring ring_section ring_wraps"
    " hide width thickness play tab_length tab_width tail allowance join pieces core",
    "handle": "arms wrap",
    "voice": "pitch pull wet_share safety",
    "bench": "units punches water air humidity",
    "tolerances": "thickness turnover play stretch",
}
"""The fields of each part of a spec."""

PARTS = {"spec": 8, "base": 8, "shop": 8, "run": 9, "skin": 5, "lot": 5, "records": 9, "approval": 1}
"""How many maps of named fields a document has at least, itself among them."""

EVERY_FIELD = [pytest.param(kind, field, id=f"{kind} {path}") for kind in KINDS for path, field in fields(kind).items()]


def schemas_in(node: Mapping[str, Any]) -> Iterator[Mapping[str, Any]]:
    """Yield a schema and every schema within it."""
    yield node
    for keyword, value in node.items():
        if keyword in ("properties", "$defs", "dependentSchemas"):
            for inner in value.values():
                yield from schemas_in(inner)
        elif keyword in ("items", "if", "then", "else", "not"):
            yield from schemas_in(value)
        elif keyword == "allOf":
            for inner in value:
                yield from schemas_in(inner)


def schema_of(kind: str, field: Field) -> Mapping[str, Any]:
    """Return the part of the schema that a field stands for."""
    node: Mapping[str, Any] = resolved(kind)
    for step in field.path.replace("[]", ".[]").split("."):
        node = node["items"] if step == "[]" else node["properties"][step]
    return node


@pytest.mark.parametrize("kind", KINDS)
def test_schema_meets_the_2020_12_metaschema(kind: str) -> None:
    assert schema(kind)["$schema"] == Draft202012Validator.META_SCHEMA["$id"]
    Draft202012Validator.check_schema(schema(kind))


@pytest.mark.parametrize("kind", KINDS)
def test_references_need_no_network(kind: str) -> None:
    references = [node["$ref"] for node in schemas_in(schema(kind)) if "$ref" in node]
    assert references
    assert all(re.fullmatch(r"(spec\.schema\.json)?#/\$defs/[a-z_/]+", reference) for reference in references)
    assert not any("$id" in node for node in schemas_in(schema(kind)))


@pytest.mark.parametrize("kind", KINDS)
def test_nothing_is_left_to_follow(kind: str) -> None:
    assert not any("$ref" in node for node in schemas_in(resolved(kind)))


@pytest.mark.parametrize("kind", KINDS)
def test_every_keyword_that_can_fail_has_its_words(kind: str) -> None:
    used = {keyword for node in schemas_in(resolved(kind)) for keyword in node}
    assert used <= KEYWORDS | COMBINING | LIMITS | ANNOTATIONS


@pytest.mark.parametrize("kind", KINDS)
def test_no_part_takes_unknown_keys(kind: str) -> None:
    parts = [node for node in schemas_in(resolved(kind)) if node.get("type") == "object"]
    assert len(parts) >= PARTS[kind]
    assert all(part["additionalProperties"] is False for part in parts)


@pytest.mark.parametrize("kind", KINDS)
def test_examples_of_whole_documents_are_good(kind: str) -> None:
    assert DOCUMENTS[kind]
    assert schema(kind)["examples"]
    for example in schema(kind)["examples"]:
        assert next(iter(example)) == kind
        assert check_data(kind, example, nowhere) == ()


@pytest.mark.parametrize(("kind", "field"), EVERY_FIELD)
def test_field_explains_itself_with_examples_that_hold(kind: str, field: Field) -> None:
    assert field.title[0].isupper()
    assert field.description[0].isupper()
    assert field.description.endswith(".")
    assert field.examples
    judge = validator(kind).evolve(schema=schema_of(kind, field))
    assert [error.message for example in field.examples for error in judge.iter_errors(example)] == []


@pytest.mark.parametrize(("kind", "field"), EVERY_FIELD)
def test_quantity_has_limits_that_make_sense(kind: str, field: Field) -> None:
    if field.quantity is None:
        assert "x-quantity" not in schema_of(kind, field)
    else:
        assert 0 <= limit_of(field.quantity, field.least) < limit_of(field.quantity, field.most)


@pytest.mark.parametrize("kind", KINDS)
def test_patterns_are_the_parser_s_own(kind: str) -> None:
    quantities = [node for node in schemas_in(schema(kind)) if "x-quantity" in node]
    assert {node["x-quantity"]: node["pattern"] for node in quantities} == {
        node["x-quantity"]: QUANTITIES[node["x-quantity"]].pattern for node in quantities
    }
    assert kind != "spec" or {node["x-quantity"] for node in quantities} == {
        "length", "time", "percentage", "pitch", "density", "stress", "force", "temperature", "tear"
    }  # fmt: skip


@pytest.mark.parametrize("kind", ["spec", "base"])
def test_parts_have_the_fields_of_the_table(kind: str) -> None:
    parts = {part: [field.name for field in fields(kind).values() if field.part == part] for part in TABLE}
    assert parts == {part: names.split() for part, names in TABLE.items()}


def test_shop_sets_what_does_not_make_a_drum() -> None:
    table = {part: [field.name for field in fields("shop").values() if field.part == part] for part in TABLE}
    assert table == {
        "frame": ["wall", "edge_radius", "make"],
        "head": ["turnover", "stretch", "outer", "spine", "origin"],
        "stations": ["mark_at", "hand", "web", "pair_spacing", "margin", "edge_distance", "hole", "marking"],
        "lace": TABLE["lace"].split(),
        "handle": ["arms", "wrap"],
        "voice": ["wet_share", "safety"],
        "bench": TABLE["bench"].split(),
        "tolerances": TABLE["tolerances"].split(),
    }


def test_every_hide_may_have_a_profile_in_the_shop() -> None:
    hides = fields("spec")["head.hide"].choices
    assert list(hides) == [field.name for field in fields("shop").values() if field.part == "hides"]
    assert fields("spec")["lace.hide"].choices == fields("shop")["hides.goat.lace_hide"].choices == hides
    for hide in hides:
        names = [field.name for field in fields("shop").values() if field.part == f"hides.{hide}"]
        assert names == [
            "thickness", "dry_thickness", "density", "wet_strength", "dry_strength", "stitch_tear",
            "disc", "soak", "dry",
            "web", "margin", "hole", "lace_width", "stretch", "lace_hide",
        ]  # fmt: skip


def test_the_table_of_fields_tells_all_of_a_field() -> None:
    assert fields("spec")["frame.depth"] == Field(
        path="frame.depth",
        title="Depth",
        description="Height of the frame from its bearing edge to its back edge.",
        type="string",
        quantity="length",
        choices=(),
        least="15 mm",
        most="400 mm",
        multiple_of=1,
        examples=("55 mm", "2 1/4 in"),
    )
    assert fields("spec")["frame.depth"].name == "depth"
    assert fields("spec")["frame.depth"].part == "frame"
    assert fields("spec")["accept[].rule"].part == "accept[]"
    assert fields("spec")["bench.punches"].quantity == "length"


@pytest.mark.parametrize(
    ("path", "allowed"),
    [
        ("frame.depth", "15 mm to 400 mm"),
        ("frame.sides", "whole numbers from 3 to 24"),
        ("stations.count", "even numbers from 4 to 64"),
        ("head.outer", "hair, flesh"),
        ("handle.arms", "0, 2, 3, 4, 5, 6, 7, 8"),
        ("title", "text of at most 120 characters"),
        ("bench.punches", "1 mm to 40 mm"),
        ("spec", "1"),
        ("frame", ""),
        ("accept", ""),
    ],
)
def test_a_field_says_in_words_what_it_takes(path: str, allowed: str) -> None:
    assert fields("spec")[path].allowed == allowed


def test_a_kind_without_a_schema_is_our_fault() -> None:
    with pytest.raises(FileNotFoundError):
        schema("poem")
