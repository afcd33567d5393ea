"""A page to draw on: SVG written in millimetres, black lines of two widths, and texts that know their room.

Page coordinates are millimetres from the top left corner, y downward. `View` carries the plan's
coordinates (y upward, centre at the middle of the head) onto the page.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from html import escape
from math import cos, radians, sin

from tauthide.text import plain

WIDE_MM = 0.5
NARROW_MM = 0.25
"""Two line widths, 2:1 (ISO 128-2)."""

CHAIN = "6 1.2 0.6 1.2"
"""Long dash, gap, dot, gap: centre lines and pitch lines (ISO 128-2)."""

CREASE = "2 1.2"
"""Short dashes, evenly spaced: where skin is folded to be marked."""

DASHED = "3 1.5"
"""Hidden edges (ISO 128-2)."""

DECIMALS = 3
CHARACTER_WIDTH = 0.62
"""Width of a character over the text's size: on the wide side for sans-serif digits and letters."""

ASCENT, DESCENT = 0.78, 0.22
"""Reach of a text above and below its base line, over its size."""

FONT = "Helvetica, Arial, 'Liberation Sans', 'DejaVu Sans', sans-serif"

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class View:
    """How the plan's coordinates get onto the page."""

    x_mm: float
    """Where the plan's (0, 0) lies on the page."""
    y_mm: float
    scale: float
    """Page millimetres to one millimetre of the plan."""

    def at(self, point: Point) -> Point:
        """Return a point of the plan on the page."""
        return (self.x_mm + self.scale * point[0], self.y_mm - self.scale * point[1])


@dataclass(frozen=True, slots=True)
class TextBox:
    """A text with its place on the page, and so the room that it takes there."""

    at: Point
    text: str
    size_mm: float
    anchor: str
    turned_deg: float

    @property
    def corners(self) -> tuple[Point, Point, Point, Point]:
        """Return the corners of its room by its estimated width, turned with it."""
        width = text_width_mm(self.text, self.size_mm)
        left = {"start": 0.0, "middle": -width / 2, "end": -width}[self.anchor]
        top, bottom = -ASCENT * self.size_mm, DESCENT * self.size_mm
        sine, cosine = sin(radians(self.turned_deg)), cos(radians(self.turned_deg))
        x0, y0 = self.at

        def turned(x: float, y: float) -> Point:
            return (x0 + x * cosine - y * sine, y0 + x * sine + y * cosine)

        return (turned(left, top), turned(left + width, top), turned(left + width, bottom), turned(left, bottom))


class Canvas:
    """Collects the elements of one drawing; `bytes()` gives the finished file."""

    def __init__(self, width_mm: float, height_mm: float, title: str, description: str) -> None:
        """Start an empty page; title and description are read out where the drawing can't be seen."""
        self.width_mm = width_mm
        self.height_mm = height_mm
        self.texts: list[TextBox] = []
        self._title = title
        self._description = description
        self._parts: list[str] = []

    def path(
        self, data: str, *, width: float = WIDE_MM, dash: str = "", fill: str = "none", stroke: str = "#000",
        attributes: str = "",
    ) -> None:  # fmt: skip
        """Draw SVG path data given in page millimetres."""
        self._parts.append(f'<path d="{data}" fill="{fill}"{_pen(stroke, width, dash)}{_spaced(attributes)}/>')

    def line(self, start: Point, end: Point, *, width: float = WIDE_MM, dash: str = "", stroke: str = "#000",
             attributes: str = "") -> None:  # fmt: skip
        """Draw a straight line."""
        self._parts.append(
            f'<line x1="{number(start[0])}" y1="{number(start[1])}" x2="{number(end[0])}" y2="{number(end[1])}"'
            f"{_pen(stroke, width, dash)}{_spaced(attributes)}/>"
        )

    def polyline(self, points: Iterable[Point], *, width: float = WIDE_MM, dash: str = "", fill: str = "none",
                 closed: bool = False) -> None:  # fmt: skip
        """Draw a line through points."""
        listed = " ".join(f"{number(x)},{number(y)}" for x, y in points)
        shape = "polygon" if closed else "polyline"
        self._parts.append(f'<{shape} points="{listed}" fill="{fill}"{_pen("#000", width, dash)}/>')

    def circle(self, centre: Point, radius_mm: float, *, width: float = WIDE_MM, dash: str = "",
               fill: str = "none", stroke: str = "#000", attributes: str = "") -> None:  # fmt: skip
        """Draw a circle."""
        self._parts.append(
            f'<circle cx="{number(centre[0])}" cy="{number(centre[1])}" r="{number(radius_mm)}"'
            f' fill="{fill}"{_pen(stroke, width, dash)}{_spaced(attributes)}/>'
        )

    def rectangle(self, corner: Point, width_mm: float, height_mm: float, *, width: float = WIDE_MM,
                  fill: str = "none", stroke: str = "#000") -> None:  # fmt: skip
        """Draw a rectangle from its top left corner."""
        self._parts.append(
            f'<rect x="{number(corner[0])}" y="{number(corner[1])}" width="{number(width_mm)}"'
            f' height="{number(height_mm)}" fill="{fill}"{_pen(stroke, width, "")}/>'
        )

    def arrowhead(self, tip: Point, direction_deg: float, length_mm: float = 2.4) -> None:
        """Draw a filled arrowhead whose tip points along `direction_deg` on the page (0 right, 90 down)."""
        half = radians(12)
        turn = radians(direction_deg)
        left = (tip[0] - length_mm * cos(turn - half), tip[1] - length_mm * sin(turn - half))
        right = (tip[0] - length_mm * cos(turn + half), tip[1] - length_mm * sin(turn + half))
        listed = " ".join(f"{number(x)},{number(y)}" for x, y in (tip, left, right))
        self._parts.append(f'<polygon points="{listed}" fill="#000"/>')

    def text(self, at: Point, text: str, size_mm: float = 3.5, *, anchor: str = "middle", bold: bool = False,
             turned_deg: float = 0.0, halo: bool = False, counts: bool = True) -> None:  # fmt: skip
        """Write a text on its base line at `at`; `anchor` is start, middle or end; `halo` clears lines behind it.

        The room it takes is kept in `texts` (unless `counts` is false), so that overlaps can be found.
        """
        if counts:
            self.texts.append(TextBox(at, text, size_mm, anchor, turned_deg))
        turn = f' transform="rotate({number(turned_deg)} {number(at[0])} {number(at[1])})"' if turned_deg else ""
        weight = ' font-weight="bold"' if bold else ""
        clear = f' stroke="#fff" stroke-width="{number(size_mm * 0.3)}" paint-order="stroke"' if halo else ""
        self._parts.append(
            f'<text x="{number(at[0])}" y="{number(at[1])}" font-size="{number(size_mm)}"'
            f' text-anchor="{anchor}"{weight}{clear}{turn}>{escape(plain(text), quote=False)}</text>'
        )

    def group(self, attributes: str) -> None:
        """Open a group with these attributes; close it with `end_group`."""
        self._parts.append(f"<g {attributes}>")

    def clip(self, name: str, points: Iterable[Point]) -> None:
        """Define a polygon that a group with `clip-path="url(#name)"` is cut off at."""
        listed = " ".join(f"{number(x)},{number(y)}" for x, y in points)
        self._parts.append(f'<clipPath id="{escape(plain(name))}"><polygon points="{listed}"/></clipPath>')

    def end_group(self) -> None:
        """Close the group opened last."""
        self._parts.append("</g>")

    def bytes(self) -> bytes:
        """Return the finished SVG file."""
        width, height = number(self.width_mm), number(self.height_mm)
        head = (
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm"'
            f' viewBox="0 0 {width} {height}" role="img" aria-label="{escape(plain(self._title))}"'
            f' font-family="{FONT}" fill="#000">'
        )
        lines = (
            head,
            f"<title>{escape(plain(self._title))}</title>",
            f"<desc>{escape(plain(self._description))}</desc>",
            f'<rect width="{width}" height="{height}" fill="#fff"/>',
            *self._parts,
            "</svg>",
        )
        return ("\n".join(lines) + "\n").encode("utf-8")


def number(value: float) -> str:
    """Return a coordinate as text, to 0.001 mm, without needless zeros."""
    text = f"{value:.{DECIMALS}f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def text_width_mm(text: str, size_mm: float) -> float:
    """Return about how wide a text is, rather too wide than too narrow."""
    return len(text) * CHARACTER_WIDTH * size_mm


def overlapping(boxes: Iterable[TextBox]) -> list[tuple[str, str]]:
    """Return the pairs of texts whose rooms overlap."""
    listed = list(boxes)
    return [
        (first.text, second.text)
        for index, first in enumerate(listed)
        for second in listed[index + 1 :]
        if _meet(first.corners, second.corners)
    ]


def _meet(first: tuple[Point, ...], second: tuple[Point, ...]) -> bool:
    """Tell whether two convex quadrilaterals overlap: no edge of either separates them."""
    for shape in (first, second):
        for (x1, y1), (x2, y2) in zip(shape, (*shape[1:], shape[0]), strict=True):
            normal = (y2 - y1, x1 - x2)
            one = [normal[0] * x + normal[1] * y for x, y in first]
            other = [normal[0] * x + normal[1] * y for x, y in second]
            if max(one) <= min(other) or max(other) <= min(one):
                return False
    return True


@lru_cache(maxsize=64)
def _pen(stroke: str, width: float, dash: str) -> str:
    dashes = f' stroke-dasharray="{dash}"' if dash else ""
    return f' stroke="{stroke}" stroke-width="{number(width)}"{dashes}'


def _spaced(attributes: str) -> str:
    return f" {attributes}" if attributes else ""
