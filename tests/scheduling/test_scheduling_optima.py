"""Our schedules against what a constraint solver found; how those were got is told in optima.json and its script."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from runs import COMPARED, Case, drum_run
from tauthide.scheduling.bounds import finish_bound
from tauthide.scheduling.checking import violations
from tauthide.scheduling.compiled import compile_run
from tauthide.scheduling.planning import plan_run

RECORDS: dict[str, Any] = json.loads(Path(__file__).with_name("optima.json").read_text(encoding="utf-8"))["cases"]
WITHIN = 1.02


def test_records_fit_the_cases() -> None:
    assert {name: Case(**record["case"]) for name, record in RECORDS.items()} == COMPARED


@pytest.mark.slow
@pytest.mark.parametrize("name", COMPARED)
def test_within_two_percent(name: str) -> None:
    """No more than 2 % above the solver's finish, proven or not, and never below what it proved impossible."""
    run, record = drum_run(COMPARED[name]), RECORDS[name]
    schedule = plan_run(run).schedule
    assert schedule is not None
    assert violations(run, schedule) == ()
    assert schedule.finish_min >= record["bound_min"] >= 0
    assert schedule.finish_min >= finish_bound(compile_run(run))
    if record["finish_min"] is not None:
        assert schedule.finish_min <= record["finish_min"] * WITHIN
        assert finish_bound(compile_run(run)) <= record["finish_min"]
