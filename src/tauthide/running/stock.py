"""What is in stock, and which drum gets what of it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from tauthide.plan.plan import Plan
from tauthide.running.drums import Drum
from tauthide.runs.lots import Lot, StockFrame, StockLace
from tauthide.runs.run import Run

SAME_SIZE_MM = 0.5
"""Sizes that differ by no more count as the same: what a bench can measure. Workshop practice, no published source."""


@dataclass(frozen=True, slots=True)
class Taken:
    """What stock gives one drum; None for what is to be had otherwise."""

    frame: StockFrame | None
    lace: StockLace | None


def take_stock(run: Run, drums: Sequence[Drum]) -> dict[str, Taken]:
    """Share out the frames and laces of the lots, by serial: first come first served, the shortest lace that does."""
    frames = [frame for lot in _lots(run) for frame in lot.frames]
    laces = sorted((lace for lot in _lots(run) for lace in lot.laces), key=lambda lace: lace.length_mm)
    frames_left, laces_left = [frame.quantity for frame in frames], [lace.quantity for lace in laces]
    taken = {}
    for drum in drums:
        frame = _first(frames_left, [frame_fits(frame, drum.plan) for frame in frames])
        lace = _first(laces_left, [lace_fits(lace, drum.plan) for lace in laces])
        taken[drum.serial] = Taken(None if frame is None else frames[frame], None if lace is None else laces[lace])
    return taken


def _first(left: list[int], fits: Sequence[bool]) -> int | None:
    """Take one of the first kind that fits and is still there, and return its index; None where there is none."""
    for index, count in enumerate(left):
        if count and fits[index]:
            left[index] -= 1
            return index
    return None


def punches_of(run: Run, plans: Iterable[Plan]) -> tuple[float, ...]:
    """Return the sizes in mm of all punches at hand: those of the lots and those that the specs' shop owns."""
    sizes = {punch.size_mm for lot in _lots(run) for punch in lot.punches}
    for plan in plans:
        sizes |= set(plan.spec.numbers("bench.punches"))
    return tuple(sorted(sizes))


def frame_fits(frame: StockFrame, plan: Plan) -> bool:
    """Whether a frame in stock is the one that a plan wants."""
    spec = plan.spec
    if frame.outline != plan.outline.kind or (frame.sides and frame.sides != spec.count("frame.sides")):
        return False
    wanted = {**frame.sizes_mm, "depth": frame.depth_mm}
    if frame.wall_mm is not None:
        wanted["wall"] = frame.wall_mm
    return all(abs(spec.number(f"frame.{name}") - size_mm) <= SAME_SIZE_MM for name, size_mm in wanted.items())


def lace_fits(lace: StockLace, plan: Plan) -> bool:
    """Whether a lace in stock does for a plan: its hide and width, and at least its length."""
    spec = plan.spec
    return (
        lace.hide == spec.word("lace.hide")
        and abs(lace.width_mm - spec.number("lace.width")) <= SAME_SIZE_MM
        and lace.length_mm >= plan["lace.cut_length"]
    )


def _lots(run: Run) -> Iterable[Lot]:
    return (held.lot for held in run.lots)
