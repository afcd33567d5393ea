"""The pages: a drum's build sheet, the notice that stands in for it, and the index of a batch."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from tauthide.findings import Finding, has_errors
from tauthide.plan.plan import Plan
from tauthide.sheets.environment import template
from tauthide.sheets.index import IndexRow, view_index
from tauthide.sheets.remarks import view_findings
from tauthide.sheets.view import make_view
from tauthide.text import markdown


def render_sheet(plan: Plan, findings: Iterable[Finding] = ()) -> bytes:
    """Return the build sheet of a plan as Markdown, UTF-8; ValueError if a finding is an error."""
    findings = tuple(findings)
    if has_errors(findings):
        raise ValueError(f"a drum with errors gets a notice, not a sheet: {plan.spec.drum}")
    return _render("sheet.md.j2", make_view(plan, findings))


def render_notice(drum: str, title: str = "", findings: Iterable[Finding] = (), spec_file: str = "") -> bytes:
    """Return the page that says not to cut, and why, as Markdown, UTF-8.

    `spec_file` is the name of the spec's file as findings have it: others are shown as seen from its folder.
    """
    view = {
        "drum": markdown(drum),
        "title": markdown(title or drum),
        "remarks": view_findings(findings, spec_file),
    }
    return _render("notice.md.j2", view)


def render_index(rows: Iterable[IndexRow]) -> bytes:
    """Return the index of a batch as Markdown, UTF-8: the rows by drum's name, whatever their order."""
    return _render("index.md.j2", view_index(rows))


def _render(name: str, view: Mapping[str, object]) -> bytes:
    return (template(name).render(view).rstrip("\n") + "\n").encode("utf-8")
