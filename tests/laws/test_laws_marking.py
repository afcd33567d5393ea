"""Laws of marking: folds, steps and tape come to the same marks, as near as each is read."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drums import Fields, Point, changed, drums, few, plan_of, rim, sign_of, some, turn
from tauthide.geometry.marking import crease_ends
from tauthide.plan.plan import Plan
from tauthide.units import inch_length, metric_length, parse

SHOWN: list[tuple[Callable[[float], str], float]] = [(metric_length, 1.0), (inch_length, 25.4 / 16)]
"""How a sheet shows a length, and the step that it is rounded to, in mm."""

NEAR_DEG = 1e-7
NEAR_MM = 1e-6


def folded_of(plan: Plan) -> list[int]:
    """Stations that the folds mark, fold by fold."""
    return [station for fold in plan.marking.folds for station in fold.stations]


def direction(point: Point) -> float:
    """Direction of a point from the middle, in degrees anticlockwise from the right."""
    return math.degrees(math.atan2(point[1], point[0]))


def along_edge(plan: Plan, point: Point) -> float:
    """Length along a round blank's edge, in the direction of numbering, from its lowest point."""
    past = sign_of(plan) * (math.radians(direction(point)) + math.pi / 2)
    return past % math.tau * plan["head.blank_radius"]


def off_by(found: float, wanted: float, whole: float) -> float:
    """How far two places on a rim lie apart, the shorter way round."""
    return abs(math.remainder(found - wanted, whole))


class TestFolds:
    """Each crease runs through the stations that it is said to mark, and is an axis of the blank."""

    @some
    @given(drums())
    def test_creases_hit_their_stations(self, fields: Fields) -> None:
        """The stations of a fold lie on its creases, one at either end of each, on frame and edge."""
        plan = plan_of(fields, stations_marking="fold")
        for fold in plan.marking.folds:
            assert len(fold.stations) == 2 * len(fold.creases_deg)
            for ends in (direction(plan.stations[station - 1].edge) for station in fold.stations):
                assert min(off_by(ends, crease, 180) for crease in fold.creases_deg) < NEAR_DEG
            for ends in (plan.stations[station - 1].angle_deg for station in fold.stations):
                assert min(off_by(ends, crease, 180) for crease in fold.creases_deg) < NEAR_DEG

    @some
    @given(drums())
    def test_halving(self, fields: Fields) -> None:
        """Each fold doubles the marks that are there, and marks none again."""
        plan = plan_of(fields, stations_marking="fold")
        assert plan.marking.folds
        for number, fold in enumerate(plan.marking.folds, 1):
            assert fold.number == number
            assert sum(len(done.stations) for done in plan.marking.folds[:number]) == 2**number
        assert len(set(folded_of(plan))) == len(folded_of(plan))
        assert plan.marking.folds[0].stations[0] == 1

    @some
    @given(drums())
    def test_each_halves_an_angle(self, fields: Fields) -> None:
        """After every fold the marks divide the count evenly: each new one lies half way between old ones."""
        plan = plan_of(fields, stations_marking="fold")
        count, marks = len(plan.stations), set[int]()
        for fold in plan.marking.folds:
            marks |= set(fold.stations)
            assert marks == set(range(1, count + 1, count // len(marks)))

    @few
    @given(drums())
    def test_creases_are_axes(self, fields: Fields) -> None:
        """Folded along a crease, the edges meet: every station's mark falls on another's."""
        plan = plan_of(fields, stations_marking="fold")
        edges = [mark.edge for mark in plan.stations]
        for fold in plan.marking.folds:
            for crease in fold.creases_deg:
                for x, y in (turn(edge, -crease) for edge in edges):
                    fallen = turn((x, -y), crease)
                    assert min(math.dist(fallen, edge) for edge in edges) < NEAR_MM

    @pytest.mark.parametrize("count", [4, 6, 8, 12, 16, 24, 32, 48, 64])
    @pytest.mark.parametrize(
        "size",
        [
            {"frame.outline": "round", "frame.diameter": "48 in"},
            {"frame.outline": "oval", "frame.length": "48 in", "frame.width": "45 in"},
            {"frame.outline": "polygon", "frame.sides": 12, "frame.across_flats": "48 in"},
            {"frame.outline": "polygon", "frame.sides": 5, "frame.across_flats": "48 in"},
        ],
    )
    def test_as_far_as_it_goes(self, size: dict[str, str | int], count: int) -> None:
        """Halving goes on until a crease would miss a station, or would be no axis of the blank."""
        plan = plan_of({**size, "frame.depth": "55 mm", "head.hide": "goat", "stations.count": count,
                        "stations.web": "12 mm", "stations.marking": "fold"})  # fmt: skip
        possible = 0
        while count % 2 ** (possible + 1) == 0 and is_axis(plan, 360 / 2 ** (possible + 1)):
            possible += 1
        assert len(plan.marking.folds) == possible

    @few
    @given(drums())
    def test_drawn_creases(self, fields: Fields) -> None:
        """As drawn, a crease runs through the middle from end to end, in its direction."""
        plan = plan_of(fields, stations_marking="fold")
        for fold in plan.marking.folds:
            for crease, (x1, y1, x2, y2) in zip(fold.creases_deg, crease_ends(fold, 100.0), strict=True):
                assert math.dist((x1, y1), (-x2, -y2)) < NEAR_MM
                assert math.dist((x1, y1), (x2, y2)) == pytest.approx(200)
                assert off_by(direction((x2, y2)), crease, 180) < NEAR_DEG


def is_axis(plan: Plan, from_lowest_deg: float) -> bool:
    """Whether the blank's edge is its own mirror image about the line at an angle from its lowest point."""
    edge = rim(plan, plan["skin.reach"])
    crease = from_lowest_deg - 90
    angles = [math.radians(crease + step * 7) for step in range(1, 26)]
    return all(
        math.isclose(ray_to(edge, math.radians(crease) * 2 - angle), ray_to(edge, angle), rel_tol=1e-6)
        for angle in angles
    )


def ray_to(curve: Callable[[float], Point], angle: float) -> float:
    """Distance from the middle to a rim, in a direction."""
    wanted = (angle + math.pi / 2) % math.tau
    low, high = 0.0, 1.0
    for _ in range(50):
        middle = (low + high) / 2
        x, y = curve(middle)
        if (math.atan2(y, x) + math.pi / 2) % math.tau < wanted:
            low = middle
        else:
            high = middle
    return math.hypot(*curve((low + high) / 2))


class TestEveryStationIsMarked:
    """No station is forgotten, and none is marked twice."""

    @some
    @given(drums())
    def test_fold_or_step(self, fields: Fields) -> None:
        """By a fold, or else among those left to step; without folds all but the first are stepped."""
        plan = plan_of(fields)
        marked = [*folded_of(plan), *plan.marking.stepped]
        first = [] if plan.marking.folds else [1]
        assert sorted(first + marked) == [mark.station for mark in plan.stations]
        assert bool(plan.marking.folds) == (plan.marking.method == "fold")

    @some
    @given(drums())
    def test_as_asked(self, fields: Fields) -> None:
        """The maker's method is taken; where none is given one is chosen, and the plan says so."""
        plan = plan_of(fields)
        asked = fields.get("stations.marking")
        assert plan.marking.chosen == (asked is None)
        assert plan.marking.method == (asked or plan.marking.method)
        assert plan.marking.method in ("fold", "step", "tape")

    @some
    @given(drums())
    def test_thick_skin_is_not_folded(self, fields: Fields) -> None:
        """Above 2 mm wet no folds are chosen, and steps are chosen on round blanks only."""
        free = {path: leaf for path, leaf in fields.items() if path != "stations.marking"}
        plan = plan_of(free)
        if plan.spec.number("head.thickness") > 2:
            assert plan.marking.method != "fold"
        if plan.spec.word("frame.outline") != "round":
            assert plan.marking.method != "step"


class TestTape:
    """Each reading of the running tape is rounded by itself, so nothing adds up."""

    @some
    @given(drums())
    def test_readings(self, fields: Fields) -> None:
        """Equal parts of the way round, from station 1 on, and back to it."""
        plan = plan_of(fields)
        count, whole = len(plan.stations), plan.marking.tape_closes_mm
        assert [mark.station for mark in plan.marking.tape] == list(range(1, count + 1))
        wanted = [number * whole / count for number in range(count)]
        assert [mark.distance_mm for mark in plan.marking.tape] == pytest.approx(wanted)
        on_skin = plan.spec.word("frame.outline") == "round"
        assert whole == pytest.approx(plan["head.blank_perimeter" if on_skin else "frame.perimeter"])

    @pytest.mark.parametrize(("shown", "step"), SHOWN)
    @some
    @given(drums(("round",)))
    def test_on_a_round_blank(self, shown: Callable[[float], str], step: float, fields: Fields) -> None:
        """What is shown, read back, lies within half a step of the station's mark on the edge."""
        plan = plan_of(fields)
        for mark, station in zip(plan.marking.tape, plan.stations, strict=True):
            taped = parse("length", shown(mark.distance_mm))
            away = off_by(taped, along_edge(plan, station.edge), plan["head.blank_perimeter"])
            assert away <= step / 2 + NEAR_MM

    @few
    @given(drums())
    def test_folds_agree(self, fields: Fields) -> None:
        """Where a fold marks a station, the tape reads its part of the way round to half a millimetre."""
        plan = plan_of(fields, stations_marking="fold")
        readings = {mark.station: parse("length", metric_length(mark.distance_mm)) for mark in plan.marking.tape}
        for fold in plan.marking.folds:
            for order, station in enumerate(fold.stations):
                # Stations of a fold come in order round the rim: halves, then odd quarters, odd eighths, ...
                part = order / 2 if fold.number == 1 else (2 * order + 1) / 2**fold.number
                assert abs(readings[station] - part * plan.marking.tape_closes_mm) <= 0.5 + NEAR_MM


class TestSteps:
    """The chord, stepped round a blank's edge, comes to the stations and back."""

    @some
    @given(drums(("round",)))
    def test_exact_chord_closes(self, fields: Fields) -> None:
        """N steps of the chord are once round."""
        plan = plan_of(fields)
        step = 2 * math.asin(plan["stations.chord"] / (2 * plan["head.blank_radius"]))
        assert len(plan.stations) * step == pytest.approx(math.tau)
        lengths = [
            math.dist(mark.edge, after.edge)
            for mark, after in zip(plan.stations, (*plan.stations[1:], plan.stations[0]), strict=True)
        ]
        assert lengths == pytest.approx([plan["stations.chord"]] * len(lengths))

    @pytest.mark.parametrize(("shown", "step"), SHOWN)
    @some
    @given(drums(("round",)))
    def test_shown_chord(self, shown: Callable[[float], str], step: float, fields: Fields) -> None:
        """Dividers set to what is shown stray from the tape by half a step for each one stepped, not more."""
        plan = plan_of(fields)
        radius, count = plan["head.blank_radius"], len(plan.stations)
        set_to = parse("length", shown(plan["stations.chord"]))
        arc = 2 * radius * math.asin(set_to / (2 * radius))
        # Arc grows faster than chord: 1 / cos(half the angle), here at the larger of both angles.
        steepness = 1 / math.cos(max(arc, plan["stations.arc"]) / radius / 2)
        for mark in plan.marking.tape:
            steps = mark.station - 1
            assert abs(steps * arc - mark.distance_mm) <= steps * step / 2 * steepness + NEAR_MM
        assert plan["stations.step_error"] == count

    @some
    @given(drums(("round",)), st.sampled_from(("fold", "step", "tape")))
    def test_methods_do_not_move_stations(self, fields: Fields, method: str) -> None:
        """However they are marked, stations and tape are the same."""
        plan, other = plan_of(fields), plan_of(changed(fields, stations_marking=method))
        assert plan.stations == other.stations
        assert plan.marking.tape == other.marking.tape
