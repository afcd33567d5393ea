"""The search for a good recipe: in which waves, how far ahead, how patient. Rounds are counted, there is no clock.

First equal waves of every size are swept; then waves are chosen one after another, keeping the best board for each
number of jobs placed. The wet work of few jobs is then packed (`wetwork`), the best waves are changed at random, and a
few jobs at a time are taken out and placed anew (`reworking`); of many jobs, only the waves are changed.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from itertools import count
from random import Random

from tauthide.scheduling.alone import find_order
from tauthide.scheduling.bounds import finish_bound
from tauthide.scheduling.compiled import Shop
from tauthide.scheduling.placing import Board, ImpossibleJob, Late, Push, Spots, Tally, place_all, place_next
from tauthide.scheduling.recipes import EVERY_JOB, Order, Recipe, Shift, Wave
from tauthide.scheduling.reworking import rework
from tauthide.scheduling.wetwork import place_wet, ways

Score = tuple[int, int, int]
"""Finish of the run, by how much it misses ending a working day earlier, and sum of the ends of what is tied.

Less is better. The second leads on where the first stands still: drums that are dry a little earlier are one day
trimmed a day earlier.
"""


WIDEST_SHIFT = 60
"""How far an operation may be shifted within its wave: six places of the order of work, or an hour of what follows."""

LIKELY_ORDERS = (Order.EARLY, Order.TAIL, Order.WORK)
BATCHES = (0, 2, 1, 3)
"""Jobs at a time within a wave, the likely choices first."""

FEW_JOBS = 24
"""For more jobs than these only the likely choices are tried."""

CLIMBS = 3
"""How often the best schedule in waves is changed step by step, by different seeds."""

WET_SHARE, CLIMB_SHARE, REWORK_SHARE = 0.42, 0.5, 0.08
"""Shares of what is placed more for few jobs: packing the wet work, changing waves, placing a few jobs anew."""

LATE = 12
"""How many changes back what is accepted is compared with."""

MOST_IDLE = 200
"""After so many changes without a recipe that was not tried before, there are no more."""


@dataclass(frozen=True, slots=True)
class Effort:
    """How much is tried."""

    placements: int = 100_000
    """About how many operations are placed by sweeps, which may take more, and in what is left by changes."""
    few_placements: int = 720_000
    """About how many more are placed where there are few jobs."""
    widest_wave: int = 6
    """Most jobs in a wave."""
    seed: int = 1


@dataclass(frozen=True, slots=True)
class Found:
    """A recipe and what came of it."""

    score: Score
    recipe: Recipe
    spots: Spots


def score(shop: Shop, spots: Spots) -> Score:
    """Return the score of a whole run."""
    finish = total = late = 0
    for job, task in enumerate(shop.tasks):
        for index, step in enumerate(task.steps):
            finish = max(finish, spots[job, index].end + step.wait_min)
    due = shop.due(finish)
    for job, task in enumerate(shop.tasks):
        tied = over = 0
        for index in task.lasting:
            end = spots[job, index].end
            tied = max(tied, end + task.steps[index].wait_min)
            over = max(over, end - due[job][index])
        total += tied
        late += over
    return finish, late, total


@dataclass(slots=True)
class Search:
    """The best so far, and what may still be spent."""

    shop: Shop
    effort: Effort
    bound: int
    """A finish that none can beat."""
    best: Found | None = None
    waved: Found | None = None
    """The best of those placed in waves."""
    tally: Tally = field(default_factory=Tally)
    impossible: ImpossibleJob | None = None
    """Why the last recipe came to nothing that did."""

    @property
    def left(self) -> int:
        """How many operations may still be placed."""
        return self.effort.placements - self.tally.placed

    def share(self, share: float) -> int:
        """Return how many operations a share of what is spent on few jobs is."""
        return int(self.effort.few_placements * share)

    @property
    def is_over(self) -> bool:
        """Whether nothing better is wanted: no earlier finish can be, and in a class no earlier end of the day."""
        return self.best is not None and self.best.score[0] <= self.bound and not self.shop.own_hands

    def try_recipe(self, recipe: Recipe, finish: int | None = None) -> Found | None:
        """Place a run, keep it if it is no worse, and return it.

        None where a job finds no place by this recipe, or the run cannot be over by a finish, if one is given.
        """
        try:
            spots = place_all(self.shop, recipe, self.tally, None if finish is None else self.shop.deadlines(finish))
        except ImpossibleJob as impossible:
            self.impossible = impossible
            return None
        except Late:
            return None
        found = Found(score(self.shop, spots), recipe, spots)
        self.keep(found)
        return found

    def keep(self, found: Found) -> None:
        """Keep what was found if it is no worse."""
        if self.best is None or found.score <= self.best.score:
            self.best = found
        if not found.recipe.keys and (self.waved is None or found.score <= self.waved.score):
            self.waved = found


def find_recipe(shop: Shop, effort: Effort, known: tuple[Recipe, ...] = ()) -> Found:
    """Return the best recipe found; it is never worse than those known. Errors: ImpossibleJob."""
    search = Search(shop, effort, finish_bound(shop))
    for recipe in known:
        search.try_recipe(recipe)
    for recipe in _first_recipes(shop, effort):
        search.try_recipe(recipe)
        if search.left < 0:
            break
    for behind_last in (True, False):
        for order in LIKELY_ORDERS:
            if search.left > 0 and not search.is_over:
                _grow_waves(search, Recipe((), 0, behind_last, 1, order))
    if search.best is None:
        search.try_recipe(_one_by_one(shop))
    _require_any(search)
    if len(shop.tasks) <= FEW_JOBS:
        _place_wet(search)
        _climb_often(search)
        _rework(search)
    elif search.waved is not None:
        _climb(search, search.waved, effort.seed, search.left)
    assert search.best is not None
    return search.best


def _require_any(search: Search) -> None:
    """Raise ImpossibleJob where no recipe has placed the run so far."""
    if search.best is None:
        assert search.impossible is not None
        raise search.impossible


def _one_by_one(shop: Shop) -> Recipe:
    """Return one job after another, each with all of its work, as when it was found that each can be placed alone."""
    keys: list[tuple[int, ...]] = []
    most = max(len(task.steps) for task in shop.tasks)
    for job in range(len(shop.tasks)):
        order = find_order(shop, job)
        steps = range(len(shop.tasks[job].steps))
        keys.append(tuple(job * most + (index if isinstance(order, Push) else order.index(index)) for index in steps))
    return Recipe((), 0, False, 0, keys=tuple(keys))


def _place_wet(search: Search) -> None:
    """Place a run of few jobs with its wet work packed, in one way after another until their share is spent."""
    jobs = len(search.shop.tasks)
    assert search.best is not None
    tally = Tally()
    for way in ways(jobs):
        if tally.placed >= search.share(WET_SHARE) or search.is_over:
            break
        spots = place_wet(search.shop, way, tally, search.best.score[0])
        if spots is not None:
            search.keep(Found(score(search.shop, spots), _steady(search.shop, spots, way.patience), spots))


def _steady(shop: Shop, spots: Spots, patience: int) -> Recipe:
    """Return the recipe by which everything is placed where it lies, or close by."""
    keys = tuple(tuple(spots[job, index].start for index in range(len(task.steps)))
                 for job, task in enumerate(shop.tasks))  # fmt: skip
    return Recipe((), 0, False, patience, keys=keys, steady=True)


def _first_recipes(shop: Shop, effort: Effort) -> Iterator[Recipe]:
    """Yield equal waves of every size, the likely choices first."""
    jobs = len(shop.tasks)
    for size in range(1, min(jobs, effort.widest_wave) + 1):
        waves = tuple(Wave(tuple(range(first, min(jobs, first + size)))) for first in range(0, jobs, size))
        for order in LIKELY_ORDERS:
            yield Recipe(waves, 0, True, 1, order)


def _grow_waves(search: Search, recipe: Recipe) -> None:
    """Choose one wave after another: of all boards with as many jobs placed, the best goes on."""
    shop, jobs = search.shop, len(search.shop.tasks)
    keep: dict[int, list[tuple[Score, int, Board, tuple[Wave, ...]]]] = {}
    numbers = count()
    keep[0] = [((0, 0, 0), next(numbers), Board(shop, recipe.patience, search.tally), ())]
    for placed in range(jobs):
        for _, _, board, waves in sorted(keep.pop(placed, ()))[:1]:
            for wave in _next_waves(placed, jobs, search.effort.widest_wave):
                grown = board.copy()
                try:
                    place_next(grown, recipe, wave, True)
                except ImpossibleJob as impossible:
                    search.impossible = impossible
                    continue
                reached = keep.setdefault(placed + len(wave.jobs), [])
                reached.append((_partial(grown), next(numbers), grown, (*waves, wave)))
    for _, _, _, waves in sorted(keep.get(jobs, ()))[:1]:
        search.try_recipe(replace(recipe, waves=waves))


def _next_waves(placed: int, jobs: int, widest: int) -> Iterator[Wave]:
    """Yield all waves that may come after so many jobs."""
    for size in range(1, min(widest, jobs - placed) + 1):
        for batch in BATCHES if jobs <= FEW_JOBS else BATCHES[:2]:
            if batch < size:
                yield Wave(tuple(range(placed, placed + size)), batch)


def _partial(board: Board) -> Score:
    """Return the score of the jobs placed so far, as far as they are placed."""
    ends: dict[int, int] = {}
    for (job, index), spot in board.spots.items():
        ends[job] = max(ends.get(job, 0), spot.end + board.shop.tasks[job].steps[index].wait_min)
    return max(ends.values()), sum(ends.values()), 0


def _climb_often(search: Search) -> None:
    """Climb from the best schedule in waves, each time by another seed: most climbs end where no change helps."""
    start = search.waved
    if start is not None:
        for number in range(CLIMBS):
            _climb(search, start, search.effort.seed + number, search.share(CLIMB_SHARE) // CLIMBS)


def _climb(search: Search, start: Found, seed: int, placements: int) -> None:
    """Change the waves of a schedule at random, and go on from what is no worse, until so much is spent."""
    random = Random(seed)
    at, idle = start, 0
    tried: set[Recipe] = set()
    until = search.tally.placed + placements
    while search.tally.placed < until and idle < MOST_IDLE and not search.is_over:
        recipe = at.recipe
        for _ in range(1 + _below(random, 3)):
            recipe = _changed(search.shop, recipe, random, search.effort.widest_wave)
        idle += 1
        if recipe in tried:
            continue
        tried.add(recipe)
        idle = 0
        found = search.try_recipe(recipe, at.score[0])
        if found is not None and found.score <= at.score:
            at = found


def _rework(search: Search) -> None:
    """Take a few jobs out of the best schedule and place them anew.

    What comes of it is accepted if it is no worse than what was accepted some changes before (late acceptance).
    """
    assert search.best is not None
    random = Random(search.effort.seed)
    at, turn = search.best, 0
    past = [at.score] * LATE
    until = search.tally.placed + search.share(REWORK_SHARE)
    while search.tally.placed < until and not search.is_over:
        limit = max(past[turn % LATE], at.score)
        due = search.shop.due(at.score[0])
        late = {job for job, task in enumerate(search.shop.tasks)
                if any(at.spots[job, index].end > due[job][index] for index in task.lasting)}  # fmt: skip
        deadline = search.shop.deadlines(limit[0])
        for spots in rework(search.shop, at.spots, late, random, search.tally, deadline):
            reached = score(search.shop, spots)
            if reached <= limit:
                at = Found(reached, _steady(search.shop, spots, 1), spots)
                search.keep(at)
                break
        past[turn % LATE] = min(past[turn % LATE], at.score)
        turn += 1


def _below(random: Random, most: int) -> int:
    """Return a number below a limit; by `random` alone, which is the same in every version of Python."""
    return int(random.random() * most)


def _changed(shop: Shop, recipe: Recipe, random: Random, widest: int) -> Recipe:
    """Return a recipe with one thing changed."""
    which = _below(random, 11)
    if which < 4:
        return replace(recipe, shifts=_shifted(shop, recipe.shifts, random))
    if which == 4:
        return replace(recipe, lead=(0, 1, 2, len(recipe.waves))[_below(random, 4)])
    if which == 5:
        return replace(recipe, behind_last=not recipe.behind_last)
    if which == 6:
        return replace(recipe, patience=_below(random, 4))
    if which == 7:
        return replace(recipe, order=LIKELY_ORDERS[_below(random, 3)])
    if which == 8:
        at = _below(random, len(recipe.waves))
        changed = replace(recipe.waves[at], batch=_below(random, 4))
        return replace(recipe, waves=(*recipe.waves[:at], changed, *recipe.waves[at + 1 :]))
    groups = [list(wave.jobs) for wave in recipe.waves]
    batches = [wave.batch for wave in recipe.waves]
    regrouped = [group for group in _regrouped(groups, shop, random, widest) if group]
    batches += [0] * len(regrouped)
    waves = tuple(Wave(tuple(group), batches[number]) for number, group in enumerate(regrouped))
    return replace(recipe, waves=waves)


def _shifted(shop: Shop, shifts: tuple[Shift, ...], random: Random) -> tuple[Shift, ...]:
    """Return the shifts with one more, or one fewer."""
    if shifts and _below(random, 3) == 0:
        drop = _below(random, len(shifts))
        return shifts[:drop] + shifts[drop + 1 :]
    job = _below(random, len(shop.tasks))
    step = _below(random, len(shop.tasks[job].steps))
    if _below(random, 2):
        job = EVERY_JOB
    by = (1 + _below(random, WIDEST_SHIFT)) * (1 if _below(random, 2) else -1)
    kept = tuple(shift for shift in shifts if (shift.job, shift.step) != (job, step))
    return (*kept, Shift(job, step, by))


def _regrouped(waves: list[list[int]], shop: Shop, random: Random, widest: int) -> list[list[int]]:
    """Return the waves with one cut, two joined, a job moved to a neighbour, or two different jobs exchanged."""
    which, at = _below(random, 5), _below(random, len(waves))
    if which == 0 and len(waves[at]) > 1:
        cut = 1 + _below(random, len(waves[at]) - 1)
        waves[at : at + 1] = [waves[at][:cut], waves[at][cut:]]
    elif which == 1 and at + 1 < len(waves) and len(waves[at]) + len(waves[at + 1]) <= widest:
        waves[at : at + 2] = [waves[at] + waves[at + 1]]
    elif which == 2 and at + 1 < len(waves) and len(waves[at]) < widest:
        waves[at].append(waves[at + 1].pop(0))
    elif which == 3 and at + 1 < len(waves) and len(waves[at + 1]) < widest:
        waves[at + 1].insert(0, waves[at].pop())
    elif which == 4:
        other = _below(random, len(waves))
        one, two = _below(random, len(waves[at])), _below(random, len(waves[other]))
        first, second = waves[at][one], waves[other][two]
        if shop.tasks[first] != shop.tasks[second]:
            waves[at][one], waves[other][two] = second, first
    return waves
