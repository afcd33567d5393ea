"""The blank is larger than the hide gives."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.geometry.blank import is_round
from tauthide.rules.rule import Rule, Trouble
from tauthide.rules.wording import SLACK_MM, length, no_more
from tauthide.spec.defaults import WORKSHOP


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where the blank is larger than the largest sound disc of its hide."""
    name, across = ("diameter", w["head.blank_diameter"]) if is_round(w) else _longest(w)
    most = w.given("hide.disc")
    if across > most + SLACK_MM:
        yield Trouble(
            "head.hide",
            f"The blank is larger than a usual {w.word('head.hide')} skin gives",
            f"a {name} of {length(w, across, most)}",
            f"at most {no_more(w, most, across)}: the largest sound disc of that hide",
        )


def _longest(w: Workings) -> tuple[str, float]:
    return max(("length", w["head.blank_length"]), ("width", w["head.blank_width"]), key=lambda side: side[1])


RULE = Rule(
    name="blank-beyond-hide",
    severity=Severity.WARNING,
    why="Towards belly and legs the skin gets thin and stretches: a blank that reaches there dries uneven.",
    mend="Take a larger hide, a smaller or shallower frame, or say in the shop file which disc your skins give.",
    source=WORKSHOP,
    check=check,
    failing={"frame.diameter": "18 in"},
    passing={"frame.diameter": "18 in", "head.hide": "deer"},
)
