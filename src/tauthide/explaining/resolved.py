"""A whole drum as lines of text, for comparing two of them: every value with its origin, and every figure.

A line says one thing and depends on nothing else: nothing is lined up, and no line of a file is told, so that
two texts differ only where the drums do.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from tauthide.explaining.amounts import show_setting
from tauthide.findings import Finding, in_order, relative_to
from tauthide.plan.plan import Plan
from tauthide.sheets.amounts import show_figures, system_of
from tauthide.sheets.origins import LAYER_TITLES
from tauthide.spec.layers import Origin
from tauthide.spec.settings import Spec
from tauthide.text import plain

NO_FIGURES = "no figures: this drum has errors"


def resolved_text(spec: Spec, plan: Plan | None, findings: Iterable[Finding]) -> str:
    """Return a drum as text: its head, values, figures and findings; `plan` is none where it has errors."""
    lines = (*_head(spec, plan), *_values(spec), *_figures(spec, plan), *_findings(findings))
    return "".join(f"{line}\n" for line in lines)


def _head(spec: Spec, plan: Plan | None) -> Iterator[str]:
    yield f"drum: {plain(spec.drum)}"
    if spec.title:
        yield f"title: {plain(spec.title)}"
    yield f"quantity: {spec.quantity}"
    yield from (f"notes: {plain(line)}" for line in spec.notes.splitlines())
    yield from (f"accepts {plain(item.rule)}: {plain(item.because)}" for item in spec.acceptances)
    if plan is not None:
        yield f"digest: {plan.digest}"


def _values(spec: Spec) -> Iterator[str]:
    yield "\nvalues"
    system = system_of(spec)
    for path, setting in spec.settings.items():
        yield f"  {path}: {plain(show_setting(setting, system))} [{plain(_origin(spec, setting.origin))}]"


def _origin(spec: Spec, origin: Origin) -> str:
    title = LAYER_TITLES[origin.layer]
    if origin.place is None or origin.layer == "spec":
        return title
    return f"{title}: {relative_to(spec.place.file, origin.place.file)}"


def _figures(spec: Spec, plan: Plan | None) -> Iterator[str]:
    if plan is None:
        yield f"\n{NO_FIGURES}"
        return
    yield "\nfigures"
    for name, shown in show_figures(plan, system_of(spec)).items():
        yield f"  {name}: {shown}"


def _findings(findings: Iterable[Finding]) -> Iterator[str]:
    ordered = in_order(findings)
    if ordered:
        yield "\nfindings"
    for finding in ordered:
        path = f" ({finding.path})" if finding.path else ""
        accepted = f"; accepted: {finding.accepted}" if finding.accepted else ""
        yield f"  {finding.severity} {finding.name}{plain(path)}: {plain(finding.message)}{plain(accepted)}"
