"""A few jobs placed anew while the others stay: always a sound schedule, and the others where they were."""

from __future__ import annotations

from random import Random

import pytest

from runs import Case, drum_run
from tauthide.scheduling.alone import find_order
from tauthide.scheduling.checking import violations
from tauthide.scheduling.compiled import compile_run
from tauthide.scheduling.placing import Push, Spot, Tally
from tauthide.scheduling.reworking import MOST_OUT, rework
from tauthide.scheduling.search import Effort, find_recipe
from tauthide.scheduling.staffing import build_schedule


@pytest.mark.parametrize("case", [Case(6, people=2), Case(5, tub=2, drying=3, large=2), Case(4, people=1, wet_min=300)])
def test_sound_and_most_stays(case: Case) -> None:
    run = drum_run(case)
    shop = compile_run(run)
    found = find_recipe(shop, Effort(placements=800, few_placements=100))
    finish = found.score[0] + 1440
    made = moved = 0
    random = Random(1)
    for _ in range(40):
        for spots in rework(shop, found.spots, set(), random, Tally(), shop.deadlines(finish)):
            schedule = build_schedule(run, spots)
            assert violations(run, schedule) == ()
            assert schedule.finish_min <= finish
            bodies = {key: (spot.start + spot.setup, spot.end) for key, spot in spots.items()}
            changed = {
                key[0] for key, spot in found.spots.items() if bodies[key] != (spot.start + spot.setup, spot.end)
            }
            assert len(changed) <= MOST_OUT
            made += 1
            moved += bool(changed)
    assert made > 50
    assert moved


def body(spot: Spot) -> tuple[int, int]:
    """Where the hands work, set-up left out."""
    return spot.start + spot.setup, spot.end


def test_each_drum_alone_has_an_order() -> None:
    shop = compile_run(drum_run(Case(3, large=1)))
    for job, task in enumerate(shop.tasks):
        order = find_order(shop, job)
        assert not isinstance(order, Push)
        assert sorted(order) == list(range(len(task.steps)))
