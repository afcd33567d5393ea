"""The hooks for pre-commit: run as it would run them, and by the real one where it is installed."""

from __future__ import annotations

import importlib.util
import os
import re
import shlex
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
import yaml

from networks import give_up
from workshops import Run, Workshop, spec_text, workshop

__all__ = ["workshop"]

ROOT = Path(__file__).parents[2]
HOOKS: dict[str, dict[str, Any]] = {
    hook["id"]: hook for hook in yaml.safe_load((ROOT / ".pre-commit-hooks.yaml").read_text(encoding="utf-8"))
}
CHECK, STALE = "tauthide-check", "tauthide-stale"


def run_hook(workshop: Workshop, name: str, *files: str, args: tuple[str, ...] = ()) -> Run | None:
    """Run a hook on changed files as pre-commit would; None where it concerns none of them."""
    hook = HOOKS[name]
    wanted = [file for file in files if re.search(hook["files"], file)]
    if not wanted:
        return None
    program, *arguments = shlex.split(hook["entry"])
    assert program == "tauthide"
    return workshop.run(*arguments, *args, *(wanted if hook.get("pass_filenames", True) else ()))


def test_each_hook_says_what_it_is() -> None:
    assert set(HOOKS) == {CHECK, STALE}
    for hook in HOOKS.values():
        assert hook["language"] == "python"
        assert hook["name"]
        assert hook["description"]


class TestCheck:
    def test_changed_files_are_checked_and_no_others(self, workshop: Workshop) -> None:
        workshop.write("specs/a.yaml", spec_text("A"))
        workshop.write("specs/shop.yaml", "shop: 1\n")
        workshop.write("specs/b.yaml", "spec: 1\n")
        workshop.write(".github/workflows/specs.yaml", "jobs: {}\n")
        run = run_hook(workshop, CHECK, "specs/a.yaml", "specs/shop.yaml", ".github/workflows/specs.yaml")
        assert run is not None
        assert run.code == 0
        run = run_hook(workshop, CHECK, "specs/b.yaml")
        assert run is not None
        assert run.code == 1
        assert run_hook(workshop, CHECK, ".github/workflows/specs.yaml", "README.md") is None

    def test_nothing_is_written(self, workshop: Workshop) -> None:
        workshop.write("specs/a.yaml", spec_text("A"))
        run_hook(workshop, CHECK, "specs/a.yaml")
        assert not (workshop.folder / "sheets").exists()

    def test_clash_of_names_is_found(self, workshop: Workshop) -> None:
        workshop.write("specs/a.yaml", spec_text("A"))
        workshop.write("specs/b.yaml", spec_text("A"))
        run = run_hook(workshop, CHECK, "specs/a.yaml", "specs/b.yaml")
        assert run is not None
        assert "drum-name-taken" in run.err
        assert HOOKS[CHECK]["require_serial"]


class TestStale:
    def test_follows_specs_and_sheets(self, workshop: Workshop) -> None:
        workshop.write("specs/a.yaml", spec_text("A"))
        workshop.run("build")
        fresh = run_hook(workshop, STALE, "specs/a.yaml")
        assert fresh is not None
        assert fresh.code == 0
        workshop.write("sheets/A/sheet.md", "by hand\n")
        stale = run_hook(workshop, STALE, "sheets/A/sheet.md")
        assert stale is not None
        assert (stale.code, stale.err.splitlines()[0]) == (1, "stale: A/sheet.md")
        assert run_hook(workshop, STALE, "README.md") is None

    def test_takes_other_folders_as_arguments(self, workshop: Workshop) -> None:
        workshop.write("drums/specs/a.yaml", spec_text("A"))
        workshop.run("build", "drums/specs", "--out", "drums/sheets")
        run = run_hook(workshop, STALE, "drums/specs/a.yaml", args=("drums/specs", "--out", "drums/sheets"))
        assert run is not None
        assert run.code == 0


def git(folder: Path, *arguments: str) -> str:
    """Run git in a folder and return what it says."""
    who = ["-c", "user.name=Test", "-c", "user.email=test@example.org"]
    done = subprocess.run(["git", *who, *arguments], cwd=folder, capture_output=True, text=True, check=True)
    return done.stdout


@pytest.mark.slow
def test_with_the_real_program(tmp_path: Path) -> None:
    """Installed from a repository as pre-commit installs hooks, the check finds what is wrong with a spec."""
    if importlib.util.find_spec("pre_commit") is None:
        give_up("pre-commit is not installed")
    if not (ROOT / ".git").exists():
        pytest.skip("not a checkout")
    ours, theirs = tmp_path / "ours", tmp_path / "theirs"
    for name in git(ROOT, "ls-files", "-z").split("\0"):
        if name and (ROOT / name).is_file():
            (ours / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy(ROOT / name, ours / name)
    (theirs / "specs").mkdir(parents=True)
    (theirs / "specs" / "good.yaml").write_text(spec_text("GOOD"))
    (theirs / "specs" / "bad.yaml").write_text(spec_text("BAD").replace("16", "17"))
    for folder in (ours, theirs):
        git(folder, "init", "--quiet")
        git(folder, "add", "--all")
        git(folder, "commit", "--quiet", "--message", "All")

    version = git(ours, "rev-parse", "HEAD").strip()
    hooks = [{"id": CHECK}, {"id": STALE, "args": ["specs", "--out", "sheets"]}]
    config = {"repos": [{"repo": str(ours), "rev": version, "hooks": hooks}]}
    (theirs / ".pre-commit-config.yaml").write_text(yaml.safe_dump(config))
    git(theirs, "add", "--all")

    def run_hooks(*arguments: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            [sys.executable, "-m", "pre_commit", "run", *arguments],
            cwd=theirs,
            env={**os.environ, "PRE_COMMIT_HOME": str(tmp_path / "home")},
            capture_output=True,
            text=True,
            check=False,
        )

    good = run_hooks(CHECK, "--files", "specs/good.yaml")
    if "error has occurred" in good.stdout and re.search("pip.*install", good.stdout):
        give_up(f"the hook's environment can't be installed:\n{good.stdout}")
    assert good.returncode == 0, good.stdout + good.stderr
    assert "Passed" in good.stdout
    bad = run_hooks(CHECK, "--files", "specs/good.yaml", "specs/bad.yaml")
    assert bad.returncode == 1
    assert "specs/bad.yaml:5:19: error: 17 is an odd number of stations [odd-station-count]" in bad.stdout
    stale = run_hooks(STALE, "--all-files")
    assert stale.returncode == 1
    assert "missing: GOOD/sheet.md" in stale.stdout
