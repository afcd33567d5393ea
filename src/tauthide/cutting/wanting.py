"""Why a piece found no place in a layout: the room, the thickness, or the weak regions."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal

from tauthide.cutting.bed import Bed, Board
from tauthide.cutting.forms import Form, form_of, lay
from tauthide.cutting.hides import Hide
from tauthide.cutting.items import Item, make_items
from tauthide.cutting.pieces import LaceNeed, Layout, Piece, Task
from tauthide.cutting.thickness import span_over

MOST_HIDES = 20
"""So many hides are looked at, the largest first: more would take longer than the search, and say the same."""

Cause = Literal["species", "size", "room", "thickness", "zone", "thickness and zone", "search"]
"""No hide of its animal (or none with a spine, where it has a direction); larger than any hide has room for when bare;
no room beside what is laid; room, but too thick or thin there; room, but in a weak region; room, but both; or room
indeed, which more rounds may find, or which is not enough for all discs of a lace."""

USES = ("head", "lace", "scrap")
"""The more important first."""

ORDER: tuple[Cause, ...] = ("search", "thickness", "zone", "thickness and zone", "room", "size", "species")
"""Of the hides' causes the first of these is told: the one of which least stands in the way."""


@dataclass(frozen=True, slots=True)
class Reason:
    """Why a piece was not laid."""

    cause: Cause
    hide: str = ""
    """Where it comes nearest; empty where no single hide is meant."""
    span_mm: tuple[float, float] | None = None
    """Where thickness is the cause: the least and greatest at the place that comes nearest to what is allowed."""
    least_mm: float | None = None
    most_mm: float | None = None
    """What is allowed."""


def why_missing(layout: Layout) -> dict[str, Reason]:
    """Return why each piece or lace that is missing was not laid, by its name; alike ones have one reason."""
    missing = set(layout.missing)
    if not missing:
        return {}
    hides = [_Found(hide, layout) for hide in sorted(layout.task.hides, key=lambda hide: (-hide.area_mm2, hide.name))]
    known: dict[object, Reason] = {}
    reasons = {}
    all_wanted: tuple[Piece | LaceNeed, ...] = (*layout.task.pieces, *layout.task.laces)
    for item, wanted in zip(make_items(_of_any_thickness(layout.task)), all_wanted, strict=True):
        if wanted.name in missing:
            key = (item.ways, item.use, wanted.species, wanted.least_mm, wanted.most_mm)
            if key not in known:
                known[key] = _reason(item, wanted, hides, layout.task)
            reasons[wanted.name] = known[key]
    return reasons


def _of_any_thickness(task: Task) -> Task:
    pieces = tuple(replace(piece, least_mm=None, most_mm=None) for piece in task.pieces)
    return replace(task, pieces=pieces, laces=tuple(replace(e, least_mm=None, most_mm=None) for e in task.laces))


class _Found:
    """A hide with what is laid on it, or with the more important of that, with weak regions or without.

    Each is made when it is first asked for.
    """

    def __init__(self, hide: Hide, layout: Layout) -> None:
        self.hide = hide
        self._layout = layout
        self._beds: dict[tuple[bool, str], Bed] = {}

    def bed(self, down_to: str, *, zones: bool) -> Bed:
        """Return the hide with the pieces that are no less important than such a use."""
        uses = USES[: USES.index(down_to) + 1]
        if (zones, down_to) not in self._beds:
            hide = self.hide if zones else replace(self.hide, zones=())
            bed = Bed(Board(hide, self._layout.task.knife_mm))
            for each in self._layout.on_hide(self.hide.name):
                if each.use in uses:
                    form = form_of(each.shape, each.use, each.angle_deg, self._layout.task.knife_mm)
                    bed = bed.add(lay(0, 0, form, *each.centre))
            self._beds[zones, down_to] = bed
        return self._beds[zones, down_to]


def _reason(item: Item, wanted: Piece | LaceNeed, hides: list[_Found], task: Task) -> Reason:
    numbers = {hide.name: number for number, hide in enumerate(task.hides)}
    taking = [found for found in hides if item.ways[numbers[found.hide.name]]]
    best: Reason | None = None
    for found in taking[:MOST_HIDES]:
        forms = _forms(item, numbers[found.hide.name])
        for reason in _on_hide(found, forms, item.use, wanted):
            if best is None or _rank(reason) < _rank(best):
                best = reason
    return best or Reason("species")


def _rank(reason: Reason) -> tuple[int, float]:
    return ORDER.index(reason.cause), 0.0 if reason.span_mm is None else _beyond(reason, reason.span_mm)


def _forms(item: Item, hide: int) -> tuple[Form, ...]:
    """Return what is to find a place: a piece in its turns, or the largest disc of a lace's last, smallest way."""
    parts = item.ways[hide][-1]
    return max(parts, key=lambda forms: forms[0].reach_mm)


def _on_hide(found: _Found, forms: tuple[Form, ...], use: str, wanted: Piece | LaceNeed) -> Iterator[Reason]:
    name, limits = found.hide.name, (wanted.least_mm, wanted.most_mm)
    whole = found.bed(USES[-1], zones=True)
    if any(whole.board.gauge.keeps(form, place, *limits) for form in forms for place in whole.places(form)):
        yield Reason("search", name)
        return
    for zones in (True, False) if found.hide.zones else (True,):
        # What is less important would have made room for it, so it was not that which stood in the way.
        bed = found.bed(use, zones=zones)
        places = [(form, place) for form in forms for place in bed.places(form)]
        if not places:
            continue
        if any(bed.board.gauge.keeps(form, place, *limits) for form, place in places):
            yield Reason("room") if zones else Reason("zone", name)
            return
        spans = [span_over(found.hide, form, place) for form, place in places]
        limited = Reason("thickness" if zones else "thickness and zone", name, None, *limits)
        yield replace(limited, span_mm=min(spans, key=lambda span: (_beyond(limited, span), span)))
    bare = found.bed(use, zones=not found.hide.zones).board
    yield Reason("room" if any(bare.bare(form) for form in forms) else "size")


def _beyond(reason: Reason, span_mm: tuple[float, float]) -> float:
    """How far a thickness is beyond what is allowed, at the thinner and the thicker end together."""
    under = 0.0 if reason.least_mm is None else max(0.0, reason.least_mm - span_mm[0])
    return under + (0.0 if reason.most_mm is None else max(0.0, span_mm[1] - reason.most_mm))
