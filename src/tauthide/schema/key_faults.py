"""Faults of keys: unknown, missing, or not to stand beside another."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.findings import Finding
from tauthide.reading.faults import excerpt
from tauthide.reading.located import Path
from tauthide.schema.faults import BOTH_OF_A_COUPLE, MISSING_KEY, OTHER_OUTLINE, UNKNOWN_KEY
from tauthide.schema.fields import fields
from tauthide.schema.store import KINDS
from tauthide.schema.violations import Violation, field_at
from tauthide.schema.wording import DOCUMENTS, any_of, dotted, flow, nearest, shown

LONGEST_LINE = 60
"""Characters up to which a whole line is suggested, with the maker's value in it."""


def unknown_keys(violation: Violation) -> Iterator[tuple[Path, Finding]]:
    """Yield a finding for each key that its map does not take, and the path of the key that is meant."""
    known = violation.schema["properties"]
    for key, value in violation.value.items():
        if key in known:
            continue
        meant, write, hint = _meant(violation, key, value)
        finding = violation.report(
            UNKNOWN_KEY,
            path=(*violation.path, key),
            key=True,
            found=key,
            allowed=", ".join(known),
            write=write,
            key_name=excerpt(key),
            part=_name(violation, "a"),
            hint=hint,
        )
        yield meant, finding


def _meant(violation: Violation, key: str, value: object) -> tuple[Path, str, str]:
    """Return the path of the key that is meant instead, what to write, and a hint; empty where nobody knows.

    A key that is spelt right but for capitals and hyphens is taken for that; then one that another part
    has; then the most similar one.
    """
    free = [choice for choice in violation.schema["properties"] if choice not in violation.value]
    respelt = next((choice for choice in free if _folded(choice) == _folded(key)), "")
    parts = () if respelt else _parts_with(violation.kind, key, dotted(violation.path))
    if parts:
        hint = f": it belongs {any_of(map(_phrase, parts))}"
        if len(parts) > 1:
            return (), "", hint
        return (*filter(None, parts), key), _line(parts[0], key, value), hint
    near = respelt or nearest(key, free)
    if near:
        return (*violation.path, near), near, ""
    return (), "", _hint_at_other_kind(violation.kind, key)


def missing_keys(violation: Violation) -> Iterator[tuple[Path, Finding]]:
    """Yield a finding for each key that its map lacks, at the map's own key, and the missing key's path."""
    for key in violation.expected:
        if key in violation.value:
            continue
        path = (*violation.path, key)
        field = field_at(violation.kind, path)
        finding = violation.report(
            MISSING_KEY,
            path=path,
            at=violation.path,
            key=True,
            found="",
            allowed=field.allowed if field else "",
            write=f"{key}: {flow(field.examples[0])}" if field else f"{key}:",
            key_name=key,
            part=_name(violation, "the"),
        )
        yield path, finding


def refused_key(violation: Violation) -> Finding:
    """Return the finding for a key that may not stand beside another one."""
    reason = violation.schema["errorMessage"]
    if not violation.of_a_couple:
        key = violation.path[-1]
        return violation.report(OTHER_OUTLINE, key=True, found=f"{key}: {shown(violation.value)}", reason=reason)
    partner = str(violation.route[violation.route.index("dependentSchemas") + 1])
    part = violation.path[:-1]
    mapping = violation.root
    for step in part:
        mapping = mapping[step]

    def position(key: str) -> tuple[int, int]:
        place = violation.place_of((*part, key), True)
        return place.line, place.column

    pair = sorted((partner, str(violation.path[-1])), key=position)
    lines = [f"{key}: {shown(mapping[key])}" for key in pair]
    return violation.report(
        BOTH_OF_A_COUPLE,
        path=(*part, pair[-1]),
        key=True,
        found=lines[-1],
        write=any_of([line for line, key in zip(lines, pair, strict=True) if isinstance(mapping[key], str)] or lines),
        reason=reason,
    )


def _name(violation: Violation, article: str) -> str:
    return f"`{dotted(violation.path)}`" if violation.path else f"{article} {DOCUMENTS[violation.kind]}"


def _folded(key: str) -> str:
    return key.lower().replace("-", "_").replace(" ", "_")


def _parts_with(kind: str, key: str, here: str) -> tuple[str, ...]:
    """Return the parts of the document, other than `here`, that have a field of this name; "" is its top."""
    named = [field for field in fields(kind).values() if field.name == key and "[]" not in field.path]
    named = [field for field in named if not field.path.startswith("times.")]  # verbs, that mean other things elsewhere
    parts = dict.fromkeys(part for field in named if (part := field.part.partition(".")[0]) != here)
    return tuple(part for part in parts if part != "hides" or len(parts) == 1)


def _phrase(part: str) -> str:
    return f"to `{part}`" if part else "at the top of the file"


def _line(part: str, key: str, value: object) -> str:
    line = f"{flow(key)}: {flow(value)}"
    line = f"{part}: {{{line}}}" if part else line
    return "" if part == "hides" or isinstance(value, (dict, list)) or len(line) > LONGEST_LINE else line


def _hint_at_other_kind(kind: str, key: str) -> str:
    for other in KINDS:
        if other != kind and any(field.name == key for field in fields(other).values()):
            return f": it belongs in a {DOCUMENTS[other]}"
    return ""
