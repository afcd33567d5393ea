"""What is wrong with a skin: edges that cross themselves, and things outside its outline."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import islice

from tauthide.findings import Finding
from tauthide.reading.located import Located, Path
from tauthide.runs import faults
from tauthide.runs.limits import (
    LEAST_AREA_DM2,
    LEAST_FIXED_MM,
    LEAST_SPINE_MM,
    MOST_AREA_M2,
    MOST_FIXED_MM,
    SQUARES_BESIDE,
)
from tauthide.runs.polygons import crossings, distance_outside, overlap, repeats
from tauthide.runs.skins import Circle, Point, Ring, Skin, read_points, twice_area
from tauthide.runs.values import found_at, value_at
from tauthide.schema.wording import dotted
from tauthide.units import metric_long_length

MM2_PER_DM2 = 100.0**2
MM2_PER_M2 = 1000.0**2
MOST_CROSSINGS = 3
"""Of one ring's crossings so many are told one by one."""


def judge_skin(skin: Skin, located: Located) -> Iterator[Finding]:
    """Yield what is wrong with a skin whose fields are well formed."""
    found = list(_judge_rings(skin, located))
    yield from found
    yield from _judge_lines(skin, located)
    if any(finding.path.startswith("outline") for finding in found):
        return  # where the edge is not known, nothing can be told to lie outside
    sizes = list(_judge_size(skin, located))
    yield from sizes
    if not sizes:
        yield from _judge_regions(skin, located, {finding.path.rpartition(".")[0] for finding in found})
        yield from _judge_points(skin, located)


def _judge_rings(skin: Skin, located: Located) -> Iterator[Finding]:
    """Hold every ring that the maker wrote against itself."""
    rings: list[tuple[Path, str, Sequence[Point]]] = []
    if not skin.shape:
        path: Path = ("outline", "points")
        rings.append((path, "the outline", read_points(value_at(located.data, path), skin.grid_mm)))
    for index, flaw in enumerate(skin.flaws):
        if isinstance(flaw.region, Ring):
            rings.append((("flaws", index, "points"), f"this {_flaw_name(flaw.kind)}", flaw.region.points_mm))
    if "weak" in located.data:
        for index, weak in enumerate(skin.weak):
            rings.append((("weak", index, "points"), f"the {_region_name(weak.region)}", weak.ring.points_mm))
    for path, name, points in rings:
        yield from _judge_ring(located, path, name, points)


def _judge_ring(located: Located, path: Path, name: str, points: Sequence[Point]) -> Iterator[Finding]:
    same = list(repeats(points))
    for index, other in same:
        yield found_at(located, faults.POINT_REPEATED, (*path, index), ring=name, number=index + 1, other=other + 1)
    if same:
        return
    found = sorted(islice(crossings(points), MOST_CROSSINGS + 1))
    for number, (i, j) in enumerate(found[:MOST_CROSSINGS], 1):
        more = ", and there are more" if number == MOST_CROSSINGS < len(found) else ""
        ends = (i + 1) % len(points) + 1, (j + 1) % len(points) + 1
        yield found_at(
            located, faults.RING_CROSSES, (*path, j), ring=name, a=i + 1, b=ends[0], c=j + 1, d=ends[1], more=more
        )


def _judge_size(skin: Skin, located: Located) -> Iterator[Finding]:
    area_mm2 = twice_area(skin.outline_mm) / 2
    if area_mm2 < LEAST_AREA_DM2 * MM2_PER_DM2:
        area = f"{area_mm2 / MM2_PER_DM2:.2f} dm²"
        yield found_at(located, faults.OUTLINE_TOO_SMALL, ("outline",), key=True, area=area)
    elif area_mm2 > MOST_AREA_M2 * MM2_PER_M2:
        area = f"{area_mm2 / MM2_PER_M2:.1f} m²"
        yield found_at(located, faults.OUTLINE_TOO_LARGE, ("outline",), key=True, area=area)


def _judge_regions(skin: Skin, located: Located, spoilt: set[str]) -> Iterator[Finding]:
    """Hold flaws and weak regions against the outline, but for those whose own ring is spoilt."""
    for index, flaw in enumerate(skin.flaws):
        if isinstance(flaw.region, Circle):
            path: Path = ("flaws", index, "at")
            # Its middle may lie beside the skin where its edge bites into it.
            outside = distance_outside(skin.outline_mm, flaw.region.centre_mm) >= flaw.region.radius_mm
        else:
            path = ("flaws", index, "points")
            outside = dotted(path) not in spoilt and not overlap(skin.outline_mm, flaw.region.points_mm)
        if outside:
            yield found_at(located, faults.FLAW_OUTSIDE, path, kind=_flaw_name(flaw.kind))
    for index, weak in enumerate(skin.weak if "weak" in located.data else ()):
        path = ("weak", index, "points")
        if dotted(path) not in spoilt and not overlap(skin.outline_mm, weak.ring.points_mm):
            yield found_at(located, faults.WEAK_OUTSIDE, path, region=_region_name(weak.region))


def _judge_lines(skin: Skin, located: Located) -> Iterator[Finding]:
    """Hold the ends of the spine, and the fixed points, against each other."""
    long_mm = math.dist(*skin.spine_mm)
    if "spine" in located.data and long_mm < LEAST_SPINE_MM:
        yield found_at(located, faults.SPINE_SHORT, ("spine",), distance=_length(long_mm))
    apart_mm = math.dist(*skin.fixed_points_mm)
    if "fixed_points" in located.data and apart_mm < LEAST_FIXED_MM:
        yield found_at(located, faults.FIXED_POINTS_CLOSE, ("fixed_points",), distance=_length(apart_mm))


def _judge_points(skin: Skin, located: Located) -> Iterator[Finding]:
    """Hold the spine, the fixed points and the points of thickness against the outline."""
    beside_mm = SQUARES_BESIDE * skin.grid_mm
    for index, end in enumerate(("tail", "neck") if "spine" in located.data else ()):
        outside_mm = distance_outside(skin.outline_mm, skin.spine_mm[index])
        if outside_mm > beside_mm:
            yield found_at(located, faults.SPINE_OUTSIDE, ("spine", index), end=end, distance=_length(outside_mm))
    for index in range(2 if "fixed_points" in located.data else 0):
        outside_mm = distance_outside(skin.outline_mm, skin.fixed_points_mm[index])
        if outside_mm > MOST_FIXED_MM:
            yield found_at(located, faults.FIXED_POINT_FAR, ("fixed_points", index), distance=_length(outside_mm))
    seen: dict[Point, int] = {}
    for index, measured in enumerate(skin.thicknesses):
        if measured.at_mm is None:
            continue
        path = ("thicknesses", index, "at")
        outside_mm = distance_outside(skin.outline_mm, measured.at_mm)
        if outside_mm > beside_mm:
            yield found_at(located, faults.THICKNESS_OUTSIDE, path, distance=_length(outside_mm))
        if measured.at_mm in seen:
            yield found_at(located, faults.THICKNESS_TWICE, path, number=seen[measured.at_mm])
        seen.setdefault(measured.at_mm, index)


def _length(length_mm: float) -> str:
    return metric_long_length(length_mm)


def _flaw_name(kind: str) -> str:
    return {"thin": "thin place", "other": "flaw"}.get(kind, kind)


def _region_name(region: str) -> str:
    return "weak region" if region == "other" else region
