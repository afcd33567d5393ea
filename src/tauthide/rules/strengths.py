"""Whether strengths are a maker's own."""

from __future__ import annotations

from tauthide.figures import Workings

MAKERS = ("shop", "base", "spec")
"""Layers that a maker writes."""

_STRENGTHS = "field:hide."


def are_measured(w: Workings, figure: str) -> bool:
    """Tell whether all the strengths of skin that go into a figure come from a maker's file, not from defaults."""
    strengths = [name.removeprefix("field:") for name in w.inputs(figure) if name.startswith(_STRENGTHS)]
    return bool(strengths) and all(w.spec.settings[path].origin.layer in MAKERS for path in strengths)
