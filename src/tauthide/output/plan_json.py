"""`plan.json`: the plan for other programs, one item a line, so that a comparison by lines says something."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from tauthide.findings import Finding, finding_data, relative_to
from tauthide.lacing.order import Step
from tauthide.plan.plan import Plan
from tauthide.spec.settings import Setting

FORMAT = 1
DECIMALS = 9
"""Figures are given to 1e-9 of their unit: far finer than any bench, and coarser than what the last bit of a
machine's sine may differ by, so that the bytes are the same everywhere."""

BASE_UNITS: Mapping[str, str] = {
    "length": "mm",
    "angle": "deg",
    "mass": "g",
    "time": "min",
    "percentage": "1",
    "pitch": "Hz",
    "density": "kg/m3",
    "stress": "N/mm2",
}


def render_plan(plan: Plan, findings: Sequence[Finding]) -> bytes:
    """Return the bytes of a drum's `plan.json`; files are named relative to the spec."""
    spec_file = plan.spec.place.file
    parts = [
        ("format", _text(FORMAT)),
        ("drum", _text(plan.spec.drum)),
        ("digest", _text(plan.digest)),
        ("figures", _map((name, {"value": exact(reading.value), "unit": reading.figure.unit})
                         for name, reading in plan.figures.items())),
        ("holes", _list(_holes(plan))),
        ("lacing", _list(
            _step(step, any(each.lace > 1 for each in plan.steps), plan.lacing.heads > 1) for step in plan.steps)),
        ("operations", _list(
            {"name": operation.name, "title": operation.title, "hand_min": exact(operation.hand_min),
             "wait_min": exact(operation.wait_min), "after": operation.after, "wet": operation.wet}
            for operation in plan.operations)),
        ("defaults", _map((path, _default(setting, spec_file)) for path, setting in plan.spec.settings.items()
                          if setting.origin.is_default)),
        ("findings", _list(finding_data(finding, spec_file) for finding in findings)),
    ]  # fmt: skip
    body = ",\n".join(f'  "{name}": {text}' for name, text in parts)
    return f"{{\n{body}\n}}\n".encode("ascii")


def exact(value: float) -> float:
    """Return a figure rounded to what `plan.json` gives."""
    rounded = round(value, DECIMALS)
    return 0.0 if rounded == 0 else rounded


def _step(step: Step, several_laces: bool, several_heads: bool) -> dict[str, Any]:
    span_mm = None if step.span_mm is None else exact(step.span_mm)
    return {
        "step": step.step, "station": step.station, "enter": step.enter, "leave": step.leave,
        "beneath": step.beneath, "span_mm": span_mm,
        **({"lace": step.lace} if several_laces else {}), **({"head": step.head} if several_heads else {}),
    }  # fmt: skip


def _holes(plan: Plan) -> Iterator[dict[str, Any]]:
    for each in (plan,) if plan.second is None else (plan, plan.second):
        which = {} if plan.second is None else {"head": each.head}
        for pair in each.blank:
            for hole, point in (("a", pair.a), ("b", pair.b)):
                yield {**_hole(pair.station, hole, point), **which}


def _hole(station: int, hole: str, point: tuple[float, float]) -> dict[str, Any]:
    return {"station": station, "hole": hole, "x_mm": exact(point[0]), "y_mm": exact(point[1])}


def _default(setting: Setting, spec_file: str) -> dict[str, Any]:
    value = setting.value
    amount: Any = [exact(item) for item in value] if isinstance(value, tuple) else value
    origin = setting.origin
    return {
        "value": exact(amount) if isinstance(amount, float) else amount,
        "unit": BASE_UNITS.get(setting.quantity) if setting.quantity else None,
        "written": setting.written,
        "layer": origin.layer,
        "reason": origin.reason,
        "source": origin.source,
        "file": None if origin.place is None else relative_to(spec_file, origin.place.file),
        "line": None if origin.place is None else origin.place.line,
    }


def _text(value: Any) -> str:
    return json.dumps(value, ensure_ascii=True)


def _list(items: Iterable[Any]) -> str:
    lines = ",\n".join(f"    {_text(item)}" for item in items)
    return f"[\n{lines}\n  ]" if lines else "[]"


def _map(items: Iterable[tuple[str, Any]]) -> str:
    lines = ",\n".join(f"    {_text(name)}: {_text(value)}" for name, value in items)
    return f"{{\n{lines}\n  }}" if lines else "{}"
