"""Late times, critical paths and small networks with longest times: against independent computations."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from itertools import product

from hypothesis import given, settings
from hypothesis import strategies as st

from exact_schedules import ALWAYS, Activity, Lag, run_of, solve_exactly
from runs import Case, drum_run
from tauthide.scheduling.checking import violations
from tauthide.scheduling.jobs import Edge, Job, Longest, Operation, Run
from tauthide.scheduling.planning import plan_run
from tauthide.scheduling.schedule import Schedule, TroubleKind
from tauthide.scheduling.search import Effort
from tauthide.scheduling.slack import Slack, find_slack

QUICK = Effort(placements=800, few_placements=1_500)


@st.composite
def networks(draw: st.DrawFn) -> tuple[tuple[Activity, ...], tuple[Lag, ...]]:
    """Draw a network whose lags lead forward, the same after each activity: it can always be scheduled."""
    times = draw(st.lists(st.integers(0, 9), min_size=1, max_size=6))
    activities = tuple(Activity(f"a{index}", minutes) for index, minutes in enumerate(times))
    pairs = [(i, j) for j in range(len(times)) for i in range(j)]
    chosen = draw(st.lists(st.sampled_from(pairs), unique=True)) if pairs else []
    waits = draw(st.lists(st.integers(0, 5), min_size=len(times), max_size=len(times)))
    lags = tuple(Lag(f"a{i}", f"a{j}", waits[i]) for i, j in chosen)
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


def planned(
    activities: tuple[Activity, ...], lags: tuple[Lag, ...], longest: tuple[Longest, ...] = ()
) -> tuple[Schedule | None, Slack | None, Run]:
    """Plan a network as a run of one job with hands enough."""
    waits = {lag.before: lag.minutes for lag in lags}
    operations = tuple(
        Operation(
            each.name,
            each.minutes,
            tuple(lag.before for lag in lags if lag.after == each.name),
            waits.get(each.name, 0),
        )
        for each in activities
    )
    run = Run((Job("job", operations, longest),), len(activities), ALWAYS)
    schedule = plan_run(run, QUICK).schedule
    return schedule, find_slack(run, schedule) if schedule else None, run


@given(networks())
@settings(deadline=None)
def test_times_by_every_path(network: tuple[tuple[Activity, ...], tuple[Lag, ...]]) -> None:
    activities, lags = network
    schedule, slack, _ = planned(activities, lags)
    assert schedule is not None
    assert slack is not None
    length = max(longest_from(activity.name, activities, lags) for activity in activities)
    assert schedule.finish_min == length
    by_person: dict[int, str] = {}
    hands: list[Lag] = []
    """Who does one after another in the schedule goes on doing so."""
    for work in schedule.works:
        for person in work.people:
            if person in by_person:
                hands.append(Lag(by_person[person], work.operation))
            by_person[person] = work.operation
    for work in schedule.works:
        assert work.start_min == longest_to(work.operation, activities, lags)
        late = length - longest_from(work.operation, activities, (*lags, *hands))
        assert slack.late_min["job", work.operation] == slack.latest_min["job", work.operation] == late


@given(networks())
@settings(deadline=None)
def test_critical_paths_have_no_slack(network: tuple[tuple[Activity, ...], tuple[Lag, ...]]) -> None:
    schedule, slack, _ = planned(*network)
    assert schedule is not None
    assert slack is not None
    starts = {work.operation: work.start_min for work in schedule.works}
    assert slack.chains
    assert len(set(slack.chains)) == len(slack.chains)
    assert all(slack.late_min[key] == starts[key[1]] for chain in slack.chains for key in chain)
    assert all(starts[chain[0][1]] == 0 for chain in slack.chains)


@given(networks(), st.data())
@settings(deadline=None)
def test_longest_time_is_kept_or_named(
    network: tuple[tuple[Activity, ...], tuple[Lag, ...]], data: st.DataObject
) -> None:
    """A longest time between two connected activities clashes exactly when it is less than the least, by that much."""
    activities, lags = network
    first = data.draw(st.integers(0, len(activities) - 1))
    second = data.draw(st.integers(first, len(activities) - 1))
    before, after, most = activities[first].name, activities[second].name, data.draw(st.integers(0, 30))
    apart = least_between(before, after, activities, lags)
    tie = Longest(before, after, most, until_edge=Edge.START)
    schedule, _, run = planned(activities, lags, (tie,))
    if apart is None or apart <= most:
        assert schedule is not None
        assert violations(run, schedule) == ()
    else:
        (trouble,) = plan_run(run, QUICK).troubles
        assert trouble.kind is TroubleKind.WINDOW
        assert (trouble.since, trouble.until, trouble.short_min) == (before, after, apart - most)


@given(st.integers(1, 4), st.integers(1, 3), st.integers(1, 4), st.integers(2, 4), st.integers(300, 600))
@settings(deadline=None, max_examples=25)
def test_everything_may_be_as_late_as_told(drums: int, people: int, tub: int, drying: int, wet_min: int) -> None:
    """All at its latest is a sound schedule that ends no later; so is the start as planned, the rest at its latest."""
    run = drum_run(Case(drums, people, tub, drying, wet_min))
    schedule = plan_run(run, QUICK).schedule
    assert schedule is not None
    slack = find_slack(run, schedule)
    for late in (slack.late_min, slack.latest_min):
        shifted = moved(schedule, late, 0)
        assert violations(run, shifted) == ()
        assert max(shifted.done_min.values()) == schedule.finish_min
    for row in schedule.rows[:: max(1, len(schedule.rows) // 8)]:
        shifted = moved(schedule, slack.latest_min, row.start_min)
        assert violations(run, shifted) == ()
        assert max(shifted.done_min.values()) <= schedule.finish_min


@given(st.integers(2, 5), st.integers(1, 2), st.integers(240, 600), st.data())
@settings(deadline=None, max_examples=15)
def test_nothing_may_be_later_than_told(drums: int, people: int, wet_min: int, data: st.DataObject) -> None:
    """A minute beyond its latest start, one part with what must follow on it breaks a bound or ends the run later."""
    run = drum_run(Case(drums, people, wet_min=wet_min))
    schedule = plan_run(run, QUICK).schedule
    assert schedule is not None
    slack = find_slack(run, schedule)
    work = data.draw(st.sampled_from(schedule.works))
    key = work.job, work.operation
    pushed = slack.late_min | {key: slack.late_min[key] + 1}
    shifted = moved(schedule, pushed, 0)
    assert violations(run, shifted) or max(shifted.done_min.values()) > schedule.finish_min


def moved(schedule: Schedule, starts: Mapping[tuple[str, str], int], since_min: int) -> Schedule:
    """Return a schedule with the groups that begin at a minute or later moved to given starts; nothing pauses."""
    begins = {row.group: row.start_min for row in schedule.rows}
    works = []
    for work in schedule.works:
        start = starts[work.job, work.operation] if begins[work.group] >= since_min else work.start_min
        works.append(replace(work, start_min=start, end_min=start + work.end_min - work.start_min))
    works.sort(key=lambda work: (work.start_min, work.group))
    waits = {(wait.job, wait.operation): wait.end_min - wait.start_min for wait in schedule.waits}
    done: dict[str, int] = {}
    for work in works:
        end = work.end_min + waits.get((work.job, work.operation), 0)
        done[work.job] = max(done.get(work.job, 0), end)
    return replace(schedule, works=tuple(works), done_min=done)


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


@st.composite
def small_problems(draw: st.DrawFn) -> tuple[tuple[Activity, ...], tuple[Lag, ...], int]:
    """Draw three activities of one resource with a least and a longest time, few enough to try every start."""
    activities = tuple(Activity(name, draw(st.integers(1, 3)), (draw(st.integers(1, 2)),)) for name in "abc")
    least = Lag("a", "b", draw(st.integers(0, 2)), draw(st.booleans()))
    most = Lag(draw(st.sampled_from("ab")), "c", draw(st.integers(0, 4)), from_end=False, most=True)
    return activities, (least, most), draw(st.integers(2, 3))


@given(small_problems())
@settings(deadline=None)
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


@given(small_problems())
@settings(deadline=None, max_examples=60)
def test_run_is_as_short_as_the_exact_one(problem: tuple[tuple[Activity, ...], tuple[Lag, ...], int]) -> None:
    """A run's scheduler finds the proven optimum of tiny networks, and refuses exactly those that have none."""
    activities, lags, units = problem
    solved = solve_exactly(activities, lags, (units,))
    run = run_of(activities, lags, (units,))
    schedule = plan_run(run, Effort(placements=4_000, few_placements=4_000)).schedule
    if solved is None:
        assert schedule is None
    else:
        assert schedule is not None
        assert violations(run, schedule) == ()
        assert schedule.finish_min == max(s + a.minutes for s, a in zip(solved, activities, strict=True))


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
