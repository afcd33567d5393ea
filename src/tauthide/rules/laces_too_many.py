"""More laces than the lacing can be run in."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.lacing.lacings import lacing_of
from tauthide.lacing.order import laces_of
from tauthide.rules.rule import Rule, Trouble
from tauthide.spec.defaults import LACING_FIELDS, WORKSHOP


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where a lacing that may be run in several laces is to be run in more than it can."""
    if "lace.laces" not in LACING_FIELDS.get(w.word("lace.lacing"), ()):
        return  # a rule of its own says that the field has no place there
    most = lacing_of(w).most_laces(w)
    if laces_of(w) > most:
        yield Trouble(
            "lace.laces",
            f"{lacing_of(w).title} cannot be run in so many laces",
            f"{laces_of(w)} laces",
            f"at most {most} with this lacing and station count",
            f"laces: {most}",
        )


RULE = Rule(
    name="laces-too-many",
    severity=Severity.ERROR,
    why="Each lace needs its own anchor, stations to take, and somebody to hold its end.",
    mend="Take fewer laces; a lace that is too short can be made of pieces.",
    source=WORKSHOP,
    check=check,
    failing={"lace.laces": 3},
    passing={"lace.laces": 2},
    gate=True,
)
