"""A figure as a tree of what went into it, down to the fields and where those come from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from math import inf, isfinite
from types import MappingProxyType

from tauthide.explaining.amounts import NOT_SET, brief, show_setting, show_value, style_of, unit_of
from tauthide.explaining.formula import fill
from tauthide.figures import Figure, FigureSet, Workings, join_sets
from tauthide.quantities.figures import figures_with
from tauthide.schema.fields import fields
from tauthide.sheets.amounts import system_of
from tauthide.sheets.origins import title_of
from tauthide.spec.layers import Origin
from tauthide.spec.settings import Amount

SHAPE_TITLES: Mapping[str, str] = MappingProxyType(
    {
        "frame.outline": "the frame's outline",
        "stave.cutting": "the boards and what is cut from them",
        "stations.marks": "where the stations are marked",
        "stations.marking": "how the stations are found",
        "holes.blank": "the holes on the blank",
        "holes.mounted": "the holes on the frame",
        "lace.steps": "the lacing, step by step",
        "voice.modes": "the modes in which the head sounds",
    }
)
"""What the shapes are; they are no numbers, and explained by what went into them."""

FIELD, SHAPE = "field:", "shape:"


@dataclass(frozen=True, slots=True)
class Node:
    """A figure, shape or field, and what went straight into it."""

    kind: str
    """`figure`, `shape` or `field`."""
    name: str
    title: str
    shown: str = ""
    """The value in both systems; empty for a shape."""
    value: Amount | None = None
    """The value in its base unit; none for a shape, and for a field that is not set."""
    unit: str = ""
    formula: str = ""
    put_in: str = ""
    """The formula with the numbers put in; empty where none could be."""
    left: tuple[str, ...] = ()
    """Names that are left in it."""
    source: str = ""
    written: str = ""
    """Of a field: the value as it is written."""
    origin: Origin | None = None
    """Of a field that is set: where the value comes from."""
    inputs: tuple[Node, ...] = ()
    again: bool = False
    """Whether the inputs stand elsewhere: nearer to the top of the page."""
    cut: bool = False
    """Whether there are inputs, but deeper than was asked for."""


def explain_figure(workings: Workings, name: str, depth: int | None = None) -> Node:
    """Return the tree of a figure, `depth` levels of inputs deep, or all.

    KeyError for an unknown figure; whatever its computation raises where a gate's rule is broken.
    """
    workings[name]
    return _Growing(workings).grow(name, depth)


def is_finite(node: Node) -> bool:
    """Tell whether a figure came out as a number at all."""
    return isinstance(node.value, (int, float)) and isfinite(node.value)


def conditions(workings: Workings, name: str) -> tuple[str, ...]:
    """Return the fields and figures that were looked at to tell whether this drum has a figure, as `inputs` does.

    Of a figure that belongs to another lacing that is the lacing alone.
    """
    if name not in figures_with(workings.spec.word("lace.lacing")).figures:
        return (f"{FIELD}lace.lacing",)
    probe = FigureSet()
    probe.shape("asked")(workings.definition(name).applies)
    own = figures_with(workings.spec.word("lace.lacing"))
    asking = Workings(workings.spec, join_sets((own, probe)))
    asking.shape("asked")
    return asking.inputs(f"{SHAPE}asked")


def field_node(workings: Workings, path: str) -> Node:
    """Return a field as the leaf of a tree, whether it is set or not."""
    setting = workings.spec.settings.get(path)
    if setting is None:
        return Node("field", path, title_of(path), NOT_SET)
    written = setting.written
    return Node(
        "field",
        path,
        title_of(path),
        show_setting(setting, system_of(workings.spec)),
        setting.value,
        unit_of(setting),
        written="; ".join(map(str, written)) if isinstance(written, list) else str(written),
        origin=setting.origin,
    )


class _Growing:
    """Grows one tree; what was spelt out once is not spelt out again."""

    def __init__(self, workings: Workings) -> None:
        self.workings = workings
        self.system = system_of(workings.spec)
        self.grown: dict[str, float] = {}
        """How many levels of inputs were spelt out below a name."""

    def grow(self, name: str, depth: int | None) -> Node:
        if name.startswith(FIELD):
            return field_node(self.workings, name.removeprefix(FIELD))
        needs = self.workings.inputs(name)
        levels = inf if depth is None else depth
        again = bool(needs) and levels <= self.grown.get(name, -1)
        cut = bool(needs) and depth == 0 and not again
        inputs: tuple[Node, ...] = ()
        if not again and not cut:
            self.grown[name] = levels
            inputs = tuple(self.grow(item, None if depth is None else depth - 1) for item in needs)
        if name.startswith(SHAPE):
            shape = name.removeprefix(SHAPE)
            return Node("shape", shape, SHAPE_TITLES.get(shape, shape), inputs=inputs, again=again, cut=cut)
        figure = self.workings.definition(name)
        put_in, left = self._fill(figure, needs)
        value = self.workings[name]
        return Node(
            "figure",
            name,
            figure.title,
            show_value(figure.style, value, self.system),
            value,
            figure.unit,
            figure.formula,
            put_in,
            left,
            figure.source,
            inputs=inputs,
            again=again,
            cut=cut,
        )

    def _fill(self, figure: Figure, needs: tuple[str, ...]) -> tuple[str, tuple[str, ...]]:
        """Return a formula with the numbers put in, empty if there are none, and the names left in it."""
        values = {
            item: brief(self.workings.definition(item).style, self.workings[item], self.system)
            for item in needs
            if not item.startswith((FIELD, SHAPE))
        }
        # A field named like a figure among the inputs gives way to it.
        paths = [path for item in needs if item.startswith(FIELD) and (path := item.removeprefix(FIELD)) not in values]
        for path in paths:
            setting = self.workings.spec.settings.get(path)
            values[path] = "" if setting is None else brief(style_of(setting), setting.value, self.system)
        filled = fill(figure.formula, values, paths, _known(self.workings.spec.word("lace.lacing")))
        return ("" if filled.text == figure.formula else filled.text), filled.left


@cache
def _known(lacing: str) -> frozenset[str]:
    """Return the names that formulas use for figures and fields."""
    bare = {path.rpartition(".")[2] for path, field in fields("spec").items() if field.type != "object"}
    return frozenset(figures_with(lacing).figures) | bare
