"""The drums of a run: each a serial and its plan."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tauthide.plan.plan import Plan
from tauthide.runs.run import Entry, Run


@dataclass(frozen=True, slots=True)
class Batch:
    """The drums that come out of one spec."""

    entry: Entry
    plan: Plan


@dataclass(frozen=True, slots=True)
class Drum:
    """One drum of the run."""

    serial: str
    batch: Batch

    @property
    def plan(self) -> Plan:
        """Its plan, shared by all drums of its spec."""
        return self.batch.plan


def spare_heads(run: Run, batch: Batch) -> tuple[str, ...]:
    """Return the names of the spare heads of a spec."""
    return tuple(f"{batch.plan.spec.drum} spare head {number}" for number in range(1, run.spares.heads + 1))


def spare_laces(run: Run, batch: Batch) -> tuple[str, ...]:
    """Return the names of the spare laces of a spec."""
    return tuple(f"{batch.plan.spec.drum} spare lace {number}" for number in range(1, run.spares.laces + 1))


def drums_of(batches: Sequence[Batch]) -> tuple[Drum, ...]:
    """Return all drums, in the order of the run and of their serials."""
    return tuple(Drum(serial, batch) for batch in batches for serial in batch.entry.serials)
