"""What a station holds before the skin tears, by several rules, dry and wet: the lowest counts.

The lace pulls the holes of a turned-in skin towards the skin's own edge, so the margin lies in the direction
of the load and the web across it. Rules for metal flatter skin, whose fibres part one after the other: hence the
limit scaled from a tear test on leather. Loads are per station, that is for both holes. All of it is an estimate.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import sqrt
from types import MappingProxyType
from typing import Literal

from tauthide.figures import OWN_DEFINITION, FigureSet, Workings
from tauthide.geometry.blank import is_round
from tauthide.quantities.voice import has_voice
from tauthide.spec.defaults import WORKSHOP

FIGURES = FigureSet()

BLOCK_TEARING = "block tearing, EN 1993-1-8, 3.10.2: tension over the net width, shear at 1 / sqrt 3 along the sides"
TEAR_OUT = "tear-out at bolt holes, AISC 360, J3.10: 1.2 x clear distance x thickness x strength (from memory)"
BEARING = "bearing of bolts, EN 1993-1-8, table 3.4, without partial factor"
STITCH = "two-hole stitch tear test (scope of ASTM D4705): load over thickness, scaled by block path"

State = Literal["dry", "wet"]

SHEAR = 1 / sqrt(3)
"""Shear strength over tensile strength (von Mises), as EN 1993-1-8 has it."""

TEAR_OUT_FACTOR = 1.2
HOLES = 2

END_FACTOR = 3.0
PITCH_OFFSET = 0.25
"""Of bearing, along the load: e1 / (3 d0) at an end, p1 / (3 d0) - 1/4 inside."""

K1_EDGE, K1_PITCH, K1_OFFSET, K1_MOST = 2.8, 1.4, 1.7, 2.5
"""Of bearing, across the load: 2.8 e2 / d0 - 1.7, 1.4 p2 / d0 - 1.7, 2.5 at most."""

K1_LEAST = 0.1
"""Short of the least distances the formula for k1 runs out, down to less than nothing; so far we follow it."""

LEAST_EDGE, LEAST_PITCH_ALONG, LEAST_PITCH_ACROSS = 1.2, 2.2, 2.4
"""Least distances over the hole's diameter, EN 1993-1-8, table 3.3: e1 and e2; p1; p2."""

TEST_HOLE_MM, TEST_SPACING_MM, TEST_EDGE_MM = 2.0, 6.0, 6.0
"""The stitch tear test: two holes of 2 mm, middles 6 mm apart, 6 mm from the edge."""


def block_path(web_mm: float, margin_mm: float) -> float:
    """Return the length that tears with a block: the web in tension and two margins in shear, in mm."""
    return web_mm + 2 * margin_mm * SHEAR


TEST_PATH_MM = block_path(TEST_SPACING_MM - TEST_HOLE_MM, TEST_EDGE_MM - TEST_HOLE_MM / 2)
"""Block path of the stitch tear test, 9.77 mm."""


def bearing_load(
    strength_n_mm2: float, thickness_mm: float, bolt_mm: float, hole_mm: float, end_mm: float, *, k1: float = K1_MOST
) -> float:
    """Return the load in N that one bolt at an end bears, without partial factor.

    `end_mm` is from the hole's middle to the end in the direction of the load. Source: EN 1993-1-8, table 3.4.
    """
    along = min(end_mm / (END_FACTOR * hole_mm), 1.0)
    return k1 * along * strength_n_mm2 * bolt_mm * thickness_mm


def inner_bearing_load(
    strength_n_mm2: float, thickness_mm: float, bolt_mm: float, hole_mm: float, pitch_mm: float, *, k1: float = K1_MOST
) -> float:
    """Return the load in N that an inner bolt bears; `pitch_mm` is from hole to hole in the load's direction.

    Source: EN 1993-1-8, table 3.4.
    """
    along = min(pitch_mm / (END_FACTOR * hole_mm) - PITCH_OFFSET, 1.0)
    return k1 * along * strength_n_mm2 * bolt_mm * thickness_mm


def pitch_factor(pitch_mm: float, hole_mm: float) -> float:
    """Return k1 of bearing for holes a pitch apart across the load. Source: EN 1993-1-8, table 3.4."""
    return min(max(K1_PITCH * pitch_mm / hole_mm - K1_OFFSET, K1_LEAST), K1_MOST)


def edge_factor(edge_mm: float, hole_mm: float) -> float:
    """Return k1 of bearing for holes that near an edge across the load. Source: EN 1993-1-8, table 3.4."""
    return min(max(K1_EDGE * edge_mm / hole_mm - K1_OFFSET, K1_LEAST), K1_MOST)


@dataclass(frozen=True, slots=True)
class _Skin:
    """The skin of the head in one state."""

    strength_n_mm2: float
    thickness_mm: float


def _dry(w: Workings) -> _Skin:
    return _Skin(w.given("hide.dry_strength"), w.given("head.dry_thickness"))


def _wet(w: Workings) -> _Skin:
    return _Skin(w.given("hide.wet_strength"), w.given("head.thickness"))


def _block(w: Workings, skin: _Skin) -> float:
    return skin.strength_n_mm2 * skin.thickness_mm * block_path(w["holes.web"], w["holes.margin"])


def _tear_out(w: Workings, skin: _Skin) -> float:
    return HOLES * TEAR_OUT_FACTOR * w["holes.margin"] * skin.thickness_mm * skin.strength_n_mm2


def _bearing(w: Workings, skin: _Skin) -> float:
    hole = w.given("stations.hole")
    bolt = min(w.given("lace.width"), hole)
    k1 = pitch_factor(w["holes.pair_spacing"], hole)
    end = w["holes.edge_distance"]
    return HOLES * bearing_load(skin.strength_n_mm2, skin.thickness_mm, bolt, hole, end, k1=k1)


def _stitch(w: Workings, tear_n_mm: float, thickness_mm: float) -> float:
    return tear_n_mm * thickness_mm * block_path(w["holes.web"], w["holes.margin"]) / TEST_PATH_MM


@FIGURES.figure("hold.block", "N", "force", "A station holds, dry, by block tearing (estimate)",
                "dry_strength dry_thickness (holes.web + 2 holes.margin / sqrt 3)", BLOCK_TEARING,
                is_round)  # fmt: skip
def block(w: Workings) -> float:
    """Return the block tearing load, dry."""
    return _block(w, _dry(w))


@FIGURES.figure("hold.tear_out", "N", "force", "A station holds, dry, by tear-out of its holes (estimate)",
                "2 x 1.2 holes.margin dry_thickness dry_strength", TEAR_OUT, is_round)  # fmt: skip
def tear_out(w: Workings) -> float:
    """Return the load at which both holes tear out to the edge, dry."""
    return _tear_out(w, _dry(w))


@FIGURES.figure("hold.bearing", "N", "force", "A station holds, dry, by bearing in its holes (estimate)",
                "2 k1 min(holes.edge_distance / (3 hole), 1) dry_strength min(lace width, hole) dry_thickness,"
                " k1 = min(max(1.4 holes.pair_spacing / hole - 1.7, 0.1), 2.5)", BEARING, is_round)  # fmt: skip
def bearing(w: Workings) -> float:
    """Return the bearing load of both holes, dry."""
    return _bearing(w, _dry(w))


@FIGURES.figure("hold.stitch", "N", "force", "A station holds, dry, by the stitch tear test (estimate)",
                "stitch_tear dry_thickness (holes.web + 2 holes.margin / sqrt 3) / 9.77 mm: the same path in the test",
                STITCH, is_round)  # fmt: skip
def stitch(w: Workings) -> float:
    """Return the load by the stitch tear test, scaled by block path, dry."""
    return _stitch(w, w.given("hide.stitch_tear"), w.given("head.dry_thickness"))


@FIGURES.figure("hold.block_wet", "N", "force", "A station holds, wet, by block tearing (estimate)",
                "wet_strength thickness (holes.web + 2 holes.margin / sqrt 3)", BLOCK_TEARING, is_round)  # fmt: skip
def block_wet(w: Workings) -> float:
    """Return the block tearing load, wet."""
    return _block(w, _wet(w))


@FIGURES.figure("hold.tear_out_wet", "N", "force", "A station holds, wet, by tear-out of its holes (estimate)",
                "2 x 1.2 holes.margin thickness wet_strength", TEAR_OUT, is_round)  # fmt: skip
def tear_out_wet(w: Workings) -> float:
    """Return the load at which both holes tear out to the edge, wet."""
    return _tear_out(w, _wet(w))


@FIGURES.figure("hold.bearing_wet", "N", "force", "A station holds, wet, by bearing in its holes (estimate)",
                "2 k1 min(holes.edge_distance / (3 hole), 1) wet_strength min(lace width, hole) head.thickness,"
                " k1 = min(max(1.4 holes.pair_spacing / hole - 1.7, 0.1), 2.5)", BEARING, is_round)  # fmt: skip
def bearing_wet(w: Workings) -> float:
    """Return the bearing load of both holes, wet."""
    return _bearing(w, _wet(w))


@FIGURES.figure("hold.stitch_wet", "N", "force", "A station holds, wet, by the stitch tear test (estimate)",
                "stitch_tear wet_strength / dry_strength head.thickness (holes.web + 2 holes.margin / sqrt 3)"
                " / 9.77 mm: the same path in the test", STITCH, is_round)  # fmt: skip
def stitch_wet(w: Workings) -> float:
    """Return the load by the stitch tear test, wet: tear taken to fall off as the breaking stress does."""
    tear = w.given("hide.stitch_tear") * w.given("hide.wet_strength") / w.given("hide.dry_strength")
    return _stitch(w, tear, w.given("head.thickness"))


RULES: Mapping[State, Mapping[str, str]] = MappingProxyType(
    {
        "dry": MappingProxyType(
            {
                "hold.block": "block tearing",
                "hold.tear_out": "tear-out of the holes",
                "hold.bearing": "bearing in the holes",
                "hold.stitch": "the stitch tear test",
            }
        ),
        "wet": MappingProxyType(
            {
                "hold.block_wet": "block tearing",
                "hold.tear_out_wet": "tear-out of the holes",
                "hold.bearing_wet": "bearing in the holes",
                "hold.stitch_wet": "the stitch tear test",
            }
        ),
    }
)
"""For each state of the skin the figures of which the lowest counts, each with its rule in a maker's words."""


def governing_rule(w: Workings, state: State = "dry") -> str:
    """Return the name of the figure that is lowest in a state, the first of several; see `RULES` for its words."""
    return min(RULES[state], key=lambda name: w[name])


@FIGURES.figure("hold.dry", "N", "force", "A station holds, dry: the lowest of all rules (estimate)",
                "min(hold.block, hold.tear_out, hold.bearing, hold.stitch)", OWN_DEFINITION, is_round)  # fmt: skip
def hold_dry(w: Workings) -> float:
    """Return the lowest load by any rule, dry."""
    return min(w[name] for name in RULES["dry"])


@FIGURES.figure("hold.wet", "N", "force", "A station holds, wet: the lowest of all rules (estimate)",
                "min(hold.block_wet, hold.tear_out_wet, hold.bearing_wet, hold.stitch_wet)",
                OWN_DEFINITION, is_round)  # fmt: skip
def hold_wet(w: Workings) -> float:
    """Return the lowest load by any rule, wet."""
    return min(w[name] for name in RULES["wet"])


@FIGURES.figure("hold.use_dry", "1", "percentage", "Of what a station holds, dry, in use with safety (estimate)",
                "pull.station safety / hold.dry", WORKSHOP, has_voice)  # fmt: skip
def use_dry(w: Workings) -> float:
    """Return the share of the dry limit that the pull with its safety factor uses."""
    return w["pull.station"] * w.given("voice.safety") / w["hold.dry"]


@FIGURES.figure("hold.use_wet", "1", "percentage", "Of what a station holds, wet, in use with safety (estimate)",
                "pull.station pull.wet_share safety / hold.wet", WORKSHOP, has_voice)  # fmt: skip
def use_wet(w: Workings) -> float:
    """Return the share of the wet limit that the pull by hand with its safety factor uses."""
    return w["pull.station"] * w["pull.wet_share"] * w.given("voice.safety") / w["hold.wet"]
