"""The digest: a short name for everything that bears on the drum."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from types import MappingProxyType

from tauthide.spec.settings import Amount, Spec

MODEL_VERSION = 1
"""Version of the model. Raise it with any change that alters a figure: old digests then no longer match."""

LENGTH_DECIMALS = 6
"""Lengths count to 1e-6 mm, so that `13 in` and `330.2 mm` are the same drum."""

OUTSIDE_THE_DRUM = ("bench.", "times.")
"""How the sheet is written, which punches hang on the wall and how long hands take does not change the drum."""

LEFT_OUT: Mapping[str, Amount] = MappingProxyType({"lace.laces": 1})
"""Fields without a default, with the value that says no more than leaving them out."""

SHOWN_DIGITS = 12
"""Hexadecimal digits of the digest: 48 bits, ample to tell the specs of a shop apart."""


def digest(spec: Spec) -> str:
    """Return the digest of the spec: the same for the same drum, however its values are spelt.

    It covers the drum's name, every resolved value and the model's version; not title, notes, quantity,
    `bench`, `times`, file names, comments or where a value comes from.
    """
    body = {"model": MODEL_VERSION, "drum": spec.drum, "values": digested(spec)}
    text = json.dumps(body, sort_keys=True, separators=(",", ":"), ensure_ascii=True)
    return hashlib.sha256(text.encode("ascii")).hexdigest()[:SHOWN_DIGITS]


def digested(spec: Spec) -> dict[str, str | int | list[str]]:
    """Return the values that the digest covers, by path in order, in base units and as exact as they count."""
    return {
        path: canonical(setting.value)
        for path, setting in sorted(spec.settings.items())
        if not path.startswith(OUTSIDE_THE_DRUM) and LEFT_OUT.get(path) != setting.value
    }


def canonical(value: Amount) -> str | int | list[str]:
    """Return a value as the digest has it: the same text, count or list of texts for all that is the same."""
    if isinstance(value, tuple):
        return [f"{item:.{LENGTH_DECIMALS}f}" for item in value]
    if isinstance(value, float):
        return f"{value:.{LENGTH_DECIMALS}f}"
    return value
