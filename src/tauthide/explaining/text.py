"""Explanations as text, at most 100 columns wide: two blanks further in for each level."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterable, Iterator

from tauthide.explaining.field import FieldPage, written_text
from tauthide.explaining.origins import origin_text, unset_text
from tauthide.explaining.pages import Page
from tauthide.explaining.tree import Node
from tauthide.rules.rule import Rule
from tauthide.spec.layers import Entry
from tauthide.spec.settings import Spec
from tauthide.text import plain

WIDTH = 100
STEP = 2
HANGING = 4
"""How much further in the rest of a line stands that is too long."""
LEAST_WIDTH = 40
"""Very deep levels are not moved in further than leaves so many columns."""

_NO_BREAK = "\u00a0"
_BEFORE_UNIT = re.compile(r"(?<=\d) (?=(?:mm|cm|m|in|ft|deg|h|d|min|Hz|N|lbf|kg|g|psi|%|°)(?:\W|$))")
"""The blank between a number and its unit: no line is broken there."""


def tree_text(node: Node, spec: Spec) -> str:
    """Return the tree of a figure."""
    return _joined(_tree(node, spec, 0))


def namesake_text(leaf: Node, spec: Spec) -> str:
    """Return a word on the field that has the same name as a figure."""
    return f"\n{leaf.name} is a field, too:\n" + _joined(_leaf(leaf, spec, 1))


def field_text(page: FieldPage) -> str:
    """Return the page of a field."""
    return _joined(_field(page))


def page_text(page: Page) -> str:
    """Return the page of a rule or fault."""
    return _joined(_page(page))


def rules_text(rules: Iterable[Rule]) -> str:
    """Return the list of the rules: name, severity, and as much of why it matters as a line holds."""
    listed = tuple(rules)
    name = max((len(rule.name) for rule in listed), default=0)
    severity = max((len(rule.severity) for rule in listed), default=0)
    return "".join(
        f"{f'{rule.name:<{name}}  {rule.severity:<{severity}}  ':<{STEP}}"
        f"{textwrap.shorten(rule.why, WIDTH - name - severity - 2 * STEP, placeholder=' ...')}\n"
        for rule in listed
    )


def _tree(node: Node, spec: Spec, level: int) -> Iterator[str]:
    if node.kind == "field":
        yield from _leaf(node, spec, level)
        return
    yield from _wrapped(f"{node.name}  {node.shown or node.title}", level)
    if node.again:
        yield from _wrapped("as above", level + 1)
        return
    if node.kind == "figure":
        yield from _wrapped(node.title, level + 1)
        yield from _wrapped(f"= {node.formula}", level + 1)
        if node.put_in:
            yield from _wrapped(f"= {node.put_in}", level + 1)
        if node.left:
            yield from _wrapped(f"left as names: {', '.join(node.left)}", level + 1)
        yield from _wrapped(f"source: {node.source}", level + 1)
    if node.cut:
        yield from _wrapped("its inputs lie deeper than --depth", level + 1)
    for item in node.inputs:
        yield from _tree(item, spec, level + 1)


def _leaf(node: Node, spec: Spec, level: int) -> Iterator[str]:
    origin = unset_text(spec, node.name) if node.origin is None else origin_text(node.origin)
    yield from _wrapped(f"{node.name}  {node.shown}  {origin}", level)


def _field(page: FieldPage) -> Iterator[str]:
    yield from _wrapped(f"{page.path}  {page.shown}", 0)
    yield from _wrapped(page.title, 1)
    if page.description:
        yield from _wrapped(page.description, 1)
    if page.allowed:
        yield from _wrapped(f"allowed: {page.allowed}", 1)
    if page.unset:
        yield from _wrapped(page.unset, 1)
    if len(page.layers) > 1:
        yield from _wrapped("set by these layers, the lowest first; the last one holds:", 1)
    for entry in page.layers:
        yield from _layer(entry, 2 if len(page.layers) > 1 else 1)


def _layer(entry: Entry, level: int) -> Iterator[str]:
    yield from _wrapped(f"{written_text(entry.written)}  {origin_text(entry.origin)}", level)


def _page(page: Page) -> Iterator[str]:
    yield from _wrapped(f"{page.name}  {page.severity}", 0)
    for label, text in (
        ("why", page.why),
        ("mend" if page.kind == "rule" else "allowed", page.mend),
        ("source", page.source),
        ("found when", page.stage),
    ):
        if text:
            yield from _wrapped(f"{label}: {text}", 1)
    for label, example in (("breaks the rule", page.failing), ("keeps it", page.passing)):
        if example:
            yield from _wrapped(f"{label}:", 1)
            yield from (f"{' ' * 2 * STEP}{line}" for line in example.splitlines())


def _wrapped(text: str, level: int) -> list[str]:
    indent = " " * min(STEP * level, WIDTH - LEAST_WIDTH)
    lines = textwrap.wrap(
        _BEFORE_UNIT.sub(_NO_BREAK, plain(text.strip().replace("\n", " "))),
        WIDTH,
        initial_indent=indent,
        subsequent_indent=indent + " " * HANGING,
        break_on_hyphens=False,
    )
    return [line.replace(_NO_BREAK, " ") for line in lines]


def _joined(lines: Iterable[str]) -> str:
    return "".join(f"{line}\n" for line in lines)
