"""Plots of records: every drum is there, texts are clear of each other, what is far out is named."""

from __future__ import annotations

import random
import re
import xml.etree.ElementTree as ET

import pytest

from tauthide.drawings.canvas import overlapping
from tauthide.drawings.outcomes import Bar, outcomes_canvas
from tauthide.drawings.scatter import Dot, Plot, draw_scatter, scatter_canvas

SVG = "{http://www.w3.org/2000/svg}"


def plot_of(count: int, far: int, seed: int) -> Plot:
    rng = random.Random(seed)
    dots = [Dot(f"LIB-08-{number:02}", rng.choice((1.8, 6.5)), 0.0, far=number < far) for number in range(count)]
    dots = [
        Dot(
            dot.name,
            dot.planned,
            dot.planned * (rng.choice((0.2, 1.3, 9.0)) if dot.far else rng.gauss(1.03, 0.01)),
            dot.far,
        )
        for dot in dots
    ]
    return Plot("Lace used", "m", tuple(dots), 1.03, 1.01, 1.05, 2)


@pytest.mark.parametrize(("count", "far"), [(2, 0), (10, 1), (10, 4), (60, 12), (60, 20)])
@pytest.mark.parametrize("seed", [1, 2, 3])
class TestScatter:
    def test_every_drum_has_a_mark_within_the_square(self, count: int, far: int, seed: int) -> None:
        plot = plot_of(count, far, seed)
        drawn = ET.fromstring(draw_scatter(plot))
        key = 1 + bool(far)
        circles = drawn.findall(f"{SVG}circle")
        arrows = [each for each in drawn.findall(f"{SVG}polygon") if each.get("fill") == "#000"]
        assert len(circles) - key + len(arrows) == count
        for circle in circles[: len(circles) - key]:
            assert 20 <= float(circle.get("cy", "0")) <= 124

    def test_texts_are_clear_of_each_other_and_on_the_page(self, count: int, far: int, seed: int) -> None:
        canvas = scatter_canvas(plot_of(count, far, seed))
        named = [box for box in canvas.texts if not re.fullmatch(r"\d+", box.text)]
        assert overlapping(named) == []
        assert all(0 <= x <= canvas.width_mm and 0 <= y <= canvas.height_mm for box in named for x, y in box.corners)

    def test_the_same_bytes_whatever_the_order(self, count: int, far: int, seed: int) -> None:
        plot = plot_of(count, far, seed)
        turned = Plot(plot.title, plot.unit, plot.dots[::-1], plot.middle, plot.low, plot.high, plot.decimals)
        assert draw_scatter(plot) == draw_scatter(turned)


def test_numbers_of_a_few_far_drums_are_clear() -> None:
    assert overlapping(scatter_canvas(plot_of(10, 3, 1)).texts) == []


def test_far_drums_are_named_with_what_was_measured() -> None:
    plot = Plot("Days to dry", "days", (*(Dot(f"A-{n}", 2.0, 2.0 + n / 10, False) for n in range(6)),
                                        Dot("A-9", 2.0, 40.0, True)), 1.1, 0.9, 1.3, 1)  # fmt: skip
    assert "A-9: 40.0 days" in [box.text for box in scatter_canvas(plot).texts]


def test_bars_have_their_numbers_and_fit() -> None:
    bars = (
        Bar("all drums", (180, 15, 5)),
        Bar("Soak the skin for the lace and a title that goes on and on", (0, 15, 5)),
    )
    canvas = outcomes_canvas(bars)
    assert [box.text for box in canvas.texts if "lost" in box.text] == [
        "180 good, 15 mended, 5 lost", "15 mended, 5 lost", "lost",
    ]  # fmt: skip
    assert overlapping(canvas.texts) == []
    assert all(0 <= x <= canvas.width_mm for box in canvas.texts for x, _ in box.corners)
