"""Runs of drums: always sound, repeatable, refused with names, and never later with more of anything."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from runs import Case, drum_run, every_weekday, hours
from tauthide.scheduling.bounds import finish_bound
from tauthide.scheduling.checking import violations
from tauthide.scheduling.compiled import compile_run
from tauthide.scheduling.hours import DAY_MIN
from tauthide.scheduling.jobs import Edge, Hold, Job, Longest, Need, Operation, Resource, Run, whole_minutes
from tauthide.scheduling.planning import find_limits, plan_run
from tauthide.scheduling.schedule import LimitKind, Schedule, TroubleKind
from tauthide.scheduling.search import Effort

QUICK = Effort(placements=800, few_placements=1_500)


def planned(run: Run, effort: Effort = QUICK) -> Schedule:
    """Return a run's schedule; fails if it is refused or unsound."""
    outcome = plan_run(run, effort)
    assert outcome.troubles == ()
    assert outcome.schedule is not None
    assert violations(run, outcome.schedule) == ()
    return outcome.schedule


@st.composite
def jobs(draw: st.DrawFn, name: str) -> Job:
    """Draw a job of a few operations with any ties, some of which cannot be kept."""
    count = draw(st.integers(1, 6))
    names = [f"op{index}" for index in range(count)]
    operations = []
    for index in range(count):
        after = draw(st.lists(st.sampled_from(names[:index]), unique=True, max_size=2)) if index else []
        operations.append(
            Operation(
                names[index],
                draw(st.integers(0, 90)),
                tuple(after),
                draw(st.sampled_from((0, 0, 30, 700))),
                draw(st.sampled_from((0, 0, 10))),
                draw(st.booleans()),
                draw(st.sampled_from((1, 1, 1, 2))),
                draw(st.sampled_from(((), (), (Need("bench"),)))),
                draw(st.sampled_from((False, False, True))),
            )
        )
    pairs = [(a, b) for b in range(count) for a in range(b)]
    chosen = draw(st.lists(st.sampled_from(pairs), max_size=2)) if pairs else []
    edges = st.sampled_from(tuple(Edge))
    longest = tuple(
        Longest(names[a], names[b], draw(st.integers(60, 900)), draw(edges), draw(edges)) for a, b in chosen[:1]
    )
    holds = tuple(Hold("tub", names[a], names[b], draw(edges), draw(edges)) for a, b in chosen[1:])
    return Job(name, tuple(operations), longest, holds, names[-1], draw(st.sampled_from((0, 0, 2000))))


@st.composite
def runs(draw: st.DrawFn) -> Run:
    """Draw a run of a few jobs, most of them of a few kinds."""
    kinds = draw(st.lists(jobs("kind"), min_size=1, max_size=2))
    count = draw(st.integers(1, 5))
    chosen = tuple(replace(draw(st.sampled_from(kinds)), name=f"job{index}") for index in range(count))
    resources = (Resource("bench", draw(st.integers(1, 2))), Resource("tub", draw(st.integers(1, 3))))
    return Run(chosen, draw(st.integers(2, 3)), hours(), resources)


@given(runs())
@settings(deadline=None, max_examples=60)
def test_sound_or_refused(run: Run) -> None:
    outcome = plan_run(run, QUICK)
    if outcome.schedule is None:
        assert outcome.troubles
        assert all(trouble.short_min > 0 for trouble in outcome.troubles)
    else:
        assert violations(run, outcome.schedule) == ()
        assert finish_bound(compile_run(run)) <= outcome.schedule.finish_min


@given(runs())
@settings(deadline=None, max_examples=10)
def test_repeatable(run: Run) -> None:
    assert plan_run(run, QUICK) == plan_run(run, QUICK)


@given(runs())
@settings(deadline=None, max_examples=10)
def test_more_of_anything_is_never_later(run: Run) -> None:
    outcome = plan_run(run, QUICK)
    limits = find_limits(run, outcome, QUICK)
    if outcome.schedule is not None:
        assert {limit.name for limit in limits} >= {"people", "bench", "tub"}
        larger = replace(run, people=run.people + 1)
        more = plan_run(larger, QUICK, (outcome,)).schedule
        assert more is not None
        assert more.finish_min <= outcome.schedule.finish_min
        assert violations(larger, more) == ()
    for limit in limits:
        assert limit.gain_min >= 0


@pytest.mark.parametrize("case", [Case(1), Case(5, people=1), Case(7, large=3), Case(6, tub=1, drying=2), Case(9, 3)])
def test_drums(case: Case) -> None:
    run = drum_run(case)
    schedule = planned(run)
    assert set(schedule.dry_min) == {job.name for job in run.jobs}
    assert schedule.finish_min == max(schedule.done_min.values())
    assert all(window.taken_min <= window.most_min for window in schedule.windows)
    in_hand = [(each.start_min, each.end_min) for each in schedule.held if each.resource == "drying"]
    assert max(sum(a <= start < b for a, b in in_hand) for start, _ in in_hand) <= case.drying


def test_set_ups_are_shared_within_the_wet_time() -> None:
    schedule = planned(drum_run(Case(4)))
    punching = [row for row in schedule.rows if row.operation == "skin.punch"]
    assert sum(len(row.jobs) for row in punching) == 4
    assert any(len(row.jobs) > 1 for row in schedule.rows)
    for row in schedule.rows:
        first = next(work for work in schedule.works if work.group == row.group)
        assert row.setup_min == first.setup_min


def test_checker_sees_what_is_wrong() -> None:
    run = drum_run(Case(3))
    schedule = planned(run)
    for spoilt in (
        [replace(work, start_min=work.start_min - 1, end_min=work.end_min - 1) for work in schedule.works],
        [replace(work, start_min=work.start_min + 600, end_min=work.end_min + 600) for work in schedule.works],
        [replace(work, people=(1,)) for work in schedule.works],
        [replace(work, setup_min=0) for work in schedule.works],
        list(schedule.works[1:]),
    ):
        assert violations(run, replace(schedule, works=tuple(spoilt)))
    assert violations(drum_run(Case(3, drying=1)), schedule)
    assert violations(drum_run(Case(3, wet_min=170)), schedule)


class TestRefusals:
    """What cannot be done is refused, with the two operations and the time that is short."""

    def test_window_shorter_than_its_work(self) -> None:
        case = Case(2, wet_min=100)
        trouble = plan_run(drum_run(case), QUICK).troubles[0]
        assert trouble.kind is TroubleKind.WINDOW
        assert (trouble.since, trouble.until) == ("skin.flesh", "head.tighten_again")
        assert trouble.jobs == ("D-000", "D-001")
        # Flesh 20 + 10, spine 3, cut 10 + 5, mark and punch 12 + 5 each, collect 3, lace 24, centre 5,
        # draw tight 24, rest 25, again 8.
        assert trouble.short_min == 30 + 3 + 15 + 17 + 17 + 3 + 24 + 5 + 24 + 25 + 8 - case.wet_min

    def test_window_that_does_not_fit_the_hours(self) -> None:
        """Two pieces of work of two hours each do not fit within five hours where the day has but three."""
        operations = (Operation("a", 120), Operation("b", 120, ("a",)))
        job = Job("drum", operations, (Longest("a", "b", 300),))
        run = Run((job,), 1, every_weekday(hours().first_day, ((540, 720),)))
        (trouble,) = plan_run(run, QUICK).troubles
        assert (trouble.kind, trouble.since, trouble.until) == (TroubleKind.WINDOW_HOURS, "a", "b")
        # At best from ten to twelve, and from nine to eleven on the next day: 25 hours.
        assert trouble.short_min == 25 * 60 - 300

    def test_window_for_which_hands_are_few(self) -> None:
        operations = (Operation("a", 60), Operation("b", 60), Operation("c", 60, ("a", "b")))
        job = Job("drum", operations, (Longest("a", "c", 120), Longest("b", "c", 120)))
        assert planned(Run((job,), 2, hours())).finish_min == 9 * 60 + 120
        (trouble,) = plan_run(Run((job,), 1, hours()), QUICK).troubles
        assert trouble.kind is TroubleKind.WINDOW_PLACES
        # One after the other: what is done first waits for both that follow.
        assert (trouble.until, trouble.short_min) == ("c", 60)

    def test_operation_longer_than_any_stretch(self) -> None:
        job = Job("drum", (Operation("carve", 240),))
        (trouble,) = plan_run(Run((job,), 1, hours()), QUICK).troubles
        assert (trouble.kind, trouble.since, trouble.short_min) == (TroubleKind.LONG_OPERATION, "carve", 30)
        pausing = Job("drum", (Operation("carve", 240, may_pause=True),))
        assert planned(Run((pausing,), 1, hours())).finish_min == 13 * 60 + 30 + 30

    def test_too_few(self) -> None:
        job = Job("drum", (Operation("bend", 10, people=2, needs=(Need("form", 3),)),))
        troubles = plan_run(Run((job,), 1, hours(), (Resource("form", 1),)), QUICK).troubles
        assert [(each.kind, each.short_min) for each in troubles] == [
            (TroubleKind.FEW_PEOPLE, 1),
            (TroubleKind.FEW_UNITS, 2),
        ]

    def test_no_hours(self) -> None:
        run = replace(drum_run(Case(1)), hours=every_weekday(hours().first_day, ()))
        assert [trouble.kind for trouble in plan_run(run, QUICK).troubles] == [TroubleKind.NO_HOURS]


def test_waits_run_through_the_weekend() -> None:
    job = Job("drum", (Operation("lace", 60, wait_min=2 * DAY_MIN), Operation("trim", 10, ("lace",))))
    run = Run((replace(job, earliest_min=4 * DAY_MIN),), 1, hours())
    schedule = planned(run)
    lace, trim = schedule.works
    assert run.hours.moment(lace.end_min).strftime("%a %H:%M") == "Fri 10:00"
    assert run.hours.moment(trim.start_min).strftime("%a %H:%M") == "Mon 09:00"


def test_limits_name_what_is_short() -> None:
    """One tub place and a soak of half a day: the tub limits the run, a second place gains a day or more."""
    run = drum_run(Case(4, tub=1))
    limits = find_limits(run, plan_run(run, QUICK), QUICK)
    assert (limits[0].kind, limits[0].name) == (LimitKind.RESOURCE, "tub")
    assert limits[0].gain_min >= DAY_MIN


def test_class_with_one_teacher() -> None:
    """Eight places, each with its own hands; the teacher shows the lacing to one at a time, two knives are shared."""
    operations = (
        Operation("cut", 20, needs=(Need("knife"),)),
        Operation("mark", 30, ("cut",)),
        Operation("first_turn", 10, ("mark",), needs=(Need("teacher"),)),
        Operation("lace", 40, ("first_turn",)),
    )
    jobs = tuple(Job(f"place {number}", operations) for number in range(1, 9))
    run = Run(jobs, 0, hours(), (Resource("teacher", 1), Resource("knife", 2)), own_hands=True)
    schedule = planned(run)
    for number, job in enumerate(jobs, start=1):
        assert {work.people for work in schedule.works if work.job == job.name} == {(number,)}
    # Four rounds of two at the knives; the last of them marks until 10:50, laces until 11:50 with one before it.
    assert schedule.finish_min == 9 * 60 + 4 * 20 + 30 + 2 * 10 + 40


@pytest.mark.parametrize(("minutes", "whole"), [(0.0, 0), (12.0000000001, 12), (12.01, 13), (11.9999999, 12)])
def test_whole_minutes(minutes: float, whole: int) -> None:
    assert whole_minutes(minutes) == whole


@pytest.mark.parametrize(
    "spoil",
    [
        lambda run: replace(run, jobs=(run.jobs[0], run.jobs[0])),
        lambda run: replace(run, resources=()),
        lambda run: replace(run, jobs=(replace(run.jobs[0], longest=(Longest("a", "b", 1),)),)),
        lambda run: replace(run, jobs=(replace(run.jobs[0], dry_after="never"),)),
        lambda run: replace(run, jobs=(replace(run.jobs[0], operations=run.jobs[0].operations[::-1]),)),
    ],
)
def test_names_that_fit_nothing(spoil: object) -> None:
    assert callable(spoil)
    with pytest.raises(ValueError, match=r"two jobs|unknown|no operation|stands twice"):
        spoil(drum_run(Case(1)))
