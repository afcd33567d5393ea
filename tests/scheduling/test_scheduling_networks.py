"""Networks: times against an independent computation, and impossible windows with their names."""

from __future__ import annotations

from itertools import product

from hypothesis import given
from hypothesis import strategies as st

from tauthide.scheduling.exact import solve_exactly
from tauthide.scheduling.networks import Activity, Clash, Lag, Timetable, work_out_times


@st.composite
def networks(draw: st.DrawFn) -> tuple[tuple[Activity, ...], tuple[Lag, ...]]:
    """Draw a network whose lags lead forward: it can always be scheduled."""
    times = draw(st.lists(st.integers(0, 9), min_size=1, max_size=6))
    activities = tuple(Activity(f"a{index}", minutes) for index, minutes in enumerate(times))
    pairs = [(i, j) for j in range(len(times)) for i in range(j)]
    chosen = draw(st.lists(st.sampled_from(pairs), unique=True)) if pairs else []
    lags = tuple(Lag(f"a{i}", f"a{j}", draw(st.integers(0, 5)), draw(st.booleans())) for i, j in chosen)
    return activities, lags


def longest_to(name: str, activities: tuple[Activity, ...], lags: tuple[Lag, ...]) -> int:
    """Return the earliest start of an activity, by going back along every path."""
    times = {activity.name: activity.minutes for activity in activities}
    before = [lag for lag in lags if lag.after == name]
    return max(
        (longest_to(lag.before, activities, lags) + lag.minutes + times[lag.before] * lag.from_end for lag in before),
        default=0,
    )


def longest_from(name: str, activities: tuple[Activity, ...], lags: tuple[Lag, ...]) -> int:
    """Return the least time from an activity's start to the end of all, by going on along every path."""
    times = {activity.name: activity.minutes for activity in activities}
    onward = [
        lag.minutes + times[name] * lag.from_end + longest_from(lag.after, activities, lags)
        for lag in lags
        if lag.before == name
    ]
    return max([times[name], *onward])


@given(networks())
def test_times_by_every_path(network: tuple[tuple[Activity, ...], tuple[Lag, ...]]) -> None:
    activities, lags = network
    table = work_out_times(activities, lags)
    assert isinstance(table, Timetable)
    length = max(longest_from(activity.name, activities, lags) for activity in activities)
    assert table.length >= length
    for times in table.times:
        assert times.early_start == longest_to(times.name, activities, lags)
        assert times.late_start == table.length - longest_from(times.name, activities, lags)
        assert times.late_end - times.late_start == times.early_end - times.early_start
        assert times.slack >= 0
    assert table.length == max(times.early_end for times in table.times)


@given(networks())
def test_critical_paths_have_no_slack(network: tuple[tuple[Activity, ...], tuple[Lag, ...]]) -> None:
    table = work_out_times(*network)
    assert isinstance(table, Timetable)
    slack = {times.name: times.slack for times in table.times}
    assert table.paths
    assert len(set(table.paths)) == len(table.paths)
    assert {slack[name] for path in table.paths for name in path} == {0}


@given(networks(), st.data())
def test_longest_time_is_kept_or_named(
    network: tuple[tuple[Activity, ...], tuple[Lag, ...]], data: st.DataObject
) -> None:
    """A longest time between two connected activities clashes exactly when it is less than the least, by that much."""
    activities, lags = network
    before = data.draw(st.sampled_from(activities)).name
    after = data.draw(st.sampled_from(activities)).name
    most = data.draw(st.integers(0, 30))
    apart = least_between(before, after, activities, lags)
    table = work_out_times(activities, (*lags, Lag(before, after, most, from_end=False, most=True)))
    if before == after or apart is None or apart <= most:
        assert isinstance(table, Timetable)
        starts = {times.name: times.early_start for times in table.times}
        assert starts[after] - starts[before] <= most
    else:
        assert isinstance(table, Clash)
        assert (table.since, table.until) == (before, after)
        assert table.short_min == apart - most


def least_between(before: str, after: str, activities: tuple[Activity, ...], lags: tuple[Lag, ...]) -> int | None:
    """Return the least time between two starts by every path; None where no path leads from one to the other."""
    if before == after:
        return 0
    times = {activity.name: activity.minutes for activity in activities}
    found = []
    for lag in lags:
        if lag.after == after:
            earlier = least_between(before, lag.before, activities, lags)
            if earlier is not None:
                found.append(earlier + lag.minutes + times[lag.before] * lag.from_end)
    return max(found, default=None)


def test_window_within_a_chain_is_named() -> None:
    activities = (Activity("lift", 5), Activity("lace", 5), Activity("tighten", 4))
    lags = [Lag("lift", "lace"), Lag("lace", "tighten", 10), Lag("lift", "tighten", 14, from_end=False, most=True)]
    clash = work_out_times(activities, lags)
    assert isinstance(clash, Clash)
    assert (clash.since, clash.until, clash.short_min) == ("lift", "tighten", 6)
    assert clash.cycle == ("lift", "lace", "tighten")


@st.composite
def small_problems(draw: st.DrawFn) -> tuple[tuple[Activity, ...], tuple[Lag, ...], int]:
    """Draw three activities of one resource with a least and a longest time, few enough to try every start."""
    activities = tuple(Activity(name, draw(st.integers(1, 3)), (draw(st.integers(1, 2)),)) for name in "abc")
    least = Lag("a", "b", draw(st.integers(0, 2)), draw(st.booleans()))
    most = Lag(draw(st.sampled_from("ab")), "c", draw(st.integers(0, 4)), from_end=False, most=True)
    return activities, (least, most), draw(st.integers(2, 3))


@given(small_problems())
def test_exact_is_best_of_all_starts(problem: tuple[tuple[Activity, ...], tuple[Lag, ...], int]) -> None:
    activities, lags, units = problem
    horizon = range(12)
    lengths = [
        max(start + activity.minutes for start, activity in zip(starts, activities, strict=True))
        for starts in product(horizon, repeat=3)
        if keeps(starts, activities, lags, units)
    ]
    solved = solve_exactly(activities, lags, (units,))
    if solved is None:
        assert not lengths
    else:
        assert keeps(solved, activities, lags, units)
        assert max(s + a.minutes for s, a in zip(solved, activities, strict=True)) == min(lengths)


def keeps(starts: tuple[int, ...], activities: tuple[Activity, ...], lags: tuple[Lag, ...], units: int) -> bool:
    """Tell whether starts keep all lags and the units, minute by minute."""
    start = {activity.name: minute for activity, minute in zip(activities, starts, strict=True)}
    times = {activity.name: activity.minutes for activity in activities}
    for lag in lags:
        apart = start[lag.after] - start[lag.before] - times[lag.before] * lag.from_end
        if (apart > lag.minutes) if lag.most else (apart < lag.minutes):
            return False
    return all(
        sum(a.needs[0] for a in activities if start[a.name] <= minute < start[a.name] + a.minutes) <= units
        for minute in range(max(starts) + 1)
    )
