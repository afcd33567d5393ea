"""The command `run`: papers written, left alone, interrupted; bad input."""

from __future__ import annotations

import json
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from run_files import FILES, RUN, SKIN, SMALL, write_files
from run_plans import ALL_GOAT
from tauthide.batch import running
from tauthide.cutting import improving
from tauthide.cutting.pieces import Task
from tauthide.output.run_store import LIST_NAME
from tauthide.scheduling.jobs import Run as Timed
from tauthide.scheduling.planning import plan_run
from tauthide.scheduling.schedule import Limit, Outcome
from tauthide.scheduling.search import Effort
from workshops import Workshop, command, surroundings

PAPERS = {
    "chain.csv", "costs.csv", "drums.csv", "hides.csv", "kits.csv", "kits.md", "lace.csv", "lace.md", "limits.csv",
    "made.csv", "needs.csv", "run.json", "run.md", "schedule.csv", "schedule.md", "schedule.svg", "skin-goat-1.svg",
    "skins.csv", "skins.md", "skins_to_buy.csv", "travellers.csv", "travellers.md", "water.csv",
}  # fmt: skip


def names(folder: Path) -> set[str]:
    """Return the names of the files in a folder, without the list of them."""
    return {path.name for path in folder.iterdir()} - {LIST_NAME} if folder.exists() else set()


def contents(folder: Path) -> dict[str, bytes]:
    """Return all files in a folder."""
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def test_papers_are_written_and_then_left_alone(workshop: Workshop) -> None:
    write_files(workshop.folder, {})
    run = workshop.run("run", "runs/run.yaml", "--effort", "20", "--format", "json")
    assert run.code == 0
    assert run.report is not None
    summary = run.report["summary"]
    assert (summary["drums"], summary["written"], summary["partial"]) == (5, len(PAPERS), False)
    assert [finding["name"] for finding in run.report["findings"]] == [
        "drum-unapproved", "drum-unapproved", "piece-left-over", "skin-short",
    ]  # fmt: skip
    papers = workshop.folder / "papers"
    assert names(papers) == PAPERS
    before = contents(papers)
    again = workshop.run("run", "runs/run.yaml", "--effort", "20")
    assert again.err.endswith(f"5 drums; 0 files written, {len(PAPERS)} unchanged, 0 removed; 1 warning, 3 notes\n")
    assert contents(papers) == before


def test_same_bytes_whatever_the_hash_seed_and_from_any_folder(workshop: Workshop, tmp_path: Path) -> None:
    write_files(workshop.folder, {})
    made = []
    for seed, folder in (("1", workshop.folder), ("2", tmp_path)):
        out = tmp_path / f"out{seed}"
        file = workshop.folder / "runs" / "run.yaml"
        done = subprocess.run(
            [*command(), "run", str(file), "--out", str(out), "--effort", "30"],
            cwd=folder, env=surroundings(PYTHONHASHSEED=seed), capture_output=True, text=True, check=False,
        )  # fmt: skip
        assert done.returncode == 0, done.stderr
        made.append(contents(out))
    assert made[0] == made[1]


def test_papers_that_are_no_longer_made_go(workshop: Workshop) -> None:
    write_files(workshop.folder, {})
    assert workshop.run("run", "runs/run.yaml", "--effort", "0").code == 0
    write_files(workshop.folder, {"runs/run.yaml": RUN.replace("skins: [goat-1.yaml]\n", "")})
    papers = workshop.folder / "papers"
    (papers / "mine.txt").write_text("keep")
    assert workshop.run("run", "runs/run.yaml", "--effort", "0").code == 0
    assert names(papers) == (PAPERS - {"skin-goat-1.svg", "hides.csv", "water.csv"}) | {"mine.txt"}


def test_nothing_over_what_is_not_ours(workshop: Workshop) -> None:
    write_files(workshop.folder, {})
    papers = workshop.folder / "papers"
    papers.mkdir()
    (papers / "run.md").write_text("mine")
    run = workshop.run("run", "runs/run.yaml", "--effort", "0")
    assert (run.code, run.err) == (2, "tauthide: papers/run.md is not ours; move it away or choose another --out\n")
    assert contents(papers) == {"run.md": b"mine"}


@pytest.mark.parametrize(
    "content", [b"", b"[]", b'{"format": 2, "files": {}}', b'{"format": 1, "files": {"../a": "b"}}']
)
def test_a_damaged_list(workshop: Workshop, content: bytes) -> None:
    write_files(workshop.folder, {})
    papers = workshop.folder / "papers"
    papers.mkdir()
    (papers / LIST_NAME).write_bytes(content)
    run = workshop.run("run", "runs/run.yaml", "--effort", "0")
    assert run.code == 2
    assert LIST_NAME in run.err
    assert names(papers) == set()


def test_errors_leave_nothing(workshop: Workshop) -> None:
    write_files(workshop.folder, {"small.yaml": "spec: 1\ndrum: SMALL\n", "runs/goat-1.yaml": SKIN + "flaws: 3\n"})
    run = workshop.run("run", "runs/run.yaml", "--format", "json")
    assert run.code == 1
    assert run.report is not None
    assert {"runs/goat-1.yaml", "small.yaml"} <= {finding["file"] for finding in run.report["findings"]}
    assert not (workshop.folder / "papers").exists()


def test_a_rule_of_the_trade_stops_the_run_too(workshop: Workshop) -> None:
    write_files(workshop.folder, {"small.yaml": "spec: 1\ndrum: SMALL\nframe: {outline: round, diameter: 8 in, "
                                  "depth: 40 mm}\nhead: {hide: goat}\nstations: {count: 9}\n"})  # fmt: skip
    run = workshop.run("run", "runs/run.yaml", "--format", "json")
    assert run.code == 1
    assert run.report is not None
    assert "odd-station-count" in {finding["name"] for finding in run.report["findings"]}


def test_work_that_no_day_has_room_for(workshop: Workshop) -> None:
    short = RUN.replace("to: 17:00", "to: 9:20")
    write_files(workshop.folder, {"runs/run.yaml": short})
    run = workshop.run("run", "runs/run.yaml", "--format", "json")
    assert run.code == 1
    assert run.report is not None
    told = [finding for finding in run.report["findings"] if finding["name"] in ("work-too-long", "wet-too-long")]
    assert told
    assert {finding["path"] for finding in told} == {"hours"}


@pytest.mark.parametrize(("places", "names"), [(6, ["tub-small-for-class"]), (7, [])])
def test_a_class_whose_skins_have_no_room_in_the_tub(workshop: Workshop, places: int, names: list[str]) -> None:
    """Three drums and two that are laced with another animal's skin, so seven places."""
    lesson = f"cutting: {{rounds: 0}}\nclass: {{begins: 2026-03-10}}\nplaces: {{tub: {places}}}\n"
    write_files(workshop.folder, {"runs/run.yaml": RUN + lesson})
    run = workshop.run("run", "runs/run.yaml", "--format", "json")
    assert run.report is not None
    found = [each for each in run.report["findings"] if each["severity"] == "error"]
    assert [each["name"] for each in found] == names
    assert run.code == (1 if names else 0)
    if names:
        assert (found[0]["path"], found[0]["found"]) == ("places.tub", "6")
        assert "takes 7 places" in found[0]["message"]


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["runs"], "tauthide: runs is a folder; run takes the file of one run\n"),
        (["runs/run.yaml", "--effort", "-1"], "is not a number from 0 to"),
        (["runs/run.yaml", "--out", ""], "an empty name is no folder"),
    ],
)
def test_bad_usage(workshop: Workshop, arguments: list[str], said: str) -> None:
    write_files(workshop.folder, {})
    run = workshop.run("run", *arguments)
    assert run.code == 2
    assert said in run.err


@pytest.mark.parametrize("name", ["runs/none.yaml", "small.yaml", "runs/goat-1.yaml"])
def test_what_is_no_run(workshop: Workshop, name: str) -> None:
    write_files(workshop.folder, {})
    run = workshop.run("run", name)
    assert run.code == 2
    assert "runs/none.yaml" in run.err or "run takes the file of a run" in run.err
    assert not (workshop.folder / "papers").exists()


class TestInterrupted:
    """The search is broken off after its first plan, as by the keyboard."""

    @pytest.fixture(autouse=True)
    def broken(self, monkeypatch: pytest.MonkeyPatch) -> None:
        whole = improving.improve

        def search(task: Task, rounds: int, seed: int) -> Iterator[improving.Progress]:
            yield next(whole(task, rounds, seed))
            raise KeyboardInterrupt

        monkeypatch.setattr(improving, "improve", search)

    def test_writes_nothing(self, workshop: Workshop) -> None:
        write_files(workshop.folder, {})
        run = workshop.run("run", "runs/run.yaml")
        assert (run.code, run.err) == (130, "tauthide: interrupted\n")
        assert not (workshop.folder / "papers").exists()

    def test_or_the_best_so_far_if_that_is_wanted(self, workshop: Workshop) -> None:
        write_files(workshop.folder, {})
        run = workshop.run("run", "runs/run.yaml", "--keep-partial")
        assert run.code == 130
        assert "interrupted, so this is the best so far" in run.err
        papers = workshop.folder / "papers"
        assert "**This plan is not finished.**" in (papers / "run.md").read_text()
        assert "**This plan is not finished:**" in (papers / "skins.md").read_text()
        assert json.loads((papers / "run.json").read_text())["partial"] is True


@pytest.mark.parametrize("phase", ["plan_run", "find_limits"])
class TestInterruptedLater:
    """The search is broken off while the schedule is made, or what limits it is worked out, as by the keyboard."""

    @pytest.fixture(autouse=True)
    def broken(self, monkeypatch: pytest.MonkeyPatch, phase: str) -> None:
        asked: list[Effort] = []

        def search(timed: Timed, effort: Effort) -> Outcome:
            asked.append(effort)
            if len(asked) == 2:
                raise KeyboardInterrupt
            return plan_run(timed, effort)

        def limits(*_: object) -> tuple[Limit, ...]:
            raise KeyboardInterrupt

        monkeypatch.setattr(running, phase, search if phase == "plan_run" else limits)

    def test_writes_nothing(self, workshop: Workshop) -> None:
        write_files(workshop.folder, {})
        run = workshop.run("run", "runs/run.yaml", "--effort", "5")
        assert (run.code, run.err.splitlines()[-1]) == (130, "tauthide: interrupted")
        assert not (workshop.folder / "papers").exists()

    def test_or_what_there_is_if_that_is_wanted(self, workshop: Workshop) -> None:
        write_files(workshop.folder, {})
        run = workshop.run("run", "runs/run.yaml", "--effort", "5", "--keep-partial")
        assert run.code == 130
        papers = workshop.folder / "papers"
        made = json.loads((papers / "run.json").read_text())
        assert made["partial"] is True
        assert made["limits"] == []
        assert len(made["work"]) > 20


@pytest.mark.slow
@pytest.mark.skipif(sys.platform == "win32", reason="signals")
def test_a_real_interrupt(workshop: Workshop) -> None:
    write_files(workshop.folder, {})
    started = [*command(), "run", "runs/run.yaml", "--effort", "1000000", "--keep-partial"]
    with subprocess.Popen(started, cwd=workshop.folder, env=surroundings(), stderr=subprocess.PIPE, text=True) as run:
        time.sleep(4)
        run.send_signal(signal.SIGINT)
        _, said = run.communicate(timeout=60)
    assert run.returncode == 130, said
    assert "**This plan is not finished.**" in (workshop.folder / "papers" / "run.md").read_text()


def test_papers_say_what_is_not_approved(workshop: Workshop) -> None:
    for name, text in {**FILES, "large.yaml": ALL_GOAT, "runs/run.yaml": RUN + "cutting: {rounds: 0}\n"}.items():
        workshop.write(name, text)
    papers = workshop.folder / "papers"
    pages = ("run.md", "skins.md", "lace.md", "kits.md", "travellers.md", "schedule.md")
    stamp = b"NOT APPROVED: do not cut"
    assert workshop.run("run", "runs/run.yaml", "--out", "papers").code == 0
    for page in pages:
        assert "> - SMALL: Nobody has approved this drum." in (papers / page).read_text(encoding="utf-8")
    assert stamp in (papers / "skin-goat-1.svg").read_bytes()
    cards = (papers / "kits.md").read_text(encoding="utf-8").split("\n## ")[1:]
    assert len(cards) == 5
    assert all("**not approved: do not cut**" in card for card in cards)
    data = json.loads((papers / "run.json").read_text())
    assert [each["drum"] for each in data["unapproved"]] == ["SMALL", "LARGE"]
    assert data["unapproved"][0]["serials"] == ["SMALL-01", "SMALL-02", "SMALL-03"]
    assert {drum["approved"] for drum in data["drums"]} == {False}
    found = [finding for finding in data["findings"] if finding["name"] == "drum-unapproved"]
    assert [(finding["severity"], finding["line"]) for finding in found] == [("note", 3), ("note", 3)]
    for spec in ("small.yaml", "large.yaml"):
        assert workshop.run("approve", spec, "--by", "bench").code == 0
    assert workshop.run("run", "runs/run.yaml", "--out", "papers").code == 0
    for page in pages:
        assert "approved" not in (papers / page).read_text(encoding="utf-8")
    assert stamp not in (papers / "skin-goat-1.svg").read_bytes()
    data = json.loads((papers / "run.json").read_text())
    assert (data["unapproved"], {drum["approved"] for drum in data["drums"]}) == ([], {True})
    assert not [each for each in data["findings"] if each["name"] in ("drum-unapproved", "approval-lapsed")]


def test_a_drum_that_has_changed_since_is_a_warning(workshop: Workshop) -> None:
    changes = {"large.yaml": ALL_GOAT, "runs/run.yaml": RUN + "cutting: {rounds: 0}\n"}
    write_files(workshop.folder, changes)
    for spec in ("small.yaml", "large.yaml"):
        assert workshop.run("approve", spec, "--by", "bench").code == 0
    workshop.write("small.yaml", SMALL.replace("depth: 40 mm", "depth: 42 mm"))
    run = workshop.run("run", "runs/run.yaml", "--format", "json")
    assert run.code == 0
    (found,) = [each for each in run.findings if each["name"] == "approval-lapsed"]
    assert (found["severity"], found["file"], found["path"]) == ("warning", "runs/run.yaml", "drums")
    assert found["message"].startswith("SMALL is no longer approved, so nothing is to be cut for it: It has changed")
    assert "drum-unapproved" not in run.names
    data = json.loads((workshop.folder / "papers" / "run.json").read_text())
    assert [each["drum"] for each in data["unapproved"]] == ["SMALL"]
