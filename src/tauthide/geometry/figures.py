"""All figures of the geometry stage."""

from __future__ import annotations

from tauthide.figures import join_sets
from tauthide.geometry import blank, holes, marking

FIGURES = join_sets((blank.FIGURES, holes.FIGURES, marking.FIGURES))
