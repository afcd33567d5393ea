"""The sheet's page as a real browser prints it, and as it is on a phone."""

from __future__ import annotations

import re
import subprocess
from collections import Counter
from dataclasses import dataclass
from html import escape
from pathlib import Path

import numpy as np
import pytest

from printed import DARK, PIXEL_MM, browse, need, print_page, rasters, words_of
from sheet_plans import plan_of
from tauthide.batch.compiling import render_drum
from tauthide.printing.paper import Prints
from tauthide.printing.prints import render_prints

pytestmark = pytest.mark.slow

NOTICE = "Not approved: do not cut"
PHONE_PX = 360
"""As narrow as phones are, in CSS pixels. From memory, no published source."""


@dataclass(frozen=True)
class Sheet:
    """A sheet printed with a notice."""

    page: str
    pdf: Path
    digest: str
    pages: list[str]


@pytest.fixture(scope="module", params=["round-a4", "round-letter", "inch-letter", "oval-a4"])
def sheet(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Sheet:
    name, paper = request.param.split("-")
    need("pdftotext")
    plan = plan_of(name)
    files = render_prints(plan, render_drum(plan, ()), Prints(html=True, paper=paper), NOTICE)
    folder = tmp_path_factory.mktemp("sheet")
    page = folder / "sheet.html"
    page.write_bytes(files["sheet.html"])
    pdf = print_page(page, folder / "sheet.pdf")
    return Sheet(files["sheet.html"].decode(), pdf, plan.digest, words_of(pdf))


def test_drum_digest_and_notice_on_every_page(sheet: Sheet) -> None:
    assert len(sheet.pages) > 5
    for page in sheet.pages:
        assert "LIB-13" in page
        assert f"digest {sheet.digest}" in page
        assert NOTICE in " ".join(page.split())


def text_of(html: str) -> str:
    """Return the words of a piece of HTML."""
    from html import unescape

    return " ".join(unescape(re.sub(r"<[^>]*>", " ", html)).split())


def squeezed(text: str) -> str:
    """Return a text without white space, which a browser's line ends and a PDF's may set differently."""
    return re.sub(r"[\s☐]+", "", text)


def test_heading_of_the_section_on_every_page(sheet: Sheet) -> None:
    """Each page but the first and the gauge's begins, below the head, with a section's heading."""
    headings = [text_of(found) for found in re.findall(r"<h2>(.*?)</h2>", sheet.page)]
    assert len(headings) > 8
    for page in sheet.pages[1:-1]:
        body = squeezed(page)
        for head in (NOTICE, "LIB-13", "·", f"digest {sheet.digest}"):
            assert squeezed(head) in body[:90]
            body = body.replace(squeezed(head), "", 1)
        assert any(body.startswith(squeezed(heading)) for heading in headings), page[:90]


def test_pages_break_between_steps(sheet: Sheet) -> None:
    """Every step and every row of a table stands whole on one page."""
    main = re.sub(r"<svg.*?</svg>", "", sheet.page, flags=re.DOTALL)
    items = [text_of(item) for item in re.findall(r"<li[^>]*>(.*?)</li>", main, re.DOTALL)]
    assert len(items) > 60
    pages = [squeezed(page) for page in sheet.pages]
    for item in items:
        assert any(squeezed(item) in page for page in pages), item


def test_black_and_white(sheet: Sheet) -> None:
    for number in (1, len(sheet.pages)):
        command = [need("pdftoppm"), "-r", "40", "-f", str(number), "-l", str(number), str(sheet.pdf)]
        data = subprocess.run(command, capture_output=True, check=True).stdout
        head = re.match(rb"P6\s+(\d+)\s+(\d+)\s+255\s", data)
        assert head is not None
        colours = np.frombuffer(data, np.uint8, offset=head.end()).reshape(-1, 3)
        assert (colours.max(axis=1) == colours.min(axis=1)).all()


def test_large_type(sheet: Sheet) -> None:
    """All that is read while working, before the reasons for the numbers, is set in 12 points or more."""
    last = next(number for number, page in enumerate(sheet.pages) if "Behind the numbers The" in page)
    command = [need("pdftotext"), "-bbox", "-l", str(last), str(sheet.pdf), "-"]
    told = subprocess.run(command, capture_output=True, check=True).stdout
    heights = Counter(
        round(float(bottom) - float(top))
        for top, bottom, word in re.findall(r'yMin="([\d.]+)" xMax="[\d.]+" yMax="([\d.]+)">([^<]+)<', told.decode())
        if word in ("Punch", "Draw", "Take", "Lay", "Cut", "Count")
    )
    assert heights
    # A word's box is as high as the font's ascent and descent together: about 1.12 of the size.
    assert min(heights) / 1.12 >= 12


def test_gauge_is_true_in_the_sheet(sheet: Sheet) -> None:
    (grey,) = rasters(sheet.pdf, len(sheet.pages))
    for lines in (grey < DARK, (grey < DARK).T):
        longest = max(
            len(run) for line in lines for run in "".join(" x"[int(dark)] for dark in line).split() if len(run) < 1260
        )
        assert longest * PIXEL_MM == pytest.approx(100.25, abs=0.2)


def test_fits_a_phone(sheet: Sheet, tmp_path: Path) -> None:
    """In a window as narrow as a phone nothing but tables, each in a frame of its own, is wider."""
    # The page itself forbids script; so it is looked at from outside, in a frame.
    page = re.sub(r'<meta http-equiv="Content-Security-Policy"[^>]*>', "", sheet.page)
    look = tmp_path / "phone.html"
    look.write_text(
        f'<iframe id="f" style="width:{PHONE_PX}px;height:640px;border:0" srcdoc="{escape(page)}"></iframe>'
        "<script>onload = () => { const d = document.getElementById('f').contentDocument.documentElement;"
        "document.body.dataset.wide = d.scrollWidth; document.body.dataset.seen = d.clientWidth; }</script>",
        encoding="utf-8",
    )
    told = browse(tmp_path, "--dump-dom", look.as_uri()).stdout.decode()
    wide, seen = (int(re.findall(rf'data-{name}="(\d+)"', told)[0]) for name in ("wide", "seen"))
    assert wide <= seen <= PHONE_PX
