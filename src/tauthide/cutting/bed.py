"""A hide with what is laid on it so far, and the candidate places for more, kept for each form."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from tauthide.cutting.curves import Circle, Curve, Stretch, box_of, cross, stretches_met, stretches_of
from tauthide.cutting.forms import Form, Laid
from tauthide.cutting.ground import Ground, ground_of
from tauthide.cutting.hides import Hide, Point
from tauthide.cutting.thickness import Gauge

MOST_KEPT = 5_000
"""Crossings kept for use again, a hide: beyond that all are dropped and found anew."""

GRAINS = 1000.0
"""Places are rounded to 0.001 mm."""

GRID = 16
"""Places tried along the longer side of a hide besides the crossings, for pieces with a limit of thickness."""


class Board:
    """A hide made ready for laying: its ground for each use, and crossings found before."""

    def __init__(self, hide: Hide, knife_mm: float) -> None:
        """Make a hide ready."""
        self.hide = hide
        self.knife_mm = knife_mm
        self.gauge = Gauge(hide)
        same = all(zone.heads and zone.laces for zone in hide.zones)
        scrap = ground_of(hide, "scrap", knife_mm)
        self.grounds: dict[str, Ground] = {
            use: scrap if same or use == "scrap" else ground_of(hide, use, knife_mm)
            for use in ("head", "lace", "scrap")
        }
        self._curves: dict[Form, tuple[Curve, ...]] = {}
        self._stretches: dict[Form, tuple[Stretch, ...]] = {}
        self._bare: dict[Form, tuple[Point, ...]] = {}
        self._round: dict[tuple[Form, Form, float, float], tuple[tuple[Curve, ...], tuple[Point, ...]]] = {}

    def curves(self, form: Form) -> tuple[Curve, ...]:
        """The form's curves on the bare hide."""
        if form not in self._curves:
            self._curves[form] = form.curves_on(self.grounds[form.use])
        return self._curves[form]

    def bare(self, form: Form) -> tuple[Point, ...]:
        """All candidate places on the bare hide."""
        if form not in self._bare:
            curves = self.curves(form)
            self._bare[form] = self._fitting(form, [*_own_crossings(curves), *self._grid()])
        return self._bare[form]

    def round_laid(self, form: Form, laid: Laid) -> tuple[tuple[Curve, ...], tuple[Point, ...]]:
        """The form's curves round what is laid, and their crossings with one another and with the bare hide's."""
        key = (form, laid.form, laid.x, laid.y)
        found = self._round.get(key)
        if found is None:
            curves = form.curves_round(laid)
            places = self._crossings_bare(form, curves)
            places += [place for number, one in enumerate(curves) for place in cross(one, curves[:number])]
            if len(self._round) >= MOST_KEPT:
                self._round.clear()
            found = self._round[key] = (curves, self._fitting(form, places))
        return found

    def _crossings_bare(self, form: Form, curves: tuple[Curve, ...]) -> list[Point]:
        """Where curves cross the form's on the bare hide."""
        only = curves[0]
        if len(curves) > 1 or not isinstance(only, Circle):
            return _crossings(curves, self.curves(form))
        if form not in self._stretches:
            self._stretches[form] = stretches_of(self.curves(form))
        return cross(only, stretches_met(only, self._stretches[form]))

    def fits(self, form: Form, place: Point) -> bool:
        """Whether the form keeps its distances from the hide's edge, flaws and zones."""
        return form.fits_on(self.grounds[form.use], *place)

    def _fitting(self, form: Form, places: Iterable[Point]) -> tuple[Point, ...]:
        # A dictionary keeps the order, which a set would not.
        return tuple(place for place in dict.fromkeys(map(_rounded, places)) if self.fits(form, place))

    def _grid(self) -> list[Point]:
        """Places for pieces whose thickness may not be had at any crossing; none on a hide of one thickness."""
        if not isinstance(self.hide.thickness, tuple) or len(self.hide.thickness) == 1:
            return []
        xs, ys = [x for x, _ in self.hide.outline], [y for _, y in self.hide.outline]
        step = max(max(xs) - min(xs), max(ys) - min(ys)) / GRID
        return [
            (min(xs) + (column + 0.5) * step, min(ys) + (row + 0.5) * step)
            for column in range(GRID)
            for row in range(GRID)
        ]


class Bed:
    """What is laid on a board. Laying one piece more makes a new bed, which finds its places from the old one's."""

    __slots__ = ("_around", "_places", "_under", "board", "laid")

    def __init__(self, board: Board, laid: tuple[Laid, ...] = (), under: Bed | None = None) -> None:
        """Use `Bed(board)` for a bare one and `add` for others."""
        self.board = board
        self.laid = laid
        self._under = under
        self._places: dict[Form, tuple[Point, ...]] = {}
        self._around: dict[Form, tuple[Curve, ...]] = {}

    def add(self, laid: Laid) -> Bed:
        """The bed with one piece more."""
        return Bed(self.board, (*self.laid, laid), self)

    def without(self, gone: Sequence[Laid]) -> Bed:
        """The bed with some pieces taken out."""
        kept = [laid for laid in self.laid if laid not in gone]
        # What lies under the first piece taken out can stay.
        bed = self
        while bed._under is not None and len(bed.laid) and any(laid in gone for laid in bed.laid):
            bed = bed._under
        for laid in kept[len(bed.laid) :]:
            bed = bed.add(laid)
        return bed

    def places(self, form: Form) -> tuple[Point, ...]:
        """The candidate places at which a form can be laid, in a settled order."""
        found = self._places.get(form)
        if found is None:
            # Not by recursion: a hide may hold more laces than Python has room for calls.
            waiting = [self]
            while (under := waiting[-1]._under) is not None and form not in under._places:
                waiting.append(under)
            for bed in reversed(waiting):
                found = bed._places[form] = bed._find(form) if bed._under else bed.board.bare(form)
        assert found is not None
        return found

    def _find(self, form: Form) -> tuple[Point, ...]:
        assert self._under is not None
        last = self.laid[-1]
        stay = form.free_of(self._under._places[form], (last,))
        curves, new = self.board.round_laid(form, last)
        around = self._under._around.get(form, ())
        self._around[form] = around + curves
        between = map(_rounded, _crossings(curves, around))
        # Places round the last piece are tried against it too: round a blank, some lie on one of its curves but
        # within another.
        fresh = form.free_of([*new, *between], self.laid)
        if fresh:
            fits = self.board.fits
            stay = list(dict.fromkeys([*stay, *[place for place in fresh if place in new or fits(form, place)]]))
        return tuple(stay)


def _rounded(place: Point) -> Point:
    """Round as `round(x, 3)` does, but for ties: that works with decimals, and is slow."""
    return round(place[0] * GRAINS) / GRAINS, round(place[1] * GRAINS) / GRAINS


def _own_crossings(curves: tuple[Curve, ...]) -> Iterator[Point]:
    """Yield where curves cross one another; a blank of many sides has thousands, and most are far apart."""
    boxes = [box_of(curve) for curve in curves]
    for number, one in enumerate(curves):
        west, south, east, north = boxes[number]
        for before in range(number):
            box = boxes[before]
            if box[0] <= east and box[2] >= west and box[1] <= north and box[3] >= south:
                yield from cross(one, (curves[before],))


def _crossings(these: tuple[Curve, ...], those: tuple[Curve, ...]) -> list[Point]:
    if len(these) > 1:
        boxes = [box_of(curve) for curve in these]
        west, south = min(box[0] for box in boxes), min(box[1] for box in boxes)
        east, north = max(box[2] for box in boxes), max(box[3] for box in boxes)
        near = []
        for curve in those:
            box = box_of(curve)
            if box[0] <= east and box[2] >= west and box[1] <= north and box[3] >= south:
                near.append(curve)
        those = tuple(near)
    return [place for one in these for place in cross(one, those)]
