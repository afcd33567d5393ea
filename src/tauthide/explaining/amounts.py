"""Values as explanations show them: in both systems, and briefly enough to stand in a formula."""

from __future__ import annotations

from tauthide.sheets.amounts import FIELD_STYLES, minutes
from tauthide.spec.layers import TIMES
from tauthide.spec.settings import Amount, Setting
from tauthide.units import KINDS, System, show
from tauthide.units.exact import EXACT, exact

NOT_SET = "not set"


def show_value(style: str, value: float, system: System) -> str:
    """Return a number in both systems, as the sheet shows it."""
    return show(style, value, system)


def show_setting(setting: Setting, system: System) -> str:
    """Return what a field holds in both systems: `18 mm (11/16 in)`; words as they are written."""
    value = setting.value
    if isinstance(value, str):
        return value
    if setting.path.startswith(f"{TIMES}.") and not isinstance(value, tuple):
        return minutes(value)
    style = style_of(setting)
    values = value if isinstance(value, tuple) else (value,)
    return "; ".join(show_value(style, item, system) for item in values)


def unit_of(setting: Setting) -> str:
    """Return the base unit of a field; `1` for counts, nothing for words."""
    if isinstance(setting.value, str):
        return ""
    return "1" if setting.quantity is None else KINDS[setting.quantity].base


def style_of(setting: Setting) -> str:
    """Return how a field's numbers are shown."""
    return FIELD_STYLES.get(setting.path, setting.quantity or "count")


def brief(style: str, value: Amount, system: System) -> str:
    """Return a number as it stands in a formula, in one system; nothing for what is no single number."""
    if isinstance(value, (str, tuple)):
        return ""
    return exact(style, value, system) if style in EXACT else show(style, value, system).partition(" (")[0]
