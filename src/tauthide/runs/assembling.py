"""The run put together from its document, its named documents and its calendar, every default filled in."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from types import MappingProxyType

from tauthide.findings import Place
from tauthide.reading.located import Data, Located
from tauthide.runs.calendars import Calendar
from tauthide.runs.run import Cutting, Entry, HeldLot, HeldSkin, Lesson, Prices, Room, Run, Spares
from tauthide.runs.values import as_count, as_map, number_or_none
from tauthide.schema.fields import fields
from tauthide.schema.store import resolved
from tauthide.units import KINDS, parse

MM2_PER_M2 = KINDS["area"].unit("m2").size
MM2_PER_SQ_FT = KINDS["area"].unit("sq ft").size
MM_PER_M = KINDS["length"].unit("m").size
MM_PER_FT = KINDS["length"].unit("ft").size
MM3_PER_M3 = MM_PER_M**3
MM3_PER_BOARD_FT = MM2_PER_SQ_FT * KINDS["length"].unit("in").size
"""A board foot is a square foot of board, an inch thick."""


def assemble(
    located: Located,
    entries: Sequence[Entry],
    skins: Sequence[HeldSkin],
    lots: Sequence[HeldLot],
    calendar: Calendar,
    start: date,
    finish_by: date | None,
) -> Run:
    """Return the run of a document that nothing is wrong with."""
    data = located.data
    quantity = sum(entry.quantity for entry in entries)
    return Run(
        name=str(data["name"]),
        title=str(data.get("title", "")),
        notes=str(data.get("notes", "")),
        entries=tuple(entries),
        skins=tuple(skins),
        lots=tuple(lots),
        crew=quantity if "class" in data else as_count(data.get("crew", default("crew"))),
        lesson=_lesson(data) if "class" in data else None,
        calendar=calendar,
        start=start,
        finish_by=finish_by,
        room=_room(_part(data, "places")),
        air_c=parse("temperature", str(data["air"])) if "air" in data else None,
        spares=Spares(_count(data, "spares", "heads"), _count(data, "spares", "laces")),
        prices=_prices(_part(data, "prices")),
        cutting=_cutting(data),
        place=located.place(("name",)),
        parts=MappingProxyType(dict(_places(located))),
    )


def default(path: str) -> Data:
    """Return the default of a field of a run, as its schema gives it."""
    node = resolved("run")
    for step in path.split("."):
        node = node["properties"][step]
    found: Data = node["default"]
    return found


def _cutting(data: Mapping[str, Data]) -> Cutting:
    part = _part(data, "cutting")
    match = part.get("thickness_match")
    return Cutting(
        allowance_mm=parse("length", str(part.get("allowance", default("cutting.allowance")))),
        seed=_count(data, "cutting", "seed"),
        rounds=_count(data, "cutting", "rounds"),
        lace_pieces=as_count(part["lace_pieces"]) if "lace_pieces" in part else None,
        thickness_match_mm=None if match is None else parse("length", str(match)),
    )


def _prices(part: Mapping[str, Data]) -> Prices:
    return Prices(
        currency=str(part.get("currency", "")),
        hour=number_or_none(part.get("hour")),
        hide_per_mm2=_rate(part, {"hide_per_m2": MM2_PER_M2, "hide_per_sq_ft": MM2_PER_SQ_FT}),
        frame=number_or_none(part.get("frame")),
        lace_per_mm=_rate(part, {"lace_per_m": MM_PER_M, "lace_per_ft": MM_PER_FT}),
        wood_per_mm3=_rate(part, {"wood_per_m3": MM3_PER_M3, "wood_per_board_ft": MM3_PER_BOARD_FT}),
        ring=number_or_none(part.get("ring")),
        sundries=number_or_none(part.get("sundries")),
        mark_up=parse("percentage", str(part["mark_up"])) if "mark_up" in part else 0.0,
    )


def _rate(part: Mapping[str, Data], sizes: Mapping[str, float]) -> float | None:
    """Return a price for one base unit, from whichever of the fields is given; None where none is."""
    for key, size in sizes.items():
        price = number_or_none(part.get(key))
        if price is not None:
            return price / size
    return None


def _room(part: Mapping[str, Data]) -> Room:
    tub, bench, drying = (as_count(part[key]) if key in part else None for key in ("tub", "bench", "drying"))
    return Room(tub, bench, drying)


def _lesson(data: Mapping[str, Data]) -> Lesson:
    begins = _part(data, "class").get("begins")
    day = None if begins is None else date.fromisoformat(str(begins))
    return Lesson(_count(data, "class", "teachers"), _count(data, "class", "tools"), day)


def _part(data: Mapping[str, Data], key: str) -> Mapping[str, Data]:
    return as_map(data.get(key, {}))


def _count(data: Mapping[str, Data], key: str, field: str) -> int:
    return as_count(_part(data, key).get(field, default(f"{key}.{field}")))


def _places(located: Located) -> Iterator[tuple[str, Place]]:
    for path in fields("run"):
        steps = tuple(path.split("."))
        if steps in located.keys:
            yield path, located.place(steps, key=True)
