"""Where everything in the section goes: its scale, its dimensions, and the piece of the wall left out."""

from __future__ import annotations

from dataclasses import dataclass

from tauthide.drawings.canvas import Point, text_width_mm
from tauthide.drawings.pages import (
    CAPTION_MM,
    PAGE_WIDTH_MM,
    SMALL_SIZE_MM,
    figure_text,
    scale_text,
    system_of,
    tool_text,
)
from tauthide.drawings.profile import Break, Profile, Stage, profile_of
from tauthide.plan.plan import Plan
from tauthide.units import System, length

SCALES = (5.0, 2.0, 1.0, 0.5, 0.2)
"""Page millimetres to one of the drum (ISO 5455)."""

HEIGHT_MM = 147.0
"""Room for the wall and the skin above and below it: from a higher wall a piece is left out."""

GAP_MM = 5.0
"""Clear paper where a piece of the wall is left out."""

KEPT_MM = 8.0
"""Wall that is drawn at least beside an edge, or beside a hole on the wall."""

THIN_MM = 0.7
"""Skin is drawn no thinner."""

LACE_CLEAR_MM = 1.2
"""Between skin and lace on the page."""

LABELS_MM = 27.0
"""Room left of the wall for the names of the edges."""

WALL_LABELS_MM = 78.0
"""The same where the holes lie on the wall, and are measured there."""

DEPTH_TEXT_MM = 5.3

COLUMN_GAP_MM = 3.4

ROW_MM = 6.0
"""From one dimension line to the next."""

HEAD_MM = 26.0
"""How far the head is drawn beyond the beginning of the column of texts."""

WALL_LABEL_FIRST_MM = 6.0
"""From the plane of the back down to the first label of holes on the wall."""


@dataclass(frozen=True, slots=True)
class Row:
    """A dimension across the page, its text in the column at the right."""

    text: str
    start_mm: float
    """Section x where it begins."""
    end_mm: float | None
    """Section x where it ends; none where it runs on beyond the drawing."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """The section laid out on its page."""

    plan: Plan
    profile: Profile
    stage: Stage
    above: tuple[Row, ...]
    """Nearest to the back first."""
    below: tuple[Row, ...]
    """Nearest to the head first."""
    skin_mm: float
    """Thickness of the skin on the page."""
    labels_mm: float
    column_mm: float
    """Where the column of texts begins on the page."""

    @property
    def system(self) -> System:
        """Which units come first."""
        return system_of(self.plan)

    @property
    def on_back(self) -> bool:
        """Whether the holes lie on the back, not on the wall."""
        return self.profile.hole_at >= 0

    @property
    def back_y(self) -> float:
        """The plane of the back edge on the page."""
        return self.stage.at((0.0, self.profile.depth))[1]

    @property
    def lace_y(self) -> float:
        """The lace over the back, on the page."""
        return self.back_y - self.skin_mm - LACE_CLEAR_MM

    def along(self, s: float, out_mm: float = 0.0) -> Point:
        """Return a place along the skin on the page, `out_mm` of the page off its middle surface."""
        return self.stage.at(self.profile.at(s, out_mm / self.stage.scale))


def lay_out(plan: Plan) -> Sheet:
    """Choose the largest scale at which everything fits, and leave out a piece of a high wall."""
    profile = profile_of(plan)
    above, below = _rows_above(plan, profile), _rows_below(plan, profile)
    reach = max(profile.wall, *(row.end_mm for row in (*above, *below) if row.end_mm is not None))
    text = max(text_width_mm(row.text, SMALL_SIZE_MM) for row in (*above, *below))
    labels = LABELS_MM if profile.hole_at >= 0 else WALL_LABELS_MM
    room = PAGE_WIDTH_MM - DEPTH_TEXT_MM - labels - COLUMN_GAP_MM - max(text, HEAD_MM + 12.0) - 0.3
    for scale in SCALES:
        skin = max(profile.thickness * scale, THIN_MM)
        highest = HEIGHT_MM - 2 * skin
        left_out = _left_out(profile, scale, highest)
        drawn = profile.depth * scale if left_out is None else highest
        if drawn <= highest and skin + reach * scale <= room:
            break
    else:
        raise AssertionError(f"no scale for the section of {plan.spec.drum}")
    x = DEPTH_TEXT_MM + labels + skin
    y = CAPTION_MM + 6.0 + ROW_MM * max(len(above) - 1, 0) + 8.0 + LACE_CLEAR_MM + skin + drawn
    # The text beside a shallow frame is longer than the frame is deep.
    y = max(y, CAPTION_MM + 2.0 + text_width_mm(depth_text(plan), SMALL_SIZE_MM) / 2 + drawn / 2)
    stage = Stage(x, y, scale, left_out, GAP_MM)
    return Sheet(plan, profile, stage, above, below, skin, labels, x + reach * scale + COLUMN_GAP_MM)


def _left_out(profile: Profile, scale: float, highest_mm: float) -> Break | None:
    """Return the piece of the wall to leave out; none where all fits, or nothing can be spared."""
    too_much = profile.depth - highest_mm / scale
    if too_much <= 0:
        return None
    if profile.ends_on_wall:
        low = profile.height_on_wall(profile.end) + KEPT_MM / scale
        high = profile.depth - profile.edge - KEPT_MM / scale
        spare = high - low - too_much - GAP_MM / scale
        return None if spare < 0 else Break(low + spare / 2, high - spare / 2)
    first = min(0.0, profile.hole_at - profile.hole / 2, profile.end)
    low = profile.edge + KEPT_MM / scale
    high = min(profile.depth - profile.edge, profile.height_on_wall(first)) - KEPT_MM / scale
    spare = high - low - too_much - GAP_MM / scale
    if spare < 0:
        return None
    return Break(low + spare / 2, high - spare / 2)


def _rows_above(plan: Plan, profile: Profile) -> tuple[Row, ...]:
    system, edge, end = system_of(plan), profile.edge, profile.turnover
    turnover = Row(f"turnover {length(end, system)}", 0.0, end)
    if profile.hole_at < 0:
        return (turnover,) if profile.end > 0 else ()
    hole = edge + profile.hole_at
    mounted, tight = plan["holes.mounted_inset"], plan["holes.tight_inset"]
    return (
        Row(f"margin {figure_text(plan, 'holes.margin')}", hole + profile.hole / 2, end),
        Row(f"edge distance {figure_text(plan, 'holes.edge_distance')}", hole, end),
        Row(f"hole, mounted {length(mounted, system)}", 0.0, mounted),
        Row(f"hole, drawn tight {length(tight, system)}", 0.0, tight),
        turnover,
    )


def _rows_below(plan: Plan, profile: Profile) -> tuple[Row, ...]:
    spec, system = plan.spec, system_of(plan)
    if spec.word("frame.outline") == "oval":
        halves = [
            ("half the length", spec.number("frame.length") / 2),
            ("half the width", spec.number("frame.width") / 2),
        ]
    else:
        name = "half the frame" if spec.word("frame.outline") == "round" else "half across flats"
        halves = [(name, plan["frame.half_span"])]
    return (
        Row(f"edge radius {tool_text(plan, 'frame.edge_radius')}", 0.0, profile.edge),
        Row(f"wall {tool_text(plan, 'frame.wall')}", 0.0, profile.wall),
        *(Row(f"{name} {length(half, system)}", 0.0, None) for name, half in halves),
    )


def particulars(sheet: Sheet) -> str:
    """Return the scale, and how the drawing departs from it."""
    parts = [f"Scale {scale_text(1 / sheet.stage.scale)}"]
    if sheet.stage.left_out is not None:
        parts.append("part of the wall left out")
    if sheet.skin_mm > sheet.profile.thickness * sheet.stage.scale:
        parts.append("skin drawn thicker")
    return " · ".join(parts)


def bearing_label_y(sheet: Sheet) -> float:
    """Return where the name of the bearing edge stands on the page, clear of labels on the wall."""
    lowest = sheet.stage.y_mm + sheet.skin_mm + 6.5
    if sheet.on_back:
        return lowest
    return max(lowest, wall_labels_y(sheet) + ROW_MM * 3 + 4.0)


def depth_text(plan: Plan) -> str:
    """Return what stands beside the depth."""
    return f"depth {length(plan.spec.number('frame.depth'), system_of(plan))}"


def wall_labels_y(sheet: Sheet) -> float:
    """Return where the first label stands of holes on the wall: below the back edge or, of two heads, near them."""
    first = sheet.back_y + WALL_LABEL_FIRST_MM
    if not sheet.plan.has("holes.drop"):
        return first
    return max(first, sheet.along(sheet.profile.end, 0.0)[1] - ROW_MM)
