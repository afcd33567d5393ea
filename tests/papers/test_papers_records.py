"""The page of records: yield, troubles by step, plots of lace, pitch and drying, and what is far out."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from run_files import SMALL, write_files
from tauthide.batch.inputs import find_inputs
from tauthide.batch.learning import learn_from
from tauthide.batch.recorded_papers import papers_of

RECORDS = """\
records: 1
drums:
- {drum: SMALL-01, lace_used: 2.9 m, pitch_dry: 150 Hz, dry: 2 d}
- {drum: SMALL-02, lace_used: 2.95 m, pitch_dry: 170 Hz, dry: 3 d, trouble: "a *web* | tore", step: skin.punch}
- {drum: SMALL-03, lace_used: 2.8 m, pitch_dry: 160 Hz, dry: 2.5 d, outcome: lost, trouble: split, step: head.dry}
- {drum: LARGE-01, dry: 4 d}
- {drum: LARGE-02, dry: 40 d}
"""


@pytest.fixture
def files(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> dict[str, bytes]:
    """Return the papers of five drums, of which three were to have a pitch."""
    write_files(tmp_path, {"small.yaml": SMALL + "voice: {pitch: 160 Hz}\n", "runs/run.records.yaml": RECORDS})
    monkeypatch.chdir(tmp_path)
    learned = learn_from(find_inputs((".",), b""))
    assert learned.recorded, learned.findings
    return papers_of(learned)


def page(files: dict[str, bytes]) -> str:
    return files["records.md"].decode()


def test_yield_and_troubles(files: dict[str, bytes]) -> None:
    lines = page(files).splitlines()
    assert "| **yield**, good or mended | 4 | 80\u00a0% |" in lines
    assert r"| SMALL\-02 | mended | Punch the holes | a \*web\* \| tore |" in lines
    assert r"| SMALL\-03 | lost | Dry lying flat, turned twice a day | split |" in lines


def test_a_plot_for_each_of_lace_pitch_and_drying(files: dict[str, bytes]) -> None:
    drawn = {name: ET.fromstring(content) for name, content in files.items() if name.endswith(".svg")}
    assert set(drawn) == {"records-outcomes.svg", "records-lace.svg", "records-pitch.svg", "records-drying.svg"}
    assert all(f"]({name})" in page(files) for name in drawn)
    circles = "{http://www.w3.org/2000/svg}circle"
    counts = {name: len(plot.findall(circles)) - 1 for name, plot in drawn.items() if "outcomes" not in name}
    # the lost drum counts in none
    assert counts == {"records-lace.svg": 2, "records-pitch.svg": 2, "records-drying.svg": 4}


def test_the_middle_of_what_was_measured(files: dict[str, bytes]) -> None:
    section = page(files).partition("### Pitch of the dry drum")[2]
    assert section.strip().startswith("2 drums: the middle is as planned;")


def test_same_bytes_again(files: dict[str, bytes]) -> None:
    assert papers_of(learn_from(find_inputs((".",), b""))) == files
