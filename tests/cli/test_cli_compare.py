"""The command `compare`: files, folders and git revisions; exit codes, formats and the overlay."""

from __future__ import annotations

import os
import shutil
import subprocess
from pathlib import Path
from xml.etree import ElementTree

import pytest

from workshops import PARTS, Workshop, run_program, spec_text, surroundings

GIT = shutil.which("git")
needs_git = pytest.mark.skipif(GIT is None, reason="git is not installed")

SHOP = "shop: 1\nhides: {goat: {web: 18 mm}}\n"
BASE = "base: 1\nframe: {edge_radius: 2 mm}\n"
DEEPER = PARTS.replace("55 mm", "60 mm")


def git(folder: Path, *arguments: str) -> str:
    """Run git in a folder, with nobody's settings."""
    assert GIT is not None
    environment = {name: value for name, value in os.environ.items() if not name.startswith("GIT_")}
    environment |= {"GIT_CONFIG_GLOBAL": os.devnull, "GIT_CONFIG_NOSYSTEM": "1"}
    done = subprocess.run(
        [GIT, "-c", "user.name=t", "-c", "user.email=t@example.org", *arguments],
        cwd=folder, env=environment, capture_output=True, text=True, check=True,
    )  # fmt: skip
    return done.stdout.strip()


def commit(workshop: Workshop, message: str) -> str:
    """Commit all, and return the commit's name."""
    git(workshop.folder, "add", "-A")
    git(workshop.folder, "commit", "-q", "-m", message)
    return git(workshop.folder, "rev-parse", "HEAD")


@pytest.fixture
def repository(workshop: Workshop) -> Workshop:
    """Give a repository with shop, base and two specs, all committed."""
    (workshop.folder / ".git").rmdir()
    git(workshop.folder, "init", "-q")
    workshop.write("shop.yaml", SHOP)
    workshop.write("specs/b.base.yaml", BASE)
    workshop.write("specs/a.yaml", spec_text("A", "inherits: b.base.yaml\n"))
    workshop.write("specs/c.yaml", spec_text("C"))
    commit(workshop, "first")
    return workshop


class TestFilesAndFolders:
    """Two files, or two folders."""

    def test_same(self, workshop: Workshop) -> None:
        workshop.write("a.yaml", spec_text())
        workshop.write("b.yaml", "# other words\n" + spec_text(parts=PARTS.replace("13 in", "330.2 mm")))
        run = workshop.run("compare", "a.yaml", "b.yaml")
        assert (run.code, run.err) == (0, "")
        assert run.out == "a.yaml -> b.yaml: no difference, 1 drum the same\n"

    def test_different(self, workshop: Workshop) -> None:
        workshop.write("a.yaml", spec_text())
        workshop.write("b.yaml", spec_text(parts=DEEPER))
        run = workshop.run("compare", "a.yaml", "b.yaml", "--format", "json")
        assert (run.code, run.err, run.report["differs"]) == (1, "", True)
        (drum,) = run.report["drums"]
        assert [value["path"] for value in drum["values"]] == ["frame.depth"]
        assert drum["values"][0]["new_origin"]["file"] == "b.yaml"
        assert len(drum["holes"]) == 32
        assert drum["old"]["digest"] != drum["new"]["digest"]

    def test_folders(self, workshop: Workshop) -> None:
        for folder in ("old", "new"):
            workshop.write(f"{folder}/a.yaml", spec_text("A"))
        workshop.write("old/gone.yaml", spec_text("GONE"))
        workshop.write("new/new.yaml", spec_text("NEW"))
        workshop.write("old/c.yaml", spec_text("C"))
        workshop.write("new/moved/c.yaml", spec_text("C", parts=DEEPER))
        run = workshop.run("compare", "old", "new", "--format", "json")
        assert run.code == 1
        assert {drum["drum"]: drum["state"] for drum in run.report["drums"]} == {
            "C": "changed", "GONE": "gone", "NEW": "new",
        }  # fmt: skip
        assert run.report["same"] == 1

    def test_a_shop_file_alone(self, workshop: Workshop) -> None:
        for folder, web in (("old", 18), ("new", 20)):
            workshop.write(f"{folder}/shop.yaml", f"shop: 1\nhides: {{goat: {{web: {web} mm}}}}\n")
            workshop.write(f"{folder}/a.yaml", spec_text())
        run = workshop.run("compare", "old", "new")
        assert run.code == 1
        assert "shop file: new/shop.yaml:2" in run.out
        assert "because of stations.web (shop file)" in run.out

    def test_an_approval_is_told(self, workshop: Workshop) -> None:
        for folder in ("old", "new"):
            workshop.write(f"{folder}/a.yaml", spec_text())
        assert workshop.run("approve", "new/a.yaml", "--by", "bench").code == 0
        run = workshop.run("compare", "old/a.yaml", "new/a.yaml", "--format", "json")
        assert run.code == 1
        assert run.report["drums"][0]["words"] == [{"name": "approval", "old": "never approved", "new": "approved"}]

    @pytest.mark.parametrize(
        ("paths", "said"),
        [
            (("a.yaml", "none.yaml"), "no such file"),
            (("a.yaml", "."), "two files or two folders"),
            (("a.yaml", "a.yaml", "a.yaml"), "two paths"),
            (("a.yaml", "a.yaml", "--from", "HEAD"), "go with one path"),
            (("a.yaml", "shop.yaml"), "no spec here"),
            (("a.yaml", "-"), "standard input"),
            (("-",), "standard input"),
        ],
    )
    def test_trouble(self, workshop: Workshop, paths: tuple[str, ...], said: str) -> None:
        workshop.write("a.yaml", spec_text())
        workshop.write("shop.yaml", SHOP)
        run = workshop.run("compare", *paths)
        assert (run.code, run.out) == (2, "")
        assert said in run.err

    def test_markdown(self, workshop: Workshop) -> None:
        workshop.write("a.yaml", spec_text())
        workshop.write("b.yaml", spec_text(parts=DEEPER))
        run = workshop.run("compare", "a.yaml", "b.yaml", "--format", "markdown", "--overlay", "both.svg")
        assert run.code == 1
        assert run.out.startswith("## Drums: 1 changed, 0 the same\n")
        assert "![Both hole layouts over each other](<both.svg>)" in run.out
        assert "| Depth (`frame.depth`) | 55\u00a0mm" in run.out

    def test_a_side_with_errors(self, workshop: Workshop) -> None:
        workshop.write("a.yaml", spec_text())
        workshop.write("b.yaml", "spec: 1\ndrum: A\n")
        run = workshop.run("compare", "a.yaml", "b.yaml")
        assert run.code == 1
        assert "the new spec has errors" in run.out
        assert "[missing-key]" in run.out


class TestOverlay:
    """Both hole layouts over each other."""

    def test_has_the_holes_of_both(self, workshop: Workshop) -> None:
        workshop.write("a.yaml", spec_text())
        workshop.write("b.yaml", spec_text(parts=DEEPER.replace("16", "18")))
        assert workshop.run("compare", "a.yaml", "b.yaml", "--overlay", "both.svg").code == 1
        root = ElementTree.parse(workshop.folder / "both.svg").getroot()
        assert len([one for one in root.iter() if "data-old" in one.attrib]) == 32
        assert len([one for one in root.iter() if "data-new" in one.attrib]) == 36

    def test_is_drawn_anew_but_over_nothing_else(self, workshop: Workshop) -> None:
        workshop.write("a.yaml", spec_text())
        workshop.write("b.yaml", spec_text(parts=DEEPER))
        workshop.write("c.yaml", spec_text(parts=DEEPER.replace("60", "61")))
        assert workshop.run("compare", "a.yaml", "b.yaml", "--overlay", "both.svg").code == 1
        first = (workshop.folder / "both.svg").read_bytes()
        assert workshop.run("compare", "a.yaml", "c.yaml", "--overlay", "both.svg").code == 1
        assert (workshop.folder / "both.svg").read_bytes() != first
        before = (workshop.folder / "a.yaml").read_bytes()
        run = workshop.run("compare", "a.yaml", "c.yaml", "--overlay", "a.yaml")
        assert (run.code, (workshop.folder / "a.yaml").read_bytes()) == (2, before)

    def test_takes_one_drum(self, workshop: Workshop) -> None:
        for folder, parts in (("old", PARTS), ("new", DEEPER)):
            for drum in ("A", "B"):
                workshop.write(f"{folder}/{drum}.yaml", spec_text(drum, parts=parts))
        run = workshop.run("compare", "old", "new", "--overlay", "both.svg")
        assert run.code == 2
        assert "name the spec" in run.err


@needs_git
class TestRevisions:
    """One path at two git revisions, with the base and shop files of each."""

    def test_as_it_lies(self, repository: Workshop) -> None:
        assert repository.run("compare").code == 0
        repository.write("specs/a.yaml", spec_text("A", "inherits: b.base.yaml\n", parts=DEEPER))
        run = repository.run("compare", "--format", "json")
        assert run.code == 1
        (drum,) = run.report["drums"]
        assert (drum["drum"], drum["old"]["file"], drum["new"]["file"]) == ("A", "specs/a.yaml", "specs/a.yaml")
        assert run.report["same"] == 1

    def test_shop_and_base_of_each_revision(self, repository: Workshop) -> None:
        first = git(repository.folder, "rev-parse", "HEAD")
        repository.write("shop.yaml", SHOP.replace("18", "20"))
        second = commit(repository, "shop")
        repository.write("specs/b.base.yaml", BASE.replace("2 mm", "4 mm"))
        commit(repository, "base")
        shop = repository.run("compare", "specs", "--from", first, "--to", second, "--format", "json").report
        assert {drum["drum"] for drum in shop["drums"]} == {"A", "C"}
        for drum in shop["drums"]:
            (value,) = drum["values"]
            assert (value["layer"], value["new_origin"]["file"]) == ("shop", "shop.yaml")
        base = repository.run("compare", "specs", "--from", second, "--to", "HEAD", "--format", "json").report
        (drum,) = base["drums"]
        (value,) = drum["values"]
        assert (drum["drum"], value["layer"], value["old_origin"]["file"]) == ("A", "base", "specs/b.base.yaml")
        back = repository.run("compare", "specs/a.yaml", "--from", first, "--to", first)
        assert back.code == 0

    def test_from_a_folder_within(self, repository: Workshop, monkeypatch: pytest.MonkeyPatch) -> None:
        repository.write("shop.yaml", SHOP.replace("18", "20"))
        monkeypatch.chdir(repository.folder / "specs")
        run = repository.run("compare", "a.yaml", "--format", "json")
        assert run.code == 1
        assert run.report["drums"][0]["old"]["file"] == "a.yaml"

    def test_a_hook_may_run_it(self, repository: Workshop, monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.setenv("GIT_DIR", "/nowhere")
        monkeypatch.setenv("GIT_INDEX_FILE", "/nowhere/index")
        assert repository.run("compare").code == 0

    @pytest.mark.parametrize(
        ("arguments", "said"),
        [
            (("specs", "--from", "nope"), "git knows no revision nope"),
            (("specs", "--from=-x"), "no name of a git revision"),
            (("specs", "--from=--output=spoilt"), "no name of a git revision"),
            (("specs", "--from", ""), "no name of a git revision"),
            (("specs", "--to", "HEAD:specs"), "git knows no revision"),
            (("specs/new.yaml",), "no such file or folder at HEAD"),
            (("elsewhere", "--from", "HEAD"), "no such file or folder at HEAD"),
        ],
    )
    def test_trouble(self, repository: Workshop, arguments: tuple[str, ...], said: str) -> None:
        repository.write("specs/new.yaml", spec_text("NEW"))
        run = repository.run("compare", *arguments)
        assert (run.code, run.out) == (2, "")
        assert said in run.err
        assert not (repository.folder / "spoilt").exists()

    def test_a_file_that_is_gone_now(self, repository: Workshop) -> None:
        (repository.folder / "specs/c.yaml").unlink()
        assert repository.run("compare", "specs/c.yaml").code == 2
        run = repository.run("compare", "specs", "--format", "json")
        assert [(drum["drum"], drum["state"]) for drum in run.report["drums"]] == [("C", "gone")]
        assert repository.run("compare", "specs/c.yaml", "--from", "HEAD", "--to", "HEAD").code == 0

    def test_no_repository(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, workshop: Workshop) -> None:
        bare = tmp_path / "bare"
        bare.mkdir()
        (bare / "a.yaml").write_text(spec_text())
        monkeypatch.chdir(bare)
        run = workshop.run("compare", "a.yaml")
        assert (run.code, run.out) == (2, "")
        assert "lies in no git repository" in run.err

    def test_no_commit_yet(self, workshop: Workshop) -> None:
        (workshop.folder / ".git").rmdir()
        git(workshop.folder, "init", "-q")
        workshop.write("a.yaml", spec_text())
        run = workshop.run("compare", "a.yaml")
        assert (run.code, "git knows no revision HEAD" in run.err) == (2, True)

    def test_links_lead_nowhere_else(self, repository: Workshop, tmp_path: Path) -> None:
        outside = tmp_path / "outside.yaml"
        outside.write_text(spec_text("OUT"))
        (repository.folder / "specs/link.yaml").symlink_to(outside)
        (repository.folder / "specs/inner.yaml").symlink_to("c.yaml")
        commit(repository, "links")
        run = repository.run("compare", "specs", "--to", "HEAD")
        assert "OUT" not in run.out
        assert outside.read_text() == spec_text("OUT")

    @pytest.mark.slow
    def test_no_git(self, repository: Workshop, tmp_path: Path) -> None:
        empty = tmp_path / "empty"
        empty.mkdir()
        done = run_program(repository.folder, "compare", environment=surroundings(PATH=str(empty)))
        assert (done.returncode, done.stdout) == (2, b"")
        assert b"git is not installed" in done.stderr
