"""The wood of the frames that the run makes itself: strips to bend, boards for staves and how they are cut up.

Staves of several specs come out of the same boards where species, width, thickness and the boards on offer agree.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import fsum

from tauthide.plan.plan import Plan
from tauthide.quantities.nesting import Board, Boards, Cut, bought_mm, nest
from tauthide.running.drums import Drum
from tauthide.running.stock import Taken

SAME_MM_DECIMALS = 1
"""Boards as thick and wide to 0.1 mm are the same: what a caliper shows. Workshop practice, no published source."""


@dataclass(frozen=True, slots=True)
class Strips:
    """Strips of one spec."""

    drum: str
    species: str
    count: int
    length_mm: float
    width_mm: float
    thickness_mm: float
    """Length, width and thickness of each, moist, before steaming."""


@dataclass(frozen=True, slots=True)
class Stock:
    """Boards of one kind, and what is cut from each."""

    drums: tuple[str, ...]
    """The specs whose staves come out of them."""
    species: str
    width_mm: float
    thickness_mm: float
    boards: Boards
    made: Mapping[str, int]
    """How many frames of each of these specs are made."""

    @property
    def length_mm(self) -> float:
        """All of them, end to end."""
        return bought_mm(self.boards)


@dataclass(frozen=True, slots=True)
class Wood:
    """All wood for frames that the run makes itself."""

    strips: tuple[Strips, ...] = ()
    stocks: tuple[Stock, ...] = ()

    def __bool__(self) -> bool:
        """Tell whether any frame is made."""
        return bool(self.strips or self.stocks)


def wood_of(drums: Sequence[Drum], taken: Mapping[str, Taken]) -> Wood:
    """Return the wood for the frames that neither stock gives nor anyone sells, in the order of the drums."""
    counts: dict[str, tuple[Plan, int]] = {}
    for drum in drums:
        if taken[drum.serial].frame is None:
            name = drum.plan.spec.drum
            counts[name] = (drum.plan, counts.get(name, (drum.plan, 0))[1] + 1)
    made = tuple(counts.values())
    return Wood(tuple(_strips(made)), tuple(_stocks(made)))


def volumes_of(wood: Wood) -> dict[str, float]:
    """Return the wood in mm3 that each frame of a spec takes, by spec; boards with what is left of them.

    A board is shared by the staves that come out of boards of its kind, by their length.
    """
    volumes = {each.drum: each.length_mm * each.width_mm * each.thickness_mm for each in wood.strips}
    for stock in wood.stocks:
        cuts = [cut for board in stock.boards for cut in board.cuts]
        all_mm = fsum(cut.length_mm for cut in cuts)
        whole_mm3 = stock.length_mm * stock.width_mm * stock.thickness_mm
        for drum, count in stock.made.items():
            own_mm = fsum(cut.length_mm for cut in cuts if cut.name == drum)
            volumes[drum] = whole_mm3 * own_mm / all_mm / count
    return volumes


def _strips(made: Sequence[tuple[Plan, int]]) -> Iterator[Strips]:
    for plan, count in made:
        if plan.has("bend.strip_length"):
            size_mm = (plan["bend.strip_length"], plan["bend.strip_width"], plan["bend.strip_thickness"])
            yield Strips(plan.spec.drum, plan.spec.word("wood.species"), count, *size_mm)


def _stocks(made: Sequence[tuple[Plan, int]]) -> Iterator[Stock]:
    alike: dict[tuple[object, ...], list[tuple[Plan, int]]] = {}
    for plan, count in made:
        if plan.has("stave.boards"):
            alike.setdefault(_kind(plan), []).append((plan, count))
    for group in alike.values():
        first = group[0][0]
        cuts = [
            Cut(plan.spec.drum, plan["stave.cut"])
            for plan, count in group
            for _ in range(count * round(plan["stave.count"]))
        ]
        boards: tuple[Board, ...] = nest(cuts, first.spec.numbers("staves.boards"), first.spec.number("staves.ends"))
        names = tuple(plan.spec.drum for plan, _ in group)
        species = first.spec.word("wood.species")
        made_of = {plan.spec.drum: count for plan, count in group}
        yield Stock(names, species, first["stave.width"], first["stave.thickness"], boards, made_of)


def _kind(plan: Plan) -> tuple[object, ...]:
    """Return what boards must agree in to be cut up together."""
    spec = plan.spec
    sizes = (round(plan[name], SAME_MM_DECIMALS) for name in ("stave.width", "stave.thickness"))
    offered = (*sorted(set(spec.numbers("staves.boards"))), spec.number("staves.ends"))
    return (spec.word("wood.species"), spec.word("wood.sawn"), *sizes, offered)
