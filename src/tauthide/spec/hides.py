"""Hide profiles: the usual values of the hides that drums are made of.

One row a hide. To add a hide, add its row to `HIDES` and its name to the schema's list.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from tauthide.spec.defaults import WORKSHOP, Default

FROM_MEMORY = "from memory, no published source found; weigh a disc of your own skin"
STRENGTH_FROM_MEMORY = "from memory, no published source found; pull a scrap of your own skin"

REASONS: Mapping[str, str] = MappingProxyType(
    {
        "thickness": "usual thickness, soaked",
        "dry_thickness": "usual thickness, dry",
        "density": "rawhide is a little lighter than the collagen it is made of",
        "wet_strength": "breaking stress, soaked",
        "dry_strength": "breaking stress, dry",
        "stitch_tear": "load over thickness at which two holes tear out together, dry",
        "disc": "largest sound disc that a usual skin gives",
        "soak": "until it is limp right through, in cool water",
        "dry": "lying flat, out of sun and draught",
        "web": "a thin skin wants a wider web",
        "margin": "clear skin outside the holes",
        "hole": "the punch follows the lace",
        "lace_width": "usual width of the lace for this hide",
        "lace_hide": "what the lace is cut from",
    }
)

_COLUMNS = (
    "dry_thickness", "thickness", "web", "margin", "hole", "lace_width", "lace_hide", "soak", "dry",
    "density", "wet_strength", "dry_strength", "stitch_tear", "disc",
)  # fmt: skip
_ROWS: Mapping[str, tuple[str, ...]] = {
    "sheep": ("0.5 mm", "0.9 mm", "20 mm", "14 mm", "10 mm", "8 mm", "sheep", "4 h", "2 d",
              "1200 kg/m3", "10 N/mm2", "40 N/mm2", "70 N/mm", "500 mm"),
    "goat": ("0.6 mm", "1.0 mm", "20 mm", "12 mm", "10 mm", "8 mm", "goat", "6 h", "2 d",
             "1200 kg/m3", "15 N/mm2", "60 N/mm2", "110 N/mm", "550 mm"),
    "deer": ("0.8 mm", "1.3 mm", "18 mm", "12 mm", "10 mm", "7 mm", "deer", "12 h", "3 d",
             "1200 kg/m3", "15 N/mm2", "60 N/mm2", "110 N/mm", "700 mm"),
    "calf": ("0.9 mm", "1.5 mm", "18 mm", "12 mm", "10 mm", "7 mm", "calf", "12 h", "3 d",
             "1200 kg/m3", "18 N/mm2", "70 N/mm2", "130 N/mm", "700 mm"),
    "horse": ("1.4 mm", "2.3 mm", "16 mm", "12 mm", "10 mm", "8 mm", "calf", "24 h", "5 d",
              "1200 kg/m3", "18 N/mm2", "70 N/mm2", "130 N/mm", "900 mm"),
    "elk": ("1.6 mm", "2.6 mm", "16 mm", "12 mm", "11 mm", "8 mm", "calf", "24 h", "5 d",
            "1200 kg/m3", "18 N/mm2", "70 N/mm2", "130 N/mm", "900 mm"),
    "cow": ("2.0 mm", "3.2 mm", "15 mm", "12 mm", "11 mm", "8 mm", "calf", "36 h", "7 d",
            "1200 kg/m3", "18 N/mm2", "70 N/mm2", "130 N/mm", "1100 mm"),
}  # fmt: skip

_SOURCES = {
    "density": FROM_MEMORY,
    "wet_strength": STRENGTH_FROM_MEMORY,
    "dry_strength": STRENGTH_FROM_MEMORY,
}


def _profile(hide: str, row: tuple[str, ...]) -> Mapping[str, Default]:
    return MappingProxyType(
        {
            column: Default(written, f"{hide}: {REASONS[column]}", _SOURCES.get(column, WORKSHOP))
            for column, written in zip(_COLUMNS, row, strict=True)
        }
    )


HIDES: Mapping[str, Mapping[str, Default]] = MappingProxyType(
    {hide: _profile(hide, row) for hide, row in _ROWS.items()}
)
"""For each hide its profile: thickness is wet, strengths are stresses, soak and dry are times."""

HEAD_FIELDS: Mapping[str, str] = MappingProxyType(
    {
        "thickness": "head.thickness",
        "dry_thickness": "head.dry_thickness",
        "web": "stations.web",
        "margin": "stations.margin",
        "hole": "stations.hole",
        "lace_width": "lace.width",
        "lace_hide": "lace.hide",
        "soak": "hide.soak",
        "dry": "hide.dry",
        "density": "hide.density",
        "wet_strength": "hide.wet_strength",
        "dry_strength": "hide.dry_strength",
        "stitch_tear": "hide.stitch_tear",
        "disc": "hide.disc",
        "stretch": "head.stretch",
    }
)
"""Which field each column of the head's hide fills; `hide.*` are set by profiles only, and `stretch` by shops' only."""

LACE_FIELDS: Mapping[str, str] = MappingProxyType(
    {
        "thickness": "lace.thickness",
        "soak": "lace_hide.soak",
        "wet_strength": "lace_hide.wet_strength",
        "dry_strength": "lace_hide.dry_strength",
        "dry_thickness": "lace_hide.dry_thickness",
        "disc": "lace_hide.disc",
    }
)
"""Which field each column of the lace's hide fills."""
