"""From a run to its schedule, or to the troubles that forbid one."""

from __future__ import annotations

from tauthide.scheduling.compiled import compile_run
from tauthide.scheduling.jobs import Run
from tauthide.scheduling.recipes import Recipe
from tauthide.scheduling.schedule import Outcome
from tauthide.scheduling.search import Effort, find_recipe
from tauthide.scheduling.staffing import build_schedule
from tauthide.scheduling.troubles import find_troubles


def plan_run(run: Run, effort: Effort = Effort(), known: tuple[Recipe, ...] = ()) -> Outcome:  # noqa: B008 - frozen
    """Return the best schedule found for a run, or all troubles; with known recipes it is never worse than theirs."""
    troubles = find_troubles(run)
    if troubles:
        return Outcome(None, troubles)
    found = find_recipe(compile_run(run), effort, known)
    return Outcome(build_schedule(run, found.spots), (), found.recipe)
