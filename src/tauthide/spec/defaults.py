"""The built-in layer: what a drum gets where nobody says otherwise.

Each default is data: the value as a maker would write it, the reason, and the source.
Hide profiles stand in `tauthide.spec.hides`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from tauthide.reading.located import Data

WORKSHOP = "workshop practice, no published source"


@dataclass(frozen=True, slots=True)
class Default:
    """A value that holds unless a layer above says otherwise."""

    written: str | int | list[Data]
    """As a maker would write it, with its unit."""
    reason: str
    source: str = WORKSHOP


BUILT_IN: Mapping[str, Default] = MappingProxyType(
    {
        "frame.wall": Default("8 mm", "usual for a stave or bent ring of 10 to 20 inches"),
        "frame.edge_radius": Default("2 mm", "a sharp edge cuts wet skin; a finger should slide over it"),
        "head.turnover": Default("40 mm", "room for the margin, the hole and clear skin inside the wall"),
        "head.stretch": Default("3 %", "what a well-soaked skin gives when it is drawn tight by hand"),
        "head.outer": Default("hair", "the grain side wears longer under the hand"),
        "head.spine": Default("along", "the skin gives evenly to both sides of its spine"),
        "stations.mark_at": Default("first_hole", "one mark gives hole a, the gauge gives hole b"),
        "stations.hand": Default("anticlockwise", "counting as angles are counted"),
        "lace.lacing": Default("cross", "one lace, each span across the open back"),
        "lace.play": Default("12 mm", "slack in each span, so that the frame can still be centred"),
        "lace.tab_length": Default("50 mm", "long enough to hold on to and to take the slit"),
        "lace.tab_width": Default("25 mm", "wide enough that the slit does not tear out"),
        "lace.tail": Default("300 mm", "held in the hand, and for the last hitches"),
        "lace.allowance": Default("8 %", "for bends, knots in the strip and an uneven cut"),
        "lace.join": Default("80 mm", "what two slits through each other take up"),
        "lace.pieces": Default(2, "one join can be kept clear of the holes"),
        "lace.core": Default("15 mm", "a strip bent tighter than this at the middle tears"),
        "handle.arms": Default(4, "four wrapped bundles, evenly spread, that the fingers close round"),
        "handle.wrap": Default("60 mm", "wrapped length of each arm, about three fingers"),
        "frame.make": Default("bought", "the frame comes ready made"),
        "head.origin": Default("domestic", "buy home-raised or certified hides"),
        "voice.wet_share": Default("30 %", "by hand, wet, only a part is put in; drying does the rest"),
        "voice.safety": Default("150 %", "for knots, weak places and weather"),
        "tolerances.thickness": Default("15 %", "a skin is not equally thick all over"),
        "tolerances.turnover": Default("3 mm", "how closely a wet skin is centred"),
        "tolerances.play": Default("4 mm", "slack is judged by eye"),
        "tolerances.stretch": Default("1 %", "skins give differently"),
        "bench.water": Default("15 C", "cool water, as it comes from the tap"),
        "bench.air": Default("18 C", "a cool room"),
        "bench.humidity": Default("55 %", "usual indoors"),
        "bench.units": Default("metric", "the program counts in millimetres"),
    }
)
"""Defaults that do not depend on the hide, by the path of the field."""

BY_LACING: Mapping[str, Mapping[str, Default]] = MappingProxyType(
    {
        "ring": MappingProxyType(
            {
                "lace.ring": Default("60 mm", "takes the turns of sixteen stations side by side, and three fingers"),
                "lace.ring_section": Default("6 mm", "a rod that the pull of all stations does not bend"),
                "lace.ring_wraps": Default(1, "one turn keeps what has been drawn tight from slipping back"),
                "handle.arms": Default(0, "the ring is the grip"),
            }
        ),
        "zigzag": MappingProxyType(
            {
                "head.drop": Default("36 mm", "the margin, the hole, and clear skin between it and the bearing edge"),
                "handle.arms": Default(0, "both sides of the drum are heads: nothing meets at a hub"),
            }
        ),
    }
)
"""Defaults that a lacing brings along, by its name: they hold in place of those above."""

LACING_FIELDS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "cross": ("lace.laces", "head.turnover"),
        "ring": ("lace.ring", "lace.ring_section", "lace.ring_wraps", "head.turnover"),
        "zigzag": ("lace.laces", "head.drop"),
    }
)
"""The fields that bear on some lacings and not on others, by the lacing's name."""
