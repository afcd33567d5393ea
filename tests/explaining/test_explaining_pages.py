"""Pages of rules and faults: their examples are run."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

import tauthide
from tauthide.explaining.data import page_data, rules_data
from tauthide.explaining.faults import OTHER_FAULTS, OtherFault
from tauthide.explaining.pages import example_text, pages
from tauthide.explaining.text import WIDTH, page_text, rules_text
from tauthide.quantities.figures import start_workings
from tauthide.reading.faults import FAULTS as READING_FAULTS
from tauthide.reading.faults import Fault
from tauthide.reading.template_faults import TEMPLATE_FAULTS
from tauthide.recording.faults import RECORD_FAULTS
from tauthide.rules.registry import RULES, hold_rules
from tauthide.rules.rule import Rule
from tauthide.running.faults import PLANNING_FAULTS
from tauthide.runs.faults import FAULTS as RUN_FAULTS
from tauthide.schema.faults import FAULTS as FIELD_FAULTS
from tauthide.spec.chain import _UNUSABLE, stdin_chain
from tauthide.spec.resolving import resolve

PAGES = pages()


def found_in(example: str) -> list[str]:
    """Return the names of what the rules find in an example; the schema must take it."""
    spec, findings = resolve(stdin_chain(example.encode()))
    assert spec is not None, findings
    return [finding.name for finding in hold_rules(start_workings(spec))]


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
class TestRules:
    """Each rule's page."""

    def test_failing_example_gives_the_finding(self, rule: Rule) -> None:
        assert rule.name in found_in(PAGES[rule.name].failing)

    def test_passing_example_does_not(self, rule: Rule) -> None:
        assert rule.name not in found_in(PAGES[rule.name].passing)

    def test_examples_stand_on_the_page(self, rule: Rule) -> None:
        lines = page_text(PAGES[rule.name]).splitlines()
        assert lines[0] == f"{rule.name}  {rule.severity}"
        assert max(map(len, lines)) <= WIDTH
        start, between = lines.index("  breaks the rule:"), lines.index("  keeps it:")
        failing = "".join(f"{line[4:]}\n" for line in lines[start + 1 : between])
        passing = "".join(f"{line[4:]}\n" for line in lines[between + 1 :])
        assert (failing, passing) == (PAGES[rule.name].failing, PAGES[rule.name].passing)

    def test_all_is_said(self, rule: Rule) -> None:
        words = " ".join(page_text(PAGES[rule.name]).split())
        for said in (rule.why, rule.mend, rule.source):
            assert said
            assert " ".join(said.split()) in words


ALL_FAULTS: tuple[Fault | OtherFault, ...] = (
    *READING_FAULTS, *FIELD_FAULTS, *RUN_FAULTS, *PLANNING_FAULTS, *TEMPLATE_FAULTS, *RECORD_FAULTS,
    *OTHER_FAULTS,
)  # fmt: skip


@pytest.mark.parametrize("fault", ALL_FAULTS, ids=lambda fault: fault.name)
def test_fault_has_a_page(fault: Fault | OtherFault) -> None:
    page = PAGES[fault.name]
    assert page.why
    text = page_text(page)
    assert text.startswith(f"{fault.name}  {page.severity}\n")
    assert max(map(len, text.splitlines())) <= WIDTH
    assert {"rule": page.mend, "fault": page.stage}[page.kind]


def test_pages_of_rules_come_before_those_of_faults() -> None:
    assert all(PAGES[rule.name].kind == "rule" for rule in RULES)
    faults = {fault.name for fault in ALL_FAULTS}
    assert set(PAGES) == {rule.name for rule in RULES} | faults


SOURCES = Path(tauthide.__file__).parent
NAMERS = {"Finding", "_finding", "_inherits"}
"""Functions that are given a finding's name."""
PASSING_ON = {
    "findings.finding_from",  # reads what was a finding before
    "reading.faults.at",
    "rules.acceptance._finding",
    "rules.registry._hold",
    "spec.chain._climb",  # by `_UNUSABLE`, which is looked at below
    "spec.chain._inherits",
    "batch.inputs._finding",
    "sheets.custom._render",  # by `TEMPLATE_FAULTS`
    "sheets.custom.check_templates",
}
"""Where a finding's name is not written out, but passed on from a place that is looked at."""
_NAME = re.compile(r"[a-z]+(?:-[a-z]+)+")


def _namings() -> Iterator[tuple[str, list[str]]]:
    """Yield each place in the program where a finding gets its name, with the names that are written out there."""
    for path in sorted(SOURCES.rglob("*.py")):
        module = ".".join(path.relative_to(SOURCES).with_suffix("").parts)
        tree = ast.parse(path.read_text(encoding="utf-8"))
        for function in (node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef)):
            for call in (node for node in ast.walk(function) if isinstance(node, ast.Call)):
                if isinstance(call.func, ast.Name) and call.func.id in NAMERS:
                    named = [item.value for item in call.args[:3] if isinstance(item, ast.Constant)]
                    names = [name for name in named if isinstance(name, str) and _NAME.fullmatch(name)]
                    yield f"{module}.{function.name}", names


def test_every_finding_has_a_page() -> None:
    """Whatever name a finding shows in brackets, `explain` has something to say of it."""
    namings = list(_namings())
    written = {name for _, names in namings for name in names} | {name for name, _, _ in _UNUSABLE.values()}
    assert {place for place, names in namings if not names} == PASSING_ON
    assert written == {fault.name for fault in OTHER_FAULTS}
    assert written <= set(PAGES)


class TestExamples:
    """Examples are the usual drum with the rule's fields laid over it."""

    def test_usual(self) -> None:
        assert example_text({}) == (
            "spec: 1\ndrum: EXAMPLE\nframe:\n  outline: round\n  diameter: 13 in\n  depth: 55 mm\n"
            "head:\n  hide: goat\nstations:\n  count: 16\n"
        )

    def test_field_is_replaced_where_it_stands(self) -> None:
        text = example_text({"frame.diameter": "20 in", "stations.hole": "9 mm"})
        assert "  diameter: 20 in\n  depth: 55 mm\n" in text
        assert text.endswith("  count: 16\n  hole: 9 mm\n")

    def test_another_outline_drops_the_diameter(self) -> None:
        text = example_text({"frame.outline": "oval", "frame.length": "18 in", "frame.width": "15 in"})
        assert text.startswith(
            "spec: 1\ndrum: EXAMPLE\nframe:\n  outline: oval\n  depth: 55 mm\n  length: 18 in\n  width: 15 in\nhead:\n"
        )

    def test_field_of_no_part_stands_before_the_parts(self) -> None:
        assert example_text({"quantity": 4}).startswith("spec: 1\ndrum: EXAMPLE\nquantity: 4\nframe:\n")


class TestList:
    """The list of the rules."""

    def test_text(self) -> None:
        lines = rules_text(RULES).splitlines()
        assert len(lines) == len(RULES)
        for line, rule in zip(lines, RULES, strict=True):
            name, severity, why = line.split(maxsplit=2)
            assert (name, severity) == (rule.name, rule.severity)
            assert rule.why.startswith(why.removesuffix(" ..."))
            assert len(line) <= WIDTH

    def test_data(self) -> None:
        assert [row["name"] for row in rules_data(RULES)] == [rule.name for rule in RULES]
        assert all(row["why"] and row["mend"] and row["source"] and row["severity"] for row in rules_data(RULES))
        assert page_data(PAGES["web-gone"])["failing"] == PAGES["web-gone"].failing
