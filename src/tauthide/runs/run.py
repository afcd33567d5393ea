"""A run: drums that are built together, from which skins and stock, by whom, and when."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from tauthide.findings import Place
from tauthide.runs.calendars import Calendar
from tauthide.runs.lots import Lot
from tauthide.runs.skins import Skin
from tauthide.spec.chain import Source
from tauthide.spec.settings import Spec

SERIAL_DIGITS = 2
"""Digits that a serial number has at least."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One spec of the run and how many of its drums are built."""

    path: Path
    """The spec's file, absolute, links followed."""
    shown: str
    """Its name as the maker is shown it."""
    spec: Spec
    quantity: int
    first_serial: int
    place: Place
    """Where the run names the spec."""
    approval: Source | None = None
    """What lies beside the spec as its approval."""

    @property
    def serials(self) -> tuple[str, ...]:
        """The serial of each drum, such as `LIB-13-01`; they do not depend on the run's other drums."""
        numbers = range(self.first_serial, self.first_serial + self.quantity)
        return tuple(f"{self.spec.drum}-{number:0{SERIAL_DIGITS}}" for number in numbers)


@dataclass(frozen=True, slots=True)
class HeldSkin:
    """A skin at hand, and where its file lies."""

    path: Path
    shown: str
    skin: Skin
    place: Place
    """Where the run names it."""


@dataclass(frozen=True, slots=True)
class HeldLot:
    """A lot in stock, and where its file lies."""

    path: Path
    shown: str
    lot: Lot
    place: Place
    """Where the run names it."""


@dataclass(frozen=True, slots=True)
class Room:
    """How much there is room for at once; None where that does not limit the run."""

    tub: int | None
    """Heads that soak."""
    bench: int | None
    """People at the bench."""
    drying: int | None
    """Laced drums that lie drying."""


@dataclass(frozen=True, slots=True)
class Spares:
    """What is cut beyond the need, for each spec."""

    heads: int
    laces: int


@dataclass(frozen=True, slots=True)
class Prices:
    """What things cost, in one currency; None where it is not said."""

    currency: str
    """A label; empty where there is none."""
    hour: float | None
    hide_per_mm2: float | None
    frame: float | None
    lace_per_mm: float | None
    wood_per_mm3: float | None
    """Of strips and boards for frames that are made here."""
    ring: float | None
    sundries: float | None
    """What else a drum takes that nothing here counts: glue, finish, a label."""
    mark_up: float
    """What is added to the cost, as a share of it; 0 where nothing is said."""


@dataclass(frozen=True, slots=True)
class Cutting:
    """How pieces are laid on the skins."""

    allowance_mm: float
    seed: int
    rounds: int
    lace_pieces: int | None
    """Most pieces of one lace; None where what each spec allows holds."""
    thickness_match_mm: float | None
    """How far apart the thicknesses of one spec's heads may lie; None where they are not matched."""


@dataclass(frozen=True, slots=True)
class Lesson:
    """What makes a run a class: one pair of hands for each drum, and what is shared."""

    teachers: int
    tools: int
    """Sets of punch, mallet and knife."""
    begins: date | None = None
    """The day before which the teachers have frames and skins ready; None where everyone does all of it."""


@dataclass(frozen=True, slots=True)
class Run:
    """A run as its maker wants it, with all documents that it names."""

    name: str
    title: str
    notes: str
    entries: tuple[Entry, ...]
    """In the order of the run, each spec once."""
    skins: tuple[HeldSkin, ...]
    """In the order of the run."""
    lots: tuple[HeldLot, ...]
    crew: int
    """People who work; of a class as many as there are drums, the teachers not counted."""
    lesson: Lesson | None
    """None where the run is no class."""
    calendar: Calendar
    start: date
    finish_by: date | None
    room: Room
    air_c: float | None
    """Temperature of the room; None where each spec's own holds."""
    spares: Spares
    prices: Prices
    cutting: Cutting
    place: Place
    """Where the run's name stands."""
    parts: Mapping[str, Place]
    """Where the keys of the document stand: `skins`, `places.drying` and so on."""

    @property
    def quantity(self) -> int:
        """How many drums there are in all."""
        return sum(entry.quantity for entry in self.entries)

    def place_of(self, path: str) -> Place:
        """Return where a field stands; where it is left out its part, or else the run's name."""
        return self.parts.get(path) or self.parts.get(path.partition(".")[0], self.place)
