"""What every rule is tested by: cases beside each other, and the laws that they keep."""

from __future__ import annotations

import re
import textwrap
from dataclasses import dataclass
from pathlib import Path

from drums import Fields, spec_text
from tauthide.findings import Finding
from tauthide.quantities.figures import start_workings
from tauthide.rules.registry import hold_rules
from tauthide.spec.chain import Library, read_source, stdin_chain
from tauthide.spec.resolving import resolve


@dataclass(frozen=True)
class Cases:
    """The cases of one rule. A test module lists its rules' cases, by name, as `CASES`."""

    breaks: Fields
    says: str
    """All that this rule says of the case that breaks it: see `told`."""
    limit: Fields
    """Keeps the rule by nothing: what lies just beyond breaks it."""
    beyond: Fields
    """Just beyond the limit."""
    keeps: Fields


def findings_of(fields: Fields) -> tuple[Finding, ...]:
    """Return what the rules find in a drum; the schema itself must find nothing."""
    spec, findings = resolve(stdin_chain(spec_text(fields).encode()))
    assert spec is not None, findings
    return hold_rules(start_workings(spec))


def findings_in_shop(folder: Path, shop: str, fields: Fields) -> tuple[Finding, ...]:
    """Return what the rules find in a drum beside a shop file, both written to a folder."""
    (folder / "shop.yaml").write_text(shop, encoding="utf-8")
    spec_file = folder / "drum.yaml"
    spec_file.write_text(spec_text(fields), encoding="utf-8")
    source = read_source(spec_file, spec_file.name, spec_file.read_bytes())
    spec, findings = resolve(Library(lambda path: path.name).chain(source))
    assert spec is not None, findings
    return hold_rules(start_workings(spec))


def found_by(name: str, fields: Fields) -> tuple[Finding, ...]:
    """Return what the rule of this name finds in a drum."""
    return tuple(finding for finding in findings_of(fields) if finding.name == name)


def told(findings: tuple[Finding, ...]) -> str:
    """Return all that findings say, a line for each thing."""
    said = "".join(
        f"{finding.severity} {finding.name} at {finding.place.text.strip()}\n{finding.message}\n"
        f"found: {finding.found}\nallowed: {finding.allowed}\nwrite: {finding.write}\n"
        for finding in findings
    )
    return "\n".join(line.rstrip() for line in said.splitlines())


class RuleLaws:
    """The tests that every rule's cases must pass; subclasses are given names and cases."""

    def test_breaks(self, name: str, cases: Cases) -> None:
        """The whole text is pinned."""
        assert told(found_by(name, cases.breaks)) == textwrap.dedent(cases.says).rstrip()

    def test_keeps(self, name: str, cases: Cases) -> None:
        """No gate is broken either, or the rule would not have been held at all."""
        assert told(found_by(name, cases.keeps)) == ""
        assert is_held(cases.keeps)

    def test_limit(self, name: str, cases: Cases) -> None:
        """At the limit nothing is found."""
        assert told(found_by(name, cases.limit)) == ""

    def test_just_beyond(self, name: str, cases: Cases) -> None:
        """The limit case stands at the limit indeed."""
        assert found_by(name, cases.beyond)

    def test_what_was_found_is_not_what_is_allowed(self, name: str, cases: Cases) -> None:
        """A maker can't do anything with `found 10 mm, allowed at least 10 mm`, least of all near the limit."""
        for finding in (*found_by(name, cases.breaks), *found_by(name, cases.beyond)):
            found, allowed = (_LENGTH.findall(text) for text in (finding.found, finding.allowed))
            assert finding.found
            assert not found or not allowed or found[-1] != allowed[0], finding


_LENGTH = re.compile(r"-?[0-9.]+ (?:mm²|mm|in|%)")


def is_held(fields: Fields) -> bool:
    """Tell whether a drum passes all gates, so that the other rules are held against it."""
    return not GATES & {finding.name for finding in findings_of(fields)}


GATES = {
    "lace-of-other-lacing",
    "laces-too-many",
    "edge-rounding-too-large",
    "web-gone",
    "margin-gone",
    "holes-in-head",
    "pair-too-wide",
    "ring-large",
    "two-heads-not-round",
    "handle-without-hub",
    "drop-small",
    "heads-meet",
}
