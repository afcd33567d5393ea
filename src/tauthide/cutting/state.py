"""A layout in the making: beds, where each item lies, and how good it is."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from tauthide.cutting.bed import Bed
from tauthide.cutting.forms import Laid, lay
from tauthide.cutting.hides import Point
from tauthide.cutting.items import Item, Way
from tauthide.cutting.pieces import Piece

Taste = Callable[[float, float], float]
"""What a place is worth: the least is taken."""

Spots = tuple[tuple[int, Laid], ...]
"""Where an item's parts lie: hide and piece."""


@dataclass(slots=True)
class State:
    """Beds by hide and spots by item; an item that is not laid has no spots."""

    beds: list[Bed]
    spots: list[Spots]

    def copy(self) -> State:
        """Beds and spots themselves never change, so the lists are all that is copied."""
        return State(list(self.beds), list(self.spots))

    def lay_item(self, item: Item, hides: Sequence[int], taste: Taste) -> bool:
        """Lay an item in the first way that can be, on the first hides that take it."""
        most = max((len(item.ways[hide]) for hide in hides), default=0)
        for number in range(most):
            laid: list[tuple[int, Laid]] = []
            before = [(hide, self.beds[hide]) for hide in hides]
            for part in range(_parts(item, number, hides)):
                for hide in hides:
                    if number < len(item.ways[hide]):
                        found = self._lay_part(item, item.ways[hide][number], part, hide, taste)
                        if found is not None:
                            laid.append((hide, found))
                            break
                else:
                    break
            else:
                self.spots[item.number] = tuple(laid)
                return True
            for hide, bed in before:
                self.beds[hide] = bed
        return False

    def _lay_part(self, item: Item, way: Way, part: int, hide: int, taste: Taste) -> Laid | None:
        bed, best = self.beds[hide], None
        for form in way[part]:
            for place in bed.places(form):
                worth = taste(*place)
                if (best is None or worth < best[0]) and item.suits(bed.board.hide, place):
                    best = (worth, form, place)
        if best is None:
            return None
        laid = lay(item.number, part, best[1], *best[2])
        self.beds[hide] = bed.add(laid)
        return laid

    def take_out(self, numbers: Iterable[int]) -> None:
        """Take items off their hides, all their parts."""
        gone: dict[int, list[Laid]] = {}
        for number in numbers:
            for hide, laid in self.spots[number]:
                gone.setdefault(hide, []).append(laid)
            self.spots[number] = ()
        for hide, pieces in gone.items():
            self.beds[hide] = self.beds[hide].without(pieces)


def _parts(item: Item, way: int, hides: Sequence[int]) -> int:
    return max(len(item.ways[hide][way]) for hide in hides if way < len(item.ways[hide]))


Score = tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Judge:
    """How good a state is, as a tuple of which the least is best."""

    items: Sequence[Item]
    tolerance_mm: float

    def score(self, state: State) -> Score:
        """Judge by, in this order: whole drums, heads, their hides, laces, hides, joins, scraps, matched sets, rest."""
        heads = [item for item in self.items if item.use == "head"]
        broken = {_drum(item) for item in heads if not state.spots[item.number]}
        missing = [item for item in self.items if not state.spots[item.number]]
        head_hides = {state.spots[item.number][0][0] for item in heads if state.spots[item.number]}
        hides = {hide for spots in state.spots for hide, _ in spots}
        discs = sum(len(state.spots[item.number]) for item in self.items if item.use == "lace")
        area_mm2 = [sum(laid.form.shape.area_mm2 for laid in state.beds[hide].laid) for hide in sorted(hides)]
        return (
            len(broken),
            sum(item.use == "head" for item in missing),
            len(head_hides),
            sum(item.use == "lace" for item in missing),
            len(hides),
            discs,
            sum(item.use == "scrap" for item in missing),
            self._unmatched(state, heads),
            round(sum(item.area_mm2 for item in missing)),
            # A hide that is nearly full and one nearly empty leave more than two that are half full.
            -round(sum(area * area for area in area_mm2) * 1e-6),
        )

    def _unmatched(self, state: State, heads: Sequence[Item]) -> float:
        """By how much the thicknesses of sets lie further apart than they should, in mm."""
        sets: dict[str, list[float]] = {}
        for item in heads:
            if isinstance(item.wanted, Piece) and item.wanted.set_name is not None:
                for hide, laid in state.spots[item.number]:
                    found = state.beds[hide].board.hide.thickness_at((laid.x, laid.y))
                    sets.setdefault(item.wanted.set_name, []).append(found)
        beyond = (max(found) - min(found) - self.tolerance_mm for found in sets.values())
        return round(sum(over for over in beyond if over > 0), 3)


def _drum(item: Item) -> tuple[bool, str]:
    """The drum that a head is for; a head for none stands for itself."""
    assert isinstance(item.wanted, Piece)
    return (True, item.wanted.drum) if item.wanted.drum is not None else (False, item.wanted.name)


def nearest(laid: Sequence[tuple[int, Laid]], place: Point) -> list[tuple[int, Laid]]:
    """Pieces by their distance from a place."""
    return sorted(laid, key=lambda spot: (spot[1].x - place[0]) ** 2 + (spot[1].y - place[1]) ** 2)
