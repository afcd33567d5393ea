"""A layout in the making: beds, and where each item lies."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from tauthide.cutting.bed import Bed
from tauthide.cutting.forms import Laid, lay
from tauthide.cutting.hides import Point
from tauthide.cutting.items import Item, Way

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
                if (best is None or worth < best[0]) and item.suits(bed.board, form, place):
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


def nearest(laid: Sequence[tuple[int, Laid]], place: Point) -> list[tuple[int, Laid]]:
    """Pieces by their distance from a place."""
    return sorted(laid, key=lambda spot: _apart2(spot[1], place))


def _apart2(laid: Laid, place: Point) -> float:
    dx, dy = laid.x - place[0], laid.y - place[1]
    return dx * dx + dy * dy
