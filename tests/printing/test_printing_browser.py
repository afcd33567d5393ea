"""True size, measured: templates printed by a real browser, and the PDF, as rasters made by poppler."""

from __future__ import annotations

import math
from dataclasses import dataclass
from pathlib import Path

import pytest

from printed import BROWSERS, DARK, PIXEL_MM, Sheet, enclosed, need, page_count, page_size_mm, print_page, rasters
from sheet_plans import plan_of
from tauthide.plan.plan import Plan
from tauthide.printing.pages import render_template_page
from tauthide.printing.paper import PAPERS
from tauthide.printing.pdf import render_template_pdf
from tauthide.printing.rim import rim_of
from tauthide.printing.template_page import WINDOW_LEFT_MM, WINDOW_TOP_MM, window_of
from tauthide.printing.tiles import Tiling, tile_rim

pytestmark = pytest.mark.slow

BAR_MM = 100.0
BAR_TOLERANCE_MM = 0.2
WHOLE_TOLERANCE_MM = 0.5
PEN_MM = 0.25

CASES = [
    ("round", "a4", "html"), ("round", "letter", "html"), ("round", "a4", "pdf"), ("round", "letter", "pdf"),
    ("oval", "a4", "html"), ("oval", "letter", "pdf"), ("octagon", "letter", "html"), ("octagon", "a4", "pdf"),
]  # fmt: skip


@dataclass(frozen=True)
class Printed:
    """A printed template."""

    plan: Plan
    tiling: Tiling
    pdf: Path
    paper: str
    sheets: tuple[Sheet, ...]
    """All pages: the gauge, the map, and the tiles in their order."""


@pytest.fixture(scope="module", params=CASES, ids="-".join)
def printed(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Printed:
    name, paper, kind = request.param
    need("pdftoppm")
    plan = plan_of(name)
    pdf = tmp_path_factory.mktemp("print") / "template.pdf"
    if kind == "html":
        need(*BROWSERS)
        page = pdf.with_suffix(".html")
        page.write_bytes(render_template_page(plan, paper))
        print_page(page, pdf)
    else:
        pdf.write_bytes(render_template_pdf(plan, paper))
    sheets = tuple(map(Sheet, rasters(pdf)))
    return Printed(plan, tile_rim(rim_of(plan), window_of(PAPERS[paper])), pdf, paper, sheets)


def test_papers_and_pages(printed: Printed) -> None:
    paper = PAPERS[printed.paper]
    assert page_size_mm(printed.pdf) == pytest.approx((paper.width_mm, paper.height_mm), abs=0.2)
    assert page_count(printed.pdf) == 2 + len(printed.tiling.tiles)


def test_bars_on_every_page(printed: Printed) -> None:
    for number, sheet in enumerate(printed.sheets[1:], 2):
        level, upright = bars(sheet)
        assert level == pytest.approx(BAR_MM, abs=BAR_TOLERANCE_MM), number
        assert upright == pytest.approx(BAR_MM, abs=BAR_TOLERANCE_MM), number


def test_the_measuring_notices_a_shrunk_print(tmp_path: Path) -> None:
    """One element wider than the paper makes the browser shrink all: the bars must tell."""
    page = tmp_path / "wide.html"
    wide = b'<div style="width: 215mm">wide</div></body>'
    page.write_bytes(render_template_page(plan_of("round"), "a4").replace(b"</body>", wide))
    shrunk = Sheet(next(rasters(print_page(page, tmp_path / "wide.pdf"), 3)))
    lengths = [run for line in (shrunk.grey < DARK).tolist() for run in runs(line) if 80.0 < run * PIXEL_MM < 110.0]
    assert max(lengths) * PIXEL_MM < BAR_MM - BAR_TOLERANCE_MM


def bars(sheet: Sheet) -> tuple[float, float]:
    """Measure between the middles of the ticks at the bars' ends: level, upright."""
    # The ticks stick out by more than half the bar's width: a window just above the level bar, or left of the
    # upright one, holds nothing but the tick.
    left, right = (sheet.middle(x - 2, 12.1, x + 2, 12.9, 0) for x in (8.0, 108.0))
    top, bottom = (sheet.middle(3.8, y - 2, 4.7, y + 2, 1) for y in (30.0, 130.0))
    return right - left, bottom - top


def test_gauge_bars(printed: Printed) -> None:
    """The gauge's page has its bars elsewhere: found as the longest straight runs of ink."""
    ink = printed.sheets[0].grey < DARK
    for lines in (ink, ink.T):
        lengths = [run for line in lines for run in runs(line.tolist()) if abs(run * PIXEL_MM - BAR_MM) < 1.0]
        assert lengths
        assert max(lengths) * PIXEL_MM == pytest.approx(BAR_MM + PEN_MM, abs=BAR_TOLERANCE_MM)


def runs(line: list[bool]) -> list[int]:
    """Return the lengths of runs of true values."""
    found, length = [], 0
    for value in [*line, False]:
        if value:
            length += 1
        elif length:
            found.append(length)
            length = 0
    return found


def test_holes_of_the_tiled_whole(printed: Printed) -> None:
    """Join the pages by their crosses alone, as at the bench; then count the holes and measure across all."""
    offsets, holes = joined(printed)
    rim = rim_of(printed.plan)
    assert len(offsets) == len(printed.tiling.tiles)
    assert len(holes) == len(rim.holes)
    wanted = [(hole.centre[0], -hole.centre[1]) for hole in rim.holes]
    # The whole may lie anywhere: compare distances, of every hole to every other.
    pairs = [min((math.dist(hole, place), hole) for hole in holes)[1] for place in centred(wanted, holes)]
    assert len(set(pairs)) == len(wanted)
    worst = max(
        abs(math.dist(pairs[i], pairs[j]) - math.dist(wanted[i], wanted[j]))
        for i in range(len(wanted))
        for j in range(i)
    )
    assert worst < WHOLE_TOLERANCE_MM


def centred(points: list[tuple[float, float]], like: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Shift points so that their mean is that of others."""
    dx, dy = (sum(p[k] for p in like) / len(like) - sum(p[k] for p in points) / len(points) for k in (0, 1))
    return [(x + dx, y + dy) for x, y in points]


def joined(printed: Printed) -> tuple[dict[str, tuple[float, float]], list[tuple[float, float]]]:
    """Return each page's place in the whole, by crosses measured on both pages, and the holes found, each once."""
    tiles, crosses = printed.tiling.tiles, printed.tiling.crosses
    places: dict[str, dict[int, tuple[float, float]]] = {}
    found: dict[str, list[tuple[float, float]]] = {}
    radius = rim_of(printed.plan).hole_radius_mm
    clear = math.pi * (radius - PEN_MM / 2) ** 2
    for tile, sheet in zip(tiles, printed.sheets[2:], strict=True):
        at = {}
        for cross in crosses:
            x = WINDOW_LEFT_MM + cross.at[0] - tile.box[0]
            y = WINDOW_TOP_MM + tile.box[3] - cross.at[1]
            width, height = window_of(PAPERS[printed.paper])
            if 3 <= x - WINDOW_LEFT_MM <= width - 3 and 3 <= y - WINDOW_TOP_MM <= height - 3:
                # The arms below and left of the cross's number.
                at[cross.number] = (
                    sheet.middle(x - 1, y + 1, x + 1, y + 2.5, 0), sheet.middle(x - 2.5, y - 1, x - 1, y + 1, 1),
                )  # fmt: skip
        places[tile.name] = at
        found[tile.name] = [(x, y) for x, y, _ in enclosed(sheet, 0.95 * clear - 0.6, 1.02 * clear)]
    offsets = {tiles[0].name: (0.0, 0.0)}
    while len(offsets) < len(tiles):
        name, anchor = next(
            (tile.name, other)
            for tile in tiles
            for other in offsets
            if tile.name not in offsets and len(places[tile.name].keys() & places[other].keys()) >= 2
        )
        shared = places[name].keys() & places[anchor].keys()
        offsets[name] = (
            offsets[anchor][0] + sum(places[anchor][n][0] - places[name][n][0] for n in shared) / len(shared),
            offsets[anchor][1] + sum(places[anchor][n][1] - places[name][n][1] for n in shared) / len(shared),
        )
    whole: list[tuple[float, float]] = []
    for name, holes in found.items():
        for x, y in holes:
            place = (x + offsets[name][0], y + offsets[name][1])
            if all(math.dist(place, other) > radius for other in whole):
                whole.append(place)
    return offsets, whole
