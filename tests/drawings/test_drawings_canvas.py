"""The canvas, dimension lines, labels round a rim, scales, and outlines as path data."""

from __future__ import annotations

import math
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drawn import SVG, read_drawing
from drums import plan_of
from tauthide.drawings.canvas import Canvas, TextBox, View, number, overlapping, text_width_mm
from tauthide.drawings.dimensions import dimension, leader, measure_line, upright_deg
from tauthide.drawings.labels import label_room, shown_stations
from tauthide.drawings.outlines import curve_at, path_data, rim
from tauthide.drawings.pages import REDUCTIONS, fit, scale_text
from tauthide.geometry.outline import Outline, make_outline
from tauthide.text import plain

PIECE = re.compile(r"([MLAC])([-0-9. ]+)")

OUTLINES = (
    make_outline("round", diameter_mm=330.2),
    make_outline("oval", length_mm=450.0, width_mm=380.0),
    *(make_outline("polygon", sides=sides, across_flats_mm=350.0) for sides in (3, 4, 5, 8, 12)),
)


def empty() -> Canvas:
    """Return an empty page."""
    return Canvas(100, 80, "A title", "A description")


class TestCanvas:
    """A page is well-formed SVG in millimetres, whatever a maker writes."""

    def test_the_view_box_is_the_size_in_millimetres(self) -> None:
        """A unit of the view box is a millimetre."""
        drawing = read_drawing(Canvas(188, 240.5, "t", "d").bytes())
        assert drawing.root.attrib["width"] == "188mm"
        assert drawing.root.attrib["height"] == "240.5mm"
        assert drawing.size == (188, 240.5)

    @given(st.text(max_size=40))
    def test_any_words_are_shown_as_plain_text(self, words: str) -> None:
        """Markup and control characters can neither break the file nor act in it."""
        canvas = Canvas(100, 80, words, words)
        canvas.text((50, 40), words)
        drawing = read_drawing(canvas.bytes())
        assert [element.tag.removeprefix(SVG) for element in drawing.root] == [
            "title",
            "desc",
            "rect",
            "text",
        ]
        assert drawing.words == [plain(words)]
        assert drawing.root.attrib["aria-label"] == plain(words)

    def test_numbers_have_three_decimals_at_most_and_no_minus_nought(self) -> None:
        """Coordinates are short, and zero has one spelling."""
        assert [number(value) for value in (1.0, 0.12349, -0.0001, 120.0, -2.5)] == [
            "1",
            "0.123",
            "0",
            "120",
            "-2.5",
        ]

    def test_the_room_of_a_text_follows_its_anchor_and_its_turn(self) -> None:
        """The canvas and the file read back agree on the room of every text."""
        canvas = empty()
        canvas.text((50, 40), "middle")
        canvas.text((50, 40), "start", anchor="start", turned_deg=-90)
        canvas.text((50, 40), "end", 3.2, anchor="end", turned_deg=30)
        for kept, read in zip(canvas.texts, read_drawing(canvas.bytes()).boxes(), strict=True):
            assert kept.text == read.text
            for corner, corner_read in zip(kept.corners, read.corners, strict=True):
                assert corner == pytest.approx(corner_read, abs=1e-3)

    def test_overlaps_are_found_between_turned_texts_too(self) -> None:
        """Two boxes whose outer bounds meet need not overlap; those that share room do."""
        canvas = empty()
        canvas.text((20, 20), "level and long")
        canvas.text((20, 20), "turned", turned_deg=-45)
        canvas.text((60, 60), "far away")
        assert overlapping(canvas.texts) == [("level and long", "turned")]
        level = TextBox((10.0, 50.0), "mmmm", 4.0, "start", 0.0)
        rising = TextBox((21.0, 57.0), "mmmm", 4.0, "start", -45.0)
        assert max(x for x, _ in level.corners) > min(x for x, _ in rising.corners)
        assert max(y for _, y in level.corners) > min(y for _, y in rising.corners)
        assert overlapping([level, rising]) == []

    def test_a_view_turns_y_downward(self) -> None:
        """Up in the plan is up on the page, where y counts downward."""
        view = View(94.0, 100.0, 0.25)
        assert view.at((0.0, 0.0)) == (94.0, 100.0)
        assert view.at((40.0, 80.0)) == (104.0, 80.0)


class TestDimensions:
    """A dimension says how far apart two points are, legibly."""

    @given(st.floats(-720, 720))
    def test_texts_are_read_from_below_or_from_the_right(self, direction: float) -> None:
        """A text along any line is turned by -90 up to 90 degrees, and lies along the line."""
        turn = upright_deg(direction)
        assert -90.0 - 1e-6 <= turn < 90.0
        assert math.sin(math.radians(2 * (turn - direction))) == pytest.approx(0, abs=1e-6)
        assert math.cos(math.radians(2 * (turn - direction))) == pytest.approx(1, abs=1e-6)

    @pytest.mark.parametrize("direction", [90.0, -90.0, 270.0, 89.9999999999])
    def test_an_upright_line_is_read_from_the_right(self, direction: float) -> None:
        """On the page a text read from the right is turned by -90."""
        assert upright_deg(direction) == pytest.approx(-90.0)

    def test_arrows_point_outward_between_points_that_are_far_apart(self) -> None:
        """Both tips lie in the line, at its ends; the heads lie between them."""
        canvas = empty()
        assert measure_line(canvas, (20, 40), (60, 40), -10) == ((20, 30), (60, 30))
        for head in read_drawing(canvas.bytes()).all("polygon"):
            assert all(20 <= float(point.split(",")[0]) <= 60 for point in head.attrib["points"].split())

    def test_arrows_stand_outside_a_short_distance(self) -> None:
        """Where two arrows would meet, their heads lie outside and point at each other."""
        canvas = empty()
        measure_line(canvas, (50, 40), (54, 40), 10)
        heads = read_drawing(canvas.bytes()).all("polygon")
        assert len(heads) == 2
        for head in heads:
            assert not any(50 < float(point.split(",")[0]) < 54 for point in head.attrib["points"].split())

    @pytest.mark.parametrize("length", [1.0, 4.0, 10.0, 20.0, 40.0])
    def test_a_text_wider_than_the_distance_is_written_past_its_end(self, length: float) -> None:
        """The text keeps clear of both arrows, with the heads inside or outside."""
        canvas = empty()
        dimension(canvas, (10, 40), (10 + length, 40), "12 mm (1/2 in)", 5)
        (box,) = canvas.texts
        left, right = box.corners[0][0], box.corners[1][0]
        assert left > 10 + length or (left > 10 and right < 10 + length)
        assert (left > 10 + length) == (length < text_width_mm("12 mm (1/2 in)", 3.2))

    def test_a_text_may_hang_over_both_ends_instead(self) -> None:
        """It is centred on the line, however short that is."""
        canvas = empty()
        dimension(canvas, (40, 40), (60, 40), "a text much wider than that", overhang=True)
        (box,) = canvas.texts
        assert (box.corners[0][0] + box.corners[1][0]) / 2 == pytest.approx(50)
        assert box.corners[0][0] < 40

    def test_a_text_stands_above_its_line(self) -> None:
        """Also where the line is drawn from right to left."""
        for start, end in (((10.0, 40.0), (80.0, 40.0)), ((80.0, 40.0), (10.0, 40.0))):
            canvas = empty()
            dimension(canvas, start, end, "70 mm")
            assert max(y for _, y in canvas.texts[0].corners) < 40

    def test_one_place_has_no_distance(self) -> None:
        """A dimension of nothing is a fault of ours."""
        with pytest.raises(ValueError, match="two different points"):
            dimension(empty(), (10, 10), (10, 10), "0 mm")

    def test_a_leader_carries_its_lines_away_from_the_tip(self) -> None:
        """One line above the shoulder, one below it, on the side away from what they name."""
        canvas = empty()
        leader(canvas, (60, 20), (50, 30), ("above", "below"))
        above, below = canvas.texts
        assert max(x for x, _ in (*above.corners, *below.corners)) <= 50 + 1e-9
        assert max(y for _, y in above.corners) < 30 < min(y for _, y in below.corners)


class TestLabels:
    """As many numbers as have room, station 1 and its opposite always."""

    @given(st.integers(2, 32).map(lambda half: 2 * half), st.floats(2, 90))
    def test_shown_labels_never_meet(self, count: int, radius: float) -> None:
        """On any circle that has room for two, neighbours keep clear."""
        turns = [2 * math.pi * k / count for k in range(count)]
        centres = [(radius * math.sin(turn), radius * math.cos(turn)) for turn in turns]
        width, height = label_room(["64"], 3.4)
        shown = shown_stations(centres, width, height)
        assert {1, 1 + count // 2} <= set(shown)
        assert list(shown) == sorted(set(shown))
        for index, first in enumerate(shown):
            for second in shown[index + 1 :]:
                (x1, y1), (x2, y2) = centres[first - 1], centres[second - 1]
                assert abs(x1 - x2) >= width or abs(y1 - y2) >= height or radius < height

    def test_all_are_shown_where_all_have_room(self) -> None:
        """Nothing is left out without need."""
        centres = [(10.0 * k, 0.0) for k in range(8)] + [(10.0 * k, 90.0) for k in range(7, -1, -1)]
        assert shown_stations(centres, 4.0, 3.0) == tuple(range(1, 17))

    def test_every_second_is_shown_where_every_one_is_too_many(self) -> None:
        """Counting starts anew at the opposite station."""
        turns = [2 * math.pi * k / 20 for k in range(20)]
        centres = [(10 * math.sin(turn), 10 * math.cos(turn)) for turn in turns]
        assert shown_stations(centres, 4.0, 3.0) == (1, 3, 5, 7, 9, 11, 13, 15, 17, 19)


class TestScales:
    """Round scales only."""

    @given(st.floats(1, 5000), st.floats(1, 5000))
    def test_the_largest_round_scale_that_fits(self, width: float, height: float) -> None:
        """The size fits at the scale and not at the next larger one."""
        reduction = fit(width, height, (150.0, 130.0))
        assert width / reduction <= 150 + 1e-9
        assert height / reduction <= 130 + 1e-9
        larger = [scale for scale in REDUCTIONS if scale < reduction]
        if larger:
            assert width / larger[-1] > 150 or height / larger[-1] > 130

    def test_scales_are_written_as_ratios(self) -> None:
        """Enlargements stand the other way round."""
        assert [scale_text(value) for value in (1.0, 2.5, 10.0, 0.5, 0.2)] == [
            "1:1",
            "1:2.5",
            "1:10",
            "2:1",
            "5:1",
        ]


class TestOutlines:
    """What is drawn is the outline that the plan computes."""

    @pytest.mark.parametrize("outline", OUTLINES, ids=lambda outline: f"{outline.kind} {outline.length_at(0):.0f}")
    @pytest.mark.parametrize("offset", [0.0, 60.0, -20.0])
    def test_the_path_passes_through_the_outline(self, outline: Outline, offset: float) -> None:
        """The ends of all pieces lie on the curve at the offset, and the path closes."""
        view = View(94.0, 100.0, 0.25)
        data = path_data(outline.path(offset), view)
        pieces = PIECE.findall(data)
        assert "".join(letter + numbers for letter, numbers in pieces) + "Z" == data
        ends = [tuple(float(part) for part in numbers.split()[-2:]) for _, numbers in pieces]
        assert ends[0] == ends[-1]
        around = outline.perimeter_at(offset)
        curve = [view.at(outline.point(offset, around * k / 4000)) for k in range(4000)]
        for x, y in ends:
            assert min(math.hypot(x - px, y - py) for px, py in curve) < around * view.scale / 4000

    def test_an_arc_bulges_outward(self) -> None:
        """SVG's flags: at most half a turn, anticlockwise as seen."""
        data = path_data(make_outline("round", diameter_mm=200.0).path(0.0), View(0.0, 0.0, 1.0))
        assert data == "M0 100A100 100 0 0 0 0 -100A100 100 0 0 0 0 100Z"

    def test_a_curve_that_would_fold_over_itself_is_left_out(self) -> None:
        """A wall that reaches the middle has no inner edge."""
        outline = make_outline("round", diameter_mm=100.0)
        view = View(0.0, 0.0, 1.0)
        assert curve_at(outline, -50.0, view) == ""
        assert curve_at(outline, -49.0, view) != ""

    @pytest.mark.parametrize("hand", ["anticlockwise", "clockwise"])
    def test_stations_on_the_rim_are_those_of_the_plan(self, hand: str) -> None:
        """Also numbered the other way; normals are of length 1 and point outward."""
        plan = plan_of(stations_hand=hand)
        for places, points in (
            (rim(plan, 0.0), [mark.frame for mark in plan.stations]),
            (rim(plan, plan["skin.reach"]), [mark.edge for mark in plan.stations]),
        ):
            for station, (at, point) in enumerate(zip(places, points, strict=True), 1):
                assert at.station == station
                assert at.point == pytest.approx(point, abs=1e-9)
                assert math.hypot(*at.normal) == pytest.approx(1)
                assert at.normal[0] * point[0] + at.normal[1] * point[1] > 0
