"""Trials: how rules find out whether a mend does more good than harm."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from tauthide.figures import Workings
from tauthide.rules import pair_too_wide, pairs_close
from tauthide.rules.variants import COUNT, with_value


def has_room(w: Workings) -> bool:
    """Tell whether neighbouring pairs neither run together nor lie close."""
    if list(pair_too_wide.check(w)):
        return False
    return pairs_close.leaves_room(w)


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
