"""What is to be bought: frames, punches, and skin for whatever was not laid on the skins at hand."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from math import ceil, fsum
from types import MappingProxyType

from tauthide.cutting.hides import Hide, Zone
from tauthide.cutting.improving import plan_cutting
from tauthide.cutting.pieces import LaceNeed, Layout, Piece, Task
from tauthide.running.drums import Batch, Drum, spare_laces
from tauthide.running.needs import lace_name
from tauthide.running.stock import SAME_SIZE_MM, Taken, punches_of
from tauthide.running.woodwork import Wood, wood_of
from tauthide.runs.run import Run
from tauthide.runs.shapes import SHAPES

TYPICAL_SHAPE = "whole"
TYPICAL_MM: Mapping[str, tuple[float, float]] = MappingProxyType(
    {
        "sheep": (1000.0, 850.0),
        "goat": (1050.0, 850.0),
        "deer": (1350.0, 1050.0),
        "calf": (1250.0, 1050.0),
        "horse": (2000.0, 1700.0),
        "elk": (1900.0, 1500.0),
        "cow": (2200.0, 1800.0),
    }
)
"""Length and width in mm of an ordinary skin. Workshop practice from memory, no published source."""

FILLED_AT_LEAST = 0.25
"""Share of a skin's area that heads and laces take at the least, to know how many to try with."""


@dataclass(frozen=True, slots=True)
class FramesToBuy:
    """Frames of one spec."""

    drum: str
    needed: int
    in_stock: int
    make: str = "bought"
    """How the frames are made that stock does not give: `bought`, `bent` or `staves`."""

    @property
    def to_buy(self) -> int:
        """How many are to be bought ready."""
        return self.needed - self.in_stock if self.make == "bought" else 0


@dataclass(frozen=True, slots=True)
class SkinsToBuy:
    """Skin of one animal for the pieces that found no place."""

    hide: str
    pieces: tuple[str, ...]
    areas_mm2: tuple[float, ...]
    """Of each piece alone."""
    skins: int | None
    """Ordinary skins that they would come out of; None where a piece is larger than an ordinary skin gives."""
    length_mm: float
    """Of an ordinary skin."""
    width_mm: float
    skin_area_mm2: float

    @property
    def area_mm2(self) -> float:
        """Of the pieces alone."""
        return fsum(self.areas_mm2)

    @property
    def bought_mm2(self) -> float:
        """Area that is paid for: whole skins. Of skins larger than ordinary it is the least that it can be."""
        return max(self.area_mm2, (self.skins or 1) * self.skin_area_mm2)

    def shares(self, hide_per_mm2: float | None) -> dict[str, float | None]:
        """Return what each piece pays of these skins, by area; None where an area has no price."""
        paid_mm2 = self.bought_mm2 / self.area_mm2
        return {
            name: None if hide_per_mm2 is None else area_mm2 * paid_mm2 * hide_per_mm2
            for name, area_mm2 in zip(self.pieces, self.areas_mm2, strict=True)
        }


@dataclass(frozen=True, slots=True)
class LacesToBuy:
    """Laces of one spec that found no place, and are bought by the metre."""

    drum: str
    hide: str
    width_mm: float
    count: int
    """Of how many drums, spares with them."""
    length_mm: float
    """Of all laces of one drum."""


@dataclass(frozen=True, slots=True)
class PunchToBuy:
    """A punch that no one has."""

    size_mm: float
    drums: tuple[str, ...]
    """The specs that want it."""


@dataclass(frozen=True, slots=True)
class RingsToBuy:
    """Rings that the laces of one spec run to."""

    drum: str
    needed: int
    in_stock: int
    across_mm: float
    """Outside diameter."""
    section_mm: float
    """Thickness of the rod."""

    @property
    def to_buy(self) -> int:
        """How many are to be bought."""
        return self.needed - self.in_stock


@dataclass(frozen=True, slots=True)
class Purchases:
    """Everything that is to be bought before the run."""

    frames: tuple[FramesToBuy, ...]
    """Of every spec, also where nothing is to be bought."""
    skins: tuple[SkinsToBuy, ...]
    """Of each animal of which skin is wanting."""
    punches: tuple[PunchToBuy, ...]
    wood: Wood = field(default_factory=Wood)
    """For frames that the run makes itself."""
    rings: tuple[RingsToBuy, ...] = ()
    """Of every spec whose lacing runs to a ring, also where nothing is to be bought."""
    laces: tuple[LacesToBuy, ...] = ()
    """Of each spec of which laces are wanting, where lace has a price by the metre: else they are cut from `skins`."""


def purchases_of(
    run: Run, batches: Sequence[Batch], drums: Sequence[Drum], taken: Mapping[str, Taken], layout: Layout
) -> Purchases:
    """Return what is to be bought, stock and the skins at hand subtracted."""
    frames = tuple(
        FramesToBuy(
            batch.plan.spec.drum,
            batch.entry.quantity,
            sum(taken[drum.serial].frame is not None for drum in drums if drum.batch is batch),
            batch.plan.spec.word("frame.make"),
        )
        for batch in batches
    )
    wood, rings = wood_of(run, drums, taken), tuple(_rings(batches, drums, taken))
    laces = tuple(_laces(run, batches, layout)) if run.prices.lace_per_mm is not None else ()
    skins = tuple(_skins(layout, with_laces=run.prices.lace_per_mm is None))
    return Purchases(frames, skins, tuple(_punches(run, batches)), wood, rings, laces)


def _laces(run: Run, batches: Sequence[Batch], layout: Layout) -> Iterator[LacesToBuy]:
    missing = set(layout.missing)
    for batch in batches:
        plan, spares = batch.plan, spare_laces(run, batch)
        count = sum(name in missing for name in (*map(lace_name, batch.entry.serials), *spares))
        if count:
            hide, width_mm = plan.spec.word("lace.hide"), plan.spec.number("lace.width")
            yield LacesToBuy(plan.spec.drum, hide, width_mm, count, plan["lace.cut_length"])


def _rings(batches: Sequence[Batch], drums: Sequence[Drum], taken: Mapping[str, Taken]) -> Iterator[RingsToBuy]:
    for batch in batches:
        in_stock = sum(taken[drum.serial].ring is not None for drum in drums if drum.batch is batch)
        spec = batch.plan.spec
        if spec.has("lace.ring"):
            across_mm, section_mm = spec.number("lace.ring"), spec.number("lace.ring_section")
            yield RingsToBuy(spec.drum, batch.entry.quantity, in_stock, across_mm, section_mm)


def _punches(run: Run, batches: Sequence[Batch]) -> Iterator[PunchToBuy]:
    owned = punches_of(run, (batch.plan for batch in batches))
    wanted: dict[float, list[str]] = {}
    for batch in batches:
        size_mm = batch.plan.spec.number("stations.hole")
        if not any(abs(size_mm - punch_mm) <= SAME_SIZE_MM for punch_mm in owned):
            wanted.setdefault(size_mm, []).append(batch.plan.spec.drum)
    for size_mm in sorted(wanted):
        yield PunchToBuy(size_mm, tuple(wanted[size_mm]))


def _skins(layout: Layout, *, with_laces: bool) -> Iterator[SkinsToBuy]:
    missing = set(layout.missing)
    pieces = [piece for piece in layout.task.pieces if piece.name in missing and piece.use != "scrap"]
    laces = [lace for lace in layout.task.laces if with_laces and lace.name in missing]
    wanted: list[Piece | LaceNeed] = [*pieces, *laces]
    for hide in dict.fromkeys(item.species[0] for item in wanted):
        yield _skins_of(
            hide,
            [piece for piece in pieces if piece.species[0] == hide],
            [lace for lace in laces if lace.species[0] == hide],
            layout.task.knife_mm,
        )


def _skins_of(hide: str, pieces: Sequence[Piece], laces: Sequence[LaceNeed], knife_mm: float) -> SkinsToBuy:
    length_mm, width_mm = TYPICAL_MM[hide]
    ordinary = typical_hide(hide, "ordinary")
    areas_mm2 = (
        *(piece.shape.area_mm2 for piece in pieces),
        *(fsum(disc.area_mm2 for disc in lace.ways[0]) for lace in laces),
    )
    return SkinsToBuy(
        hide,
        (*(piece.name for piece in pieces), *(lace.name for lace in laces)),
        areas_mm2,
        _ordinary_skins(hide, pieces, laces, knife_mm, fsum(areas_mm2) / ordinary.area_mm2),
        length_mm,
        width_mm,
        ordinary.area_mm2,
    )


def _ordinary_skins(
    hide: str, pieces: Sequence[Piece], laces: Sequence[LaceNeed], knife_mm: float, filled: float
) -> int | None:
    """Return how many ordinary skins give the pieces, by a first plan; None where one is larger than a skin gives."""
    any_thickness = tuple(replace(piece, least_mm=None, most_mm=None, set_name=None, drum=None) for piece in pieces)
    any_drum = tuple(replace(lace, drum=None) for lace in laces)
    at_hand = min(len(pieces) + len(laces), ceil(filled / FILLED_AT_LEAST) + 1)
    while True:
        hides = tuple(typical_hide(hide, f"{number:04}") for number in range(at_hand))
        layout = plan_cutting(Task(hides, any_thickness, any_drum, knife_mm), 0)
        if not layout.missing:
            return len(layout.hides_used)
        if at_hand == len(pieces) + len(laces):
            return None
        at_hand = min(len(pieces) + len(laces), 2 * at_hand)


def typical_hide(hide: str, name: str) -> Hide:
    """Return an ordinary skin of an animal as the cutting plan takes it, with weak belly, neck and shanks."""
    shape = SHAPES[TYPICAL_SHAPE].of_size(*TYPICAL_MM[hide])
    zones = tuple(Zone(region, points) for region, points in shape.weak_mm)
    return Hide(name, hide, shape.outline_mm, 1.0, zones=zones, spine=shape.spine_mm)
