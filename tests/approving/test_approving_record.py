"""The record of an approval: written, read back, and void once it is changed by hand."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drums import USUAL, Fields, changed, drums, few, plan_of, spec_text
from tauthide.approving.judging import judge, not_approved, read_approval
from tauthide.approving.record import Approval, approval_text, make_approval
from tauthide.findings import Finding, Place, Severity
from tauthide.plan.plan import Plan, Reading
from tauthide.plan.standing import Reason
from tauthide.spec import digest as digests
from tauthide.spec.chain import Chain, Source, check_source, read_source, stdin_chain

SHOWN = "a.approval.yaml"
WARNING = Finding("pairs-close", Severity.WARNING, "Pairs lie close", Place("a.yaml"), accepted="tried it")


def approved(plan: Plan, fields: Fields = USUAL, note: str = "") -> Approval:
    """Approve a plan."""
    return make_approval(plan, chain_of(fields), (WARNING,), "library workshop", "2026-03-02", note)


def chain_of(fields: Fields) -> Chain:
    """Return what feeds a spec, without a folder."""
    return stdin_chain(spec_text(fields).encode())


def source_of(text: str) -> Source:
    """Return a document as the library reads it."""
    return check_source(read_source(Path(SHOWN), SHOWN, text.encode()))


def reason_of(plan: Plan, text: str | None) -> Reason:
    """Return how a plan stands with a document beside its spec."""
    return judge(plan, None if text is None else source_of(text), ())[0].reason


class TestRecord:
    """What is written is read back."""

    @few
    @given(drums(), st.text(min_size=1, max_size=50), st.text(max_size=80))
    def test_round_trip(self, fields: Fields, by: str, note: str) -> None:
        plan = plan_of(fields)
        words = [" ".join(text.split()).encode("utf-8", "replace").decode() for text in (by, note)]
        approval = make_approval(plan, chain_of(fields), (WARNING,), words[0] or "x", "2026-03-02", words[1])
        source = source_of(approval_text(approval))
        assert source.findings == ()
        known, _ = read_approval(source)
        assert known is not None
        assert approval_text(known) == approval_text(approval)
        assert (known.digest, known.model, known.values) == (plan.digest, digests.MODEL_VERSION, approval.values)
        assert known.figures.keys() == plan.figures.keys()

    def test_what_it_says(self) -> None:
        text = approval_text(approved(plan_of(), note='said "yes"'))
        assert text.startswith("approval: 1\n")
        assert '"pairs-close: Pairs lie close (accepted: tried it)"' in text
        assert '"frame.diameter = 330.200000"' in text
        assert '"head.blank_diameter = ' in text
        assert 'note: "said \\"yes\\""' in text

    def test_no_approval_with_errors(self) -> None:
        with pytest.raises(ValueError, match="errors"):
            make_approval(plan_of(), chain_of(USUAL), (replace(WARNING, severity=Severity.ERROR),), "x", "2026-03-02")


class TestJudging:
    """Whether an approval holds, and if not, why."""

    def test_holds(self) -> None:
        plan = plan_of()
        standing, findings = judge(plan, source_of(approval_text(approved(plan))), (WARNING,))
        assert (standing.approved, standing.by, standing.date) == (True, "library workshop", "2026-03-02")
        assert findings == ()

    def test_never(self) -> None:
        assert reason_of(plan_of(), None) is Reason.NEVER

    def test_changed(self) -> None:
        standing, _ = judge(plan_of(frame_depth="56 mm"), source_of(approval_text(approved(plan_of()))), ())
        assert standing.reason is Reason.CHANGED
        assert "frame.depth: 55.0 mm (2.165 in) -> 56.0 mm (2.205 in)" in standing.changes
        assert any(line.startswith("head.blank_diameter: ") for line in standing.changes)

    def test_changed_and_no_figure(self) -> None:
        standing, _ = judge(plan_of(head_outer="flesh"), source_of(approval_text(approved(plan_of()))), ())
        assert (standing.reason, standing.changes) == (Reason.CHANGED, ("head.outer: hair -> flesh",))

    def test_other_version_of_the_model(self) -> None:
        plan = plan_of()
        old = replace(approved(plan), model=digests.MODEL_VERSION + 1)
        standing, _ = judge(plan, source_of(approval_text(old)), ())
        assert standing.reason is Reason.MODEL
        assert f"version {digests.MODEL_VERSION + 1}" in standing.why

    def test_figures_altered_under_the_same_version(self) -> None:
        """Even if the version was forgotten, an old approval does not cover other numbers."""
        plan = plan_of()
        text = approval_text(approved(plan))
        blank = plan.figures["head.blank_diameter"]
        other = replace(plan, figures={**plan.figures, "head.blank_diameter": Reading(blank.figure, blank.value + 1)})
        assert other.digest == plan.digest
        standing, _ = judge(other, source_of(text), ())
        assert standing.reason is Reason.CHANGED
        assert [line.partition(":")[0] for line in standing.changes] == ["head.blank_diameter"]

    def test_noise_of_another_machine(self) -> None:
        plan = plan_of()
        near = {name: Reading(one.figure, one.value * (1 + 1e-12)) for name, one in plan.figures.items()}
        assert reason_of(replace(plan, figures=near), approval_text(approved(plan))) is Reason.APPROVED

    def test_new_figures_of_the_program(self) -> None:
        plan = plan_of()
        known = approved(plan)
        fewer = {name: value for name, value in known.figures.items() if name != "hold.dry"}
        assert reason_of(plan, approval_text(replace(known, figures=fewer))) is Reason.APPROVED

    def test_new_warning(self) -> None:
        plan = plan_of()
        other = replace(WARNING, name="tab-short")
        standing, findings = judge(plan, source_of(approval_text(approved(plan))), (WARNING, other))
        assert standing.approved
        assert [(finding.name, finding.severity) for finding in findings] == [
            ("warnings-since-approval", Severity.NOTE)
        ]
        assert "tab-short" in findings[0].message

    @few
    @given(drums(), st.sampled_from(("frame.depth", "lace.tail", "lace.core")))
    def test_any_other_drum_is_not_covered(self, fields: Fields, path: str) -> None:
        plan = plan_of(fields)
        text = approval_text(approved(plan, fields))
        assert reason_of(plan, text) is Reason.APPROVED
        other = plan_of(changed(fields, **{path.replace(".", "_"): f"{plan.spec.number(path) + 0.5:.3f} mm"}))
        assert reason_of(other, text) is Reason.CHANGED


class TestTampering:
    """An approval that was changed, or can't be read, is none."""

    @pytest.mark.parametrize(
        ("old", "new"),
        [
            ('by: "library workshop"', 'by: "somebody else"'),
            ('date: "2026-03-02"', 'date: "2026-03-03"'),
            ("frame.depth = 55", "frame.depth = 56"),
            ("model: 1", "model: 2"),
            ('drum: "TEST"', 'drum: "OTHER"'),
            ('seal: "', 'seal: "0'),
            ("holes.web = ", "holes.web : "),
        ],
    )
    def test_changed_by_hand(self, old: str, new: str) -> None:
        plan = plan_of()
        text = approval_text(approved(plan))
        assert old in text
        standing, findings = judge(plan, source_of(text.replace(old, new, 1)), ())
        assert standing.reason is Reason.UNUSABLE
        assert [finding.name for finding in findings] == ["approval-unusable"]
        assert findings[0].place.file == SHOWN

    @pytest.mark.parametrize(
        "text", ["", "approval: 2\n", "approval: 1\n", "spec: 1\ndrum: X\n", "<<<<<<< HEAD\n", "a"]
    )
    def test_no_approval_at_all(self, text: str) -> None:
        standing, findings = judge(plan_of(), source_of(text), ())
        assert (standing.reason, len(findings)) == (Reason.UNUSABLE, 1)

    def test_comments_and_order_are_no_change(self) -> None:
        plan = plan_of()
        first, *rest = approval_text(approved(plan)).splitlines()
        assert reason_of(plan, "\n".join([first, "# seen", *rest]) + "\n") is Reason.APPROVED

    @few
    @given(st.data())
    def test_any_spoilt_line(self, data: st.DataObject) -> None:
        plan = plan_of()
        lines = approval_text(approved(plan)).splitlines()
        index = data.draw(st.integers(2, len(lines) - 1))
        lines[index] = data.draw(st.sampled_from(("", "x", lines[index] + "0", lines[index][:-1], "  - 'a = 1'")))
        standing, _ = judge(plan, source_of("\n".join(lines) + "\n"), ())
        assert standing.reason is Reason.UNUSABLE


def test_finding_of_a_check() -> None:
    plan = plan_of()
    assert not_approved(plan) is None
    standing, _ = judge(plan, None, ())
    finding = not_approved(replace(plan, standing=standing))
    assert finding is not None
    assert (finding.name, finding.severity, finding.found) == ("not-approved", Severity.ERROR, plan.digest)
