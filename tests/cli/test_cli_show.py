"""The command `show`, by itself and as the text conversion of a diff driver of git's."""

from __future__ import annotations

import os
import re
import shlex
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest

from workshops import PARTS, Workshop, command, spec_text, surroundings

ROOT = Path(__file__).parents[2]
Git = Callable[..., str]

BASED = "head: {hide: goat}\nstations: {count: 16}\n"
BASE = "base: 1\nframe: {outline: round, diameter: 13 in, depth: 55 mm}\n"


def readme_lines(start: str) -> list[str]:
    """Return the lines of the README that start like this."""
    return [line for line in (ROOT / "README.md").read_text(encoding="utf-8").splitlines() if line.startswith(start)]


def changed(difference: str) -> tuple[list[str], list[str]]:
    """Return the lines that a difference takes away and those that it adds."""
    lines = difference.splitlines()
    return tuple(
        [line[1:].strip() for line in lines if line.startswith(sign) and not line.startswith(sign * 3)] for sign in "-+"
    )  # type: ignore[return-value]


class TestShow:
    def test_every_value_has_its_origin(self, workshop: Workshop) -> None:
        workshop.write("shop.yaml", "shop: 1\nlace: {allowance: 12 %}\n")
        workshop.write("specs/set.base.yaml", BASE)
        workshop.write("specs/a.yaml", spec_text(more="inherits: set.base.yaml\n", parts=BASED))
        run = workshop.run("show", "specs/a.yaml")
        lines = run.out.splitlines()
        assert (run.code, run.err) == (0, "")
        assert lines[0] == "drum: LIB-13"
        for line in (
            "  frame.diameter: 330 mm (13 in) [inherited: set.base.yaml]",
            "  head.hide: goat [spec]",
            "  lace.allowance: 12 % [shop file: ../shop.yaml]",
            "  holes.count: 32",
        ):
            assert line in lines
        values = lines[lines.index("values") + 1 : lines.index("figures") - 1]
        assert all(re.fullmatch(r"  [a-z_.]+: .+ \[.+\]", line) for line in values)

    def test_digest_and_figures_are_those_of_the_sheet(self, workshop: Workshop) -> None:
        workshop.write("specs/a.yaml", spec_text())
        workshop.run("build")
        sheet = workshop.sheet("LIB-13")
        shown = dict(re.findall(r"^ *([a-z_.]+): (.+)$", workshop.run("show", "specs/a.yaml").out, re.MULTILINE))
        assert shown["digest"] in sheet
        assert shown["lace.cut_length"] in sheet

    def test_comments_order_and_spelling_change_nothing(self, workshop: Workshop) -> None:
        workshop.write("a.yaml", spec_text())
        one = workshop.run("show", "a.yaml").out
        parts = "# a comment\n" + "\n".join(reversed(PARTS.splitlines())).replace("13 in", "330.2 mm") + "\n"
        workshop.write("a.yaml", spec_text(parts=parts))
        assert workshop.run("show", "a.yaml").out == one

    def test_breach_of_a_rule_is_told_and_values_shown(self, workshop: Workshop) -> None:
        workshop.write("a.yaml", spec_text(parts=PARTS.replace("count: 16", "count: 16, web: 100 mm")))
        run = workshop.run("show", "a.yaml")
        assert run.code == 1
        assert "  stations.web: 100 mm (3 15/16 in) [spec]" in run.out.splitlines()
        assert "no figures: this drum has errors" in run.out.splitlines()
        assert "error:" in run.err

    @pytest.mark.parametrize(
        ("text", "code", "said"),
        [
            ("spec: 1\n", 1, "missing-key"),
            (BASE, 2, "is a base file; show takes a spec"),
            ("a: [\n", 1, "yaml-syntax"),
        ],
    )
    def test_what_is_no_sound_spec(self, workshop: Workshop, text: str, code: int, said: str) -> None:
        workshop.write("a.yaml", text)
        run = workshop.run("show", "a.yaml")
        assert (run.code, run.out) == (code, "")
        assert said in run.err

    def test_folders_and_missing_files(self, workshop: Workshop) -> None:
        workshop.write("specs/a.yaml", spec_text())
        assert workshop.run("show", "specs").code == 2
        assert workshop.run("show", "none.yaml").code == 2


@pytest.fixture
def git(workshop: Workshop, monkeypatch: pytest.MonkeyPatch) -> Git:
    """Make the workshop a real repository, set up as the README says; return a function that runs git there."""
    (workshop.folder / ".git").rmdir()
    environment = {
        **{name: value for name, value in surroundings().items() if not name.startswith("GIT_")},
        "GIT_CONFIG_NOSYSTEM": "1",
        "GIT_CONFIG_GLOBAL": os.devnull,
        **{f"GIT_{who}_{what}": text for who in ("AUTHOR", "COMMITTER")
           for what, text in (("NAME", "Test"), ("EMAIL", "test@example.org"))},
    }  # fmt: skip

    def run(*arguments: str) -> str:
        done = subprocess.run(
            ["git", *arguments], cwd=workshop.folder, env=environment, capture_output=True, text=True, check=False
        )
        assert done.returncode == 0, done.stderr
        return done.stdout

    run("init", "--quiet")
    (attributes,) = readme_lines("specs/*.yaml diff=")
    workshop.write(".gitattributes", f"{attributes}\n")
    (setting,) = readme_lines("git config diff.")
    words = shlex.split(setting)
    assert words[3].startswith("tauthide show ")
    run(*words[1:3], " ".join([shlex.join(command()), *words[3].split()[1:]]))
    return run


class TestDiffDriver:
    def commit(self, git: Git) -> None:
        git("add", "--all")
        git("commit", "--quiet", "--message", "Specs")

    def test_shows_what_a_change_does(self, workshop: Workshop, git: Git) -> None:
        workshop.write("shop.yaml", "shop: 1\nlace: {allowance: 12 %}\n")
        workshop.write("specs/set.base.yaml", BASE)
        workshop.write("specs/a.yaml", spec_text(more="inherits: set.base.yaml\n", parts=BASED))
        self.commit(git)
        workshop.write("specs/a.yaml", spec_text(more="inherits: set.base.yaml\n", parts=BASED.replace("16", "18")))
        old, new = changed(git("diff"))
        assert {"stations.count: 16 [spec]", "holes.count: 32"} <= set(old)
        assert {"stations.count: 18 [spec]", "holes.count: 36"} <= set(new)
        # Base and shop are those of the working tree for both, so what they say is no difference.
        assert not any("inherited" in line or "shop file" in line or line.startswith("#") for line in old + new)
        self.commit(git)
        assert changed(git("diff", "HEAD~1", "HEAD")) == (old, new)
        assert "holes.count: 36" in git("log", "-1", "--patch")

    def test_a_comment_is_no_difference(self, workshop: Workshop, git: Git) -> None:
        workshop.write("specs/a.yaml", spec_text())
        self.commit(git)
        workshop.write("specs/a.yaml", "# a comment\n" + spec_text(parts=PARTS.replace("13 in", "330.2 mm")))
        assert changed(git("diff")) == ([], [])

    def test_files_of_one_name_are_told_apart_by_their_drum(self, workshop: Workshop, git: Git) -> None:
        for folder, allowance in (("one", "12 %"), ("two", "14 %")):
            workshop.write(f"specs/{folder}/shop.yaml", f"shop: 1\nlace: {{allowance: {allowance}}}\n")
            workshop.write(f"specs/{folder}/a.yaml", spec_text(folder.upper()))
        workshop.write(".gitattributes", "*.yaml diff=tauthide\n")
        self.commit(git)
        workshop.write("specs/two/a.yaml", spec_text("TWO", parts=PARTS.replace("16", "18")))
        old, new = changed(git("diff"))
        assert "stations.count: 16 [spec]" in old
        assert not any("allowance" in line for line in old + new)

    def test_moved_file_is_read_by_itself(self, workshop: Workshop, git: Git) -> None:
        workshop.write("specs/a.yaml", spec_text())
        self.commit(git)
        git("mv", "specs/a.yaml", "specs/b.yaml")
        workshop.write("specs/b.yaml", spec_text(parts=PARTS.replace("16", "18")))
        old, new = changed(git("diff", "HEAD", "--no-renames"))
        assert old[0].startswith("# read by itself")
        assert "holes.count: 32" in old
        assert "holes.count: 36" in new

    def test_moved_file_that_inherits_stands_as_it_is(self, workshop: Workshop, git: Git) -> None:
        workshop.write("specs/set.base.yaml", BASE)
        text = spec_text(more="inherits: set.base.yaml\n", parts=BASED)
        workshop.write("specs/a.yaml", text)
        self.commit(git)
        git("rm", "--quiet", "specs/a.yaml")
        old, new = changed(git("diff", "HEAD"))
        assert old[0].startswith("# inherits-from-nowhere: ")
        assert (old[1:], new) == (text.splitlines(), [])

    def test_unsound_spec_base_and_strange_bytes_stand_as_they_are(self, workshop: Workshop, git: Git) -> None:
        workshop.write("specs/a.yaml", spec_text())
        workshop.write("specs/set.base.yaml", BASE)
        workshop.write("specs/strange.yaml", b"\xff\xfe\x00raw\n")
        self.commit(git)
        workshop.write("specs/a.yaml", spec_text().replace("diameter", "diametre"))
        workshop.write("specs/set.base.yaml", BASE.replace("13", "14"))
        workshop.write("specs/strange.yaml", b"\xff\xfe\x01raw\n")
        _, new = changed(git("diff", "specs/a.yaml"))
        assert new[0].startswith("# unknown-key: ")
        assert "frame: {outline: round, diametre: 13 in, depth: 55 mm}" in new
        assert changed(git("diff", "specs/set.base.yaml")) == (
            BASE.splitlines()[1:], BASE.replace("13", "14").splitlines()[1:]
        )  # fmt: skip
        assert "strange.yaml" in git("diff", "--stat", "specs/strange.yaml")

    def test_names_of_older_gits(self, workshop: Workshop, git: Git, tmp_path: Path) -> None:
        """Before version 2.34 git wrote `XXXXXX_name` into the folder for temporary files; from memory."""
        workshop.write("specs/set.base.yaml", BASE)
        text = spec_text(more="inherits: set.base.yaml\n", parts=BASED)
        workshop.write("specs/a.yaml", text)
        aside = tmp_path / "b1Cd3F_a.yaml"
        aside.write_text(text, encoding="utf-8")
        run = workshop.run("show", "--textconv", str(aside))
        assert run.code == 0
        assert "  frame.diameter: 330 mm (13 in) [inherited: set.base.yaml]" in run.out.splitlines()
