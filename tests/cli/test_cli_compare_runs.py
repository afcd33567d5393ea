"""The command `compare` with runs: what more must be bought, and when all is finished."""

from __future__ import annotations

import os
import shutil
import subprocess
from typing import Any

import pytest

from run_files import FILES, RUN, SKIN
from run_files import LOT as BARE_LOT
from run_plans import ALL_GOAT, PRICES
from workshops import Run, Workshop

GIT = shutil.which("git")
LOT = BARE_LOT.replace("length: 8 m}", "length: 8 m, price: 4}")
"""A lot in which everything has a price, so that the run's whole cost is known."""

MORE = PRICES + "cutting: {rounds: 0}\n"
CHANGED_RUN = RUN.replace("quantity: 2", "quantity: 4")


def write(workshop: Workshop, folder: str, **changes: str) -> None:
    """Write the repository's files into a folder, with some of other content: `run`, `skin`, `lot`, `small`."""
    names = {"run": "runs/run.yaml", "skin": "runs/goat-1.yaml", "lot": "runs/cupboard.yaml", "small": "small.yaml"}
    files = {**FILES, "large.yaml": ALL_GOAT, "runs/cupboard.yaml": LOT, "runs/run.yaml": RUN + MORE}
    for name, text in {**files, **{names[key]: text for key, text in changes.items()}}.items():
        workshop.write(f"{folder}/{name}", text)


def compared(workshop: Workshop, **changes: str) -> dict[str, Any]:
    """Return how the run compares where the new folder has other files; the run is the only thing compared."""
    write(workshop, "old")
    write(workshop, "new", **changes)
    run = workshop.run("compare", "old/runs/run.yaml", "new/runs/run.yaml", "--format", "json")
    assert (run.code, run.err) == (1, "")
    (change,) = run.report["runs"]
    return dict(change)


def effects(change: dict[str, Any], *, buys: bool) -> dict[str, tuple[Any, Any]]:
    """Return by title what an amount was and is."""
    return {each["title"]: (each["old"], each["new"]) for each in change["effects"] if each["buys"] is buys}


def paths(change: dict[str, Any]) -> list[str]:
    """Return the paths of what was changed."""
    return [value["path"] for value in change["values"]]


class TestSame:
    """What is no change."""

    def test_comments_order_of_keys_and_units(self, workshop: Workshop) -> None:
        write(workshop, "old")
        lines = (RUN + MORE).splitlines(keepends=True)
        write(
            workshop, "new",
            run=lines[0] + "# another order\n" + "".join(reversed(lines[1:])),
            skin=SKIN.replace("50 mm", "5 cm").replace("1.0 mm", "0.1 cm"),
            lot=LOT.replace("diameter: 8 in", "diameter: 203.2 mm"),
        )  # fmt: skip
        run = workshop.run("compare", "old/runs/run.yaml", "new/runs/run.yaml")
        assert (run.code, run.err) == (0, "")
        assert run.out == "old/runs/run.yaml -> new/runs/run.yaml: no difference, 1 run the same\n"

    def test_a_run_with_the_same_errors(self, workshop: Workshop) -> None:
        for folder in ("old", "new"):
            write(workshop, folder, run=RUN.replace("goat-1.yaml", "none.yaml"))
        assert workshop.run("compare", "old/runs/run.yaml", "new/runs/run.yaml").code == 0


class TestDifferent:
    """What a change does to a run."""

    def test_more_drums_are_more_to_buy(self, workshop: Workshop) -> None:
        change = compared(workshop, run=CHANGED_RUN + MORE)
        assert (change["run"], change["state"], paths(change)) == ("spring", "changed", ["drums.LARGE.quantity"])
        bought = effects(change, buys=True)
        # There are no frames of that size in the cupboard, so two drums more are two frames more.
        assert bought["Frames for LARGE"] == (2, 4)
        assert "Frames for SMALL" not in bought
        work = effects(change, buys=False)
        assert work["Drums"] == (5, 7)
        assert work["Finished"][0] < work["Finished"][1]

    def test_what_stands_is_what_the_papers_say(self, workshop: Workshop) -> None:
        write(workshop, "new", run=CHANGED_RUN + MORE)
        assert workshop.run("run", "new/runs/run.yaml", "--out", "papers").code == 0
        paper = (workshop.folder / "papers" / "run.md").read_text(encoding="utf-8")
        change = compared(workshop, run=CHANGED_RUN + MORE)
        shown = {each["title"]: each["shown"][1] for each in change["effects"]}
        day = shown["Finished"].partition(",")[0]
        assert day in paper.replace("\u00a0", " ")
        assert shown["Cost of all drums"] in paper.replace("\u00a0", " ")

    def test_a_smaller_skin(self, workshop: Workshop) -> None:
        change = compared(workshop, skin=SKIN.replace("18]", "12]"))
        assert paths(change) == ["skins.goat-1.outline_mm", "skins.goat-1.spine_mm", "skins.goat-1.fixed_points_mm"]
        assert change["values"][0]["new"] == "4 items, other than before"
        before, after = effects(change, buys=True)["Skin of goat for what finds no place"]
        assert after > before

    def test_stock_that_is_used_up(self, workshop: Workshop) -> None:
        change = compared(workshop, lot=LOT.replace("quantity: 2, price", "quantity: 1, price"))
        assert effects(change, buys=True) == {"Frames for SMALL": (1, 2)}

    def test_a_spec_of_the_run(self, workshop: Workshop) -> None:
        change = compared(workshop, small=FILES["small.yaml"].replace("8 in", "9 in"))
        assert paths(change) == ["drums.SMALL.spec"]
        assert effects(change, buys=True)["Frames for SMALL"] == (1, 3)

    def test_a_day_later(self, workshop: Workshop) -> None:
        run = RUN.replace("2026-03-02", "2026-03-09") + MORE
        change = compared(workshop, run=run)
        assert (paths(change), effects(change, buys=True)) == (["start"], {})
        (finished,) = [each for each in change["effects"] if each["title"] == "Finished"]
        assert finished["shown"][2] == "7 days later"

    def test_a_title_alone_is_told_but_not_planned_for(self, workshop: Workshop) -> None:
        run = RUN + MORE + "title: Spring\n"
        change = compared(workshop, run=run)
        assert (paths(change), change["effects"]) == (["title"], [])

    def test_errors_are_told(self, workshop: Workshop) -> None:
        change = compared(workshop, run=RUN.replace("goat-1.yaml", "none.yaml"))
        assert "the new run has errors" in change["says"]
        assert [finding["severity"] for finding in change["came"]] == ["error"]
        assert (change["effects"], change["went"]) == ([], [])

    def test_what_comes_and_goes_is_told_in_a_line(self, workshop: Workshop) -> None:
        run = RUN.replace("{spec: ../small.yaml}, ", "") + MORE
        change = compared(workshop, run=run)
        assert [tuple(value.values()) for value in change["values"]] == [("drums.SMALL", "quantity 3", "none")]


class TestFolders:
    """Runs of a folder, beside its specs."""

    def test_a_new_run(self, workshop: Workshop) -> None:
        write(workshop, "old")
        write(workshop, "new")
        (workshop.folder / "old/runs/run.yaml").unlink()
        run = workshop.run("compare", "old", "new")
        assert run.code == 1
        assert "drums: 2 the same; runs: 1 new, 0 the same" in run.out
        assert "Frames for LARGE: 0 -> 2; +2" in run.out

    def test_markdown(self, workshop: Workshop) -> None:
        write(workshop, "old")
        write(workshop, "new", run=CHANGED_RUN + MORE)
        run = workshop.run("compare", "old", "new", "--format", "markdown")
        assert run.out.startswith("## Drums: 2 the same; runs: 1 changed, 0 the same\n")
        assert "### Run spring" in run.out
        assert "| Frames for LARGE | 2 | 4 | +2 |" in run.out

    @pytest.mark.skipif(GIT is None, reason="git is not installed")
    def test_at_a_revision(self, workshop: Workshop) -> None:
        write(workshop, ".")
        (workshop.folder / ".git").rmdir()
        assert GIT is not None
        environment = {name: value for name, value in os.environ.items() if not name.startswith("GIT_")}
        environment |= {"GIT_CONFIG_GLOBAL": os.devnull, "GIT_CONFIG_NOSYSTEM": "1"}
        who = ("-c", "user.name=t", "-c", "user.email=t@example.org")
        for words in (("init", "-q"), ("add", "-A"), (*who, "commit", "-q", "-m", "first")):
            subprocess.run([GIT, *words], cwd=workshop.folder, env=environment, check=True)
        assert said(workshop.run("compare", "runs")) == (0, "no difference, 1 run the same")
        workshop.write("runs/goat-1.yaml", SKIN.replace("hide: goat", "hide: deer"))
        run = workshop.run("compare", "runs", "--format", "json")
        assert run.code == 1
        assert run.report["runs"][0]["file"] == "runs/run.yaml"
        assert {finding["file"] for finding in run.report["runs"][0]["came"]} == {"runs/run.yaml"}


def said(run: Run) -> tuple[int, str]:
    """Return a run's code and the end of its only line."""
    return run.code, run.out.strip().partition(": ")[2]
