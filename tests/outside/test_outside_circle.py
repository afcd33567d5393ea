"""Round outlines against published tables of the divided circle."""

from __future__ import annotations

import math
import re

import pytest

from tauthide.geometry.round import RoundOutline

# Chord for a circle of radius 1 by number of divisions, 4 digits.
# Source: The Engineering ToolBox, circle division.
ENGINEERING_TOOLBOX = {8: 0.7654, 12: 0.5176, 16: 0.3902, 24: 0.2611, 32: 0.1960}

# Chord for a circle of diameter 1 by number of divisions, 5 digits. Worked out from sin(180 / n degrees).
# The workshop table published by shopswarf ("spacing", 3 to 30 divisions) agrees, save at 15, where it
# prints .2070 for .20791.
CHORD_TABLE = """
    6 .50000   7 .43388   8 .38268   9 .34202   10 .30902   11 .28173   12 .25882
    13 .23932   14 .22252   15 .20791   16 .19509   17 .18375   18 .17365   19 .16459
    20 .15643   21 .14904   22 .14231   23 .13617   24 .13053   25 .12533   26 .12054
    27 .11609   28 .11196   29 .10812   30 .10453   31 .10117   32 .09802
"""
CHORDS = re.findall(r"(\d+) (\.\d{5})", CHORD_TABLE)


def measure_chords(outline: RoundOutline, count: int) -> list[float]:
    """Straight distances from each station to the next, the last to station 1."""
    points = [outline.point(0.0, station) for station in outline.stations(count)]
    return [math.dist(a, b) for a, b in zip(points, points[1:] + points[:1], strict=True)]


@pytest.mark.parametrize(("count", "chord"), ENGINEERING_TOOLBOX.items())
def test_chords_for_radius_1(count: int, chord: float) -> None:
    """Every chord between stations agrees with The Engineering ToolBox's table."""
    for distance in measure_chords(RoundOutline(2.0), count):
        assert distance == pytest.approx(chord, abs=0.51e-4)


def test_worked_example() -> None:
    """Radius 3 m in 24 parts: chord .7833 m, all together 18.7959 m (The Engineering ToolBox).

    The chord is three times the table's .2611, so it is good to three times half its last place;
    the sum, worked out less roughly, to about one in its last.
    """
    chords = measure_chords(RoundOutline(6000.0), 24)
    assert chords[0] == pytest.approx(783.3, abs=3 * 0.05)
    assert sum(chords) == pytest.approx(18795.9, abs=0.15)


@pytest.mark.parametrize(("count", "digits"), CHORDS)
def test_chords_for_diameter_1(count: str, digits: str) -> None:
    """Every chord between stations agrees with the table to its five digits."""
    for distance in measure_chords(RoundOutline(1.0), int(count)):
        assert f"{distance:.5f}".lstrip("0") == digits


@pytest.mark.parametrize("count", [8, 12, 16, 24, 32])
def test_stepping_closes(count: int) -> None:
    """Stepped with the table's chord n times, the dividers come back to the start.

    A chord wrong by d is out by about n d in the end (Encyclopaedia Britannica, 9th ed., vol. 11, on
    the dividing of circles: the error at a division is the setting error times its number), so the
    table's four digits close a circle of radius 1 to n times half their last place.
    """
    outline = RoundOutline(2.0)
    arc = 0.0
    for _ in range(count):
        arc = outline.advance(0.0, arc, ENGINEERING_TOOLBOX[count])
    # Arc is longer than chord by less than a tenth at eight divisions and more.
    assert abs(arc - outline.perimeter_mm) <= count * 0.5e-4 * 1.1
