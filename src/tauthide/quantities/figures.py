"""All figures that a drum can have, by its lacing."""

from __future__ import annotations

from functools import lru_cache

from tauthide.figures import FigureSet, Workings, join_sets
from tauthide.geometry.figures import FIGURES as GEOMETRY
from tauthide.lacing.lacings import LACINGS
from tauthide.quantities import bent, holding, movement, reach, spread, staves, voice, wood
from tauthide.quantities.lace import FIGURES as LACE
from tauthide.spec.settings import Spec


@lru_cache(maxsize=len(LACINGS))
def figures_with(lacing: str) -> FigureSet:
    """Return the definitions of all figures of a drum with this lacing; KeyError for an unknown lacing."""
    forces = (voice.FIGURES, holding.FIGURES, reach.FIGURES)
    woods = (wood.FIGURES, movement.FIGURES, bent.FIGURES, staves.FIGURES)
    return join_sets((GEOMETRY, LACINGS[lacing].figures, LACE, spread.FIGURES, *forces, *woods))


def start_workings(spec: Spec) -> Workings:
    """Return the workings of a spec, nothing computed yet."""
    return Workings(spec, figures_with(spec.word("lace.lacing")))
