"""The spiral is cut too tightly at its middle."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.rules.limits import too_small
from tauthide.rules.rule import Rule, Trouble
from tauthide.spec.defaults import WORKSHOP

LACE_WIDTHS = 1.5
"""Least radius of the inmost turn. Workshop practice, no published source."""


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where the core is small for the width of the lace."""
    least = LACE_WIDTHS * w.given("lace.width")
    yield from too_small(
        w,
        "lace.core",
        least,
        "The lace is cut too tightly round the middle of its disc",
        f", {LACE_WIDTHS} times the lace's width",
    )


RULE = Rule(
    name="core-tight",
    severity=Severity.WARNING,
    why="A strip cut in so tight a bend does not stretch straight: its outer edge stays long, its inner edge tears.",
    mend="Leave a larger core, or cut a narrower lace.",
    source=WORKSHOP,
    check=check,
    failing={"lace.core": "8 mm"},
    passing={"lace.core": "15 mm"},
)
