"""What is to be done with a skin that is not rawhide yet; and where a finding stands whose cause is the air."""

from __future__ import annotations

from pathlib import Path

import pytest

from run_files import SKIN, loaded_run
from run_plans import planned, run_with
from tauthide.papers.buying import BEFORE_SOAKING, before_soaking
from tauthide.running.faults import find_troubles
from tauthide.scheduling.schedule import Trouble, TroubleKind


def test_only_skins_that_are_not_rawhide(tmp_path: Path) -> None:
    assert before_soaking(planned(tmp_path)) == ()
    frozen = planned(tmp_path, {"runs/goat-1.yaml": SKIN.replace("kept: rawhide", "kept: frozen")})
    (line,) = before_soaking(frozen)
    assert line.replace("\\", "") == f"**goat-1** (frozen): {BEFORE_SOAKING['frozen']}"


@pytest.mark.parametrize(("kind", "air", "path", "line"), [
    (TroubleKind.WINDOW, "air: 30 C\n", "air", 8),
    (TroubleKind.WINDOW, "", "hours", 6),
    (TroubleKind.WINDOW_HOURS, "air: 30 C\n", "hours", 6),
])  # fmt: skip
def test_a_wet_time_is_told_where_its_cause_stands(
    tmp_path: Path, kind: TroubleKind, air: str, path: str, line: int
) -> None:
    run = loaded_run(tmp_path, run_with(air))
    trouble = Trouble(kind, ("SMALL-01",), since="head.cut", until="head.tighten_again", short_min=30)
    (finding,) = find_troubles(run, (trouble,), {})
    assert (finding.name, finding.path, finding.place.line) == ("wet-too-long", path, line)
