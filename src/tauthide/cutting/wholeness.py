"""Drums as wholes: which pieces make one, how many are whole, and laying all of a drum's pieces or none."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

from tauthide.cutting.items import Item
from tauthide.cutting.pieces import LaceNeed, Piece
from tauthide.cutting.state import Spots, State, Taste

Unit = tuple[Item, ...]
"""The items of one drum, heads first."""


@dataclass(frozen=True, slots=True)
class Kind:
    """Drums whose pieces are alike, so that any of the heads and laces make a whole one."""

    drums: int
    heads: tuple[int, ...]
    """Numbers of the items."""
    laces: tuple[int, ...]
    ready: int
    """Drums whose lace is not to be cut: it is there."""

    def broken(self, spots: Sequence[Spots]) -> int:
        """How many of the drums are not whole: they lack a head or a lace that is to be cut."""
        return self.drums - min(self._headed(spots), self.ready + self._laced(spots))

    def spare_laces(self, spots: Sequence[Spots]) -> int:
        """How many more drums have their lace than their heads; below 0 where more have their heads."""
        over = self.ready + self._laced(spots) - self._headed(spots)
        return min(over, self._laced(spots))

    def _headed(self, spots: Sequence[Spots]) -> int:
        return sum(1 for number in self.heads if spots[number]) * self.drums // len(self.heads)

    def _laced(self, spots: Sequence[Spots]) -> int:
        return sum(1 for number in self.laces if spots[number])


def units_of(items: Iterable[Item]) -> list[Unit]:
    """The items of each drum, heads first, in the order in which the drums come; a head for no drum by itself.

    Scraps, and laces for no drum, are not among them.
    """
    units: dict[tuple[bool, str], list[Item]] = {}
    for item in sorted(items, key=lambda item: (item.use != "head", item.number)):
        drum, use = item.wanted.drum, item.use
        if use == "head" or (use == "lace" and drum is not None):
            units.setdefault((False, item.wanted.name) if drum is None else (True, drum), []).append(item)
    return [tuple(unit) for unit in units.values()]


def kinds_of(items: Iterable[Item]) -> tuple[Kind, ...]:
    """The kinds of drums; each that names no kind, and each head for no drum, is one of its own."""
    kinds: dict[tuple[bool, str, int], list[Unit]] = {}
    for unit in units_of(items):
        first, heads = unit[0].wanted, sum(item.use == "head" for item in unit)
        if heads:
            key = (False, first.name, heads) if first.drum is None or first.kind is None else (True, first.kind, heads)
            kinds.setdefault(key, []).append(unit)
    return tuple(
        Kind(
            drums=len(units),
            heads=tuple(item.number for unit in units for item in unit if item.use == "head"),
            laces=tuple(item.number for unit in units for item in unit if item.use == "lace"),
            ready=sum(all(item.use == "head" for item in unit) for unit in units),
        )
        for units in kinds.values()
    )


def lay_whole(state: State, units: Iterable[Unit], hides: Callable[[State], Sequence[int]], taste: Taste) -> None:
    """Lay of each unit all items or none; one whose like found no room before is passed over."""
    refused: set[tuple[Piece | LaceNeed, ...]] = set()
    for unit in units:
        like = tuple(_nameless(item.wanted) for item in unit)
        if like in refused:
            continue
        beds, spots = list(state.beds), list(state.spots)
        if not all(state.lay_item(item, hides(state), taste) for item in unit):
            state.beds, state.spots = beds, spots
            refused.add(like)


def _nameless(wanted: Piece | LaceNeed) -> Piece | LaceNeed:
    if isinstance(wanted, Piece):
        return replace(wanted, name="", drum=None, kind=None, set_name=None)
    return replace(wanted, name="", drum=None, kind=None)
