"""What every outline can do, and the making of one by its kind.

An outline is the outside edge of a frame: a closed convex curve about (0, 0), x right, y up, its own
mirror image about the y axis. It starts at its lowest point, on the y axis, and runs anticlockwise;
for numbering the other way, mirror x.

Curves at a distance: at an *offset* d the outline is pushed out by d mm (pulled in where d is below
0). A place on such a curve is an *arc*: mm along that curve from its own lowest point, of any size
and sign, counted on beyond the perimeter.

A further outline is a module of its own with a class of these methods, and a line in `OUTLINES`.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import ClassVar, Protocol

from tauthide.geometry.curves import ClosedPath, Point
from tauthide.geometry.oval import OvalOutline
from tauthide.geometry.polygon import PolygonOutline
from tauthide.geometry.round import RoundOutline


class Outline(Protocol):
    """The outside edge of a frame. Offsets must lie above minus `least_radius_mm`, else ValueError."""

    kind: ClassVar[str]
    """The word for it: `round`, `oval`, `polygon`."""

    @property
    def perimeter_mm(self) -> float:
        """Length round the frame."""

    @property
    def area_mm2(self) -> float:
        """Area inside the frame's outline."""

    @property
    def least_radius_mm(self) -> float:
        """Least radius of curvature; of a polygon, the distance from the centre to a side."""

    def length_at(self, offset_mm: float) -> float:
        """Extent in y of the curve at an offset, in mm."""

    def width_at(self, offset_mm: float) -> float:
        """Extent in x of the curve at an offset, in mm."""

    def perimeter_at(self, offset_mm: float) -> float:
        """Length round the curve at an offset, in mm."""

    def area_at(self, offset_mm: float) -> float:
        """Area inside the curve at an offset, in mm2."""

    def stations(self, count: int) -> tuple[float, ...]:
        """Divide the frame's perimeter equally: n arcs at offset 0, from station 1 at arc 0 on."""

    def carry(self, station_mm: float, offset_mm: float) -> float:
        """Carry an arc of the frame to the curve at an offset: the arc there.

        Along the normal on an oval, along the ray from the centre on a polygon; a circle's are the same.
        """

    def point(self, offset_mm: float, arc_mm: float) -> Point:
        """The point (x, y) at an arc of the curve at an offset."""

    def normal(self, offset_mm: float, arc_mm: float) -> Point:
        """Outward unit normal (x, y) at an arc of the curve at an offset."""

    def advance(self, offset_mm: float, arc_mm: float, chord_mm: float) -> float:
        """The first arc further along whose point lies at a straight distance from that of `arc_mm`.

        Backwards for a chord below 0. To 1e-10 mm. ValueError where no point lies so far away.
        """

    def straddle(self, offset_mm: float, arc_mm: float, chord_mm: float) -> tuple[float, float]:
        """Two arcs, the one before first, at equal lengths of curve from `arc_mm` and a chord apart.

        To 1e-10 mm. ValueError for a chord below 0 or longer than fits.
        """

    def path(self, offset_mm: float) -> ClosedPath:
        """The curve at an offset as a pen draws it, from its lowest point; within 0.01 mm."""


OUTLINES: Mapping[str, Callable[[Mapping[str, float]], Outline]] = MappingProxyType(
    {
        RoundOutline.kind: RoundOutline.from_sizes,
        OvalOutline.kind: OvalOutline.from_sizes,
        PolygonOutline.kind: PolygonOutline.from_sizes,
    }
)
"""How an outline of each kind is made from its named sizes."""


def make_outline(kind: str, **sizes: float) -> Outline:
    """Make an outline of a kind from its sizes.

    `round` takes `diameter_mm`; `oval` `length_mm` and `width_mm`; `polygon` `sides` and
    `across_flats_mm`; further sizes are ignored. Raises KeyError for an unknown kind or a missing size,
    ValueError for a size that is not above 0.
    """
    return OUTLINES[kind](sizes)
