"""How a plan stands with its approval, made safe to stand on a sheet."""

from __future__ import annotations

from dataclasses import dataclass

from tauthide.plan.standing import Standing
from tauthide.text import markdown

MOST_CHANGES = 12
"""Of what has changed since the approval a sheet lists so much, what spoils skin first."""


@dataclass(frozen=True, slots=True)
class StandingView:
    """What the heading says of the approval; all texts are escaped."""

    approved: bool
    why: str
    changes: tuple[str, ...]
    by: str
    date: str
    note: str


def view_standing(standing: Standing | None) -> StandingView | None:
    """Return the approval as the heading shows it; None where it was not asked for."""
    if standing is None:
        return None
    changes = tuple(map(markdown, standing.changes[:MOST_CHANGES]))
    more = len(standing.changes) - MOST_CHANGES
    if more > 0:
        changes = (*changes, f"and {more} more values and figures")
    why, note = (markdown(text).rstrip(".") for text in (standing.why, standing.note))
    return StandingView(standing.approved, why, changes, markdown(standing.by), markdown(standing.date), note)
