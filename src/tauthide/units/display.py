"""The back door: figures as text, rounded to what a bench can measure.

Everything is rounded half up, away from zero below it, by whole steps, with a guard against the noise of
floats: 330.2 mm is 13 in exactly, and must not become 13 1/16 in where lengths are rounded up.
Figures in both systems show the sheet's own first and the other in brackets.
"""

from __future__ import annotations

import math
from typing import Final, Literal

from tauthide.units.catalogue import KINDS
from tauthide.units.notes import nearest_note
from tauthide.units.numerals import mixed_text

System = Literal["metric", "inch"]
"""Which system a sheet puts first."""

Direction = Literal["nearest", "up", "down"]
"""Which way a figure is rounded; up and down are towards larger and smaller values."""

_GUARD: Final = 1e-9
"""What is taken for float noise, as a share of the step that is rounded to."""

_MM_PER_IN: Final = KINDS["length"].unit("in").size
_MM_PER_M: Final = KINDS["length"].unit("m").size
_MM2_PER_M2: Final = KINDS["area"].unit("m2").size
_MM2_PER_SQ_IN: Final = KINDS["area"].unit("sq in").size
_MM2_PER_SQ_FT: Final = KINDS["area"].unit("sq ft").size
_G_PER_KG: Final = KINDS["mass"].unit("kg").size
_G_PER_OZ: Final = KINDS["mass"].unit("oz").size
_G_PER_LB: Final = KINDS["mass"].unit("lb").size
_N_PER_LBF: Final = KINDS["force"].unit("lbf").size
_N_PER_M_PER_LBF_PER_IN: Final = KINDS["tension"].unit("lbf/in").size
_N_PER_MM_PER_LBF_PER_IN: Final = KINDS["tear"].unit("lbf/in").size
_KG_PER_M3_PER_LB_PER_FT3: Final = KINDS["density"].unit("lb/ft3").size
_KG_PER_M2_PER_LB_PER_SQ_FT: Final = _G_PER_LB / 1000 / (_MM2_PER_SQ_FT / _MM2_PER_M2)
_N_PER_MM2_PER_PSI: Final = KINDS["stress"].unit("psi").size
_C_PER_F: Final = KINDS["temperature"].unit("F").size
_FREEZING_F: Final = KINDS["temperature"].unit("F").zero

_IN_PER_FT: Final = 12
_SIXTEENTHS: Final = 16
"""Divisions of an inch that a bench rule shows."""
_NOMINAL_STEPS: Final = 2
"""Steps of a millimetre in which tools are sold and set."""
_MIN_PER_H: Final = 60
_H_PER_DAY: Final = 24
_DAYS_FROM_H: Final = 48
"""Times from here on are shown in days; below, hours are clearer (`36 h`)."""
_LONG_MM: Final = 1000.0
"""From here on a long length is shown in metres and feet; below, as any length."""
_SMALL_AREA_MM2: Final = 1e4
"""Areas below this, 0.01 m2, are shown in mm2 and square inches."""
_SMALL_FORCE: Final = 10.0
"""Forces below this are shown to a tenth of their unit."""
_PER_HUNDRED: Final = 100


def number(value: float, decimals: int = 0, direction: Direction = "nearest", *, fixed: bool = False) -> str:
    """Show a number to so many decimals, zeros at the end dropped unless `fixed`; never `-0`."""
    scale = 10**decimals
    steps = _steps(value * scale, direction)
    whole, rest = divmod(abs(steps), scale)
    tail = f"{rest:0{decimals}d}" if decimals else ""
    if not fixed:
        tail = tail.rstrip("0")
    return ("-" if steps < 0 else "") + str(whole) + ("." + tail if tail else "")


def length(mm: float, system: System, direction: Direction = "nearest") -> str:
    """Show a length to 1 mm and 1/16 in: `520 mm (20 1/2 in)`."""
    return _both(metric_length(mm, direction), inch_length(mm, direction), system)


def metric_length(mm: float, direction: Direction = "nearest") -> str:
    """Show a length to 1 mm: `520 mm`."""
    return f"{number(mm, 0, direction)} mm"


def inch_length(mm: float, direction: Direction = "nearest") -> str:
    """Show a length to 1/16 in, the fraction reduced: `20 1/2 in`."""
    return _inches(_steps(mm / _MM_PER_IN * _SIXTEENTHS, direction), _SIXTEENTHS)


def fine_length(mm: float, system: System, direction: Direction = "nearest") -> str:
    """Show a thickness to 0.1 mm and 0.001 in: `0.9 mm (0.035 in)`."""
    return _both(metric_fine_length(mm, direction), inch_fine_length(mm, direction), system)


def metric_fine_length(mm: float, direction: Direction = "nearest") -> str:
    """Show a thickness to 0.1 mm: `0.9 mm`."""
    return f"{number(mm, 1, direction, fixed=True)} mm"


def finer_length(mm: float, system: System, direction: Direction = "nearest") -> str:
    """Show a thickness where small differences matter, to 0.01 mm and 0.001 in: `0.86 mm (0.034 in)`."""
    return _both(metric_finer_length(mm, direction), inch_fine_length(mm, direction), system)


def metric_finer_length(mm: float, direction: Direction = "nearest") -> str:
    """Show a thickness where small differences matter, to 0.01 mm: `0.86 mm`, `1 mm`."""
    return f"{number(mm, 2, direction)} mm"


def inch_fine_length(mm: float, direction: Direction = "nearest") -> str:
    """Show a thickness to 0.001 in: `0.035 in`."""
    return f"{number(mm / _MM_PER_IN, 3, direction, fixed=True)} in"


def nominal_length(mm: float, system: System, direction: Direction = "nearest") -> str:
    """Show a size that is set with a tool to 0.5 mm and 1/16 in: `9.5 mm (3/8 in)`."""
    return _both(metric_nominal_length(mm, direction), inch_length(mm, direction), system)


def metric_nominal_length(mm: float, direction: Direction = "nearest") -> str:
    """Show a size that is set with a tool to 0.5 mm: `9.5 mm`, `10 mm`."""
    return f"{number(_steps(mm * _NOMINAL_STEPS, direction) / _NOMINAL_STEPS, 1)} mm"


def long_length(mm: float, system: System, direction: Direction = "nearest") -> str:
    """Show a lace to 0.01 m and 1/16 in: `12.35 m (40 ft 6 1/4 in)`; below 1 m as `length` does."""
    return _both(metric_long_length(mm, direction), inch_long_length(mm, direction), system)


def metric_long_length(mm: float, direction: Direction = "nearest") -> str:
    """Show a lace to 0.01 m: `12.35 m`; below 1 m to 1 mm: `106 mm`."""
    if abs(mm) < _LONG_MM:
        return metric_length(mm, direction)
    return f"{number(mm / _MM_PER_M, 2, direction, fixed=True)} m"


def inch_long_length(mm: float, direction: Direction = "nearest") -> str:
    """Show a lace in feet and inches to 1/16 in: `40 ft 6 1/4 in`; below 1 m in inches: `4 3/16 in`."""
    if abs(mm) < _LONG_MM:
        return inch_length(mm, direction)
    sixteenths = _steps(mm / _MM_PER_IN * _SIXTEENTHS, direction)
    feet, rest = divmod(abs(sixteenths), _IN_PER_FT * _SIXTEENTHS)
    sign = "-" if sixteenths < 0 else ""
    return f"{sign}{feet} ft" + (f" {_inches(rest, _SIXTEENTHS)}" if rest else "")


def area(mm2: float, system: System) -> str:
    """Show an area to 0.01 m² and 0.1 sq ft, a small one to 1 mm² and 0.01 sq in: `0.20 m² (2.2 sq ft)`."""
    if abs(mm2) < _SMALL_AREA_MM2:
        return _both(f"{number(mm2)} mm²", f"{number(mm2 / _MM2_PER_SQ_IN, 2, fixed=True)} sq in", system)
    metric = f"{number(mm2 / _MM2_PER_M2, 2, fixed=True)} m²"
    return _both(metric, f"{number(mm2 / _MM2_PER_SQ_FT, 1, fixed=True)} sq ft", system)


def angle(deg: float) -> str:
    """Show an angle to 0.1°: `22.5°`."""
    return f"{number(deg, 1)}°"


def fine_angle(deg: float) -> str:
    """Show an angle to 0.01°, as of a mitre, whose error adds up over all joints of a ring: `11.25°`."""
    return f"{number(deg, 2)}°"


def mass(g: float, system: System) -> str:
    """Show a mass to 1 g and 0.1 oz, from 1 kg on to 0.01 kg and 0.01 lb: `250 g (8.8 oz)`."""
    if abs(g) < _G_PER_KG:
        return _both(f"{number(g)} g", f"{number(g / _G_PER_OZ, 1)} oz", system)
    return _both(f"{number(g / _G_PER_KG, 2)} kg", f"{number(g / _G_PER_LB, 2)} lb", system)


def time(minutes: float) -> str:
    """Show a time to the minute: `45 min`, `1 h 30 min`, `36 h`, and from 48 h on `2 days 12 h`."""
    steps = _steps(minutes, "nearest")
    hours, rest = divmod(abs(steps), _MIN_PER_H)
    days = 0
    if hours >= _DAYS_FROM_H:
        days, hours = divmod(hours, _H_PER_DAY)
    parts = [f"{count} {unit}" for count, unit in ((days, "days"), (hours, "h"), (rest, "min")) if count]
    return ("-" if steps < 0 else "") + (" ".join(parts) or "0 min")


def percentage(fraction: float) -> str:
    """Show a fraction as a percentage to 0.1 %: 0.08 is `8 %`."""
    return f"{number(fraction * _PER_HUNDRED, 1)} %"


def pitch(hz: float) -> str:
    """Show a pitch to 0.1 Hz, with the nearest note and the cents from it: `112 Hz, A2 +31 cents`.

    Without a note below C0 and above B9.
    """
    name = note(hz)
    return f"{frequency(hz)}, {name}" if name else frequency(hz)


def frequency(hz: float) -> str:
    """Show a frequency to 0.1 Hz: `110 Hz`."""
    return f"{number(hz, 1)} Hz"


def note(hz: float) -> str:
    """Show the nearest note, with the cents from it unless they round to none; empty if it has no name."""
    nearest = nearest_note(hz)
    if nearest is None:
        return ""
    name, cents = nearest
    if not cents:
        return name
    return f"{name} {'+' if cents > 0 else '-'}{abs(cents)} {'cent' if abs(cents) == 1 else 'cents'}"


def force(newtons: float, system: System) -> str:
    """Show a force to 1 N and 1 lbf, below ten of a unit to a tenth: `120 N (27 lbf)`."""
    return _both(f"{_coarse(newtons)} N", f"{_coarse(newtons / _N_PER_LBF)} lbf", system)


def tension(newtons_per_m: float, system: System) -> str:
    """Show a membrane's tension to 1 N/m and 0.1 lbf/in: `2000 N/m (11.4 lbf/in)`."""
    inch = f"{number(newtons_per_m / _N_PER_M_PER_LBF_PER_IN, 1)} lbf/in"
    return _both(f"{number(newtons_per_m)} N/m", inch, system)


def tear(newtons_per_mm: float, system: System) -> str:
    """Show a tear strength, load over thickness, to 0.1 N/mm and 1 lbf/in: `29 N/mm (166 lbf/in)`."""
    inch = f"{number(newtons_per_mm / _N_PER_MM_PER_LBF_PER_IN)} lbf/in"
    return _both(f"{number(newtons_per_mm, 1)} N/mm", inch, system)


def temperature(celsius: float, system: System) -> str:
    """Show a temperature to the degree: `18 °C (64 °F)`."""
    return _both(f"{number(celsius)} °C", f"{number(celsius / _C_PER_F + _FREEZING_F)} °F", system)


def surface_density(kg_per_m2: float, system: System) -> str:
    """Show a mass over area to 0.01 kg/m² and 0.001 lb/sq ft: `0.72 kg/m² (0.147 lb/sq ft)`."""
    inch = f"{number(kg_per_m2 / _KG_PER_M2_PER_LB_PER_SQ_FT, 3)} lb/sq ft"
    return _both(f"{number(kg_per_m2, 2)} kg/m²", inch, system)


def density(kg_per_m3: float, system: System) -> str:
    """Show a density to 1 kg/m³ and 0.1 lb/ft³: `1200 kg/m³ (74.9 lb/ft³)`."""
    inch = f"{number(kg_per_m3 / _KG_PER_M3_PER_LB_PER_FT3, 1)} lb/ft³"
    return _both(f"{number(kg_per_m3)} kg/m³", inch, system)


def stress(newtons_per_mm2: float, system: System) -> str:
    """Show a stress to 0.1 N/mm² and 1 psi: `10 N/mm² (1450 psi)`."""
    inch = f"{number(newtons_per_mm2 / _N_PER_MM2_PER_PSI)} psi"
    return _both(f"{number(newtons_per_mm2, 1)} N/mm²", inch, system)


def count(value: float) -> str:
    """Show how many there are: `32`."""
    return number(value)


def _steps(value: float, direction: Direction) -> int:
    if direction == "up":
        return math.ceil(value - _GUARD)
    if direction == "down":
        return math.floor(value + _GUARD)
    nearest = math.floor(abs(value) + 0.5 + _GUARD)
    return -nearest if value < 0 else nearest


def _inches(steps: int, divisions: int) -> str:
    return f"{'-' if steps < 0 else ''}{mixed_text(abs(steps), divisions)} in"


def _coarse(value: float) -> str:
    return number(value, 1 if abs(value) < _SMALL_FORCE else 0)


def _both(metric: str, inch: str, system: System) -> str:
    return f"{inch} ({metric})" if system == "inch" else f"{metric} ({inch})"
