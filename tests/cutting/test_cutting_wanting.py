"""Why a piece was not laid: each cause by itself, and the one that stands least in the way of several."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tauthide.cutting.hides import Hide, Point, Reading, Zone
from tauthide.cutting.improving import plan_cutting
from tauthide.cutting.pieces import Blank, Disc, LaceNeed, Layout, Piece, Placement, Task
from tauthide.cutting.wanting import Reason, why_missing

SQUARE = ((0.0, 0.0), (500.0, 0.0), (500.0, 500.0), (0.0, 500.0))
HIDE = Hide("goat-1", "goat", SQUARE, 1.0)
HEAD = Piece("head", "head", Disc(150.0), ("goat",), 0.85, 1.15)
BELLY = Zone("belly", ((0.0, 0.0), (500.0, 0.0), (500.0, 300.0), (0.0, 300.0)))
THICK = (Reading((250.0, 100.0), 1.2), Reading((250.0, 400.0), 1.3))


def why(hide: Hide, *pieces: Piece, laid: tuple[Placement, ...] = (), laces: tuple[LaceNeed, ...] = ()) -> Reason:
    """Why the first piece, or else lace, was not laid."""
    reasons = why_missing(Layout(Task((hide,), pieces, laces, 5.0), laid))
    return next(iter(reasons.values()))


def placed(name: str, use: str, radius_mm: float, at: Point = (250.0, 250.0)) -> Placement:
    """A disc in its place."""
    return Placement(name, 0, "head" if use == "head" else "lace", Disc(radius_mm), "goat-1", at, 0.0)


class TestOneCause:
    def test_another_animal(self) -> None:
        assert why(replace(HIDE, species="deer"), HEAD) == Reason("species")

    def test_no_spine_to_lie_along(self) -> None:
        oblong = Blank(((50.0, -80.0), (50.0, 80.0), (-50.0, 80.0), (-50.0, -80.0)))
        assert why(HIDE, replace(HEAD, shape=oblong, direction="along")) == Reason("species")

    def test_too_large(self) -> None:
        assert why(HIDE, replace(HEAD, shape=Disc(260.0))).cause == "size"

    def test_no_room_beside_others(self) -> None:
        other = replace(HEAD, name="other")
        assert why(HIDE, HEAD, other, laid=(placed("other", "head", 150.0),)) == Reason("room")

    def test_too_thick(self) -> None:
        reason = why(replace(HIDE, thickness=THICK), HEAD)
        assert (reason.cause, reason.hide) == ("thickness", "goat-1")
        assert (reason.least_mm, reason.most_mm) == (0.85, 1.15)
        assert reason.span_mm is not None
        assert 1.2 <= reason.span_mm[0] <= reason.span_mm[1] <= 1.3

    def test_one_thickness_that_is_wrong(self) -> None:
        assert why(replace(HIDE, thickness=0.6), HEAD).span_mm == (0.6, 0.6)

    def test_only_in_a_weak_region(self) -> None:
        assert why(replace(HIDE, zones=(BELLY,)), HEAD) == Reason("zone", "goat-1")

    def test_weak_and_too_thick(self) -> None:
        assert why(replace(HIDE, zones=(BELLY,), thickness=1.5), HEAD).cause == "thickness and zone"

    def test_room_that_nobody_looked_for(self) -> None:
        assert why(HIDE, HEAD) == Reason("search", "goat-1")


class TestLaces:
    LACE = LaceNeed("lace", ((Disc(120.0),), (Disc(90.0), Disc(90.0))), ("goat",))

    def test_no_room(self) -> None:
        laid = (placed("head", "head", 150.0),)
        assert why(HIDE, HEAD, laid=laid, laces=(self.LACE,)) == Reason("room")

    def test_only_where_nothing_may_be_cut(self) -> None:
        closed = replace(BELLY, laces=False, outline=SQUARE)
        assert why(replace(HIDE, zones=(closed,)), laces=(self.LACE,)) == Reason("zone", "goat-1")

    def test_room_for_one_of_its_discs(self) -> None:
        small = replace(HIDE, outline=((0.0, 0.0), (200.0, 0.0), (200.0, 200.0), (0.0, 200.0)))
        assert why(small, laces=(self.LACE,)).cause == "search"


class TestSeveralCauses:
    def test_of_thickness_the_nearest_miss_is_told(self) -> None:
        near = Hide("near", "goat", SQUARE, 1.2)
        task = Task((replace(HIDE, thickness=2.0), near), (HEAD,))
        assert why_missing(Layout(task, ()))["head"].hide == "near"

    def test_a_lace_on_the_way_is_not_the_reason_of_a_head(self) -> None:
        # The disc lies where the head would be, but it lies there because the skin is too thick for the head.
        lace = LaceNeed("lace", ((Disc(150.0),),))
        reason = why(replace(HIDE, thickness=1.5), HEAD, laid=(placed("lace", "lace", 150.0),), laces=(lace,))
        assert reason.cause == "thickness"

    def test_skin_of_the_right_thickness_that_is_taken(self) -> None:
        lace = LaceNeed("lace", ((Disc(150.0),),))
        assert why(HIDE, HEAD, laid=(placed("lace", "lace", 150.0),), laces=(lace,)) == Reason("room")

    def test_every_missing_name_has_its_reason(self) -> None:
        heads = tuple(replace(HEAD, name=f"head {number}") for number in range(4))
        layout = plan_cutting(Task((HIDE, replace(HIDE, name="thin", thickness=0.5)), heads, (), 5.0), 30)
        assert list(why_missing(layout)) == list(layout.missing)
        assert {reason.cause for reason in why_missing(layout).values()} == {"thickness"}

    def test_nothing_is_missing(self) -> None:
        assert why_missing(plan_cutting(Task((HIDE,), (HEAD,)), 0)) == {}


@pytest.mark.parametrize("limits", [(None, 1.15), (1.6, None)])
def test_a_limit_on_one_side(limits: tuple[float | None, float | None]) -> None:
    reason = why(replace(HIDE, thickness=1.5), replace(HEAD, least_mm=limits[0], most_mm=limits[1]))
    assert (reason.cause, reason.least_mm, reason.most_mm) == ("thickness", *limits)
