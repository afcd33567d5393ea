"""`suggest`: what it says, what it writes, and what it leaves alone."""

from __future__ import annotations

import io
import json
import os
import stat
import sys
from typing import Any

import pytest

from tauthide.spec.chain import Chain
from tauthide.suggesting.search import Suggested, suggest
from workshops import Workshop, spec_text, stamps

BAD = """\
# the hall drum
spec: 1
drum: HALL
frame: {outline: round, diameter: 13 in, depth: 55 mm}   # bought
head:
  hide: goat
  turnover: 28 mm  # to save skin
stations: {count: 15}
"""
MENDED = BAD.replace("28 mm", "30 mm").replace("15", "16")

HOPELESS = "spec: 1\ndrum: A\nframe: {outline: round, depth: 55 mm}\nhead: {hide: goat}\nstations: {count: 15}\n"


class TestText:
    def test_suggestions_with_reasons_and_a_patch(self, workshop: Workshop) -> None:
        workshop.write("a.yaml", BAD)
        run = workshop.run("suggest", "a.yaml")
        assert run.code == 0
        assert "head.turnover: 28 mm -> 30 mm\n    The holes come to lie over the wood" in run.out
        assert "stations.count: 15 -> 16\n    15 is an odd number of stations" in run.out
        difference = run.out[run.out.index("--- a.yaml") :]
        changed = [line for line in difference.splitlines()[3:] if line[0] in "+-"]
        assert changed == [
            "-  turnover: 28 mm  # to save skin",
            "-stations: {count: 15}",
            "+  turnover: 30 mm  # to save skin",
            "+stations: {count: 16}",
        ]
        assert run.err == "2 suggestions; nothing left to mend\n"
        assert (workshop.folder / "a.yaml").read_text() == BAD

    def test_nothing_to_suggest(self, workshop: Workshop) -> None:
        workshop.write("a.yaml", spec_text())
        run = workshop.run("suggest", "a.yaml")
        assert (run.code, run.out) == (0, "a.yaml: nothing to suggest\n")

    def test_what_is_left(self, workshop: Workshop) -> None:
        workshop.write("a.yaml", HOPELESS)
        run = workshop.run("suggest", "a.yaml")
        assert run.code == 1
        assert "[missing-key]" in run.err

    def test_where_an_old_value_comes_from(self, workshop: Workshop) -> None:
        workshop.write("shop.yaml", "shop: 1\nhead: {turnover: 28 mm}\n")
        workshop.write("specs/a.yaml", spec_text())
        run = workshop.run("suggest", "specs/a.yaml")
        assert "head.turnover: 28 mm (../shop.yaml:2) -> 30 mm\n" in run.out
        assert "+head: {hide: goat, turnover: 30 mm}\n" in run.out

    def test_standard_input(self, workshop: Workshop, monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(BAD.encode())))
        run = workshop.run("suggest", "-")
        assert run.code == 0
        assert "stations.count: 15 -> 16" in run.out


class TestJson:
    def report(self, workshop: Workshop, *arguments: str) -> tuple[int, Any]:
        run = workshop.run("suggest", *arguments, "--format", "json")
        assert run.err == ""
        return run.code, json.loads(run.out)

    def test_suggestions(self, workshop: Workshop) -> None:
        workshop.write("a.yaml", BAD)
        code, report = self.report(workshop, "a.yaml")
        assert code == 0
        assert report["command"] == "suggest"
        assert report["findings"] == []
        assert [(item["path"], item["old"], item["new"]) for item in report["summary"]["suggestions"]] == [
            ("head.turnover", "28 mm", "30 mm"),
            ("stations.count", "15", "16"),
        ]
        assert report["summary"]["patch"].startswith("--- a.yaml\n+++ a.yaml\n@@")
        assert report["summary"]["written"] is False

    def test_what_cannot_be_read(self, workshop: Workshop) -> None:
        code, report = self.report(workshop, "nothing.yaml")
        assert code == 2
        assert [finding["name"] for finding in report["findings"]] == ["missing-file"]

    def test_a_new_spec(self, workshop: Workshop) -> None:
        code, report = self.report(workshop, "--diameter", "14in")
        assert code == 0
        assert report["summary"]["spec"].startswith("spec: 1\n")


class TestWriting:
    def test_only_what_is_suggested_changes(self, workshop: Workshop) -> None:
        path = workshop.write("a.yaml", BAD.replace("\n", "\r\n"))
        path.chmod(0o640)
        run = workshop.run("suggest", "a.yaml", "--write")
        assert run.code == 0
        assert run.err == "a.yaml written; nothing left to mend\n"
        assert path.read_bytes() == MENDED.replace("\n", "\r\n").encode()
        assert stat.S_IMODE(path.stat().st_mode) == 0o640
        assert sorted(item.name for item in workshop.folder.iterdir()) == [".git", "a.yaml"]
        assert workshop.check("a.yaml").findings == []

    def test_twice_writes_once(self, workshop: Workshop) -> None:
        workshop.write("a.yaml", BAD)
        workshop.run("suggest", "a.yaml", "--write")
        before = stamps(workshop.folder)
        assert workshop.run("suggest", "a.yaml", "--write").code == 0
        assert stamps(workshop.folder) == before

    def test_helps_as_far_as_it_can(self, workshop: Workshop) -> None:
        path = workshop.write("a.yaml", HOPELESS.replace("depth: 55 mm", "depth: 55"))
        assert workshop.run("suggest", "a.yaml", "--write").code == 1
        assert path.read_text() == HOPELESS

    def test_a_change_made_meanwhile_is_not_overwritten(
        self, workshop: Workshop, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        """An editor may save the file while the search goes on."""
        path = workshop.write("a.yaml", BAD)
        theirs = BAD.replace("28 mm", "35 mm")

        def search_while_they_save(chain: Chain) -> Suggested:
            path.write_text(theirs)
            return suggest(chain)

        monkeypatch.setattr("tauthide.cli.suggest.suggest", search_while_they_save)
        run = workshop.run("suggest", "a.yaml", "--write")
        assert run.code == 2
        assert "a.yaml has just been changed; nothing is written, try again" in run.err
        assert path.read_text() == theirs
        assert sorted(item.name for item in workshop.folder.iterdir()) == [".git", "a.yaml"]

    def test_links_are_refused(self, workshop: Workshop) -> None:
        path = workshop.write("real.yaml", BAD)
        (workshop.folder / "a.yaml").symlink_to("real.yaml")
        run = workshop.run("suggest", "a.yaml", "--write")
        assert run.code == 2
        assert "is a link" in run.err
        assert path.read_text() == BAD

    def test_a_folder_that_cannot_be_written(self, workshop: Workshop) -> None:
        if os.geteuid() == 0:
            pytest.skip("the superuser may write anywhere")
        path = workshop.write("specs/a.yaml", BAD)
        path.parent.chmod(0o555)
        run = workshop.run("suggest", "specs/a.yaml", "--write")
        path.parent.chmod(0o755)
        assert run.code == 2
        assert path.read_text() == BAD


class TestRefusing:
    @pytest.mark.parametrize(
        ("arguments", "said"),
        [
            ([], "name a SPEC, or give at least --diameter"),
            (["--depth", "60mm"], "name a SPEC, or give at least --diameter"),
            (["a.yaml", "--hide", "deer"], "--hide starts a new spec"),
            (["a.yaml", "--out", "b.yaml"], "--out starts a new spec"),
            (["-", "--write"], "--write needs a file"),
            (["--diameter", "14in", "--write"], "--write changes a SPEC"),
            (["."], "suggest takes one spec at a time"),
            (["shop.yaml"], "shop.yaml is a shop file; suggest takes a spec"),
            (["--diameter", "14"], "--diameter: `14` has no unit"),
            (["--diameter", "14in", "--hide", "dear"], "--hide: `dear` is not a choice for `head.hide`"),
            (["--diameter", "14in", "--stations", "9"], "--stations: 9 is an odd number of stations"),
            (["--diameter", "14in", "--stations", "many"], "argument --stations"),
            (["--diameter", "14in", "--pitch", "H2"], "--pitch: "),
            (["--diameter", "14in", "--name", "a/b"], "--name: "),
            (["--diameter", "14in", "--out", "drum.txt"], "a spec's name ends with .yaml or .yml"),
        ],
    )
    def test_bad_usage(self, workshop: Workshop, arguments: list[str], said: str) -> None:
        workshop.write("a.yaml", BAD)
        workshop.write("shop.yaml", "shop: 1\n")
        before = stamps(workshop.folder)
        run = workshop.run("suggest", *arguments)
        assert (run.code, run.out) == (2, "")
        assert said in run.err
        assert stamps(workshop.folder) == before

    def test_what_is_no_document(self, workshop: Workshop) -> None:
        workshop.write("a.yaml", "spec: [1\n")
        run = workshop.run("suggest", "a.yaml")
        assert (run.code, run.out) == (1, "")
        assert "error:" in run.err


class TestStarting:
    def test_printed(self, workshop: Workshop) -> None:
        run = workshop.run("suggest", "--diameter", "14in", "--depth", "60mm", "--hide", "deer", "--pitch", "A2")
        assert run.code == 0
        assert run.out.startswith("spec: 1\ndrum: DEER-14IN\nframe:\n  outline: round\n  diameter: 14in\n")
        workshop.write("a.yaml", run.out)
        assert workshop.run("check", "a.yaml").code == 0

    def test_the_shop_file_counts(self, workshop: Workshop) -> None:
        workshop.write("shop.yaml", "shop: 1\nhead: {turnover: 44 mm}\n")
        assert "turnover: 44 mm  # as shop says" in workshop.run("suggest", "--diameter", "14in").out

    def test_a_broken_shop_file(self, workshop: Workshop) -> None:
        workshop.write("shop.yaml", "shop: 1\nhead: {turnover: 44}\n")
        run = workshop.run("suggest", "--diameter", "14in")
        assert (run.code, run.out) == (1, "")
        assert "[missing-unit]" in run.err

    def test_written(self, workshop: Workshop) -> None:
        run = workshop.run("suggest", "--diameter", "14in", "--out", "hall.yaml")
        assert (run.code, run.out) == (0, "")
        text = (workshop.folder / "hall.yaml").read_text()
        assert text.startswith("spec: 1\ndrum: HALL\n")
        assert workshop.run("suggest", "hall.yaml").out == "hall.yaml: nothing to suggest\n"

    def test_never_over_another(self, workshop: Workshop) -> None:
        path = workshop.write("hall.yaml", BAD)
        run = workshop.run("suggest", "--diameter", "14in", "--out", "hall.yaml")
        assert run.code == 2
        assert "is there already" in run.err
        assert path.read_text() == BAD

    def test_no_such_folder(self, workshop: Workshop) -> None:
        run = workshop.run("suggest", "--diameter", "14in", "--out", "no/hall.yaml")
        assert run.code == 2
        assert "no/hall.yaml can't be written" in run.err
