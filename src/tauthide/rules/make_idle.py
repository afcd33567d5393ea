"""The spec tells of wood, bending or staves, but the frame is not made so."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import OWN_DEFINITION, Workings
from tauthide.findings import Severity
from tauthide.rules.rule import Rule, Trouble
from tauthide.spec.makes import MAKE_PARTS, WOOD_PARTS

_READ_BY = {part: tuple(make for make, parts in MAKE_PARTS.items() if part in parts) for part in WOOD_PARTS}


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble for each part on wood that this make of frame does not read."""
    make = w.word("frame.make")
    for part in WOOD_PARTS:
        given = [path for path in sorted(w.spec.settings) if path.startswith(f"{part}.")]
        if given and make not in _READ_BY[part]:
            yield Trouble(
                given[0],
                f"`{part}` is given, but a frame with `make: {make}` does not read it",
                f"make: {make}",
                f"make: {' or '.join(_READ_BY[part])}",
            )


RULE = Rule(
    name="make-idle",
    severity=Severity.NOTE,
    why="A maker who writes of staves may expect a cutting list, and finds none.",
    mend="Set `frame.make` to how the frame is made, or leave the part out.",
    source=OWN_DEFINITION,
    check=check,
    failing={"staves.count": 12},
    passing={"staves.count": 12, "frame.make": "staves"},
)
