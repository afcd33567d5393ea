"""From a validator's errors to findings: every fault once, at its place."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import TYPE_CHECKING, Any

from tauthide.findings import Finding, in_order
from tauthide.reading.located import Path
from tauthide.schema import value_faults
from tauthide.schema.key_faults import missing_keys, refused_key, unknown_keys
from tauthide.schema.places import PlaceOf
from tauthide.schema.quantity_faults import bad_quantity
from tauthide.schema.violations import Violation

if TYPE_CHECKING:
    from jsonschema.exceptions import ValidationError

_OF_VALUES: Mapping[str, Callable[[Violation], Finding]] = {
    "not": refused_key,
    "type": value_faults.wrong_type,
    "x-quantity": bad_quantity,
    "const": value_faults.unknown_version,
    "enum": value_faults.not_a_choice,
    "minimum": value_faults.count_out_of_range,
    "maximum": value_faults.count_out_of_range,
    "multipleOf": value_faults.odd_count,
    "pattern": value_faults.bad_text,
    "maxLength": value_faults.text_too_long,
    "minItems": value_faults.list_length,
    "maxItems": value_faults.list_length,
    "uniqueItems": value_faults.duplicate_item,
}
"""What each keyword means that is not met. Of several at one value the first in this order is the fault."""

_RANK = {keyword: rank for rank, keyword in enumerate(_OF_VALUES)}

KEYWORDS = frozenset({*_OF_VALUES, "additionalProperties", "required"})
"""The keywords that may fail: a schema of ours that judges by any other needs its words here first."""

INHERITS: Path = ("inherits",)
"""The key with which a document need not be complete by itself."""


def report(kind: str, errors: Iterable[ValidationError], data: Any, place_of: PlaceOf) -> tuple[Finding, ...]:
    """Return the findings for a validator's errors in the data of a document, in order of position."""
    violations = [_violation(kind, error, data, place_of) for error in errors]
    with_unknown_keys = _of_keyword("additionalProperties", violations)
    unknown = [pair for violation in with_unknown_keys for pair in unknown_keys(violation)]
    meant = {path for path, _ in unknown}
    findings = [finding for _, finding in unknown]
    findings += _missing(violations, meant)
    findings += (_OF_VALUES[violation.keyword](violation) for violation in _worst_of_each_value(violations))
    return in_order(findings)


def _missing(violations: list[Violation], meant: set[Path]) -> Iterator[Finding]:
    """Yield a finding for each missing key, but for one that is misspelt or stands in another part."""
    for violation in _of_keyword("required", violations):
        if INHERITS in meant and violation.route[0] == "else":
            continue  # what is lacking may well be inherited
        yield from (finding for path, finding in missing_keys(violation) if path not in meant)


def _of_keyword(keyword: str, violations: list[Violation]) -> list[Violation]:
    return [violation for violation in violations if violation.keyword == keyword]


def _worst_of_each_value(violations: list[Violation]) -> Iterable[Violation]:
    worst: dict[tuple[Path, bool], Violation] = {}
    for violation in violations:
        if violation.keyword in _RANK:
            # a couple is a fault of two values: either may have one of its own besides
            value = violation.path, violation.of_a_couple
            known = worst.setdefault(value, violation)
            if _RANK[violation.keyword] < _RANK[known.keyword]:
                worst[value] = violation
    return worst.values()


def _violation(kind: str, error: ValidationError, data: Any, place_of: PlaceOf) -> Violation:
    return Violation(
        kind=kind,
        path=tuple(error.absolute_path),
        keyword=str(error.validator),
        expected=error.validator_value,
        value=error.instance,
        schema=error.schema if isinstance(error.schema, dict) else {},
        route=tuple(error.absolute_schema_path),
        root=data,
        place_of=place_of,
    )
