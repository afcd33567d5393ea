"""Runs, skins and lots on the command line: checked, and passed over by a build."""

from __future__ import annotations

import io
import sys

import pytest

from run_files import FILES, RUN, SKIN, write_files
from workshops import Workshop

CROSSED = SKIN.replace("[14, 0], [14, 18]", "[14, 18], [14, 0]")


def test_check_counts_what_there_is(workshop: Workshop) -> None:
    write_files(workshop.folder, {})
    run = workshop.run("check", ".")
    assert (run.code, run.err) == (0, "2 specs, 1 run, 1 skin, 1 lot; nothing found\n")
    run = workshop.run("check", "runs/run.yaml")
    assert (run.code, run.err) == (0, "1 run; nothing found\n")
    summary = workshop.check(".").report["summary"]
    assert summary == {"specs": 2, "runs": 1, "skins": 1, "lots": 1, "errors": 0, "warnings": 0, "notes": 0}


def test_a_mistake_in_a_skin_is_told_once_however_it_is_reached(workshop: Workshop) -> None:
    write_files(workshop.folder, {"runs/goat-1.yaml": CROSSED})
    for paths in (["."], ["runs/run.yaml"], ["runs/goat-1.yaml"], ["runs/goat-1.yaml", "runs"]):
        run = workshop.check(*paths)
        assert run.code == 1
        assert (run.only["name"], run.only["file"]) == ("edge-crosses-itself", "runs/goat-1.yaml")


@pytest.mark.parametrize("skin", [CROSSED, "skin: 1\nname: [", "skin: 1\n"], ids=["wrong", "no YAML", "empty"])
def test_build_passes_them_over_in_a_folder(workshop: Workshop, skin: str) -> None:
    write_files(workshop.folder, {"runs/goat-1.yaml": skin})
    run = workshop.build(".")
    assert (run.code, run.findings, run.report["summary"]["specs"]) == (0, [], 2)


def test_build_says_so_where_one_is_named(workshop: Workshop) -> None:
    write_files(workshop.folder, {})
    run = workshop.build("small.yaml", "runs/run.yaml")
    assert run.code == 0
    assert run.only["message"] == "This file is passed over: it is a run file, and only specs are built"


def test_standard_input(workshop: Workshop, monkeypatch: pytest.MonkeyPatch) -> None:
    write_files(workshop.folder, {})
    for text, names in ((SKIN, []), (RUN, ["run-from-nowhere"]), (FILES["runs/cupboard.yaml"], [])):
        monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(text.encode())))
        assert workshop.check("-").names == names


def test_a_name_that_leads_out_of_the_repository_tells_nothing(workshop: Workshop) -> None:
    outside = workshop.folder.parent / "secret.yaml"
    outside.write_text(SKIN.replace("hide: goat", "hide: secret"))
    reports = []
    for name in ("../../secret.yaml", "../../nothing.yaml"):
        write_files(workshop.folder, {"runs/run.yaml": RUN.replace("goat-1.yaml", name)})
        reports.append(workshop.check("runs/run.yaml").only["message"])
    assert reports == ["`skins.0` leads out of the repository"] * 2


def test_a_link_out_of_the_repository_is_not_followed(workshop: Workshop) -> None:
    write_files(workshop.folder, {"runs/run.yaml": RUN.replace("goat-1.yaml", "link.yaml")})
    outside = workshop.folder.parent / "secret.yaml"
    outside.write_text(SKIN)
    (workshop.folder / "runs" / "link.yaml").symlink_to(outside)
    assert workshop.check("runs/run.yaml").names == ["file-outside"]


def test_faults_of_runs_have_their_pages(workshop: Workshop) -> None:
    assert workshop.run("explain", "edge-crosses-itself").out.splitlines()[0] == "edge-crosses-itself  error"
    assert workshop.run("explain", "skin-of-no-drum").out.splitlines()[0] == "skin-of-no-drum  note"
