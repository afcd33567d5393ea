"""Papers, what of them is printed on, and what a build is asked to print."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

TRUE_MARGIN_MM = 7.0
"""Kept clear round true-size pages: most printers leave 4 to 6.4 mm blank. Workshop practice, no published source."""

SPARE_MM = 0.5
"""A page is lower than its paper's room by this: a browser that rounds up would add an empty page."""


@dataclass(frozen=True, slots=True)
class Paper:
    """A size of paper, upright."""

    name: str
    """As CSS has it."""
    width_mm: float
    height_mm: float

    @property
    def room_mm(self) -> tuple[float, float]:
        """Width and height of a true-size page on it."""
        return self.width_mm - 2 * TRUE_MARGIN_MM, self.height_mm - 2 * TRUE_MARGIN_MM - SPARE_MM


PAPERS: Mapping[str, Paper] = MappingProxyType(
    {
        "a4": Paper("A4", 210.0, 297.0),  # ISO 216
        "letter": Paper("letter", 215.9, 279.4),  # ANSI/ASME Y14.1, size A: 8.5 by 11 in
    }
)
"""The papers that can be printed on, by the name that the maker gives."""


@dataclass(frozen=True, slots=True)
class Prints:
    """What a build makes to be printed, besides the Markdown sheet and its drawings."""

    html: bool = False
    """`sheet.html` and `template.html`."""
    pdf: bool = False
    """`template.pdf`."""
    paper: str = "a4"
    """A name of `PAPERS`."""

    @property
    def key(self) -> str:
        """A text that differs wherever the files to be made do; empty where there are none."""
        kinds = [kind for kind, wanted in (("html", self.html), ("pdf", self.pdf)) if wanted]
        return " ".join((*kinds, self.paper, *versions(self))) if kinds else ""


NO_PRINTS = Prints()
"""Nothing to be printed."""

LIBRARIES: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {"html": ("markdown-it-py", "mdit-py-plugins"), "pdf": ("reportlab",)}
)
"""The packages of the extra `print` that each kind of file is made with."""


def versions(prints: Prints) -> tuple[str, ...]:
    """Return the packages that the files are made with, each with its version; `absent` for one that is missing."""
    from importlib.metadata import PackageNotFoundError, version  # late: takes as long to import as all the rest

    told = []
    for kind, wanted in (("html", prints.html), ("pdf", prints.pdf)):
        for package in LIBRARIES[kind] if wanted else ():
            try:
                told.append(f"{package}=={version(package)}")
            except PackageNotFoundError:
                told.append(f"{package} absent")
    return tuple(told)


def missing(prints: Prints) -> tuple[str, ...]:
    """Return the packages that are wanted for these files and not installed."""
    return tuple(told.removesuffix(" absent") for told in versions(prints) if told.endswith(" absent"))
