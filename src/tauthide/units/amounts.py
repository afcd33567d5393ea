"""The value of a quantity that is written as it should be."""

from __future__ import annotations

from tauthide.units.kinds import Kind
from tauthide.units.notes import read_note
from tauthide.units.numerals import Part, split, tidy

_MINUS = ("-", "−")


def read(kind: Kind, text: str) -> float | None:
    """Return the value of the text in the kind's base unit, or None where it is written otherwise.

    The arithmetic is in whole numbers up to one division, so that `13 in`, `33.02 cm` and
    `330.2 mm` are equal.
    """
    tidied = tidy(text)
    if kind.takes_notes:
        pitch_hz = read_note(tidied)
        if pitch_hz is not None:
            return pitch_hz
    negative = kind.signed and tidied.startswith(_MINUS)
    if negative:
        tidied = tidied[1:].lstrip(" ")
    parts = split(tidied, several=bool(kind.chain))
    if parts is None:
        return None
    if len(parts) > 1:
        return _read_chain(kind, parts)
    part = parts[0]
    unit = kind.find(part.word)
    if unit is None:
        return None
    return unit.convert(-part.numerator if negative else part.numerator, part.denominator)


def _read_chain(kind: Kind, parts: list[Part]) -> float | None:
    """Add up parts such as `1 ft 1 1/2 in`: units from large to small, all numbers but the last whole."""
    if len(parts) > len(kind.chain) or not all(part.is_plain_whole for part in parts[:-1]):
        return None
    previous = -1
    numerator, denominator = 0, 1
    for part in parts:
        unit = kind.find(part.word)
        if unit is None or unit.name not in kind.chain:
            return None
        place = kind.chain.index(unit.name)
        if place <= previous:
            return None
        previous = place
        top, bottom = part.numerator * unit.numerator, part.denominator * unit.denominator
        numerator, denominator = numerator * bottom + top * denominator, denominator * bottom
    return numerator / denominator
