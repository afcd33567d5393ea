"""From a run's file to its plan and papers: specs compiled, pieces laid, work timed."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from tauthide.approving.judging import judge
from tauthide.batch.inputs import show_path, unreadable
from tauthide.cutting import improving
from tauthide.cutting.faults import faults as layout_faults
from tauthide.cutting.pieces import Layout
from tauthide.drawings.bars import draw_bars
from tauthide.drawings.skin import draw_skin
from tauthide.findings import Finding, has_errors, in_order
from tauthide.output.run_json import render_run
from tauthide.papers.papers import render_papers
from tauthide.papers.skins import skin_file
from tauthide.papers.wording import system_of
from tauthide.plan.plan import make_plan
from tauthide.quantities.figures import start_workings
from tauthide.reading.files import FileTrouble
from tauthide.rules.registry import hold_rules
from tauthide.running.drums import Batch
from tauthide.running.faults import CLASS_TUB, find_troubles
from tauthide.running.run_plan import (
    Order,
    RunPlan,
    arrange,
    findings_of,
    operation_titles,
    prepared,
    take_order,
    work_out,
)
from tauthide.running.sharing import skin_places
from tauthide.running.teaching import tub_places
from tauthide.runs.loading import load_run
from tauthide.runs.run import Run
from tauthide.runs.skins import Skin
from tauthide.scheduling.checking import violations
from tauthide.scheduling.jobs import Run as Timed
from tauthide.scheduling.planning import USUAL, find_limits, plan_run
from tauthide.scheduling.schedule import Limit, Outcome, Schedule
from tauthide.scheduling.search import Effort
from tauthide.spec.chain import Library, Source
from tauthide.work.operations import BENCH, DRYING, TUB

Progress = Callable[[int, int], None]

USUAL_ROUNDS = 2000
"""With so many rounds the schedule, too, gets its usual effort; with more or fewer, more or less."""

MOST_ROUNDS = 10_000
"""With more rounds than that only the cutting plan is searched longer."""

FIRST_EFFORT = Effort(placements=20_000, few_placements=20_000)
"""The first schedule only tells in which order drums are begun: by that they get their pieces, and then are planned."""

LIMITS_EFFORT = Effort(placements=20_000, few_placements=50_000)
"""The run is planned anew for each thing of which there might be one more: less is tried than for the run itself."""


def _effort(usual: Effort, rounds: int) -> Effort:
    """Return a share of the usual effort, by the rounds of the search for a cutting plan."""
    rounds = min(rounds, MOST_ROUNDS)
    return replace(
        usual,
        placements=usual.placements * rounds // USUAL_ROUNDS,
        few_placements=usual.few_placements * rounds // USUAL_ROUNDS,
    )


@dataclass(frozen=True, slots=True)
class PlannedRun:
    """What became of a run's file."""

    plan: RunPlan | None
    """None where there are errors."""
    findings: tuple[Finding, ...]
    unreadable: bool = False
    interrupted: bool = False
    """Whether the search was broken off; the plan is then the best so far."""


def plan_source(source: Source, effort: int | None, progress: Progress, *, keep_partial: bool = False) -> PlannedRun:
    """Plan the run in a file that was read, as `plan_loaded` does."""
    library = Library(show_path)
    try:
        run, found = load_run(source, library)
    except FileTrouble as trouble:
        return PlannedRun(None, (unreadable(source.shown, trouble),), unreadable=True)
    if run is None:
        return PlannedRun(None, in_order(found))
    return plan_loaded(run, found, effort, progress, keep_partial=keep_partial)


def plan_loaded(
    run: Run, found: tuple[Finding, ...], effort: int | None, progress: Progress,
    *, keep_partial: bool = False, limits: bool = True,
) -> PlannedRun:  # fmt: skip
    """Plan a run as far as it goes; `effort` replaces its own number of rounds.

    They are those of the search for a cutting plan, and as a share of the usual ones those for a schedule. An interrupt
    during the search goes on up, unless the best so far is to be kept. What limits the run takes much of the time, and
    may be left out.
    """
    batches, more = _compile(run)
    findings = (*found, *more)
    if batches is None:
        return PlannedRun(None, in_order(findings))
    order, troubles = _prepare(take_order(run, batches))
    rounds = run.cutting.rounds if effort is None else effort
    outcome = Outcome(None) if troubles else plan_run(order.timed, _effort(FIRST_EFFORT, rounds))
    if outcome.schedule is None:
        troubles += tuple(find_troubles(run, outcome.troubles, operation_titles(order)))
        return PlannedRun(None, in_order((*findings, *troubles)))
    layout, done, broken = _lay(order, rounds, progress, keep_partial=keep_partial)
    order, layout = arrange(order, layout, outcome.schedule)
    outcome, limiting, cut_short = _schedule(
        order, done if broken else rounds, keep_partial=keep_partial, limits=limits and not broken
    )
    assert outcome.schedule is not None, "each drum alone can do with its skins what it could without"
    _require_sound(order.timed, outcome.schedule)
    broken = broken or cut_short
    plan = work_out(order, layout, done, outcome.schedule, limiting, partial=broken)
    return PlannedRun(plan, in_order((*findings, *findings_of(plan))), interrupted=broken)


def render_papers_of(plan: RunPlan, findings: Sequence[Finding]) -> Mapping[str, bytes]:
    """Return the files of a run by name."""
    skins = {skin_file(held.skin.name): _draw(plan, held.skin) for held in plan.run.skins if plan.cuts[held.skin.name]}
    return {
        **render_papers(plan),
        **skins,
        **draw_bars(plan),
        "run.json": render_run(plan, findings),
    }


def _draw(plan: RunPlan, skin: Skin) -> bytes:
    """Draw a skin, stamped where a piece of it is for a drum that is not approved."""
    cuts = plan.cuts[skin.name]
    stamped = any(plan.is_unapproved(cut.placement.name) for cut in cuts)
    return draw_skin(skin, cuts, system_of(plan), stamped=stamped)


def _compile(run: Run) -> tuple[tuple[Batch, ...] | None, tuple[Finding, ...]]:
    """Compile the specs; None where one has errors."""
    findings: list[Finding] = []
    batches = []
    for entry in run.entries:
        workings = start_workings(entry.spec)
        held = hold_rules(workings)
        findings += held
        if not has_errors(held):
            plan = make_plan(workings)
            standing, found = judge(plan, entry.approval, held)
            findings += found
            batches.append(Batch(entry, replace(plan, standing=standing)))
    return (tuple(batches) if len(batches) == len(run.entries) else None), tuple(findings)


def _prepare(order: Order) -> tuple[Order, tuple[Finding, ...]]:
    """Return the order once it is known when the teachers make a class ready, or why they can't."""
    if order.preparation is None:
        return order, ()
    wanted, there = tub_places(order.drums, order.taken), order.run.room.tub
    if there is not None and there < wanted:
        place = order.run.place_of("places.tub")
        return order, (CLASS_TUB.at(place, path="places.tub", found=str(there), wanted=str(wanted)),)
    outcome = plan_run(order.preparation)
    if outcome.schedule is None:
        return order, tuple(find_troubles(order.run, outcome.troubles, operation_titles(order)))
    _require_sound(order.preparation, outcome.schedule)
    return prepared(order, outcome.schedule), ()


def _require_sound(timed: Timed, schedule: Schedule) -> None:
    """Raise AssertionError, a fault of ours, where a schedule breaks a bound: no paper is written then."""
    broken = violations(timed, schedule)
    if broken:
        raise AssertionError(f"the schedule breaks its own bounds: {broken[0]}")


def _limits(order: Order, outcome: Outcome, rounds: int) -> tuple[Limit, ...]:
    """Return what one more of each thing would gain, but for places that the run does not limit."""
    room = order.run.room
    unlimited = {name for name, most in ((TUB, room.tub), (BENCH, room.bench), (DRYING, room.drying)) if most is None}
    return find_limits(order.timed, outcome, _effort(LIMITS_EFFORT, rounds), unlimited | skin_places(order.timed))


def _schedule(
    order: Order, rounds: int, *, keep_partial: bool, limits: bool
) -> tuple[Outcome, tuple[Limit, ...], bool]:
    """Return the schedule of drums whose skins are known, what limits it, and whether any of that was broken off.

    What is broken off while the schedule is searched for gets a first one; of what limits it nothing is left then.
    """
    try:
        outcome = plan_run(order.timed, _effort(USUAL, rounds))
    except KeyboardInterrupt:
        if not keep_partial:
            raise
        return plan_run(order.timed, Effort(0, 0)), (), True
    try:
        return outcome, _limits(order, outcome, rounds) if limits else (), False
    except KeyboardInterrupt:
        if not keep_partial:
            raise
        return outcome, (), True


def _lay(order: Order, rounds: int, progress: Progress, *, keep_partial: bool) -> tuple[Layout, int, bool]:
    """Lay the pieces; return the layout, the rounds done, and whether the search was broken off."""
    layout, done, broken = Layout(order.task, ()), 0, False
    try:
        for state in improving.improve(order.task, rounds, order.run.cutting.seed):
            layout, done = state.layout, state.rounds
            progress(done, rounds)
    except KeyboardInterrupt:
        if not keep_partial or not layout.placements:
            raise
        broken = True
    amiss = layout_faults(layout)
    if amiss:
        raise AssertionError(f"a piece lies where it must not: {amiss[0]}")
    return layout, done, broken
