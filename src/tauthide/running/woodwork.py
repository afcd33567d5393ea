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
from tauthide.running.stock import SAME_SIZE_MM, Shelf, Taken
from tauthide.runs.lots import StockWood
from tauthide.runs.run import Run

SAME_MM_DECIMALS = 1
"""Boards as thick and wide to 0.1 mm are the same: what a caliper shows. Workshop practice, no published source."""


@dataclass(frozen=True, slots=True)
class Strips:
    """Strips of one spec."""

    drum: str
    species: str
    count: int
    in_stock: int
    """How many of them a lot gives."""
    length_mm: float
    width_mm: float
    thickness_mm: float
    """Length, width and thickness of each, moist, before steaming."""

    @property
    def to_buy(self) -> int:
        """How many are to be bought."""
        return self.count - self.in_stock


@dataclass(frozen=True, slots=True)
class Stock:
    """Boards of one kind, and what is cut from each."""

    drums: tuple[str, ...]
    """The specs whose staves come out of them."""
    species: str
    width_mm: float
    thickness_mm: float
    boards: Boards
    in_stock: tuple[bool, ...]
    """Of each board, whether a lot gives it."""
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


def wood_of(run: Run, drums: Sequence[Drum], taken: Mapping[str, Taken]) -> Wood:
    """Return the wood for the frames that neither stock gives nor anyone sells, in the order of the drums.

    Strips and boards of the lots are taken first come first served, the least wood that does.
    """
    at_hand = (wood for held in run.lots for wood in held.lot.wood)
    shelf = Shelf(sorted(at_hand, key=lambda each: each.length_mm * each.width_mm * each.thickness_mm))
    counts: dict[str, tuple[Plan, int]] = {}
    for drum in drums:
        if taken[drum.serial].frame is None:
            name = drum.plan.spec.drum
            counts[name] = (drum.plan, counts.get(name, (drum.plan, 0))[1] + 1)
    made = tuple(counts.values())
    return Wood(tuple(_strips(made, shelf)), tuple(_stocks(made, shelf)))


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


def _strips(made: Sequence[tuple[Plan, int]], shelf: Shelf[StockWood]) -> Iterator[Strips]:
    for plan, count in made:
        if plan.has("bend.strip_length"):
            size_mm = (plan["bend.strip_length"], plan["bend.strip_width"], plan["bend.strip_thickness"])
            species = plan.spec.word("wood.species")
            given = sum(_is_given(shelf, species, *size_mm) for _ in range(count))
            yield Strips(plan.spec.drum, species, count, given, *size_mm)


def _stocks(made: Sequence[tuple[Plan, int]], shelf: Shelf[StockWood]) -> Iterator[Stock]:
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
        section_mm = first["stave.width"], first["stave.thickness"]
        given = tuple(_is_given(shelf, species, board.length_mm, *section_mm) for board in boards)
        yield Stock(names, species, *section_mm, boards, given, made_of)


def _is_given(shelf: Shelf[StockWood], species: str, length_mm: float, width_mm: float, thickness_mm: float) -> bool:
    """Take a strip or board of a size, or of a larger one, and tell whether there was one."""

    def does(wood: StockWood) -> bool:
        return (
            wood.species == species
            and wood.length_mm >= length_mm - SAME_SIZE_MM
            and wood.width_mm >= width_mm - SAME_SIZE_MM
            and wood.thickness_mm >= thickness_mm - SAME_SIZE_MM
        )

    return shelf.take(does) is not None


def _kind(plan: Plan) -> tuple[object, ...]:
    """Return what boards must agree in to be cut up together."""
    spec = plan.spec
    sizes = (round(plan[name], SAME_MM_DECIMALS) for name in ("stave.width", "stave.thickness"))
    offered = (*sorted(set(spec.numbers("staves.boards"))), spec.number("staves.ends"))
    return (spec.word("wood.species"), spec.word("wood.sawn"), *sizes, offered)
