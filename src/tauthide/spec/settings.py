"""The spec: every value of one drum in base units, each with its origin."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from tauthide.findings import Place
from tauthide.reading.located import Data
from tauthide.spec.layers import Entry, Origin

Amount = float | int | str | tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Setting:
    """One value of the spec."""

    path: str
    value: Amount
    """Quantities in base units (mm, deg, min, Hz, N/mm2, kg/m3, fractions), counts and words as they are."""
    quantity: str | None
    """Kind of quantity, such as `length`; none for counts and words."""
    entries: tuple[Entry, ...]
    """What each layer wrote, lowest first: the last one holds."""

    @property
    def origin(self) -> Origin:
        """Where the value that holds comes from."""
        return self.entries[-1].origin

    @property
    def written(self) -> Data:
        """The value that holds, as it is written."""
        return self.entries[-1].written


@dataclass(frozen=True, slots=True)
class Acceptance:
    """A warning or note that the maker accepts."""

    rule: str
    """Name of the rule."""
    because: str
    """Why, in the maker's words."""
    place: Place
    """Where the rule's name is written."""


@dataclass(frozen=True, slots=True)
class Spec:
    """One drum as its maker wants it, complete."""

    drum: str
    title: str
    notes: str
    quantity: int
    settings: Mapping[str, Setting]
    """By path, sorted: `frame.depth`, `hide.soak`, ..."""
    place: Place
    """Where the drum's name stands, for findings on the drum as a whole."""
    parts: Mapping[str, Place] = field(default_factory=dict)
    """Where the keys of the parts that the spec has stand."""
    acceptances: tuple[Acceptance, ...] = ()
    """In the order of the spec."""

    def number(self, path: str) -> float:
        """Return the quantity or count at `path`, in its base unit; KeyError where it is not set."""
        value = self.settings[path].value
        if isinstance(value, (str, tuple)):
            raise TypeError(f"{path} is not a number")
        return value

    def count(self, path: str) -> int:
        """Return the count at `path`; KeyError where it is not set."""
        value = self.settings[path].value
        if not isinstance(value, int):
            raise TypeError(f"{path} is not a count")
        return value

    def word(self, path: str) -> str:
        """Return the word at `path`; KeyError where it is not set."""
        value = self.settings[path].value
        if not isinstance(value, str):
            raise TypeError(f"{path} is not a word")
        return value

    def numbers(self, path: str) -> tuple[float, ...]:
        """Return the list of quantities at `path`; empty where it is not set."""
        setting = self.settings.get(path)
        value = () if setting is None else setting.value
        if not isinstance(value, tuple):
            raise TypeError(f"{path} is not a list")
        return value

    def has(self, path: str) -> bool:
        """Tell whether `path` is set by any layer."""
        return path in self.settings

    def place_of(self, path: str) -> Place:
        """Return where the value at `path` is written; of a default, where its part is, or else the drum's name."""
        setting = self.settings.get(path)
        if setting is None or setting.origin.place is None:
            return self.parts.get(path.partition(".")[0], self.place)
        return setting.origin.place
