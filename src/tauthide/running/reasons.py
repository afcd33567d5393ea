"""Why pieces find no place on the skins at hand, in words."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from tauthide.cutting.wanting import Reason
from tauthide.units import Direction

Show = Callable[[float, Direction], str]
"""Writes a thickness in mm, rounded one way."""

_TEXTS = {
    "species": "no skin of that animal is at hand",
    "size": "larger than any skin at hand has room for, clear of its edges and flaws",
    "room": "no room is left beside the other pieces",
    "zone": "room for it is only in weak regions, on {hide}",
    "thickness": "there is room on {hide}, but it is {span} thick there; {allowed} is allowed",
    "thickness and zone": "there is room on {hide}, but in weak regions, and {span} thick there; {allowed} is allowed",
    "search": "there is room on {hide}, or for one of its discs: more rounds of search may find a place",
}


def reason_text(reason: Reason, show: Show, name: Callable[[str], str] = str) -> str:
    """Say why a piece found no place; `show` writes a thickness, and `name` the name of a skin."""
    span = ""
    if reason.span_mm is not None:
        # Rounded outward: what is just beyond a limit must not look like the limit.
        span = " to ".join(dict.fromkeys((show(reason.span_mm[0], "down"), show(reason.span_mm[1], "up"))))
    return _TEXTS[reason.cause].format(hide=name(reason.hide), span=span, allowed=_allowed(reason, show))


def _allowed(reason: Reason, show: Show) -> str:
    if reason.least_mm is None:
        return "any thickness" if reason.most_mm is None else f"up to {show(reason.most_mm, 'nearest')}"
    least = show(reason.least_mm, "nearest")
    return f"{least} and more" if reason.most_mm is None else f"{least} to {show(reason.most_mm, 'nearest')}"


def by_reason(reasons: Mapping[str, Reason]) -> dict[Reason, tuple[str, ...]]:
    """Return the names of the pieces that have each reason, in their order."""
    names: dict[Reason, tuple[str, ...]] = {}
    for piece, reason in reasons.items():
        names[reason] = (*names.get(reason, ()), piece)
    return names
