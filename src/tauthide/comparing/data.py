"""A comparison as plain data, for other programs: nothing is cut short, numbers are as exact as in `plan.json`."""

from __future__ import annotations

from typing import Any

from tauthide.comparing.drums import Comparison, DrumChange
from tauthide.comparing.holes import HoleMove, Point
from tauthide.comparing.runs import RunChange
from tauthide.comparing.sections import headline, run_headline
from tauthide.comparing.seen import Seen
from tauthide.explaining.origins import origin_data
from tauthide.findings import finding_data
from tauthide.output.plan_json import exact
from tauthide.spec.layers import Origin


def comparison_data(comparison: Comparison, old: str, new: str) -> dict[str, Any]:
    """Return a comparison; `old` and `new` say what was compared."""
    return {
        "old": old,
        "new": new,
        "differs": comparison.differs,
        "same": comparison.same,
        "drums": [_drum(change) for change in comparison.drums],
        "needs": [
            {
                "title": need.title,
                "unit": need.unit,
                "old": exact(need.old),
                "new": exact(need.new),
                "difference": exact(need.new - need.old),
                "shown": [need.shown_old, need.shown_new, need.difference],
            }
            for need in comparison.needs
        ],
        "runs": [_run(change) for change in comparison.runs],
        "same_runs": comparison.same_runs,
    }


def _run(change: RunChange) -> dict[str, Any]:
    return {
        "run": change.name,
        "file": change.seen.file,
        "state": str(change.state),
        "says": run_headline(change),
        "values": [{"path": value.path, "old": value.old, "new": value.new} for value in change.values],
        "effects": [
            {
                "title": effect.title,
                "buys": effect.buys,
                "unit": effect.unit,
                "old": effect.old if isinstance(effect.old, str) else _number(effect.old),
                "new": effect.new if isinstance(effect.new, str) else _number(effect.new),
                "shown": [effect.shown_old, effect.shown_new, effect.difference],
            }
            for effect in change.effects
        ],
        "came": [finding_data(finding) for finding in change.came],
        "went": [finding_data(finding) for finding in change.went],
    }


def _drum(change: DrumChange) -> dict[str, Any]:
    return {
        "drum": change.name,
        "state": str(change.state),
        "says": headline(change),
        "spoils_skin": change.spoils_skin,
        "old": _side(change.old),
        "new": _side(change.new),
        "values": [
            {
                "path": value.path,
                "old": value.old,
                "new": value.new,
                "layer": value.layer,
                "follows": value.follows or None,
                "old_origin": _origin(value.old_origin),
                "new_origin": _origin(value.new_origin),
            }
            for value in change.values
        ],
        "words": [{"name": word.name, "old": word.old, "new": word.new} for word in change.words],
        "figures": [
            {
                "name": figure.name,
                "concern": figure.concern.name.lower(),
                "unit": figure.unit,
                "old": _number(figure.old),
                "new": _number(figure.new),
                "difference": None if figure.old is None or figure.new is None else exact(figure.new - figure.old),
                "shown": [figure.shown_old, figure.shown_new, figure.difference],
                "because": list(figure.because),
            }
            for figure in change.figures
        ],
        "holes": [_hole(move) for move in change.holes],
        "steps": [{"part": step.part, "kind": step.kind, "text": step.text} for step in change.steps],
        "came": [finding_data(finding) for finding in change.came],
        "went": [finding_data(finding) for finding in change.went],
    }


def _side(seen: Seen | None) -> dict[str, Any] | None:
    if seen is None:
        return None
    return {"drum": seen.drum, "file": seen.file, "digest": None if seen.plan is None else seen.plan.digest}


def _origin(origin: Origin | None) -> dict[str, Any] | None:
    return None if origin is None else origin_data(origin)


def _hole(move: HoleMove) -> dict[str, Any]:
    return {
        "station": move.station,
        "hole": move.hole,
        "old_mm": _point(move.old),
        "new_mm": _point(move.new),
        "moved_mm": _number(move.moved_mm),
    }


def _point(point: Point | None) -> list[float] | None:
    return None if point is None else [exact(point[0]), exact(point[1])]


def _number(value: float | None) -> float | None:
    return None if value is None else exact(value)
