"""How a checker is told where values stand, whichever files they come from."""

from __future__ import annotations

from collections.abc import Callable

from tauthide.findings import Place
from tauthide.reading.located import Path

PlaceOf = Callable[[Path, bool], Place]
"""Tells where the value at a path stands or, with True, its key."""
