"""Ordinary shapes of skins, for makers who measure length and width only.

Workshop practice, from memory, no published source: a skin taken off with a cut along the belly and laid flat, its
tail down. Numbers are shares: across, of half the width, from the spine; up, of the length, from the tail.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Shape:
    """A shape at some size: in shares as it stands below, in mm once it has its size."""

    outline_mm: tuple[Point, ...]
    """n points, anticlockwise, closing point not repeated."""
    spine_mm: tuple[Point, Point]
    """The end at the tail, then the end at the neck."""
    weak_mm: tuple[tuple[str, tuple[Point, ...]], ...]
    """Each weak region with its name; laces may be cut from them."""


@dataclass(frozen=True, slots=True)
class Pattern:
    """An ordinary shape without its size."""

    right: tuple[Point, ...]
    """The edge right of the spine, from tail to neck: shares of the half width and of the length."""
    weak: tuple[tuple[str, tuple[Point, ...]], ...]
    """Weak regions right of the spine, in the same shares."""
    mirrored: bool
    """Whether the left half is its mirror image; else the skin ends at the spine."""

    def of_size(self, length_mm: float, width_mm: float) -> Shape:
        """Return the shape in mm, its lowest point on y = 0 and its leftmost on x = 0.

        `width_mm` is the whole width; of a side, from the spine to the belly's edge.
        """
        half_mm = width_mm / 2 if self.mirrored else width_mm
        spine_mm = half_mm if self.mirrored else 0.0

        def put(points: tuple[Point, ...], side: int) -> tuple[Point, ...]:
            placed = tuple((spine_mm + side * x * half_mm, y * length_mm) for x, y in points)
            return placed if side > 0 else tuple(reversed(placed))

        sides = (1, -1) if self.mirrored else (1,)
        tail, neck = ((spine_mm, self.right[end][1] * length_mm) for end in (0, -1))
        outline = tuple(point for side in sides for point in put(self.right, side))
        if not self.mirrored:
            outline = (tail, *outline, neck)
        weak = tuple((name, put(points, side)) for name, points in self.weak for side in sides)
        return Shape(outline, (tail, neck), weak)


_WHOLE: tuple[Point, ...] = (
    (0.12, 0.04),  # beside the tail
    (0.55, 0.06),
    (0.80, 0.00),  # hind shank
    (1.00, 0.06),
    (0.86, 0.20),
    (0.74, 0.32),  # flank
    (0.80, 0.48),  # belly
    (0.78, 0.62),
    (0.98, 0.74),  # fore shank
    (0.94, 0.85),
    (0.64, 0.84),  # shoulder
    (0.42, 0.90),  # neck
    (0.38, 1.00),
)
_TRIMMED: tuple[Point, ...] = (
    (0.50, 0.00),
    (0.84, 0.05),
    (1.00, 0.18),
    (0.94, 0.38),
    (0.94, 0.55),
    (1.00, 0.72),
    (0.86, 0.88),
    (0.55, 1.00),
)
_NECK_AND_SHANKS: tuple[tuple[str, tuple[Point, ...]], ...] = (
    ("shank", ((0.68, 0.03), (0.80, 0.00), (1.00, 0.06), (0.88, 0.175))),
    ("shank", ((0.80, 0.632), (0.98, 0.74), (0.94, 0.85), (0.78, 0.846))),
    ("neck", ((0.00, 0.90), (0.42, 0.90), (0.38, 1.00), (0.00, 1.00))),
)

SHAPES: Mapping[str, Pattern] = MappingProxyType(
    {
        "whole": Pattern(_WHOLE, _NECK_AND_SHANKS, mirrored=True),
        "side": Pattern(_WHOLE, _NECK_AND_SHANKS, mirrored=False),
        "trimmed": Pattern(_TRIMMED, (), mirrored=True),
    }
)
"""The ordinary shapes by name."""
