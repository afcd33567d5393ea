"""Critical paths and a schedule with longest times, against published examples; all by way of a run's scheduler."""

from __future__ import annotations

import pytest

from exact_schedules import ALWAYS, Activity, Lag, run_of, solve_exactly
from tauthide.scheduling.checking import violations
from tauthide.scheduling.jobs import Job, Operation, Run
from tauthide.scheduling.planning import plan_run
from tauthide.scheduling.slack import find_slack

Times = tuple[int, int, int, int]
"""Early start and end, late start and end."""


def times_of(times: dict[str, int], after: dict[str, str]) -> tuple[dict[str, Times], list[str], int]:
    """Plan a run of one job with hands enough, whose operations follow others; times, critical paths and length."""
    operations = tuple(Operation(name, minutes, tuple(after.get(name, ""))) for name, minutes in times.items())
    run = Run((Job("job", operations),), len(times), ALWAYS)
    schedule = plan_run(run).schedule
    assert schedule is not None
    assert violations(run, schedule) == ()
    slack = find_slack(run, schedule)
    table = {}
    for work in schedule.works:
        late = slack.late_min["job", work.operation]
        table[work.operation] = (work.start_min, work.end_min, late, late + times[work.operation])
    return table, ["".join(name for _, name in chain) for chain in slack.chains], schedule.finish_min


def test_textbook_network() -> None:
    """The usual example of textbooks on project planning, with an activity F that has one unit of slack."""
    table, paths, length = times_of(
        {"A": 6, "B": 2, "C": 2, "F": 2, "D": 3, "E": 4, "G": 1},
        {"B": "A", "C": "A", "D": "B", "E": "DF", "F": "C", "G": "E"},
    )
    assert table == {
        "A": (0, 6, 0, 6),
        "B": (6, 8, 6, 8),
        "C": (6, 8, 7, 9),
        "D": (8, 11, 8, 11),
        "E": (11, 15, 11, 15),
        "F": (8, 10, 9, 11),
        "G": (15, 16, 15, 16),
    }
    assert length == 16
    assert paths == ["ABDEG"]


def test_two_critical_paths() -> None:
    """A textbook network whose two paths are equally long: nothing has slack."""
    table, paths, length = times_of(
        {"A": 4, "B": 3, "C": 5, "D": 2, "E": 6, "F": 4}, {"B": "A", "C": "A", "D": "B", "E": "CD", "F": "E"}
    )
    assert length == 19
    assert all(early == late for early, _, late, _ in table.values())
    assert sorted(paths) == ["ABDEF", "ACEF"]


BENCHMARK_TIMES = (0, 3, 10, 3, 3, 3, 5, 10, 2, 6, 1, 0)
BENCHMARK_NEEDS = (
    "00000 41000 10300 40223 00030 01240 23400 04404 20044 50011 01000 00000"
)  # fmt: skip
BENCHMARK_LAGS = {
    0: ((1, 0), (2, 0), (3, 0), (4, 0)),
    1: ((9, 9), (7, 1), (8, 8), (10, 2)),
    2: ((8, 24),),
    3: ((10, 4), (7, 8)),
    4: ((10, 0), (9, 0), (5, 7)),
    5: ((6, 0),),
    6: ((11, 5),),
    7: ((11, 10),),
    8: ((1, -22), (2, -34), (11, 2)),
    9: ((11, 6),),
    10: ((11, 1),),
}
"""Instance PSP1 of the public benchmark set sm_j10 for schedules with least and longest times (PSPLIB); from start to
start, a negative one back from a later activity is a longest time. Five resources of five units. Optimum 26."""


IN_ORDER = (0, 2, 1, 3, 4, 5, 6, 7, 8, 9, 10, 11)
"""Every activity after those with a least time before it."""


def benchmark(unit_min: int) -> tuple[tuple[Activity, ...], list[Lag]]:
    """Return the instance with a unit of time of so many minutes."""
    activities = tuple(
        Activity(str(index), BENCHMARK_TIMES[index] * unit_min, tuple(map(int, BENCHMARK_NEEDS.split()[index])))
        for index in IN_ORDER
    )
    lags = [
        Lag(str(before), str(after), minutes * unit_min, from_end=False)
        for before, arcs in BENCHMARK_LAGS.items()
        for after, minutes in arcs
    ]
    return activities, lags


@pytest.mark.parametrize("unit_min", [1, 20])
def test_longest_times_benchmark(unit_min: int) -> None:
    """The run's scheduler reaches the published optimum, and keeps every lag and every resource."""
    activities, lags = benchmark(unit_min)
    run = run_of(activities, lags, (5,) * 5)
    schedule = plan_run(run).schedule
    assert schedule is not None
    assert violations(run, schedule) == ()
    assert schedule.finish_min == 26 * unit_min
    starts = {work.operation: work.start_min for work in schedule.works}
    for lag in lags:
        assert starts[lag.after] >= starts[lag.before] + lag.minutes
    for minute in range(26 * unit_min):
        running = [each for each in activities if starts[each.name] <= minute < starts[each.name] + each.minutes]
        assert all(sum(each.needs[resource] for each in running) <= 5 for resource in range(5))


def test_reference_solver_proves_the_benchmark() -> None:
    """The tests' own solver, to which other runs are compared, finds the published optimum too."""
    activities, lags = benchmark(1)
    starts = solve_exactly(activities, lags, (5,) * 5)
    assert starts is not None
    assert max(start + each.minutes for start, each in zip(starts, activities, strict=True)) == 26
