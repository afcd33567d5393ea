"""One side of a comparison: what a spec or a run came to, before or after the change."""

from __future__ import annotations

from dataclasses import dataclass

from tauthide.figures import Workings
from tauthide.findings import Finding
from tauthide.plan.plan import Plan
from tauthide.running.run_plan import RunPlan
from tauthide.runs.run import Run
from tauthide.spec.settings import Spec


@dataclass(frozen=True, slots=True)
class Seen:
    """A spec on one side, as far as it could be compiled."""

    file: str
    """Its name as the maker is shown it."""
    key: str
    """Its name as seen from what is compared, to find its like on the other side."""
    drum: str
    """Empty where that can't be told."""
    source: bytes
    spec: Spec | None
    """None where the files that feed it have errors."""
    plan: Plan | None
    """None where there are errors."""
    workings: Workings | None
    """What the plan was worked out by."""
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class SeenRun:
    """A run on one side."""

    file: str
    """Its name as the maker is shown it."""
    key: str
    """Its name as seen from what is compared, to find its like on the other side."""
    name: str
    """Empty where that can't be told."""
    source: bytes
    run: Run | None
    """None where its files have errors."""
    findings: tuple[Finding, ...]
    plan: RunPlan | None = None
    """None where there are errors, and where it has not been planned yet."""
    broken: bool = False
    """Whether there are errors."""
