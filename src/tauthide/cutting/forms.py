"""Pieces as they are laid: a disc, or a blank turned by an angle, with the curves along which they touch.

A form's centre may lie anywhere on its free side of a curve. What it touches in two places lies where two
of its curves cross; so those crossings are all the places worth trying.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from tauthide.cutting.convex import Edge, Edges, edges_of, keeps_from_convex, keeps_from_line, keeps_from_point, moved
from tauthide.cutting.curves import TOUCH_MM, Circle, Curve, Line, line_between
from tauthide.cutting.ground import KEEP_MM, SLACK_MM, Border, Ground
from tauthide.cutting.hides import Point
from tauthide.cutting.pieces import Blank, Disc, Shape

TURN_DIGITS = 12
"""Sine and cosine of a turn are rounded to this many digits, so that they are the same on every machine."""


SAME_WAY = 1e-4
"""Sides whose unit vectors differ by less than this run the same way."""


@dataclass(frozen=True, slots=True, eq=False)
class DiscForm:
    """A disc, its radius grown by the slack and by the knife's allowance to other pieces."""

    shape: Disc
    use: str
    angle_deg: float
    knife_mm: float

    @property
    def reach_mm(self) -> float:
        """Radius of the smallest circle about (0, 0) that holds it."""
        return self.shape.radius_mm

    def curves_on(self, ground: Ground) -> tuple[Curve, ...]:
        """Where its centre lies if it touches a border or a flaw."""
        curves: list[Curve] = []
        reach = self.shape.radius_mm + SLACK_MM
        for border in ground.borders:
            away = reach + border.margin
            for side in border.sides:
                x, y = side.x - away * side.uy, side.y + away * side.ux
                curves.append(Line(x, y, side.ux, side.uy, side.length))
                if side.reflex:
                    curves.append(Circle(side.x, side.y, away))
        curves += [Circle(flaw.x, flaw.y, flaw.r + reach) for flaw in ground.flaws]
        return tuple(curves)

    def fits_on(self, ground: Ground, x: float, y: float) -> bool:
        """Whether it keeps its distances from borders and flaws."""
        return ground.clear(x, y, self.shape.radius_mm + KEEP_MM)

    def curves_round(self, laid: Laid) -> tuple[Curve, ...]:
        """Where its centre lies if it touches what is laid."""
        away = self.shape.radius_mm + SLACK_MM + self.knife_mm
        if isinstance(laid.form, DiscForm):
            return (Circle(laid.x, laid.y, laid.form.shape.radius_mm + away),)
        curves: list[Curve] = []
        for edge in laid.edges:
            curves.append(Line(edge.x + away * edge.uy, edge.y - away * edge.ux, edge.ux, edge.uy, edge.length))
            curves.append(Circle(edge.x, edge.y, away))
        return tuple(curves)

    def free_of(self, places: Sequence[Point], laid: Sequence[Laid]) -> list[Point]:
        """Those of some places at which it keeps the knife's allowance from all that is laid."""
        own = self.shape.radius_mm + KEEP_MM + self.knife_mm
        rims = []
        for one in laid:
            if one.edges:
                places = self._free_of_blank(places, one, own)
            else:
                need = own + one.radius_mm - TOUCH_MM
                rims.append((one.x, one.y, need * need))
        if len(rims) == 1:
            ((rx, ry, need2),) = rims
            return [(x, y) for x, y in places if (x - rx) * (x - rx) + (y - ry) * (y - ry) >= need2]
        free = []
        for place in places:
            x, y = place
            for rx, ry, need2 in rims:
                dx, dy = x - rx, y - ry
                if dx * dx + dy * dy < need2:
                    break
            else:
                free.append(place)
        return free

    def _free_of_blank(self, places: Sequence[Point], laid: Laid, need: float) -> list[Point]:
        lx, ly, edges = laid.x, laid.y, laid.edges
        far = need + laid.form.reach_mm
        far2 = far * far
        return [
            (x, y)
            for x, y in places
            if (x - lx) * (x - lx) + (y - ly) * (y - ly) >= far2 or keeps_from_point(edges, x, y, need)
        ]


@dataclass(frozen=True, slots=True, eq=False)
class BlankForm:
    """A convex blank turned by an angle. Round corners of its curves are made sharp: a little room is lost."""

    shape: Blank
    use: str
    angle_deg: float
    knife_mm: float
    edges: Edges
    """About (0, 0), turned."""
    reach_mm: float

    def curves_on(self, ground: Ground) -> tuple[Curve, ...]:
        """Where its centre lies if it touches a border or a flaw."""
        curves: list[Curve] = []
        for border in ground.borders:
            need = border.margin + SLACK_MM
            for side in border.sides:
                # How far the blank reaches to the right of the side, and with which corner.
                edge = max(self.edges, key=lambda edge: edge.x * side.uy - edge.y * side.ux)
                x, y = side.x - edge.x - need * side.uy, side.y - edge.y + need * side.ux
                curves.append(Line(x, y, side.ux, side.uy, side.length))
                if side.reflex:
                    curves += self._grown((Edge(side.x, side.y, 1.0, 0.0, 0.0),), need)
        for flaw in ground.flaws:
            curves += self._grown((Edge(flaw.x, flaw.y, 1.0, 0.0, 0.0),), flaw.r + SLACK_MM)
        return tuple(curves)

    def fits_on(self, ground: Ground, x: float, y: float) -> bool:
        """Whether it keeps its distances from borders and flaws."""
        edges = moved(self.edges, x, y)
        return all(keeps_from_point(edges, flaw.x, flaw.y, flaw.r + KEEP_MM) for flaw in ground.flaws) and all(
            self._clears(border, edges, x, y) for border in ground.borders
        )

    def _clears(self, border: Border, edges: Edges, x: float, y: float) -> bool:
        need = border.margin + KEEP_MM
        far = self.reach_mm + need
        if border.keeps(x, y, far):
            return True
        if not border.keeps(x, y, 0.0):
            return False
        far2 = far * far
        for side in border.sides:
            dx, dy = x - side.x, y - side.y
            along = min(max(dx * side.ux + dy * side.uy, 0.0), side.length)
            dx, dy = dx - along * side.ux, dy - along * side.uy
            if dx * dx + dy * dy < far2:
                line = Edge(side.x, side.y, side.ux, side.uy, side.length)
                if not keeps_from_line(edges, line, need):
                    return False
        return True

    def curves_round(self, laid: Laid) -> tuple[Curve, ...]:
        """Where its centre lies if it touches what is laid."""
        need = self.knife_mm + SLACK_MM
        if isinstance(laid.form, DiscForm):
            return self._grown((Edge(laid.x, laid.y, 1.0, 0.0, 0.0),), laid.form.shape.radius_mm + need)
        return self._grown(laid.edges, need)

    def free_of(self, places: Sequence[Point], laid: Sequence[Laid]) -> list[Point]:
        """Those of some places at which it keeps the knife's allowance from all that is laid."""
        return [place for place in places if all(self._keeps_from(one, *place) for one in laid)]

    def _keeps_from(self, laid: Laid, x: float, y: float) -> bool:
        need = self.knife_mm + KEEP_MM
        dx, dy = x - laid.x, y - laid.y
        far = need + self.reach_mm + laid.form.reach_mm
        if dx * dx + dy * dy >= far * far:
            return True
        edges = moved(self.edges, x, y)
        if isinstance(laid.form, DiscForm):
            return keeps_from_point(edges, laid.x, laid.y, laid.form.shape.radius_mm + need)
        return keeps_from_convex(edges, laid.edges, need)

    def _grown(self, others: Edges, need: float) -> tuple[Line, ...]:
        """The outline of all places at which the blank comes nearer than `need` to a convex outline or a point.

        It is the meeting of half planes, one for each direction of a side of either; corners are left sharp.
        """
        faces = [(-edge.uy, edge.ux) for edge in self.edges]
        faces += [(edge.uy, -edge.ux) for edge in others if edge.length > 0]
        faces.sort(key=_compass)
        lines: list[tuple[float, float, float]] = []
        for nx, ny in faces:
            if lines and abs(nx - lines[-1][0]) + abs(ny - lines[-1][1]) < SAME_WAY:
                continue
            out = max(other.x * nx + other.y * ny for other in others)
            out += max(-(edge.x * nx + edge.y * ny) for edge in self.edges)
            lines.append((nx, ny, out + need))
        corners = [_meet(lines[number - 1], line) for number, line in enumerate(lines)]
        pairs = zip(corners, corners[1:] + corners[:1], strict=True)
        return tuple(line for a, b in pairs if (line := line_between(*a, *b)) is not None)


Form = DiscForm | BlankForm


@dataclass(frozen=True, slots=True, eq=False)
class Laid:
    """A form in its place on a hide."""

    item: int
    """Which of the task's items it belongs to."""
    part: int
    form: Form
    x: float
    y: float
    edges: Edges
    """Of a blank, in place; none for a disc."""
    radius_mm: float
    """Of a disc; 0 for a blank."""


def lay(item: int, part: int, form: Form, x: float, y: float) -> Laid:
    """Put a form in its place."""
    if isinstance(form, BlankForm):
        return Laid(item, part, form, x, y, moved(form.edges, x, y), 0.0)
    return Laid(item, part, form, x, y, (), form.shape.radius_mm)


def form_of(shape: Shape, use: str, angle_deg: float, knife_mm: float) -> Form:
    """A shape turned by an angle."""
    if isinstance(shape, Disc):
        return DiscForm(shape, use, angle_deg, knife_mm)
    edges = edges_of(turned(shape.outline, angle_deg))
    return BlankForm(shape, use, angle_deg, knife_mm, edges, shape.reach_mm)


def turned(outline: tuple[Point, ...], angle_deg: float) -> tuple[Point, ...]:
    """An outline turned anticlockwise about (0, 0)."""
    angle = math.radians(angle_deg)
    cosine, sine = round(math.cos(angle), TURN_DIGITS), round(math.sin(angle), TURN_DIGITS)
    return tuple((x * cosine - y * sine, x * sine + y * cosine) for x, y in outline)


def _compass(direction: Point) -> tuple[bool, float]:
    """A key that sorts unit vectors anticlockwise, from west through south, without an angle function."""
    x, y = direction
    return (True, -x) if y > 0 or (y == 0 and x > 0) else (False, x)


def _meet(one: tuple[float, float, float], other: tuple[float, float, float]) -> Point:
    """Where two lines meet, each given by its normal and distance from (0, 0)."""
    turn = one[0] * other[1] - one[1] * other[0]
    return (one[2] * other[1] - other[2] * one[1]) / turn, (one[0] * other[2] - other[0] * one[2]) / turn
