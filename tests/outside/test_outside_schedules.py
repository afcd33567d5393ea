"""Critical paths and a schedule with longest times, against published examples."""

from __future__ import annotations

from tauthide.scheduling.exact import solve_exactly
from tauthide.scheduling.networks import Activity, Lag, Times, Timetable, work_out_times


def times_of(times: dict[str, int], after: dict[str, str]) -> Timetable:
    """Work out a network whose activities follow others straight from their ends."""
    activities = tuple(Activity(name, minutes) for name, minutes in times.items())
    table = work_out_times(activities, [Lag(before, name) for name in after for before in after[name]])
    assert isinstance(table, Timetable)
    return table


def test_textbook_network() -> None:
    """The usual example of textbooks on project planning, with an activity F that has one unit of slack."""
    table = times_of(
        {"A": 6, "B": 2, "C": 2, "D": 3, "E": 4, "F": 2, "G": 1},
        {"B": "A", "C": "A", "D": "B", "E": "DF", "F": "C", "G": "E"},
    )
    assert table.times == (
        Times("A", 0, 6, 0, 6),
        Times("B", 6, 8, 6, 8),
        Times("C", 6, 8, 7, 9),
        Times("D", 8, 11, 8, 11),
        Times("E", 11, 15, 11, 15),
        Times("F", 8, 10, 9, 11),
        Times("G", 15, 16, 15, 16),
    )
    assert table.length == 16
    assert table.paths == (("A", "B", "D", "E", "G"),)


def test_two_critical_paths() -> None:
    """A textbook network whose two paths are equally long: nothing has slack."""
    table = times_of(
        {"A": 4, "B": 3, "C": 5, "D": 2, "E": 6, "F": 4}, {"B": "A", "C": "A", "D": "B", "E": "CD", "F": "E"}
    )
    assert table.length == 19
    assert [times.slack for times in table.times] == [0] * 6
    assert table.paths == (("A", "B", "D", "E", "F"), ("A", "C", "E", "F"))


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


def test_longest_times_benchmark() -> None:
    activities = tuple(
        Activity(str(index), minutes, tuple(int(digit) for digit in needs))
        for index, (minutes, needs) in enumerate(zip(BENCHMARK_TIMES, BENCHMARK_NEEDS.split(), strict=True))
    )
    lags = [
        Lag(str(before), str(after), minutes, from_end=False)
        for before, arcs in BENCHMARK_LAGS.items()
        for after, minutes in arcs
    ]
    starts = solve_exactly(activities, lags, (5,) * 5)
    assert starts is not None
    assert max(start + minutes for start, minutes in zip(starts, BENCHMARK_TIMES, strict=True)) == 26
    for lag in lags:
        assert starts[int(lag.after)] >= starts[int(lag.before)] + lag.minutes
    for minute in range(26):
        running = [i for i, start in enumerate(starts) if start <= minute < start + BENCHMARK_TIMES[i]]
        assert all(sum(activities[i].needs[resource] for i in running) <= 5 for resource in range(5))
