"""Figures of reference drums, each recorded with the version of the model that gave it.

A change that alters one of them must raise `MODEL_VERSION` in `spec/digest.py`, or approvals and printed sheets
would silently cover other numbers. Then record them anew: `.venv/bin/python tests/reference_figures.py`, which
refuses to record other figures under the version that is recorded already.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from drums import USUAL, Fields, plan_of
from tauthide.output.plan_json import exact
from tauthide.plan.plan import Plan
from tauthide.spec.digest import MODEL_VERSION

RECORD = Path(__file__).parent / "approving" / "reference_figures.json"

Numbers = Mapping[str, float]
Drums = Mapping[str, Numbers]

NOISE = 1e-8
NOISE_SHARE = 1e-10
"""By so much, of its unit or of itself, a number may differ between machines."""

SPELT: Fields = {
    **USUAL,
    "frame.wall": "8 mm",
    "frame.edge_radius": "2 mm",
    "frame.make": "bent",
    "head.thickness": "1 mm",
    "head.dry_thickness": "0.6 mm",
    "head.turnover": "42 mm",
    "head.stretch": "3 %",
    "head.outer": "hair",
    "head.origin": "domestic",
    "stations.mark_at": "first_hole",
    "stations.hand": "anticlockwise",
    "stations.web": "20 mm",
    "stations.margin": "12 mm",
    "stations.hole": "10 mm",
    "stations.marking": "fold",
    "lace.lacing": "cross",
    "lace.hide": "goat",
    "lace.width": "8 mm",
    "lace.thickness": "1 mm",
    "lace.play": "12 mm",
    "lace.tab_length": "50 mm",
    "lace.tab_width": "25 mm",
    "lace.tail": "300 mm",
    "lace.allowance": "8 %",
    "lace.join": "80 mm",
    "lace.core": "15 mm",
    "handle.arms": 4,
    "handle.wrap": "60 mm",
    "voice.wet_share": "30 %",
    "voice.safety": "150 %",
    "tolerances.thickness": "15 %",
    "tolerances.turnover": "3 mm",
    "tolerances.play": "4 mm",
    "tolerances.stretch": "1 %",
}
"""A drum that leaves nothing to the defaults, which the digest covers by themselves."""


def _without(*paths: str) -> Fields:
    return {path: leaf for path, leaf in SPELT.items() if path not in paths}


REFERENCES: Mapping[str, Fields] = {
    "round": {**SPELT, "voice.pitch": "70 Hz"},
    "round, pulled, clockwise": {
        **SPELT, "voice.pull": "90 N", "stations.hand": "clockwise", "stations.mark_at": "pair_centre",
        "stations.count": 10, "stations.marking": "step", "handle.arms": 0,
    },
    "holes on the wall": {**SPELT, "head.turnover": "14 mm", "stations.count": 8},
    "oval, deer": {
        **_without("frame.diameter"), "frame.outline": "oval", "frame.length": "18 in", "frame.width": "15 in",
        "head.hide": "deer", "lace.hide": "deer", "stations.count": 18, "stations.marking": "tape",
    },
    "octagon, calf": {
        **_without("frame.diameter", "stations.web", "stations.margin"), "frame.outline": "polygon",
        "frame.make": "staves",
        "frame.sides": 8, "frame.across_flats": "15 in", "head.hide": "calf", "stations.pair_spacing": "30 mm",
        "stations.edge_distance": "17 mm", "stations.hand": "clockwise", "handle.arms": 3,
    },
    "pentagon, cow": {
        **_without("frame.diameter"), "frame.outline": "polygon",
        "frame.make": "staves", "frame.sides": 5, "frame.across_flats": "20 in",
        "head.hide": "cow", "head.thickness": "2 mm", "head.dry_thickness": "1.2 mm", "stations.count": 10,
        "head.turnover": "50 mm", "lace.width": "9 mm", "stations.marking": "step",
    },
}  # fmt: skip
"""By a word on each: all outlines, both hands, both ways of marking, holes on the back and on the wall."""


def numbers_of(plan: Plan) -> dict[str, float]:
    """Return every number of a plan by name: figures, holes, spans, and times of the order of work."""
    numbers = {name: reading.value for name, reading in plan.figures.items()}
    for pair in plan.blank:
        for hole, (x, y) in (("a", pair.a), ("b", pair.b)):
            numbers |= {f"hole {pair.station}{hole} x": x, f"hole {pair.station}{hole} y": y}
    for step in plan.steps:
        numbers[f"step {step.step} station"] = step.station
        numbers[f"step {step.step} span"] = 0.0 if step.span_mm is None else step.span_mm
    for operation in plan.operations:
        numbers |= {f"{operation.name} hand": operation.hand_min, f"{operation.name} wait": operation.wait_min}
    return {name: exact(float(value)) for name, value in numbers.items()}


def figures_now() -> dict[str, dict[str, float]]:
    """Return the numbers of every reference drum as this program works them out."""
    return {name: numbers_of(plan_of(fields)) for name, fields in REFERENCES.items()}


def recorded(path: Path = RECORD) -> tuple[int, Drums]:
    """Return the version of the model, and the numbers that it gave."""
    data: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"))
    return data["model"], data["drums"]


def altered(old: Drums, new: Drums) -> list[str]:
    """Return what differs of the old numbers; numbers that are new alter nothing."""
    found = []
    for drum, numbers in old.items():
        for name, value in numbers.items():
            now = new.get(drum, {}).get(name)
            if now is None or abs(now - value) > NOISE + NOISE_SHARE * abs(value):
                found.append(f"{drum}: {name} was {value}, is {now}")
    return found


def added(old: Drums, new: Drums) -> list[str]:
    """Return the names of the numbers that are not recorded yet."""
    return [f"{drum}: {name}" for drum, numbers in new.items() for name in numbers if name not in old.get(drum, {})]


def record(path: Path, version: int, drums: Drums) -> list[str]:
    """Write the numbers down; return what differs, and write nothing, where it does under the same version."""
    if path.exists():
        old_version, old = recorded(path)
        differing = altered(old, drums)
        if differing and version <= old_version:
            return differing
    lines = ",\n".join(
        f"    {json.dumps(drum)}: {{\n"
        + ",\n".join(f"      {json.dumps(name)}: {json.dumps(value)}" for name, value in numbers.items())
        + "\n    }"
        for drum, numbers in drums.items()
    )
    path.write_text(f'{{\n  "model": {version},\n  "drums": {{\n{lines}\n  }}\n}}\n', encoding="utf-8")
    return []


def main() -> int:
    """Record the figures of this program; return the exit code."""
    refused = record(RECORD, MODEL_VERSION, figures_now())
    if not refused:
        return 0
    sys.stderr.write("".join(f"{line}\n" for line in refused))
    sys.stderr.write(f"Refused: recorded for version {MODEL_VERSION} of the model. Raise MODEL_VERSION first.\n")
    return 1


if __name__ == "__main__":
    sys.exit(main())
