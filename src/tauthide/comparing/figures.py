"""What a change did to each figure, and which of the maker's changes it comes from."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass

from tauthide.comparing.seen import Seen
from tauthide.explaining.tree import FIELD, conditions
from tauthide.figures import Workings
from tauthide.plan.concerns import Concern, concern_of
from tauthide.plan.plan import Reading
from tauthide.sheets.amounts import system_of
from tauthide.units import System, show, show_change

NOISE = 1e-6
"""A figure that moves by less, of its unit, has not moved: the digest counts lengths no finer."""

NONE = "none"


@dataclass(frozen=True, slots=True)
class FigureChange:
    """A figure that differs, or that only one of the two drums has."""

    name: str
    title: str
    unit: str
    old: float | None
    """In the base unit; None where the old drum has no such figure."""
    new: float | None
    shown_old: str
    """In both systems."""
    shown_new: str
    difference: str
    """Empty where one of the two is missing."""
    because: tuple[str, ...]
    """Paths of the fields that a maker changed and that feed it; empty where none does."""

    @property
    def concern(self) -> Concern:
        """What it bears on."""
        return concern_of(self.name)


def changed_figures(old: Seen, new: Seen, roots: Mapping[str, str]) -> tuple[FigureChange, ...]:
    """Return the figures that differ, what spoils skin first; `roots` says which change brought about which."""
    if old.plan is None or new.plan is None or old.workings is None or new.workings is None:
        return ()
    system = system_of(new.plan.spec)
    before, after = old.plan.figures, new.plan.figures
    found = []
    for name in {**after, **before}:
        if not _moved(before.get(name), after.get(name)):
            continue
        leaves = set().union(*(_leaves(workings, name) for workings in (old.workings, new.workings)))
        because = tuple(sorted({roots[path] for path in leaves if path in roots}))
        found.append(_change(name, before.get(name), after.get(name), because, system))
    order = {name: number for number, name in enumerate({**after, **before})}
    return tuple(sorted(found, key=lambda change: (change.concern, order[change.name])))


def _moved(old: Reading | None, new: Reading | None) -> bool:
    if old is None or new is None:
        return old is not new
    # Written so that what is no number at all counts as moved unless it is on both sides.
    return old.value != new.value and not abs(new.value - old.value) <= NOISE


def _change(
    name: str, old: Reading | None, new: Reading | None, because: tuple[str, ...], system: System
) -> FigureChange:
    reading = old if new is None else new
    assert reading is not None  # or it had not moved
    figure = reading.figure
    if old is None or new is None:
        before, after = (NONE if one is None else show(figure.style, one.value, system) for one in (old, new))
        difference = ""
    else:
        before, after, difference = show_change(figure.style, figure.unit, old.value, new.value, system)
    was, now = (None if one is None else one.value for one in (old, new))
    return FigureChange(name, figure.title, figure.unit, was, now, before, after, difference, because)


def _leaves(workings: Workings, name: str) -> Collection[str]:
    """Return the paths of all fields that go into a figure; of one that a drum has not, those that decide it."""
    if not workings.applies(name):
        try:
            waiting = list(conditions(workings, name))
        except KeyError:
            return ()
    else:
        waiting = [name]
    seen: set[str] = set()
    while waiting:
        node = waiting.pop()
        if node not in seen:
            seen.add(node)
            waiting += () if node.startswith(FIELD) else workings.inputs(node)
    return {node.removeprefix(FIELD) for node in seen if node.startswith(FIELD)}
