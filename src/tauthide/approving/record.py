"""The record of an approval: what is kept of a plan that was reviewed, and its text as a document."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import isfinite
from typing import Any

from tauthide.findings import Finding, Severity, relative_to
from tauthide.plan.plan import Plan
from tauthide.spec.chain import Chain
from tauthide.spec.digest import MODEL_VERSION, digested
from tauthide.text import plain

FIGURE_DECIMALS = 6
"""Figures are kept to 1e-6 of their unit: far finer than any bench."""

SEAL_DIGITS = 32
LONGEST_LINE = 1000
"""Characters that a line of the document may have; its schema says the same."""

LISTS = ("layers", "warnings", "values", "figures")
"""The parts of the document that are lists of lines."""


@dataclass(frozen=True, slots=True)
class Approval:
    """One drum's approval."""

    drum: str
    digest: str
    model: int
    by: str
    date: str
    """Year, month and day: `2026-03-02`."""
    note: str
    layers: tuple[str, ...]
    """The files that feed the drum, lowest layer first, as seen from the spec's folder."""
    warnings: tuple[str, ...]
    """`name: message`, and the reason why it is accepted."""
    values: Mapping[str, str]
    """By path: what the digest covers, as text in base units."""
    figures: Mapping[str, tuple[float, str]]
    """By name: value and base unit."""

    @property
    def warning_names(self) -> frozenset[str]:
        """Names of the warnings that stood when it was made."""
        return frozenset(line.partition(":")[0] for line in self.warnings)


def make_approval(
    plan: Plan, chain: Chain, findings: Iterable[Finding], by: str, date: str, note: str = ""
) -> Approval:
    """Return the approval of a plan; ValueError if there are errors among its findings."""
    findings = tuple(findings)
    if any(finding.severity is Severity.ERROR for finding in findings):
        raise ValueError(f"a drum with errors can't be approved: {plan.spec.drum}")
    return Approval(
        drum=plan.spec.drum,
        digest=plan.digest,
        model=MODEL_VERSION,
        by=plain(by),
        date=date,
        note=plain(note),
        layers=tuple(plain(relative_to(chain.spec.shown, file.shown)) for file in chain.files),
        warnings=tuple(_warning(finding) for finding in findings if finding.severity is Severity.WARNING),
        values=values_of(plan),
        figures={
            name: (_rounded(reading.value), reading.figure.unit)
            for name, reading in plan.figures.items()
            if isfinite(reading.value)
        },
    )


def values_of(plan: Plan) -> dict[str, str]:
    """Return the values that the digest covers as text, by path."""
    return {path: _value_text(value) for path, value in digested(plan.spec).items()}


def approval_text(approval: Approval) -> str:
    """Return the document of an approval as YAML, the same for the same approval."""
    data = _data(approval)
    lines = ["approval: 1", "# Written by `tauthide approve`; keep it in git. A change by hand makes it void."]
    for key, value in data.items():
        if isinstance(value, list):
            lines += [f"{key}:", *(f"  - {_quoted(line)}" for line in value)]
        else:
            lines.append(f"{key}: {value if isinstance(value, int) else _quoted(value)}")
    lines.append(f"seal: {_quoted(_seal(data))}")
    return "".join(f"{line}\n" for line in lines)


def approval_from(data: Mapping[str, Any]) -> Approval | None:
    """Return the approval that a document holds that meets its schema; None where it is not as it was written."""
    said = {key: value for key, value in data.items() if key not in ("approval", "seal")}
    try:
        values = dict(_pair(line) for line in said["values"])
        figures = {name: _amount(text) for name, text in map(_pair, said["figures"])}
    except ValueError:
        return None
    if data["seal"] != _seal(said):
        return None
    return Approval(
        drum=said["drum"],
        digest=said["digest"],
        model=said["model"],
        by=said["by"],
        date=said["date"],
        note=said.get("note", ""),
        layers=tuple(said.get("layers", ())),
        warnings=tuple(said.get("warnings", ())),
        values=values,
        figures=figures,
    )


def _data(approval: Approval) -> dict[str, Any]:
    """Return the document's fields in order, without kind and seal; lists that are empty are left out."""
    figures = [f"{name} = {_number(value)} {unit}" for name, (value, unit) in approval.figures.items()]
    data: dict[str, Any] = {
        "drum": approval.drum,
        "digest": approval.digest,
        "model": approval.model,
        "by": approval.by,
        "date": approval.date,
        "note": approval.note,
        "layers": list(approval.layers),
        "warnings": list(approval.warnings),
        "values": [f"{path} = {text}" for path, text in approval.values.items()],
        "figures": figures,
    }
    return {key: value for key, value in data.items() if value not in ("", [])}


def _seal(data: Mapping[str, Any]) -> str:
    text = json.dumps(data, sort_keys=True, separators=(",", ":"), ensure_ascii=True)
    return hashlib.sha256(text.encode("ascii")).hexdigest()[:SEAL_DIGITS]


def _warning(finding: Finding) -> str:
    accepted = f" (accepted: {finding.accepted})" if finding.accepted else ""
    text = plain(f"{finding.name}: {finding.message}{accepted}")
    return text if len(text) <= LONGEST_LINE else text[: LONGEST_LINE - 1] + "…"


def _value_text(value: str | int | Sequence[str]) -> str:
    return str(value) if isinstance(value, (str, int)) else ", ".join(value)


def _rounded(value: float) -> float:
    rounded = round(value, FIGURE_DECIMALS)
    return 0.0 if rounded == 0 else rounded


def _number(value: float) -> str:
    return f"{value:.{FIGURE_DECIMALS}f}"


def _pair(line: str) -> tuple[str, str]:
    name, equals, text = line.partition(" = ")
    if not equals:
        raise ValueError(line)
    return name, text


def _amount(text: str) -> tuple[float, str]:
    value, _, unit = text.partition(" ")
    return float(value), unit


def _quoted(text: str) -> str:
    # Without characters that need an escape of JSON's own, a JSON text is one of YAML's in double quotes.
    return json.dumps(plain(text), ensure_ascii=False)
