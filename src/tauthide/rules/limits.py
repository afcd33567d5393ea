"""Troubles that many rules have: a length below its least or above its most, a web or margin too small."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.rules.rule import Trouble
from tauthide.rules.wording import SLACK_MM, at_least, at_most, length, no_less, no_more

MOST_SPACING_MM = 110.0
"""Rim that one station can hold. Workshop practice, no published source; 65 to 80 mm are usual."""


def too_small(w: Workings, path: str, least: float, message: str, reason: str = "") -> Iterator[Trouble]:
    """Yield trouble where the length at `path` is below `least` mm; the reason follows what is allowed."""
    found = w.given(path)
    if found < least - SLACK_MM:
        yield Trouble(
            path,
            message,
            length(w, found, least),
            f"at least {no_less(w, least, found)}{reason}",
            f"{_key(path)}: {at_least(w, least)}",
        )


def too_large(w: Workings, path: str, most: float, message: str, reason: str = "") -> Iterator[Trouble]:
    """Yield trouble where the length at `path` is above `most` mm; the reason follows what is allowed."""
    found = w.given(path)
    if found > most + SLACK_MM:
        yield Trouble(
            path,
            message,
            length(w, found, most),
            f"at most {no_more(w, most, found)}{reason}",
            f"{_key(path)}: {at_most(w, most)}",
        )


Clear = Literal["web", "margin"]

_BETWEEN_CENTRES = {"web": ("stations.pair_spacing", 1.0), "margin": ("stations.edge_distance", 0.5)}
"""The field that gives the same length from the holes' middles, and how many holes longer it is."""


def clear_path(w: Workings, name: Clear) -> str:
    """Return the field by which the drum gives its web or margin."""
    other, _ = _BETWEEN_CENTRES[name]
    return other if w.has(other) else f"stations.{name}"


def write_clear(w: Workings, name: Clear, least: float) -> str:
    """Return a web or margin of at least so many mm, ready to be written into the field that gives it."""
    path = clear_path(w, name)
    return f"{_key(path)}: {at_least(w, least + _more(w, name))}"


def clear_trouble(
    w: Workings, name: Clear, least: float, message: str, reason: str = "", severity: Severity | None = None
) -> Trouble:
    """Return the trouble of a web or margin that should be at least so many mm wide."""
    path, clear = clear_path(w, name), w[f"holes.{name}"]
    found = length(w, clear, least)
    if path != f"stations.{name}":
        found = f"{length(w, w.given(path))}, which leaves a {name} of {found}"
    return Trouble(
        path,
        message,
        found,
        f"a {name} of at least {no_less(w, least, clear)}{reason}",
        write_clear(w, name, least),
        severity,
    )


def _more(w: Workings, name: Clear) -> float:
    other, holes = _BETWEEN_CENTRES[name]
    return holes * w.given("stations.hole") if w.has(other) else 0.0


def _key(path: str) -> str:
    return path.rpartition(".")[2]
