"""Faults of quantities: no unit, a text that does not read as one, or a size beyond its limits."""

from __future__ import annotations

import re
from collections.abc import Iterable

from tauthide.findings import Finding
from tauthide.schema.faults import BAD_QUANTITY, MISSING_UNIT, OUT_OF_RANGE, WRONG_TYPE
from tauthide.schema.keywords import beyond, limit_of
from tauthide.schema.value_faults import empty_value, given
from tauthide.schema.violations import Violation
from tauthide.schema.wording import any_of
from tauthide.units import KINDS, QuantityError, inch_length, parse

MOST_SUGGESTED = 2
"""Other units that a number is suggested with, where it is out of range with its own."""

_IN_INCHES = re.compile("in|[\"'″′”’]|ft|foot|feet", re.IGNORECASE)
_ONE_NUMBER = re.compile(r"\s*([0-9]+(?:\.[0-9]+)?)\s*[^0-9\s]")


def bad_quantity(violation: Violation) -> Finding:
    """Return the finding for a value that is not a quantity of its field's kind within the limits."""
    kind = KINDS[violation.expected]
    if violation.value is None:
        return empty_value(violation)
    if isinstance(violation.value, (dict, list, bool)):
        wanted = f"{kind.phrase} with its unit"
        return violation.report(
            WRONG_TYPE,
            allowed=_allowed(violation),
            write=violation.example,
            wanted=wanted,
            given=given(violation.value),
        )
    text = violation.value if isinstance(violation.value, str) else violation.written
    readings = kind.read_bare(text)
    if readings:
        write = any_of(_likeliest_first(violation, readings))
        return violation.report(MISSING_UNIT, allowed=_allowed(violation), write=write)
    try:
        value = parse(kind.name, text)
    except QuantityError as error:
        write = any_of(_likeliest_first(violation, error.write))
        return violation.report(BAD_QUANTITY, allowed=_allowed(violation), write=write, reason=error.message)
    return _out_of_range(violation, text, value)


def _out_of_range(violation: Violation, text: str, value: float) -> Finding:
    """Suggest the same number with other units that are within the limits: `13 mm` is often `13 in`."""
    kind = KINDS[violation.expected]
    number = _ONE_NUMBER.match(text)
    candidates = [f"{number[1]} {unit.name}" for unit in kind.units] if number else []
    fitting = [candidate for candidate in candidates if _fits(violation, candidate)]
    too_small = beyond(kind.name, value, violation.schema) == "x-least"
    # the unit nearest to the one written is the likeliest slip
    fitting.sort(key=lambda candidate: parse(kind.name, candidate), reverse=not too_small)
    write = any_of(fitting[:MOST_SUGGESTED])
    small, large = ("low", "high") if kind.name == "pitch" else ("small", "large")
    how = f"too {small if too_small else large}"
    return violation.report(OUT_OF_RANGE, allowed=_allowed(violation, text), write=write, how=how)


def _likeliest_first(violation: Violation, readings: Iterable[str]) -> list[str]:
    return sorted(readings, key=lambda reading: not _fits(violation, reading))


def _fits(violation: Violation, text: str) -> bool:
    try:
        return not beyond(violation.expected, parse(violation.expected, text), violation.schema)
    except QuantityError:
        return False


def _allowed(violation: Violation, text: str = "") -> str:
    """Return the limits in words; for a maker who writes inches in sixteenths of them too, rounded inward."""
    if violation.expected != "length" or not _IN_INCHES.search(text):
        return violation.allowed
    least, most = (limit_of("length", violation.schema[keyword]) for keyword in ("x-least", "x-most"))
    return f"{inch_length(least, 'up')} to {inch_length(most, 'down')} ({violation.allowed})"
