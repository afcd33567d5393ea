"""Placing jobs one wave after another: each operation as early as hands, places and hours allow.

A wave of jobs is placed operation by operation, so that its jobs share set-ups. Where a longest time is overrun or a
held place is not free throughout, the operation with which it began is pushed later, and the wave is placed again.
"""

from __future__ import annotations

from bisect import bisect_left, insort
from dataclasses import dataclass

from tauthide.scheduling.compiled import Deadlines, Shop, Step, Task, Tie
from tauthide.scheduling.jobs import Edge
from tauthide.scheduling.profiles import Profile
from tauthide.scheduling.recipes import EVERY_JOB, Order, Recipe, Wave

WAVE_TRIES = 40
"""How often a wave is placed again before its jobs are placed one by one."""

RANK_KEY = 10
"""Distance of two operations in the order of work, as shifts count it."""

PATIENT_TRIES = 300
"""How often a single job is placed again before it is placed after all others."""

JOB_TRIES = 1000
"""How often a single job is placed again before it is held to be impossible."""


@dataclass(frozen=True, slots=True)
class Spot:
    """Where an operation lies."""

    start: int
    end: int
    setup: int
    follows: int
    """The job whose same operation it follows, sharing its set-up; -1 if none."""


Spots = dict[tuple[int, int], Spot]
"""By job and step."""

Saved = tuple[list[Profile], dict[int, list[tuple[int, int]]], int]
"""A state of a board: profiles, ends of groups, number of spots."""


class Push(Exception):  # noqa: N818 - a signal, not an error
    """An operation must start later."""

    def __init__(self, job: int, release: int, tie: Tie, by: int) -> None:
        """Say for which tie of a job its first step must start when at the earliest, and how much later that is."""
        super().__init__(job, release)
        self.job, self.step, self.release, self.tie, self.by = job, tie.since, release, tie, by


class ImpossibleJob(Exception):  # noqa: N818 - caught by the search, told to the maker as a trouble
    """A job that could not be placed anywhere."""

    def __init__(self, push: Push) -> None:
        """Say which push came last."""
        super().__init__(push.job)
        self.job, self.tie, self.by = push.job, push.tie, push.by


class Late(Exception):  # noqa: N818 - a signal, not an error
    """An operation that ends so late that the run cannot end in time."""


@dataclass(slots=True)
class Tally:
    """How many operations were placed, again and again: what a search may spend is counted in these."""

    placed: int = 0


class Board:
    """What is placed so far."""

    __slots__ = ("deadlines", "patience", "profiles", "shop", "spots", "tails", "tally")

    def __init__(self, shop: Shop, patience: int, tally: Tally, deadlines: Deadlines | None = None) -> None:
        """Start with an empty board; what is placed on it is counted, and must keep the deadlines if there are any."""
        self.shop = shop
        self.deadlines = deadlines
        self.tally = tally
        self.patience = patience
        self.profiles = [Profile(units) for units in shop.units]
        self.tails: dict[int, list[tuple[int, int]]] = {}
        """For each family the ends of its groups, with the last job of each; in order."""
        self.spots: Spots = {}

    def saved(self) -> Saved:
        """Return a copy of all that changes; of the spots their number, since they are only ever added."""
        tails = {family: ends.copy() for family, ends in self.tails.items()}
        return [profile.copy() for profile in self.profiles], tails, len(self.spots)

    def restore(self, saved: Saved) -> None:
        """Go back to an earlier state, which may be gone back to again."""
        profiles, tails, spots = saved
        self.profiles = [profile.copy() for profile in profiles]
        self.tails = {family: ends.copy() for family, ends in tails.items()}
        while len(self.spots) > spots:
            self.spots.popitem()

    def copy(self) -> Board:
        """Return a copy that changes by itself."""
        other = Board.__new__(Board)
        other.shop, other.patience, other.tally = self.shop, self.patience, self.tally
        other.deadlines = self.deadlines
        other.profiles, other.tails, _ = self.saved()
        other.spots = self.spots.copy()
        return other

    def place(self, job: int, index: int, release: int) -> None:
        """Place one operation after those it waits for.

        Errors: Push if a tie that it closes cannot be kept, Late if it ends after its deadline.
        """
        task = self.shop.tasks[job]
        step, spots = task.steps[index], self.spots
        self.tally.placed += 1
        ready = max(release, task.earliest_min)
        for before in step.after:
            passed = spots[job, before].end + task.steps[before].wait_min
            if passed > ready:
                ready = passed
        spot = self._fit(step, ready)
        if step.family >= 0:
            spot = self._follow(step, ready, spot)
            ends = self.tails.setdefault(step.family, [])
            if spot.follows >= 0:
                ends.remove((spot.start, spot.follows))
            insort(ends, (spot.end, job))
        if self.deadlines is not None and spot.end > self.deadlines[job][index]:
            raise Late
        spots[job, index] = spot
        for resource, units in step.needs:
            self.profiles[resource].add(spot.start, spot.end, units)
        for tie in task.by_step[index]:
            self._tie(job, task, tie, index)

    def _fit(self, step: Step, ready: int) -> Spot:
        """Return the earliest spot with a set-up of its own."""
        calendar, profiles, minutes = self.shop.calendar, self.profiles, step.hand_min + step.setup_min
        start = ready
        while True:
            start = end = calendar.start(start, minutes, step.may_pause)
            end = calendar.end(start, minutes) if step.may_pause else start + minutes
            free = start
            for resource, units in step.needs:
                free = profiles[resource].earliest(free, end - start, units)
            if free == start:
                return Spot(start, end, step.setup_min, -1)
            start = free

    def _follow(self, step: Step, ready: int, spot: Spot) -> Spot:
        """Return a spot straight after the same operation of another job, if that is worth its later end."""
        ends = self.tails.get(step.family)
        if not ends:
            return spot
        latest = spot.end + self.patience * step.setup_min
        for number in range(bisect_left(ends, (ready, -1)), len(ends)):
            start, job = ends[number]
            end = start + step.hand_min
            if end > latest:
                break
            if self.shop.calendar.start(start, step.hand_min) == start and all(
                self.profiles[resource].earliest(start, step.hand_min, units) == start for resource, units in step.needs
            ):
                return Spot(start, end, 0, job)
        return spot

    def edge(self, job: int, index: int, edge: Edge) -> int:
        """Return the minute of a moment of an operation."""
        spot = self.spots[job, index]
        if edge is Edge.START:
            return spot.start
        return spot.end + (self.shop.tasks[job].steps[index].wait_min if edge is Edge.WAITED else 0)

    def _tie(self, job: int, task: Task, tie: Tie, index: int) -> None:
        """Open, or close and check, a tie with one of its ends at a step that was just placed."""
        here, there = (job, tie.since) in self.spots, (job, tie.until) in self.spots
        if not here:
            return
        since = self.edge(job, tie.since, tie.since_edge)
        if not there:
            if tie.resource >= 0:
                clash = self.profiles[tie.resource].clash(since, since + tie.least_min, tie.units)
                if clash is not None:
                    self._push(job, tie, clash - since)
                self.profiles[tie.resource].add(since, since + tie.least_min, tie.units)
            return
        until = self.edge(job, tie.until, tie.until_edge)
        if tie.resource < 0:
            if until - since > tie.most_min:
                self._push(job, tie, until - since - tie.most_min)
            return
        profile = self.profiles[tie.resource]
        if tie.since != tie.until and index == tie.until:
            profile.add(since, since + tie.least_min, -tie.units)
        clash = profile.clash(since, until, tie.units)
        if clash is not None:
            self._push(job, tie, clash - since)
        profile.add(since, until, tie.units)

    def _push(self, job: int, tie: Tie, by: int) -> None:
        raise Push(job, self.spots[job, tie.since].start + by, tie, by)

    def over(self) -> int:
        """Return a minute from which nothing is placed."""
        return max(profile.times[-1] for profile in self.profiles)


def place_next(board: Board, recipe: Recipe, wave: Wave, with_ahead: bool) -> None:
    """Place one more wave. Errors: ImpossibleJob, Late."""
    if with_ahead:
        _place(board, in_order(board.shop, recipe, wave, "ahead"), {})
    _place_wave(board, recipe, wave, ("core",) if recipe.behind_last else ("core", "behind"))


def place_all(shop: Shop, recipe: Recipe, tally: Tally, deadlines: Deadlines | None = None) -> Spots:
    """Place a whole run by a recipe. Errors: ImpossibleJob, Late."""
    board = Board(shop, recipe.patience, tally, deadlines)
    if recipe.keys:
        _place_wave(board, recipe, Wave(tuple(range(len(shop.tasks)))), ("ahead", "core", "behind"))
        return board.spots
    led = 0
    for number, wave in enumerate(recipe.waves):
        while led < len(recipe.waves) and led <= number + recipe.lead:
            _place(board, in_order(shop, recipe, recipe.waves[led], "ahead"), {})
            led += 1
        place_next(board, recipe, wave, False)
    if recipe.behind_last:
        for wave in recipe.waves:
            _place(board, in_order(shop, recipe, wave, "behind"), {})
    return board.spots


def in_order(shop: Shop, recipe: Recipe, wave: Wave, *parts: str) -> list[tuple[int, int]]:
    """Return jobs and steps of a wave in the order of placing: each operation through all jobs of the wave."""
    shifts = {(shift.job, shift.step): shift.by for shift in recipe.shifts}
    keyed = []
    for place, job in enumerate(wave.jobs):
        batch = place // wave.batch if wave.batch else 0
        task = shop.tasks[job]
        keys: dict[int, int] = {}
        for index in sorted(index for part in parts for index in getattr(task, part)):
            if recipe.keys:
                key = recipe.keys[job][index]
            else:
                key = order_key(task, index, recipe.order)
                key += shifts.get((job, index), 0) + shifts.get((EVERY_JOB, index), 0)
            keys[index] = max([key, *(keys[before] for before in task.steps[index].after if before in keys)])
            late = bool(wave.batch) and index in task.late
            keyed.append((late, 0 if late else batch, keys[index], place, index, job))
    return [(job, index) for *_, index, job in sorted(keyed)]


def order_key(task: Task, index: int, order: Order) -> int:
    """Return the place of an operation in an order."""
    if order is Order.WORK:
        return task.steps[index].rank * RANK_KEY
    return -task.tails[index] if order is Order.TAIL else task.heads[index]


def _place(board: Board, order: list[tuple[int, int]], releases: dict[tuple[int, int], int]) -> None:
    for job, index in order:
        board.place(job, index, releases.get((job, index), 0))


def _place_wave(board: Board, recipe: Recipe, wave: Wave, parts: tuple[str, ...]) -> None:
    """Place a wave; as single jobs if it cannot be placed together, but where each operation has its key."""
    order = in_order(board.shop, recipe, wave, *parts)
    releases: dict[tuple[int, int], int] = {}
    if recipe.steady:
        opening = _opening(board.shop, order)
        releases = {(job, index): recipe.keys[job][index] for job, index in order if (job, index) in opening}
    single = len(wave.jobs) == 1 or bool(recipe.keys)
    try:
        last = place_order(board, order, WAVE_TRIES if len(wave.jobs) > 1 else JOB_TRIES, releases)
        if last is None:
            return
        if single:
            raise ImpossibleJob(last)
    except Late:
        if single:
            raise
    for job in wave.jobs:
        _place_wave(board, recipe, Wave((job,)), parts)


def _opening(shop: Shop, order: list[tuple[int, int]]) -> set[tuple[int, int]]:
    """Return the operations with which longest times or holds begin: those that are pushed."""
    return {(job, tie.since) for job in {job for job, _ in order} for tie in shop.tasks[job].ties}


def place_order(
    board: Board, order: list[tuple[int, int]], tries: int, releases: dict[tuple[int, int], int]
) -> Push | None:
    """Place jobs and steps in an order, again and again with what is overrun pushed later.

    Returns None, or the last push if that did not end; the board is then as it was. Errors: Late; the board is then as
    it was, too.
    """
    places = {each: place for place, each in enumerate(order)}
    opening = _opening(board.shop, order)
    before = {0: board.saved()}
    releases = releases.copy()
    last: Push | None = None
    first = 0
    for number in range(tries):
        try:
            for place in range(first, len(order)):
                job, index = each = order[place]
                # What lies before a pushed operation stays as it is; only who was pushed once pays for the copies.
                if last is not None and place > first and each in opening:
                    before[place] = board.saved()
                board.place(job, index, releases.get(each, 0))
        except Push as push:
            last = push
            if (push.job, push.step) not in places:
                break
            at = places[push.job, push.step]
            first = max(place for place in before if place <= at)
            board.restore(before[first])
            # What finds no place among the others finds one after them, where a job is alone.
            releases[push.job, push.step] = max(push.release, board.over() if number == PATIENT_TRIES else 0)
            before = {place: saved for place, saved in before.items() if place <= first}
        except Late:
            board.restore(before[0])
            raise
        else:
            return None
    board.restore(before[0])
    return last
