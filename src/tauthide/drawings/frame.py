"""frame.svg: a frame made in the shop. The ring of staves, one stave and the boards; or the strip and the hoop."""

from __future__ import annotations

from tauthide.drawings.frame_bent import draw_bent
from tauthide.drawings.frame_staves import draw_staves
from tauthide.plan.plan import Plan


def is_drawn(plan: Plan) -> bool:
    """Tell whether there is anything to draw: nothing of a frame that is bought."""
    return plan.has("bend.strip_length") or plan.has("stave.boards")


def draw_frame(plan: Plan) -> bytes:
    """Return the drawing as SVG in millimetres; KeyError for a frame that is bought."""
    return draw_bent(plan) if plan.has("bend.strip_length") else draw_staves(plan)
