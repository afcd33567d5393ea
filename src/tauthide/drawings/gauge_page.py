"""Where everything on a station gauge's page goes: the page is small, and nothing may be scaled to fit."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from tauthide.drawings.canvas import Point, text_width_mm
from tauthide.drawings.skin_edge import SkinEdge, Tick, possible_ticks, skin_edge, station_along
from tauthide.plan.plan import Plan

PAGE_WIDTH_MM, PAGE_HEIGHT_MM = 189.0, 259.0
"""A hair less than what A4 (ISO 216) and US Letter both print inside margins of 10 mm: 189.9 x 259.4 mm."""

BAR_MM = 100.0
"""Length of the bars that show whether the print is true."""

SMALL_MM = 3.0
"""Size of all texts but the heading's."""

MARK_MM = 8.0
"""Length of a tick at the skin's edge."""

MARK_CLEAR_MM = 3.0
"""Clear paper between a hole or a mark and whatever comes next."""

EDGE_MM = 1.5
"""Clear paper along the edges of the page."""

HOLE_CLEAR_MM = 2.5
"""Least paper left between a hole and the side of the gauge."""

MARK_EDGE_MM = 1.0
"""Least paper left between the station's line and the side of the gauge."""

HEADING_X_MM = 15.0
"""Where heading and list begin: the upright bar stands left of them."""

GAUGE_TOP_MM = 60.0
"""Below heading and level bar."""

GAUGE_TOP_BELOW_BAR_MM = 111.0
"""Below the upright bar."""

LOWEST_MM = 247.5
"""The skin's edge may lie no lower on the page: its labels stand below it."""

INSIDE_BAR_WEB_MM = 60.0
"""An upright bar stands between the holes only if the web is at least so wide."""

INSIDE_WEB_MM = 37.0
"""Margin and edge distance are measured between the holes only if the web is at least so wide."""

LEAST_HALF_MM = 12.0
"""Both are measured straight below the holes only if half the pair leaves so much room for lines and words."""

FIRST_LEVEL_MM, LEVEL_STEP_MM = 6.0, 6.0
"""From the top of the holes to the dimension lines above them, and from one to the next."""

NAME_ROOM_MM = 11.0
"""Room for the drum's name and the digest at the top of the gauge."""

LEAST_WIDTH_MM = 54.0
"""Width that the gauge is given at least, so that it can be held."""

INWARD_FIRST_MM, INWARD_STEP_MM = 8.0, 7.0
"""From a hole to the line that measures the margin, and from there to the one for the edge distance."""


@dataclass(frozen=True, slots=True)
class Inward:
    """A dimension from the skin's edge inward."""

    word: str
    along_mm: float
    length_mm: float
    side: int
    """On which side of the line the word stands: -1 toward hole a, +1 toward hole b."""
    from_mm: float | None
    """Where along the line that is measured to begins; none where the hole itself shows it."""
    past_mm: float
    """Where along it ends."""
    beyond_from_mm: float | None
    """How far in a word begins that is too long to stand along its line."""
    word_mm: float
    """How far in the middle lies of a word that stands along its line."""


@dataclass(frozen=True, slots=True)
class GaugePage:
    """A gauge laid out on its page."""

    plan: Plan
    edge: SkinEdge
    half_pair: float
    hole_radius: float
    edge_distance: float
    station_along: float
    hand: int
    """+1 where numbers run to the right, seen from the inner side with the edge toward the maker, else -1."""
    tick: Tick | None
    station_on_page: bool
    inward: tuple[Inward, ...]
    back_mm: float
    """How far the gauge reaches from the pair's middle against the direction of numbering."""
    ahead_mm: float
    """How far it reaches in the direction of numbering."""
    x_mm: float
    """The pair's middle on the page."""
    low_mm: float
    """The lowest point of the skin's edge on the page."""
    top_mm: float
    """The upper side of the gauge on the page."""
    bar_between: bool
    """Whether the upright bar stands between the holes, for want of room elsewhere."""
    width_mm: float = PAGE_WIDTH_MM
    height_mm: float = PAGE_HEIGHT_MM

    def at(self, along: float, inward: float) -> Point:
        """Return a place of the gauge on the page."""
        x, y = self.edge.at(along, inward)
        return (self.x_mm + self.hand * x, self.low_mm - y)

    def corner(self, side: int) -> Point:
        """Return the end of the skin's edge on the left (-1) or the right (+1) of the page."""
        reach = self.ahead_mm if side == self.hand else self.back_mm
        return (self.x_mm + side * reach, self.low_mm - self.edge.height(reach))

    def lean_deg(self, along: float) -> float:
        """Return by how much the way inward is turned on the page, clockwise."""
        return -self.hand * self.edge.lean_deg(along)

    def station_foot(self) -> Point:
        """Return the station's point on the skin's edge, or where its line leaves the page."""
        if self.station_on_page:
            return self.at(self.station_along, 0.0)
        head = self.at(self.station_along, self.edge_distance)
        foot = self.at(self.station_along, 0.0)
        limit = self.x_mm - self.hand * (self.back_mm - MARK_EDGE_MM)
        share = (limit - head[0]) / (foot[0] - head[0])
        return (limit, head[1] + share * (foot[1] - head[1]))

    @property
    def web_level_mm(self) -> float:
        """The dimension line of the web on the page."""
        return self.at(self.half_pair, self.edge_distance)[1] - self.hole_radius - FIRST_LEVEL_MM

    @property
    def pair_level_mm(self) -> float:
        """The dimension line of the pair spacing on the page."""
        return self.web_level_mm - LEVEL_STEP_MM


@dataclass(frozen=True, slots=True)
class _Zone:
    """A part of the page for the gauge."""

    left_mm: float
    top_mm: float
    bar_between: bool


_ZONES = (
    _Zone(HEADING_X_MM, GAUGE_TOP_MM, False),
    _Zone(EDGE_MM, GAUGE_TOP_BELOW_BAR_MM, False),
    _Zone(EDGE_MM, GAUGE_TOP_MM, True),
)
"""Beside the upright bar, below it, or with the bar between the holes: the first that holds the gauge."""


def lay_out(plan: Plan) -> GaugePage:
    """Lay the gauge out, with the best tick that the page holds."""
    edge = skin_edge(plan)
    for tick in (*possible_ticks(plan, edge), None):
        for on_page in (True, False) if tick is None else (True,):
            for inward in _inward_choices(plan, edge):
                for zone in _ZONES:
                    page = _try(plan, edge, tick, on_page, inward, zone)
                    if page is not None:
                        return page
    raise AssertionError(f"no room for the gauge of {plan.spec.drum}")


def _try(
    plan: Plan, edge: SkinEdge, tick: Tick | None, on_page: bool, inward: tuple[Inward, ...], zone: _Zone
) -> GaugePage | None:
    """Lay the gauge out in one way; None where it does not fit."""
    room = PAGE_WIDTH_MM - EDGE_MM - zone.left_mm
    reach = _reach(plan, edge, tick, on_page, inward)
    if reach is None or sum(reach) > room:
        return None
    back, ahead = _widened(plan, edge, reach, room)
    pair_height = edge.at(edge.half_pair(plan["holes.pair_spacing"]), plan["holes.edge_distance"])[1]
    radius = plan.spec.number("stations.hole") / 2
    sides = max(edge.height(back), edge.height(ahead))
    low = zone.top_mm + NAME_ROOM_MM + max(sides, _top(edge, inward, pair_height + radius))
    if low > LOWEST_MM:
        return None
    bar_room = pair_height + radius + FIRST_LEVEL_MM - EDGE_MM
    if zone.bar_between and (plan["holes.web"] < INSIDE_BAR_WEB_MM or bar_room < BAR_MM + EDGE_MM):
        return None
    hand = 1 if plan.spec.word("stations.hand") == "anticlockwise" else -1
    left = back if hand > 0 else ahead
    return GaugePage(
        plan=plan,
        edge=edge,
        half_pair=edge.half_pair(plan["holes.pair_spacing"]),
        hole_radius=radius,
        edge_distance=plan["holes.edge_distance"],
        station_along=station_along(plan, edge),
        hand=hand,
        tick=tick,
        station_on_page=on_page,
        inward=inward,
        back_mm=back,
        ahead_mm=ahead,
        x_mm=round(zone.left_mm + (room - back - ahead) / 2 + left, 3),
        low_mm=low,
        top_mm=zone.top_mm,
        bar_between=zone.bar_between,
    )


def _reach(
    plan: Plan, edge: SkinEdge, tick: Tick | None, on_page: bool, inward: tuple[Inward, ...]
) -> tuple[float, float] | None:
    """Return how far the gauge has to reach back and ahead; None where the edge is too short for that."""
    radius = plan.spec.number("stations.hole") / 2
    around = plan["holes.pair_spacing"] / 2 + radius + HOLE_CLEAR_MM
    marks = [edge.at(item.along_mm - MARK_CLEAR_MM, 0.0)[0] for item in inward]
    if on_page:
        marks.append(edge.at(station_along(plan, edge), 0.0)[0] - MARK_EDGE_MM)
    back = max(around, *(-x for x in marks))
    if back > edge.widest():
        return None
    if tick is None:
        return back, around
    x = edge.at(tick.along_mm, 0.0)[0]
    # A tick a quarter of the way round stands where the edge turns upright.
    return back, max(around, min(x + MARK_CLEAR_MM, max(x, edge.widest())))


def _widened(plan: Plan, edge: SkinEdge, reach: tuple[float, float], room: float) -> tuple[float, float]:
    """Widen a gauge that is too narrow to be held, or for the drum's name."""
    wanted = max(text_width_mm(plan.spec.drum, SMALL_MM) + 2 * MARK_CLEAR_MM, LEAST_WIDTH_MM)
    spare = (min(wanted, room) - sum(reach)) / 2
    back, ahead = (max(side, min(side + spare, edge.widest())) for side in reach)
    return back, ahead


def _top(edge: SkinEdge, inward: tuple[Inward, ...], holes_mm: float) -> float:
    """Return the highest point of the dimensions, with the holes reaching up to `holes_mm`."""
    tops = [holes_mm + FIRST_LEVEL_MM + LEVEL_STEP_MM + SMALL_MM + 1.5]
    tops += [
        edge.at(item.along_mm, item.beyond_from_mm)[1] + 1.0 + text_width_mm(item.word, SMALL_MM)
        for item in inward
        if item.beyond_from_mm is not None
    ]
    return max(tops)


def _inward_choices(plan: Plan, edge: SkinEdge) -> Iterator[tuple[Inward, ...]]:
    """Yield the ways to show margin and edge distance, the clearest first."""
    half, radius = edge.half_pair(plan["holes.pair_spacing"]), plan.spec.number("stations.hole") / 2
    margin, distance = plan["holes.margin"], plan["holes.edge_distance"]
    outside, step = radius + INWARD_FIRST_MM, INWARD_STEP_MM

    def pair(first: float, side: int) -> tuple[Inward, ...]:
        return (
            _one(plan, "margin", first, margin, side, -half),
            _one(plan, "edge distance", first + side * step, distance, side, -half + side * radius),
        )

    below = _fits("margin", margin) and _fits("edge distance", margin)
    yield pair(-half - outside, -1)
    # Between the holes, clear of the words over web and pair spacing where the lines' own words reach up there.
    if plan["holes.web"] >= (INSIDE_WEB_MM if below else INSIDE_BAR_WEB_MM):
        yield pair(-half + outside, 1)
    if below and half >= LEAST_HALF_MM:
        # Holes far in on a small blank: both lines stand below the holes.
        yield (
            Inward("margin", -half / 2, margin, 1, -half, -half / 2 + 1.5, None, margin / 2),
            Inward("edge distance", half, distance, -1, None, half, None, margin / 2),
        )


def _one(plan: Plan, word: str, along: float, length_mm: float, side: int, start: float) -> Inward:
    past = plan["holes.edge_distance"] + plan.spec.number("stations.hole") / 2 + MARK_CLEAR_MM
    if side > 0:
        past += FIRST_LEVEL_MM + LEVEL_STEP_MM
    beyond = None if _fits(word, length_mm) else past
    return Inward(word, along, length_mm, side, start, along + side * 1.5, beyond, length_mm / 2)


def _fits(word: str, length_mm: float) -> bool:
    """Tell whether a word can stand along a line of this length."""
    return length_mm >= text_width_mm(word, SMALL_MM) + 2.0
