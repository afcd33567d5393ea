"""What is said of a skin dry does not go with what is said of it wet."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.rules.dry_thicker_than_wet import DRY_SHARE
from tauthide.rules.measures import beyond, system
from tauthide.rules.rule import Rule, Trouble
from tauthide.rules.strengths import MAKERS
from tauthide.rules.wording import length, percent, thick_at_least, thick_at_most
from tauthide.spec.defaults import WORKSHOP
from tauthide.units import stress

LEAST_SHARE, MOST_SHARE = 0.4, 0.85
"""Of its wet thickness every skin keeps so much when dry. Workshop practice from memory, no published source."""

_WHOSE = (("hide", "the head's skin"), ("lace_hide", "the lace's hide"))


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where the two thicknesses are hardly of one skin, or a skin is stronger wet than dry.

    A skin that would be thicker dry than wet is left to `dry-thicker-than-wet`.
    """
    wet, dry = w.given("head.thickness"), w.given("head.dry_thickness")
    kept = dry / wet
    if beyond(LEAST_SHARE, kept) or (beyond(kept, MOST_SHARE) and not beyond(kept, 1)):
        yield _thickness(w, wet, dry)
    for part, whose in _WHOSE:
        soaked, hard = w.given(f"{part}.wet_strength"), w.given(f"{part}.dry_strength")
        if beyond(soaked, hard):
            yield Trouble(
                f"{part}.wet_strength",
                f"By the shop's values {whose} is stronger wet than dry, which no skin is",
                f"{stress(soaked, system(w))} wet, {stress(hard, system(w))} dry",
                "a wet strength below the dry one: measure both again",
            )


def _thickness(w: Workings, wet: float, dry: float) -> Trouble:
    """Return the trouble at the thickness that the maker would change: the one that is not the maker's own."""
    limit = LEAST_SHARE if dry / wet < LEAST_SHARE else MOST_SHARE
    at_wet = _is_given(w, "head.dry_thickness") and not _is_given(w, "head.thickness")
    if at_wet:
        found = f"{length(w, wet)} wet, of which {length(w, dry)} dry is {percent(dry / wet, limit)}"
        write = f"thickness: {thick_at_least(dry / DRY_SHARE)}"
    else:
        found = f"{length(w, dry)} dry, {percent(dry / wet, limit)} of {length(w, wet)} wet"
        write = f"dry_thickness: {thick_at_most(wet * DRY_SHARE)}"
    return Trouble(
        "head.thickness" if at_wet else "head.dry_thickness",
        "The skin's two thicknesses are hardly those of one skin",
        found,
        f"from {percent(LEAST_SHARE, dry / wet)} to {percent(MOST_SHARE, dry / wet)} of the wet thickness,"
        f" usually {percent(DRY_SHARE)}",
        write,
    )


def _is_given(w: Workings, path: str) -> bool:
    return w.spec.settings[path].origin.layer in MAKERS


RULE = Rule(
    name="measures-contradict",
    severity=Severity.WARNING,
    why="A skin loses a good third of its thickness as it dries, and gains strength. Where it seems to do"
    " otherwise, a value is wrong or belongs to another skin, and pull, pitch and fit are reckoned from it.",
    mend="Measure both on the same skin, and give both: where only one is given, the other is the hide's usual one.",
    source=WORKSHOP,
    check=check,
    failing={"head.thickness": "2 mm"},
    passing={"head.thickness": "2 mm", "head.dry_thickness": "1.2 mm"},
)
