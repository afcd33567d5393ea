"""The same drum with one value changed, and the station counts that there are to try."""

from __future__ import annotations

from dataclasses import replace

from tauthide.figures import Workings
from tauthide.quantities.figures import start_workings
from tauthide.schema.fields import fields
from tauthide.spec.settings import Amount

COUNT = "stations.count"


def with_value(w: Workings, path: str, value: Amount) -> Workings:
    """Return the drum with another value at `path`, which must be set."""
    settings = {**w.spec.settings, path: replace(w.spec.settings[path], value=value)}
    return start_workings(replace(w.spec, settings=settings))


def without(w: Workings, path: str) -> Workings:
    """Return the drum with nothing at `path`."""
    settings = {kept: setting for kept, setting in w.spec.settings.items() if kept != path}
    return start_workings(replace(w.spec, settings=settings))


def counts() -> range:
    """Return the station counts that a spec may have."""
    field = fields("spec")[COUNT]
    return range(int(field.least), int(field.most) + 1, field.multiple_of)
