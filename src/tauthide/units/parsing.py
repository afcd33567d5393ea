"""The front door: text with units in, plain numbers in the program's own units out."""

from __future__ import annotations

import functools
from typing import Final

from tauthide.units.amounts import read
from tauthide.units.catalogue import KINDS
from tauthide.units.refusals import explain

_KEPT: Final = 4096
"""Texts whose value is remembered: the specs of a batch repeat the same few hundred."""


@functools.lru_cache(maxsize=_KEPT)
def parse(kind: str, text: str) -> float:
    """Return the value of a text such as `13 1/2 in` in the base unit of its kind.

    Lengths are in mm, angles in degrees, masses in g, times in minutes, percentages as fractions, pitches in
    Hz; the rest as `KINDS` says. Raises QuantityError for a text that does not read as the kind, and KeyError
    for a kind that is not in `KINDS`.
    """
    wanted = KINDS[kind]
    value = read(wanted, text)
    if value is None:
        raise explain(wanted, text)
    return value
