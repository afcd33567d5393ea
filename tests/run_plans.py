"""Runs that are planned for tests, in a repository that is written for them."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from run_files import RUN, loaded_run
from tauthide.cutting.improving import plan_cutting
from tauthide.plan.plan import make_plan
from tauthide.quantities.figures import start_workings
from tauthide.running.drums import Batch
from tauthide.running.run_plan import Order, RunPlan, arrange, prepared, take_order, work_out
from tauthide.scheduling.planning import plan_run
from tauthide.scheduling.search import Effort

ALL_GOAT = "spec: 1\ndrum: LARGE\nframe: {outline: round, diameter: 13 in, depth: 55 mm}\n"
ALL_GOAT += "head: {hide: goat}\nstations: {count: 16}\n"
"""The larger drum of the repository, but of goat, as the skin is."""

QUICK = Effort(placements=5_000, few_placements=5_000)
"""Less than a run is given: what is tested here does not depend on how good its schedule is."""

PRICES = "prices: {currency: EUR, hour: 30, hide_per_m2: 50, frame: 20, lace_per_m: 2, mark_up: 25 %}\n"


def ordered(folder: Path, changes: Mapping[str, str | bytes] | None = None) -> Order:
    """Return what is to be done for the run of the repository, once some files have other content."""
    run = loaded_run(folder, changes or {})
    batches = [Batch(entry, make_plan(start_workings(entry.spec))) for entry in run.entries]
    return take_order(run, batches)


def planned(folder: Path, changes: Mapping[str, str | bytes] | None = None, rounds: int = 0) -> RunPlan:
    """Return the plan of the run of the repository, once some files have other content."""
    order = ordered(folder, changes)
    if order.preparation is not None:
        before = plan_run(order.preparation, QUICK).schedule
        assert before is not None
        order = prepared(order, before)
    first = plan_run(order.timed, QUICK)
    assert first.schedule is not None, first.troubles
    order, layout = arrange(order, plan_cutting(order.task, rounds, order.run.cutting.seed), first.schedule)
    outcome = plan_run(order.timed, QUICK)
    assert outcome.schedule is not None, outcome.troubles
    return work_out(order, layout, rounds, outcome.schedule, ())


def run_with(more: str) -> dict[str, str | bytes]:
    """Return the change that adds lines to the run's file."""
    return {"runs/run.yaml": RUN + more}
