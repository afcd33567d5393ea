"""What rules find in drums that accept some of it, and drums mended as they are told."""

from __future__ import annotations

import textwrap
from pathlib import Path

from drums import Fields, spec_text
from rule_cases import findings_in_shop, findings_of, found_by, told
from tauthide.findings import Finding
from tauthide.quantities.figures import start_workings
from tauthide.rules.registry import hold_rules
from tauthide.schema.fields import fields as fields_of
from tauthide.spec.chain import stdin_chain
from tauthide.spec.resolving import resolve


def findings_accepting(fields: Fields, *rules: str) -> tuple[Finding, ...]:
    """Return what the rules find in a drum whose maker accepts some of them, because `we said so`."""
    items = "".join(f"  - {{rule: {rule}, because: we said so}}\n" for rule in rules)
    spec, findings = resolve(stdin_chain(spec_text(fields, f"spec: 1\ndrum: TEST\naccept:\n{items}").encode()))
    assert spec is not None, findings
    return hold_rules(start_workings(spec))


def findings_with_hides(folder: Path, fields: Fields, hides: str) -> tuple[Finding, ...]:
    """Return what the rules find in a drum of a shop that says this of its hides, as `{goat: {web: 18 mm}}`."""
    return findings_in_shop(folder, f"shop: 1\nhides: {hides}\n", fields)


def names_in(fields: Fields) -> list[str]:
    """Return the names of what the rules find in a drum."""
    return [finding.name for finding in findings_of(fields)]


def named(name: str, findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """Return the findings of this name."""
    return tuple(finding for finding in findings if finding.name == name)


def assert_told(name: str, fields: Fields, says: str) -> None:
    """Check that the rule of this name says exactly this of a drum."""
    assert told(found_by(name, fields)) == textwrap.dedent(says).rstrip()


def mended(fields: Fields, finding: Finding) -> Fields:
    """Return the fields with what a finding says to write put in its place."""
    key, value = finding.write.split(": ")
    assert key == finding.path.rpartition(".")[2]
    return {**fields, finding.path: int(value) if fields_of("spec")[finding.path].type == "integer" else value}
