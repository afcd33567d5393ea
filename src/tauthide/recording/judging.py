"""Records held beside the plans of their drums: what is far from what was planned is noted, not refused."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from tauthide.findings import Finding
from tauthide.plan.plan import Plan
from tauthide.recording import faults
from tauthide.recording.planned import lace_cut_mm, planned_times, planned_values
from tauthide.recording.records import Record, Records, measured_fields
from tauthide.units import show

PLAUSIBLE: Mapping[str, tuple[float, float]] = {
    "blank": (0.85, 1.15),
    "thickness": (0.4, 2.5),
    "dry_thickness": (0.3, 3.0),
    "margin": (0.3, 3.0),
    "holes_across": (0.85, 1.15),
    "lace_used": (0.7, 1.5),
    "pitch_dry": (0.25, 4.0),
    "dry": (0.25, 4.0),
    "stitch_tear": (0.2, 5.0),
    "hand": (0.2, 5.0),
}
"""How small and large a measurement may be over what was planned. Workshop practice, no published source."""
PLAUSIBLE_TIME = (0.1, 8.0)
"""The same of one operation's hand time."""
LACE_SUM_SHARE = 0.15
"""So far may lace used and left together be from the cut length."""

STYLES: Mapping[str, str] = {
    "length": "length",
    "time": "time",
    "pitch": "pitch",
    "tear": "tear",
    "percentage": "percentage",
}
"""How a kind of quantity is shown."""
FINE = ("thickness", "dry_thickness")
LONG = ("lace_used", "lace_left")


def shown_measure(name: str, value: float) -> str:
    """Return a measurement as text in both systems; `name` is its field."""
    if name in FINE:
        return show("fine_length", value, "metric")
    if name in LONG:
        return show("long_length", value, "metric")
    about = measured_fields().get(name)
    return show(STYLES[str(about.quantity)] if about is not None else "time", value, "metric")


def judge_records(records: Records, plans: Mapping[str, Plan]) -> Iterator[Finding]:
    """Yield what is noteworthy about records; `plans` are those of the drums by serial."""
    for index, record in enumerate(records.records):
        yield from _judge(record, plans[record.serial], f"drums.{index}")


def _judge(record: Record, plan: Plan, where: str) -> Iterator[Finding]:
    planned = planned_values(plan)
    for name, value in record.values.items():
        if name in PLAUSIBLE and name in planned and not _within(value, planned[name], PLAUSIBLE[name]):
            yield _far(record, name, value, planned[name], where)
    times = planned_times(plan)
    for name, value in record.times.items():
        if name not in times:
            place = record.places[f"times.{name}"]
            yield faults.STEP_NOT_OF_DRUM.at(place, path=f"{where}.times.{name}", found=name, step=name)
        elif not _within(value, times[name], PLAUSIBLE_TIME):
            yield _far(record, f"times.{name}", value, times[name], where)
    if record.step and record.step not in times:
        yield faults.STEP_NOT_OF_DRUM.at(record.place, path=f"{where}.step", found=record.step, step=record.step)
    used, left = record.values.get("lace_used"), record.values.get("lace_left")
    cut_mm = lace_cut_mm(plan)
    if used is not None and left is not None and abs(used + left - cut_mm) > LACE_SUM_SHARE * cut_mm:
        yield faults.LACE_SUM.at(
            record.places["lace_left"], path=f"{where}.lace_left", found=shown_measure("lace_left", left),
            sum=shown_measure("lace_used", used + left), planned=shown_measure("lace_used", cut_mm),
        )  # fmt: skip


def _within(value: float, planned: float, limits: tuple[float, float]) -> bool:
    return limits[0] * planned <= value <= limits[1] * planned


def _far(record: Record, name: str, value: float, planned: float, where: str) -> Finding:
    return faults.IMPLAUSIBLE.at(
        record.places[name], path=f"{where}.{name}", found=shown_measure(name, value), field=name,
        planned=shown_measure(name, planned),
    )  # fmt: skip
