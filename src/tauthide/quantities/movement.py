"""How the wood of a frame made in the shop swells and shrinks between the bench and where the drum is played.

Coefficients are changes of size for one percent of moisture. Along the grain wood hardly moves, so a ring keeps its
length round the middle of its wall, and grows across by what its wall grows.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from tauthide.figures import FigureSet, Workings
from tauthide.quantities.wood import moisture_content

FIGURES = FigureSet()

COEFFICIENTS: Mapping[str, tuple[float, float]] = MappingProxyType(
    {
        "ash": (0.00169, 0.00274),
        "basswood": (0.00230, 0.00330),
        "beech": (0.00190, 0.00431),
        "birch": (0.00256, 0.00338),
        "cherry": (0.00126, 0.00248),
        "elm": (0.00144, 0.00338),
        "maple": (0.00165, 0.00353),
        "red_oak": (0.00158, 0.00369),
        "walnut": (0.00190, 0.00274),
        "white_oak": (0.00180, 0.00365),
    }
)
"""Change of size for each percent of moisture, radial (across the growth rings) and tangential (along them): white
ash, American basswood, American beech, yellow birch, black cherry, American elm, sugar maple, commercial red oak, black
walnut, commercial white oak. Source: Wood Handbook, FPL-GTR-190, table 13-5, for moisture of 6 to 14 %."""

LENGTHWISE = 0.00007
"""Change along the grain for each percent of moisture: 0.2 % from green to oven-dry, at the most, over the 30 % or so
below which wood shrinks. Wood Handbook, FPL-GTR-190, chapter 4, from memory."""

ROOM_C = 20.0
"""Temperature of the rooms that the drum is played in; a few degrees matter little. By definition here."""

TEN = 10.0
"""Rates are for so many percent of moisture, so that they can be read."""

MOVEMENT = "Wood Handbook, FPL-GTR-190, table 13-5 and equation 13-2"
SETTLES = "Simpson 1998, FPL-RN-0268, at 20 °C"


def is_made(w: Workings) -> bool:
    """Tell whether the frame is made in the shop, in a way that its outline allows."""
    return is_bent(w) or is_of_staves(w)


def is_bent(w: Workings) -> bool:
    """Tell whether the frame is bent from a strip; one with corners cannot be."""
    return w.word("frame.make") == "bent" and w.word("frame.outline") != "polygon"


def is_of_staves(w: Workings) -> bool:
    """Tell whether the frame is glued up from staves; an oval cannot be, from equal ones."""
    return w.word("frame.make") == "staves" and w.word("frame.outline") != "oval"


def coefficients(w: Workings) -> tuple[float, float]:
    """Return the change for one percent of moisture, of the wall's thickness and of the frame's depth.

    A flat-sawn board is radial through its thickness and tangential across its width, a quarter-sawn one otherwise.
    """
    radial, tangential = COEFFICIENTS[w.word("wood.species")]
    return (radial, tangential) if w.word("wood.sawn") == "flat" else (tangential, radial)


@FIGURES.figure("wood.wall_rate", "1", "percentage", "The wall gets thicker, for ten percent more moisture, by",
                "ten times the coefficient of the species, radial where the rings lie flat", MOVEMENT,
                is_made)  # fmt: skip
def wall_rate(w: Workings) -> float:
    """Return the change of the wall's thickness for ten percent of moisture, as a share of it."""
    return TEN * coefficients(w)[0]


@FIGURES.figure("wood.depth_rate", "1", "percentage", "The frame gets deeper, for ten percent more moisture, by",
                "ten times the coefficient of the species, tangential where the rings lie flat", MOVEMENT,
                is_made)  # fmt: skip
def depth_rate(w: Workings) -> float:
    """Return the change of the frame's depth for ten percent of moisture, as a share of it."""
    return TEN * coefficients(w)[1]


@FIGURES.figure("wood.dry_moisture", "1", "percentage", "Moisture that the wood settles to in the driest air",
                "by the humidity driest at 20 °C", SETTLES, is_made)  # fmt: skip
def dry_moisture(w: Workings) -> float:
    """Return the moisture in the driest air."""
    return moisture_content(ROOM_C, w.given("wood.driest"))


@FIGURES.figure("wood.damp_moisture", "1", "percentage", "Moisture that the wood settles to in the dampest air",
                "by the humidity dampest at 20 °C", SETTLES, is_made)  # fmt: skip
def damp_moisture(w: Workings) -> float:
    """Return the moisture in the dampest air."""
    return moisture_content(ROOM_C, w.given("wood.dampest"))


def grown(size_mm: float, rate: float, change: float) -> float:
    """Return a size after its moisture, a fraction, has changed; `rate` is for ten percent."""
    return size_mm * (1 + TEN * rate * change)


_WIDTHS = {"round": "frame.diameter", "polygon": "frame.across_flats", "oval": "frame.length"}


def _across(w: Workings, moisture: float) -> float:
    """Return how wide the frame is at a moisture: its length round the middle of the wall keeps but for the grain."""
    change = moisture - w.given("wood.moisture")
    wall, across = w.given("frame.wall"), w.given(_WIDTHS[w.word("frame.outline")])
    return grown(across - wall, TEN * LENGTHWISE, change) + grown(wall, w["wood.wall_rate"], change)


_ROUND = "round: (diameter - wall) (1 + 0.007 x {m}) + wall (1 + 10 x wood.wall_rate x {m})"
_FLATS = "polygon: (across_flats - wall) (1 + 0.007 x {m}) + wall (1 + 10 x wood.wall_rate x {m})"
_OVAL = "oval: (length - wall) (1 + 0.007 x {m}) + wall (1 + 10 x wood.wall_rate x {m})"
_ACROSS = "; ".join((_ROUND, _FLATS, _OVAL))
_DRIED, _DAMPED = "(wood.dry_moisture - wood.moisture)", "(wood.damp_moisture - wood.moisture)"


@FIGURES.figure("wood.depth_dry", "mm", "fine_length", "Depth of the frame in the driest air",
                f"depth (1 + 10 x wood.depth_rate x {_DRIED})", MOVEMENT,
                is_made)  # fmt: skip
def depth_dry(w: Workings) -> float:
    """Return the depth in the driest air."""
    return grown(w.given("frame.depth"), w["wood.depth_rate"], w["wood.dry_moisture"] - w.given("wood.moisture"))


@FIGURES.figure("wood.depth_damp", "mm", "fine_length", "Depth of the frame in the dampest air",
                f"depth (1 + 10 x wood.depth_rate x {_DAMPED})", MOVEMENT,
                is_made)  # fmt: skip
def depth_damp(w: Workings) -> float:
    """Return the depth in the dampest air."""
    return grown(w.given("frame.depth"), w["wood.depth_rate"], w["wood.damp_moisture"] - w.given("wood.moisture"))


@FIGURES.figure("wood.across_dry", "mm", "fine_length", "Across the frame in the driest air",
                _ACROSS.format(m=_DRIED), MOVEMENT, is_made)  # fmt: skip
def across_dry(w: Workings) -> float:
    """Return how wide the frame is in the driest air: diameter, across flats, or an oval's length."""
    return _across(w, w["wood.dry_moisture"])


@FIGURES.figure("wood.across_damp", "mm", "fine_length", "Across the frame in the dampest air",
                _ACROSS.format(m=_DAMPED), MOVEMENT, is_made)  # fmt: skip
def across_damp(w: Workings) -> float:
    """Return how wide the frame is in the dampest air: diameter, across flats, or an oval's length."""
    return _across(w, w["wood.damp_moisture"])
