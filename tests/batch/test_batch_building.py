"""Builds one after another: what is built anew, what stays, what gives way to a notice, and what goes."""

from __future__ import annotations

import hashlib
import json
import platform
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tauthide.batch import compiling, fingerprint, jobs
from tauthide.batch.inputs import Input
from workshops import PARTS, Workshop, files_of, many_specs, spec_text, stamps, tree

WARNED = PARTS.replace("count: 16", "count: 26, web: 10 mm")
"""Parts that a careful maker would think twice about."""


@pytest.fixture
def compiled(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Give the names of all specs that are compiled, in order, as they come."""
    names: list[str] = []

    def note(item: Input, *more: Any) -> compiling.Compiled:
        names.append(item.shown)
        return compiling.compile_input(item, *more)

    monkeypatch.setattr(jobs, "compile_input", note)
    return names


class TestNothingChanged:
    def test_second_build_writes_and_compiles_nothing(self, workshop: Workshop, compiled: list[str]) -> None:
        workshop.write("specs/a.yaml", spec_text("A"))
        workshop.write("specs/b.yaml", spec_text("B", parts=WARNED))
        workshop.write("specs/c.yaml", "spec: 1\ndrum: C\n")
        first = workshop.build()
        assert compiled == ["specs/a.yaml", "specs/b.yaml", "specs/c.yaml"]
        before = stamps(workshop.folder / "sheets")
        second = workshop.build()
        assert compiled == ["specs/a.yaml", "specs/b.yaml", "specs/c.yaml"]
        assert stamps(workshop.folder / "sheets") == before
        assert second.findings == first.findings
        assert {finding["severity"] for finding in second.findings} >= {"warning", "error"}
        assert (first.code, second.code) == (1, 1)
        assert second.report["summary"] | {"written": 0, "unchanged": 16, "removed": 0} == second.report["summary"]

    def test_from_another_folder(
        self, workshop: Workshop, compiled: list[str], monkeypatch: pytest.MonkeyPatch
    ) -> None:
        workshop.write("specs/a.yaml", spec_text("A", parts=WARNED))
        workshop.build()
        before = stamps(workshop.folder / "sheets")
        monkeypatch.chdir(workshop.folder / "specs")
        run = workshop.build(".", "--out", "../sheets")
        assert compiled == ["specs/a.yaml"]
        assert {finding["file"] for finding in run.findings} == {"a.yaml"}
        assert stamps(workshop.folder / "sheets") == before

    def test_title_alone_changes_the_sheet_alone(self, workshop: Workshop) -> None:
        workshop.write("specs/a.yaml", spec_text("A", more="title: one\n"))
        workshop.build()
        before = stamps(workshop.folder / "sheets/A")
        workshop.write("specs/a.yaml", spec_text("A", more="title: two\n"))
        assert workshop.build().report["summary"]["written"] >= 1
        after = stamps(workshop.folder / "sheets/A")
        assert {name for name in after if after[name] != before[name]} >= {"sheet.md"}
        assert after["plan.json"] == before["plan.json"]
        assert after["layout.svg"] == before["layout.svg"]


class TestBuiltAnew:
    def test_after_a_change_by_hand(self, workshop: Workshop) -> None:
        workshop.write("specs/a.yaml", spec_text("A"))
        workshop.build()
        before = workshop.sheets()
        workshop.write("sheets/A/sheet.md", "my own words")
        (workshop.folder / "sheets/A/layout.svg").unlink()
        run = workshop.build()
        assert run.report["summary"]["written"] == 2
        assert workshop.sheets() == before

    def test_after_a_change_of_the_program(
        self, workshop: Workshop, compiled: list[str], monkeypatch: pytest.MonkeyPatch
    ) -> None:
        workshop.write("specs/a.yaml", spec_text("A"))
        workshop.build()
        monkeypatch.setattr(fingerprint, "program_hash", lambda: b"another version")
        run = workshop.build()
        assert compiled == ["specs/a.yaml"] * 2
        assert run.report["summary"]["written"] == 0
        workshop.build()
        assert compiled == ["specs/a.yaml"] * 2

    @pytest.mark.parametrize("damage", ["findings", "index_row"])
    def test_after_records_that_are_not_ours(self, workshop: Workshop, compiled: list[str], damage: str) -> None:
        """The manifest is checked for what it may do, not for what it says of a drum."""
        workshop.write("specs/a.yaml", spec_text("A", parts=WARNED))
        first = workshop.build()
        path = workshop.folder / "sheets/.tauthide.json"
        manifest = json.loads(path.read_text())
        manifest["drums"]["A"]["record"][damage] = [{"name": "x"}]
        path.write_text(json.dumps(manifest))
        assert workshop.build().findings == first.findings
        assert compiled == ["specs/a.yaml"] * 2

    def test_damaged_manifest(self, workshop: Workshop) -> None:
        workshop.write("specs/a.yaml", spec_text("A"))
        workshop.build()
        before = stamps(workshop.folder / "sheets/A")
        workshop.write("sheets/.tauthide.json", "<<<<<<< ours\n")
        run = workshop.run("build")
        assert run.code == 2
        assert run.err.startswith("tauthide: sheets/.tauthide.json, the list of the files that are Tauthide's")
        assert stamps(workshop.folder / "sheets/A") == before


class TestNames:
    """Names of drums: taken twice, changed, gone."""

    def test_taken_twice(self, workshop: Workshop) -> None:
        workshop.write("specs/a.yaml", spec_text("LIB-13"))
        workshop.write("specs/b.yaml", "spec: 1\ntitle: B\ndrum: LIB-13\n" + PARTS)
        run = workshop.build()
        assert run.code == 1
        assert [
            (finding["name"], finding["file"], finding["line"], finding["column"], finding["message"])
            for finding in run.findings
        ] == [
            ("drum-name-taken", "specs/a.yaml", 2, 7, "Another spec has this drum's name: b.yaml:3"),
            ("drum-name-taken", "specs/b.yaml", 3, 7, "Another spec has this drum's name: a.yaml:2"),
        ]
        assert list(workshop.sheets()) == ["LIB-13/sheet.md", "index.md"]
        assert workshop.check().findings == run.findings

    def test_taken_but_for_capitals(self, workshop: Workshop) -> None:
        workshop.write("specs/a.yaml", spec_text("LIB-13"))
        workshop.write("specs/b/b.yaml", spec_text("lib-13"))
        run = workshop.build()
        assert [finding["message"] for finding in run.findings] == [
            "Another spec, but for capitals, has this drum's name: b/b.yaml:2",
            "Another spec, but for capitals, has this drum's name: ../a.yaml:2",
        ]
        assert list(workshop.sheets()) == ["LIB-13/sheet.md", "index.md"]

    def test_no_longer_taken(self, workshop: Workshop) -> None:
        """The spec that kept its name has not changed, and is built all the same."""
        workshop.write("specs/a.yaml", spec_text("A"))
        workshop.write("specs/b.yaml", spec_text("A"))
        assert workshop.build().code == 1
        assert workshop.build().code == 1
        workshop.write("specs/b.yaml", spec_text("B"))
        run = workshop.build()
        assert (run.code, run.findings) == (0, [])
        assert list(workshop.sheets()) == [*files_of("A"), *files_of("B"), "index.md"]

    def test_taken_by_many(self, workshop: Workshop) -> None:
        for number in range(30):
            workshop.write(f"specs/{number:02}.yaml", spec_text("A"))
        run = workshop.check()
        assert len(run.findings) == 30
        assert run.findings[5]["message"] == (
            "Another spec has this drum's name: 00.yaml:2, 01.yaml:2, 02.yaml:2 and 26 more"
        )

    def test_changed(self, workshop: Workshop) -> None:
        workshop.write("specs/a.yaml", spec_text("OLD"))
        workshop.build()
        workshop.write("specs/a.yaml", spec_text("NEW"))
        assert workshop.build().report["summary"]["removed"] == 7
        assert list(workshop.sheets()) == [*files_of("NEW"), "index.md"]
        assert not (workshop.folder / "sheets/OLD").exists()

    def test_changed_in_capitals_only(self, workshop: Workshop) -> None:
        workshop.write("specs/a.yaml", spec_text("lib"))
        workshop.build()
        workshop.write("specs/a.yaml", spec_text("LIB"))
        assert workshop.build().code == 0
        assert list(workshop.sheets()) == [*files_of("LIB"), "index.md"]

    def test_swapped(self, workshop: Workshop) -> None:
        workshop.write("specs/a.yaml", spec_text("A"))
        workshop.write("specs/b.yaml", spec_text("B"))
        workshop.build()
        workshop.write("specs/a.yaml", spec_text("B"))
        workshop.write("specs/b.yaml", spec_text("A"))
        assert workshop.build().code == 0
        assert "spec: b\\.yaml" in workshop.sheet("A")

    def test_spec_gone(self, workshop: Workshop) -> None:
        workshop.write("specs/a.yaml", spec_text("A"))
        workshop.write("specs/b.yaml", spec_text("B"))
        workshop.build()
        workshop.write("sheets/B/photo.txt", "not ours")
        (workshop.folder / "specs/b.yaml").unlink()
        assert workshop.build().code == 0
        assert list(workshop.sheets()) == [*files_of("A"), "B/photo.txt", "index.md"]

    def test_spoilt_spec_keeps_a_notice_at_its_old_drum(self, workshop: Workshop) -> None:
        workshop.write("specs/a.yaml", spec_text("A"))
        workshop.build()
        for spoilt in ("spec: 1\ndrum: [A\n", "spec: 1\n", "spec: 1\ndrum: A/B\n"):
            workshop.write("specs/a.yaml", spoilt)
            assert workshop.build().code == 1
            assert list(workshop.sheets()) == ["A/sheet.md", "index.md"]
        workshop.write("specs/a.yaml", spec_text("A"))
        assert workshop.build().code == 0
        assert list(workshop.sheets()) == [*files_of("A"), "index.md"]

    def test_spoilt_spec_whose_drum_another_spec_makes_now(self, workshop: Workshop) -> None:
        workshop.write("specs/a.yaml", spec_text("A"))
        workshop.build()
        workshop.write("specs/a.yaml", "spec: 1\ndrum: [A\n")
        workshop.write("specs/b.yaml", spec_text("A"))
        run = workshop.build()
        assert (run.code, run.names) == (1, ["yaml-syntax"])
        assert list(workshop.sheets()) == [*files_of("A"), "index.md"]
        assert "spec: b\\.yaml" in workshop.sheet("A")

    def test_spoilt_spec_that_was_never_built(self, workshop: Workshop) -> None:
        workshop.write("specs/a.yaml", "spec: 1\ndrum: [A\n")
        workshop.write("specs/b.yaml", spec_text("B"))
        assert workshop.build().code == 1
        assert list(workshop.sheets()) == [*files_of("B"), "index.md"]


class TestVerify:
    @pytest.fixture
    def built(self, workshop: Workshop) -> Workshop:
        """Give a workshop whose sheets are up to date."""
        workshop.write("specs/a.yaml", spec_text("A"))
        workshop.write("specs/b.yaml", spec_text("B"))
        assert workshop.build().code == 0
        return workshop

    def verify(self, workshop: Workshop) -> tuple[int, dict[str, str]]:
        """Verify, writing nothing, and return exit code and differences."""
        before = stamps(workshop.folder)
        run = workshop.build("--verify")
        assert stamps(workshop.folder) == before
        assert set(run.report["summary"]) == {"specs", "differences", "errors", "warnings", "notes"}
        return run.code, {item["path"]: item["gap"] for item in run.report["summary"]["differences"]}

    def test_fresh(self, built: Workshop) -> None:
        assert self.verify(built) == (0, {})
        assert built.run("build", "--verify").err == "2 specs; nothing stale, missing or left over; nothing found\n"

    def test_stale(self, built: Workshop) -> None:
        built.write("sheets/A/sheet.md", "old")
        assert self.verify(built) == (1, {"A/sheet.md": "stale"})
        text = built.run("build", "--verify").err
        assert text == "stale: A/sheet.md\n2 specs; 1 file to be built, or left over; nothing found\n"

    def test_changed_spec(self, built: Workshop) -> None:
        built.write("specs/a.yaml", spec_text("A", parts=PARTS.replace("13 in", "14 in")))
        code, gaps = self.verify(built)
        assert code == 1
        assert set(gaps) >= {"A/sheet.md", "A/layout.svg", "A/plan.json", "index.md"}
        assert set(gaps.values()) == {"stale"}

    def test_missing(self, built: Workshop) -> None:
        (built.folder / "sheets/A/layout.svg").unlink()
        assert self.verify(built) == (1, {"A/layout.svg": "missing"})

    def test_left_over(self, built: Workshop) -> None:
        (built.folder / "specs/b.yaml").unlink()
        code, gaps = self.verify(built)
        assert code == 1
        assert gaps == dict.fromkeys(files_of("B"), "left over") | {"index.md": "stale"}

    def test_never_built(self, workshop: Workshop) -> None:
        workshop.write("specs/a.yaml", spec_text("A"))
        code, gaps = self.verify(workshop)
        assert code == 1
        assert gaps == dict.fromkeys([*files_of("A"), "index.md"], "missing")
        assert not (workshop.folder / "sheets").exists()

    def test_foreign_files_do_not_matter(self, built: Workshop) -> None:
        built.write("sheets/A/photo.txt", "not ours")
        built.write("sheets/notes.md", "not ours")
        assert self.verify(built) == (0, {})

    def test_broken_spec_whose_notice_lies_there(self, built: Workshop) -> None:
        built.write("specs/a.yaml", "spec: 1\ndrum: A\n")
        assert self.verify(built)[0] == 1
        built.build()
        assert self.verify(built) == (1, {})

    def test_takes_nothing_on_trust(self, built: Workshop) -> None:
        """Neither the sheet nor its hash in the manifest is believed."""
        path = built.folder / "sheets/.tauthide.json"
        forged = built.write("sheets/A/sheet.md", "cut here").read_bytes()
        manifest = json.loads(path.read_text())
        manifest["drums"]["A"]["files"]["sheet.md"] = hashlib.sha256(forged).hexdigest()
        path.write_text(json.dumps(manifest))
        assert self.verify(built) == (1, {"A/sheet.md": "stale"})


class TestOutputFolder:
    @pytest.fixture
    def specs(self, workshop: Workshop) -> Workshop:
        """Give a workshop with one spec."""
        workshop.write("specs/a.yaml", spec_text("A"))
        return workshop

    def test_is_made_with_its_parents(self, specs: Workshop) -> None:
        assert specs.build("--out", "x/y/z").code == 0
        assert list(tree(specs.folder / "x/y/z")) == [*files_of("A"), "index.md"]

    @pytest.mark.parametrize("out", ["specs/sheets", "specs", ".", "specs/../out"])
    def test_among_the_specs(self, specs: Workshop, out: str) -> None:
        for _ in range(2):
            run = specs.build("--out", out)
            assert (run.code, run.report["summary"]["specs"]) == (0, 1)
        assert specs.build("--out", out, "--verify").code == 0
        assert (specs.folder / "specs/a.yaml").read_text() == spec_text("A")

    def test_is_a_file(self, specs: Workshop) -> None:
        specs.write("sheets", "a file")
        for more in ([], ["--verify"]):
            run = specs.run("build", *more)
            assert run.code == 2
            assert run.err == "tauthide: sheets is not a folder; choose another --out\n"
        assert (specs.folder / "sheets").read_text() == "a file"

    def test_holds_files_that_are_not_ours(self, specs: Workshop) -> None:
        specs.write("sheets/A/sheet.md", "my own notes")
        run = specs.run("build")
        assert run.code == 2
        assert run.err == "tauthide: sheets/A/sheet.md is not ours; move it away or choose another --out\n"
        assert specs.sheets() == {"A/sheet.md": b"my own notes"}

    def test_spec_in_the_way(self, specs: Workshop) -> None:
        specs.write("specs/a.yaml", spec_text("a.yaml"))
        run = specs.run("build", "--out", "specs")
        assert run.code == 2
        assert (specs.folder / "specs/a.yaml").read_text() == spec_text("a.yaml")

    def test_empty_name(self, specs: Workshop) -> None:
        run = specs.run("build", "--out", "")
        assert run.code == 2
        assert run.err.startswith("tauthide: argument --out: an empty name is no folder")
        assert not (specs.folder / "index.md").exists()

    def test_tells_nothing_of_the_machine(self, specs: Workshop) -> None:
        specs.write("shop.yaml", "shop: 1\nlace: {play: 9 mm}\n")
        specs.write("specs/b.yaml", spec_text("A"))
        specs.write("specs/c.yaml", "spec: 1\ndrum: C\n")
        specs.write("specs/d.yaml", spec_text("D", parts=WARNED))
        specs.build(str(specs.folder / "specs"), "--out", str(specs.folder / "sheets"))
        words = [str(specs.folder), specs.folder.parent.name, platform.node(), "/tmp", "\\tmp"]
        for name, content in specs.sheets(manifest=True).items():
            text = content.decode()
            assert not [word for word in words if word and word in text], name
            assert not re.search(r"\b20[0-9]{2}-[01][0-9]-[0-3][0-9]\b", text), name


class TestJobs:
    def test_same_bytes(self, workshop: Workshop) -> None:
        """With one process or several, and whatever order the specs are given in."""
        drums = many_specs(workshop.folder / "specs", 24)
        workshop.write("specs/m-003.yaml", "spec: 1\ndrum: M-003\n")
        workshop.write("specs/m-005.yaml", spec_text("m-004"))
        paths = [f"specs/{drum.lower()}.yaml" for drum in drums]
        one = workshop.build("--out", "one", "--jobs", "1")
        two = workshop.build("--out", "two", "--jobs", "2", *reversed(paths))
        assert one.report == two.report
        assert tree(workshop.folder / "one", manifest=True) == tree(workshop.folder / "two", manifest=True)
        run = workshop.build("--out", "two", "--jobs", "0", "--verify", *paths[7:], *paths[:7])
        assert run.report["summary"]["differences"] == []

    @pytest.mark.parametrize("jobs", ["-1", "x", "1.5", "65", ""])
    def test_bad_number(self, workshop: Workshop, jobs: str) -> None:
        run = workshop.run("build", f"--jobs={jobs}")
        assert run.code == 2
        assert run.err.startswith("tauthide: argument --jobs")


class TestWhileBuilding:
    """The specs may be edited while they are built."""

    @pytest.fixture
    def second_look(self, monkeypatch: pytest.MonkeyPatch) -> Callable[[Callable[[], object]], None]:
        """Give a function that sets what happens between the first look at a file and its compiling."""

        def happen(event: Callable[[], object]) -> None:
            def compile_later(*arguments: Any) -> compiling.Compiled:
                event()
                return compiling.compile_input(*arguments)

            monkeypatch.setattr(jobs, "compile_input", compile_later)

        return happen

    def test_becomes_another_drum(self, workshop: Workshop, second_look: Any) -> None:
        path = workshop.write("specs/a.yaml", spec_text("A"))
        second_look(lambda: path.write_text(spec_text("B")))
        run = workshop.build()
        assert (run.code, run.names) == (1, ["changed-while-building"])
        assert list(workshop.sheets()) == ["A/sheet.md", "index.md"]

    def test_becomes_another_spec(self, workshop: Workshop, second_look: Any) -> None:
        path = workshop.write("specs/a.yaml", spec_text("A"))
        second_look(lambda: path.write_text(spec_text("A", parts=PARTS.replace("13 in", "14 in"))))
        assert workshop.build().code == 0
        assert "14 in" in workshop.sheet("A")
        assert workshop.build("--verify").code == 0

    def test_goes_away(self, workshop: Workshop, second_look: Any) -> None:
        path = workshop.write("specs/a.yaml", spec_text("A"))
        second_look(lambda: path.unlink())
        run = workshop.build()
        assert (run.code, run.only["name"]) == (2, "unreadable-file")
        assert list(workshop.sheets()) == ["A/sheet.md", "index.md"]


class TestFloods:
    """A file may have a fault on every line."""

    LINES = "".join(f"k{number}: 1\n" for number in range(5_000))

    def test_text_and_notice_show_the_first(self, workshop: Workshop) -> None:
        workshop.write("specs/a.yaml", spec_text("A") + self.LINES)
        run = workshop.run("build")
        assert run.code == 1
        assert run.err.count("[unknown-key]") == 50
        assert "specs/a.yaml: 4950 more findings; `--format json` gives them all\n" in run.err
        assert run.err.endswith("5000 errors\n")
        assert len(workshop.sheet("A")) < 60_000
        assert "4950 more findings" in workshop.sheet("A")
        assert (workshop.folder / "sheets/.tauthide.json").stat().st_size < 5000
        assert workshop.build("--verify").report["summary"]["differences"] == []

    def test_a_machine_is_given_all(self, workshop: Workshop) -> None:
        workshop.write("specs/a.yaml", spec_text("A") + self.LINES)
        assert len(workshop.check().findings) == 5_000

    def test_all_on_one_line(self, workshop: Workshop) -> None:
        keys = ", ".join(f"k{number}: 1" for number in range(2000))
        workshop.write("specs/a.yaml", spec_text("A", parts=PARTS.replace("hide: goat", f"hide: goat, {keys}")))
        run = workshop.check()
        assert len(run.findings) == 2000
        assert len(run.out) < 1_200_000
        text = workshop.run("check").err
        assert max(map(len, text.splitlines())) < 250
        workshop.build()
        assert (workshop.folder / "sheets/.tauthide.json").stat().st_size < 5000


def test_program_hash_sees_code_templates_and_schemas(tmp_path: Path) -> None:
    for name in ("a.py", "t/b.j2", "c.json", "d.txt", "__pycache__/e.py"):
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text(name)
    assert [name for name, _ in fingerprint._program_files(tmp_path, "")] == ["a.py", "c.json", "t/b.j2"]
    assert len(fingerprint.program_hash()) == 32
