"""Judging: how a plan stands with the approval that lies beside its spec."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from tauthide.approving.record import Approval, approval_from, values_of
from tauthide.findings import Finding, Place, Severity, has_errors
from tauthide.plan.concerns import concern_of
from tauthide.plan.plan import Plan
from tauthide.plan.standing import Reason, Standing
from tauthide.reading.documents import a_kind
from tauthide.spec.chain import Source
from tauthide.spec.digest import MODEL_VERSION
from tauthide.units import KINDS, System, show_change

NOISE = 2e-6
NOISE_SHARE = 1e-7
"""By so much, of its unit or of itself, a figure may differ from one computed on another machine."""

MOST_TOLD = 6
"""A finding tells so much of what has changed."""

BOTH = 2
NOT_THERE = "none"
APPROVE = "tauthide approve"


def judge(plan: Plan, approval: Source | None, findings: Iterable[Finding]) -> tuple[Standing, tuple[Finding, ...]]:
    """Return how a plan stands with the file beside its spec, None for no file, and what is found in that file."""
    if approval is None:
        return Standing(Reason.NEVER, "Nobody has approved this drum"), ()
    known, fault = read_approval(approval)
    if known is None:
        place = fault.place if fault is not None else Place(approval.shown)
        message = fault.message if fault is not None else "it has been changed by hand since it was written"
        why = f"The approval beside the spec can't be used: {message}"
        return Standing(Reason.UNUSABLE, why), (
            Finding(
                "approval-unusable",
                Severity.WARNING,
                why,
                place,
                allowed=f"what `{APPROVE}` writes, and nothing else",
                write=f"{APPROVE}, once the plan has been reviewed",
            ),
        )
    standing = _weigh(plan, known, findings)
    return standing, _notes(standing, approval)


def read_approval(source: Source) -> tuple[Approval | None, Finding | None]:
    """Return the approval in a file, or the first of what is wrong with it; neither where its seal is broken."""
    if source.document is None or has_errors(source.findings):
        return None, source.findings[0]
    document = source.document
    if document.kind != "approval":
        place = document.located.place((document.kind,), key=True)
        message = f"it is {a_kind(document.kind)} file, not an approval"
        return None, Finding("approval-wrong-kind", Severity.ERROR, message, place)
    return approval_from(document.located.data), None


def not_approved(plan: Plan) -> Finding | None:
    """Return the finding that a drum is not approved, for checks that ask for it; None where it is."""
    standing = plan.standing
    if standing is None or standing.approved:
        return None
    told = f": {'; '.join(standing.changes[:MOST_TOLD])}" if standing.changes else ""
    if len(standing.changes) > MOST_TOLD:
        told += f"; and {len(standing.changes) - MOST_TOLD} more"
    return Finding(
        "not-approved",
        Severity.ERROR,
        f"{standing.why}{told}",
        plan.spec.place,
        "drum",
        found=plan.digest,
        allowed=standing.digest or "a drum that has been approved",
        write=f"{APPROVE} {plan.spec.place.file} --by TEXT, once the plan has been reviewed",
    )


def _weigh(plan: Plan, known: Approval, findings: Iterable[Finding]) -> Standing:
    system: System = "inch" if plan.spec.word("bench.units") == "inch" else "metric"
    changes = (*_changed_values(plan, known, system), *_changed_figures(plan, known, system))
    by = f"approved by {known.by} on {known.date}"
    if known.model != MODEL_VERSION:
        reason, why = (
            Reason.MODEL,
            (f"It was {by} for version {known.model} of the model, and this program has version {MODEL_VERSION}"),
        )
    elif known.digest != plan.digest or changes:
        reason, why = Reason.CHANGED, f"It has changed since it was {by}"
        if known.drum != plan.spec.drum:
            changes = (f"drum: {known.drum} -> {plan.spec.drum}", *changes)
    else:
        reason, why = Reason.APPROVED, f"It was {by}"
    warnings = {finding.name for finding in findings if finding.severity is Severity.WARNING}
    new = tuple(sorted(warnings - known.warning_names)) if reason is Reason.APPROVED else ()
    return Standing(reason, why, known.by, known.date, known.note, known.digest, changes, new)


def _notes(standing: Standing, approval: Source) -> tuple[Finding, ...]:
    if not standing.new_warnings:
        return ()
    message = f"These warnings were not there when the drum was approved: {', '.join(standing.new_warnings)}"
    place = Place(approval.shown)
    return (Finding("warnings-since-approval", Severity.NOTE, message, place, write=f"{APPROVE}, if you stand by it"),)


def _changed_values(plan: Plan, known: Approval, system: System) -> Iterator[str]:
    now = values_of(plan)
    for path in sorted({*now, *known.values}, key=lambda path: (concern_of(path), path)):
        old, new = known.values.get(path), now.get(path)
        if old != new:
            yield f"{path}: {_value_change(plan, path, old, new, system)}"


def _changed_figures(plan: Plan, known: Approval, system: System) -> Iterator[str]:
    """Yield the figures that differ; ones that the program did not have then tell nothing."""
    for name in sorted(known.figures, key=concern_of):
        old, unit = known.figures[name]
        reading = plan.figures.get(name)
        if reading is None:
            yield f"{name}: {old:g} {unit} -> {NOT_THERE}"
        elif abs(reading.value - old) > NOISE + NOISE_SHARE * abs(old):
            before, after, _ = show_change(reading.figure.style, unit, old, reading.value, system)
            yield f"{name}: {before} -> {after}"


def _value_change(plan: Plan, path: str, old: str | None, new: str | None, system: System) -> str:
    """Return a value before and after as the sheet shows it, or as the digest has it where that can't be."""
    setting = plan.spec.settings.get(path)
    quantity = None if setting is None else setting.quantity
    try:
        amounts = [float(text) for text in (old, new) if text is not None]
    except ValueError:
        amounts = []
    if quantity is None or len(amounts) != BOTH:
        return f"{NOT_THERE if old is None else old} -> {NOT_THERE if new is None else new}"
    style = "fine_length" if quantity == "length" else quantity
    before, after, _ = show_change(style, KINDS[quantity].base, amounts[0], amounts[1], system)
    return f"{before} -> {after}"
