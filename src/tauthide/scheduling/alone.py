"""An order in which one job can be placed when the shop is empty: that of work, and where it leads nowhere, others.

Operations that are placed one after another may stand in each other's way within a longest time, although another order
of placing them would do: who holds that a job is impossible has to have tried more than one.
"""

from __future__ import annotations

from random import Random

from tauthide.scheduling.compiled import Shop
from tauthide.scheduling.placing import (
    JOB_TRIES,
    Board,
    Push,
    Tally,
    order_key,
    place_order,
)
from tauthide.scheduling.recipes import Order

ORDERS_FIRST = (Order.WORK, Order.EARLY, Order.TAIL)
ORDERS = 300
"""How many orders are tried after that of work, most of them at random."""

TRIES = 60
"""How often a job is placed again in each of them."""

SEED = 1


def find_order(shop: Shop, job: int, more: int = ORDERS) -> tuple[int, ...] | Push:
    """Return the steps of a job in an order in which it finds its place alone, or the push that came last.

    So many orders more than that of work are tried: with people and places in plenty no other does better, and none
    is needed. The push is that of the order of work.
    """
    steps = range(len(shop.tasks[job].steps))
    random = Random(SEED)
    first: Push | None = None
    for number in range(1 + more):
        if number < len(ORDERS_FIRST):
            keys = [order_key(shop.tasks[job], index, ORDERS_FIRST[number]) for index in steps]
        else:
            keys = [int(random.random() * len(steps) * len(steps)) for _ in steps]
        order = _in_order(shop, job, keys)
        push = place_order(Board(shop, 0, Tally()), [(job, index) for index in order],
                           TRIES if number else JOB_TRIES, {})  # fmt: skip
        if push is None:
            return order
        first = first or push
    assert first is not None
    return first


def _in_order(shop: Shop, job: int, keys: list[int]) -> tuple[int, ...]:
    """Return the steps by their keys, but none before what it comes after."""
    late: list[int] = []
    for index, step in enumerate(shop.tasks[job].steps):
        late.append(max([keys[index], *(late[before] for before in step.after)]))
    return tuple(sorted(range(len(late)), key=lambda index: (late[index], index)))
