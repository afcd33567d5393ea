"""Faults of values: wrong type, no unit, out of range, misspelt words, names, long texts and lists."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from typing import Any

from tauthide.findings import Finding
from tauthide.reading.faults import EXCERPT_LENGTH, UNKNOWN_VERSION
from tauthide.schema import names
from tauthide.schema.faults import (
    BAD_NAME,
    BAD_TEXT,
    DUPLICATE_ITEM,
    EMPTY_VALUE,
    LIST_LENGTH,
    ODD_COUNT,
    OUT_OF_RANGE,
    TEXT_TOO_LONG,
    UNKNOWN_WORD,
    WRONG_TYPE,
)
from tauthide.schema.keywords import repeats
from tauthide.schema.violations import Violation
from tauthide.schema.wording import any_of, dotted, flow, nearest, shown

NOT_BLANK = "\\S"
"""The pattern of texts that must say something."""

NAMES_OF: Mapping[str, str] = {"drum": "drum", "name": ""}
"""Fields that name a thing, and the thing; nothing where the document is the thing."""

_NUMBER = re.compile(r"-?(?:0|[1-9][0-9]{0,8})(?:\.[0-9]{1,9})?")
"""A number in quotes that can be taken as it stands."""

_ONE_DIGIT = re.compile(r"(?<=-)(?=[0-9](?![0-9]))")
"""Before a day or month of one digit."""

_WANTED: Mapping[str, str] = {
    "string": "text",
    "integer": "a whole number",
    "number": "a number",
    "array": "a list",
    "object": "keys of its own",
}


def wrong_type(violation: Violation) -> Finding:
    """Return the finding for a value of another type than its field takes."""
    if violation.value is None:
        return empty_value(violation)
    a_word = violation.expected == "string" and "enum" in violation.schema
    wanted = "one of these words" if a_word else _WANTED[violation.expected]
    allowed = violation.allowed
    if violation.expected == "object":
        allowed = ", ".join(violation.schema["properties"])
    elif violation.expected == "array":
        allowed = f"a list of {_item_count(violation)}"
    return violation.report(
        WRONG_TYPE,
        found=flow(violation.value) if isinstance(violation.value, str) else None,
        allowed=allowed,
        write=_retyped(violation),
        wanted=wanted,
        given=given(violation.value),
    )


def empty_value(violation: Violation) -> Finding:
    """Return the finding for a key with nothing behind it, or a text of blanks."""
    key = violation.path[-1] if violation.path else ""
    write = violation.example if isinstance(key, int) else f"{key}: {violation.example}"
    return violation.report(EMPTY_VALUE, key=True, found="", allowed=violation.allowed, write=write)


def given(value: Any) -> str:
    """Return in words what type a value has."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, float):
        return "a number with a decimal point"
    if isinstance(value, int):
        return "a number"
    return "text" if isinstance(value, str) else "a list" if isinstance(value, list) else "keys of its own"


def unknown_version(violation: Violation) -> Finding:
    """Return the finding for a version of the document that is not known."""
    return violation.report(UNKNOWN_VERSION, write=f"{violation.kind}: {violation.expected}", kind=violation.kind)


def not_a_choice(violation: Violation) -> Finding:
    """Return the finding for a word or count that is not among those that the field takes."""
    if isinstance(violation.value, str):
        near = nearest(violation.value, violation.expected)
        return violation.report(UNKNOWN_WORD, allowed=violation.allowed, write=near)
    below = [choice for choice in violation.expected if choice < violation.value][-1:]
    above = [choice for choice in violation.expected if choice > violation.value][:1]
    how = "no choice" if below and above else "too large" if below else "too small"
    return violation.report(OUT_OF_RANGE, allowed=violation.allowed, write=any_of(below + above), how=how)


def count_out_of_range(violation: Violation) -> Finding:
    """Return the finding for a number beyond its limits."""
    how = "too small" if violation.keyword == "minimum" else "too large"
    return violation.report(OUT_OF_RANGE, allowed=violation.allowed, write=str(violation.expected), how=how)


def odd_count(violation: Violation) -> Finding:
    """Return the finding for an odd number of stations, with the even ones on either side."""
    neighbours = violation.value - 1, violation.value + 1
    return violation.report(ODD_COUNT, allowed=violation.allowed, write=any_of(neighbours))


def bad_text(violation: Violation) -> Finding:
    """Return the finding for a blank text, a name that no file could have, or a date or time that is none."""
    if violation.expected == NOT_BLANK or not violation.value.strip():
        return empty_value(violation)
    field = violation.path[-1]
    if field in NAMES_OF:
        reason, write = names.judge(violation.value), names.mend(violation.value)
        what = NAMES_OF[str(field)] or violation.kind
        return violation.report(BAD_NAME, write=write or violation.example, reason=reason, what=what)
    reason = violation.schema["errorMessage"]
    write = _respelt(violation.value.strip(), violation.schema["pattern"])
    return violation.report(BAD_TEXT, write=write, reason=reason)


def text_too_long(violation: Violation) -> Finding:
    """Return the finding for a text with more characters than there is room for."""
    return violation.report(TEXT_TOO_LONG, allowed=violation.allowed, count=str(len(violation.value)))


def list_length(violation: Violation) -> Finding:
    """Return the finding for a list that is empty or very long."""
    count = len(violation.value)
    write = "" if count else violation.example
    number = f"{count or 'no'} item{'' if count == 1 else 's'}"
    return violation.report(LIST_LENGTH, allowed=_item_count(violation), write=write, count=number)


def duplicate_item(violation: Violation) -> Finding:
    """Return the finding for an item of a list that an earlier one says already."""
    *to_list, index = violation.path
    earlier = dict(repeats(violation.value, violation.schema))[int(index)]
    found = shown(violation.value[int(index)])
    return violation.report(DUPLICATE_ITEM, found=found, field_name=dotted(to_list), number=str(earlier + 1))


def _item_count(violation: Violation) -> str:
    least, most = violation.schema.get("minItems", 0), violation.schema["maxItems"]
    if violation.keyword == "type" and least < most:
        return f"at most {most} items"
    return f"{least} items" if least == most else f"{least} to {most} items"


def _retyped(violation: Violation) -> str:
    """Return the value as the type that its field takes, where that can be told; else an example."""
    value, wanted = violation.value, violation.expected
    if isinstance(value, (dict, list, bool)):
        return violation.example
    if wanted == "array":
        item = flow(value) if isinstance(value, str) else violation.written
        return f"[{item}]" if len(item) <= EXCERPT_LENGTH else violation.example
    if wanted == "number" and isinstance(value, str) and _NUMBER.fullmatch(value.strip()):
        return value.strip()
    if wanted == "integer" and isinstance(value, float) and value.is_integer():
        return str(int(value))
    if wanted == "integer" and isinstance(value, str) and value.strip().isascii() and value.strip().isdigit():
        return shown(value.strip().lstrip("0") or "0")
    if wanted == "string" and isinstance(value, (int, float)) and "enum" not in violation.schema:
        if re.search(violation.schema["pattern"], violation.written):
            return json.dumps(violation.written)
        return _respelt(violation.written, violation.schema["pattern"])
    return violation.example


def _respelt(text: str, pattern: str) -> str:
    """Return a date or time of day with its zeros and colons put right; nothing where that does not help."""
    spellings = _ONE_DIGIT.sub("0", text), text.replace(".", ":"), f"{text}:00"
    return next((spelling for spelling in spellings if re.search(pattern, spelling)), "")
