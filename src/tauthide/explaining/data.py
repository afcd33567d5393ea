"""Explanations as plain data, for other programs: numbers as exact as in `plan.json`."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from tauthide.explaining.field import FieldPage
from tauthide.explaining.origins import origin_data
from tauthide.explaining.pages import Page
from tauthide.explaining.tree import Node
from tauthide.output.plan_json import exact
from tauthide.rules.rule import Rule
from tauthide.spec.settings import Amount


def node_data(node: Node) -> dict[str, Any]:
    """Return a tree: each node with its kind, name, title, value, and what its kind has beside."""
    data: dict[str, Any] = {"kind": node.kind, "name": node.name, "title": node.title}
    if node.kind != "shape":
        data |= {"value": amount_data(node.value), "unit": node.unit or None, "shown": node.shown}
    if node.kind == "field":
        return {
            **data,
            "written": node.written,
            "origin": None if node.origin is None else origin_data(node.origin),
        }
    if node.kind == "figure":
        data |= {
            "formula": node.formula,
            "put_in": node.put_in,
            "left": list(node.left),
            "source": node.source,
        }
    return {**data, "again": node.again, "cut": node.cut, "inputs": [node_data(item) for item in node.inputs]}


def field_data(page: FieldPage) -> dict[str, Any]:
    """Return a field's page; the last of its layers holds."""
    return {
        "kind": "field",
        "name": page.path,
        "title": page.title,
        "value": amount_data(page.value),
        "unit": page.unit or None,
        "shown": page.shown,
        "unset": page.unset,
        "description": page.description,
        "allowed": page.allowed,
        "layers": [{"written": entry.written, **origin_data(entry.origin)} for entry in page.layers],
    }


def page_data(page: Page) -> dict[str, Any]:
    """Return the page of a rule or fault; what it has not is empty."""
    return {
        "kind": page.kind,
        "name": page.name,
        "severity": str(page.severity),
        "why": page.why,
        "mend": page.mend,
        "source": page.source,
        "stage": page.stage,
        "failing": page.failing,
        "passing": page.passing,
    }


def rules_data(rules: Iterable[Rule]) -> list[dict[str, Any]]:
    """Return the list of the rules."""
    return [
        {"name": rule.name, "severity": str(rule.severity), "why": rule.why, "mend": rule.mend, "source": rule.source}
        for rule in rules
    ]


def amount_data(value: Amount | None) -> Any:
    """Return a value as JSON has it, numbers rounded as in `plan.json`."""
    if isinstance(value, tuple):
        return [exact(item) for item in value]
    return exact(value) if isinstance(value, float) else value
