"""Printing for tests: a browser's and poppler's programs, pages as rasters, places on them measured in millimetres."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import numpy.typing as npt
import pytest
from scipy import ndimage

from tauthide.printing.paper import TRUE_MARGIN_MM

DPI = 300
PIXEL_MM = 25.4 / DPI
DARK = 128
"""Grey below this is ink."""

BROWSERS = ("chromium", "chromium-browser", "google-chrome")
POPPLER = ("pdftoppm", "pdftotext", "pdfinfo")

Grey = npt.NDArray[np.uint8]


def need(*names: str) -> str:
    """Return the first of these programs that is there; without any the test is skipped, but in CI it fails."""
    for name in names:
        found = shutil.which(name)
        if found:
            return found
    missing = f"{' or '.join(names)} is not installed"
    if os.environ.get("CI", "").casefold() in ("true", "1"):
        pytest.fail(f"{missing}, and CI must measure prints")
    pytest.skip(missing)


def print_page(page: Path, pdf: Path) -> Path:
    """Print a page of HTML to PDF with a real browser, as a maker would with headers and footers off."""
    done = browse(pdf.parent, "--no-pdf-header-footer", f"--print-to-pdf={pdf}", page.resolve().as_uri())
    assert pdf.exists(), done.stderr.decode(errors="replace")
    return pdf


def browse(folder: Path, *arguments: str) -> subprocess.CompletedProcess[bytes]:
    """Run a real browser without a window, with a profile of its own below a folder."""
    command = [
        need(*BROWSERS), "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
        "--disable-background-networking", "--disable-sync", f"--user-data-dir={folder / 'profile'}", *arguments,
    ]  # fmt: skip
    return subprocess.run(command, capture_output=True, timeout=120, check=False)


def page_count(pdf: Path) -> int:
    """Return how many pages poppler counts."""
    told = subprocess.run([need("pdfinfo"), str(pdf)], capture_output=True, text=True, check=True).stdout
    return int(re.findall(r"^Pages:\s+(\d+)$", told, re.MULTILINE)[0])


def page_size_mm(pdf: Path) -> tuple[float, float]:
    """Return width and height of a PDF's first page."""
    told = subprocess.run([need("pdfinfo"), str(pdf)], capture_output=True, text=True, check=True).stdout
    width, height = re.findall(r"^Page size:\s+([\d.]+) x ([\d.]+) pts", told, re.MULTILINE)[0]
    return float(width) * 25.4 / 72, float(height) * 25.4 / 72


def words_of(pdf: Path) -> list[str]:
    """Return the text of each page, white space made single spaces."""
    told = subprocess.run([need("pdftotext"), str(pdf), "-"], capture_output=True, check=True).stdout
    return [" ".join(page.split()) for page in told.decode("utf-8").split("\f")[:-1]]


def rasters(pdf: Path, first: int = 1) -> Iterator[Grey]:
    """Yield each page from a first one on as a raster of grey, row by row from the top, at `DPI`."""
    for number in range(first, page_count(pdf) + 1):
        command = [need("pdftoppm"), "-r", str(DPI), "-gray", "-f", str(number), "-l", str(number), str(pdf)]
        yield _read_pgm(subprocess.run(command, capture_output=True, check=True).stdout)


def _read_pgm(data: bytes) -> Grey:
    head = re.match(rb"P5\s+(\d+)\s+(\d+)\s+255\s", data)
    assert head is not None
    width, height = int(head[1]), int(head[2])
    return np.frombuffer(data, np.uint8, width * height, head.end()).reshape(height, width)


@dataclass(frozen=True)
class Sheet:
    """A printed true-size page; places are millimetres from the top left corner of what is printed inside margins."""

    grey: Grey

    def ink(self, left: float, top: float, right: float, bottom: float) -> npt.NDArray[np.float64]:
        """Return how much ink (0 to 1) each pixel of a part of the page has."""
        x0, y0, x1, y1 = (round((value + TRUE_MARGIN_MM) / PIXEL_MM) for value in (left, top, right, bottom))
        ink: npt.NDArray[np.float64] = 1.0 - self.grey[y0:y1, x0:x1].astype(np.float64) / 255.0
        return ink

    def middle(self, left: float, top: float, right: float, bottom: float, axis: int) -> float:
        """Return where the middle of the ink lies along an axis (0 across, 1 down), to parts of a pixel."""
        ink = self.ink(left, top, right, bottom)
        along = ink.sum(axis=axis)
        assert along.sum() > 0, "nothing is printed here"
        at = float((along * (np.arange(along.size) + 0.5)).sum() / along.sum()) * PIXEL_MM
        return at + round(((left, top)[axis] + TRUE_MARGIN_MM) / PIXEL_MM) * PIXEL_MM - TRUE_MARGIN_MM


def enclosed(sheet: Sheet, least_mm2: float, most_mm2: float) -> list[tuple[float, float, float]]:
    """Return the round white patches that ink encloses, found in the raster alone: x, y and area in mm and mm2."""
    white, count = ndimage.label(sheet.grey >= DARK)
    found = []
    for number, part in enumerate(ndimage.find_objects(white), 1):
        patch = white[part] == number
        area = float(patch.sum()) * PIXEL_MM**2
        height, width = patch.shape
        if not least_mm2 <= area <= most_mm2 or abs(height - width) > 2:
            continue
        rows, columns = np.nonzero(patch)
        x = (part[1].start + columns.mean() + 0.5) * PIXEL_MM - TRUE_MARGIN_MM
        y = (part[0].start + rows.mean() + 0.5) * PIXEL_MM - TRUE_MARGIN_MM
        found.append((float(x), float(y), area))
    assert count >= len(found)
    return found
