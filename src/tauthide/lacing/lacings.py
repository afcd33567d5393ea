"""The lacings that a spec may name."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from tauthide.figures import Workings
from tauthide.lacing.cross import CROSS
from tauthide.lacing.order import Lacing
from tauthide.lacing.ring import RING
from tauthide.lacing.zigzag import ZIGZAG

LACINGS: Mapping[str, Lacing] = MappingProxyType({lacing.name: lacing for lacing in (CROSS, RING, ZIGZAG)})


def lacing_of(w: Workings) -> Lacing:
    """Return the lacing that the spec names."""
    return LACINGS[w.word("lace.lacing")]
