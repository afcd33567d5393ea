"""Marking in words: folds, steps and tape name every station and agree with the plan."""

from __future__ import annotations

import re

import pytest

from sheet_plans import SPECS, plan_from, plan_of, section, tables
from tauthide.sheets.marking import FoldView, view_marking
from tauthide.sheets.sheet import render_sheet
from tauthide.sheets.view import centring_places


def marking_of(page: str) -> str:
    heading = next(line for line in page.splitlines() if line.startswith("## 2. "))
    return section(page, heading)


def stations(words: str) -> list[int]:
    return [int(number) for number in re.findall(r"\d+", words)]


class TestEveryStation:
    @pytest.mark.parametrize("name", SPECS)
    def test_every_station_has_its_reading_once(self, name: str) -> None:
        plan = plan_of(name)
        table = tables(marking_of(render_sheet(plan).decode()))[0]
        assert table[0] == ["Station", "Tape"] * 2
        read = {int(row[at]): row[at + 1] for row in table[1:] for at in (0, 2)}
        assert sorted(read) == list(range(1, len(plan.stations) + 1))
        metric = plan.spec.word("bench.units") == "metric"
        for mark in plan.marking.tape:
            shown = re.search(r"(\d+) mm", read[mark.station])
            assert shown is not None
            # Rounded by itself: within half a millimetre, however far along.
            assert abs(int(shown[1]) - mark.distance_mm) <= 0.5 + 1e-9
            assert read[mark.station].startswith(shown[0]) == metric

    @pytest.mark.parametrize("name", SPECS)
    def test_folds_and_steps_mark_what_the_tape_does_not(self, name: str) -> None:
        plan = plan_of(name)
        view = view_marking(plan, "metric")
        folded = [station for fold in view.folds for station in stations(fold.stations)]
        stepped = [station for run in view.runs for station in stations(run.stations)]
        marked = folded + stepped + stations(view.rest)
        if view.method != "tape":
            assert sorted({1, *marked}) == list(range(1, len(plan.stations) + 1))
            assert len(marked) == len(set(marked))
        else:
            assert marked == []


class TestFolds:
    """Halving folds give 2, 4, 8 and 16 marks. Workshop practice, no published source."""

    def test_in_words(self) -> None:
        folds = view_marking(plan_of("round"), "metric").folds
        assert folds[0] == FoldView(
            1,
            "Fold the skin in half along the spine, edge on edge.",
            "the rim at both ends of the fold",
            "1 and 9",
        )
        assert [fold.stations for fold in folds[1:]] == [
            "5 and 13", "3, 7, 11 and 15", "2, 4, 6, 8, 10, 12, 14 and 16",
        ]  # fmt: skip
        assert [re.findall(r"\d+", fold.how) for fold in folds[1:]] == [["1", "9"], ["1", "5"], ["1", "3"]]

    @pytest.mark.parametrize("name", ["round", "least", "most", "on the wall", "octagon"])
    def test_new_marks_lie_half_way_between_two_that_are_there(self, name: str) -> None:
        view = view_marking(plan_of(name), "metric")
        there = set(stations(view.folds[0].stations))
        for fold in view.folds[1:]:
            first, second = stations(fold.how)[-2:]
            assert {first, second} <= there
            new = stations(fold.stations)
            assert (first + second) // 2 == new[0]
            there.update(new)

    def test_on_a_round_blank_the_rest_is_stepped(self) -> None:
        runs = view_marking(plan_of("on the wall"), "metric").runs
        assert [(run.start, run.stations, run.landing, run.steps) for run in runs] == [
            (1, "2 and 3", 4, 3), (4, "5 and 6", 7, 3), (7, "8 and 9", 10, 3), (10, "11 and 12", 1, 3),
        ]  # fmt: skip

    def test_off_round_the_rest_goes_on_the_frame(self) -> None:
        part = marking_of(render_sheet(plan_of("folded oval")).decode())
        assert "The folds leave stations 2, 3, 4, 6, 7, 8, 10, 11, 12, 14, 15 and 16." in part
        assert "### By steps" not in part
        assert "square to the rim" in part
        assert "**bearing edge down, back up**" in part


class TestSteps:
    """A step wrong by d is wrong by n d at the end.

    Encyclopaedia Britannica, 9th ed., vol. 11, on stepping round a divided circle.
    """

    def test_metric(self) -> None:
        parts = SPECS["round"].replace("count: 16", "count: 16, marking: step")
        page = marking_of(render_sheet(plan_from(parts)).decode())
        # The chord of 16 parts of a circle of 519.9 mm is .19509 of it (a published chord table): 101.4 mm.
        assert "Set the dividers to **101.4 mm (3.993 in)**" in page
        assert "Step 16 must land on station 1." in page
        assert (
            "wrong by 1 mm each, they are wrong by **16 mm** at the end;"
            " wrong by 1/16 in each, they are wrong by **1 in** at the end." in page
        )

    def test_in_sixteenths(self) -> None:
        page = marking_of(render_sheet(plan_of("inch")).decode())
        assert (
            "wrong by 1/16 in each, they are wrong by **3/4 in** at the end;"
            " wrong by 1 mm each, they are wrong by **12 mm** at the end." in page
        )

    def test_only_a_circle_is_stepped(self) -> None:
        parts = SPECS["octagon"].replace("count: 16", "count: 14, marking: step")
        view = view_marking(plan_from(parts), "metric")
        assert (view.method, view.runs) == ("tape", ())


class TestReasons:
    def test_thick_skin(self) -> None:
        assert "does not fold to a line" in view_marking(plan_of("thick"), "metric").why
        assert view_marking(plan_of("round"), "metric").why == ""

    def test_not_when_the_maker_chose(self) -> None:
        parts = SPECS["thick"].replace("count: 22", "count: 22, marking: tape")
        assert view_marking(plan_from(parts), "metric").why == ""

    def test_not_round(self) -> None:
        view = view_marking(plan_of("heptagon"), "metric")
        assert view.why.startswith("This frame is not round")
        assert "in line with the middle" in view.carry


class TestPairs:
    def test_first_hole(self) -> None:
        assert "The mark is **hole a**. Hole b lies 30 mm (1 3/16 in)" in render_sheet(plan_of("round")).decode()

    def test_pair_centre(self) -> None:
        assert (
            "**middle of the pair**: half the pair spacing of 1 in (26 mm)\\* before it lies hole a"
            in render_sheet(plan_of("inch")).decode()
        )


class TestCentring:
    """The overhang is compared a quarter turn apart."""

    @pytest.mark.parametrize(
        ("count", "places"),
        [
            (4, ("station 1", "station 2", "station 3", "station 4")),
            (16, ("station 1", "station 5", "station 9", "station 13")),
            (10, ("station 1", "between stations 3 and 4", "station 6", "between stations 8 and 9")),
            (6, ("station 1", "between stations 2 and 3", "station 4", "between stations 5 and 6")),
        ],
    )
    def test_four_places(self, count: int, places: tuple[str, ...]) -> None:
        assert centring_places(count) == places
