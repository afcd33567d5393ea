"""The steps of a run: every operation of its drums, numbered once for all papers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tauthide.running.drums import Batch
from tauthide.work.operations import Operation


@dataclass(frozen=True, slots=True)
class RunStep:
    """One step, with its number on all papers of the run."""

    number: int
    name: str
    title: str


def steps_of(batches: Sequence[Batch]) -> tuple[RunStep, ...]:
    """Return the steps of all drums in bench order, those that only some drums have among them."""
    order: list[Operation] = []
    for batch in batches:
        at = 0
        for operation in batch.plan.operations:
            known = next((index for index, each in enumerate(order) if each.name == operation.name), None)
            if known is None:
                order.insert(at, operation)
                at += 1
            else:
                at = known + 1
    return tuple(RunStep(number, each.name, each.title) for number, each in enumerate(order, 1))


def step_numbers(batches: Sequence[Batch]) -> dict[str, int]:
    """Return the numbers of the run's steps by the names of their operations."""
    return {step.name: step.number for step in steps_of(batches)}


def step_titles(batches: Sequence[Batch]) -> dict[str, str]:
    """Return the titles of the run's steps by the names of their operations."""
    return {step.name: step.title for step in steps_of(batches)}
