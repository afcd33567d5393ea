"""Checking a document against the schema of its kind: everything that is wrong with it, at its place."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from tauthide.findings import Finding
from tauthide.reading.located import Located
from tauthide.schema.keywords import validator
from tauthide.schema.places import PlaceOf


def check(kind: str, located: Located) -> tuple[Finding, ...]:
    """Return what is wrong with a document of a kind, in order of position; nothing where all is well."""
    return check_data(kind, located.data, lambda path, key: located.place(path, key=key))


def check_data(kind: str, data: Mapping[str, Any], place_of: PlaceOf) -> tuple[Finding, ...]:
    """Return what is wrong with data that may come from several files, in order of position.

    `place_of` tells where the value at a path stands or, with True, its key.
    """
    errors = list(validator(kind).iter_errors(data))
    if not errors:
        return ()
    from tauthide.schema.report import report  # the words for faults, which most documents do not need

    return report(kind, errors, data, place_of)
