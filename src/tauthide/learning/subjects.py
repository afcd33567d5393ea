"""What can be learned from records: each value of the shop file, and how a record tells of it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from math import inf

from tauthide.plan.plan import Plan
from tauthide.reading.located import Path
from tauthide.recording.planned import lace_cut_mm, planned_times
from tauthide.recording.records import LOST, Record
from tauthide.work.operations import usual_paces

ENOUGH_LACE = 0.9
"""The allowance is to do for so great a share of the laces."""


@dataclass(frozen=True, slots=True)
class Subject:
    """A kind of value that is learned. Sizes are workshop practice, from memory, no published source."""

    name: str
    title: str
    quantity: str
    unit: str
    """In which it is written to the shop file."""
    step: float
    """To which it is written, in base units."""
    prior: float
    """How far shops differ from the usual value: a standard deviation, over that value or in base units."""
    wanted: float
    """Half the width of an interval that settles it, over the value or in base units."""
    relative: bool = True
    share: float | None = None
    """Of what is to do for a share of the drums, that share; None where the middle is wanted."""
    coarse_from: float = inf
    """From here on it is written to ten steps only."""


ALLOWANCE = Subject("allowance", "Lace allowance", "percentage", "%", 0.005, 0.04, 0.015, False, ENOUGH_LACE)
STRETCH = Subject("stretch", "Stretch", "percentage", "%", 0.0025, 0.01, 0.004, False)
THICKNESS = Subject("thickness", "Wet thickness", "length", "mm", 0.05, 0.25, 0.08)
DRY_THICKNESS = Subject("dry_thickness", "Dry thickness, by shrinkage in drying", "length", "mm", 0.05, 0.2, 0.08)
DRYING = Subject("dry", "Drying time", "time", "h", 180.0, 0.3, 0.1)
TEAR = Subject("stitch_tear", "Stitch tear", "tear", "N/mm", 1.0, 0.3, 0.1)
TIME = Subject("times", "Hand time", "time", "min", 0.05, 0.4, 0.1, coarse_from=5.0)


@dataclass(frozen=True, slots=True)
class Observation:
    """What one record says of one value."""

    subject: Subject
    group: str
    """Hide, lacing or operation."""
    path: Path
    """Where the value stands in a shop file."""
    value: float
    """In base units, as it would stand there."""
    in_force: float
    """What holds there now for this drum's plan."""
    serial: str
    day: date | None


def observations_of(record: Record, plan: Plan, relearned: Plan) -> Iterator[Observation]:
    """Yield what a record tells; of a lost drum only what is sure whatever came of it.

    `relearned` is the plan by what is learned of the skins: a thicker lace is longer round the handle, and that must
    not count once more as allowance.
    """
    yield from _of_the_skin(record, plan)
    if record.outcome != LOST:
        yield from _of_the_lace(record, plan, relearned)
        yield from _of_stretch(record, plan)
        yield from _of_drying(record, plan)
    yield from _of_times(record, plan)


def _of_the_skin(record: Record, plan: Plan) -> Iterator[Observation]:
    hide, values = plan.spec.word("head.hide"), record.values
    wet, dry = values.get("thickness"), values.get("dry_thickness")
    wet_planned, dry_planned = plan.spec.number("head.thickness"), plan.spec.number("head.dry_thickness")
    if wet is not None:
        yield _seen(record, THICKNESS, hide, ("hides", hide, "thickness"), wet, wet_planned)
    if wet is not None and dry is not None:
        yield _seen(record, DRY_THICKNESS, hide, ("hides", hide, "dry_thickness"), dry / wet * wet_planned, dry_planned)
    if "stitch_tear" in values:
        usual = plan.spec.number("hide.stitch_tear")
        yield _seen(record, TEAR, hide, ("hides", hide, "stitch_tear"), values["stitch_tear"], usual)


def _of_the_lace(record: Record, plan: Plan, relearned: Plan) -> Iterator[Observation]:
    used, left = record.values.get("lace_used"), record.values.get("lace_left")
    if used is None and left is not None:
        used = lace_cut_mm(plan) - left
    if used is not None and used > 0:
        beyond = used / relearned["lace.net_length"] - 1
        lacing = plan.spec.word("lace.lacing")
        yield _seen(
            record, ALLOWANCE, lacing, ("lacings", lacing, "allowance"), beyond, plan.spec.number("lace.allowance")
        )


def _of_stretch(record: Record, plan: Plan) -> Iterator[Observation]:
    across = record.values.get("holes_across")
    # Holes on the wall come to the back edge at most: how far they are across tells nothing of stretch.
    if across is None or not plan.has("holes.tight_radius") or plan["holes.inset"] < 0:
        return
    inset_mm = plan.spec.number("frame.diameter") / 2 - across / 2
    moved_mm = inset_mm - plan.spec.number("frame.edge_radius") - plan["holes.inset"]
    hide = plan.spec.word("head.hide")
    stretch = moved_mm / plan["frame.half_span"]
    yield _seen(record, STRETCH, hide, ("hides", hide, "stretch"), stretch, plan.spec.number("head.stretch"))


def _of_drying(record: Record, plan: Plan) -> Iterator[Observation]:
    if "dry" in record.values:
        hide = plan.spec.word("head.hide")
        path: Path = ("hides", hide, "dry")
        yield _seen(record, DRYING, hide, path, record.values["dry"], plan.spec.number("hide.dry"))


def _of_times(record: Record, plan: Plan) -> Iterator[Observation]:
    planned, paces = planned_times(plan), usual_paces()
    for name, taken_min in record.times.items():
        if name in paces and planned.get(name):
            field = f"times.{name}.each"
            each = plan.spec.number(field) if plan.spec.has(field) else paces[name].each_min
            path: Path = ("times", *name.split("."), "each")
            yield _seen(record, TIME, name, path, taken_min / planned[name] * each, each)


def _seen(record: Record, subject: Subject, group: str, path: Path, value: float, in_force: float) -> Observation:
    return Observation(subject, group, path, value, in_force, record.serial, record.day)


SUBJECTS: Mapping[str, Subject] = {
    subject.name: subject for subject in (ALLOWANCE, STRETCH, THICKNESS, DRY_THICKNESS, DRYING, TEAR, TIME)
}
"""Everything that is learned, by name, in the order in which it is shown."""
