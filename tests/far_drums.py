"""Drums at the far ends of what a spec may say: no maker's drums, but none that a rule refuses.

Every length is drawn from the whole of its allowed range, its ends among the likeliest.
"""

from __future__ import annotations

import math

from hypothesis import strategies as st

from drums import Fields, Leaf, mm, read_plan, spec_text
from tauthide.plan.plan import Plan

LONGEST_NAME = "W" * 64


def _between(draw: st.DrawFn, least: float, most: float) -> float:
    """Draw a length in tenths of a millimetre, often one of the ends."""
    first, last = math.ceil(least * 10 - 1e-9), math.floor(most * 10 + 1e-9)
    return draw(st.one_of(st.sampled_from((first, last)), st.integers(first, last))) / 10


@st.composite
def far_drums(draw: st.DrawFn, outlines: tuple[str, ...] = ("round", "round", "oval", "polygon")) -> Fields:
    """Draw a drum from the whole of the allowed ranges, just large enough for its holes or much larger."""
    outline = draw(st.sampled_from(outlines))
    thickness, edge = _between(draw, 0.2, 8), _between(draw, 0, 20)
    wall, depth = _between(draw, max(edge, 2), 60), _between(draw, max(2 * edge, 15), 400)
    hole = _between(draw, 1, 40)
    web, margin = _between(draw, 2, 100), _between(draw, 1, min(100.0, 120 - hole / 2))
    beside, spacing = margin + hole / 2, web + hole
    # Holes no further out than the wall, nor further in than the turnover allows.
    on_wall = depth - 2 * edge + math.pi / 2 * (edge + thickness / 2) - hole / 2
    turnover = _between(draw, min(199.0, max(5.0, edge + beside - on_wall + 0.1)), 200)
    inset = edge + max(turnover - edge - beside, 0)
    count = 2 * draw(st.integers(2, 32))
    around = 1.2 * count * (spacing + hole) / math.pi
    least = max(100.0, around + 2 * inset, 2 * (spacing + inset) + 2)
    while least > 1900 and count > 4:
        count -= 2
        least = max(100.0, 1.2 * count * (spacing + hole) / math.pi + 2 * inset, 2 * (spacing + inset) + 2)
    size = _between(draw, math.ceil(least), max(math.ceil(least), 2000))
    fields: dict[str, Leaf] = {
        "frame.outline": outline,
        **_sizes(draw, outline, size),
        "frame.depth": mm(depth),
        "frame.wall": mm(wall),
        "frame.edge_radius": mm(edge),
        "head.hide": "goat",
        "head.thickness": mm(thickness),
        "head.turnover": mm(turnover),
        "head.stretch": f"{draw(st.sampled_from((0, 3, 15)))} %",
        "stations.count": count,
        "stations.mark_at": draw(st.sampled_from(("first_hole", "pair_centre"))),
        "stations.hand": draw(st.sampled_from(("anticlockwise", "clockwise"))),
        "stations.hole": mm(hole),
        "stations.web": mm(web),
        "stations.margin": mm(margin),
        "lace.width": "1 mm",
        "lace.thickness": mm(_between(draw, 0.2, 8)),
        "bench.units": draw(st.sampled_from(("metric", "inch"))),
    }
    return fields


def _sizes(draw: st.DrawFn, outline: str, size: float) -> dict[str, Leaf]:
    if outline == "oval":
        longer = min(2000.0, size * 1.1)
        return {"frame.length": mm(longer), "frame.width": mm(size)}
    if outline == "polygon":
        return {"frame.sides": draw(st.integers(6, 24)), "frame.across_flats": mm(size)}
    return {"frame.diameter": mm(size)}


def try_plan(fields: Fields, name: str = LONGEST_NAME) -> Plan | None:
    """Return the plan of a drum; none where a rule refuses it after all."""
    try:
        return read_plan(spec_text(fields, f"spec: 1\ndrum: {name}\n"))
    except AssertionError:
        return None
