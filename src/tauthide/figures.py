"""Figures: every number of the plan, each defined once with its name, unit, formula and source.

A figure is a pure function of the spec and of other figures. `Workings` computes them on demand, keeps
each, and remembers which inputs went into which, so that any number can be asked how it came about.
Shapes (points, orders, marks) are worked out the same way, but are not numbers.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from tauthide.spec.settings import Spec

OWN_DEFINITION = "definition"
PLANE_GEOMETRY = "plane geometry"


@dataclass(frozen=True, slots=True)
class Figure:
    """The definition of one figure."""

    name: str
    """Dotted name, such as `head.blank_diameter`."""
    unit: str
    """Base unit: `mm`, `mm2`, `deg`, `min`, `1` for counts and ratios, and so on."""
    style: str
    """How it is shown: a kind that `tauthide.units.show` knows, such as `length`, `fine_length` or `count`."""
    title: str
    """What it is, in a maker's words."""
    formula: str
    """The formula in words and signs, with the names of its inputs."""
    source: str
    compute: Callable[[Workings], float]
    applies: Callable[[Workings], bool]


@dataclass(frozen=True, slots=True)
class Shape:
    """The definition of something worked out on the way that is not a number."""

    name: str
    compute: Callable[[Workings], Any]


def _always(_: Workings) -> bool:
    return True


class FigureSet:
    """The figures and shapes that one module defines, in order."""

    def __init__(self) -> None:
        """Start empty."""
        self.figures: dict[str, Figure] = {}
        self.shapes: dict[str, Shape] = {}

    def figure(
        self,
        name: str,
        unit: str,
        style: str,
        title: str,
        formula: str,
        source: str = PLANE_GEOMETRY,
        applies: Callable[[Workings], bool] = _always,
    ) -> Callable[[Callable[[Workings], float]], Callable[[Workings], float]]:
        """Define a figure by decorating the function that computes it; ValueError if the name is taken."""

        def define(compute: Callable[[Workings], float]) -> Callable[[Workings], float]:
            if name in self.figures:
                raise ValueError(f"figure {name} is defined twice")
            self.figures[name] = Figure(name, unit, style, title, formula, source, compute, applies)
            return compute

        return define

    def shape(self, name: str) -> Callable[[Callable[[Workings], Any]], Callable[[Workings], Any]]:
        """Define a shape by decorating the function that computes it; ValueError if the name is taken."""

        def define(compute: Callable[[Workings], Any]) -> Callable[[Workings], Any]:
            if name in self.shapes:
                raise ValueError(f"shape {name} is defined twice")
            self.shapes[name] = Shape(name, compute)
            return compute

        return define


def join_sets(sets: Iterable[FigureSet]) -> FigureSet:
    """Return one set with all figures and shapes of `sets`; ValueError if two share a name."""
    joined = FigureSet()
    for item in sets:
        for name, figure in item.figures.items():
            if name in joined.figures:
                raise ValueError(f"figure {name} is defined twice")
            joined.figures[name] = figure
        for name, shape in item.shapes.items():
            if name in joined.shapes:
                raise ValueError(f"shape {name} is defined twice")
            joined.shapes[name] = shape
    return joined


class Workings:
    """The figures of one drum, worked out on demand and kept.

    `workings["head.gather"]` is a figure, `workings.given("frame.depth")` a value of the spec, and
    `workings.shape("holes.mounted")` a shape. Inputs are noted: see `inputs`.
    """

    def __init__(self, spec: Spec, definitions: FigureSet) -> None:
        """Take the spec and the figures that may be asked for."""
        self.spec = spec
        self._definitions = definitions
        self._kept: dict[str, Any] = {}
        self._inputs: dict[str, dict[str, None]] = {}
        self._asking: list[str] = []

    def of(self, spec: Spec) -> Workings:
        """Return workings of another spec by the same definitions, nothing computed yet."""
        return Workings(spec, self._definitions)

    def __getitem__(self, name: str) -> float:
        """Return the figure `name`; KeyError if there is none of that name."""
        value: float = self._node(name, self._definitions.figures[name].compute)
        return value

    def shape(self, name: str) -> Any:
        """Return the shape `name`; KeyError if there is none of that name."""
        return self._node(f"shape:{name}", self._definitions.shapes[name].compute)

    def given(self, path: str) -> float:
        """Return the number that the spec gives at `path`, in its base unit; KeyError if not set."""
        self._note(f"field:{path}")
        return self.spec.number(path)

    def count(self, path: str) -> int:
        """Return the count that the spec gives at `path`; KeyError if not set."""
        self._note(f"field:{path}")
        return self.spec.count(path)

    def word(self, path: str) -> str:
        """Return the word that the spec gives at `path`; KeyError if not set."""
        self._note(f"field:{path}")
        return self.spec.word(path)

    def numbers(self, path: str) -> tuple[float, ...]:
        """Return the list of numbers that the spec gives at `path`, in base units; empty if not set."""
        self._note(f"field:{path}")
        return self.spec.numbers(path)

    def has(self, path: str) -> bool:
        """Tell whether the spec sets `path`."""
        self._note(f"field:{path}")
        return self.spec.has(path)

    def applicable(self) -> Iterator[Figure]:
        """Yield the figures that this drum has, in the order in which they are defined."""
        return (figure for figure in self._definitions.figures.values() if figure.applies(self))

    def applies(self, name: str) -> bool:
        """Tell whether this drum has the figure `name`."""
        figure = self._definitions.figures.get(name)
        return figure is not None and figure.applies(self)

    def definition(self, name: str) -> Figure:
        """Return the definition of a figure; KeyError if there is none of that name."""
        return self._definitions.figures[name]

    def inputs(self, name: str) -> tuple[str, ...]:
        """Return what went straight into a figure: names of figures, `field:...` and `shape:...`."""
        if name in self._definitions.figures:
            self[name]
        return tuple(self._inputs.get(name, ()))

    def values(self) -> Mapping[str, float]:
        """Work out every figure that applies and return them by name."""
        return {figure.name: self[figure.name] for figure in self.applicable()}

    def _note(self, name: str) -> None:
        if self._asking:
            self._inputs.setdefault(self._asking[-1], {})[name] = None

    def _node(self, name: str, compute: Callable[[Workings], Any]) -> Any:
        self._note(name)
        if name in self._kept:
            return self._kept[name]
        if name in self._asking:
            raise RuntimeError(f"figure {name} needs itself: {' > '.join([*self._asking, name])}")
        self._asking.append(name)
        try:
            value = compute(self)
        finally:
            self._asking.pop()
        self._kept[name] = value
        return value
