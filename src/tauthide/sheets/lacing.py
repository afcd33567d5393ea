"""The lacing in words: a row a step, and what each span passes beneath."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tauthide.lacing.order import Step
from tauthide.plan.plan import Plan
from tauthide.sheets.words import runs

NO_SPAN = "nothing: no span yet"
FIRST_SPAN = "nothing: the first span"
NONE_CROSSED = "nothing: it crosses no span"


@dataclass(frozen=True, slots=True)
class StepView:
    """One step of the lacing."""

    step: int
    station: int
    source: str
    """Where the span comes from: `1 a`, station and hole; empty in step 1."""
    enter: str
    leave: str
    beneath: str


@dataclass(frozen=True, slots=True)
class LacingView:
    """The lacing of a drum."""

    name: str
    title: str
    start: str
    """Template with this lacing's own words: its order, its anchor."""
    end: str
    """Template that says how it ends."""
    steps: tuple[StepView, ...]
    last: StepView
    count: int
    spans: int
    opposite: int
    """The station that lies opposite station 1."""
    order: str
    """The first few stations in lacing order."""


ORDER_SHOWN = 5
"""Stations of the lacing order that are named before the dots."""


def view_lacing(plan: Plan) -> LacingView:
    """Return the lacing of a plan, step by step."""
    steps: list[StepView] = []
    before: StepView | None = None
    for step in plan.steps:
        source = "" if before is None else f"{before.station} {before.leave}"
        before = StepView(step.step, step.station, source, step.enter, step.leave, beneath(step))
        steps.append(before)
    count = len(plan.stations)
    return LacingView(
        name=plan.lacing.name,
        title=plan.lacing.title,
        start=f"lacings/{plan.lacing.name}_start.md.j2",
        end=f"lacings/{plan.lacing.name}_end.md.j2",
        steps=tuple(steps),
        last=steps[-1],
        count=count,
        spans=sum(step.span_mm is not None for step in plan.steps),
        opposite=1 + count // 2,
        order=", ".join(str(step.station) for step in steps[:ORDER_SHOWN])
        + (" and so on" if len(steps) > ORDER_SHOWN else ""),
    )


def beneath(step: Step) -> str:
    """Say which spans a step's span passes beneath; a span is called by the step that makes it."""
    if step.span_mm is None:
        return NO_SPAN
    earlier = tuple(range(2, step.step))
    if not earlier:
        return FIRST_SPAN
    if not step.beneath:
        return NONE_CROSSED
    named = _spans(step.beneath)
    if step.beneath == earlier:
        return f"all: {named}"
    return f"{named}, not {earlier[-1]}" if step.beneath == earlier[:-1] else named


def _spans(numbers: Sequence[int]) -> str:
    return f"{'span' if len(numbers) == 1 else 'spans'} {runs(numbers)}"
