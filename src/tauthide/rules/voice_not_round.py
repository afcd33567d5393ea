"""A voice is wanted of a frame for which none can be told."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.geometry.blank import is_round
from tauthide.quantities.voice import MEMBRANE
from tauthide.rules.pulling import pull_path
from tauthide.rules.rule import Rule, Trouble


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where a pitch or a pull is given for a frame that is not round."""
    if is_round(w) or not (w.has("voice.pitch") or w.has("voice.pull")):
        return
    yield Trouble(
        pull_path(w),
        "Pitch and pull are estimated for round frames only, and with them what skin and lace must hold",
        f"outline: {w.word('frame.outline')}",
        "a pitch or a pull for frames with `outline: round`",
    )


RULE = Rule(
    name="voice-not-round",
    severity=Severity.NOTE,
    why="The formula for the pitch is that of a round head; on an oval or a polygon the stations do not even"
    " pull alike.",
    mend="Take the pitch out, or as a rough guess plan a round drum of the same area and look at its sheet.",
    source=MEMBRANE,
    check=check,
    failing={"frame.outline": "polygon", "frame.sides": 8, "frame.across_flats": "14 in", "voice.pitch": "A2"},
    passing={"frame.outline": "polygon", "frame.sides": 8, "frame.across_flats": "14 in"},
)
