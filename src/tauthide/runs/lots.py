"""A lot: frames, laces, punches, rings, wood and other things in stock."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from tauthide.findings import Place
from tauthide.reading.located import Data, Located
from tauthide.runs.values import as_count, as_list, as_map, number_or_none
from tauthide.spec.layers import OUTLINE_SIZES
from tauthide.units import parse


@dataclass(frozen=True, slots=True)
class StockFrame:
    """Frames of one outline and size."""

    outline: str
    """`round`, `polygon` or `oval`."""
    sizes_mm: Mapping[str, float]
    """By the spec's names: `diameter`; `length` and `width`; or `across_flats`."""
    sides: int
    """Of a polygon; else 0."""
    depth_mm: float
    wall_mm: float | None
    quantity: int
    price: float | None
    place: Place


@dataclass(frozen=True, slots=True)
class StockLace:
    """Laces of one hide, width and length."""

    hide: str
    width_mm: float
    length_mm: float
    """Of each, in one piece."""
    quantity: int
    price: float | None
    place: Place


@dataclass(frozen=True, slots=True)
class StockPunch:
    """Punches of one diameter."""

    size_mm: float
    quantity: int
    place: Place


@dataclass(frozen=True, slots=True)
class StockRing:
    """Rings of one size, for laces that run to one."""

    diameter_mm: float
    """Outside."""
    section_mm: float
    """Thickness of the rod."""
    quantity: int
    price: float | None
    place: Place


@dataclass(frozen=True, slots=True)
class StockWood:
    """Strips or boards of one species and size."""

    species: str
    length_mm: float
    width_mm: float
    thickness_mm: float
    quantity: int
    place: Place


@dataclass(frozen=True, slots=True)
class StockThing:
    """Something else in stock."""

    what: str
    quantity: int
    price: float | None
    place: Place


@dataclass(frozen=True, slots=True)
class Lot:
    """What else is in stock, each list in the order of the document."""

    title: str
    frames: tuple[StockFrame, ...]
    laces: tuple[StockLace, ...]
    punches: tuple[StockPunch, ...]
    rings: tuple[StockRing, ...]
    wood: tuple[StockWood, ...]
    other: tuple[StockThing, ...]
    place: Place


def read_lot(located: Located) -> Lot:
    """Return the lot that a document describes, which its schema has found nothing wrong with."""
    return Lot(
        title=str(located.data.get("title", "")),
        frames=tuple(_frame(fields, place) for fields, place in _items(located, "frames")),
        laces=tuple(
            StockLace(
                str(fields["hide"]),
                _length(fields, "width"),
                _length(fields, "length"),
                _quantity(fields),
                _price(fields),
                place,
            )
            for fields, place in _items(located, "laces")
        ),
        punches=tuple(
            StockPunch(_length(fields, "size"), _quantity(fields), place)
            for fields, place in _items(located, "punches")
        ),
        rings=tuple(
            StockRing(_length(fields, "diameter"), _length(fields, "section"), _quantity(fields), _price(fields), place)
            for fields, place in _items(located, "rings")
        ),
        wood=tuple(
            StockWood(
                str(fields["species"]),
                _length(fields, "length"),
                _length(fields, "width"),
                _length(fields, "thickness"),
                _quantity(fields),
                place,
            )
            for fields, place in _items(located, "wood")
        ),
        other=tuple(
            StockThing(str(fields["what"]), _quantity(fields), _price(fields), place)
            for fields, place in _items(located, "other")
        ),
        place=located.place(("lot",), key=True),
    )


def _frame(fields: Mapping[str, Data], place: Place) -> StockFrame:
    outline = str(fields["outline"])
    names = [path.removeprefix("frame.") for path in OUTLINE_SIZES[outline]]
    return StockFrame(
        outline=outline,
        sizes_mm={name: _length(fields, name) for name in names if name != "sides"},
        sides=as_count(fields.get("sides", 0)),
        depth_mm=_length(fields, "depth"),
        wall_mm=_length(fields, "wall") if "wall" in fields else None,
        quantity=_quantity(fields),
        price=_price(fields),
        place=place,
    )


def _items(located: Located, key: str) -> Iterator[tuple[Mapping[str, Data], Place]]:
    for index, fields in enumerate(as_list(located.data.get(key, []))):
        yield as_map(fields), located.place((key, index))


def _length(fields: Mapping[str, Data], key: str) -> float:
    return parse("length", str(fields[key]))


def _quantity(fields: Mapping[str, Data]) -> int:
    return as_count(fields.get("quantity", 1))


def _price(fields: Mapping[str, Data]) -> float | None:
    return number_or_none(fields.get("price"))
