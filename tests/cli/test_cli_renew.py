"""The command `renew`, and old specs in every other command, by made-up versions."""

from __future__ import annotations

from pathlib import Path

import pytest

from old_versions import SIZE, STEPS, to_version_0
from tauthide.suggesting.renewing import renew
from workshops import PARTS, Workshop, spec_text

SPECS = Path(__file__).parents[2] / "specs"
DEMOS = sorted(path.name for path in SPECS.glob("*.yaml") if to_version_0(path.read_text()) != path.read_text())
"""Demo files that were other in the made-up version 0."""
COMMENTED = """\
# A drum for the hall.
spec: 0            # the first of its kind
drum: "HALL"
frame:
  # measured twice
  depth: 55 mm
  size: 13 in      # outside
  outline: round

head: {hide: goat}
stations: {count: 16}
"""


@pytest.fixture(autouse=True)
def _old_versions(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("tauthide.reading.upgrades.UPGRADES", STEPS)


class TestOldSpecs:
    def test_check_says_so_in_a_note(self, workshop: Workshop) -> None:
        workshop.write("specs/a.yaml", to_version_0(spec_text()))
        run = workshop.check()
        assert run.code == 0
        (note,) = [finding for finding in run.findings if finding["name"] == "old-version"]
        assert (note["severity"], note["line"], note["column"]) == ("note", 1, 7)

    def test_same_drum_and_digest(self, workshop: Workshop) -> None:
        workshop.write("a.yaml", spec_text())
        new = workshop.run("show", "a.yaml").out
        workshop.write("a.yaml", to_version_0(spec_text()))
        old = workshop.run("show", "a.yaml").out
        noted = [line for line in old.splitlines() if "old-version" in line]
        assert len(noted) == 1
        assert set(old.splitlines()) - set(new.splitlines()) <= {"findings", *noted}

    def test_findings_point_at_the_old_word(self, workshop: Workshop) -> None:
        workshop.write("a.yaml", to_version_0(spec_text(parts=PARTS.replace("13 in", "13"))))
        (finding,) = [found for found in workshop.check("a.yaml").findings if found["severity"] == "error"]
        assert (finding["name"], finding["path"]) == ("missing-unit", "frame.diameter")
        assert "size: 13" in finding["text"]

    def test_old_base_beneath_a_new_spec(self, workshop: Workshop) -> None:
        workshop.write("set.base.yaml", to_version_0("base: 1\nframe: {outline: round, diameter: 13 in}\n"))
        parts = "frame: {depth: 55 mm}\nhead: {hide: goat}\nstations: {count: 16}\n"
        workshop.write("a.yaml", spec_text(more="inherits: set.base.yaml\n", parts=parts))
        run = workshop.check("a.yaml")
        assert run.code == 0
        assert [found["file"] for found in run.findings if found["name"] == "old-version"] == ["set.base.yaml"]

    def test_suggest_asks_to_renew_first(self, workshop: Workshop) -> None:
        workshop.write("a.yaml", to_version_0(spec_text()))
        run = workshop.run("suggest", "a.yaml")
        assert run.code == 2
        assert "tauthide renew a.yaml" in run.err


class TestRenew:
    def test_comments_order_and_quotes_stay(self, workshop: Workshop) -> None:
        workshop.write("specs/a.yaml", COMMENTED)
        run = workshop.run("renew")
        assert run.code == 0
        written = (workshop.folder / "specs/a.yaml").read_text(encoding="utf-8")
        assert written == COMMENTED.replace("spec: 0", "spec: 1").replace("size:", "diameter:")
        assert "-  size: 13 in      # outside\n+  diameter: 13 in      # outside\n" in run.out
        assert run.err == "1 file renewed; nothing found\n"
        assert workshop.run("renew").err == "0 files renewed; nothing found\n"

    def test_there_are_demo_specs_of_both_kinds(self) -> None:
        assert {"lending.base.yaml", "lib-13.yaml"} <= set(DEMOS)

    @pytest.mark.parametrize("name", DEMOS)
    @pytest.mark.parametrize("line_end", ["\n", "\r\n"])
    def test_demo_specs_come_back_to_the_byte(self, name: str, line_end: str) -> None:
        text = (SPECS / name).read_text(encoding="utf-8").replace("\n", line_end)
        old = to_version_0(text)
        steps = [step for step in STEPS if step.version == 0 and f"\n{step.kind}: 0" in old]
        assert renew(old.encode(), steps) == text.encode()

    def test_two_steps(self, workshop: Workshop) -> None:
        old = COMMENTED.replace("spec: 0", "spec: -1").replace("stations:", "holes:")
        workshop.write("a.yaml", old)
        assert workshop.run("renew", "a.yaml").code == 0
        written = (workshop.folder / "a.yaml").read_text(encoding="utf-8")
        assert written == COMMENTED.replace("spec: 0", "spec: 1").replace("size:", "diameter:")

    def test_check_writes_nothing(self, workshop: Workshop) -> None:
        workshop.write("specs/a.yaml", COMMENTED)
        workshop.write("specs/b.yaml", spec_text())
        run = workshop.run("renew", "--check")
        assert run.code == 1
        assert "+spec: 1" in run.out
        assert run.err == "1 file to be renewed; nothing found\n"
        assert (workshop.folder / "specs/a.yaml").read_text(encoding="utf-8") == COMMENTED
        (workshop.folder / "specs/a.yaml").unlink()
        assert workshop.run("renew", "--check").code == 0

    def test_report_for_a_machine(self, workshop: Workshop) -> None:
        workshop.write("specs/a.yaml", COMMENTED)
        run = workshop.run("renew", "--check", "--format", "json")
        assert run.code == 1
        assert run.report["summary"]["old"] == ["specs/a.yaml"]
        assert run.report["summary"]["written"] is False
        assert "+  diameter: 13 in" in run.report["summary"]["patch"]

    def test_spec_with_mistakes_is_renewed_all_the_same(self, workshop: Workshop) -> None:
        workshop.write("a.yaml", COMMENTED.replace("goat", "gaot"))
        assert workshop.run("renew", "a.yaml").code == 0
        assert workshop.check("a.yaml").names == ["unknown-word"]

    def test_layout_that_cannot_be_changed(self, workshop: Workshop, monkeypatch: pytest.MonkeyPatch) -> None:
        workshop.write("specs/a.yaml", COMMENTED)
        workshop.write("specs/b.yaml", COMMENTED.replace("HALL", "HALL-2"))
        monkeypatch.setattr("tauthide.cli.renew.renew", lambda source, steps: None)
        run = workshop.run("renew", "--format", "json")
        assert run.code == 1
        assert run.names == ["renew-by-hand", "renew-by-hand"]
        assert (workshop.folder / "specs/a.yaml").read_text(encoding="utf-8") == COMMENTED

    def test_key_that_is_dropped_cannot_be_written(self) -> None:
        from tauthide.reading.upgrades import Changed, Step

        step = Step("spec", 0, "", lambda data: Changed({"spec": 0, "drum": data["drum"]}, {}))
        assert renew(COMMENTED.encode(), [step]) is None
        assert renew(b"a: [", [SIZE]) is None

    def test_what_cannot_be_read_is_told(self, workshop: Workshop) -> None:
        workshop.write("specs/a.yaml", COMMENTED)
        workshop.write("specs/bad.yaml", "spec: 0\ndrum: [\n")
        workshop.write("specs/foreign.yaml", "version: 2\njobs: []\n")
        run = workshop.run("renew", "--format", "json")
        assert run.code == 1
        assert {finding["file"] for finding in run.findings} == {"specs/bad.yaml"}
        assert run.report["summary"]["old"] == ["specs/a.yaml"]

    def test_standard_input_and_missing_files(self, workshop: Workshop) -> None:
        assert workshop.run("renew", "-").code == 2
        assert workshop.run("renew", "none.yaml").code == 2
