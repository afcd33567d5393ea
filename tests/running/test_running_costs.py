"""What drums cost: by hand for one, sums for all, and no sum where a price is not known."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from run_files import LARGE, LOT, RUN, SKIN, SMALL
from run_plans import ALL_GOAT, PRICES, planned, run_with
from tauthide.output.run_json import render_run
from tauthide.papers.costs import unpriced
from tauthide.papers.papers import render_papers
from tauthide.running.costs import Cost, cents, price, total
from tauthide.running.run_plan import RunPlan
from tauthide.running.woodwork import volumes_of

SCHEMA = Path(__file__).parents[2] / "schemas" / "run_plan.schema.json"


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
    # Each amount is rounded to its hundredth once.
    assert paid == pytest.approx(40 * (1 - scraps / whole), abs=0.005 * 2 * len(plan.drums))


def test_drums_alike_pay_alike_whichever_skin_they_come_out_of(tmp_path: Path) -> None:
    """A skin with room left is no burden to the one drum whose head comes out of it."""
    small = SKIN.replace("[[0, 0], [14, 0], [14, 18], [0, 18]]", "[[0, 0], [14, 0], [14, 9], [0, 9]]").replace(
        "spine: [[7, 0], [7, 18]]", "spine: [[7, 0], [7, 9]]"
    )
    second = small.replace("name: goat-1", "name: goat-2") + "price: 44\n"
    run = RUN.replace("skins: [goat-1.yaml]", "skins: [goat-1.yaml, goat-2.yaml]") + PRICES
    changes = {"large.yaml": ALL_GOAT, "runs/goat-1.yaml": small + "price: 30\n", "runs/goat-2.yaml": second}
    plan = planned(tmp_path, {**changes, "runs/run.yaml": run})
    assert len(plan.layout.hides_used) == 2
    heads = {drum.serial: plan.on_skin[drum.serial][0][0] for drum in plan.drums if drum.serial in plan.on_skin}
    assert set(heads.values()) == {"goat-1", "goat-2"}
    alike = {cost.skin for cost in plan.costs if cost.serial in heads}
    assert len(alike) == len({serial.partition("-")[0] for serial in heads}) < len(heads)
    areas = dict.fromkeys(plan.on_skin, 0.0)
    for placement in plan.layout.placements:
        areas[placement.name] += placement.shape.area_mm2
    paid = {cost.serial: cost.skin for cost in plan.costs}
    for serial in heads:
        assert paid[serial] == pytest.approx(74 * areas[serial] / sum(areas.values()), abs=0.005)


def test_one_drum_by_hand(tmp_path: Path) -> None:
    plan = planned(tmp_path, run_with(PRICES))
    cost = plan.costs[-1]  # of deer, of which there is no skin, laced with calf
    spec = plan.drums[-1].plan
    setup = sum(work.setup_min for work in plan.schedule.works) / 5
    minutes = sum(operation.hand_min for operation in spec.operations) + setup
    assert cost.work_min == pytest.approx(minutes)
    assert cost.work == pytest.approx(30 * minutes / 60, abs=0.005)
    assert cost.frame == 20
    # The two heads of deer are all that a skin, or two, are bought for.
    (deer,) = plan.purchases.skins
    assert deer.pieces == ("LARGE-01", "LARGE-02")
    assert cost.skin == pytest.approx(50 * (deer.skins or 0) * deer.skin_area_mm2 / 1e6 / 2, abs=0.005)
    assert cost.lace == pytest.approx(2 * spec["lace.cut_length"] / 1000, abs=0.005)
    assert (cost.ring, cost.sundries) == (0, 0)
    assert cost.material == pytest.approx(20 + (cost.skin or 0) + (cost.lace or 0))
    assert cost.whole == pytest.approx((cost.material or 0) + (cost.work or 0))
    assert cost.price == pytest.approx(1.25 * (cost.whole or 0), abs=0.005)


class TestSkinsToBuy:
    """What is bought is paid for whole, by all that it is bought for; and nothing twice."""

    NO_SKIN: Mapping[str, str | bytes] = {
        "large.yaml": ALL_GOAT,
        "runs/run.yaml": RUN.replace("skins: [goat-1.yaml]\n", "") + PRICES,
    }
    BY_AREA: Mapping[str, str | bytes] = {
        **NO_SKIN,
        "runs/run.yaml": RUN.replace("skins: [goat-1.yaml]\n", "") + PRICES.replace(" lace_per_m: 2,", ""),
    }

    def test_whole_skins_are_paid_for(self, tmp_path: Path) -> None:
        plan = planned(tmp_path, self.NO_SKIN)
        (goat,) = plan.purchases.skins
        assert set(goat.pieces) == {drum.serial for drum in plan.drums}
        paid = sum(cost.skin or 0 for cost in plan.costs)
        assert paid == pytest.approx(50 * (goat.skins or 0) * goat.skin_area_mm2 / 1e6, abs=0.005 * 5)
        alone = 50 * sum(drum.plan["head.blank_area"] for drum in plan.drums) / 1e6
        assert paid > alone

    def test_laces_by_length_where_that_has_a_price(self, tmp_path: Path) -> None:
        plan = planned(tmp_path, self.NO_SKIN)
        bought = {laces.drum: laces for laces in plan.purchases.laces}
        assert {drum: laces.count for drum, laces in bought.items()} == {"SMALL": 2, "LARGE": 2}
        by_length = [cost for cost in plan.costs if cost.serial != "SMALL-01"]  # its lace is in stock
        paid = sum(2 * laces.count * laces.length_mm / 1000 for laces in bought.values())
        assert sum(cost.lace or 0 for cost in by_length) == pytest.approx(paid, abs=0.005 * 4)
        page = render_papers(plan)["run.md"].decode()
        assert "Laces that are wanting are bought by length" in page
        assert "So are those that are to be bought" in page

    def test_laces_out_of_the_skins_where_it_has_none(self, tmp_path: Path) -> None:
        plan = planned(tmp_path, self.BY_AREA)
        (goat,) = plan.purchases.skins
        assert {"SMALL-02 lace", "LARGE-02 lace"} < set(goat.pieces)
        assert plan.purchases.laces == ()
        paid = sum((cost.skin or 0) + (cost.lace or 0) for cost in plan.costs if cost.serial != "SMALL-01")
        paid += plan.costs[0].skin or 0
        assert paid == pytest.approx(50 * (goat.skins or 0) * goat.skin_area_mm2 / 1e6, abs=0.005 * 9)
        assert "bought by length" not in render_papers(plan)["run.md"].decode()

    def test_skins_larger_than_ordinary_are_not_cheaper(self, tmp_path: Path) -> None:
        huge = LARGE.replace("diameter: 13 in, depth: 55 mm", "diameter: 44 in, depth: 80 mm").replace("16", "40")
        plan = planned(tmp_path, {"large.yaml": huge, **run_with(PRICES)})
        (deer,) = plan.purchases.skins
        assert deer.skins is None
        assert plan.costs[-1].skin == pytest.approx(50 * plan.drums[-1].plan["head.blank_area"] / 1e6, abs=0.005)
        assert "at least one where it must be larger" in render_papers(plan)["run.md"].decode()

    def test_fits_its_schema(self, tmp_path: Path) -> None:
        for changes in (self.NO_SKIN, self.BY_AREA):
            data = json.loads(render_run(planned(tmp_path, changes), ()))
            bought = json.loads(SCHEMA.read_text(encoding="utf-8"))["properties"]["to_buy"]
            assert list(Draft202012Validator(bought).iter_errors(data["to_buy"])) == []
            assert bool(data["to_buy"]["laces"]) == (changes is self.NO_SKIN)


MADE = LARGE.replace("depth: 55 mm", "depth: 55 mm, make: {make}")
WEEK = RUN.replace("days: [mon, tue]", "days: [mon, tue, wed, thu, fri]")


class TestWood:
    """A frame that is made here costs its wood, and its hand time with the other work."""

    def costs(self, folder: Path, make: str, prices: str) -> tuple[RunPlan, dict[str, Cost]]:
        changes = {"large.yaml": MADE.replace("{make}", make), "runs/run.yaml": WEEK + prices}
        plan = planned(folder, changes)
        return plan, {cost.serial: cost for cost in plan.costs}

    def test_strips_by_their_volume(self, tmp_path: Path) -> None:
        priced = PRICES.replace("frame: 20", "frame: 20, wood_per_m3: 3000")
        plan, costs = self.costs(tmp_path, "bent", priced)
        spec = plan.drums[-1].plan
        sides_m = [spec[f"bend.strip_{side}"] / 1000 for side in ("length", "width", "thickness")]
        assert costs["LARGE-01"].frame == pytest.approx(3000 * math.prod(sides_m), abs=0.005)
        assert costs["SMALL-03"].frame == 20

    def test_boards_with_what_is_left_of_them(self, tmp_path: Path) -> None:
        plan, costs = self.costs(tmp_path, "staves", PRICES.replace("frame: 20", "frame: 20, wood_per_board_ft: 6"))
        (stock,) = plan.purchases.wood.stocks
        # A board foot is 144 cubic inches.
        feet = stock.length_mm * stock.width_mm * stock.thickness_mm / 25.4**3 / 144
        paid = [costs[serial].frame or 0 for serial in ("LARGE-01", "LARGE-02")]
        assert paid[0] == paid[1]
        assert sum(paid) == pytest.approx(6 * feet, abs=0.01)
        whole = costs["LARGE-01"]
        assert whole.whole == pytest.approx(
            sum((whole.frame or 0, whole.skin or 0, whole.lace or 0, whole.work or 0)), abs=0.001
        )

    def test_boards_that_two_specs_share(self, tmp_path: Path) -> None:
        small = SMALL.replace("depth: 40 mm", "depth: 55 mm, make: staves")
        changes = {"small.yaml": small, "large.yaml": MADE.replace("{make}", "staves"), "runs/run.yaml": WEEK + PRICES}
        plan = planned(tmp_path, changes)
        volumes = volumes_of(plan.purchases.wood)
        counts = {"SMALL": 3, "LARGE": 2}
        bought = sum(each.length_mm * each.width_mm * each.thickness_mm for each in plan.purchases.wood.stocks)
        assert sum(volumes[drum] * count for drum, count in counts.items()) == pytest.approx(bought)
        assert volumes["LARGE"] > volumes["SMALL"]

    def test_without_a_price_it_is_not_known(self, tmp_path: Path) -> None:
        plan, costs = self.costs(tmp_path, "staves", PRICES)
        assert (costs["LARGE-01"].frame, costs["LARGE-01"].whole) == (None, None)
        assert costs["SMALL-03"].frame == 20
        assert "wood for frames of LARGE (`wood_per_m3`)" in unpriced(plan)


class TestRings:
    RING = LARGE.replace("lace: {hide: calf}", "lace: {hide: calf, lacing: ring}")

    def test_bought_or_out_of_stock_at_its_own_price(self, tmp_path: Path) -> None:
        ring = "rings: [{diameter: 60 mm, section: 6 mm, price: 0.8}]\n"
        priced = run_with(PRICES.replace("frame: 20", "frame: 20, ring: 1.5"))
        plan = planned(tmp_path, {"large.yaml": self.RING, "runs/cupboard.yaml": LOT + ring, **priced})
        costs = {cost.serial: cost.ring for cost in plan.costs}
        assert costs == {"SMALL-01": 0, "SMALL-02": 0, "SMALL-03": 0, "LARGE-01": 0.8, "LARGE-02": 1.5}

    def test_without_a_price_it_is_not_known(self, tmp_path: Path) -> None:
        plan = planned(tmp_path, {"large.yaml": self.RING, **run_with(PRICES)})
        assert plan.costs[-1].ring is None
        assert plan.costs[-1].material is None
        assert "rings for LARGE (`ring`)" in unpriced(plan)


def test_sundries_are_for_each_drum(tmp_path: Path) -> None:
    without = planned(tmp_path, run_with(PRICES)).costs
    priced = planned(tmp_path, run_with(PRICES.replace("frame: 20", "frame: 20, sundries: 1.5"))).costs
    for before, after in zip(without, priced, strict=True):
        assert (after.material is None) == (before.material is None)
        assert (after.material or 1.5) - (before.material or 0) == pytest.approx(1.5)


def test_a_lace_in_stock_without_a_price_of_its_own_costs_its_length(tmp_path: Path) -> None:
    costs = {cost.serial: cost for cost in planned(tmp_path, run_with(PRICES)).costs}
    assert costs["SMALL-01"].lace == 16


@given(st.lists(st.floats(0, 1e6), min_size=1, max_size=30))
def test_sums_are_of_what_is_shown(amounts: list[float]) -> None:
    shown = [f"{cents(amount):.2f}" for amount in amounts]
    whole = total([cents(amount) for amount in amounts])
    assert f"{whole:.2f}" == f"{sum(map(Decimal, shown)):.2f}"
    assert all(abs(cents(amount) - amount) <= 0.00501 for amount in amounts)


def test_halves_of_a_hundredth_go_up() -> None:
    assert [cents(amount) for amount in (0.005, 1.005, 2.675, 0.0049, 3)] == [0.01, 1.01, 2.68, 0.0, 3.0]


def test_a_frame_out_of_stock_at_its_own_price(tmp_path: Path) -> None:
    costs = {cost.serial: cost for cost in planned(tmp_path, run_with(PRICES)).costs}
    assert costs["SMALL-01"].frame == 9.5
    assert costs["SMALL-03"].frame == 20


def test_without_prices_nothing_is_made_up(tmp_path: Path) -> None:
    for cost in planned(tmp_path).costs:
        assert (cost.skin, cost.work, cost.material, cost.whole) == (None, None, None, None)
