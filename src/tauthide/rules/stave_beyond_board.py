"""No board on offer is long enough for a stave."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import PLANE_GEOMETRY, Workings
from tauthide.findings import Severity
from tauthide.quantities.movement import is_of_staves
from tauthide.quantities.nesting import longest_piece_mm
from tauthide.rules.rule import Rule, Trouble
from tauthide.rules.wording import SLACK_MM, length, no_less


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where a stave, with its saw cut and the board's ends, is longer than the longest board."""
    if not is_of_staves(w):
        return
    boards, least = w.numbers("staves.boards"), w["stave.board_least"]
    if longest_piece_mm(boards, w.given("staves.ends")) < w["stave.cut"] - SLACK_MM:
        yield Trouble(
            "staves.boards",
            "The boards are too short for a single stave",
            f"at the most {length(w, max(boards), least)}",
            f"a board of at least {no_less(w, least, max(boards))}, saw cut and both ends with it",
        )


RULE = Rule(
    name="stave-beyond-board",
    severity=Severity.ERROR,
    why="A stave is cut in one piece; nothing can be laid out on boards that are too short for it.",
    mend="Give longer boards, take more staves, or cut less off the boards' ends.",
    source=PLANE_GEOMETRY,
    check=check,
    failing={"frame.make": "staves", "staves.boards": "[130 mm]"},
    passing={"frame.make": "staves", "staves.boards": "[130 mm, 1 m]"},
)
