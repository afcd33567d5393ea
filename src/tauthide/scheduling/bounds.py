"""A finish that no schedule of a run can beat: a search that has reached it need not go on."""

from __future__ import annotations

from tauthide.scheduling.compiled import PEOPLE, Shop, Task


def finish_bound(shop: Shop) -> int:
    """Return the later of two bounds: the longest job alone, and all hands busy until what must then still follow."""
    early = [_early_starts(shop, task) for task in shop.tasks]
    bound = 0
    for task, starts in zip(shop.tasks, early, strict=True):
        for index, step in enumerate(task.steps):
            bound = max(bound, starts[index] + step.hand_min + step.wait_min)
    return bound if shop.own_hands else max(bound, _hands_bound(shop, early))


def _early_starts(shop: Shop, task: Task) -> list[int]:
    """Return the earliest starts within working hours, without set-ups that can be shared, alone in the shop."""
    starts: list[int] = []
    for step in task.steps:
        ready = task.earliest_min
        for before in step.after:
            earlier = task.steps[before]
            done = starts[before] + earlier.hand_min + (0 if earlier.family >= 0 else earlier.setup_min)
            ready = max(ready, done + earlier.wait_min)
        minutes = step.hand_min + (0 if step.family >= 0 else step.setup_min)
        starts.append(shop.calendar.start(ready, minutes, step.may_pause))
    return starts


def _hands_bound(shop: Shop, early: list[list[int]]) -> int:
    """Return the best over all sets of the operations after whose start at least so much time must pass."""
    works = []
    for task, starts in zip(shop.tasks, early, strict=True):
        for index, step in enumerate(task.steps):
            people = sum(units for resource, units in step.needs if resource == PEOPLE)
            if people and step.hand_min:
                hands = step.hand_min + (0 if step.family >= 0 else step.setup_min)
                works.append((task.tails[index] - hands, hands * people, starts[index]))
    works.sort(reverse=True)
    bound = total = 0
    first: int | None = None
    for tail, minutes, start in works:
        total += minutes
        first = start if first is None else min(first, start)
        bound = max(bound, shop.calendar.end(first, -(-total // shop.units[PEOPLE])) + tail)
    return bound
