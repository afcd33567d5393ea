"""The rounding of the frame's edges leaves no wood to round."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.rules.rule import Rule, Trouble
from tauthide.rules.wording import SLACK_MM, at_most, length, no_more
from tauthide.spec.defaults import WORKSHOP


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where the edge radius passes the wall's thickness or half the depth."""
    radius = w.given("frame.edge_radius")
    most = min(w.given("frame.wall"), w.given("frame.depth") / 2)
    if radius > most + SLACK_MM:
        yield Trouble(
            "frame.edge_radius",
            "The edges cannot be rounded that much: the wall is too thin or the frame too shallow",
            length(w, radius, most),
            f"at most {no_more(w, most, radius)}: the wall's thickness, and half the depth",
            f"edge_radius: {at_most(w, most)}",
        )


RULE = Rule(
    name="edge-rounding-too-large",
    severity=Severity.ERROR,
    why="Both edges are rounded in the same wood; the skin's path is reckoned along the rounding.",
    mend="Round the edges less, or take a thicker or deeper frame.",
    source=WORKSHOP,
    check=check,
    failing={"frame.edge_radius": "9 mm"},
    passing={"frame.edge_radius": "3 mm"},
    gate=True,
)
