"""Pages of rules and faults: their examples are run."""

from __future__ import annotations

import pytest

from tauthide.explaining.data import page_data, rules_data
from tauthide.explaining.pages import example_text, pages
from tauthide.explaining.text import WIDTH, page_text, rules_text
from tauthide.quantities.figures import start_workings
from tauthide.reading.faults import FAULTS as READING_FAULTS
from tauthide.reading.faults import Fault
from tauthide.reading.template_faults import TEMPLATE_FAULTS
from tauthide.rules.registry import RULES, hold_rules
from tauthide.rules.rule import Rule
from tauthide.schema.faults import FAULTS as FIELD_FAULTS
from tauthide.spec.chain import stdin_chain
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


@pytest.mark.parametrize("fault", [*READING_FAULTS, *FIELD_FAULTS, *TEMPLATE_FAULTS], ids=lambda fault: fault.name)
def test_fault_has_a_page(fault: Fault) -> None:
    page = PAGES[fault.name]
    assert page.why
    text = page_text(page)
    assert text.startswith(f"{fault.name}  {page.severity}\n")
    assert max(map(len, text.splitlines())) <= WIDTH
    assert {"rule": page.mend, "fault": page.stage}[page.kind]


def test_pages_of_rules_come_before_those_of_faults() -> None:
    assert all(PAGES[rule.name].kind == "rule" for rule in RULES)
    faults = {fault.name for fault in (*READING_FAULTS, *FIELD_FAULTS, *TEMPLATE_FAULTS)}
    assert set(PAGES) == {rule.name for rule in RULES} | faults


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
