"""The template as PDF, by reportlab: an optional package, imported only here and only when it is needed."""

from __future__ import annotations

import re
from collections.abc import Iterable
from io import BytesIO
from math import acos, ceil, cos, hypot, pi, sin
from typing import TYPE_CHECKING

from tauthide.drawings.canvas import WIDE_MM, Canvas, Point
from tauthide.plan.plan import Plan
from tauthide.printing.paper import PAPERS, TRUE_MARGIN_MM
from tauthide.printing.template import template_pages
from tauthide.text import plain

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas as Page

POINT_MM = 25.4 / 72
"""A PDF's unit: 1/72 in."""

FONT, BOLD_FONT = "Helvetica", "Helvetica-Bold"
"""Fonts that every reader of PDF has; they hold Windows code page 1252."""

ARC_TOLERANCE_MM = 0.002
"""Arcs are drawn in straight pieces that cut the corner by no more."""

_PATH = re.compile(r"([MLAZ])([^MLAZ]*)")


def render_template_pdf(plan: Plan, paper: str, notice: str = "") -> bytes:
    """Return the true-size template as PDF that asks to be printed unscaled, on one side; same plan, same bytes.

    Raises ImportError where reportlab is not installed.
    """
    from reportlab.pdfgen.canvas import Canvas as Page  # late: optional, and slow to import

    size = PAPERS[paper]
    file = BytesIO()
    # Invariant: without the time; not compressed, since compressors differ from machine to machine.
    page = Page(file, pagesize=(size.width_mm / POINT_MM, size.height_mm / POINT_MM), invariant=1, pageCompression=0)
    page.setTitle(f"Template of {plain(plan.spec.drum)}, digest {plan.digest}")
    page.setSubject("Print at 100 %, not fitted to the page, and measure the bars.")
    page.setAuthor("")
    page.setCreator("Tauthide")
    page.setViewerPreference("PrintScaling", "None")
    page.setViewerPreference("Duplex", "Simplex")

    def new_canvas(width_mm: float, height_mm: float, title: str, description: str) -> Canvas:
        return PdfCanvas(width_mm, height_mm, title, description, page, size.height_mm)

    for _ in template_pages(plan, paper, new_canvas, notice):
        page.showPage()
    page.save()
    return file.getvalue()


class PdfCanvas(Canvas):
    """A page that is drawn into a PDF as it comes; every primitive of `Canvas` that templates use."""

    def __init__(
        self, width_mm: float, height_mm: float, title: str, description: str, page: Page, paper_height_mm: float
    ) -> None:
        """Start on the PDF's current page, its margins clear."""
        super().__init__(width_mm, height_mm, title, description)
        self._page = page
        self._from = (TRUE_MARGIN_MM, paper_height_mm - TRUE_MARGIN_MM)
        self._shifts: list[Point] = []

    def path(
        self, data: str, *, width: float = WIDE_MM, dash: str = "", fill: str = "none", stroke: str = "#000",
        attributes: str = "",
    ) -> None:  # fmt: skip
        """Draw path data of M, L, A and Z, as curves and edges have them."""
        points = _path_points(data)
        self._draw(points, width, dash, fill, stroke, closed=data.endswith("Z"))

    def line(self, start: Point, end: Point, *, width: float = WIDE_MM, dash: str = "", stroke: str = "#000",
             attributes: str = "") -> None:  # fmt: skip
        """Draw a straight line."""
        self._draw([start, end], width, dash, "none", stroke, closed=False)

    def polyline(self, points: Iterable[Point], *, width: float = WIDE_MM, dash: str = "", fill: str = "none",
                 closed: bool = False) -> None:  # fmt: skip
        """Draw a line through points."""
        self._draw(list(points), width, dash, fill, "#000", closed=closed)

    def circle(self, centre: Point, radius_mm: float, *, width: float = WIDE_MM, dash: str = "",
               fill: str = "none", stroke: str = "#000", attributes: str = "") -> None:  # fmt: skip
        """Draw a circle."""
        self._set_pen(width, dash, fill, stroke)
        x, y = self._at(centre)
        self._page.circle(x, y, radius_mm / POINT_MM, stroke=int(stroke != "none"), fill=int(fill != "none"))

    def rectangle(self, corner: Point, width_mm: float, height_mm: float, *, width: float = WIDE_MM,
                  fill: str = "none", stroke: str = "#000") -> None:  # fmt: skip
        """Draw a rectangle from its top left corner."""
        x, y = corner
        right, low = x + width_mm, y + height_mm
        self._draw([(x, y), (right, y), (right, low), (x, low)], width, "", fill, stroke, closed=True)

    def arrowhead(self, tip: Point, direction_deg: float, length_mm: float = 2.4) -> None:
        """Draw a filled arrowhead, as the SVG's."""
        half, turn = 12 * pi / 180, direction_deg * pi / 180
        left, right = (
            (tip[0] - length_mm * cos(turn + side), tip[1] - length_mm * sin(turn + side)) for side in (-half, half)
        )
        self._draw([tip, left, right], 0.0, "", "#000", "none", closed=True)

    def text(self, at: Point, text: str, size_mm: float = 3.5, *, anchor: str = "middle", bold: bool = False,
             turned_deg: float = 0.0, halo: bool = False, counts: bool = True) -> None:  # fmt: skip
        r"""Write a text; a character that the fonts have not is written out, as in `\u4e00`."""
        from reportlab.pdfbase.pdfmetrics import stringWidth

        shown = plain(text).encode("cp1252", "backslashreplace").decode("cp1252")
        font, size = BOLD_FONT if bold else FONT, size_mm / POINT_MM
        width = stringWidth(shown, font, size)
        page = self._page
        page.saveState()
        page.translate(*self._at(at))
        page.rotate(-turned_deg)
        page.setStrokeGray(1.0)
        page.setFillGray(0.0)
        page.setDash([])
        page.setLineWidth(size * 0.3)
        # One text object for both: the mode outlives it, unknown to the next.
        line = page.beginText()
        line.setFont(font, size)
        for mode in (1, 0) if halo else (0,):
            line.setTextOrigin({"start": 0.0, "middle": -width / 2, "end": -width}[anchor], 0.0)
            line.setTextRenderMode(mode)
            line.textOut(shown)
        page.drawText(line)
        page.restoreState()

    def shift(self, x_mm: float, y_mm: float) -> None:
        """Draw the following from another point on."""
        self._shifts.append(self._from)
        self._from = (self._from[0] + x_mm, self._from[1] - y_mm)

    def group(self, attributes: str) -> None:
        """Groups mean nothing here."""
        self._shifts.append(self._from)

    def end_group(self) -> None:
        """Go back to where the last group began."""
        self._from = self._shifts.pop()

    def bytes(self) -> bytes:
        """Return nothing: a page is a part of its PDF."""
        return b""

    def _at(self, point: Point) -> Point:
        return (self._from[0] + point[0]) / POINT_MM, (self._from[1] - point[1]) / POINT_MM

    def _set_pen(self, width: float, dash: str, fill: str, stroke: str) -> None:
        page = self._page
        page.setStrokeGray(0.0 if stroke == "#000" else 1.0)
        page.setFillGray(0.0 if fill == "#000" else 1.0)
        page.setLineWidth(width / POINT_MM)
        page.setDash([float(part) / POINT_MM for part in dash.split()])

    def _draw(self, points: list[Point], width: float, dash: str, fill: str, stroke: str, *, closed: bool) -> None:
        self._set_pen(width, dash, fill, stroke)
        path = self._page.beginPath()
        path.moveTo(*self._at(points[0]))
        for point in points[1:]:
            path.lineTo(*self._at(point))
        if closed:
            path.close()
        self._page.drawPath(path, stroke=int(stroke != "none"), fill=int(fill != "none"))
        self._page.setFillGray(0.0)


def _path_points(data: str) -> list[Point]:
    """Return points along path data that `Canvas.path` is given: arcs below half a turn, flags 0 0."""
    points: list[Point] = []
    for letter, numbers in _PATH.findall(data):
        values = [float(part) for part in numbers.split()]
        if letter in "ML":
            points.append((values[0], values[1]))
        elif letter == "A":
            points += _arc_points(points[-1], values[0], (values[-2], values[-1]))
    return points


def _arc_points(start: Point, radius: float, end: Point) -> list[Point]:
    """Return points on an arc that turns anticlockwise as seen on the page, its start left out."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    chord = hypot(dx, dy)
    if chord == 0:
        return [end]
    rise = (max(radius**2 - chord**2 / 4, 0.0)) ** 0.5
    # The centre lies to the left of the way from start to end, as seen on the page.
    centre = ((start[0] + end[0]) / 2 + rise * dy / chord, (start[1] + end[1]) / 2 - rise * dx / chord)
    whole = 2 * acos(min(rise / radius, 1.0))
    pieces = max(1, ceil(whole / (2 * acos(max(1 - ARC_TOLERANCE_MM / radius, -1.0)))))
    x, y = start[0] - centre[0], start[1] - centre[1]
    turned = [-whole * k / pieces for k in range(1, pieces)]
    return [
        *((centre[0] + x * cos(t) - y * sin(t), centre[1] + x * sin(t) + y * cos(t)) for t in turned),
        end,
    ]
