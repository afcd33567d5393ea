"""What a kind of quantity is: its units, its spelling, and what a number without a unit may have meant."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Final

from tauthide.units.notes import nearest_note
from tauthide.units.numerals import decimal_text, tidy, whole_number
from tauthide.units.patterns import pitch_pattern, quantity_pattern

_PER_HUNDRED: Final = 100
_DENSEST_G_PER_CM3: Final = 23
"""No material is denser (osmium, 22.6 g/cm3, from memory): a larger bare density is in kg/m3."""


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit: so many of the kind's base units, as a ratio of whole numbers."""

    name: str
    """The spelling that messages and suggestions use."""
    spellings: tuple[str, ...]
    """All spellings, that of `name` among them; one without capitals may be written in either case."""
    numerator: int = 1
    denominator: int = 1
    over_pi: bool = False
    """Whether the ratio is divided by pi as well, as a radian is."""
    zero: int = 0
    """What stands on this unit's scale at the zero of the base unit's scale."""

    @property
    def size(self) -> float:
        """How many base units one of this unit is."""
        return self.convert(1 + self.zero, 1)

    def convert(self, numerator: int, denominator: int) -> float:
        """Return `numerator` / `denominator` of this unit in base units, rounded once."""
        ratio = (numerator - self.zero * denominator) * self.numerator / (denominator * self.denominator)
        return ratio / math.pi if self.over_pi else ratio


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of quantity, such as a length."""

    name: str
    base: str
    """Unit of the values inside the program; of a percentage the fraction, `1`."""
    units: tuple[Unit, ...]
    bare: tuple[str, ...]
    """Names of the units that a bare number most likely stands for, the likeliest first."""
    chain: tuple[str, ...] = ()
    """Names of the units that may follow one another in one text, from large to small."""
    signed: bool = False
    """Whether a value may be negative."""
    words: Mapping[str, Unit] = field(init=False, repr=False, compare=False)
    """The units by every spelling."""

    def __post_init__(self) -> None:
        """Gather the spellings."""
        words = {word: unit for unit in self.units for word in unit.spellings}
        object.__setattr__(self, "words", words)

    @property
    def phrase(self) -> str:
        """The kind with its article: `a length`, `an angle`."""
        return f"{'an' if self.name[0] in 'aeiou' else 'a'} {self.name}"

    @property
    def label(self) -> str:
        """The units that may be written: `mm, cm, m, in, ft`."""
        return ", ".join(unit.name for unit in self.units) + (", or a note name" if self.takes_notes else "")

    @property
    def takes_notes(self) -> bool:
        """Whether a note name may stand for a value."""
        return self.name == "pitch"

    @property
    def pattern(self) -> str:
        """A regular expression of the texts that are read, portable between ECMA-262 and Python."""
        spellings = {unit.name: unit.spellings for unit in self.units}
        if self.takes_notes:
            return pitch_pattern(tuple(spellings.values()))
        chain = [spellings[name] for name in self.chain]
        return quantity_pattern(tuple(spellings.values()), chain, self.signed)

    def unit(self, name: str) -> Unit:
        """Return the unit of this name; KeyError for a name that the kind does not have."""
        unit = self.find(name)
        if unit is None:
            raise KeyError(name)
        return unit

    def find(self, word: str) -> Unit | None:
        """Return the unit that a tidied word spells, or None."""
        return self.words.get(word) or self.words.get(fold(word))

    def read_bare(self, number: float | str) -> tuple[str, ...]:
        """Return the likeliest readings of a number without a unit, ready to be copied.

        A number given as text appears in them as it was written. Empty where no reading makes sense, as with
        a negative length or a number that is too long.
        """
        text = tidy(number) if isinstance(number, str) else _plain_text(number)
        unsigned = text[1:] if self.signed and text.startswith("-") else text
        ratio = whole_number(unsigned)
        if ratio is None:
            return ()
        return _BARE_READERS.get(self.name, _read_bare)(self, text, ratio)


_FOLD: Final = str.maketrans("ABCDEFGHIJKLMNOPQRSTUVWXYZ", "abcdefghijklmnopqrstuvwxyz")


def fold(word: str) -> str:
    """Return the word with its ASCII capitals made small, and nothing else changed."""
    return word.translate(_FOLD)


def _plain_text(number: float) -> str:
    # A bool is an int to Python, but a maker who wrote `true` meant no number.
    return "" if isinstance(number, bool) else repr(number)


_Ratio = tuple[int, int]


def _read_bare(kind: Kind, text: str, _ratio: _Ratio) -> tuple[str, ...]:
    return tuple(f"{text} {unit}" for unit in kind.bare)


def _read_bare_angle(kind: Kind, text: str, ratio: _Ratio) -> tuple[str, ...]:
    within_a_turn = ratio[0] / ratio[1] <= math.tau
    return tuple(f"{text} {unit}" for unit in (kind.bare if within_a_turn else kind.bare[:1]))


def _read_bare_percentage(kind: Kind, text: str, ratio: _Ratio) -> tuple[str, ...]:
    """Take 0.08 for 8 % written as a fraction, or else as it stands."""
    as_written = f"{text} {kind.bare[0]}"
    numerator, denominator = ratio
    decimals = len(str(denominator)) - 1
    if not 0 < numerator <= denominator or denominator != 10**decimals:
        return (as_written,)
    return f"{decimal_text(numerator * _PER_HUNDRED, decimals)} {kind.bare[0]}", as_written


def _read_bare_pitch(kind: Kind, text: str, ratio: _Ratio) -> tuple[str, ...]:
    note = nearest_note(ratio[0] / ratio[1])
    return f"{text} {kind.bare[0]}", *(note[:1] if note else ())


def _read_bare_density(kind: Kind, text: str, ratio: _Ratio) -> tuple[str, ...]:
    if ratio[0] / ratio[1] > _DENSEST_G_PER_CM3:
        return (f"{text} {kind.bare[0]}",)
    return tuple(f"{text} {unit}" for unit in reversed(kind.bare))


_BARE_READERS: Final[Mapping[str, Callable[[Kind, str, _Ratio], tuple[str, ...]]]] = {
    "angle": _read_bare_angle,
    "density": _read_bare_density,
    "percentage": _read_bare_percentage,
    "pitch": _read_bare_pitch,
}
