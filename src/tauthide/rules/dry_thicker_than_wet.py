"""The skin is said to be thicker dry than wet."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.rules.rule import Rule, Trouble
from tauthide.rules.strengths import MAKERS
from tauthide.rules.wording import SLACK_MM, length, no_less, no_more, thick_at_least, thick_at_most
from tauthide.schema.fields import fields
from tauthide.spec.defaults import WORKSHOP
from tauthide.units import parse

DRY_SHARE = 0.6
"""Of its wet thickness a skin usually keeps when dry. Workshop practice, no published source."""


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where the dry thickness is above the wet one."""
    wet, dry = w.given("head.thickness"), w.given("head.dry_thickness")
    if dry <= wet + SLACK_MM:
        return
    if _is_given(w, "head.dry_thickness") and not _is_given(w, "head.thickness"):
        yield Trouble(
            "head.thickness",
            "The skin would be thinner wet than dry, but soaking swells it",
            length(w, wet, dry),
            f"at least the dry thickness, {no_less(w, dry, wet)}",
            f"thickness: {thick_at_least(dry / DRY_SHARE)}",
        )
        return
    least = parse("length", fields("spec")["head.dry_thickness"].least)
    yield Trouble(
        "head.dry_thickness",
        "The skin would be thicker dry than wet, but drying shrinks it",
        length(w, dry, wet),
        f"at most the wet thickness, {no_more(w, wet, dry)}",
        f"dry_thickness: {thick_at_most(max(wet * DRY_SHARE, least))}",
    )


def _is_given(w: Workings, path: str) -> bool:
    return w.spec.settings[path].origin.layer in MAKERS


RULE = Rule(
    name="dry-thicker-than-wet",
    severity=Severity.ERROR,
    why="The wet thickness gives fit and blank, the dry one voice and strength: mixed up, both come out wrong.",
    mend="Measure both, or give one and leave the other to the hide.",
    source=WORKSHOP,
    check=check,
    failing={"head.dry_thickness": "1.4 mm"},
    passing={"head.dry_thickness": "0.6 mm"},
)
