"""How small, large, near and far things may be; all of it workshop practice, from memory, no published source."""

from __future__ import annotations

LEAST_AREA_DM2 = 1
"""A skin that is smaller is a scrap, and not worth a grid."""
MOST_AREA_M2 = 10
"""Twice a large ox's hide."""
LEAST_SPINE_MM = 50.0
"""A shorter line's direction can be told only badly."""
LEAST_FIXED_MM = 100.0
"""How far apart the two points for the tape must be."""
MOST_FIXED_MM = 1000.0
"""How far beside the skin a point for the tape may lie."""
SQUARES_BESIDE = 0.5
"""A point read off a grid at the skin's edge may come out so many squares beside it."""
MOST_DRUMS = 1000
"""In one run; a plan is made in reasonable time for half of it."""
