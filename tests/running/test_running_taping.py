"""Centres found with two tapes: the readings and the side lead back to the piece, also where the tapes are off."""

from __future__ import annotations

import math
import re
from itertools import combinations, pairwise, product
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from run_files import SKIN, findings_in_text, loaded_run
from run_plans import ALL_GOAT, planned, run_with
from tauthide.papers.papers import render_papers
from tauthide.running.needs import head_names, lace_name
from tauthide.running.taping import (
    LEAST_TAPE_MM,
    MOST_ERROR,
    Cut,
    FixedPoint,
    candidates_of,
    error_of,
    fixed_points,
)
from tauthide.runs.polygons import contains
from tauthide.runs.skins import Point, Skin

FIXED = [
    "",
    "fixed_points: [[0, 1], [13, 2]]\n",
    "fixed_points: [[14, 17], [1, 3]]\n",
    "fixed_points: [[7, 2], [7, 16]]\n",
]
IDS = ["chosen", "low", "turned", "on the spine"]

WORST = {"": MOST_ERROR, FIXED[3]: 2.7}
"""The greatest error for each set of fixed points: a maker's own may serve some pieces badly, even with a third."""

WRITES_FILES = [HealthCheck.function_scoped_fixture, HealthCheck.too_slow]

TAPE_MM = 0.1
"""What each tape is wrong by where its effect is measured: little, so that arcs are all but straight there."""


def crossing(first: Point, second: Point, one_mm: float, other_mm: float, side: str) -> Point:
    """Return where two tapes cross, on the side that the list says, by the cosine rule."""
    apart = math.dist(first, second)
    along = (one_mm**2 - other_mm**2 + apart**2) / (2 * apart)
    off = math.sqrt(one_mm**2 - along**2) * {"left": 1, "right": -1}[side]
    ux, uy = (second[0] - first[0]) / apart, (second[1] - first[1]) / apart
    return (first[0] + along * ux - off * uy, first[1] + along * uy + off * ux)


def found(cut: Cut, off_mm: tuple[float, float] = (0.0, 0.0), step_mm: float = 0.0) -> Point:
    """Return where a piece's tapes cross if each is off by so much, or read to whole steps."""
    one_mm, other_mm = (cut.reading_mm(point) + off for point, off in zip(cut.tapes, off_mm, strict=True))
    if step_mm:
        one_mm, other_mm = (step_mm * round(each / step_mm) for each in (one_mm, other_mm))
    return crossing(cut.tapes[0].at_mm, cut.tapes[1].at_mm, one_mm, other_mm, cut.side)


def cuts_with(folder: Path, fixed: str) -> tuple[Cut, ...]:
    """Return the pieces of a skin with such fixed points."""
    cuts = planned(folder, {"large.yaml": ALL_GOAT, "runs/goat-1.yaml": SKIN + fixed}).cuts["goat-1"]
    assert len(cuts) > 4
    return cuts


@pytest.mark.parametrize("fixed", FIXED, ids=IDS)
class TestReadings:
    def test_lead_to_the_centre(self, tmp_path: Path, fixed: str) -> None:
        for cut in cuts_with(tmp_path, fixed):
            assert math.dist(found(cut), cut.placement.centre) <= 1e-6

    def test_are_good_enough_for_tapes_that_are_off(self, tmp_path: Path, fixed: str) -> None:
        for cut in cuts_with(tmp_path, fixed):
            assert cut.error <= WORST.get(fixed, MOST_ERROR)
            for off_mm in ((5.0, 5.0), (5.0, -5.0), (-5.0, 5.0), (-5.0, -5.0)):
                # 5 mm is no longer nothing beside the shortest tapes: arcs bend a little within it.
                assert math.dist(found(cut, off_mm), cut.placement.centre) <= 1.15 * 5.0 * cut.error

    @pytest.mark.parametrize("step_mm", [1.0, 25.4 / 16, 5.0, 25.4 / 8], ids=["mm", "1/16 in", "5 mm", "1/8 in"])
    def test_cross_as_they_are_rounded(self, tmp_path: Path, fixed: str, step_mm: float) -> None:
        for cut in cuts_with(tmp_path, fixed):
            assert math.dist(found(cut, step_mm=step_mm), cut.placement.centre) <= 1.15 * cut.error * step_mm / 2

    def test_as_they_stand_on_paper(self, tmp_path: Path, fixed: str) -> None:
        changes: dict[str, str | bytes] = {"large.yaml": ALL_GOAT, "runs/goat-1.yaml": SKIN + fixed}
        plan = planned(tmp_path, changes)
        page = render_papers(plan)["skins.md"].decode().replace("\u00a0", " ")
        rows = [line for line in page.splitlines() if line.startswith("| ☐ | ") and not line.startswith("| ☐ | No.")]
        by_name = {point.name: point.at_mm for point in plan.cuts["goat-1"][0].fixed}
        for line, cut in zip(rows, plan.cuts["goat-1"], strict=True):
            side, *names = re.findall(r"(left|right) of ([ABC])–([ABC])", line)[0]
            readings = [float(each) for each in re.findall(r"\| (\d+) mm", line)]
            place = crossing(by_name[names[0]], by_name[names[1]], readings[0], readings[1], side)
            assert math.dist(place, cut.placement.centre) <= 1.15 * cut.error / 2


def test_own_points_are_kept_and_a_third_is_found_where_they_fail(tmp_path: Path) -> None:
    low = cuts_with(tmp_path / "low", FIXED[1])[0].fixed
    assert [(point.name, point.kind) for point in low[:2]] == [("A", "own"), ("B", "own")]
    along = cuts_with(tmp_path / "along", FIXED[3])
    assert [point.kind for point in along[0].fixed] == ["own", "own", "corner"]
    assert {point.name for cut in along for point in cut.tapes} == {"A", "B", "C"}


@pytest.mark.parametrize(
    ("angle_deg", "error"),
    [(90, math.sqrt(2)), (60, 2.0), (120, 2.0), (47.2, 2.5), (29, 4.0), (10, 11.5), (180, math.inf)],
)
def test_the_error_by_the_crossing_angle(angle_deg: float, error: float) -> None:
    turn = math.radians(angle_deg)
    assert error_of((0, 0), (700, 0), (500 * math.cos(turn), 500 * math.sin(turn))) == pytest.approx(error, rel=0.01)


@given(st.floats(20, 160), st.floats(300, 1500), st.floats(300, 1500))
def test_the_error_is_what_tapes_that_are_off_give(angle_deg: float, one_mm: float, other_mm: float) -> None:
    turn = math.radians(angle_deg)
    first, second = (one_mm, 0.0), (other_mm * math.cos(turn), other_mm * math.sin(turn))
    side = "left" if first[0] * second[1] > 0 else "right"
    off = max(
        math.hypot(*crossing(first, second, one_mm + TAPE_MM * one, other_mm + TAPE_MM * other, side))
        for one, other in product((-1, 1), repeat=2)
    )
    assert off / TAPE_MM == pytest.approx(error_of((0.0, 0.0), first, second), rel=0.01)


@st.composite
def odd_skins(draw: st.DrawFn, folder: Path) -> tuple[Skin, list[Point]]:
    """A skin of any outline, its spine not always along it, and places on it."""
    count, tall = draw(st.integers(5, 16)), draw(st.sampled_from((1.0, 1.4, 2.0)))
    reaches = draw(st.lists(st.integers(5, 12), min_size=count, max_size=count))
    turn = 2 * math.pi / count
    points = [
        (round(13 + reach * math.cos(turn * n), 1), round(26 + tall * reach * math.sin(turn * n), 1))
        for n, reach in enumerate(reaches)
    ]
    ends = (
        [points[0], points[count // 2]]
        if draw(st.booleans())
        else [min(points, key=lambda p: p[1]), max(points, key=lambda p: p[1])]
    )
    text = SKIN.replace("[[0, 0], [14, 0], [14, 18], [0, 18]]", str([list(point) for point in points]))
    text = text.replace("[[7, 0], [7, 18]]", str([list(end) for end in ends]))
    assert not findings_in_text(text)
    skin = loaded_run(folder, {"runs/goat-1.yaml": text}).skins[0].skin
    shares = draw(st.lists(st.tuples(st.floats(0, 1), st.floats(0, 1)), min_size=1, max_size=12))
    low, high = min(y for _, y in skin.outline_mm), max(y for _, y in skin.outline_mm)
    places = [(1300 * x, low + (high - low) * y) for x, y in shares]
    return skin, [place for place in places if contains(skin.outline_mm, place)]


class TestOddSkins:
    @settings(
        max_examples=60,
        deadline=None,
        suppress_health_check=WRITES_FILES,
    )
    @given(data=st.data())
    def test_pieces_are_found_well_or_as_well_as_can_be(self, tmp_path: Path, data: st.DataObject) -> None:
        skin, centres = data.draw(odd_skins(tmp_path))
        fixed = fixed_points(skin, centres)
        assert 2 <= len(fixed) <= 3
        assert [point.name for point in fixed] == ["A", "B", "C"][: len(fixed)]
        places = [at for at, _ in candidates_of(skin)]
        for centre in centres:
            error = worst_of(centre, [point.at_mm for point in fixed])
            if error > MOST_ERROR + 1e-9:
                worst = max(worst_of(each, [point.at_mm for point in fixed]) for each in centres)
                for three in combinations(places, min(3, len(places))):
                    assert max(worst_of(each, three) for each in centres) >= worst - 1e-6
                break

    @settings(
        max_examples=30,
        deadline=None,
        suppress_health_check=WRITES_FILES,
    )
    @given(data=st.data())
    def test_fixed_points_can_be_found_again(self, tmp_path: Path, data: st.DataObject) -> None:
        skin, centres = data.draw(odd_skins(tmp_path))
        fixed = fixed_points(skin, centres)
        for point in fixed:
            assert point.at_mm in (*skin.spine_mm, *skin.outline_mm)
        assert all(math.dist(one.at_mm, other.at_mm) >= 150 for one, other in combinations(fixed, 2))


def worst_of(centre: Point, points: list[Point] | tuple[Point, ...]) -> float:
    """Return the error with the best two of some points, none of them too near."""
    pairs = [pair for pair in combinations(points, 2) if min(math.dist(centre, each) for each in pair) >= LEAST_TAPE_MM]
    return min((error_of(centre, *pair) for pair in pairs), default=math.inf)


def test_a_centre_beside_a_fixed_point_is_found_from_others(tmp_path: Path) -> None:
    skin = loaded_run(tmp_path, {}).skins[0].skin
    fixed = fixed_points(skin, [(20.0, 20.0), (350.0, 450.0), (680.0, 880.0)])
    for centre in ((20.0, 20.0), (680.0, 880.0)):
        assert worst_of(centre, [point.at_mm for point in fixed]) <= MOST_ERROR


def test_numbered_as_the_schedule_cuts_spares_last(tmp_path: Path) -> None:
    plan = planned(tmp_path, {"large.yaml": ALL_GOAT, **run_with("spares: {laces: 1}\n")})
    works = {(work.job, work.operation): work for work in plan.schedule.works}
    starts = []
    for number, cut in enumerate(plan.cuts["goat-1"], start=1):
        assert cut.number == number
        owner = next((drum for drum in plan.drums if cut.placement.name.startswith(drum.serial)), None)
        step = "skin.cut" if cut.placement.use == "head" else "lace.cut"
        starts.append(works[owner.serial, step].start_min if owner else None)
    cut_for_drums = [start for start in starts if start is not None]
    assert len(cut_for_drums) > 3
    assert starts == [*sorted(cut_for_drums), *[None] * (len(starts) - len(cut_for_drums))]


def test_one_pair_of_hands_at_a_skin(tmp_path: Path) -> None:
    plan = planned(tmp_path, {"large.yaml": ALL_GOAT})
    works = {(work.job, work.operation): work for work in plan.schedule.works}
    for skin, cuts in plan.cuts.items():
        names = {cut.placement.name for cut in cuts}
        steps = []
        for drum in plan.drums:
            if names & set(head_names(drum)):
                steps += [works[drum.serial, "skin.flesh"], works[drum.serial, "skin.cut"]]
            if lace_name(drum.serial) in names:
                steps.append(works[drum.serial, "lace.cut"])
        steps.sort(key=lambda work: work.start_min)
        assert len(steps) > 3, skin
        assert all(before.end_min <= after.start_min for before, after in pairwise(steps))


def test_distances_from_all_points_whichever_are_used(tmp_path: Path) -> None:
    for cut in cuts_with(tmp_path, FIXED[3]):
        wanted = [math.dist(point.at_mm, cut.placement.centre) for point in cut.fixed]
        assert [cut.from_a_mm, cut.from_b_mm, cut.from_c_mm] == pytest.approx(wanted)
        assert isinstance(cut.tapes[0], FixedPoint)


def test_a_skin_so_small_that_its_corners_are_all_near_each_other(tmp_path: Path) -> None:
    tiny = SKIN.replace("grid: 50 mm", "grid: 10 mm")
    skin = loaded_run(tmp_path, {"runs/goat-1.yaml": tiny}).skins[0].skin
    fixed = fixed_points(skin, [(70.0, 90.0)])
    assert [(point.name, point.kind) for point in fixed][:2] == [("A", "tail"), ("B", "neck")]
