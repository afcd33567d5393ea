"""The plan of a run, and how it is worked out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime

from tauthide.approving.judging import APPROVE
from tauthide.cutting.pieces import Layout, Task
from tauthide.cutting.wanting import Reason as Wanting
from tauthide.cutting.wanting import why_missing
from tauthide.findings import Finding
from tauthide.plan.standing import Reason
from tauthide.running import faults
from tauthide.running.costs import Cost, costs_of
from tauthide.running.drums import Batch, Drum, drums_of
from tauthide.running.handout import hand_out
from tauthide.running.jobs import LIFTED, SOAKED
from tauthide.running.needs import head_names, lace_name, task_of
from tauthide.running.numbering import in_order_of_work
from tauthide.running.purchases import Purchases, purchases_of
from tauthide.running.reasons import by_reason, reason_text
from tauthide.running.sharing import with_skins
from tauthide.running.stock import Shared, Taken, take_stock
from tauthide.running.taping import Cut, all_cuts
from tauthide.running.teaching import Teaching, after_preparation, joined, opening_of, preparation_of, teaching_of
from tauthide.running.timing import TITLES, longest_soak_of, timed_run
from tauthide.runs.run import Run
from tauthide.scheduling.hours import HOUR_MIN
from tauthide.scheduling.jobs import Run as Timed
from tauthide.scheduling.schedule import Limit, Schedule
from tauthide.scheduling.slack import Slack, find_slack
from tauthide.units import metric_finer_length

THICKNESS_SLACK_MM = 1e-6
"""Less than any gauge shows."""


@dataclass(frozen=True, slots=True)
class Order:
    """What is to be done: the run's drums, what stock gives them, what is to be cut, and the jobs."""

    run: Run
    batches: tuple[Batch, ...]
    drums: tuple[Drum, ...]
    stock: Shared
    """What stock gives."""
    task: Task
    timed: Timed
    """Of a class that is made ready before it begins what is done from then on."""
    preparation: Timed | None = None
    """What the teachers do before a class begins; None where there is no such thing."""
    before: Schedule | None = None
    """When they do it."""

    @property
    def taken(self) -> Mapping[str, Taken]:
        """What stock gives each drum, by serial."""
        return self.stock.drums


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
    slack: Slack
    """How late the work may be; of a class, that of the class alone."""
    teaching: tuple[Teaching, ...] = ()
    """What the teachers of a class do, by time."""
    on_skin: Mapping[str, tuple[tuple[str, Cut], ...]] = field(default_factory=dict)
    """Where each piece comes from: skin and cut, by the piece's or lace's name."""
    why_missing: Mapping[str, Wanting] = field(default_factory=dict)
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
        has_lace = self.order.taken[drum.serial].has_lace or lace_name(drum.serial) in self.on_skin
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
    stock = take_stock(run, batches, drums)
    return Order(
        run,
        tuple(batches),
        drums,
        stock,
        task_of(run, batches, drums, stock),
        timed_run(run, drums, stock.drums),
        preparation_of(run, drums, stock.drums),
    )


def prepared(order: Order, before: Schedule) -> Order:
    """Return what is to be done once it is known when the teachers make ready."""
    return replace(order, timed=after_preparation(order.timed, before, order.run), before=before)


def arrange(order: Order, layout: Layout, schedule: Schedule) -> tuple[Order, Layout]:
    """Return the layout with its pieces handed out by a first schedule, and the order whose drums share their skins.

    Of a class that is made ready before it begins the schedule is that of the class alone. Pieces that are alike go to
    drums in the order of their work; then it is known who needs which skin, and the run is to be scheduled again.
    """
    whole = schedule if order.before is None else joined(order.before, schedule)
    layout = hand_out(layout, order.run, order.drums, order.taken, whole)
    return replace(order, timed=with_skins(order.timed, order.drums, layout)), layout


def operation_titles(order: Order) -> dict[str, str]:
    """Return the titles of operations and places by name."""
    titles = {operation.name: operation.title for batch in order.batches for operation in batch.plan.operations}
    return {**titles, **TITLES}


def work_out(
    order: Order, layout: Layout, rounds: int, schedule: Schedule, limits: tuple[Limit, ...], *, partial: bool = False
) -> RunPlan:
    """Return the plan of a run from where its pieces lie, handed out to its drums, and when its work is done.

    Of a class that is made ready before it begins the schedule is that of the class alone.
    """
    run = order.run
    slack = find_slack(order.timed, schedule)
    teaching = teaching_of(order.timed, order.before, schedule) if run.lesson is not None else ()
    if order.before is not None:
        schedule = joined(order.before, schedule)
    cuts = in_order_of_work(all_cuts([held.skin for held in run.skins], layout), order.drums, schedule)
    on_skin: dict[str, list[tuple[str, Cut]]] = {}
    for skin, listed in cuts.items():
        for cut in listed:
            on_skin.setdefault(cut.placement.name, []).append((skin, cut))
    setup_min = sum(work.setup_min for work in schedule.works)
    purchases = purchases_of(run, order.batches, order.drums, order.taken, layout)
    return RunPlan(
        order=order,
        layout=layout,
        rounds=rounds,
        partial=partial,
        cuts=cuts,
        purchases=purchases,
        schedule=schedule,
        limits=limits,
        costs=costs_of(run, order.drums, order.taken, layout, setup_min, purchases),
        slack=slack,
        teaching=teaching,
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
    yield from _unapproved(plan)
    yield from _unprepared(plan)
    yield from _soaking_long(plan)
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


def _unapproved(plan: RunPlan) -> Iterator[Finding]:
    """Yield a finding for each spec whose drums must not be cut yet."""
    for batch in plan.unapproved:
        standing = batch.plan.standing
        assert standing is not None  # it would not be among them
        fault = faults.DRUM_UNAPPROVED if standing.reason is Reason.NEVER else faults.APPROVAL_LAPSED
        yield fault.at(
            batch.entry.place, path="drums", found=batch.plan.digest, drum=batch.plan.spec.drum, why=standing.why,
            write=f"{APPROVE} with its spec, once the plan has been reviewed",
        )  # fmt: skip


def _unprepared(plan: RunPlan) -> Iterator[Finding]:
    """Yield a finding where a class begins before all is ready for it."""
    lesson, before = plan.run.lesson, plan.order.before
    if lesson is None or lesson.begins is None or before is None:
        return
    ready = max(before.done_min.values())
    if ready > opening_of(plan.run, plan.order.timed.hours):
        yield faults.CLASS_UNPREPARED.at(
            plan.run.place_of("class.begins"), path="class.begins", found=lesson.begins.isoformat(),
            ready=plan.moment(ready).isoformat(" ", "minutes"),
        )  # fmt: skip


def _soaking_long(plan: RunPlan) -> Iterator[Finding]:
    """Yield a finding where teachers put skins into the water so early that they lie in it for too long."""
    works = plan.schedule.placed()
    over: dict[str, int] = {}
    for drum in plan.drums:
        taken_min = works[drum.serial, LIFTED].start_min - works[drum.serial, SOAKED].end_min
        if taken_min > longest_soak_of(plan.run, drum):
            over[drum.serial] = taken_min
    if over:
        most = min(longest_soak_of(plan.run, drum) for drum in plan.drums if drum.serial in over)
        yield faults.SOAKS_TOO_LONG.at(
            plan.run.place_of("class.begins"), path="class.begins", found=", ".join(over),
            hours=str(-(-max(over.values()) // HOUR_MIN)), most=str(most // HOUR_MIN),
        )  # fmt: skip


def _by_part(place: tuple[str, Cut]) -> int:
    return place[1].placement.part
