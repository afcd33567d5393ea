"""Placing small waves of wet work as tightly as a short search can, what follows on it only after the next waves.

In a warm or crowded shop everything hangs on how many drums get through their longest times in a day. So each wave, two
drums as a rule, is placed up to the end of its longest times, many times over with its operations in a slightly
different order, and stays where it is over earliest; wrapping and hanging up to dry wait until later waves are placed.
What order was good for one wave is tried first for the next. Each start by another seed finds another schedule.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import cycle, product
from random import Random

from tauthide.scheduling.compiled import Shop, Task
from tauthide.scheduling.placing import Board, Spots, Tally, order_key, place_order
from tauthide.scheduling.recipes import Order

SIZE = 2
"""Jobs in a wave: two are what mostly fits into half a day; three take much longer to try and gained no more."""

LAGS = (1, 2)
"""After how many more waves what follows the wet work is placed."""

PATIENCES = (0, 0, 1)
ORDERS = (Order.EARLY, Order.TAIL)

TRIES = 15
"""How often a wave is placed again; what has not ended by then takes more time than another order."""

ROUNDS = 60
"""How many orders are tried for each wave."""

MOST_CHANGES = 3
WIDEST_CHANGE = 60
"""By how much an operation is moved in the order, in minutes or, in the order of work, tenths of a place."""

REST_SHARE = 0.3
"""How often all later operations of a job are moved with one."""

Changes = dict[tuple[int, int], int]
"""How much later in the order an operation is, by the job's place in its wave, and its step."""


@dataclass(frozen=True, slots=True)
class Way:
    """One way to place a run."""

    size: int
    lag: int
    patience: int
    order: Order
    seed: int


def ways(jobs: int) -> Iterator[Way]:
    """Yield ways without end, each with a seed of its own."""
    for seed, (patience, lag, order) in enumerate(cycle(product(PATIENCES, LAGS, ORDERS)), start=1):
        yield Way(min(SIZE, jobs), lag, patience, order, seed)


def place_wet(shop: Shop, way: Way, tally: Tally, finish: int) -> Spots | None:
    """Return where everything lies, None if something finds no place this way or the run cannot end by a finish."""
    random = Random(way.seed)
    board = Board(shop, way.patience, tally)
    count = len(shop.tasks)
    waves = [range(first, min(count, first + way.size)) for first in range(0, count, way.size)]
    changes: Changes = {}
    for number, wave in enumerate(waves):
        found = _best_changes(board, wave, way.order, changes, random)
        if found is None:
            return None
        changes = found
        if not _place(board, _in_order(shop, wave, way.order, changes)) or _ends_after(board, wave, finish):
            return None
        if number >= way.lag and not _place(board, _after(shop, waves[number - way.lag])):
            return None
    for wave in waves[max(0, len(waves) - way.lag) :]:
        if not _place(board, _after(shop, wave)):
            return None
    for wave in waves:
        if not _place(board, [(job, index) for job, index in _all(shop, wave) if index in shop.tasks[job].behind]):
            return None
    return board.spots


def _place(board: Board, order: list[tuple[int, int]]) -> bool:
    return place_order(board, order, TRIES, {}) is None


def _ends_after(board: Board, wave: range, finish: int) -> bool:
    """Tell whether a wave as it lies must end after a finish."""
    tasks = board.shop.tasks
    return any(board.spots[job, index].start + tasks[job].tails[index] - tasks[job].steps[index].setup_min > finish
               for job in wave for index in _wet(tasks[job]))  # fmt: skip


def _wet(task: Task) -> list[int]:
    """Return the steps up to the end of the longest times, and those that may come long before."""
    return [index for index in range(len(task.steps)) if index not in task.late and index not in task.behind]


def _all(shop: Shop, wave: Iterable[int]) -> list[tuple[int, int]]:
    """Return all of a wave, what most must follow on first."""
    keyed = []
    for place, job in enumerate(wave):
        task = shop.tasks[job]
        for index in range(len(task.steps)):
            keyed.append((-task.tails[index], place, index, job))
    return [(job, index) for _, _, index, job in sorted(keyed)]


def _after(shop: Shop, wave: Iterable[int]) -> list[tuple[int, int]]:
    """Return what is neither wet work nor after all ties."""
    wet = {job: {*_wet(shop.tasks[job]), *shop.tasks[job].behind} for job in wave}
    return [(job, index) for job, index in _all(shop, wave) if index not in wet[job]]


def _in_order(shop: Shop, wave: Iterable[int], order: Order, changes: Changes) -> list[tuple[int, int]]:
    """Return the wet work of a wave in the order of placing; nothing comes before what it waits for."""
    keyed = []
    for place, job in enumerate(wave):
        task = shop.tasks[job]
        keys: dict[int, int] = {}
        for index in _wet(task):
            key = order_key(task, index, order) + changes.get((place, index), 0)
            keys[index] = max([key, *(keys[before] for before in task.steps[index].after if before in keys)])
            keyed.append((keys[index], place, index, job))
    return [(job, index) for _, _, index, job in sorted(keyed)]


def _best_changes(board: Board, wave: range, order: Order, known: Changes, random: Random) -> Changes | None:
    """Return the changes with which a wave is over earliest, None if it was never placed; the board stays as it is."""
    best: tuple[tuple[int, int], Changes] | None = None
    base = board.saved()
    for number in range(ROUNDS):
        changes: Changes = {}
        if number == 1:
            changes = known
        elif number > 1:
            changes = _changed(board.shop, wave, best[1] if best else {}, random)
        if not _place(board, _in_order(board.shop, wave, order, changes)):
            continue
        ends = [max(board.spots[job, index].end for index in _wet(board.shop.tasks[job])) for job in wave]
        board.restore(base)
        if best is None or (max(ends), sum(ends)) <= best[0]:
            best = (max(ends), sum(ends)), changes
    return best[1] if best else None


def _changed(shop: Shop, wave: range, changes: Changes, random: Random) -> Changes:
    """Return changes with a few more."""
    changed = changes.copy()
    for _ in range(1 + int(random.random() * MOST_CHANGES)):
        place = int(random.random() * len(wave))
        steps = len(shop.tasks[wave[place]].steps)
        step = int(random.random() * steps)
        by = (1 + int(random.random() * WIDEST_CHANGE)) * (1 if random.random() < 0.5 else -1)
        for index in range(step, steps) if random.random() < REST_SHARE else (step,):
            changed[place, index] = changed.get((place, index), 0) + by
    return changed
