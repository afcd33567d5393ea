"""What every lacing says of itself: its steps, its lengths, and how the lace runs."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from tauthide.figures import FigureSet


@dataclass(frozen=True, slots=True)
class Step:
    """The lace at one station: it arrives by a span, takes hold, and leaves."""

    step: int
    """From 1 on, in lacing order."""
    station: int
    enter: str
    """`a` or `b`: the hole by which the lace goes in, from the playing side."""
    leave: str
    """The hole by which it comes out again."""
    beneath: tuple[int, ...]
    """The steps whose spans the arriving span crosses, passing nearer the head than all of them."""
    span_mm: float | None
    """Length of the span that arrives, with its end runs; none at the anchor."""


@dataclass(frozen=True, slots=True)
class Lacing:
    """A lacing of the trade: one module defines one of these."""

    name: str
    """As a spec names it."""
    title: str
    figures: FigureSet
    """Its own figures, and the shape `lace.steps`: a tuple of `Step`, in lacing order."""
    parts: tuple[str, ...]
    """Names of the figures that add up to the net length of the lace."""
    order: Callable[[int], tuple[int, ...]]
    """From the station count to the stations in lacing order."""
    strands: Callable[[int], int]
    """From the station count to how many strands run to the hub, both ends of a span counted."""
