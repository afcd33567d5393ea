"""Note names and pitches: equal temperament with A4 at 440 Hz."""

from __future__ import annotations

import functools
import math
import re
from typing import Final

A4_HZ: Final = 440.0
"""Standard tuning frequency of the A above middle C. Source: ISO 16:1975."""

_OCTAVE: Final = 12
"""Semitones in an octave."""
_CENTS: Final = 100
"""Cents in a semitone."""
_A4_SEMITONE: Final = 4 * _OCTAVE + 9
"""A4 counted in semitones from C0."""
_LETTERS: Final = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}
"""Semitones above the octave's C; octave numbers change at C."""
_ACCIDENTALS: Final = {"": 0, "#": 1, "♯": 1, "b": -1, "♭": -1}
_NAMES: Final = ("C", "C#", "D", "Eb", "E", "F", "F#", "G", "G#", "A", "Bb", "B")
"""The spelling shown for each semitone of an octave: the five that musicians meet most."""
_HIGHEST: Final = 10 * _OCTAVE - 1
"""B9, the last note with a one-digit octave, counted in semitones from C0."""

NOTE_PATTERN: Final = (
    r"[A-G](?:#|\u266f|b|\u266d)?[0-9]"
    r"(?:{blank}*(?:[+]|-|\u2212){blank}*[0-9]{{1,2}}(?:\.[0-9]{{1,9}})?{blank}*[Cc][Ee][Nn][Tt][Ss]?)?"
)
"""A note name as a portable regular expression; `{blank}` stands for the class of blanks."""


def read_note(text: str) -> float | None:
    """Return the pitch in Hz of a tidied note name (`A2`, `C#3`, `E♭2`, `A2 +15 cents`), else None."""
    match = _note_regex().fullmatch(text)
    if match is None:
        return None
    letter, accidental, octave, sign, cents = match.groups()
    semitone = int(octave) * _OCTAVE + _LETTERS[letter] + _ACCIDENTALS[accidental]
    off_cents = float(cents or 0) * (1 if sign == "+" else -1)
    return float(A4_HZ * 2.0 ** ((semitone - _A4_SEMITONE + off_cents / _CENTS) / _OCTAVE))


def nearest_note(pitch_hz: float) -> tuple[str, int] | None:
    """Return the name of the nearest note and how many cents the pitch lies above it, -50 to 49.

    None below C0 and above B9, where names would need more than one digit for the octave.
    """
    if not pitch_hz > 0 or not math.isfinite(pitch_hz):
        return None
    cents = math.floor(_CENTS * (_A4_SEMITONE + _OCTAVE * math.log2(pitch_hz / A4_HZ)) + 0.5)
    semitone = (cents + _CENTS // 2) // _CENTS
    if not 0 <= semitone <= _HIGHEST:
        return None
    octave, step = divmod(semitone, _OCTAVE)
    return f"{_NAMES[step]}{octave}", cents - semitone * _CENTS


@functools.cache
def _note_regex() -> re.Pattern[str]:
    return re.compile(r"([A-G])([#♯b♭]?)([0-9])(?: ?([+\-−]) ?([0-9]{1,2}(?:\.[0-9]{1,9})?) ?[Cc][Ee][Nn][Tt][Ss]?)?")
