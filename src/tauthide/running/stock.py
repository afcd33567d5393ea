"""What is in stock, and which drum gets what of it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from math import fsum
from typing import Generic, TypeVar

from tauthide.plan.plan import Plan
from tauthide.running.drums import Batch, Drum, spare_laces
from tauthide.runs.lots import StockFrame, StockLace, StockRing, StockWood
from tauthide.runs.run import Run

SAME_SIZE_MM = 0.5
"""Sizes that differ by no more count as the same: what a bench can measure. Workshop practice, no published source."""


@dataclass(frozen=True, slots=True)
class Taken:
    """What stock gives one drum; None, or nothing, for what is to be had otherwise."""

    frame: StockFrame | None
    laces: tuple[tuple[StockLace, ...], ...] = ()
    """Each lace as its pieces in the order in which they are joined; one piece alone may give all laces of a drum."""
    ring: StockRing | None = None

    @property
    def has_lace(self) -> bool:
        """Tell whether stock gives all laces of the drum."""
        return bool(self.laces)

    @property
    def is_joined(self) -> bool:
        """Tell whether a lace of it is joined of several pieces."""
        return any(len(lace) > 1 for lace in self.laces)

    @property
    def lace_pieces(self) -> tuple[StockLace, ...]:
        """All pieces of all its laces."""
        return tuple(piece for lace in self.laces for piece in lace)


_Thing = TypeVar("_Thing", StockFrame, StockLace, StockRing, StockWood)


class Shelf(Generic[_Thing]):
    """Things of several kinds, which are taken one by one."""

    def __init__(self, things: Iterable[_Thing]) -> None:
        self.things: tuple[_Thing, ...] = tuple(things)
        self.left: list[int] = [thing.quantity for thing in self.things]

    def take(self, fits: Callable[[_Thing], bool]) -> _Thing | None:
        """Take one of the first kind that fits and is still there; None where there is none."""
        for index, thing in enumerate(self.things):
            if self.left[index] and fits(thing):
                self.left[index] -= 1
                return thing
        return None

    def put_back(self, taken: Iterable[_Thing]) -> None:
        """Put back what was taken."""
        for thing in taken:
            self.left[self.things.index(thing)] += 1


@dataclass(frozen=True, slots=True)
class Shared:
    """What the lots give a run."""

    drums: Mapping[str, Taken]
    """By serial."""
    spares: Mapping[str, Taken]
    """By the name of a spare lace: of each that stock gives."""


def take_stock(run: Run, batches: Sequence[Batch], drums: Sequence[Drum]) -> Shared:
    """Share out the frames, laces and rings of the lots: first come first served.

    Of the laces that are long enough the shortest that does. Once no drum finds one, laces that are too short are
    joined for those that have none yet, where their spec and the run allow it in pieces. What the drums leave over
    serves for spare laces in the same way.
    """
    lots = [held.lot for held in run.lots]
    frames = Shelf(frame for lot in lots for frame in lot.frames)
    rings = Shelf(ring for lot in lots for ring in lot.rings)
    laces = Shelf(sorted((lace for lot in lots for lace in lot.laces), key=lambda lace: lace.length_mm))
    whole = {drum.serial: laces.take(partial(lace_fits, plan=drum.plan)) for drum in drums}
    taken = {}
    for drum in drums:
        lace = whole[drum.serial]
        taken[drum.serial] = Taken(
            frame=frames.take(partial(frame_fits, plan=drum.plan)),
            laces=_joined_laces(laces, run, drum.plan) if lace is None else ((lace,),),
            ring=rings.take(partial(ring_fits, plan=drum.plan)),
        )
    return Shared(taken, _spares(laces, run, batches))


def _spares(shelf: Shelf[StockLace], run: Run, batches: Sequence[Batch]) -> dict[str, Taken]:
    """Take spare laces off the shelf, whole ones first; return those that were found by name."""
    plans = {name: batch.plan for batch in batches for name in spare_laces(run, batch)}
    whole = {name: shelf.take(partial(lace_fits, plan=plan)) for name, plan in plans.items()}
    spares = {}
    for name, plan in plans.items():
        lace = whole[name]
        laces = _joined_laces(shelf, run, plan) if lace is None else ((lace,),)
        if laces:
            spares[name] = Taken(frame=None, laces=laces)
    return spares


def _joined_laces(shelf: Shelf[StockLace], run: Run, plan: Plan) -> tuple[tuple[StockLace, ...], ...]:
    """Take all laces of a drum, each of one or more pieces; nothing where they do not suffice for all of them."""
    found: list[tuple[StockLace, ...]] = []
    for _ in range(round(plan["lace.laces"])):
        pieces = _join(shelf, plan, most_lace_pieces(run, plan))
        if not pieces:
            shelf.put_back(piece for lace in found for piece in lace)
            return ()
        found.append(pieces)
    return tuple(found)


def _join(shelf: Shelf[StockLace], plan: Plan, most: int) -> tuple[StockLace, ...]:
    """Take the pieces of one lace: the longest first, and last the shortest that makes it long enough.

    So it has as few pieces as can be, never more than allowed. Nothing is taken where they do not suffice.
    """
    taken: list[StockLace] = []
    longest = sorted(shelf.things, key=lambda lace: -lace.length_mm)
    for pieces in range(1, most + 1):
        have_mm = fsum(lace.length_mm for lace in taken)
        wanting_mm = joined_length(plan, pieces) - have_mm
        last = shelf.take(lambda lace: is_of_kind(lace, plan) and lace.length_mm >= wanting_mm)  # noqa: B023
        if last is not None:
            return (*taken, last)
        useful = [lace for lace in longest if is_of_kind(lace, plan) and lace.length_mm > plan.spec.number("lace.join")]
        following = next((lace for lace in useful if shelf.left[shelf.things.index(lace)]), None)
        if following is None:
            break
        shelf.take(following.__eq__)
        taken.append(following)
    shelf.put_back(taken)
    return ()


def joined_length(plan: Plan, pieces: int) -> float:
    """Return the length in mm that the pieces of one lace must have together: each join takes some."""
    return plan["lace.each_length"] + (pieces - 1) * plan.spec.number("lace.join")


def most_lace_pieces(run: Run, plan: Plan) -> int:
    """Return of how many pieces a lace may be made: as its spec allows, or the run where it allows fewer."""
    allowed = plan.spec.count("lace.pieces")
    return allowed if run.cutting.lace_pieces is None else min(allowed, run.cutting.lace_pieces)


def punches_of(run: Run, plans: Iterable[Plan]) -> tuple[float, ...]:
    """Return the sizes in mm of all punches at hand: those of the lots and those that the specs' shop owns."""
    sizes = {punch.size_mm for held in run.lots for punch in held.lot.punches}
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
    return is_of_kind(lace, plan) and lace.length_mm >= plan["lace.cut_length"]


def is_of_kind(lace: StockLace, plan: Plan) -> bool:
    """Whether a lace in stock is of a plan's hide and width, however long."""
    spec = plan.spec
    same_width = abs(lace.width_mm - spec.number("lace.width")) <= SAME_SIZE_MM
    return lace.hide == spec.word("lace.hide") and same_width


def ring_fits(ring: StockRing, plan: Plan) -> bool:
    """Whether a ring in stock is the one that a plan's laces run to."""
    spec = plan.spec
    return (
        spec.has("lace.ring")
        and abs(ring.diameter_mm - spec.number("lace.ring")) <= SAME_SIZE_MM
        and abs(ring.section_mm - spec.number("lace.ring_section")) <= SAME_SIZE_MM
    )
