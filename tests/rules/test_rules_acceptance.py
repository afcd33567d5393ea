"""Warnings that a spec accepts, each with its reason: from the spec to reports, plan and sheet's data."""

from __future__ import annotations

import json
import textwrap

import pytest
from jsonschema import Draft202012Validator

from drums import Fields, changed
from rule_cases import told
from rule_findings import findings_accepting, named
from tauthide.findings import Finding, Severity, has_errors
from tauthide.rules.registry import RULES
from tauthide.schema.store import schema
from workshops import Workshop, workshop

__all__ = ["workshop"]

WARM = changed(bench_water="40 C")


def found(fields: Fields, *rules: str) -> list[tuple[str, Severity, str]]:
    """Return name, severity and reason of what is found in a drum that accepts these rules."""
    return [(item.name, item.severity, item.accepted) for item in findings_accepting(fields, *rules)]


class TestAccepted:
    def test_warning(self) -> None:
        assert found(WARM, "soak-water-warm") == [("soak-water-warm", Severity.WARNING, "we said so")]

    def test_note(self) -> None:
        fields = changed(voice_pitch="A2", frame_wall="4 mm")
        assert found(fields, "pull-on-frame") == [("pull-on-frame", Severity.NOTE, "we said so")]

    def test_only_what_is_named(self) -> None:
        both = changed(bench_water="40 C", bench_humidity="90 %")
        assert found(both, "drying-damp") == [
            ("soak-water-warm", Severity.WARNING, ""),
            ("drying-damp", Severity.WARNING, "we said so"),
        ]

    def test_all_of_the_name(self) -> None:
        both = changed(bench_air="29 C", bench_humidity="10 %")
        assert found(both, "drying-fast", "wet-time-long") == [
            ("wet-time-long", Severity.WARNING, "we said so"),
            ("drying-fast", Severity.WARNING, "we said so"),
            ("drying-fast", Severity.WARNING, "we said so"),
        ]

    @pytest.mark.parametrize("rule", [rule.name for rule in RULES if rule.severity is not Severity.ERROR])
    def test_every_warning_and_note(self, rule: str) -> None:
        example = next(item.failing for item in RULES if item.name == rule)
        fields = {**changed(), **example}
        if "frame.outline" in example:
            fields.pop("frame.diameter")
        reasons = {name: reason for name, severity, reason in found(fields, rule) if severity is not Severity.ERROR}
        assert reasons[rule] == "we said so"
        assert "acceptance-unused" not in reasons


class TestNotAccepted:
    def test_error(self) -> None:
        hot = changed(bench_water="55 C")
        assert found(hot, "soak-water-warm") == [
            ("soak-water-warm", Severity.ERROR, ""),
            ("error-not-acceptable", Severity.WARNING, ""),
        ]
        assert told(named("error-not-acceptable", findings_accepting(hot, "soak-water-warm"))) == textwrap.dedent("""\
            warning error-not-acceptable at - {rule: soak-water-warm, because: we said so}
            An error cannot be accepted
            found: soak-water-warm
            allowed: warnings and notes only
            write:""")

    def test_unused(self) -> None:
        findings = findings_accepting(changed(), "soak-water-warm")
        assert told(named("acceptance-unused", findings)) == textwrap.dedent("""\
            warning acceptance-unused at - {rule: soak-water-warm, because: we said so}
            This is accepted, but the drum no longer breaks that rule
            found: soak-water-warm
            allowed: acceptances of what is found: take this one out
            write:""")

    def test_unknown(self) -> None:
        findings = findings_accepting(WARM, "soak-water-worm")
        assert told(named("unknown-rule", findings)) == textwrap.dedent("""\
            error unknown-rule at - {rule: soak-water-worm, because: we said so}
            There is no rule of this name to accept
            found: soak-water-worm
            allowed: the name of a rule: see `tauthide rules`
            write: rule: soak-water-warm""")
        assert has_errors(findings)
        assert "acceptance-unused" not in [finding.name for finding in findings]

    def test_unknown_and_like_nothing(self) -> None:
        (finding,) = findings_accepting(changed(), "zzz")
        assert (finding.name, finding.write) == ("unknown-rule", "")

    def test_behind_a_gate_nothing_is_known(self) -> None:
        """A drum that can't be reckoned is not held against the other rules, so none of them is `no longer` broken."""
        assert found(changed(frame_edge_radius="9 mm", bench_water="40 C"), "soak-water-warm") == [
            ("edge-rounding-too-large", Severity.ERROR, "")
        ]

    def test_place_is_the_rules_name(self) -> None:
        (finding,) = findings_accepting(changed(), "drying-fast")
        line = finding.place.text[finding.place.column - 1 :][: finding.place.width]
        assert (finding.path, line) == ("accept", "drying-fast")


SPEC = """\
spec: 1
drum: WARM
accept:
  - {rule: soak-water-warm, because: "our tap | has no *cold*"}
frame: {outline: round, diameter: 13 in, depth: 55 mm}
head: {hide: goat}
stations: {count: 16}
bench: {water: 40 C}
"""
REASON = "our tap | has no *cold*"


class TestShown:
    def test_text(self, workshop: Workshop) -> None:
        workshop.write("warm.yaml", SPEC)
        run = workshop.run("check", "warm.yaml")
        assert run.code == 0
        found, allowed, write, accepted = run.err.splitlines()[3:7]
        assert found == "      found    40 C"
        assert allowed == "      allowed  at most 30 C; the cooler, the better"
        assert write.startswith("      write    water: 30 C")
        assert accepted == f"      accepted {REASON}"

    def test_text_of_what_is_not(self, workshop: Workshop) -> None:
        workshop.write("warm.yaml", SPEC.replace("accept:\n", "").replace(SPEC.splitlines()[3] + "\n", ""))
        run = workshop.run("check", "warm.yaml")
        assert "[soak-water-warm]" in run.out + run.err
        assert "accepted" not in run.out + run.err

    def test_json(self, workshop: Workshop) -> None:
        workshop.write("warm.yaml", SPEC)
        assert workshop.check("warm.yaml").only["accepted"] == REASON

    def test_plan(self, workshop: Workshop) -> None:
        workshop.write("warm.yaml", SPEC)
        assert workshop.build("warm.yaml").code == 0
        plan = json.loads(workshop.sheets()["WARM/plan.json"])
        Draft202012Validator(schema("plan")).validate(plan)
        assert [finding["accepted"] for finding in plan["findings"]] == [REASON]

    def test_plan_needs_the_word(self, workshop: Workshop) -> None:
        """The schema asks for the field, and would refuse another."""
        workshop.write("warm.yaml", SPEC)
        workshop.build("warm.yaml")
        plan = json.loads(workshop.sheets()["WARM/plan.json"])
        validator = Draft202012Validator(schema("plan"))
        del plan["findings"][0]["accepted"]
        assert [error.validator for error in validator.iter_errors(plan)] == ["required"]

    def test_units_of_the_figures(self, workshop: Workshop) -> None:
        """With a voice there are figures in all units that the schema of plans lists for forces."""
        workshop.write("warm.yaml", SPEC + "voice: {pitch: A2}\n")
        assert workshop.build("warm.yaml").code == 0
        plan = json.loads(workshop.sheets()["WARM/plan.json"])
        Draft202012Validator(schema("plan")).validate(plan)
        assert {"kg/m2", "N/m", "N", "Hz"} <= {figure["unit"] for figure in plan["figures"].values()}

    def test_build_again_says_it_again(self, workshop: Workshop) -> None:
        """What a drum that is up to date was accepted for is kept."""
        workshop.write("warm.yaml", SPEC)
        first, second = workshop.build("warm.yaml"), workshop.build("warm.yaml")
        assert first.findings == second.findings
        assert second.only["accepted"] == REASON


def test_reason_is_data_of_the_finding() -> None:
    (finding,) = findings_accepting(WARM, "soak-water-warm")
    assert isinstance(finding, Finding)
    assert finding.accepted == "we said so"
