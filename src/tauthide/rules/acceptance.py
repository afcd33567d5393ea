"""Warnings and notes that a spec accepts, each with its reason."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import replace
from difflib import get_close_matches

from tauthide.findings import Finding, Severity
from tauthide.spec.settings import Acceptance


def accept(
    findings: Iterable[Finding], acceptances: Iterable[Acceptance], rules: Collection[str], held: Collection[str]
) -> tuple[Finding, ...]:
    """Give the findings that are accepted their reasons, and add what is wrong with the acceptances themselves.

    An error can't be accepted. An acceptance that matches nothing is a finding, so that none stays behind
    when the drum has changed; but nothing can be said of a rule that was not `held` against the drum.
    """
    reasons = {acceptance.rule: acceptance.because for acceptance in acceptances}
    listed = list(findings)
    marked = [
        replace(finding, accepted=reasons[finding.name])
        if finding.name in reasons and finding.severity is not Severity.ERROR
        else finding
        for finding in listed
    ]
    return (*marked, *(found for item in acceptances for found in _judge(item, listed, rules, held)))


def _judge(
    acceptance: Acceptance, findings: list[Finding], rules: Collection[str], held: Collection[str]
) -> list[Finding]:
    severities = {finding.severity for finding in findings if finding.name == acceptance.rule}
    if acceptance.rule not in rules:
        close = get_close_matches(acceptance.rule, sorted(rules), n=1)
        return [
            _finding(acceptance, "unknown-rule", Severity.ERROR, "There is no rule of this name to accept",
                     "the name of a rule: see `tauthide rules`", f"rule: {close[0]}" if close else "")
        ]  # fmt: skip
    if Severity.ERROR in severities:
        return [
            _finding(acceptance, "error-not-acceptable", Severity.WARNING, "An error cannot be accepted",
                     "warnings and notes only")
        ]  # fmt: skip
    if not severities and acceptance.rule in held:
        return [
            _finding(acceptance, "acceptance-unused", Severity.WARNING,
                     "This is accepted, but the drum no longer breaks that rule",
                     "acceptances of what is found: take this one out")
        ]  # fmt: skip
    return []


def _finding(
    acceptance: Acceptance, name: str, severity: Severity, message: str, allowed: str, write: str = ""
) -> Finding:
    return Finding(name, severity, message, acceptance.place, "accept", acceptance.rule, allowed, write)
