"""What a plain scalar means, by the core schema of YAML 1.2 (section 10.3.2 of its specification, 1.2.2).

So `no`, `on` and `12:30` are text, and `010` is ten.
"""

from __future__ import annotations

import re

from tauthide.reading.faults import HUGE_NUMBER, MAX_DIGITS, NON_FINITE, Fault

NULLS = frozenset(("", "~", "null", "Null", "NULL"))
"""The plain scalars that stand for nothing."""

_BOOLEANS = {"true": True, "True": True, "TRUE": True, "false": False, "False": False, "FALSE": False}
_NUMBER = re.compile(
    r"(?P<integer>[-+]?[0-9]+)"
    r"|(?P<decimal>[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?)"
    r"|(?P<octal>0o[0-7]+)"
    r"|(?P<hexadecimal>0x[0-9a-fA-F]+)"
    r"|(?P<non_finite>[-+]?\.(?:inf|Inf|INF)|\.(?:nan|NaN|NAN))"
)
_NUMBER_STARTS = frozenset("0123456789+-.")
_LIMIT = 10**MAX_DIGITS


def resolve_plain(text: str) -> str | int | float | bool | Fault | None:
    """Return the value of a plain scalar, or the fault for which it is refused."""
    if text in NULLS:
        return None
    if text in _BOOLEANS:
        return _BOOLEANS[text]
    if text[0] not in _NUMBER_STARTS:
        return text
    match = _NUMBER.fullmatch(text)
    return text if match is None else _resolve_number(text, match.lastgroup)


def _resolve_number(text: str, form: str | None) -> int | float | Fault:
    number: int | float
    if form == "non_finite":
        return NON_FINITE
    if form == "octal":
        number = int(text[2:], 8)
    elif form == "hexadecimal":
        number = int(text[2:], 16)
    elif form == "decimal":
        number = float(text)
    elif len(text.lstrip("+-0")) > MAX_DIGITS:
        # counted before it is turned into a number: Python refuses some thousands of digits
        return HUGE_NUMBER
    else:
        number = int(text)
    return number if abs(number) < _LIMIT else HUGE_NUMBER
