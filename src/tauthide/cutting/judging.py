"""How good a layout in the making is."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from tauthide.cutting.items import Item
from tauthide.cutting.pieces import Piece
from tauthide.cutting.state import State
from tauthide.cutting.wholeness import Kind

Score = tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Judge:
    """How good a state is, as a tuple of which the least is best."""

    items: Sequence[Item]
    kinds: Sequence[Kind]
    tolerance_mm: float

    def score(self, state: State) -> Score:
        """Judge by, in this order: whole drums, heads, their hides, laces, hides, joins, scraps, matched sets, rest.

        Sums are exact ones, which do not depend on the release of Python.
        """
        heads = [item for item in self.items if item.use == "head"]
        missing = [item for item in self.items if not state.spots[item.number]]
        head_hides = {state.spots[item.number][0][0] for item in heads if state.spots[item.number]}
        hides = {hide for spots in state.spots for hide, _ in spots}
        discs = sum(len(state.spots[item.number]) for item in self.items if item.use == "lace")
        area_mm2 = [math.fsum(laid.form.shape.area_mm2 for laid in state.beds[hide].laid) for hide in sorted(hides)]
        return (
            sum(kind.broken(state.spots) for kind in self.kinds),
            sum(item.use == "head" for item in missing),
            len(head_hides),
            sum(item.use == "lace" for item in missing),
            len(hides),
            discs,
            sum(item.use == "scrap" for item in missing),
            self._unmatched(state, heads),
            round(math.fsum(item.area_mm2 for item in missing)),
            # A hide that is nearly full and one nearly empty leave more than two that are half full.
            -round(math.fsum(area * area for area in area_mm2) * 1e-6),
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
        return round(math.fsum(over for over in beyond if over > 0), 3)
