"""What is to be bought, with what is at hand subtracted."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

from run_files import RUN, SKIN
from run_plans import ALL_GOAT, planned, run_with
from tauthide.cutting.faults import faults
from tauthide.cutting.improving import plan_cutting
from tauthide.cutting.pieces import Task
from tauthide.running.purchases import TYPICAL_MM, typical_hide
from tauthide.running.run_plan import findings_of
from tauthide.spec.hides import HIDES

HUGE = "spec: 1\ndrum: LARGE\nframe: {outline: round, diameter: 44 in, depth: 80 mm}\nhead: {hide: deer}\n"
HUGE += "stations: {count: 40}\n"


def test_an_ordinary_skin_of_every_animal() -> None:
    assert set(TYPICAL_MM) == set(HIDES)
    areas = [typical_hide(hide, "A").area_mm2 for hide in TYPICAL_MM]
    assert all(0.4e6 < area < 5e6 for area in areas)


def test_frames_needed_less_those_in_stock(tmp_path: Path) -> None:
    frames = planned(tmp_path).purchases.frames
    assert [(each.drum, each.needed, each.in_stock, each.to_buy) for each in frames] == [
        ("SMALL", 3, 2, 1), ("LARGE", 2, 0, 2),
    ]  # fmt: skip


def test_skin_of_each_animal_of_which_it_is_wanting(tmp_path: Path) -> None:
    plan = planned(tmp_path)
    skins = {each.hide: each for each in plan.purchases.skins}
    assert set(skins) == {"deer", "calf"}
    deer = skins["deer"]
    assert deer.pieces == ("LARGE-01", "LARGE-02")
    assert deer.area_mm2 == pytest.approx(2 * plan.drums[-1].plan["head.blank_area"])
    assert deer.skins is not None
    assert 1 <= deer.skins <= 2


def test_as_many_ordinary_skins_give_the_pieces(tmp_path: Path) -> None:
    plan = planned(tmp_path, {"runs/run.yaml": RUN.replace("skins: [goat-1.yaml]\n", "")})
    for bought in plan.purchases.skins:
        assert bought.skins is not None
        hides = tuple(typical_hide(bought.hide, f"{number}") for number in range(bought.skins))
        pieces = tuple(
            replace(piece, least_mm=None, most_mm=None)
            for piece in plan.order.task.pieces
            if piece.name in bought.pieces
        )
        laces = tuple(lace for lace in plan.order.task.laces if lace.name in bought.pieces)
        layout = plan_cutting(Task(hides, pieces, laces, plan.order.task.knife_mm), 0)
        assert (layout.missing, faults(layout)) == ((), ())


def test_a_head_larger_than_an_ordinary_skin_gives(tmp_path: Path) -> None:
    skins = {each.hide: each.skins for each in planned(tmp_path, {"large.yaml": HUGE}).purchases.skins}
    assert skins["deer"] is None


def test_a_punch_that_nobody_has(tmp_path: Path) -> None:
    # The specs want 10 mm; the lot has 3/8 in, which is 9.5 mm and within half a millimetre of it.
    assert planned(tmp_path).purchases.punches == ()
    lot = {"runs/cupboard.yaml": "lot: 1\npunches: [{size: 6 mm}]\n"}
    (punch,) = planned(tmp_path, lot).purchases.punches
    assert (punch.size_mm, punch.drums) == (10.0, ("SMALL", "LARGE"))


class TestFindings:
    def test_skin_short(self, tmp_path: Path) -> None:
        finding, *reasons = findings_of(planned(tmp_path))
        assert (finding.name, finding.path, str(finding.severity)) == ("skin-short", "skins", "warning")
        assert {reason.name for reason in reasons} == {"piece-left-over"}
        assert finding.message == (
            "not everything finds a place on the skins at hand: 5 of 11 pieces are left over"
        )  # fmt: skip

    def test_nothing_short(self, tmp_path: Path) -> None:
        skin = SKIN.replace("[[0, 0], [14, 0], [14, 18], [0, 18]]", "[[0, 0], [30, 0], [30, 30], [0, 30]]")
        plan = planned(tmp_path, {"large.yaml": ALL_GOAT, "runs/goat-1.yaml": skin})
        assert list(findings_of(plan)) == []
        assert all(plan.is_provided(drum) for drum in plan.drums)

    def test_no_skins(self, tmp_path: Path) -> None:
        plan = planned(tmp_path, {"runs/run.yaml": RUN.replace("skins: [goat-1.yaml]\n", "")})
        assert [finding.name for finding in findings_of(plan)] == ["no-skin-at-hand"]

    def test_too_late(self, tmp_path: Path) -> None:
        late = list(findings_of(planned(tmp_path, run_with("finish_by: 2026-03-03\n"))))
        finding = late[-1]
        assert (finding.name, finding.found, finding.place.line) == ("finishes-late", "2026-03-03", 8)
        in_time = planned(tmp_path, run_with("finish_by: 2026-05-30\n"))
        assert "finishes-late" not in {finding.name for finding in findings_of(in_time)}


class TestMatchedThickness:
    SKIN = SKIN.replace(
        "thickness: 1.0 mm",
        "thicknesses: [{at: [1, 1], thickness: 0.9 mm}, {at: [13, 17], thickness: 1.1 mm}]",
    )

    def test_told_where_heads_differ(self, tmp_path: Path) -> None:
        changes = {"runs/goat-1.yaml": self.SKIN, **run_with("cutting: {thickness_match: 0.05 mm}\n")}
        (finding,) = [each for each in findings_of(planned(tmp_path, changes)) if each.name == "thickness-unmatched"]
        assert finding.path == "cutting.thickness_match"
        assert finding.message.startswith("the heads of SMALL are from 0.9")

    def test_told_finely_enough_to_see_it(self, tmp_path: Path) -> None:
        near = self.SKIN.replace("0.9 mm", "0.96 mm").replace("1.1 mm", "1.05 mm")
        changes = {"runs/goat-1.yaml": near, **run_with("cutting: {thickness_match: 0.05 mm}\n")}
        (finding,) = [each for each in findings_of(planned(tmp_path, changes)) if each.name == "thickness-unmatched"]
        least, most, apart = (float(each) for each in re.findall(r"([\d.]+) mm", finding.message))
        assert finding.found == "0.05 mm"
        assert apart > 0.05
        assert most - least > 0.05 - 1e-9

    def test_not_where_they_are_near_or_nobody_asks(self, tmp_path: Path) -> None:
        for more in ("", "cutting: {thickness_match: 0.5 mm}\n"):
            changes = {"runs/goat-1.yaml": self.SKIN, **run_with(more)}
            assert "thickness-unmatched" not in {each.name for each in findings_of(planned(tmp_path, changes))}
