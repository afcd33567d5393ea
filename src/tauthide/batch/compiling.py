"""Compiling one spec: from its file to findings, and to the bytes of all that is made of it."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from tauthide.approving.judging import judge
from tauthide.batch.fingerprint import fingerprint
from tauthide.batch.inputs import Input, unreadable
from tauthide.batch.making import PLAIN, Making
from tauthide.drawings.frame import draw_frame, is_drawn
from tauthide.drawings.gauge import draw_gauge
from tauthide.drawings.lacing import draw_lacing
from tauthide.drawings.layout import draw_layout
from tauthide.drawings.pages import STAMP
from tauthide.drawings.section import draw_section
from tauthide.drawings.steps import draw_steps
from tauthide.figures import Workings
from tauthide.findings import Finding, has_errors, in_order
from tauthide.output.plan_json import render_plan
from tauthide.plan.plan import Plan, make_plan
from tauthide.printing.prints import render_prints
from tauthide.quantities.figures import start_workings
from tauthide.reading.files import FileTrouble
from tauthide.rules.registry import hold_rules
from tauthide.sheets.custom import render_sheet_with
from tauthide.sheets.sheet import render_sheet
from tauthide.spec.chain import Chain, Library
from tauthide.spec.resolving import resolve
from tauthide.spec.settings import Spec


@dataclass(frozen=True, slots=True)
class Compiled:
    """What became of one spec."""

    plan: Plan | None
    """None where there are errors."""
    findings: tuple[Finding, ...]
    """In order of place."""
    fingerprint: str = ""
    """Of the files that it was compiled from; empty where they can't be read."""
    unreadable: bool = False
    spec: Spec | None = None
    """None where the files that feed it have errors."""
    workings: Workings | None = None
    """What the plan was worked out by; None without one."""


def compile_input(item: Input, library: Library) -> Compiled:
    """Compile a spec as far as it goes."""
    try:
        chain = item.chain(library)
    except FileTrouble as trouble:
        return Compiled(None, (unreadable(item.shown, trouble),), unreadable=True)
    return compile_chain(chain)


def compile_chain(chain: Chain) -> Compiled:
    """Compile a spec from what feeds it; a stage starts only if the one before found no errors."""
    spec, findings = resolve(chain)
    print_of_chain = fingerprint(chain)
    if spec is None:
        return Compiled(None, in_order(findings), print_of_chain)
    workings = start_workings(spec)
    findings = in_order((*findings, *hold_rules(workings)))
    if has_errors(findings):
        return Compiled(None, findings, print_of_chain, spec=spec)
    plan = make_plan(workings)
    standing, found = judge(plan, chain.approval, findings)
    return Compiled(
        replace(plan, standing=standing), in_order((*findings, *found)), print_of_chain, spec=spec, workings=workings
    )


def render_drum(plan: Plan, findings: Sequence[Finding], making: Making = PLAIN) -> Mapping[str, bytes]:
    """Return the files of a drum by name, those to be printed as far as they are wanted.

    TemplateTrouble where a maker's templates fail.
    """
    data = render_plan(plan, findings)
    templates = making.templates
    files = {
        "sheet.md": render_sheet(plan, findings)
        if templates is None
        else render_sheet_with(templates, plan, findings, json.loads(data)),
        "layout.svg": draw_layout(plan),
        "section.svg": draw_section(plan),
        "lacing.svg": draw_lacing(plan),
        "steps.svg": draw_steps(plan),
        "gauge.svg": draw_gauge(plan),
        "plan.json": data,
    }
    if is_drawn(plan):
        files["frame.svg"] = draw_frame(plan)
    if plan.second is not None:
        files["layout-2.svg"] = draw_layout(replace(plan.second, standing=plan.standing))
    standing = plan.standing
    notice = "" if standing is None or standing.approved else STAMP
    return files | render_prints(plan, files, making.prints, notice)
