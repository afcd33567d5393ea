"""The template as PDF: the same bytes every time, no scaling asked for, and the same content as the HTML."""

from __future__ import annotations

import re
import subprocess
import sys
from dataclasses import replace
from io import BytesIO
from math import hypot
from pathlib import Path

import pytest
from pypdf import PdfReader
from pypdf.generic import DictionaryObject

from sheet_plans import SPECS, plan_of
from tauthide.drawings.canvas import Canvas
from tauthide.printing.paper import PAPERS
from tauthide.printing.pdf import _path_points, render_template_pdf
from tauthide.printing.template import template_pages
from workshops import surroundings


def read(content: bytes) -> PdfReader:
    """Return a PDF as another library reads it."""
    return PdfReader(BytesIO(content), strict=True)


@pytest.mark.parametrize("paper", PAPERS)
def test_asks_for_no_scaling(paper: str) -> None:
    document = read(render_template_pdf(plan_of("round"), paper))
    preferences = document.root_object["/ViewerPreferences"].get_object()
    assert isinstance(preferences, DictionaryObject)
    assert str(preferences["/PrintScaling"]) == "/None"
    assert str(preferences["/Duplex"]) == "/Simplex"
    for page in document.pages:
        width, height = (float(side) * 25.4 / 72 for side in page.mediabox.upper_right)
        assert (width, height) == pytest.approx((PAPERS[paper].width_mm, PAPERS[paper].height_mm), abs=0.01)
        assert page.get("/UserUnit") is None


def test_same_bytes_in_other_processes(tmp_path: Path) -> None:
    """Neither the clock nor the hash seed nor the time zone shows."""
    code = (
        "import sys; sys.path.insert(0, sys.argv[1]); from sheet_plans import plan_of; "
        "from tauthide.printing.pdf import render_template_pdf; "
        "sys.stdout.buffer.write(render_template_pdf(plan_of('round'), 'a4'))"
    )
    wanted = render_template_pdf(plan_of("round"), "a4")
    for seed, zone in (("1", "UTC"), ("2", "Asia/Kathmandu")):
        environment = surroundings(PYTHONHASHSEED=seed, TZ=zone)
        command = [sys.executable, "-c", code, str(Path(__file__).parents[1])]
        made = subprocess.run(command, cwd=tmp_path, env=environment, capture_output=True, check=True).stdout
        assert made == wanted


def test_no_clock_in_it() -> None:
    dates = set(re.findall(rb"D:(\d{8})", render_template_pdf(plan_of("round"), "a4")))
    assert dates <= {b"20000101"}  # what reportlab writes in the clock's place


@pytest.mark.parametrize("name", SPECS)
def test_has_the_words_of_the_html(name: str) -> None:
    """Page by page, the same texts as the SVG pages; the bars and holes are measured in the browser's tests."""
    plan = plan_of(name)
    document = read(render_template_pdf(plan, "letter", "Not approved"))
    svgs = [canvas.bytes().decode() for canvas in template_pages(plan, "letter", Canvas, "Not approved")]
    assert len(document.pages) == len(svgs)
    for page, svg in zip(document.pages, svgs, strict=True):
        shown = squeezed(page.extract_text())
        words = re.findall(r"<text[^>]*>([^<]*)</text>", svg)
        assert len(words) > 4
        for word in words:
            assert squeezed(word.replace("&amp;", "&")) in shown


def squeezed(text: str) -> str:
    """Return a text without white space."""
    return "".join(text.split())


def test_letters_that_the_fonts_have_not() -> None:
    whole = plan_of("round")
    named = replace(whole, spec=replace(whole.spec, drum="Trommel ä 太鼓"))
    text = read(render_template_pdf(named, "a4")).pages[1].extract_text()
    assert "Trommel ä \\u592a\\u9f13" in text


class TestPaths:
    def test_arc_turns_anticlockwise_on_the_page(self) -> None:
        """A quarter of a circle from the right to the top, y downward: its middle lies up and right of the chord."""
        points = _path_points("M10 0A10 10 0 0 0 0 -10")
        assert points[0] == pytest.approx((10.0, 0.0))
        assert points[-1] == pytest.approx((0.0, -10.0))
        assert all(hypot(*point) == pytest.approx(10.0) for point in points)
        assert len(points) > 10

    def test_lines_and_close(self) -> None:
        assert _path_points("M1 2L3 4L5 6Z") == [(1, 2), (3, 4), (5, 6)]
