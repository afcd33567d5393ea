"""The tables at the end of a sheet: order of work, parts of the lace, and every figure with its formula."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from tauthide.plan.plan import Plan
from tauthide.sheets.amounts import show_figure
from tauthide.sheets.words import held, own
from tauthide.units import System, long_length, time


@dataclass(frozen=True, slots=True)
class WorkRow:
    """One operation of the order of work."""

    number: int
    title: str
    hand: str
    wait: str
    """Empty where nothing is waited for."""
    after: str
    """Numbers of the operations before it; empty where it may be done at once."""
    wet: bool


@dataclass(frozen=True, slots=True)
class WorkView:
    """The order of work of one drum."""

    rows: tuple[WorkRow, ...]
    hand_each: str
    hand_all: str
    """For as many drums as the spec wants, one after the other."""


@dataclass(frozen=True, slots=True)
class PartRow:
    """One part of the lace."""

    title: str
    length: str


@dataclass(frozen=True, slots=True)
class LacePartsView:
    """The lace's parts, each shown as everywhere on the sheet, and what they add up to."""

    parts: tuple[PartRow, ...]
    net: str
    allowance: str
    cut: str


@dataclass(frozen=True, slots=True)
class FigureRow:
    """One figure: how much, and from what."""

    name: str
    title: str
    value: str
    formula: str
    source: int
    """Number of its source in the list of sources."""


@dataclass(frozen=True, slots=True)
class FiguresView:
    """Every figure of a drum and the sources of their formulas."""

    rows: tuple[FigureRow, ...]
    sources: tuple[str, ...]
    """From number 1 on."""


def view_work(plan: Plan) -> WorkView:
    """Return the order of work, numbered."""
    numbers = {operation.name: number for number, operation in enumerate(plan.operations, 1)}
    rows = tuple(
        WorkRow(
            number=numbers[operation.name],
            title=own(operation.title),
            hand=time(operation.hand_min),
            wait=time(operation.wait_min) if operation.wait_min else "",
            after=", ".join(str(numbers[name]) for name in operation.after),
            wet=operation.wet,
        )
        for operation in plan.operations
    )
    hand_min = sum(operation.hand_min for operation in plan.operations)
    return WorkView(rows, time(hand_min), time(hand_min * plan.spec.quantity))


def view_lace_parts(plan: Plan, system: System) -> LacePartsView:
    """Return the parts of the lace and their sum."""

    def shown(name: str) -> str:
        return show_figure(plan, name, system)

    allowance_mm = plan["lace.net_length"] * plan.spec.number("lace.allowance")
    return LacePartsView(
        parts=tuple(PartRow(own(plan.figures[name].figure.title), shown(name)) for name in plan.lace_parts),
        net=shown("lace.net_length"),
        allowance=long_length(allowance_mm, system),
        cut=shown("lace.cut_length"),
    )


def view_figures(plan: Plan, shown: Mapping[str, str]) -> FiguresView:
    """Return every figure with its formula and source; `shown` has the values as text."""
    sources: dict[str, int] = {}
    rows = []
    for name, reading in plan.figures.items():
        figure = reading.figure
        source = sources.setdefault(figure.source, len(sources) + 1)
        rows.append(FigureRow(name, own(figure.title), held(shown[name]), own(figure.formula), source))
    return FiguresView(tuple(rows), tuple(map(own, sources)))
