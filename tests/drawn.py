"""Reading drawings back for tests: the elements of an SVG file, the room its texts take, its stated scale."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from dataclasses import dataclass

from tauthide.drawings.canvas import TextBox

SVG = "{http://www.w3.org/2000/svg}"

Point = tuple[float, float]

HALF_A_DECIMAL = 0.0005
"""Coordinates are written to 0.001 mm."""


@dataclass(frozen=True)
class Drawing:
    """A drawing as a viewer reads it."""

    root: ET.Element

    def all(self, tag: str, mark: str = "") -> list[ET.Element]:
        """Return the elements of a kind in drawing order, only those with a mark if one is given."""
        return [element for element in self.root.iter(SVG + tag) if not mark or mark in element.attrib]

    @property
    def size(self) -> Point:
        """The page in millimetres, by its view box."""
        left, top, width, height = (float(part) for part in self.root.attrib["viewBox"].split())
        assert (left, top) == (0, 0)
        return width, height

    @property
    def words(self) -> list[str]:
        """All texts, in order."""
        return [element.text or "" for element in self.all("text")]

    @property
    def scale(self) -> float:
        """Millimetres on the page to one of the drum, as the caption states it."""
        (stated,) = [match for words in self.words if (match := re.match(r"Scale ([0-9.]+):([0-9.]+) ", words))]
        return float(stated[1]) / float(stated[2])

    def holes(self) -> dict[tuple[int, str], Point]:
        """Return the middle of every hole by station and name; no hole is drawn twice."""
        circles = self.all("circle", "data-hole")
        found = {
            (int(circle.attrib["data-station"]), circle.attrib["data-hole"]): place(circle, "cx", "cy")
            for circle in circles
        }
        assert len(found) == len(circles)
        return found

    def lowest_of_frame(self) -> Point:
        """Return where the frame's outline begins: its lowest point."""
        (path,) = [path for path in self.all("path", "data-curve") if path.attrib["data-curve"] == "frame"]
        match = re.match(r"M([-0-9.]+) ([-0-9.]+)", path.attrib["d"])
        assert match
        return float(match[1]), float(match[2])

    def boxes(self) -> list[TextBox]:
        """Return the room of every text, worked out anew from the file."""
        return [_box(element) for element in self.all("text")]

    def outside(self) -> list[str]:
        """Return the texts that reach beyond the page."""
        width, height = self.size
        return [
            box.text for box in self.boxes() if not all(0 <= x <= width and 0 <= y <= height for x, y in box.corners)
        ]


def read_drawing(data: bytes) -> Drawing:
    """Parse a drawing; raises ParseError where it is not well-formed XML."""
    root = ET.fromstring(data)
    assert root.tag == SVG + "svg"
    return Drawing(root)


def place(element: ET.Element, x: str, y: str) -> Point:
    """Return the point that two attributes give."""
    return float(element.attrib[x]), float(element.attrib[y])


def _box(element: ET.Element) -> TextBox:
    turned = re.match(r"rotate\(([-0-9.]+) ", element.attrib.get("transform", ""))
    return TextBox(
        place(element, "x", "y"),
        element.text or "",
        float(element.attrib["font-size"]),
        element.attrib["text-anchor"],
        float(turned[1]) if turned else 0.0,
    )
