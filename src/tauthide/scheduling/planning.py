"""From a run to its schedule, or to the troubles that forbid one; what limits it, and what one more would gain."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace

from tauthide.scheduling.checking import violations
from tauthide.scheduling.compiled import compile_run
from tauthide.scheduling.hours import HOUR_MIN
from tauthide.scheduling.jobs import Run
from tauthide.scheduling.schedule import Limit, LimitKind, Outcome
from tauthide.scheduling.search import Effort, find_recipe
from tauthide.scheduling.staffing import build_schedule
from tauthide.scheduling.troubles import find_troubles

PEOPLE = "people"
MORE_WINDOW_MIN = HOUR_MIN
"""By how much a longest time is lengthened to see whether it limits the run."""

USUAL = Effort()


def plan_run(run: Run, effort: Effort = USUAL, known: tuple[Outcome, ...] = ()) -> Outcome:
    """Return the best schedule found for a run, or all troubles.

    It is never later than a known one that this run allows: hand in that of the same run with less of something.
    """
    troubles = find_troubles(run)
    if troubles:
        return Outcome(None, troubles)
    if run.own_hands:
        effort = replace(effort, widest_wave=max(effort.widest_wave, len(run.jobs)))
    found = find_recipe(compile_run(run), effort, tuple(each.recipe for each in known if each.recipe))
    best = Outcome(build_schedule(run, found.spots), (), found.recipe)
    for each in known:
        earlier = each.schedule and best.schedule and each.schedule.finish_min < best.schedule.finish_min
        if each.schedule and earlier and not violations(run, each.schedule):
            best = each
    return best


def find_limits(
    run: Run, outcome: Outcome, effort: Effort = USUAL, unlimited: Collection[str] = ()
) -> tuple[Limit, ...]:
    """Return what one more of each thing gains, most first; nothing for a run without a schedule.

    One more person, one more unit of each resource, an hour more for each longest time; each run is searched anew.
    Resources named as unlimited are passed over.
    """
    if outcome.schedule is None:
        return ()
    limits = []
    for kind, name, more, larger in _larger_runs(run):
        if kind is LimitKind.RESOURCE and name in unlimited:
            continue
        planned = plan_run(larger, effort, (outcome,)).schedule
        assert planned is not None, "a run with more of something can do what it could before"
        gain = outcome.schedule.finish_min - planned.finish_min
        limits.append(Limit(kind, name, more, planned.finish_min, gain))
    return tuple(sorted(limits, key=lambda limit: -limit.gain_min))


def _larger_runs(run: Run) -> list[tuple[LimitKind, str, int, Run]]:
    """Return the runs with one more of each thing."""
    runs = []
    if not run.own_hands:
        runs.append((LimitKind.PEOPLE, PEOPLE, 1, replace(run, people=run.people + 1)))
    for resource in run.resources:
        resources = tuple(replace(each, units=each.units + (each == resource)) for each in run.resources)
        runs.append((LimitKind.RESOURCE, resource.name, 1, replace(run, resources=resources)))
    for title in dict.fromkeys(longest.title for job in run.jobs for longest in job.longest):
        jobs = tuple(
            replace(job, longest=tuple(
                replace(each, most_min=each.most_min + MORE_WINDOW_MIN * (each.title == title))
                for each in job.longest
            ))
            for job in run.jobs
        )  # fmt: skip
        runs.append((LimitKind.WINDOW, title, MORE_WINDOW_MIN, replace(run, jobs=jobs)))
    return runs
