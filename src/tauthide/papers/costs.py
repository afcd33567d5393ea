"""What the drums of a run cost, and what has no price: the table of costs and the words beneath it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from tauthide.papers.tables import RIGHT, Cell, Column, Table, table
from tauthide.papers.wording import hand_time, money, words
from tauthide.running.costs import Cost, sum_of
from tauthide.running.run_plan import RunPlan
from tauthide.sheets.words import listing
from tauthide.text import markdown


def costs_table(plan: RunPlan) -> Table:
    """Return what each drum costs, and all of them: sums of the amounts that are shown."""
    rows = [(words(cost.serial), *_amounts(plan, cost)) for cost in plan.costs]
    rows.append((Cell("**all**", "all"), *_amounts(plan, sum_of(plan.costs))))
    ring = "Ring" if any(cost.ring != 0 for cost in plan.costs) else ""
    sundries = "Sundries" if plan.run.prices.sundries else ""
    columns = (
        Column("Drum", "drum"), Column("Frame", "frame", RIGHT), Column("Skin", "skin", RIGHT),
        Column("Lace", "lace", RIGHT), Column(ring, "ring", RIGHT), Column(sundries, "sundries", RIGHT),
        Column("Material", "material", RIGHT), Column("Hand time", "work_min", RIGHT),
        Column("Work", "work", RIGHT), Column("Cost", "cost", RIGHT), Column("Price", "price", RIGHT),
    )  # fmt: skip
    return table(columns, rows)


def _amounts(plan: RunPlan, cost: Cost) -> tuple[Cell, ...]:
    return (
        money(plan, cost.frame), money(plan, cost.skin), money(plan, cost.lace), money(plan, cost.ring),
        money(plan, cost.sundries), money(plan, cost.material), hand_time(cost.work_min), money(plan, cost.work),
        money(plan, cost.whole), money(plan, cost.price),
    )  # fmt: skip


def has_prices(plan: RunPlan) -> bool:
    """Tell whether any price is known: else there is no table of costs."""
    prices = plan.run.prices
    known = [amount for cost in plan.costs for amount in (cost.frame, cost.skin, cost.lace, cost.work)]
    return any(amount is not None for amount in (*known, prices.ring, prices.sundries))


def unpriced(plan: RunPlan) -> str:
    """Say what has no price, and which of the run's `prices` it wants; empty where all has one."""
    return listing(tuple(_unpriced(plan)))


_WANTS: Mapping[str, tuple[Callable[[Cost], float | None], str, str]] = {
    "skin": (lambda cost: cost.skin, "skin for heads of", "hide_per_m2"),
    "lace": (lambda cost: cost.lace, "laces of", "lace_per_m"),
    "ring": (lambda cost: cost.ring, "rings for", "ring"),
}
"""What a drum is made of: its amount, its words, and the price that it wants."""


def _unpriced(plan: RunPlan) -> Iterator[str]:
    made = {drum.serial: drum.plan.spec.word("frame.make") != "bought" for drum in plan.drums}
    spec_of = {drum.serial: markdown(drum.plan.spec.drum) for drum in plan.drums}
    frames = [cost.serial for cost in plan.costs if cost.frame is None]
    for is_made, what, key in ((False, "frames for", "frame"), (True, "wood for frames of", "wood_per_m3")):
        names = dict.fromkeys(spec_of[serial] for serial in frames if made[serial] is is_made)
        if names:
            yield f"{what} {listing(names)} (`{key}`)"
    for amount, what, key in _WANTS.values():
        names = dict.fromkeys(spec_of[cost.serial] for cost in plan.costs if amount(cost) is None)
        if names:
            yield f"{what} {listing(names)} (`{key}`)"
    if plan.run.prices.hour is None:
        yield "work (`hour`)"
