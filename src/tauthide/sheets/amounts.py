"""How values are shown on a sheet: styles of figures and fields, in the maker's units first."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import cast

from tauthide.plan.plan import Plan
from tauthide.spec.layers import TIMES
from tauthide.spec.settings import Setting, Spec
from tauthide.text import markdown
from tauthide.units import System, number, show

DEFAULT_MARK = r"\*"
"""Stands behind a value that nobody set; escaped, since a bare one may start emphasis."""

FIELD_STYLES: Mapping[str, str] = MappingProxyType(
    {
        "head.thickness": "fine_length",
        "head.dry_thickness": "fine_length",
        "lace.thickness": "fine_length",
        "lace_hide.dry_thickness": "fine_length",
        "frame.wall": "nominal",
        "frame.edge_radius": "nominal",
        "stations.hole": "nominal",
        "stations.web": "nominal",
        "stations.pair_spacing": "nominal",
        "stations.margin": "nominal",
        "stations.edge_distance": "nominal",
        "lace.width": "nominal",
        "lace.tab_length": "nominal",
        "lace.tab_width": "nominal",
        "lace.ring": "nominal",
        "lace.ring_section": "nominal",
        "bench.punches": "nominal",
        "bending.planing": "fine_length",
        "staves.planing": "fine_length",
        "staves.kerf": "fine_length",
        "staves.thickness": "nominal",
        "staves.boards": "long_length",
    }
)
"""Fields whose lengths are not shown in the style `length`.

Thicknesses are too small for 1 mm. What is set with a tool must not be rounded away: a punch of 9.5 mm is not one
of 10 mm.
"""


MINUTE_DECIMALS = 2


def system_of(spec: Spec) -> System:
    """Return the unit system that leads on the drum's sheet."""
    return cast(System, spec.word("bench.units"))


def show_setting(setting: Setting, system: System) -> str:
    """Show what a field holds: quantities with units, counts, words, or a list of quantities."""
    value = setting.value
    if isinstance(value, str):
        return markdown(value.replace("_", " "))
    if setting.path.startswith(f"{TIMES}.") and not isinstance(value, tuple):
        return minutes(value)
    style = FIELD_STYLES.get(setting.path, setting.quantity or "count")
    if isinstance(value, tuple):
        return "; ".join(show(style, item, system) for item in value)
    return show(style, value, system)


def minutes(value_min: float) -> str:
    """Show a time of which a second counts, such as that of punching one hole: `0.45 min`."""
    return f"{number(value_min, MINUTE_DECIMALS)} min"


def show_figures(plan: Plan, system: System) -> dict[str, str]:
    """Return every figure of the plan as text, by name."""
    return {name: show_figure(plan, name, system) for name in plan.figures}


def show_figure(plan: Plan, name: str, system: System) -> str:
    """Return one figure as text; KeyError if this drum has none of that name."""
    reading = plan.figures[name]
    return show(reading.figure.style, reading.value, system)


def show_fields(spec: Spec, system: System) -> dict[str, str]:
    """Return every value of the spec as text, by path."""
    return {path: show_setting(setting, system) for path, setting in spec.settings.items()}


def mark_defaults(spec: Spec, shown: Mapping[str, str]) -> dict[str, str]:
    """Return the values of `shown` by path, those that nobody set with the mark of a default."""
    return {
        path: text + DEFAULT_MARK if spec.settings[path].origin.is_default else text for path, text in shown.items()
    }
