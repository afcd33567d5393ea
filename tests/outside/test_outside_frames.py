"""Frames made in the shop against published tables and sizes.

Sources: Wood Handbook, USDA Forest Products Laboratory, FPL-GTR-190, table 13-5 (dimensional change coefficients) and
table 4-2 (moisture by humidity); Lemoine and Koch 1971, Forest Products Journal 21(4) (bending radii); Bangladesh
Forest Research Institute, steam bending properties of twenty timbers (steam times); tables of regular polygons.
"""

from __future__ import annotations

import math

import pytest

from drums import Fields, changed, workings_of
from tauthide.quantities.movement import COEFFICIENTS

# Radial and tangential, per one percent of moisture, as printed in table 13-5.
TABLE_13_5 = {
    "ash": (0.00169, 0.00274),  # ash, white
    "basswood": (0.00230, 0.00330),  # basswood, American
    "beech": (0.00190, 0.00431),  # beech, American
    "birch": (0.00256, 0.00338),  # birch, yellow
    "cherry": (0.00126, 0.00248),  # cherry, black
    "elm": (0.00144, 0.00338),  # elm, American
    "maple": (0.00165, 0.00353),  # maple, sugar
    "red_oak": (0.00158, 0.00369),  # red oak, commercial
    "walnut": (0.00190, 0.00274),  # walnut, black
    "white_oak": (0.00180, 0.00365),  # white oak, commercial
}

MOISTURE_AT_30, MOISTURE_AT_70 = 6.2, 13.1
"""Table 4-2 at 70 degrees F, percent."""

BENT = changed(frame_make="bent")
STAVES = changed(frame_make="staves")


def polygon(sides: int, across: str = "360 mm") -> Fields:
    frame: Fields = {"frame.outline": "polygon", "frame.sides": sides, "frame.across_flats": across}
    return {path: leaf for path, leaf in {**STAVES, **frame}.items() if path != "frame.diameter"}


def test_coefficients() -> None:
    """Wood Handbook, table 13-5: the two lists were typed apart from each other."""
    assert dict(COEFFICIENTS) == TABLE_13_5


@pytest.mark.parametrize("species", TABLE_13_5)
@pytest.mark.parametrize(("sawn", "across_the_rings"), [("flat", 1), ("quarter", 0)])
def test_depth_moves_as_the_handbook_says(species: str, sawn: str, across_the_rings: int) -> None:
    """Change = size x coefficient x change of moisture, with the handbook's own moistures; 0.3 % is Simpson's room."""
    w = workings_of({**BENT, "wood.species": species, "wood.sawn": sawn, "frame.depth": "100 mm"})
    rate = TABLE_13_5[species][across_the_rings]
    assert w["wood.depth_dry"] - 100 == pytest.approx(100 * rate * (MOISTURE_AT_30 - 8), abs=100 * rate * 0.3)
    assert w["wood.depth_damp"] - 100 == pytest.approx(100 * rate * (MOISTURE_AT_70 - 8), abs=100 * rate * 0.3)


def test_moistures() -> None:
    """Wood Handbook, table 4-2, within 0.3 % of Simpson's formula."""
    w = workings_of(BENT)
    assert 100 * w["wood.dry_moisture"] == pytest.approx(MOISTURE_AT_30, abs=0.3)
    assert 100 * w["wood.damp_moisture"] == pytest.approx(MOISTURE_AT_70, abs=0.3)


@pytest.mark.parametrize(("inside", "share"), [(96.0, 1 / 12), (128.0, 1 / 16)])
def test_bending_radii(inside: float, share: float) -> None:
    """Lemoine and Koch: 12 thicknesses for three in four good, 16 for nearly all; 8 mm bent to 96 and 128 mm."""
    w = workings_of({**BENT, "frame.diameter": f"{2 * (inside + 8)} mm", "stations.count": 8})
    assert w["bend.radius"] == pytest.approx(inside)
    assert w["bend.wall_share"] == pytest.approx(share)


def test_steam_times() -> None:
    """Half an inch: 15 min by half an hour an inch (Wood Handbook, from memory), an hour by the Bangladesh tests."""
    fields = {**BENT, "frame.diameter": "24 in", "stations.count": 24, "frame.wall": "12.7 mm"}
    w = workings_of({**fields, "bending.planing": "0 mm", "wood.moisture": "8 %", "bending.moisture": "8 %",
                     "head.turnover": "45 mm"})  # fmt: skip
    assert w["bend.strip_thickness"] == pytest.approx(12.7)
    assert (w["bend.steam_least"], w["bend.steam_most"]) == pytest.approx((15, 60))


@pytest.mark.parametrize(("count", "factor"), [(8, 2.41421), (12, 3.73205), (16, 5.02734)])
def test_side_by_cotangent(count: int, factor: float) -> None:
    """Tables of regular polygons: across flats over side = cot(pi / n); mitre 180 / n."""
    w = workings_of({**STAVES, "staves.count": count, "staves.planing": "0 mm", "frame.diameter": "360 mm"})
    assert w["stave.outer"] == pytest.approx(360 / factor, rel=2e-6)
    assert w["stave.mitre"] == 180 / count


@pytest.mark.parametrize("fields", [STAVES, {**STAVES, "staves.count": 5}, {**STAVES, "staves.thickness": "20 mm"}])
def test_the_round_ring_lies_within_the_glued_one(fields: Fields) -> None:
    """Plane geometry, by points: every place of the finished wall lies in the staves, and at the least only just."""
    w = workings_of(fields)
    count, outside = round(w["stave.count"]), w.given("frame.diameter") / 2
    inside = outside - w.given("frame.wall")
    apothem = w["stave.ring_across"] / 2
    least = math.inf
    for index in range(7200):
        # The direction of a place of the wall, as an angle from the middle of the nearest stave.
        turn = (2 * math.pi * index / 7200 + math.pi / count) % (2 * math.pi / count) - math.pi / count
        assert outside * math.cos(turn) <= apothem + 1e-9
        least = min(least, inside * math.cos(turn) - (apothem - w["stave.thickness"]))
    planing = w.given("staves.planing")
    if w.has("staves.thickness"):
        assert least > planing
    else:
        assert least == pytest.approx(planing * math.cos(math.pi / count), abs=1e-4)


def test_an_octagon_s_staves_close() -> None:
    """Eight staves turned by two mitres each come back to where they began, outside and inside."""
    w = workings_of(polygon(8))
    for name in ("stave.outer", "stave.inner"):
        x = y = heading = 0.0
        for _ in range(8):
            x += w[name] * math.cos(math.radians(heading))
            y += w[name] * math.sin(math.radians(heading))
            heading += 2 * w["stave.mitre"]
        assert math.hypot(x, y) == pytest.approx(0, abs=1e-9)
    assert (w["stave.outer"] - w["stave.inner"]) / 2 == pytest.approx(
        w["stave.thickness"] * math.tan(math.radians(w["stave.mitre"]))
    )


def test_mitres_open_as_the_handbook_s_coefficients_have_it() -> None:
    """A mitre of a piece that grows thicker but no longer turns: its gap, by the corner points before and after."""
    w = workings_of({**STAVES, "staves.count": 4, "staves.thickness": "60 mm"})
    grown = 60 * (1 + 0.00169 * 100 * (w["wood.damp_moisture"] - 0.08))
    run = 60 * math.tan(math.radians(45))
    turned = math.atan(run / 60) - math.atan(run / grown)
    gap = 2 * turned * math.hypot(60, run)
    assert w["stave.joint_moves"] == pytest.approx(gap, rel=0.02)
