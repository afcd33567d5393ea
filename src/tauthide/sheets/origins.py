"""Where every value of a drum comes from: defaults with their reasons, and what the maker's files say."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from tauthide.findings import relative_to
from tauthide.schema.fields import fields
from tauthide.sheets.words import held, own
from tauthide.spec.layers import TIMES, Origin
from tauthide.spec.settings import Setting, Spec
from tauthide.text import markdown

HIDE_TITLES: Mapping[str, str] = MappingProxyType(
    {
        "hide.soak": "Soaking time",
        "hide.dry": "Drying time",
        "hide.density": "Density, dry",
        "hide.wet_strength": "Strength of the skin, wet",
        "hide.dry_strength": "Strength of the skin, dry",
        "lace_hide.soak": "Soaking time of the skin for the lace",
        "hide.stitch_tear": "Stitch tear of the skin, dry",
        "hide.disc": "Largest disc that a usual skin gives",
        "lace_hide.wet_strength": "Strength of the lace, wet",
        "lace_hide.dry_strength": "Strength of the lace, dry",
        "lace_hide.dry_thickness": "Thickness of the lace, dry",
        "lace_hide.disc": "Largest disc that a usual skin gives, for the lace",
    }
)
"""Titles of the values that only hide profiles set; they are no fields of a spec."""

LAYER_TITLES: Mapping[str, str] = MappingProxyType(
    {
        "built-in": "built in",
        "hide profile": "hide profile",
        "shop": "shop file",
        "base": "inherited",
        "spec": "spec",
    }
)


@dataclass(frozen=True, slots=True)
class DefaultRow:
    """A value that the spec does not set."""

    path: str
    title: str
    value: str
    reason: str
    source: str
    """Who says so: the source of a built-in value, or the shop file and line."""


@dataclass(frozen=True, slots=True)
class GivenRow:
    """A value that the spec, or a file that it inherits from, sets."""

    path: str
    title: str
    value: str
    written: str
    place: str


def view_defaults(spec: Spec, shown: Mapping[str, str]) -> tuple[DefaultRow, ...]:
    """Return a row for each value that nobody set, by path; `shown` has the values as text."""
    files = _files(spec)
    return tuple(
        _default(setting, held(shown[path]), files)
        for path, setting in spec.settings.items()
        if setting.origin.is_default
    )


def view_given(spec: Spec, shown: Mapping[str, str]) -> tuple[GivenRow, ...]:
    """Return a row for each value that the maker's own files set, by path; `shown` has the values as text."""
    files = _files(spec)
    return tuple(
        GivenRow(path, _title(path), held(shown[path]), _written(setting), _place(setting.origin, files))
        for path, setting in spec.settings.items()
        if not setting.origin.is_default
    )


def _default(setting: Setting, shown: str, files: Mapping[str, str]) -> DefaultRow:
    origin = setting.origin
    if origin.place is not None:
        reason, source = f"the shop's own, written {_written(setting)}", _place(origin, files)
    else:
        reason, source = own(origin.reason), own(origin.source)
    return DefaultRow(setting.path, _title(setting.path), shown, reason, source)


def _title(path: str) -> str:
    return own(title_of(path))


def title_of(path: str) -> str:
    """Return the title of a field, or of what only shops and hide profiles set; the path itself without one."""
    part = path.rpartition(".")[0]
    if path.startswith(f"{TIMES}."):
        shop = fields("shop")
        return f"{shop[part].title}: {shop[path].title.lower()}" if path in shop else path
    field = fields("spec").get(path)
    return HIDE_TITLES.get(path, path) if field is None else field.title


def _written(setting: Setting) -> str:
    written = setting.written
    return markdown("; ".join(map(str, written)) if isinstance(written, list) else str(written))


def _files(spec: Spec) -> dict[str, str]:
    """Return the files that feed a spec, each with its name as seen from the spec's folder, escaped."""
    places = (setting.origin.place for setting in spec.settings.values())
    names = dict.fromkeys(place.file for place in places if place is not None)
    return {name: markdown(relative_to(spec.place.file, name)) for name in names}


def _place(origin: Origin, files: Mapping[str, str]) -> str:
    place = origin.place
    assert place is not None  # only what is built in has no place, and that is never asked for here
    return f"{LAYER_TITLES[origin.layer]}: {files[place.file]}, line {place.line}"
