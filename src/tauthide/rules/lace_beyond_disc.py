"""No skin gives a disc large enough for the whole lace."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.quantities.lace import disc_for, piece_length
from tauthide.rules.rule import Rule, Trouble
from tauthide.rules.wording import SLACK_MM, length, long_length, no_more
from tauthide.spec.defaults import WORKSHOP

MOST_PIECES = 12
"""A lace of more pieces is all joins. Workshop practice, no published source."""


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where the disc for the lace is larger than its hide gives, with the pieces that it takes."""
    disc, most = w["lace.disc_diameter"], w.given("lace_hide.disc")
    if disc <= most + SLACK_MM:
        return
    yield Trouble(
        "lace.width",
        "No disc of this hide gives the lace in one piece",
        f"{length(w, w.given('lace.width'))} wide, which takes a disc of {length(w, disc, most)}",
        f"at most {no_more(w, most, disc)} of {w.word('lace.hide')}: {_in_pieces(w, most)}",
    )


def _in_pieces(w: Workings, most: float) -> str:
    """Say in how few pieces the lace can be had; each join costs length."""
    for pieces in range(2, MOST_PIECES + 1):
        piece = piece_length(w["lace.longest_net"], w.given("lace.allowance"), w.given("lace.join"), pieces)
        disc = disc_for(piece, w.given("lace.width"), w.given("lace.core"))
        if disc <= most + SLACK_MM:
            return f"cut it in {pieces} pieces of {long_length(w, piece)}, each from a disc of {length(w, disc)}"
    return f"not even in {MOST_PIECES} pieces"


RULE = Rule(
    name="lace-beyond-disc",
    severity=Severity.WARNING,
    why="A lace that is found too short halfway round has to be joined wet, where the join comes to lie by chance.",
    mend="Cut the lace in several pieces and join them, take a larger hide, or a narrower lace.",
    source=WORKSHOP,
    check=check,
    failing={
        "frame.diameter": "24 in",
        "head.hide": "cow",
        "stations.count": 24,
        "stations.web": "16 mm",
        "lace.hide": "sheep",
        "lace.core": "20 mm",
        "lace.width": "12 mm",
    },
    passing={
        "frame.diameter": "24 in",
        "head.hide": "cow",
        "stations.count": 24,
        "stations.web": "16 mm",
        "lace.hide": "sheep",
        "lace.core": "20 mm",
        "lace.width": "9 mm",
    },
)
