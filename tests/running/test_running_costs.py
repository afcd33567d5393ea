"""What drums cost: by hand for one, sums for all, and no sum where a price is not known."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from run_files import LARGE, RUN, SKIN
from run_plans import ALL_GOAT, PRICES, planned, run_with
from tauthide.running.costs import price, total


def test_sums_and_prices_of_what_is_not_known() -> None:
    assert total((1.0, 2.5)) == 3.5
    assert total((1.0, None)) is None
    assert price(80.0, 0.25) == 100.0
    assert price(None, 0.25) is None


def test_a_skin_is_paid_for_by_its_pieces(tmp_path: Path) -> None:
    skin = SKIN + "price: 40\n"
    plan = planned(tmp_path, {"large.yaml": ALL_GOAT, "runs/goat-1.yaml": skin, **run_with(PRICES)})
    on_skin = [cost for cost, drum in zip(plan.costs, plan.drums, strict=True) if drum.serial in plan.on_skin]
    paid = sum(cost.skin or 0 for cost in on_skin)
    paid += sum(
        cost.lace or 0
        for cost, drum in zip(plan.costs, plan.drums, strict=True)
        if f"{drum.serial} lace" in plan.on_skin
    )
    whole = sum(place.shape.area_mm2 for place in plan.layout.placements)
    scraps = sum(place.shape.area_mm2 for place in plan.layout.placements if place.use == "scrap")
    assert paid == pytest.approx(40 * (1 - scraps / whole))


def test_one_drum_by_hand(tmp_path: Path) -> None:
    plan = planned(tmp_path, run_with(PRICES))
    cost = plan.costs[-1]  # of deer, of which there is no skin, laced with calf
    spec = plan.drums[-1].plan
    setup = sum(work.setup_min for work in plan.schedule.works) / 5
    minutes = sum(operation.hand_min for operation in spec.operations) + setup
    assert cost.work_min == pytest.approx(minutes)
    assert cost.work == pytest.approx(30 * minutes / 60)
    assert cost.frame == 20
    assert cost.skin == pytest.approx(50 * math.pi / 4 * (spec["head.blank_diameter"] / 1000) ** 2)
    assert cost.lace == pytest.approx(2 * spec["lace.cut_length"] / 1000)
    assert cost.material == pytest.approx(20 + (cost.skin or 0) + (cost.lace or 0))
    assert cost.whole == pytest.approx((cost.material or 0) + (cost.work or 0))


def test_a_frame_that_is_made_here_is_not_charged_as_bought(tmp_path: Path) -> None:
    large = LARGE.replace("depth: 55 mm", "depth: 55 mm, make: staves")
    run = RUN.replace("days: [mon, tue]", "days: [mon, tue, wed, thu, fri]") + PRICES
    costs = {cost.serial: cost for cost in planned(tmp_path, {"large.yaml": large, "runs/run.yaml": run}).costs}
    assert costs["LARGE-01"].frame == 0
    assert costs["SMALL-03"].frame == 20
    assert costs["LARGE-01"].whole == pytest.approx(
        (costs["LARGE-01"].skin or 0) + (costs["LARGE-01"].lace or 0) + (costs["LARGE-01"].work or 0)
    )


def test_a_frame_out_of_stock_at_its_own_price(tmp_path: Path) -> None:
    costs = {cost.serial: cost for cost in planned(tmp_path, run_with(PRICES)).costs}
    assert costs["SMALL-01"].frame == 9.5
    assert costs["SMALL-03"].frame == 20


def test_without_prices_nothing_is_made_up(tmp_path: Path) -> None:
    for cost in planned(tmp_path).costs:
        assert (cost.skin, cost.work, cost.material, cost.whole) == (None, None, None, None)
