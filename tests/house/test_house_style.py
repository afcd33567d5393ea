"""Style and types, by the tools that know them; the settings stand in pyproject.toml."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]

TOOLS = {
    "ruff check": ("ruff", "check", "src", "tests"),
    "ruff format": ("ruff", "format", "--check", "src", "tests"),
    "mypy": ("mypy",),
}


@pytest.mark.parametrize("tool", TOOLS)
def test_tool_is_content(tool: str) -> None:
    finished = subprocess.run(
        [sys.executable, "-m", *TOOLS[tool]], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert finished.returncode == 0, finished.stdout + finished.stderr
