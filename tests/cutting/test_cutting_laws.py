"""Laws of cutting that hold for any hide and any pieces."""

from __future__ import annotations

import math
from dataclasses import replace

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from cutting_bounds import most_discs, most_pieces
from tauthide.cutting.faults import faults
from tauthide.cutting.hides import CorneredFlaw, Flaw, Hide, Point, Reading, RoundFlaw, Zone
from tauthide.cutting.improving import Search, plan_cutting
from tauthide.cutting.pieces import Blank, Direction, Disc, LaceNeed, Layout, Piece, Placement, Shape, Task, Use

CHECKED = settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.too_slow])


@st.composite
def stars(draw: st.DrawFn, about: Point, least_mm: float, most_mm: float) -> tuple[Point, ...]:
    """A simple polygon about a place, with reflex corners more often than not."""
    reaches = draw(st.lists(st.integers(int(least_mm), int(most_mm)), min_size=5, max_size=14))
    turn = 2 * math.pi / len(reaches)
    return tuple(
        (about[0] + reach * math.cos(turn * number), about[1] + reach * math.sin(turn * number))
        for number, reach in enumerate(reaches)
    )


@st.composite
def hides(draw: st.DrawFn, name: str) -> Hide:
    """A hide of half a metre or so, with flaws, zones and readings."""
    outline = draw(stars((0.0, 0.0), 150, 500))
    outline = outline[::-1] if draw(st.booleans()) else outline
    place = st.tuples(st.floats(-300, 300), st.floats(-300, 300))
    flaws: list[Flaw] = [RoundFlaw(centre, draw(st.floats(5, 40))) for centre in draw(st.lists(place, max_size=2))]
    flaws += [CorneredFlaw(draw(stars(centre, 10, 60))) for centre in draw(st.lists(place, max_size=1))]
    zones = [
        Zone("weak", draw(stars(centre, 30, 200)), draw(st.booleans()), draw(st.booleans()))
        for centre in draw(st.lists(place, max_size=1))
    ]
    readings = tuple(Reading(centre, draw(st.floats(0.8, 2.0))) for centre in draw(st.lists(place, max_size=3)))
    spine = draw(st.sampled_from((None, ((0.0, 0.0), (0.0, 100.0)), ((10.0, 0.0), (-40.0, 70.0)))))
    return Hide(
        name, draw(st.sampled_from(("goat", "deer"))), outline, readings or 1.2, tuple(flaws), tuple(zones), spine
    )


def ovals(draw: st.DrawFn) -> Blank:
    """A convex blank of a few corners."""
    corners, long_mm, wide_mm = draw(st.integers(3, 7)), draw(st.floats(20, 120)), draw(st.floats(20, 120))
    turn = 2 * math.pi / corners
    return Blank(tuple((wide_mm * math.cos(turn * n), long_mm * math.sin(turn * n)) for n in range(corners)))


@st.composite
def pieces(draw: st.DrawFn, name: str) -> Piece:
    """A head or scrap, round or not, with limits or without."""
    shape: Shape = ovals(draw) if draw(st.integers(0, 3)) == 0 else Disc(draw(st.floats(20, 150)))
    limits = draw(st.sampled_from(((None, None), (1.0, None), (None, 1.5), (1.1, 1.4))))
    direction: Direction = draw(st.sampled_from(("any", "along", "across")))
    species = draw(st.sampled_from(((), ("goat",), ("goat", "deer"))))
    use: Use = draw(st.sampled_from(("head", "scrap")))
    return Piece(name, use, shape, species, *limits, direction, draw(st.sampled_from((None, "set"))))


@st.composite
def tasks(draw: st.DrawFn) -> Task:
    """A few hides, pieces and laces."""
    laid = tuple(draw(pieces(f"piece {number}")) for number in range(draw(st.integers(0, 7))))
    radii = draw(st.lists(st.floats(30, 90), max_size=3))
    laces = tuple(
        LaceNeed(f"lace {number}", ((Disc(radius),), (Disc(radius * 0.75),) * 2)) for number, radius in enumerate(radii)
    )
    skins = tuple(draw(hides(f"hide {number}")) for number in range(draw(st.integers(1, 2))))
    return Task(skins, laid, laces, draw(st.sampled_from((0.0, 2.0, 7.5))), 0.1)


@CHECKED
@given(tasks(), st.integers(0, 3))
def test_no_layout_has_a_fault(task: Task, seed: int) -> None:
    layout = plan_cutting(task, 8, seed)
    assert not faults(layout)
    wanted = [piece.name for piece in task.pieces] + [lace.name for lace in task.laces]
    assert {*layout.missing, *(placement.name for placement in layout.placements)} == set(wanted)


@CHECKED
@given(tasks(), st.integers(0, 3))
def test_more_rounds_are_never_worse(task: Task, seed: int) -> None:
    search = Search(task, seed)
    for _ in range(5):
        before, fewer = search.score, len(search.layout().placements)
        better = search.step()
        assert (search.score < before) == better
        assert search.score <= before
        assert better or len(search.layout().placements) == fewer


@CHECKED
@given(tasks(), st.integers(0, 3))
def test_the_same_seed_gives_the_same_layout(task: Task, seed: int) -> None:
    assert plan_cutting(task, 3, seed) == plan_cutting(task, 3, seed)


def carried(layout: Layout, mirror: bool, by: Point) -> Layout:
    """A layout of round pieces with its hides, moved or mirrored about the y axis."""
    sign = -1.0 if mirror else 1.0

    def carry(place: Point) -> Point:
        return sign * place[0] + by[0], place[1] + by[1]

    def carry_all(places: tuple[Point, ...]) -> tuple[Point, ...]:
        return tuple(map(carry, places))

    def carry_flaw(flaw: Flaw) -> Flaw:
        if isinstance(flaw, RoundFlaw):
            return replace(flaw, centre=carry(flaw.centre))
        return CorneredFlaw(carry_all(flaw.outline))

    def carry_hide(hide: Hide) -> Hide:
        thickness = hide.thickness
        if isinstance(thickness, tuple):
            thickness = tuple(replace(reading, place=carry(reading.place)) for reading in thickness)
        zones = tuple(replace(zone, outline=carry_all(zone.outline)) for zone in hide.zones)
        flaws = tuple(map(carry_flaw, hide.flaws))
        return replace(hide, outline=carry_all(hide.outline), thickness=thickness, flaws=flaws, zones=zones)

    def carry_placement(placement: Placement) -> Placement:
        return replace(placement, centre=carry(placement.centre))

    task = replace(layout.task, hides=tuple(map(carry_hide, layout.task.hides)))
    return Layout(task, tuple(map(carry_placement, layout.placements)))


@CHECKED
@given(tasks(), st.booleans(), st.tuples(st.floats(-2000, 2000), st.floats(-2000, 2000)))
def test_a_layout_moved_or_mirrored_with_its_hides_is_sound(task: Task, mirror: bool, by: Point) -> None:
    discs = tuple(replace(piece, direction="any") for piece in task.pieces if isinstance(piece.shape, Disc))
    layout = carried(plan_cutting(replace(task, pieces=discs), 2), mirror, by)
    # A limit of thickness may be met to the last digit, which moving does not keep.
    assert not [fault for fault in faults(layout) if fault.kind != "thickness"]
    assert len(plan_cutting(layout.task, 2).placements) > 0 or not layout.placements


@CHECKED
@given(hides("hide"), st.floats(20, 120), st.sampled_from((0.0, 5.0)))
def test_no_more_discs_than_the_bounds_allow(hide: Hide, radius_mm: float, knife_mm: float) -> None:
    heads = tuple(Piece(f"{number}", "scrap", Disc(radius_mm)) for number in range(30))
    laid = len(plan_cutting(Task((hide,), heads, knife_mm=knife_mm), 3).placements)
    assert laid <= most_discs(hide, radius_mm, knife_mm)
    assert laid <= most_pieces((hide,), [head.shape for head in heads])
