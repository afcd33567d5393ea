"""Facts of the trade that the compiler must come to by itself.

All of them are workshop practice, no published source.
"""

from __future__ import annotations

import math

import pytest

from drums import plan_of, workings_of
from tauthide.quantities.holding import State, governing_rule
from tauthide.rules.registry import hold_rules
from tauthide.sheets.lacing import view_lacing
from tauthide.spec.hides import HIDES
from tauthide.units import parse

BY_THICKNESS = sorted(HIDES, key=lambda hide: parse("length", str(HIDES[hide]["thickness"].written)))
"""The hides, the thinnest first."""

STATES: tuple[State, State] = ("dry", "wet")


def usual(hide: str, column: str) -> float:
    """A length of a hide's profile, in mm."""
    return parse("length", str(HIDES[hide][column].written))


def test_sixteen_stations_take_thirty_two_holes() -> None:
    """And 33 discs to pick up, with the one from the slit in the lace's tab."""
    plan = plan_of(stations_count=16)
    assert plan["holes.count"] == 32
    assert len({hole for pair in plan.blank for hole in (pair.a, pair.b)}) == 32
    assert plan["punchings.count"] == 33


@pytest.mark.parametrize("hand", ["clockwise", "anticlockwise"])
def test_opposite_the_first_is_the_eighth_along(hand: str) -> None:
    """Of sixteen stations: the lace goes there first, right across the middle."""
    plan = plan_of(stations_count=16, stations_hand=hand)
    first, second = plan.steps[0].station, plan.steps[1].station
    assert (first, second - first) == (1, 8)
    (x, y), (far_x, far_y) = plan.stations[0].edge, plan.stations[8].edge
    assert (far_x, far_y) == pytest.approx((-x, -y))
    assert view_lacing(plan).opposite == second


def test_halving_folds_give_two_four_eight_and_sixteen() -> None:
    """A skin that is folded in half again and again is marked without measuring."""
    plan = plan_of(stations_count=16)
    assert plan.marking.method == "fold"
    marks, sums = 0, []
    for fold in plan.marking.folds:
        marks += len(fold.stations)
        sums.append(marks)
    assert sums == [2, 4, 8, 16]
    assert plan.marking.stepped == ()


@pytest.mark.parametrize("hide", BY_THICKNESS)
def test_usual_web_and_margin(hide: str) -> None:
    """A web of 15 to 20 mm; a margin of 10 to 12 mm, but for the thinnest of skins, which wants more."""
    plan = plan_of(head_hide=hide)
    assert 15 <= plan["holes.web"] <= 20
    assert 10 <= plan["holes.margin"] <= (12 if hide != BY_THICKNESS[0] else 15)


def test_wider_on_thin_skin() -> None:
    """The thinner the skin, the wider web and margin, or at least no narrower."""
    for column in ("web", "margin"):
        widths = [usual(hide, column) for hide in BY_THICKNESS]
        assert widths == sorted(widths, reverse=True)
        assert widths[0] > widths[-1]


def test_a_thick_skin_is_not_critical() -> None:
    """At one pull, a web that is too little for the thinnest is ample for the thickest; a wider one mends it."""
    uses = [plan_of(head_hide=hide, stations_web="8 mm", voice_pull="70 N")["hold.use_dry"] for hide in BY_THICKNESS]
    assert uses == sorted(uses, reverse=True)
    assert uses[0] > 1 > 3 * uses[-1]
    wider = plan_of(head_hide=BY_THICKNESS[0], stations_web="20 mm", voice_pull="70 N")
    assert wider["hold.use_dry"] < 1


@pytest.mark.parametrize("hide", BY_THICKNESS)
def test_sheet_metal_rules_flatter_skin(hide: str) -> None:
    """Several times over, dry and wet: so the leather test governs every hide at its usual web and margin."""
    w = workings_of(head_hide=hide)
    for state in STATES:
        assert governing_rule(w, state).startswith("hold.stitch")
    metal = min(w[name] for name in ("hold.block", "hold.tear_out", "hold.bearing"))
    assert 2 < metal / w["hold.dry"] < 10


@pytest.mark.parametrize("hide", BY_THICKNESS)
def test_the_punch_follows_the_lace(hide: str) -> None:
    """About 10 mm: wide enough for the lace that is usual with the hide, and to turn it in."""
    plan = plan_of(head_hide=hide)
    hole, width, thickness = (plan.spec.number(path) for path in ("stations.hole", "lace.width", "lace.thickness"))
    assert 9 <= hole <= 11
    assert width < hole
    assert width * thickness < math.pi / 4 * hole**2 / 2


def test_thicker_hides_take_larger_holes() -> None:
    """No thicker hide has a smaller punch."""
    holes = [usual(hide, "hole") for hide in BY_THICKNESS]
    assert holes == sorted(holes)


def test_lace_enters_from_the_playing_side() -> None:
    """The turned-in rim shows the maker its playing side: in by b from there, out by a, at every station."""
    plan = plan_of()
    assert {(step.enter, step.leave) for step in plan.steps} == {("b", "a")}
    # Seen so, with stations numbered anticlockwise, b lies to the right of a at the bottom of the frame.
    assert plan.mounted[0].b[0] > plan.mounted[0].a[0]


def test_lace_passes_beneath_what_is_there() -> None:
    """Each new span goes beneath the spans that it crosses, and it crosses more and more of them."""
    plan = plan_of(stations_count=16)
    for step in plan.steps:
        assert all(earlier < step.step for earlier in step.beneath)
    assert [len(step.beneath) for step in plan.steps] == [0, 0, *range(14)]


def test_some_play_is_left() -> None:
    """The lace is not drawn tight until the frame is centred."""
    plan = plan_of()
    assert plan.spec.number("lace.play") > 0
    assert plan["lace.play"] == pytest.approx(15 * plan.spec.number("lace.play"))


@pytest.mark.parametrize(("diameter", "hide"), [("13 in", "goat"), ("14 in", "goat"), ("16 in", "deer")])
def test_sixteen_stations_suit_thirteen_to_sixteen_inches(diameter: str, hide: str) -> None:
    """Some 65 to 80 mm of rim for each station, and nothing to warn of."""
    workings = workings_of(frame_diameter=diameter, head_hide=hide, stations_count=16)
    assert 64 < workings["stations.rim_spacing"] < 81
    assert hold_rules(workings) == ()
