"""The lacing in words: a row a step, and what each span passes beneath."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from tauthide.lacing.order import Step, follow, last_steps
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
    """Where the span comes from: `1 a`, station and hole; empty at an anchor."""
    enter: str
    leave: str
    beneath: str
    lace: int
    head: int
    legs: str
    """The same of legs, as they are called on the wall; empty where none is passed."""


@dataclass(frozen=True, slots=True)
class EndView:
    """The ends of one lace."""

    lace: int
    first: StepView
    last: StepView
    meets: StepView
    """The anchor that its end comes to where laces follow one another round the rim: the next lace's."""
    odd: bool
    """Whether it takes an odd number of stations."""


@dataclass(frozen=True, slots=True)
class LacingView:
    """The lacing of a drum."""

    name: str
    title: str
    start: str
    """Template with this lacing's own words: its order, its anchor."""
    table: str
    """Template with its steps."""
    end: str
    """Template that says how it ends."""
    tight: str
    """Template that says how it is drawn tight."""
    handle: str
    """Template that says how its handle is wrapped, or that there is none."""
    laces: int
    ends: tuple[EndView, ...]
    """Of each lace."""
    steps: tuple[StepView, ...]
    last: StepView
    count: int
    spans: int
    opposite: int
    """The station that lies opposite station 1."""
    order: str
    """The first few stations in the order of the first lace."""
    second_order: str
    """The same of the second lace; empty without one."""


ORDER_SHOWN = 5
"""Stations of the lacing order that are named before the dots."""


def view_lacing(plan: Plan) -> LacingView:
    """Return the lacing of a plan, step by step."""
    steps: dict[int, StepView] = {}
    laid: list[int] = []
    for before, step in follow(plan.steps):
        source = "" if before is None else f"{before.station} {before.leave}"
        words = beneath(step, laid)
        steps[step.step] = StepView(
            step.step, step.station, source, step.enter, step.leave, words, step.lace, step.head, _legs(step)
        )
        if step.span_mm is not None:
            laid.append(step.step)
    firsts = [steps[step.step] for before, step in follow(plan.steps) if before is None]
    ends = tuple(
        EndView(last.lace, first, steps[last.step], meets, _is_odd(plan.steps, last.lace))
        for first, last, meets in zip(firsts, last_steps(plan.steps), (*firsts[1:], firsts[0]), strict=True)
    )
    name = plan.lacing.name
    count = len(plan.stations)
    return LacingView(
        name=name,
        title=plan.lacing.title,
        start=f"lacings/{name}_start.md.j2",
        table=f"lacings/{name}_table.md.j2",
        end=f"lacings/{name}_end.md.j2",
        tight=f"lacings/{name}_tight.md.j2",
        handle=f"lacings/{name}_handle.md.j2",
        laces=len(ends),
        ends=ends,
        steps=tuple(steps.values()),
        last=ends[-1].last,
        count=count,
        spans=sum(step.span_mm is not None for step in plan.steps),
        opposite=1 + count // 2,
        order=_order(step for step in plan.steps if step.lace == 1),
        second_order=_order(step for step in plan.steps if step.lace == 2),
    )


def _legs(step: Step) -> str:
    return "–" if not step.beneath else f"leg {runs(step.beneath)}"


def _is_odd(steps: Sequence[Step], lace: int) -> bool:
    return sum(step.lace == lace for step in steps) % 2 == 1


def _order(steps: Iterable[Step]) -> str:
    stations = [str(step.station) for step in steps]
    return ", ".join(stations[:ORDER_SHOWN]) + (" and so on" if len(stations) > ORDER_SHOWN else "")


def beneath(step: Step, laid: Sequence[int]) -> str:
    """Say which spans a step's span passes beneath; a span is called by the step that makes it.

    `laid` are the steps that made the spans that lie there.
    """
    if step.span_mm is None:
        return NO_SPAN
    earlier = tuple(laid)
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
