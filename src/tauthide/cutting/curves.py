"""Where two curves cross: straight lines of some length, and whole circles.

Only the four rules of arithmetic and square roots are used here: these give the same bits on every machine.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from tauthide.cutting.hides import Point

TOUCH_MM = 1e-7
"""Curves that miss each other by less than this meet, and a place this much too near is still clear."""


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line from a point, along a unit vector, of some length."""

    x: float
    y: float
    ux: float
    uy: float
    length: float


@dataclass(frozen=True, slots=True)
class Circle:
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


def cross(one: Curve, other: Curve) -> tuple[Point, ...]:
    """Where two curves cross or touch: none, one or two places."""
    if isinstance(one, Circle):
        return _cross_circles(one, other) if isinstance(other, Circle) else _cross_line(other, one)
    return _cross_line(one, other) if isinstance(other, Circle) else _cross_lines(one, other)


def _cross_lines(one: Line, other: Line) -> tuple[Point, ...]:
    turn = one.ux * other.uy - one.uy * other.ux
    if -1e-12 < turn < 1e-12:  # parallel
        return ()
    dx, dy = other.x - one.x, other.y - one.y
    along = (dx * other.uy - dy * other.ux) / turn
    if not -TOUCH_MM <= along <= one.length + TOUCH_MM:
        return ()
    if not -TOUCH_MM <= (dx * one.uy - dy * one.ux) / turn <= other.length + TOUCH_MM:
        return ()
    return ((one.x + along * one.ux, one.y + along * one.uy),)


def _cross_line(line: Line, circle: Circle) -> tuple[Point, ...]:
    dx, dy = circle.x - line.x, circle.y - line.y
    beside = dx * line.uy - dy * line.ux
    if beside > circle.r or beside < -circle.r:
        return ()
    middle = dx * line.ux + dy * line.uy
    half = math.sqrt((circle.r - beside) * (circle.r + beside))
    return tuple(
        (line.x + along * line.ux, line.y + along * line.uy)
        for along in (middle - half, middle + half)
        if -TOUCH_MM <= along <= line.length + TOUCH_MM
    )


def _cross_circles(one: Circle, other: Circle) -> tuple[Point, ...]:
    dx, dy = other.x - one.x, other.y - one.y
    apart2 = dx * dx + dy * dy
    both, less = one.r + other.r, one.r - other.r
    if apart2 > both * both or apart2 < less * less or apart2 < TOUCH_MM:
        return ()
    along = (apart2 + both * less) / (2 * apart2)
    high2 = one.r * one.r / apart2 - along * along
    high = math.sqrt(high2) if high2 > 0 else 0.0
    x, y = one.x + along * dx, one.y + along * dy
    return ((x - high * dy, y + high * dx), (x + high * dy, y - high * dx))
