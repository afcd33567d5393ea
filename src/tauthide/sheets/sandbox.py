"""The environment of a maker's own templates: plain data in, text out, and a bound on both.

A template comes with a repository that others may have changed, so it is not trusted: it reaches nothing but
the data it is given and the templates beside it, and can neither run for ever nor fill the memory. Text has no
methods here and filters are few, since each of them would be another way to make a text without end.

Steps are counted by a statement put at the head of every template, loop, block and macro when it is compiled:
it charges as many steps as there are parts in what follows.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from typing import Any

from jinja2 import StrictUndefined, Undefined, nodes, pass_context
from jinja2.environment import TemplateModule
from jinja2.exceptions import SecurityError, TemplateRuntimeError
from jinja2.loaders import BaseLoader
from jinja2.runtime import BlockReference, Context, LoopContext, TemplateReference
from jinja2.sandbox import ImmutableSandboxedEnvironment
from jinja2.utils import Namespace

MOST_STEPS = 1_000_000
"""Parts of templates that may be passed through for one page: some 50 times what the longest sheet takes."""
MOST_TEXT = 1_000_000
"""Characters of a page, or of a text on the way to it: some 20 times the longest sheet."""
MOST_NUMBERS = 10_000
"""Longest `range`."""
MOST_POWER = 100
"""Largest exponent."""
MOST_DIGITS = 300
"""Most digits of a whole number."""

FILTERS = (
    "abs", "capitalize", "count", "d", "default", "dictsort", "first", "float", "groupby", "int", "items", "last",
    "length", "list", "lower", "map", "max", "min", "reject", "rejectattr", "reverse", "round", "select",
    "selectattr", "sort", "sum", "title", "trim", "unique", "upper",
)  # fmt: skip
"""Jinja's own filters that templates may use, besides `format`, `join` and `replace`, which are bounded here."""

MAP_METHODS = frozenset(("get", "items", "keys", "values"))
LOOP_NAMES = frozenset(
    ("changed", "cycle", "depth", "depth0", "first", "index", "index0", "last", "length", "nextitem", "previtem",
     "revindex", "revindex0")
)  # fmt: skip

_CHARGE = "charge steps"  # no name that could be written in a template
_JOINED = "joined text"
_WIDE = re.compile(r"\d{3,}|\*")


class TooMuchError(TemplateRuntimeError):
    """A template takes or makes more than it may; the message says of what."""


class Sandbox(ImmutableSandboxedEnvironment):
    """An environment that lets a template do nothing but set out the data it is given."""

    intercepted_binops = frozenset(("+", "*", "**", "%"))

    def __init__(self, loader: BaseLoader) -> None:
        """Take what gives templates by their names."""
        super().__init__(
            loader=loader, undefined=StrictUndefined, finalize=_show, trim_blocks=True, lstrip_blocks=True,
            keep_trailing_newline=True, autoescape=False, auto_reload=False, optimized=False, cache_size=-1,
        )  # fmt: skip
        self.steps = 0
        own = {name: self.filters[name] for name in FILTERS}
        bounded: Mapping[str, Callable[..., Any]] = {
            "format": _format, "join": _join_items, "replace": _replace, _CHARGE: _charge, _JOINED: _joined,
        }  # fmt: skip
        self.filters = {**own, **bounded}
        self.globals = {"range": _numbers, "dict": dict, "namespace": Namespace}
        self.concat = _concat  # type: ignore[method-assign]

    def restart(self) -> None:
        """Begin another page: its steps are counted from nothing."""
        self.steps = 0

    def _parse(self, source: str, name: str | None, filename: str | None) -> nodes.Template:
        tree = super()._parse(source, name, filename)
        _join_safely(tree)
        kinds: tuple[type[Any], ...] = (nodes.For, nodes.Macro, nodes.Block, nodes.CallBlock)
        for kind in kinds:
            for node in tree.find_all(kind):
                node.body.insert(0, _charging(node, _weight(node.body)))
        tree.body.insert(0, _charging(tree, _weight(tree.body)))
        tree.set_environment(self)
        return tree

    def getattr(self, obj: Any, attribute: str) -> Any:
        """Return an item of a map, or one of the few attributes that may be used; undefined for all else."""
        if isinstance(obj, dict):
            if attribute in obj:
                return obj[attribute]
            if attribute in MAP_METHODS:
                return getattr(obj, attribute)
        elif isinstance(obj, LoopContext):
            if attribute in LOOP_NAMES:
                return getattr(obj, attribute)
        elif isinstance(obj, (Namespace, TemplateReference, BlockReference, TemplateModule)):
            return super().getattr(obj, attribute)
        if isinstance(obj, Undefined):
            return obj._fail_with_undefined_error()
        if hasattr(obj, attribute):
            return self.unsafe_undefined(obj, attribute)
        return self.undefined(obj=obj, name=attribute)

    def getitem(self, obj: Any, argument: Any) -> Any:
        """Return an item of a map, list or text; undefined for all else."""
        if isinstance(obj, (dict, list, tuple, str)):
            try:
                return obj[argument]
            except (TypeError, LookupError):
                pass
        if isinstance(argument, str):
            return self.getattr(obj, argument)
        return self.undefined(obj=obj, name=argument)

    def call_binop(self, context: Context, operator: str, left: Any, right: Any) -> Any:
        """Add, multiply and so on, where the result stays within bounds."""
        if operator == "%" and isinstance(left, str):
            return _format(left, right)
        if operator != "+" and not (_is_number(left) and _is_number(right)):
            raise SecurityError(f"`{operator}` is for numbers only")
        if operator == "**" and abs(right) > MOST_POWER:
            raise TooMuchError(f"a power of more than {MOST_POWER}")
        return _bounded(super().call_binop(context, operator, left, right))


def _parts(tree: nodes.Node) -> Iterable[nodes.Node]:
    yield tree
    for child in tree.iter_child_nodes():
        yield from _parts(child)


def _weight(body: Iterable[nodes.Node]) -> int:
    return 1 + sum(1 for node in body for _ in _parts(node))


def _charging(node: nodes.Node, weight: int) -> nodes.ExprStmt:
    charge = nodes.Filter(nodes.Const(weight), _CHARGE, [], [], None, None, lineno=node.lineno)
    return nodes.ExprStmt(charge, lineno=node.lineno)


def _join_safely(node: nodes.Node) -> None:
    """Put a bounded filter in the place of every `~` below a node."""
    for field, value in node.iter_fields():
        if isinstance(value, nodes.Node):
            _join_safely(value)
            setattr(node, field, _joining(value))
        elif isinstance(value, list):
            for index, item in enumerate(value):
                if isinstance(item, nodes.Node):
                    _join_safely(item)
                    value[index] = _joining(item)


def _joining(node: nodes.Node) -> nodes.Node:
    if not isinstance(node, nodes.Concat):
        return node
    items = nodes.List(node.nodes, lineno=node.lineno)
    return nodes.Filter(items, _JOINED, [], [], None, None, lineno=node.lineno)


@pass_context
def _charge(context: Context, weight: object) -> None:
    environment = context.environment
    assert isinstance(environment, Sandbox), "no other environment has this filter"
    environment.steps += weight if isinstance(weight, int) and weight > 0 else 1
    if environment.steps > MOST_STEPS:
        raise TooMuchError("it goes round and round without coming to an end")


def _show(value: Any) -> str:
    """Return what `{{ ... }}` prints: text and numbers only, since all else would print as a program sees it."""
    if isinstance(value, Undefined):
        return str(value)  # raises what it has to say
    if isinstance(value, (str, int, float)) and not isinstance(value, bool):
        return str(value)
    kind = "nothing" if value is None else "yes or no" if isinstance(value, bool) else _kind(value)
    raise TemplateRuntimeError(f"only text and numbers can be printed, and this is {kind}")


def _kind(value: Any) -> str:
    return "a map" if isinstance(value, dict) else "a list" if isinstance(value, (list, tuple)) else "neither"


def _concat(pieces: Iterable[str]) -> str:
    """Join a page's pieces, or those of a part of it, as long as they are not too much."""
    kept: list[str] = []
    length = 0
    for piece in pieces:
        length += len(piece)
        if length > MOST_TEXT:
            raise TooMuchError(f"more than {MOST_TEXT} characters")
        kept.append(piece)
    return "".join(kept)


def _joined(items: list[Any]) -> str:
    return _concat(map(_show, items))


def _join_items(items: Iterable[Any], sign: str = "", attribute: str | None = None) -> str:
    """Join items; with an attribute, that of each."""
    pieces: list[str] = []
    for item in items:
        pieces += [_show(sign)] if pieces else []
        pieces.append(_show(item if attribute is None else item[attribute]))
    return _concat(pieces)


def _replace(text: str, old: str, new: str) -> str:
    text, old, new = _show(text), _show(old), _show(new)
    if len(text) + text.count(old) * len(new) > MOST_TEXT:
        raise TooMuchError(f"more than {MOST_TEXT} characters")
    return text.replace(old, new)


def _format(pattern: str, *values: Any) -> str:
    """Fill values in for `%s`, `%d`, `%.1f` and the like."""
    pattern = _show(pattern)
    if _WIDE.search(pattern):
        raise TooMuchError("a format with more than two digits")
    if len(values) == 1 and isinstance(values[0], (list, tuple)):
        values = tuple(values[0])
    _concat([pattern, *map(_show, values)])
    return _concat([pattern % values])


def _numbers(*limits: int) -> range:
    numbers = range(*limits)
    if len(numbers) > MOST_NUMBERS:
        raise TooMuchError(f"a range of more than {MOST_NUMBERS} numbers")
    return numbers


def _bounded(value: Any) -> Any:
    if isinstance(value, int) and abs(value) >= 10**MOST_DIGITS:
        raise TooMuchError(f"a number of more than {MOST_DIGITS} digits")
    if isinstance(value, (str, list, tuple)) and len(value) > MOST_TEXT:
        raise TooMuchError(f"more than {MOST_TEXT} characters or items")
    return value


def _is_number(value: Any) -> bool:
    return isinstance(value, (int, float))
