"""The plan of a run, and how it is worked out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime

from tauthide.cutting.pieces import Layout, Task
from tauthide.cutting.wanting import Reason, why_missing
from tauthide.findings import Finding
from tauthide.running import faults
from tauthide.running.costs import Cost, costs_of
from tauthide.running.drums import Batch, Drum, drums_of
from tauthide.running.handout import hand_out
from tauthide.running.needs import head_names, lace_name, task_of
from tauthide.running.purchases import Purchases, purchases_of
from tauthide.running.reasons import by_reason, reason_text
from tauthide.running.stock import Taken, take_stock
from tauthide.running.taping import Cut, all_cuts
from tauthide.running.timing import TITLES, timed_run
from tauthide.runs.run import Run
from tauthide.scheduling.jobs import Run as Timed
from tauthide.scheduling.schedule import Limit, Schedule
from tauthide.units import metric_finer_length

THICKNESS_SLACK_MM = 1e-6
"""Less than any gauge shows."""


@dataclass(frozen=True, slots=True)
class Order:
    """What is to be done: the run's drums, what stock gives them, what is to be cut, and the jobs."""

    run: Run
    batches: tuple[Batch, ...]
    drums: tuple[Drum, ...]
    taken: Mapping[str, Taken]
    """What stock gives each drum, by serial."""
    task: Task
    timed: Timed


@dataclass(frozen=True, slots=True)
class RunPlan:
    """A run, worked out."""

    order: Order
    layout: Layout
    rounds: int
    """Rounds of the search that led to the layout."""
    partial: bool
    """Whether the search was broken off before its last round."""
    cuts: Mapping[str, tuple[Cut, ...]]
    """The pieces of each skin in cutting order, by the skin's name."""
    purchases: Purchases
    schedule: Schedule
    limits: tuple[Limit, ...]
    costs: tuple[Cost, ...]
    """In the order of the drums."""
    on_skin: Mapping[str, tuple[tuple[str, Cut], ...]] = field(default_factory=dict)
    """Where each piece comes from: skin and cut, by the piece's or lace's name."""
    why_missing: Mapping[str, Reason] = field(default_factory=dict)
    """Why each piece or lace that is missing found no place, by its name."""

    @property
    def run(self) -> Run:
        """The run as its maker wants it."""
        return self.order.run

    @property
    def drums(self) -> tuple[Drum, ...]:
        """All drums, in order."""
        return self.order.drums

    def is_provided(self, drum: Drum) -> bool:
        """Tell whether the drum's heads and lace come out of what is at hand."""
        has_lace = self.order.taken[drum.serial].lace is not None or lace_name(drum.serial) in self.on_skin
        return has_lace and all(name in self.on_skin for name in head_names(drum))

    @property
    def unapproved(self) -> tuple[Batch, ...]:
        """The specs whose drums must not be cut yet; none where nobody asked for approvals."""
        standings = ((batch, batch.plan.standing) for batch in self.order.batches)
        return tuple(batch for batch, standing in standings if standing is not None and not standing.approved)

    def is_unapproved(self, piece: str) -> bool:
        """Tell whether a piece of that name belongs to a drum that must not be cut yet."""
        owners = (name for batch in self.unapproved for name in (*batch.entry.serials, batch.plan.spec.drum))
        return any(piece == owner or piece.startswith(f"{owner} ") for owner in owners)

    def moment(self, minute: int) -> datetime:
        """Return the date and time of a minute of the schedule."""
        return self.order.timed.hours.moment(minute)


def take_order(run: Run, batches: Sequence[Batch]) -> Order:
    """Return what is to be done for a run whose specs have been compiled."""
    drums = drums_of(batches)
    taken = take_stock(run, drums)
    return Order(run, tuple(batches), drums, taken, task_of(run, batches, drums, taken), timed_run(run, drums, taken))


def operation_titles(order: Order) -> dict[str, str]:
    """Return the titles of operations and places by name."""
    titles = {operation.name: operation.title for batch in order.batches for operation in batch.plan.operations}
    return {**titles, **TITLES}


def work_out(
    order: Order, layout: Layout, rounds: int, schedule: Schedule, limits: tuple[Limit, ...], *, partial: bool = False
) -> RunPlan:
    """Return the plan of a run from where its pieces lie and when its work is done."""
    run = order.run
    layout = hand_out(layout, [held.skin for held in run.skins], order.drums, order.taken, schedule)
    cuts = all_cuts([held.skin for held in run.skins], layout)
    on_skin: dict[str, list[tuple[str, Cut]]] = {}
    for skin, listed in cuts.items():
        for cut in listed:
            on_skin.setdefault(cut.placement.name, []).append((skin, cut))
    setup_min = sum(work.setup_min for work in schedule.works)
    return RunPlan(
        order=order,
        layout=layout,
        rounds=rounds,
        partial=partial,
        cuts=cuts,
        purchases=purchases_of(run, order.batches, order.drums, order.taken, layout),
        schedule=schedule,
        limits=limits,
        costs=costs_of(run, order.drums, order.taken, layout, setup_min),
        on_skin={name: tuple(sorted(places, key=_by_part)) for name, places in on_skin.items()},
        why_missing=why_missing(layout) if run.skins else {},
    )


def findings_of(plan: RunPlan) -> Iterator[Finding]:
    """Yield what a maker should know before the run begins."""
    run = plan.run
    missing = plan.layout.missing
    wanted = len(plan.order.task.pieces) + len(plan.order.task.laces)
    if not run.skins:
        yield faults.NO_SKIN_AT_HAND.at(run.place_of("skins"), path="skins")
    elif missing:
        yield faults.SKIN_SHORT.at(
            run.place_of("skins"), path="skins", found=", ".join(missing),
            missing=str(len(missing)), wanted=str(wanted),
        )  # fmt: skip
        for reason, names in by_reason(plan.why_missing).items():
            why = reason_text(reason, metric_finer_length)
            yield faults.PIECE_LEFT_OVER.at(run.place_of("skins"), path="skins", found=", ".join(names), why=why,
                                            what="this" if len(names) == 1 else "these")  # fmt: skip
    yield from _unmatched(plan)
    done = plan.moment(plan.schedule.finish_min).date()
    if run.finish_by is not None and done > run.finish_by:
        yield faults.FINISHES_LATE.at(
            run.place_of("finish_by"), path="finish_by", found=run.finish_by.isoformat(), done=done.isoformat()
        )


def _unmatched(plan: RunPlan) -> Iterator[Finding]:
    """Yield a finding for each set of drums whose heads differ more in thickness than the run allows."""
    allowed = plan.run.cutting.thickness_match_mm
    if allowed is None:
        return
    for batch in plan.order.batches:
        names = [name for drum in plan.drums if drum.batch is batch for name in head_names(drum)]
        thicknesses = [cut.thickness_mm for name in names for _, cut in plan.on_skin.get(name, ())]
        if thicknesses and max(thicknesses) - min(thicknesses) > allowed + THICKNESS_SLACK_MM:
            yield faults.THICKNESS_UNMATCHED.at(
                plan.run.place_of("cutting.thickness_match"), path="cutting.thickness_match",
                found=metric_finer_length(allowed), drum=batch.plan.spec.drum,
                least=metric_finer_length(min(thicknesses)), most=metric_finer_length(max(thicknesses)),
                apart=metric_finer_length(max(thicknesses) - min(thicknesses), "up"),
            )  # fmt: skip


def _by_part(place: tuple[str, Cut]) -> int:
    return place[1].placement.part
