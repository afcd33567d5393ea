"""Thickness over a whole piece: places, limits, and that laying and the check agree."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tauthide.cutting.faults import faults
from tauthide.cutting.forms import form_of
from tauthide.cutting.hides import Hide, Point, Reading
from tauthide.cutting.improving import plan_cutting
from tauthide.cutting.pieces import Blank, Disc, Layout, Piece, Placement, Shape, Task
from tauthide.cutting.thickness import DIRECTIONS, Gauge, reaches_of, span_over

SQUARE = ((0.0, 0.0), (450.0, 0.0), (450.0, 450.0), (0.0, 450.0))
THIN_SPOT = Hide(
    "spot", "goat", SQUARE,
    (Reading((225.0, 225.0), 1.0), Reading((225.0, 75.0), 0.4), Reading((375.0, 225.0), 1.9)),
)  # fmt: skip
"""Right in the middle, and not at two places that a large head takes in."""

OBLONG = Blank(((50.0, -80.0), (50.0, 80.0), (-50.0, 80.0), (-50.0, -80.0)))
HEAD = Piece("head", "head", Disc(181.0), ("goat",), 0.85, 1.15)


def laid(hide: Hide, piece: Piece, at: Point, angle_deg: float = 0.0) -> Layout:
    """A layout of one piece."""
    return Layout(Task((hide,), (piece,)), (Placement("head", 0, "head", piece.shape, hide.name, at, angle_deg),))


def kinds(layout: Layout) -> list[str]:
    """The kinds of fault in a layout."""
    return [fault.kind for fault in faults(layout)]


class TestThinSpot:
    def test_a_head_is_not_laid_over_it(self) -> None:
        assert THIN_SPOT.thickness_at((225.0, 225.0)) == 1.0
        assert plan_cutting(Task((THIN_SPOT,), (HEAD,)), 20).missing == ("head",)

    def test_the_check_finds_it(self) -> None:
        (fault,) = faults(laid(THIN_SPOT, HEAD, (225.0, 225.0)))
        assert fault.kind == "thickness"
        assert fault.beyond == pytest.approx(0.75)  # 1.9 mm where 1.15 mm is allowed, more than 0.4 under 0.85

    def test_a_small_head_keeps_clear_of_it(self) -> None:
        small = replace(HEAD, shape=Disc(30.0))
        layout = plan_cutting(Task((THIN_SPOT,), (small,)), 20)
        assert not layout.missing
        assert not kinds(layout)

    def test_without_limits_it_does_not_matter(self) -> None:
        assert not kinds(laid(THIN_SPOT, replace(HEAD, least_mm=None, most_mm=None), (225.0, 225.0)))


def test_one_reading_holds_all_over() -> None:
    hide = Hide("one", "goat", SQUARE, (Reading((10.0, 10.0), 1.1),))
    assert span_over(hide, form_of(Disc(100.0), "head", 0.0, 0.0), (200.0, 200.0)) == (1.1, 1.1)
    assert not plan_cutting(Task((hide,), (HEAD,)), 0).missing


def test_too_thick_on_the_rim_alone() -> None:
    # No reading lies within the disc, but its right rim comes close to a thick one.
    hide = Hide("rim", "goat", SQUARE, (Reading((100.0, 225.0), 1.0), Reading((330.0, 225.0), 2.0)))
    piece = replace(HEAD, shape=Disc(100.0), least_mm=0.5, most_mm=1.9)
    assert hide.thickness_at((225.0, 225.0)) < 1.9 < hide.thickness_at((325.0, 225.0))
    assert kinds(laid(hide, piece, (225.0, 225.0))) == ["thickness"]
    assert not Gauge(hide).keeps(form_of(piece.shape, "head", 0.0, 0.0), (225.0, 225.0), 0.5, 1.9)


@pytest.mark.parametrize(
    ("shape", "angle_deg", "reaches"),
    [
        (Disc(70.0), 0.0, {0: 70.0, 4: 70.0}),
        (OBLONG, 0.0, {0: 50.0, 3: 80.0, 1: 50.0 / math.cos(math.pi / 6), 9: 80.0}),
        (OBLONG, 90.0, {0: 80.0, 3: 50.0, 6: 80.0, 9: 50.0}),
    ],
)
def test_how_far_a_form_reaches(shape: Shape, angle_deg: float, reaches: dict[int, float]) -> None:
    found = reaches_of(form_of(shape, "head", angle_deg, 5.0))
    assert len(found) == len(DIRECTIONS)
    for direction, reach in reaches.items():
        assert found[direction] == pytest.approx(reach)


def test_directions_are_thirty_degrees_apart() -> None:
    for number, (x, y) in enumerate(DIRECTIONS):
        angle = math.radians(30 * number)
        assert (x, y) == pytest.approx((math.cos(angle), math.sin(angle)), abs=1e-15)


@pytest.mark.parametrize(("angle_deg", "held"), [(0.0, True), (90.0, False)])
def test_a_reading_in_a_corner_of_a_blank(angle_deg: float, held: bool) -> None:
    hide = Hide("corner", "goat", SQUARE, (Reading((225.0, 225.0), 1.0), Reading((270.0, 300.0), 1.2)))
    piece = replace(HEAD, shape=OBLONG, most_mm=1.19)
    assert (kinds(laid(hide, piece, (225.0, 225.0), angle_deg)) == ["thickness"]) == held
    assert (span_over(hide, form_of(OBLONG, "head", angle_deg, 5.0), (225.0, 225.0))[1] == 1.2) == held


@st.composite
def spans(draw: st.DrawFn) -> tuple[Hide, Shape, float, Point]:
    """A hide with readings, and a piece laid on it somewhere, round or not."""
    place = st.tuples(st.floats(-100, 550), st.floats(-100, 550))
    places = draw(st.lists(place, min_size=1, max_size=6, unique=True))
    readings = tuple(Reading(at, draw(st.integers(500, 2000)) / 1000) for at in places)
    shapes: list[Shape] = [Disc(40.0), Disc(170.0), OBLONG, Blank(((90.0, -20.0), (0.0, 60.0), (-70.0, -10.0)))]
    shape = draw(st.sampled_from(shapes))
    return Hide("any", "goat", SQUARE, readings), shape, draw(st.sampled_from((0.0, 30.0, 77.0, 270.0))), draw(place)


class TestLaws:
    @settings(max_examples=200, deadline=None)
    @given(spans())
    def test_laying_and_the_check_agree(self, case: tuple[Hide, Shape, float, Point]) -> None:
        hide, shape, angle_deg, middle = case
        least_mm, most_mm = span_over(hide, form_of(shape, "head", angle_deg, 5.0), middle)
        inside = replace(HEAD, shape=shape, least_mm=least_mm, most_mm=most_mm)
        assert "thickness" not in kinds(laid(hide, inside, middle, angle_deg))
        narrow = replace(inside, least_mm=least_mm - 0.1, most_mm=most_mm - 1e-3)
        assert "thickness" in kinds(laid(hide, narrow, middle, angle_deg))

    @given(spans(), st.floats(0.5, 2.0), st.floats(0.5, 2.0))
    def test_what_a_gauge_keeps_is_its_verdict(
        self, case: tuple[Hide, Shape, float, Point], one_mm: float, other_mm: float
    ) -> None:
        hide, shape, angle_deg, middle = case
        form, gauge = form_of(shape, "head", angle_deg, 5.0), Gauge(hide)
        least_mm, most_mm = span_over(hide, form, middle)
        low_mm, high_mm = min(one_mm, other_mm), max(one_mm, other_mm)
        wanted = low_mm <= least_mm and most_mm <= high_mm
        assert [gauge.keeps(form, middle, low_mm, high_mm) for _ in range(2)] == [wanted, wanted]
        assert gauge.keeps(form, middle, None, None)

    @given(spans())
    def test_never_beyond_the_readings(self, case: tuple[Hide, Shape, float, Point]) -> None:
        hide, shape, angle_deg, middle = case
        assert isinstance(hide.thickness, tuple)
        values = [reading.thickness_mm for reading in hide.thickness]
        least_mm, most_mm = span_over(hide, form_of(shape, "head", angle_deg, 5.0), middle)
        assert min(values) - 1e-6 <= least_mm <= hide.thickness_at(middle) <= most_mm <= max(values) + 1e-6
