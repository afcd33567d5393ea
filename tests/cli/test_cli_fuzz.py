"""Any file whatever: findings at places that exist, or a sheet, and never a fault of ours."""

from __future__ import annotations

import contextlib
import io
import json
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from tauthide.__main__ import main
from workshops import DRUM_FILES, tree

WORDS = (
    "spec: 1\n", "base: 1\n", "shop: 1\n", "drum: A\n", "drum: ../A\n", "title: ", "notes: |\n  x\n", "quantity: 8\n",
    "frame: {outline: round, diameter: 13 in, depth: 55 mm}\n", "frame: {outline: oval, length: 1 m, width: 9 in}\n",
    "frame:\n  outline: polygon\n  sides: 7\n", "  across_flats: 15 in\n", "head: {hide: goat}\n", "head:\n",
    "  hide: cow\n", "stations: {count: 16}\n", "stations:\n  count: 4\n", "  web: 1/2 in\n", "  pair_spacing: 3cm\n",
    "lace: {width: 0 mm}\n", "  tail: 1e9 m\n", "handle: {arms: 0}\n", "voice: {pitch: A2}\n", "bench: {punches: []}\n",
    "inherits: base.yaml\n", "inherits: ..\n", "inherits: a.yaml\n", ":", "-", " ", "\n", "\t", "#", "&x ", "*x ",
    "!!str ", "<<: ", "{", "}", "[", "]", '"', "'", "|", ">", "---\n", "...\n", "%YAML 1.2\n", "\u202e", "\x1b[2J",
    "\ufeff", "\u00bd in", "13", "-1 mm", ".nan", ".inf", "null", "~", "true", "0x1F", "1_000", "9" * 40, "\u7f8a",
    "\x00", "?", "@",
)  # fmt: skip
"""What specs are made of, whole and in pieces, and what has no place in one."""

GOOD = WORDS[0] + WORDS[3] + WORDS[8] + WORDS[12] + WORDS[15]


@st.composite
def spoilt(draw: st.DrawFn) -> bytes:
    """Draw a good spec with pieces cut out and words put in."""
    text = draw(st.sampled_from((GOOD, GOOD.replace("A", "B"), "", "spec: 1\n")))
    for _ in range(draw(st.integers(0, 5))):
        start = draw(st.integers(0, len(text)))
        end = min(len(text), start + draw(st.integers(0, 12)))
        text = text[:start] + draw(st.sampled_from(WORDS)) + text[end:]
    return text.encode("utf-8", "surrogatepass")


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give a repository with a base."""
    made = tmp_path_factory.mktemp("fuzz")
    for name in (".git", "specs"):
        (made / name).mkdir()
    (made / "specs/base.yaml").write_text("base: 1\nstations: {web: 17 mm}\n")
    return made


def run(*arguments: str) -> tuple[int, Any, str]:
    """Run the program and return exit code, report, and what else was said."""
    with contextlib.redirect_stdout(io.StringIO()) as out, contextlib.redirect_stderr(io.StringIO()) as err:
        code = main([*arguments, "--format", "json"])
    return code, json.loads(out.getvalue()), err.getvalue()


def assert_places_exist(report: Any, folder: Path) -> None:
    """Check that every finding stands at a place in its file, and shows that line."""
    for finding in report["findings"]:
        content = Path(folder, finding["file"]).read_bytes().decode("utf-8-sig", "replace")
        lines = content.replace("\r\n", "\n").replace("\r", "\n").split("\n")
        assert finding["text"] in ("", lines[finding["line"] - 1])
        assert 1 <= finding["column"] <= len(lines[finding["line"] - 1]) + 1
        assert finding["width"] >= 1


@settings(max_examples=250, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(content=st.binary(max_size=60) | spoilt())
@example(content=GOOD.encode())
@example(content=b"spec: 1\ndrum: A\ninherits: a.yaml\n")
def test_any_file(folder: Path, monkeypatch: pytest.MonkeyPatch, content: bytes) -> None:
    monkeypatch.chdir(folder)
    (folder / "specs/a.yaml").write_bytes(content)
    (folder / "specs/b.yaml").write_text(GOOD.replace("drum: A", "drum: GOOD"))
    code, report, said = run("check")
    assert code in (0, 1)
    assert said == ""
    assert_places_exist(report, folder)
    built, again, said = run("build")
    assert (built, said) == (code, "")
    assert again["findings"] == report["findings"]
    sheets = tree(folder / "sheets")
    assert {f"GOOD/{name}" for name in DRUM_FILES} <= set(sheets)
    for drum in {name.partition("/")[0] for name in sheets} - {"index.md"}:
        files = [name.partition("/")[2] for name in sheets if name.startswith(f"{drum}/")]
        assert files in (DRUM_FILES, ["sheet.md"])
        assert (b": do not cut\n" in sheets[f"{drum}/sheet.md"]) is (files == ["sheet.md"])
