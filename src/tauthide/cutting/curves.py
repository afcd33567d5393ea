"""Where two curves cross: straight lines of some length, and whole circles.

Only the four rules of arithmetic and square roots are used here: these give the same bits on every machine.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from tauthide.cutting.hides import Point

TOUCH_MM = 1e-7
"""Curves that miss each other by less than this meet, and a place this much too near is still clear."""

STRETCH = 6
"""Curves grouped together."""


class Line(NamedTuple):
    """A straight line from a point, along a unit vector, of some length."""

    x: float
    y: float
    ux: float
    uy: float
    length: float


class Circle(NamedTuple):
    """A whole circle."""

    x: float
    y: float
    r: float


Curve = Line | Circle


def line_between(ax: float, ay: float, bx: float, by: float) -> Line | None:
    """The line from a to b; None if they are one point."""
    along, up = bx - ax, by - ay
    length = math.sqrt(along * along + up * up)
    if length < TOUCH_MM:
        return None
    return Line(ax, ay, along / length, up / length, length)


def box_of(curve: Curve) -> tuple[float, float, float, float]:
    """West, south, east and north of a curve, a touch wider."""
    if isinstance(curve, Circle):
        reach = curve.r + TOUCH_MM
        return curve.x - reach, curve.y - reach, curve.x + reach, curve.y + reach
    along, up = curve.ux * curve.length, curve.uy * curve.length
    west, east = (curve.x, curve.x + along) if along > 0 else (curve.x + along, curve.x)
    south, north = (curve.y, curve.y + up) if up > 0 else (curve.y + up, curve.y)
    return west - TOUCH_MM, south - TOUCH_MM, east + TOUCH_MM, north + TOUCH_MM


Stretch = tuple[Circle, tuple[Curve, ...]]
"""Some curves that follow one another, and a circle about all of them."""


def stretches_of(curves: tuple[Curve, ...]) -> tuple[Stretch, ...]:
    """Group curves, in their order, so that those far from another curve are passed over together."""
    found = []
    for start in range(0, len(curves), STRETCH):
        some = curves[start : start + STRETCH]
        boxes = [box_of(curve) for curve in some]
        west, south = min(box[0] for box in boxes), min(box[1] for box in boxes)
        east, north = max(box[2] for box in boxes), max(box[3] for box in boxes)
        wide, high = (east - west) / 2, (north - south) / 2
        found.append((Circle(west + wide, south + high, math.sqrt(wide * wide + high * high)), some))
    return tuple(found)


def stretches_met(circle: Circle, stretches: Iterable[Stretch]) -> Iterator[Curve]:
    """The curves of the stretches that a circle may meet."""
    x, y, r = circle
    for (sx, sy, reach), some in stretches:
        dx, dy, most, least = sx - x, sy - y, r + reach, r - reach
        if (least < 0 or dx * dx + dy * dy >= least * least) and dx * dx + dy * dy <= most * most:
            yield from some


def cross(one: Curve, others: Iterable[Curve]) -> list[Point]:
    """Where a curve crosses or touches others, in their order: none, one or two places of each."""
    return _cross_circle(one, others) if isinstance(one, Circle) else _cross_line(one, others)


def _cross_circle(circle: Circle, others: Iterable[Curve]) -> list[Point]:
    """Written for speed: it is most of the work of laying."""
    cx, cy, r = circle
    found: list[Point] = []
    for other in others:
        if isinstance(other, Circle):
            x, y, radius = other
            dx, dy = x - cx, y - cy
            apart2 = dx * dx + dy * dy
            both, less = r + radius, r - radius
            if apart2 > both * both or apart2 < less * less or apart2 < TOUCH_MM:
                continue
            along = (apart2 + both * less) / (2 * apart2)
            high2 = r * r / apart2 - along * along
            high = math.sqrt(high2) if high2 > 0 else 0.0
            x, y = cx + along * dx, cy + along * dy
            found += ((x - high * dy, y + high * dx), (x + high * dy, y - high * dx))
        else:
            x, y, ux, uy, length = other
            dx, dy = cx - x, cy - y
            beside = dx * uy - dy * ux
            if beside > r or beside < -r:
                continue
            middle = dx * ux + dy * uy
            if middle < -r - TOUCH_MM or middle > length + r + TOUCH_MM:
                continue
            half = math.sqrt((r - beside) * (r + beside))
            along = middle - half
            if -TOUCH_MM <= along <= length + TOUCH_MM:
                found.append((x + along * ux, y + along * uy))
            along = middle + half
            if -TOUCH_MM <= along <= length + TOUCH_MM:
                found.append((x + along * ux, y + along * uy))
    return found


def _cross_line(line: Line, others: Iterable[Curve]) -> list[Point]:
    x, y, ux, uy, length = line
    found: list[Point] = []
    for other in others:
        if isinstance(other, Circle):
            found += _cross_circle(other, (line,))
            continue
        turn = ux * other.uy - uy * other.ux
        if -1e-12 < turn < 1e-12:  # parallel
            continue
        dx, dy = other.x - x, other.y - y
        along = (dx * other.uy - dy * other.ux) / turn
        if not -TOUCH_MM <= along <= length + TOUCH_MM:
            continue
        if -TOUCH_MM <= (dx * uy - dy * ux) / turn <= other.length + TOUCH_MM:
            found.append((x + along * ux, y + along * uy))
    return found
