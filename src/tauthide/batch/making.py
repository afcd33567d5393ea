"""What is made of each drum besides sheet and drawings, and with whose templates."""

from __future__ import annotations

from dataclasses import dataclass

from tauthide.printing.paper import NO_PRINTS, Prints
from tauthide.reading.templates import Templates


@dataclass(frozen=True, slots=True)
class Making:
    """What a build makes."""

    prints: Prints = NO_PRINTS
    """What is made to be printed."""
    templates: Templates | None = None
    """The maker's own; None for the built-in ones."""


PLAIN = Making()
