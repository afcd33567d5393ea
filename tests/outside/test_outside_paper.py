"""Paper, lines and scales as they are published: what a drawing is printed on, and how it is drawn."""

from __future__ import annotations

import math

import pytest

from drawn import read_drawing
from drums import plan_of
from tauthide.drawings import gauge_page, pages
from tauthide.drawings.canvas import NARROW_MM, WIDE_MM
from tauthide.drawings.gauge import draw_gauge
from tauthide.drawings.section_page import SCALES
from tauthide.units import length, parse

A_SERIES = {
    0: (841, 1189),
    1: (594, 841),
    2: (420, 594),
    3: (297, 420),
    4: (210, 297),
    5: (148, 210),
    6: (105, 148),
}
"""Trimmed sizes in mm (ISO 216:2007, main series)."""

TOLERANCES_MM = ((150.0, 1.5), (600.0, 2.0), (math.inf, 3.0))
"""Up to which size a sheet's side may be off by how much (ISO 216:2007)."""

LETTER_IN = ("8 1/2 in", "11 in")
"""US Letter, size A of ANSI/ASME Y14.1."""

IN_POINTS = {"A4": (595, 842), "Letter": (612, 792)}
"""Whole points in which printers' page descriptions give both papers (PostScript Printer Description files,
version 4.3, Adobe). From memory."""

MM_PER_POINT = 25.4 / 72
"""A point of a page description is 1/72 inch (PostScript Language Reference, Adobe)."""

MARGIN_MM = 10.0
"""What usual printers leave blank at most along each edge, in round figures. From memory, no published source."""

LINE_WIDTHS_MM = (0.13, 0.18, 0.25, 0.35, 0.5, 0.7, 1.0, 1.4, 2.0)
"""The series of line widths (ISO 128-2, formerly ISO 128-20)."""

SCALES_TO_1 = (10, 5, 2, 1, 1 / 2, 1 / 5, 1 / 10, 1 / 20)
"""Enlargements, full size and reductions next to it (ISO 5455)."""


def papers_mm() -> tuple[tuple[float, float], ...]:
    """Return A4 and Letter, by their standards and as a printer takes them."""
    letter = [parse("length", side) for side in LETTER_IN]
    in_points = [(width * MM_PER_POINT, height * MM_PER_POINT) for width, height in IN_POINTS.values()]
    return ((210.0, 297.0), (letter[0], letter[1]), *in_points)


def printable_mm() -> tuple[float, float]:
    """Return what all of them print inside the margins."""
    return (
        min(width for width, _ in papers_mm()) - 2 * MARGIN_MM,
        min(height for _, height in papers_mm()) - 2 * MARGIN_MM,
    )


class TestIso216:
    """The published sizes hang together as the standard says, so none is mistyped here."""

    @pytest.mark.parametrize("number", range(6))
    def test_halving_gives_the_next(self, number: int) -> None:
        """The long side is halved and rounded down to whole millimetres."""
        short, long = A_SERIES[number]
        assert A_SERIES[number + 1] == (long // 2, short)

    def test_a0_is_a_square_metre(self) -> None:
        """With sides as 1 to the square root of 2, both to the nearest millimetre."""
        side = 1000 / 2**0.25
        assert A_SERIES[0] == (round(side), round(side * math.sqrt(2)))

    def test_a4_is_the_paper_meant_here(self) -> None:
        """The first paper of the list is the standard's."""
        assert papers_mm()[0] == A_SERIES[4]


def test_letter_in_millimetres() -> None:
    """8 1/2 by 11 inches are 215.9 by 279.4 mm."""
    width, height = papers_mm()[1]
    assert width == pytest.approx(215.9, abs=1e-9)
    assert height == pytest.approx(279.4, abs=1e-9)


def test_common_printable_area() -> None:
    """A4 in whole points is the narrowest, Letter the shortest."""
    width, height = printable_mm()
    assert width == pytest.approx(189.9, abs=0.005)
    assert height == pytest.approx(259.4, abs=1e-9)


def test_pages_fit_both_papers() -> None:
    """The gauge has to print at true size on either, and the other drawings are best at theirs."""
    width, height = printable_mm()
    assert width >= gauge_page.PAGE_WIDTH_MM
    assert height >= gauge_page.PAGE_HEIGHT_MM
    assert width >= pages.PAGE_WIDTH_MM
    assert height >= pages.PAGE_HEIGHT_MM


def test_gauge_is_never_measured_from_the_papers_edge() -> None:
    """A sheet of A4 may be off by more than a bench can measure, and the gauge warns of it."""
    for side in A_SERIES[4]:
        tolerance = next(off for most, off in TOLERANCES_MM if side <= most)
        # The sheets round to 1 mm: two lengths that differ by more are shown to differ.
        assert length(side, "metric") != length(side - tolerance, "metric")
    words = read_drawing(draw_gauge(plan_of())).words
    assert any("Never measure from the paper's edge" in line for line in words)


def test_line_widths_are_of_the_series_and_two_to_one() -> None:
    """Wide lines are twice as wide as narrow ones (ISO 128-2)."""
    assert WIDE_MM in LINE_WIDTHS_MM
    assert NARROW_MM in LINE_WIDTHS_MM
    assert WIDE_MM == 2 * NARROW_MM


def test_section_takes_standard_scales() -> None:
    """Each a step of 1, 2 or 5."""
    assert set(SCALES) <= set(SCALES_TO_1)
    assert list(SCALES) == sorted(SCALES, reverse=True)
