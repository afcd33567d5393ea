"""The same drum with one value changed: how rules find out whether a mend does more good than harm."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace

from tauthide.figures import Workings
from tauthide.quantities.figures import start_workings
from tauthide.rules import pair_too_wide, pairs_close
from tauthide.schema.fields import fields
from tauthide.spec.settings import Amount

COUNT = "stations.count"


def with_value(w: Workings, path: str, value: Amount) -> Workings:
    """Return the drum with another value at `path`, which must be set."""
    settings = {**w.spec.settings, path: replace(w.spec.settings[path], value=value)}
    return start_workings(replace(w.spec, settings=settings))


def without(w: Workings, path: str) -> Workings:
    """Return the drum with nothing at `path`."""
    settings = {kept: setting for kept, setting in w.spec.settings.items() if kept != path}
    return start_workings(replace(w.spec, settings=settings))


def has_room(w: Workings) -> bool:
    """Tell whether neighbouring pairs neither run together nor lie close."""
    if list(pair_too_wide.check(w)):
        return False
    return w["holes.blank_gap"] > 0 and w["holes.mounted_gap"] > 0 and not list(pairs_close.check(w))


def counts() -> range:
    """Return the station counts that a spec may have."""
    field = fields("spec")[COUNT]
    return range(int(field.least), int(field.most) + 1, field.multiple_of)


def write_count(w: Workings, candidates: Iterable[int], suits: Callable[[Workings], bool] = has_room) -> str:
    """Return the first of some station counts with which the drum suits, ready to be written; empty for none."""
    for count in candidates:
        if suits(with_value(w, COUNT, count)):
            return f"count: {count}"
    return ""


def fair_first(w: Workings, candidates: Iterable[int]) -> list[int]:
    """Return station counts in their order, but on a polygon those first that give every side as many."""
    sides = w.count("frame.sides") if w.word("frame.outline") == "polygon" else 1
    return sorted(candidates, key=lambda count: count % sides != 0)
