"""What each drum costs: its material, its hours, and its price at the shop's rate."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import floor, fsum

from tauthide.cutting.pieces import Layout
from tauthide.plan.plan import Plan
from tauthide.running.drums import Drum
from tauthide.running.jobs import without
from tauthide.running.needs import head_names, lace_name
from tauthide.running.purchases import Purchases
from tauthide.running.stock import Taken
from tauthide.running.timing import spared_of
from tauthide.running.woodwork import volumes_of
from tauthide.runs.run import Run
from tauthide.work.operations import HOUR_MIN

CENT_SHARE = 100
"""Hundredths in one of the currency: amounts are rounded to them once, and sums are of the rounded amounts."""

TIE_SLACK = 1e-6
"""Of a hundredth: what is half of one but for floating point is rounded up, on any machine."""


@dataclass(frozen=True, slots=True)
class Cost:
    """What one drum costs, or all, in the run's currency to its hundredth; None where a price is not said."""

    serial: str
    frame: float | None
    """Bought or out of stock; of one that is made here its wood."""
    skin: float | None
    lace: float | None
    ring: float | None
    """0 for a lacing without one."""
    sundries: float
    """Glue, finish and what else a drum takes that nothing here counts; 0 where nothing is said."""
    work_min: float
    """Hand time, with its share of the setting up."""
    work: float | None
    price: float | None
    """With the mark-up."""

    @property
    def material(self) -> float | None:
        """Frame, skin, lace, ring and sundries; None where one of them is not known."""
        return total((self.frame, self.skin, self.lace, self.ring, self.sundries))

    @property
    def whole(self) -> float | None:
        """Material and work; None where one of them is not known."""
        return total((self.material, self.work))


def cents(amount: float) -> float:
    """Return an amount rounded to its hundredth, halves up."""
    return floor(amount * CENT_SHARE + 0.5 + TIE_SLACK) / CENT_SHARE


def total(amounts: Sequence[float | None]) -> float | None:
    """Return the sum to its hundredth, or None where one amount is not known."""
    known = [amount for amount in amounts if amount is not None]
    return cents(fsum(known)) if len(known) == len(amounts) else None


def price(cost: float | None, mark_up: float) -> float | None:
    """Return the price of what costs so much, the mark-up being a share of the cost; None where it is not known."""
    return None if cost is None else cents(cost * (1 + mark_up))


def costs_of(
    run: Run, drums: Sequence[Drum], taken: Mapping[str, Taken], layout: Layout, setup_min: float, purchases: Purchases
) -> tuple[Cost, ...]:
    """Return what each drum costs, in order.

    The skins of one animal that are cut are paid for by all pieces that come out of them, by their area: offcuts are
    paid with them, as those of boards are by the staves. Ordinary skins that are to be bought are paid for in the same
    way by all pieces that they are bought for; a lace that is wanting is one of these, or is bought by its length where
    that has a price. `setup_min` is that of the whole run and is shared out equally.
    """
    on_skins = _shares(run, layout)
    for skins in purchases.skins:
        on_skins |= skins.shares(run.prices.hide_per_mm2)
    wood_mm3 = volumes_of(purchases.wood)
    return tuple(
        _cost(run, drum, taken[drum.serial], on_skins, setup_min / len(drums), wood_mm3.get(drum.plan.spec.drum, 0.0))
        for drum in drums
    )


def sum_of(costs: Sequence[Cost]) -> Cost:
    """Return what all drums cost: the sums of what each costs, as it is shown."""
    return Cost(
        serial="",
        frame=total([cost.frame for cost in costs]),
        skin=total([cost.skin for cost in costs]),
        lace=total([cost.lace for cost in costs]),
        ring=total([cost.ring for cost in costs]),
        sundries=cents(fsum(cost.sundries for cost in costs)),
        work_min=sum(cost.work_min for cost in costs),
        work=total([cost.work for cost in costs]),
        price=total([cost.price for cost in costs]),
    )


def _cost(
    run: Run, drum: Drum, taken: Taken, on_skins: Mapping[str, float | None], setup_min: float, wood_mm3: float
) -> Cost:
    prices, plan = run.prices, drum.plan
    work_min = sum(operation.hand_min for operation in without(plan.operations, spared_of(taken))) + setup_min
    cost = Cost(
        serial=drum.serial,
        frame=_cents(_frame(run, plan, taken, wood_mm3)),
        skin=total([_cents(on_skins[name]) for name in head_names(drum)]),
        lace=_cents(_lace(run, drum, taken, on_skins)),
        ring=_cents(_ring(run, plan, taken)),
        sundries=cents(prices.sundries or 0.0),
        work_min=work_min,
        work=_cents(None if prices.hour is None else prices.hour * work_min / HOUR_MIN),
        price=None,
    )
    return replace(cost, price=price(cost.whole, prices.mark_up))


def _cents(amount: float | None) -> float | None:
    return None if amount is None else cents(amount)


def _lace(run: Run, drum: Drum, taken: Taken, on_skins: Mapping[str, float | None]) -> float | None:
    per_mm, plan = run.prices.lace_per_mm, drum.plan
    if taken.has_lace:
        whole = [
            lace.length_mm * per_mm if lace.price is None and per_mm is not None else lace.price
            for lace in taken.lace_pieces
        ]
        return total(whole)
    if lace_name(drum.serial) not in on_skins and per_mm is not None:
        return plan["lace.cut_length"] * per_mm
    return on_skins[lace_name(drum.serial)]


def _frame(run: Run, plan: Plan, taken: Taken, wood_mm3: float) -> float | None:
    """Return the price of a drum's frame: of one that is made here that of its wood, besides its hand time."""
    if taken.frame is None and plan.spec.word("frame.make") != "bought":
        return None if run.prices.wood_per_mm3 is None else wood_mm3 * run.prices.wood_per_mm3
    return run.prices.frame if taken.frame is None or taken.frame.price is None else taken.frame.price


def _ring(run: Run, plan: Plan, taken: Taken) -> float | None:
    if not plan.spec.has("lace.ring"):
        return 0.0
    return run.prices.ring if taken.ring is None or taken.ring.price is None else taken.ring.price


def _shares(run: Run, layout: Layout) -> dict[str, float | None]:
    """Return what each piece that was laid pays of the skins of its animal that are cut; None where one has no price.

    All of these skins are paid for together: of two drums alike neither pays more because its skin has room left.
    """
    prices: dict[str, list[float | None]] = {}
    areas: dict[str, dict[str, float]] = {}
    for held, hide in zip(run.skins, layout.task.hides, strict=True):
        placements = layout.on_hide(held.skin.name)
        if placements:
            per_mm2 = run.prices.hide_per_mm2
            by_area = None if per_mm2 is None else hide.area_mm2 * per_mm2
            prices.setdefault(hide.species, []).append(by_area if held.skin.price is None else held.skin.price)
        for placement in placements:
            of_animal = areas.setdefault(hide.species, {})
            of_animal[placement.name] = of_animal.get(placement.name, 0.0) + placement.shape.area_mm2
    shares: dict[str, float | None] = {}
    for animal, pieces in areas.items():
        known = [price for price in prices[animal] if price is not None]
        whole = fsum(known) if len(known) == len(prices[animal]) else None
        whole_mm2 = fsum(pieces.values())
        shares |= {name: None if whole is None else whole * area / whole_mm2 for name, area in pieces.items()}
    return shares
