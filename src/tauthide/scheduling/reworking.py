"""Making a schedule better piece by piece: a few of its jobs are taken out and placed anew, the rest stays.

Much cheaper than placing the whole run again, and it can use every minute that the others leave.
"""

from __future__ import annotations

from collections.abc import Iterator, Set
from random import Random

from tauthide.scheduling.compiled import Deadlines, Shop
from tauthide.scheduling.jobs import Edge
from tauthide.scheduling.placing import Board, Late, Spot, Spots, Tally, order_key, place_order
from tauthide.scheduling.recipes import Order

MOST_OUT = 3
"""Most jobs that are taken out at a time."""

ROUNDS = 12
"""How often the jobs that were taken out are placed anew before others are."""

TRIES = 15
"""How often they are placed again with what is overrun pushed later."""

LATE_FIRST = 0.5
"""How often the first of them is one that is late."""

CLOSE = 0.7
"""How often the jobs taken out are neighbours in time, rather than any."""

MOST_CHANGES = 4
WIDEST_CHANGE = 120
"""By how much an operation is moved in the order of placing, in minutes."""

REST_SHARE = 0.3
"""How often all later operations of a job are moved with one."""

ORDERS = (Order.EARLY, Order.TAIL)
AS_IT_LAY = 0.6
"""How often the order of placing is that in which everything lay before, but for the changes."""

PATIENCES = 3
"""Patience is drawn from 0 up to but not with this."""

REPLAY_COST = 4
"""So many operations that stay cost as much as one that is placed."""


def rework(
    shop: Shop, spots: Spots, late: Set[int], random: Random, tally: Tally, deadlines: Deadlines
) -> Iterator[Spots]:
    """Yield schedules that keep the deadlines, each with the same few jobs placed anew; the late ones more often."""
    jobs = _choose(shop, spots, late, random)
    board = _without(shop, spots, set(jobs), int(random.random() * PATIENCES), tally, deadlines)
    if board is None:
        return
    base = board.saved()
    for _ in range(ROUNDS):
        try:
            failed = place_order(board, _in_order(shop, spots, jobs, random), TRIES, {}) is not None
        except Late:
            continue
        if not failed:
            yield board.spots.copy()
            board.restore(base)


def _choose(shop: Shop, spots: Spots, late: Set[int], random: Random) -> tuple[int, ...]:
    """Return the jobs to be taken out: one, often a late one, and its neighbours in time or any others."""
    count = len(shop.tasks)
    ends = {job: max((spots[job, index].end for index in shop.tasks[job].lasting), default=0) for job in range(count)}
    pool = sorted(late) if late and random.random() < LATE_FIRST else list(range(count))
    first = pool[int(random.random() * len(pool))]
    size = min(count, 1 + int(random.random() * MOST_OUT))
    if random.random() < CLOSE:
        others = sorted(set(range(count)) - {first}, key=lambda job: (abs(ends[job] - ends[first]), job))
    else:
        others = sorted(set(range(count)) - {first}, key=lambda _: random.random())
    return tuple(sorted((first, *others[: size - 1]), key=lambda job: (ends[job], job)))


def _in_order(shop: Shop, spots: Spots, jobs: tuple[int, ...], random: Random) -> list[tuple[int, int]]:
    """Return the operations of some jobs in an order of placing; none comes before what it waits for."""
    as_it_lay = random.random() < AS_IT_LAY
    order = ORDERS[int(random.random() * len(ORDERS))]
    keys: dict[tuple[int, int], int] = {}
    for job in jobs:
        task = shop.tasks[job]
        for index in range(len(task.steps)):
            keys[job, index] = spots[job, index].start if as_it_lay else order_key(task, index, order)
    for _ in range(int(random.random() * (1 + MOST_CHANGES))):
        job = jobs[int(random.random() * len(jobs))]
        steps = len(shop.tasks[job].steps)
        chosen = int(random.random() * steps)
        by = int((random.random() * 2 - 1) * WIDEST_CHANGE)
        for index in range(chosen, steps) if random.random() < REST_SHARE else (chosen,):
            keys[job, index] += by
    keyed = []
    for place, job in enumerate(jobs):
        late: dict[int, int] = {}
        for index, step in enumerate(shop.tasks[job].steps):
            behind = index in shop.tasks[job].behind
            late[index] = max([keys[job, index], *(late[before] for before in step.after)])
            keyed.append((behind, late[index], place, index, job))
    return [(job, index) for *_, index, job in sorted(keyed)]


def _without(
    shop: Shop, spots: Spots, gone: set[int], patience: int, tally: Tally, deadlines: Deadlines
) -> Board | None:
    """Return a board with all but some jobs; None where something that stays cannot have a set-up of its own."""
    board = Board(shop, patience, tally, deadlines)
    orphans = []
    followed = set()
    for (job, index), spot in spots.items():
        if job in gone:
            continue
        step = shop.tasks[job].steps[index]
        for resource, units in step.needs:
            board.profiles[resource].add(spot.start, spot.end, units)
        if spot.follows in gone:
            orphans.append((job, index))
        elif spot.follows >= 0:
            followed.add((spot.follows, step.family))
        board.spots[job, index] = spot
    for job, task in enumerate(shop.tasks):
        if job not in gone:
            for tie in task.ties:
                if tie.resource >= 0:
                    since = board.edge(job, tie.since, tie.since_edge)
                    until = board.edge(job, tie.until, tie.until_edge)
                    board.profiles[tie.resource].add(since, until, tie.units)
    if not all(_set_up(board, job, index) for job, index in orphans):
        return None
    for (job, index), spot in board.spots.items():
        family = shop.tasks[job].steps[index].family
        if family >= 0 and (job, family) not in followed:
            board.tails.setdefault(family, []).append((spot.end, job))
    for ends in board.tails.values():
        ends.sort()
    tally.placed += len(board.spots) // REPLAY_COST
    return board


def _set_up(board: Board, job: int, index: int) -> bool:
    """Give an operation a set-up of its own before it; whether there is time for that."""
    task, spot = board.shop.tasks[job], board.spots[job, index]
    step = task.steps[index]
    start = spot.start - step.setup_min
    ready = max([task.earliest_min, *(board.spots[job, i].end + task.steps[i].wait_min for i in step.after)])
    if start < ready or board.shop.calendar.start(start, spot.end - start) != start:
        return False
    ties = [tie for tie in task.by_step[index] if tie.since == index and tie.since_edge is Edge.START]
    for tie in ties:
        until = board.edge(job, tie.until, tie.until_edge)
        if tie.resource < 0 and until - start > tie.most_min:
            return False
    taken = [*step.needs, *((tie.resource, tie.units) for tie in ties if tie.resource >= 0)]
    if any(board.profiles[resource].clash(start, spot.start, units) is not None for resource, units in taken):
        return False
    for resource, units in taken:
        board.profiles[resource].add(start, spot.start, units)
    board.spots[job, index] = Spot(start, spot.end, step.setup_min, -1)
    return True
