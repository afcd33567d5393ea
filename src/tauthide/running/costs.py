"""What each drum costs: its material, its hours, and its price at the shop's rate."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import pi

from tauthide.cutting.pieces import Layout
from tauthide.plan.plan import Plan
from tauthide.running.drums import Drum
from tauthide.running.jobs import without
from tauthide.running.needs import head_names, lace_name
from tauthide.running.stock import Taken
from tauthide.running.timing import spared_of
from tauthide.runs.run import Run
from tauthide.work.operations import HOUR_MIN


@dataclass(frozen=True, slots=True)
class Cost:
    """What one drum costs, in the run's currency; None where a price is not said."""

    serial: str
    frame: float | None
    skin: float | None
    lace: float | None
    work_min: float
    """Hand time, with its share of the setting up."""
    work: float | None

    @property
    def material(self) -> float | None:
        """Frame, skin and lace; None where one of them is not known."""
        return total((self.frame, self.skin, self.lace))

    @property
    def whole(self) -> float | None:
        """Material and work; None where one of them is not known."""
        return total((self.material, self.work))


def total(amounts: Sequence[float | None]) -> float | None:
    """Return the sum, or None where one amount is not known."""
    known = [amount for amount in amounts if amount is not None]
    return sum(known) if len(known) == len(amounts) else None


def price(cost: float | None, mark_up: float) -> float | None:
    """Return the price of what costs so much, the mark-up being a share of the cost; None where it is not known."""
    return None if cost is None else cost * (1 + mark_up)


def costs_of(
    run: Run, drums: Sequence[Drum], taken: Mapping[str, Taken], layout: Layout, setup_min: float
) -> tuple[Cost, ...]:
    """Return what each drum costs, in order.

    A skin at hand is paid for by the pieces that come out of it, by their area: its offcuts are paid with them.
    What is wanting is bought by area, a lace by its length where that has a price. The wood of frames that are
    made here is not priced. `setup_min` is that of the whole run and is shared out equally.
    """
    on_skins = _shares(run, layout)
    return tuple(_cost(run, drum, taken[drum.serial], on_skins, setup_min / len(drums)) for drum in drums)


def _cost(run: Run, drum: Drum, taken: Taken, on_skins: Mapping[str, float | None], setup_min: float) -> Cost:
    prices, plan = run.prices, drum.plan
    frame = _frame(run, plan, taken)
    skin = total([_piece(run, on_skins, name, plan["head.blank_area"]) for name in head_names(drum)])
    lace: float | None
    if taken.lace is not None:
        lace = taken.lace.price
    elif lace_name(drum.serial) not in on_skins and prices.lace_per_mm is not None:
        lace = plan["lace.cut_length"] * prices.lace_per_mm
    else:
        lace = _piece(run, on_skins, lace_name(drum.serial), lace_area(plan))
    work_min = sum(operation.hand_min for operation in without(plan.operations, spared_of(taken))) + setup_min
    work = None if prices.hour is None else prices.hour * work_min / HOUR_MIN
    return Cost(drum.serial, frame, skin, lace, work_min, work)


def _frame(run: Run, plan: Plan, taken: Taken) -> float | None:
    """Return the price of a drum's frame: one that is made here costs its hand time, and its wood has no price."""
    if taken.frame is None and plan.spec.word("frame.make") != "bought":
        return 0.0
    return run.prices.frame if taken.frame is None or taken.frame.price is None else taken.frame.price


def lace_area(plan: Plan) -> float:
    """Return the area in mm2 of the circle that a lace is cut from in one piece."""
    return pi / 4 * plan["lace.circle_diameter"] ** 2


def _piece(run: Run, on_skins: Mapping[str, float | None], name: str, area_mm2: float) -> float | None:
    if name in on_skins:
        return on_skins[name]
    return None if run.prices.hide_per_mm2 is None else area_mm2 * run.prices.hide_per_mm2


def _shares(run: Run, layout: Layout) -> dict[str, float | None]:
    """Return what each piece that was laid pays of the skins it comes from; None where one has no price."""
    shares: dict[str, float | None] = {}
    for held in run.skins:
        placements = layout.on_hide(held.skin.name)
        whole_mm2 = sum(placement.shape.area_mm2 for placement in placements)
        per_mm2 = run.prices.hide_per_mm2
        price_of_skin = held.skin.price
        if price_of_skin is None and per_mm2 is not None:
            price_of_skin = layout.task.hides[run.skins.index(held)].area_mm2 * per_mm2
        for placement in placements:
            share = None if price_of_skin is None else price_of_skin * placement.shape.area_mm2 / whole_mm2
            before = shares.get(placement.name, 0.0)
            shares[placement.name] = None if share is None or before is None else before + share
    return shares
