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
    """Share out the frames and laces of the lots, by serial: the first drum comes first, the shortest lace that does."""
    frames = [[frame, frame.quantity] for lot in _lots(run) for frame in lot.frames]
    laces = sorted(
        ([lace, lace.quantity] for lot in _lots(run) for lace in lot.laces), key=lambda held: held[0].length_mm
    )
    return {drum.serial: Taken(_first(frames, drum.plan, frame_fits), _first(laces, drum.plan, lace_fits))
            for drum in drums}  # fmt: skip


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
