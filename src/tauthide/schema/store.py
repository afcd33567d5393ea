"""The schema files: where they lie, and their content with every reference put in its place."""

from __future__ import annotations

import json
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable

KINDS = ("spec", "base", "shop", "run", "skin", "lot", "records", "approval")
"""The kinds of document that have a schema of their own: what a maker writes, records and approvals."""

Schema = dict[str, Any]

ANNOTATIONS = frozenset({"title", "description", "examples", "errorMessage", "$comment"})
"""Keywords that only explain: beside a `$ref` they stand in for those of what it refers to."""

_PLAIN = frozenset({"examples", "enum", "const", "default"})
"""Keywords whose value is data, not a schema."""


def schema(kind: str) -> Schema:
    """Return the schema of a kind of document, as its file stands. Shared: not to be changed.

    Read at first use and kept; FileNotFoundError where there is no schema of that kind.
    """
    return _load(f"{kind}.schema.json")


@cache
def resolved(kind: str) -> Schema:
    """Return the schema of a kind with each `$ref` replaced by what it refers to. Shared: not to be changed.

    Editors read it the same way: keywords beside a `$ref` are added to its target's, and those that only
    explain replace them. With no references to follow, a check takes little more than half the time.
    """
    name = f"{kind}.schema.json"
    whole: Schema = _resolve(_load(name), name)
    whole.pop("$defs", None)
    return whole


@cache
def _load(name: str) -> Schema:
    text = schema_folder().joinpath(name).read_text(encoding="utf-8")
    loaded: Schema = json.loads(text)
    return loaded


@cache
def schema_folder() -> Traversable:
    """Return the folder of the schemas: inside the package where it is installed, else beside the sources."""
    from importlib.resources import files  # slow to import, and not wanted for `--help`

    inside = files("tauthide") / "schemas"
    if inside.is_dir():
        return inside
    return Path(__file__).resolve().parents[3] / "schemas"


def _resolve(node: Any, name: str) -> Any:
    if isinstance(node, list):
        return [_resolve(item, name) for item in node]
    if not isinstance(node, dict):
        return node
    own = {key: value if key in _PLAIN else _resolve(value, name) for key, value in node.items() if key != "$ref"}
    if "$ref" not in node:
        return own
    target = _target(node["$ref"], name)
    clash = target.keys() & own.keys() - ANNOTATIONS
    if clash:
        raise ValueError(f"{name}: {', '.join(sorted(clash))} both beside and behind {node['$ref']}")
    return {**target, **own}


def _target(reference: str, name: str) -> Mapping[str, Any]:
    file, _, pointer = reference.partition("#")
    home = file or name
    node: Any = _load(home)
    for step in pointer.strip("/").split("/"):
        node = node[step]
    found: Schema = _resolve(node, home)
    return found
