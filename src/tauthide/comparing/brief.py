"""A comparison in brief: for each drum what became of it, which findings came and went, and which figures move."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.comparing.drums import Comparison, DrumChange
from tauthide.comparing.sections import headline, overall, summary
from tauthide.comparing.text import wrapped
from tauthide.findings import Finding
from tauthide.text import plain


def effect_text(comparison: Comparison) -> str:
    """Return a comparison in brief, as text of at most 100 columns."""
    lines = wrapped(f"What that does: {summary(comparison)}", 0)
    for change in comparison.drums:
        lines += [line for text in _drum(change) for line in wrapped(text, 1 if text.startswith(change.name) else 2)]
    for row in overall(comparison).rows:
        lines += wrapped(f"{row.title}: {row.old} -> {row.new}", 1)
    return "".join(f"{line}\n" for line in lines)


def _drum(change: DrumChange) -> Iterator[str]:
    yield f"{change.name} ({change.file}): {headline(change)}"
    for word, findings in (("new", change.came), ("gone", change.went)):
        yield from (f"{word} {_told(finding)}" for finding in findings)
    moves = "; ".join(
        f"{figure.name} {_first(figure.shown_old)} -> {_first(figure.shown_new)}" for figure in change.figures
    )
    if moves:
        yield f"figures: {moves}"
    steps = "; ".join(step.text for step in change.steps)
    if steps:
        yield f"steps: {steps}"


def _first(shown: str) -> str:
    """Return an amount in the drum's own system only."""
    return shown.partition(" (")[0]


def _told(finding: Finding) -> str:
    return f"{finding.severity}: {plain(finding.message)} [{finding.name}]"
