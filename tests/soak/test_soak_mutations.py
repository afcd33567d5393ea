"""The soak itself: its files are the same for the same seed, and it tells what is wrong."""

from __future__ import annotations

import random
import subprocess
import sys
from pathlib import Path

import pytest

from soak.mutations import CHANGES, mutate_bytes, mutate_meaning
from workshops import surroundings

SPECS = Path(__file__).parents[2] / "specs"
TEXT = (SPECS / "lib-16.yaml").read_text(encoding="utf-8")
SCRIPT = Path(__file__).parent / "soak_builds.py"


@pytest.mark.parametrize("number", range(30))
def test_the_same_seed_makes_the_same_file(number: int) -> None:
    one, other = (mutate_meaning(TEXT, random.Random(number)) for _ in range(2))
    assert one == other
    one, other = (mutate_bytes(TEXT.encode(), [b"x"], random.Random(number)) for _ in range(2))
    assert one == other


def test_every_change_changes_something() -> None:
    for change in set(CHANGES):
        made = {change(TEXT, random.Random(number)) for number in range(20)}
        assert len(made - {TEXT}) >= 5, change


@pytest.mark.slow
@pytest.mark.skipif(sys.platform == "win32", reason="needs fork")
def test_a_few_files(tmp_path: Path) -> None:
    done = subprocess.run(
        [sys.executable, str(SCRIPT), "--seed", "7", "--count", "3", "--keep", str(tmp_path / "kept")],
        env=surroundings(), capture_output=True, text=True, timeout=120, check=False,
    )  # fmt: skip
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.endswith("\n0 of 18 not as they should be\n")
    assert done.stdout.count(": 3 files; ") == 6
    assert not (tmp_path / "kept").exists()


@pytest.mark.slow
@pytest.mark.skipif(sys.platform == "win32", reason="needs fork")
def test_it_fails_where_something_is_wrong(tmp_path: Path) -> None:
    """With less memory allowed than an interpreter takes, every file is kept and told."""
    code = (
        "import sys; sys.path[:0] = sys.argv[1:3]; import soak_builds; soak_builds.MOST_MEMORY_MB = 1.0; "
        "sys.argv[1:] = ['--count', '1', '--kinds', 'spec', '--keep', sys.argv[3]]; sys.exit(soak_builds.main())"
    )
    tests = Path(__file__).parents[1]
    done = subprocess.run(
        [sys.executable, "-c", code, str(SCRIPT.parent), str(tests), str(tmp_path / "kept")],
        env=surroundings(), capture_output=True, text=True, timeout=120, check=False,
    )  # fmt: skip
    assert done.returncode == 1, done.stderr
    assert done.stdout.count("WRONG") == 2
    assert sorted(path.name for path in (tmp_path / "kept").iterdir()) == [
        "spec-bytes-1-0.yaml",
        "spec-meaning-1-0.yaml",
    ]
