"""What all drums of a batch take together, before and after; what a run must buy is told by `runs`."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from tauthide.comparing.seen import Seen
from tauthide.plan.plan import Plan
from tauthide.sheets.amounts import system_of
from tauthide.units import System, show_change

NOISE = 1e-6


@dataclass(frozen=True, slots=True)
class Need:
    """Something that a batch takes more or less of."""

    title: str
    style: str
    unit: str
    old: float
    """In the base unit."""
    new: float
    shown_old: str
    shown_new: str
    difference: str


FIGURES = (
    ("Skin for heads", "area", "mm2", "head.blank_area"),
    ("Skin for the discs that laces are cut from", "area", "mm2", "lace.area"),
    ("Lace", "long_length", "mm", "lace.cut_length"),
)
"""Title, style, unit and figure of what each drum takes."""


def needs(old: Sequence[Seen], new: Sequence[Seen]) -> tuple[Need, ...]:
    """Return what the drums take together, times their quantities, where that differs.

    Nothing where one of them can't be computed: its share would be missing without a word.
    """
    before, after = ([seen.plan for seen in side if seen.plan is not None] for side in (old, new))
    if len(before) < len(old) or len(after) < len(new):
        return ()
    found = []
    rows = [("Drums to build", "count", "1", _count(before), _count(after))]
    rows += [(title, style, unit, _total(before, name), _total(after, name)) for title, style, unit, name in FIGURES]
    plans = after or before
    system: System = system_of(plans[0].spec) if plans else "metric"
    if any(system_of(plan.spec) != system for plan in plans):
        system = "metric"
    for title, style, unit, old_value, new_value in rows:
        if abs(new_value - old_value) > NOISE:
            shown = show_change(style, unit, old_value, new_value, system)
            found.append(Need(title, style, unit, old_value, new_value, *shown))
    return tuple(found)


def _count(plans: Iterable[Plan]) -> float:
    return float(sum(plan.spec.quantity for plan in plans))


def _total(plans: Iterable[Plan], name: str) -> float:
    each = {"head.blank_area": "head.count"}.get(name)
    return sum(plan.spec.quantity * plan[name] * (plan[each] if each else 1) for plan in plans)
