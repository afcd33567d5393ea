"""The commands `explain` and `rules`: how a figure came about, where a value comes from, what a rule is for."""

from __future__ import annotations

import argparse
import json
import os
import sys
from collections.abc import Mapping, Sequence
from typing import Any

from tauthide.cli import exits
from tauthide.cli.one_spec import OneSpec, read_one_spec
from tauthide.cli.report import FORMAT, Painter, counted, report_json, report_text, tally, wants_colours
from tauthide.explaining.amounts import NOT_SET, show_setting
from tauthide.explaining.data import field_data, node_data, page_data, rules_data
from tauthide.explaining.field import explain_field
from tauthide.explaining.names import Names, all_names, definition_in_any, either, similar
from tauthide.explaining.origins import origin_text
from tauthide.explaining.pages import pages
from tauthide.explaining.text import field_text, namesake_text, page_text, rules_text, tree_text
from tauthide.explaining.tree import FIELD, SHAPE, conditions, explain_figure, field_node, is_finite
from tauthide.figures import Workings
from tauthide.findings import Finding, Severity, has_errors, in_order
from tauthide.quantities.figures import start_workings
from tauthide.rules.registry import RULES, hold_rules
from tauthide.sheets.amounts import system_of
from tauthide.spec.resolving import resolve
from tauthide.text import plain

UNWORKABLE = (ArithmeticError, LookupError, TypeError, ValueError)
"""What geometry may come to where a gate's rule is broken; anywhere else it is a fault of ours."""


def run_rules(arguments: argparse.Namespace) -> int:
    """List the rules."""
    if arguments.format == "json":
        return _write_json("rules", {"rules": rules_data(RULES)})
    return _write(rules_text(RULES))


def run_explain(arguments: argparse.Namespace) -> int:
    """Explain a figure, rule, fault or field, and return the exit code."""
    asked, names = arguments.what, all_names()
    is_page = asked in names.pages
    if not (is_page or asked in names.figures or asked in names.fields):
        raise exits.UsageTrouble(_unknown(asked, names))
    if arguments.depth is not None and asked not in names.figures:
        raise exits.UsageTrouble("--depth goes with a figure: nothing else has inputs")
    if is_page:
        if arguments.spec is not None:
            raise exits.UsageTrouble(f"`{asked}` is explained without a spec; leave {arguments.spec} out")
        page = pages()[asked]
        return _write_json("explain", page_data(page)) if arguments.format == "json" else _write(page_text(page))
    if arguments.spec is None:
        kind = "figure" if asked in names.figures else "field"
        raise exits.UsageTrouble(f"`{asked}` is a {kind}; name the spec as well: `tauthide explain {asked} SPEC`")
    return _explain_in_spec(arguments, names)


def _explain_in_spec(arguments: argparse.Namespace, names: Names) -> int:
    read = read_one_spec(arguments.spec, "explain")
    if not isinstance(read, OneSpec):
        return _tell(arguments, read, exits.TROUBLE)
    spec, findings = resolve(read.chain)
    if spec is None:
        return _tell(arguments, in_order(findings), exits.WRONG)
    also_field = arguments.what in names.fields
    if arguments.what in names.figures:
        workings = start_workings(spec)
        if workings.applies(arguments.what):
            return _figure(arguments, workings, findings, also_field=also_field)
        if not also_field:
            raise exits.UsageTrouble(_absent(workings, arguments.what))
        if arguments.format == "text":
            sys.stderr.write(f"{plain(_absent(workings, arguments.what))}; this is the field\n")
    assert read.chain.spec.document is not None  # or there were no spec
    page = explain_field(spec, read.chain.spec.document.located, arguments.what)
    return _write_json("explain", field_data(page)) if arguments.format == "json" else _write(field_text(page))


def _figure(arguments: argparse.Namespace, workings: Workings, found: Sequence[Finding], *, also_field: bool) -> int:
    spec, name = workings.spec, arguments.what
    findings = in_order((*found, *hold_rules(workings)))
    try:
        tree = explain_figure(workings, name, arguments.depth)
    except UNWORKABLE:
        if not has_errors(findings):
            raise
        return _tell(arguments, findings, exits.WRONG)
    if not is_finite(tree) and has_errors(findings):
        return _tell(arguments, findings, exits.WRONG)
    errors = sum(finding.severity is Severity.ERROR for finding in findings)
    if arguments.format == "json":
        return _write_json("explain", {**node_data(tree), "also_field": also_field, "errors": errors})
    text = tree_text(tree, spec)
    if also_field:
        text += namesake_text(field_node(workings, name), spec)
    _write(text)
    if errors:
        sys.stderr.write(f"this spec has {counted(errors, 'error')}, so the figure may mean little: see `check`\n")
    return exits.FINE


def _unknown(asked: str, names: Names) -> str:
    near = similar(asked, names)
    if asked in names.parts:
        return f"`{asked}` is a part of a spec; ask for one of its fields: {either(near)}"
    hint = f"; did you mean {either(near)}?" if near else "; `tauthide rules` lists the rules, a sheet its figures"
    return f"there is no figure, rule or field `{asked}`{hint}"


def _absent(workings: Workings, name: str) -> str:
    """Say that a drum has no such figure, and on what that depends."""
    spec, reasons = workings.spec, []
    for item in conditions(workings, name):
        path = item.removeprefix(FIELD)
        setting = spec.settings.get(path)
        if not item.startswith(FIELD):
            reasons.append(item.removeprefix(SHAPE))
        elif setting is None:
            reasons.append(f"{path} ({NOT_SET})")
        else:
            shown = show_setting(setting, system_of(spec)).replace("_", " ")
            reasons.append(f"{path} (here {shown}, {origin_text(setting.origin)})")
    title = definition_in_any(name).title
    return f"this drum has no `{name}` ({title}); whether it has depends on {' and '.join(reasons)}"


def _write(text: str) -> int:
    sys.stdout.write(text)
    sys.stdout.flush()
    return exits.FINE


def _write_json(command: str, data: Mapping[str, Any]) -> int:
    return _write(json.dumps({"format": FORMAT, "command": command, **data}, indent=2) + "\n")


def _tell(arguments: argparse.Namespace, findings: Sequence[Finding], code: int) -> int:
    """Say what keeps the spec from being explained, and return the exit code."""
    if arguments.format == "json":
        sys.stdout.writelines(report_json("explain", findings, {}))
        sys.stdout.flush()
        return code
    painter = Painter(colours=wants_colours(sys.stderr, os.environ))
    sys.stderr.write(report_text(findings, painter))
    sys.stderr.write(f"nothing explained; {tally(findings)}\n")
    sys.stderr.flush()
    return code
