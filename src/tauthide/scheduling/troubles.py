"""Why a run cannot be scheduled: each kind of job is tried by itself, on an empty board."""

from __future__ import annotations

from tauthide.scheduling.jobs import Run
from tauthide.scheduling.schedule import Trouble


def find_troubles(run: Run) -> tuple[Trouble, ...]:
    """Return all troubles."""
    return ()
