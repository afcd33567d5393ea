"""A field's page: its value, every layer that set it, and what may stand there."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from tauthide.explaining.amounts import NOT_SET, show_setting, unit_of
from tauthide.explaining.origins import schema_field, unset_text
from tauthide.reading.located import Data, Located
from tauthide.sheets.amounts import system_of
from tauthide.sheets.origins import title_of
from tauthide.spec.layers import Entry, Origin
from tauthide.spec.settings import Amount, Setting, Spec

TOP_FIELDS = ("drum", "title", "notes", "quantity", "inherits")
"""Fields beside the parts: no layer but the spec sets them."""


@dataclass(frozen=True, slots=True)
class FieldPage:
    """What there is to say of one field of one drum."""

    path: str
    title: str
    shown: str
    """The value in both systems."""
    value: Amount | None
    """None where nothing is set."""
    unit: str
    unset: str
    """Why nothing is set; empty where something is."""
    description: str
    allowed: str
    layers: tuple[Entry, ...]
    """What each layer wrote, lowest first: the last one holds."""


def explain_field(spec: Spec, located: Located, path: str) -> FieldPage:
    """Return the page of a field; `located` is the spec's own document."""
    setting = _top_setting(located, path) if path in TOP_FIELDS else spec.settings.get(path)
    field = schema_field(spec, path)
    return FieldPage(
        path=path,
        title=title_of(path),
        shown=NOT_SET if setting is None else show_setting(setting, system_of(spec)),
        value=None if setting is None else setting.value,
        unit="" if setting is None else unit_of(setting),
        unset=unset_text(spec, path) if setting is None else "",
        description="" if field is None else field.description,
        allowed="" if field is None else field.allowed,
        layers=() if setting is None else setting.entries,
    )


def written_text(written: Data) -> str:
    """Return what a layer wrote on one line."""
    if isinstance(written, list):
        return _joined(map(str, written))
    return str(written)


def _joined(items: Iterable[str]) -> str:
    return f"[{', '.join(items)}]"


def _top_setting(located: Located, path: str) -> Setting | None:
    if path in located.data:
        written = located.data[path]
        origin = Origin("spec", located.place((path,)))
    elif path == "quantity":
        written, origin = 1, Origin("built-in", None, "one drum from one spec", "definition")
    else:
        return None
    assert isinstance(written, (str, int))  # the schema says so
    return Setting(path, written, None, (Entry(written, origin),))
