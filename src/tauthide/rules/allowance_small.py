"""Hardly anything is added to the lace's net length."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.rules.rule import Rule, Trouble
from tauthide.rules.wording import percent
from tauthide.spec.defaults import WORKSHOP

LEAST_ALLOWANCE = 0.03
"""As a share of the net length. Workshop practice, no published source."""

SLACK = 1e-9
"""An allowance is too small by more than this: less is lost in converting percent."""


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where the allowance is small."""
    allowance = w.given("lace.allowance")
    if allowance < LEAST_ALLOWANCE - SLACK:
        yield Trouble(
            "lace.allowance",
            "So small an allowance leaves nothing for bends and an uneven cut",
            percent(allowance, LEAST_ALLOWANCE),
            f"at least {percent(LEAST_ALLOWANCE, allowance)}",
            f"allowance: {percent(LEAST_ALLOWANCE)}",
        )


RULE = Rule(
    name="allowance-small",
    severity=Severity.WARNING,
    why="A lace cut by hand is never as long as reckoned, and one that is short by a span has to be joined.",
    mend="Allow more, and more still for a first lace.",
    source=WORKSHOP,
    check=check,
    failing={"lace.allowance": "1 %"},
    passing={"lace.allowance": "8 %"},
)
