"""The validator: JSON Schema 2020-12, and the keywords of ours that understand quantities."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cache
from typing import TYPE_CHECKING, Any

from tauthide.schema.store import resolved
from tauthide.units import QuantityError, parse

if TYPE_CHECKING:
    from jsonschema.exceptions import ValidationError
    from jsonschema.protocols import Validator

LIMIT_SLACK = 1e-9
"""Share by which a quantity may pass its limit: what converting units may lose, far below any bench."""


@cache
def validator(kind: str) -> Validator:
    """Return the validator for documents of a kind, built at first use.

    It holds the schema file's own keywords and, in place of `type` and `pattern` where `x-quantity` stands,
    the parser's judgement with the limits `x-least` and `x-most`. A whole number has no decimal point.
    """
    from jsonschema import validators  # slow to import, and not wanted for `--help`

    extend: Any = validators.extend
    standard: Any = validators.Draft202012Validator
    keywords = {
        "x-quantity": _quantity,
        "items": _within_length(standard.VALIDATORS["items"]),
        "uniqueItems": _within_length(_unique_items),
        "type": _but_for_quantities(standard.VALIDATORS["type"]),
        "pattern": _but_for_quantities(standard.VALIDATORS["pattern"]),
    }
    types = standard.TYPE_CHECKER.redefine("integer", _is_whole)
    built: Validator = extend(standard, keywords, type_checker=types)(resolved(kind))
    return built


def beyond(kind: str, value: float, schema: Mapping[str, Any]) -> str:
    """Return the limit that a quantity in base units passes, `x-least` or `x-most`; nothing where it fits."""
    for keyword, sign in (("x-least", 1.0), ("x-most", -1.0)):
        if keyword in schema:
            limit = limit_of(kind, schema[keyword])
            if sign * (value - limit) < -LIMIT_SLACK * abs(limit):
                return keyword
    return ""


@cache
def limit_of(kind: str, text: str) -> float:
    """Return a limit of the schema in base units. Only for texts of the schema: they are kept for good."""
    return parse(kind, text)


def repeats(items: list[Any], schema: Mapping[str, Any]) -> Iterator[tuple[int, int]]:
    """Yield index and earlier index of each item that says again what an earlier one said.

    Quantities are compared by what they mean: `10 mm` and `1 cm` are the same punch.
    """
    kind = schema.get("items", {}).get("x-quantity")
    seen: dict[str, int] = {}
    for index, item in enumerate(items):
        meaning = _meaning(kind, item)
        if meaning in seen:
            yield index, seen[meaning]
        else:
            seen[meaning] = index


def _meaning(kind: str | None, item: Any) -> str:
    if kind is not None and isinstance(item, str):
        try:
            return f"{parse(kind, item):.9g}"
        except QuantityError:
            return f"text {item}"
    return repr(item)


def _is_whole(_checker: Any, instance: Any) -> bool:
    return isinstance(instance, int) and not isinstance(instance, bool)


def _but_for_quantities(keyword: Any) -> Any:
    def judge(running: Any, expected: Any, instance: Any, schema: Mapping[str, Any]) -> Any:
        return () if "x-quantity" in schema else keyword(running, expected, instance, schema)

    return judge


def _within_length(keyword: Any) -> Any:
    """Let a keyword judge only lists that are not too long: some ten thousand findings would help nobody."""

    def judge(running: Any, expected: Any, instance: Any, schema: Mapping[str, Any]) -> Any:
        too_long = isinstance(instance, list) and len(instance) > schema.get("maxItems", len(instance))
        return () if too_long else keyword(running, expected, instance, schema)

    return judge


def _quantity(_running: Any, kind: str, instance: Any, schema: Mapping[str, Any]) -> Iterator[ValidationError]:
    if not isinstance(instance, str):
        yield _error(f"a {kind} is text with a unit")
        return
    try:
        value = parse(kind, instance)
    except QuantityError as fault:
        yield _error(str(fault))
        return
    passed = beyond(kind, value, schema)
    if passed:
        yield _error(f"{passed} is passed")


def _unique_items(_running: Any, wanted: bool, instance: Any, schema: Mapping[str, Any]) -> Iterator[ValidationError]:
    if wanted and isinstance(instance, list):
        for index, earlier in repeats(instance, schema):
            yield _error(f"same as item {earlier}", index)


def _error(message: str, *path: int) -> ValidationError:
    from jsonschema.exceptions import ValidationError

    return ValidationError(message, path=path)
