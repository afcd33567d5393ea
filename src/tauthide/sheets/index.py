"""The index of a batch: a row a drum, and what all of them take together."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from tauthide.findings import Finding, Severity
from tauthide.plan.plan import Plan
from tauthide.sheets.amounts import show_figure, show_setting, system_of
from tauthide.sheets.view import blank_text, frame_text
from tauthide.sheets.words import counted, held
from tauthide.spec.layers import OUTLINE_SIZES
from tauthide.text import markdown
from tauthide.units import System, area, long_length

ROW_FIELDS = (*(path for paths in OUTLINE_SIZES.values() for path in paths), "head.hide")
"""Fields that a row shows, as far as the drum has them."""

ROW_FIGURES = (
    "head.blank_diameter", "head.blank_length", "head.blank_width", "head.blank_area", "lace.cut_length",
)  # fmt: skip
"""Figures that a row shows, as far as the drum has them."""


@dataclass(frozen=True, slots=True)
class IndexRow:
    """One drum in the index: plain JSON values, so that it can be kept and read back with `IndexRow(**data)`.

    Texts are escaped and have their units; amounts are for one drum. A drum that failed has no amounts.
    """

    drum: str
    """As the spec has it, not escaped."""
    title: str
    quantity: int
    failed: bool
    errors: int = 0
    warnings: int = 0
    notes: int = 0
    units: System = "metric"
    frame: str = ""
    blank: str = ""
    area: str = ""
    lace: str = ""
    blank_area_mm2: float = 0.0
    disc_area_mm2: float = 0.0
    lace_mm: float = 0.0
    approved: bool = True
    """False only where the drum is built and not approved."""


@dataclass(frozen=True, slots=True)
class RowView:
    """One row as the template sets it out."""

    drum: str
    link: str
    title: str
    quantity: int
    failed: bool
    frame: str
    blank: str
    area: str
    lace: str
    findings: str


@dataclass(frozen=True, slots=True)
class TotalsView:
    """What all drums that were built take together, times their quantities."""

    drums: int
    heads: str
    discs: str
    lace: str


def index_row(plan: Plan, findings: Iterable[Finding] = ()) -> IndexRow:
    """Return the index row of a drum that has a plan."""
    spec = plan.spec
    system = system_of(spec)
    field = {path: held(show_setting(spec.settings[path], system)) for path in ROW_FIELDS if spec.has(path)}
    figures = {name: held(show_figure(plan, name, system)) for name in ROW_FIGURES if plan.has(name)}
    stations = held(counted(len(plan.stations), "station", "stations"))
    errors, warnings, notes = _counts(findings)
    return IndexRow(
        drum=spec.drum,
        title=markdown(spec.title or spec.drum),
        quantity=spec.quantity,
        failed=False,
        errors=errors,
        warnings=warnings,
        notes=notes,
        units=system,
        frame=f"{frame_text(spec, field)}; {field['head.hide']}; {stations}",
        blank=blank_text(plan, figures),
        area=figures["head.blank_area"],
        lace=figures["lace.cut_length"],
        blank_area_mm2=plan["head.count"] * plan["head.blank_area"],
        disc_area_mm2=plan["lace.area"],
        lace_mm=plan["lace.cut_length"],
        approved=plan.standing is None or plan.standing.approved,
    )


def failed_row(drum: str, title: str = "", quantity: int = 1, findings: Iterable[Finding] = ()) -> IndexRow:
    """Return the index row of a drum whose spec has errors."""
    errors, warnings, notes = _counts(findings)
    return IndexRow(drum, markdown(title or drum), quantity, True, errors, warnings, notes)


def view_index(rows: Iterable[IndexRow]) -> dict[str, object]:
    """Return the names that the template of the index uses; rows by drum's name, capitals and small alike."""
    ordered = sorted(rows, key=lambda row: (row.drum.casefold(), row.drum))
    built = [row for row in ordered if not row.failed]
    failed = len(ordered) - len(built)
    return {
        "rows": tuple(map(_row, ordered)),
        "built": bool(built),
        "failed": counted(failed, "drum is", "drums are") if failed else "",
        "totals": _totals(built),
    }


def _totals(built: list[IndexRow]) -> TotalsView:
    """Add up; in inches first only where every drum is."""
    system: System = "inch" if built and all(row.units == "inch" for row in built) else "metric"
    return TotalsView(
        drums=sum(row.quantity for row in built),
        heads=area(sum(row.quantity * row.blank_area_mm2 for row in built), system),
        discs=area(sum(row.quantity * row.disc_area_mm2 for row in built), system),
        lace=long_length(sum(row.quantity * row.lace_mm for row in built), system),
    )


def _row(row: IndexRow) -> RowView:
    tallies = (
        (row.errors, "error", "errors"),
        (row.warnings, "warning", "warnings"),
        (row.notes, "note", "notes"),
    )
    return RowView(
        drum=markdown(row.drum),
        link=f"{row.drum}/sheet.md",
        title=row.title,
        quantity=row.quantity,
        failed=row.failed,
        frame=row.frame,
        blank=row.blank,
        area=row.area,
        lace=row.lace,
        findings=", ".join(_said(row, tallies)) or "–",
    )


def _said(row: IndexRow, tallies: Iterable[tuple[int, str, str]]) -> list[str]:
    """Return what a row says of findings and approval."""
    unapproved = [] if row.approved else [f"**{held('not approved')}**"]
    return unapproved + [held(counted(*tally)) for tally in tallies if tally[0]]


def _counts(findings: Iterable[Finding]) -> tuple[int, int, int]:
    severities = [finding.severity for finding in findings]
    return (
        severities.count(Severity.ERROR),
        severities.count(Severity.WARNING),
        severities.count(Severity.NOTE),
    )
