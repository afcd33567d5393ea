"""What lacings share whose strands meet behind the middle of the head."""

from __future__ import annotations

from math import hypot

from tauthide.figures import Workings
from tauthide.geometry.blank import outline_of
from tauthide.geometry.holes import Pair

WORST_CASE = "worst case: every tolerance at the end that counts, all at once (definition)"


def saved_per_inset(w: Workings) -> float:
    """Return by how many mm the strands together shrink for each mm that the holes move in, at the most.

    On a round frame, and on any where the holes move along the wall, a strand to the hub shrinks mm by mm; on an oval
    by very little less, since stations move along the normal; at a polygon's corners by more, since they move along
    the ray.
    """
    if w.word("frame.outline") != "polygon":
        return w["lace.strands"]
    pairs: tuple[Pair, ...] = w.shape("holes.mounted")
    to_side = outline_of(w).least_radius_mm - w["holes.mounted_inset"]
    slants = [hypot(*point) / to_side for pair in pairs for point in (pair.a, pair.b)]
    return w["lace.strands"] * sum(slants) / len(slants)
