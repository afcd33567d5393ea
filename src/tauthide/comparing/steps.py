"""Which steps are new, gone or otherwise: of marking, of the lacing, and of the order of work."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from tauthide.plan.plan import Plan
from tauthide.units import time
from tauthide.work.operations import Operation

NEW, GONE, OTHER = "new", "gone", "changed"

MARKING = {"fold": "by folds", "step": "by steps", "tape": "by the running tape"}


@dataclass(frozen=True, slots=True)
class StepChange:
    """A step that only one of the two drums has, or that goes otherwise."""

    part: str
    """`marking`, `lacing` or `work`."""
    kind: str
    """`new`, `gone` or `changed`."""
    text: str


def changed_steps(old: Plan, new: Plan) -> tuple[StepChange, ...]:
    """Return the steps that differ: marking first, then the lacing, then the order of work."""
    return (*_marking(old, new), *_lacing(old, new), *_work(old, new))


def _marking(old: Plan, new: Plan) -> Iterator[StepChange]:
    before, after = (_marking_text(plan) for plan in (old, new))
    if before != after:
        yield StepChange("marking", OTHER, f"stations are marked {before} -> {after}")


def _marking_text(plan: Plan) -> str:
    marking = plan.marking
    folds = f" ({len(marking.folds)})" if marking.folds else ""
    return f"{MARKING.get(marking.method, marking.method)}{folds} on the {marking.on}"


def _lacing(old: Plan, new: Plan) -> Iterator[StepChange]:
    if old.lacing.name != new.lacing.name:
        yield StepChange("lacing", OTHER, f"lacing: {old.lacing.title} -> {new.lacing.title}")
    before, after = _lace_steps(old), _lace_steps(new)
    for number in sorted({*before, *after}):
        if number not in after:
            yield StepChange("lacing", GONE, f"step {number}: {before[number]}")
        elif number not in before:
            yield StepChange("lacing", NEW, f"step {number}: {after[number]}")
        elif before[number] != after[number]:
            yield StepChange("lacing", OTHER, f"step {number}: {before[number]} -> {after[number]}")


def _lace_steps(plan: Plan) -> dict[int, str]:
    several = any(step.lace > 1 for step in plan.steps)
    return {
        step.step: (f"lace {step.lace}, " if several else "")
        + (f"head {step.head}, " if plan.lacing.heads > 1 else "")
        + f"station {step.station}, in by {step.enter}, out by {step.leave}"
        + (f", beneath {', '.join(map(str, step.beneath))}" if step.beneath else "")
        for step in plan.steps
    }


def _work(old: Plan, new: Plan) -> Iterator[StepChange]:
    before = {operation.name: operation for operation in old.operations}
    after = {operation.name: operation for operation in new.operations}
    for name in {**after, **before}:
        if name not in after:
            yield StepChange("work", GONE, before[name].title)
        elif name not in before:
            yield StepChange("work", NEW, after[name].title)
        elif _work_text(before[name]) != _work_text(after[name]):
            yield StepChange(
                "work", OTHER, f"{after[name].title}: {_work_text(before[name])} -> {_work_text(after[name])}"
            )


def _work_text(operation: Operation) -> str:
    """Return what is to be said of an operation's time, to the minute."""
    wait = f", then wait {time(operation.wait_min)}" if operation.wait_min else ""
    return f"{time(operation.hand_min)}{wait}"
