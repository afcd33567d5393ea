"""The lace is cut no longer than it may turn out to be needed."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.quantities.spread import WORST_CASE
from tauthide.rules.measures import share_at_least
from tauthide.rules.rule import Rule, Trouble
from tauthide.rules.wording import SLACK_MM, length, percent
from tauthide.spec.defaults import WORKSHOP

_DECIMALS = 1


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where the cut length does not cover the net length at its highest."""
    cut, high = w["lace.cut_length"], w["lace.net_high"]
    if high > cut + SLACK_MM:
        least = high / w["lace.net_length"] - 1
        yield Trouble(
            "lace.allowance",
            "The lace may come out too short: within the tolerances more is needed than is cut",
            f"{percent(w.given('lace.allowance'), least)}, which cuts {length(w, cut, high)}"
            f" where up to {length(w, high, cut)} may be needed",
            f"at least {share_at_least(least, _DECIMALS)} with these tolerances",
            f"allowance: {share_at_least(least, _DECIMALS)}",
        )


RULE = Rule(
    name="allowance-below-spread",
    severity=Severity.WARNING,
    why="A lace that ends a hand short of the hub has to be joined under tension, at the worst place there is.",
    mend="Give the lace more allowance, or hold turnover, play and thickness closer and say so under `tolerances`.",
    source=f"{WORST_CASE}; {WORKSHOP}",
    check=check,
    failing={"lace.allowance": "1 %"},
    passing={"lace.allowance": "8 %"},
)
