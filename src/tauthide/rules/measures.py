"""How rules write forces, pitches, temperatures and shares: in the maker's units, mends rounded to the safe side."""

from __future__ import annotations

from math import floor, log2

from tauthide.figures import Workings
from tauthide.rules.wording import is_inch
from tauthide.units import KINDS, Direction, System, number, parse
from tauthide.units.notes import A4_HZ, nearest_note

SLACK = 1e-9
"""A limit is passed by more than this share of it: less is lost in floating point."""

MOST_DECIMALS = 6

_N_PER_LBF = KINDS["force"].unit("lbf").size
_F = KINDS["temperature"].unit("F")
_SMALL_FORCE = 10.0
"""Forces below this, in their own unit, are given to a tenth of it."""

_OCTAVE = 12
_PER_HUNDRED = 100
_HZ_DECIMALS = 1


def beyond(value: float, most: float) -> bool:
    """Tell whether a value lies above the most that it may be, by more than floating point."""
    return value > most + abs(most) * SLACK + SLACK


def system(w: Workings) -> System:
    """Return the unit system that leads on the maker's sheet."""
    return "inch" if is_inch(w) else "metric"


def force(w: Workings, newtons: float, beside: float | None = None) -> str:
    """Return a force in the maker's units, so that it looks different from the force `beside` it."""
    size, unit = _force_unit(w)
    decimals = 1 if newtons / size < _SMALL_FORCE else 0
    return f"{_apart(newtons / size, None if beside is None else beside / size, decimals)} {unit}"


def force_at_most(w: Workings, newtons: float, least: float = 0.0) -> str:
    """Return a force not above `newtons`, nor below `least`, to be written into a spec; nothing if none is so round."""
    return _force_within(w, newtons, "down", least, newtons)


def force_at_least(w: Workings, newtons: float, most: float) -> str:
    """Return a force not below `newtons`, nor above `most`, to be written into a spec; nothing if none is so round."""
    return _force_within(w, newtons, "up", newtons, most)


def pitch(hz: float, beside: float | None = None) -> str:
    """Return a pitch with its nearest note in brackets, so that it looks different from the pitch `beside` it."""
    nearest = nearest_note(hz)
    name = "" if nearest is None else f" ({nearest[0]}{f' {nearest[1]:+} cents' if nearest[1] else ''})"
    return f"{_apart(hz, beside, _HZ_DECIMALS)} Hz{name}"


def pitch_at_most(hz: float, least: float = 0.0) -> str:
    """Return a pitch not above `hz`, nor below `least`, to be written into a spec: a note, else in Hz; else nothing."""
    return _pitch_within(_note_at(_semitones(hz)), number(hz, _HZ_DECIMALS, "down"), least, hz)


def pitch_at_least(hz: float, most: float) -> str:
    """Return a pitch not below `hz`, nor above `most`, to be written into a spec: a note, else in Hz; else nothing."""
    above = -floor(-_exact_semitones(hz) + SLACK)
    return _pitch_within(_note_at(above), number(hz, _HZ_DECIMALS, "up"), hz, most)


def temperature(w: Workings, celsius: float, beside: float | None = None) -> str:
    """Return a temperature in the maker's units, so that it looks different from the one `beside` it."""
    other = None if beside is None else _degrees(w, beside)
    return f"{_apart(_degrees(w, celsius), other, 0)} {_scale(w)}"


def temperature_at_most(w: Workings, celsius: float) -> str:
    """Return a whole temperature in the maker's units that is not above `celsius`, to be written into a spec."""
    return f"{number(_degrees(w, celsius), 0, 'down')} {_scale(w)}"


def share_at_most(fraction: float) -> str:
    """Return a percentage that is not above `fraction`, ready to be written into a spec."""
    return f"{number(fraction * _PER_HUNDRED, 0, 'down')} %"


def share_at_least(fraction: float, decimals: int = 0) -> str:
    """Return a percentage that is not below `fraction`, ready to be written into a spec."""
    return f"{number(fraction * _PER_HUNDRED, decimals, 'up')} %"


def _apart(value: float, beside: float | None, decimals: int) -> str:
    """Return a number with as many decimals more as it takes to look different from another."""
    while beside is not None and decimals < MOST_DECIMALS and number(value, decimals) == number(beside, decimals):
        decimals += 1
    return number(value, decimals)


def _force_unit(w: Workings) -> tuple[float, str]:
    return (_N_PER_LBF, "lbf") if is_inch(w) else (1.0, "N")


def _force_within(w: Workings, newtons: float, direction: Direction, least: float, most: float) -> str:
    size, unit = _force_unit(w)
    for decimals in (0, 1) if newtons / size >= _SMALL_FORCE else (1,):
        text = f"{number(newtons / size, decimals, direction)} {unit}"
        if not beyond(least, parse("force", text)) and not beyond(parse("force", text), most):
            return text
    return ""


def _degrees(w: Workings, celsius: float) -> float:
    return celsius / (_F.numerator / _F.denominator) + _F.zero if is_inch(w) else celsius


def _scale(w: Workings) -> str:
    return "F" if is_inch(w) else "C"


def _exact_semitones(hz: float) -> float:
    """Return how many semitones a pitch lies above A4."""
    return _OCTAVE * log2(hz / A4_HZ)


def _semitones(hz: float) -> int:
    return floor(_exact_semitones(hz) + SLACK)


def _note_at(semitone: int) -> str:
    nearest = nearest_note(A4_HZ * 2.0 ** (semitone / _OCTAVE))
    return "" if nearest is None else nearest[0]


def _pitch_within(note: str, hz: str, least: float, most: float) -> str:
    for text in (note, f"{hz} Hz"):
        if text and not beyond(least, parse("pitch", text)) and not beyond(parse("pitch", text), most):
            return text
    return ""
