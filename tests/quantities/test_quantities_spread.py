"""How sure blank and lace are: the bounds against many drums that vary within their tolerances."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import pytest

from drums import Fields, Leaf, changed, workings_of
from tauthide.figures import Workings
from tauthide.quantities.figures import start_workings


def not_round(outline: str, **sizes: Leaf) -> Fields:
    """Return the usual drum on another frame."""
    rest = {path: leaf for path, leaf in changed().items() if path != "frame.diameter"}
    return {**rest, "frame.outline": outline, **{f"frame.{name}": size for name, size in sizes.items()}}


DRUMS: dict[str, Fields] = {
    "goat of 13 in": changed(),
    "small, no handle": changed(frame_diameter="8 in", stations_count=8, handle_arms=0, stations_web="16 mm"),
    "thick cow": changed(frame_diameter="20 in", head_hide="cow", stations_count=20, head_turnover="50 mm"),
    "holes on the wall": changed(head_turnover="15 mm", frame_depth="70 mm"),
    "holes about the edge": changed(head_turnover="20 mm", frame_depth="70 mm"),
    "wide tolerances": changed(tolerances_thickness="40 %", tolerances_turnover="8 mm", tolerances_play="15 mm"),
    "stretch alone": changed(tolerances_thickness="0 %", tolerances_turnover="0 mm", tolerances_play="0 mm"),
    "octagon": not_round("polygon", sides=8, across_flats="14 in"),
    "triangle": not_round("polygon", sides=3, across_flats="14 in"),
    "oval": not_round("oval", length="18 in", width="13 in"),
}

TIMES = 1500
ENOUGH = 0.999
"""Of the drums that vary within their tolerances, so many must lie within the bounds."""

TOO_WIDE = 2.0
"""Bounds that are so many times as wide as what happens say nothing."""


def with_numbers(w: Workings, **changes: float) -> Workings:
    """Return the workings of the same drum with other numbers, in base units: `head_turnover=42.0`."""
    settings = dict(w.spec.settings)
    for name, value in changes.items():
        path = name.replace("_", ".", 1)
        settings[path] = replace(settings[path], value=value)
    return start_workings(replace(w.spec, settings=settings))


def one_drum(w: Workings, chance: Random) -> tuple[float, float]:
    """Return how far the blank must reach and the net length of the lace of one drum within the tolerances."""

    def off(tolerance: str) -> float:
        return chance.uniform(-1, 1) * w.spec.number(f"tolerances.{tolerance}")

    turnover = w.spec.number("head.turnover") + off("turnover")
    skin = w.spec.number("head.thickness") * (1 + off("thickness"))
    laced = {
        "lace_thickness": w.spec.number("lace.thickness") * (1 + off("thickness")),
        "lace_play": max(0.0, w.spec.number("lace.play") + off("play")),
        # Skin that gives more brings the holes further in, as a wider turnover would; the blank stays as it is.
        "head_turnover": turnover + off("stretch") * w["frame.half_span"],
    }
    return (
        with_numbers(w, head_turnover=turnover, head_thickness=skin)["skin.reach"],
        with_numbers(w, head_thickness=skin, **laced)["lace.net_length"],
    )


@pytest.fixture(scope="module", params=DRUMS)
def drum(request: pytest.FixtureRequest) -> tuple[Workings, list[float], list[float]]:
    """Give a drum's workings, and reach and net length of many that vary within its tolerances."""
    w = workings_of(DRUMS[request.param])
    chance = Random(request.param)
    many = [one_drum(w, chance) for _ in range(TIMES)]
    return w, [reach for reach, _ in many], [net for _, net in many]


Drum = tuple[Workings, list[float], list[float]]


def share_within(values: list[float], low: float, high: float) -> float:
    """Return the share of values within bounds, but for what is lost in floating point."""
    return sum(low - 1e-9 <= value <= high + 1e-9 for value in values) / len(values)


class TestSimulation:
    def test_blank_lies_within(self, drum: Drum) -> None:
        w, reaches, _ = drum
        assert share_within(reaches, w["skin.reach_low"], w["skin.reach_high"]) >= ENOUGH

    def test_lace_lies_within(self, drum: Drum) -> None:
        w, _, nets = drum
        assert share_within(nets, w["lace.net_low"], w["lace.net_high"]) >= ENOUGH

    def test_bounds_are_not_too_wide(self, drum: Drum) -> None:
        w, reaches, nets = drum
        assert w["lace.net_high"] - w["lace.net_low"] < TOO_WIDE * (max(nets) - min(nets))
        # Without tolerances on thickness and turnover the blank does not vary at all.
        assert w["skin.reach_high"] - w["skin.reach_low"] <= TOO_WIDE * (max(reaches) - min(reaches))

    def test_either_bound_by_itself(self, drum: Drum) -> None:
        w, _, nets = drum
        net = w["lace.net_length"]
        assert w["lace.net_high"] - net < TOO_WIDE * (max(nets) - net)
        assert net - w["lace.net_low"] < TOO_WIDE * (net - min(nets))


NONE = {f"tolerances.{name}": leaf for name, leaf in (
    ("thickness", "0 %"), ("turnover", "0 mm"), ("play", "0 mm"), ("stretch", "0 %"),
)}  # fmt: skip


class TestByHand:
    def test_without_tolerances_all_is_sure(self) -> None:
        w = workings_of({**changed(), **NONE})
        assert w["head.blank_low"] == pytest.approx(w["head.blank_diameter"], abs=1e-9)
        assert w["head.blank_high"] == pytest.approx(w["head.blank_diameter"], abs=1e-9)
        assert w["lace.net_low"] == pytest.approx(w["lace.net_length"], abs=1e-9)
        assert w["lace.net_high"] == pytest.approx(w["lace.net_length"], abs=1e-9)

    def test_blank(self) -> None:
        """1 mm of skin, 15 % thicker, round two quarter turns: 2 x pi/2 x 0.075 mm; with 3 mm of turnover, twice."""
        w = workings_of()
        assert w["head.blank_high"] - w["head.blank_diameter"] == pytest.approx(2 * (3.0 + 0.2356194), abs=1e-6)
        assert w["head.blank_diameter"] - w["head.blank_low"] == pytest.approx(2 * (3.0 + 0.2356194), abs=1e-6)

    def test_turnover_cannot_be_less_than_none(self) -> None:
        w = workings_of({**changed(head_turnover="15 mm", frame_depth="70 mm"), **NONE, "tolerances.turnover": "20 mm"})
        assert w["skin.reach"] - w["skin.reach_low"] == pytest.approx(15)
        assert w["skin.reach_high"] - w["skin.reach"] == pytest.approx(20)

    def test_play(self) -> None:
        """16 stations have 15 spans, and none of them less than no play."""
        w = workings_of({**changed(), **NONE, "tolerances.play": "14 mm"})
        assert w["lace.net_high"] - w["lace.net_length"] == pytest.approx(15 * 14)
        assert w["lace.net_length"] - w["lace.net_low"] == pytest.approx(15 * 12)

    def test_holes(self) -> None:
        """Of 16 stations 31 strands run to the hub; 1 % of 165.1 mm and 3 mm move each end."""
        w = workings_of({**changed(), **NONE, "tolerances.turnover": "3 mm", "tolerances.stretch": "1 %"})
        assert w["holes.varies"] == pytest.approx(4.651)
        assert w["lace.net_per_inset"] == 31
        assert w["lace.net_high"] - w["lace.net_length"] == pytest.approx(31 * 4.651)
        assert w["lace.net_length"] - w["lace.net_low"] == pytest.approx(31 * 4.651)

    @pytest.mark.parametrize("shift", [2.0, -2.0])
    def test_lace_per_mm_of_inset(self, shift: float) -> None:
        """A round frame's lace is a straight line of the holes' place, off the wall and on it."""
        for turnover in (40.0, 15.0):
            w = with_numbers(workings_of(changed(frame_depth="70 mm")), head_turnover=turnover)
            moved = with_numbers(w, head_turnover=turnover + shift)
            assert w["lace.net_length"] - moved["lace.net_length"] == pytest.approx(w["lace.net_per_inset"] * shift)

    @pytest.mark.parametrize(("percent", "share"), [("20 %", 1.2), ("45 %", 1.45)])
    def test_handle(self, percent: str, share: float) -> None:
        """The same as wrapping the handle with thicker lace."""
        w = workings_of({**changed(), **NONE, "tolerances.thickness": percent})
        thick = with_numbers(w, lace_thickness=share * w.spec.number("lace.thickness"))
        thin = with_numbers(w, lace_thickness=(2 - share) * w.spec.number("lace.thickness"))
        assert w["lace.net_high"] == pytest.approx(thick["lace.net_length"])
        assert w["lace.net_low"] == pytest.approx(thin["lace.net_length"])
