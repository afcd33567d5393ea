"""Drums for the tests of forces and voice: workings straight from values in base units, no file in between."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from hypothesis import settings

from tauthide.figures import FigureSet, Workings, join_sets
from tauthide.findings import Place
from tauthide.geometry.figures import FIGURES as GEOMETRY
from tauthide.lacing.cross import CROSS
from tauthide.quantities import holding, lace, reach, voice, wood
from tauthide.spec.settings import Setting, Spec

calm = settings(deadline=None)
"""For laws: a busy machine is no fault of theirs."""

Value = float | int | str
Values = Mapping[str, Value]
"""A spec's values by dotted path, in base units: mm, N, Hz, N/mm2, kg/m3, fractions."""

FIGURES: FigureSet = join_sets(
    (GEOMETRY, CROSS.figures, lace.FIGURES, voice.FIGURES, holding.FIGURES, reach.FIGURES, wood.FIGURES)
)

GOAT_13: Values = MappingProxyType(
    {
        "frame.outline": "round",
        "frame.diameter": 330.2,
        "frame.depth": 55.0,
        "frame.wall": 8.0,
        "frame.edge_radius": 2.0,
        "head.thickness": 1.0,
        "head.dry_thickness": 0.6,
        "head.turnover": 40.0,
        "head.stretch": 0.03,
        "hide.density": 1200.0,
        "hide.dry_strength": 60.0,
        "hide.wet_strength": 15.0,
        "hide.stitch_tear": 80.0,
        "stations.count": 16,
        "stations.web": 20.0,
        "stations.margin": 12.0,
        "stations.hole": 10.0,
        "stations.mark_at": "first_hole",
        "stations.hand": "anticlockwise",
        "lace.lacing": "cross",
        "lace.width": 8.0,
        "lace.thickness": 1.0,
        "lace.play": 12.0,
        "lace.tab_length": 50.0,
        "lace.tab_width": 25.0,
        "lace.tail": 300.0,
        "lace.allowance": 0.08,
        "lace.join": 80.0,
        "lace.core": 15.0,
        "lace_hide.dry_thickness": 0.6,
        "lace_hide.dry_strength": 60.0,
        "lace_hide.wet_strength": 15.0,
        "handle.arms": 4,
        "handle.wrap": 60.0,
        "voice.pitch": 110.0,
        "voice.wet_share": 0.3,
        "voice.safety": 1.5,
        "tolerances.thickness": 0.1,
    }
)
"""A goatskin of 13 inches at A2. The strengths are for these tests: nothing here depends on the defaults."""


def force_workings(values: Values = GOAT_13, /, **changes: Value | None) -> Workings:
    """Return workings with changes laid over: `voice_pitch=98.0` sets `voice.pitch`, None takes a value away."""
    laid = {**values, **{_path(name): value for name, value in changes.items()}}
    settings = {path: Setting(path, value, None, ()) for path, value in laid.items() if value is not None}
    spec = Spec("TEST", "", "", 1, settings, Place("test.yaml", 1, 1))
    return Workings(spec, FIGURES)


def _path(name: str) -> str:
    # A part's name may itself have an underscore.
    head, tail = ("lace_hide", name[len("lace_hide_") :]) if name.startswith("lace_hide_") else name.split("_", 1)
    return f"{head}.{tail}"
