"""The top of the tree holds what it should, and nothing else."""

from __future__ import annotations

import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
TOP = {
    "README.md",
    "DEVELOPERS.md",
    "CHANGELOG.md",
    "LICENSE",
    "pyproject.toml",
    "src",
    "schemas",
    "specs",
    "tests",
}


def tracked() -> list[str]:
    """Return the files that git keeps; skips where this is no checkout."""
    if not (ROOT / ".git").exists():
        pytest.skip("not a checkout")
    listed = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, text=True, check=True)
    return [name for name in listed.stdout.split("\0") if name]


def test_top_level() -> None:
    names = {name.split("/")[0] for name in tracked()}
    assert {name for name in names if not name.startswith(".")} == TOP


def test_ci_runs_the_readme_command() -> None:
    command = [line for line in (ROOT / ".ci" / "run").read_text().splitlines() if "pytest" in line]
    assert len(command) == 1
    assert command[0] in (ROOT / "README.md").read_text().splitlines()
