"""The check of a layout: it lets a sound one pass and finds each fault that is planted."""

from __future__ import annotations

import ast
import inspect
import math
from dataclasses import replace
from pathlib import Path

import pytest

from tauthide.cutting.faults import TOLERANCE_MM, faults
from tauthide.cutting.hides import CorneredFlaw, Hide, Point, Reading, RoundFlaw, Zone
from tauthide.cutting.pieces import Blank, Disc, LaceNeed, Layout, Piece, Placement, Task

SQUARE = ((0.0, 0.0), (1000.0, 0.0), (1000.0, 1000.0), (0.0, 1000.0))
NOTCHED = ((0.0, 0.0), (1000.0, 0.0), (1000.0, 1000.0), (520.0, 1000.0), (500.0, 400.0), (480.0, 1000.0), (0.0, 1000.0))
HIDE = Hide(
    "one", "goat", SQUARE, (Reading((0.0, 500.0), 1.0), Reading((1000.0, 500.0), 2.0)),
    (RoundFlaw((500.0, 500.0), 20.0), CorneredFlaw(((700.0, 700.0), (760.0, 700.0), (730.0, 760.0)))),
    (Zone("belly", ((900.0, 0.0), (1100.0, 0.0), (1100.0, 1000.0), (900.0, 1000.0))),), ((500.0, 0.0), (500.0, 1000.0)),
)  # fmt: skip
OBLONG = Blank(((50.0, -80.0), (50.0, 80.0), (-50.0, 80.0), (-50.0, -80.0)))
HEAD = Piece("head", "head", Disc(100.0), ("goat",), 1.05, 1.9)
OTHER = Piece("other", "head", Disc(50.0))
OVAL = Piece("oval", "head", OBLONG, direction="along")
LACE = LaceNeed("lace", ((Disc(60.0),), (Disc(45.0), Disc(45.0))))
TASK = Task((HIDE, Hide("two", "deer", NOTCHED, 1.5)), (HEAD, OTHER, OVAL), (LACE,), 5.0)


def place(name: str, x: float, y: float, angle_deg: float = 0.0, hide: str = "one") -> Placement:
    """A piece of the task in a place."""
    piece = next(piece for piece in TASK.pieces if piece.name == name)
    return Placement(name, 0, piece.use, piece.shape, hide, (x, y), angle_deg)


def found(*placements: Placement) -> set[str]:
    """The kinds of fault in a layout."""
    return {fault.kind for fault in faults(Layout(TASK, placements))}


def test_a_sound_layout_passes_at_its_limits() -> None:
    # The heads touch each other and the edge but for the knife's 5 mm; the lace may lie in the belly.
    lace = Placement("lace", 0, "lace", Disc(60.0), "one", (935.0, 500.0), 0.0)
    sound = (place("head", 250.0, 105.0), place("other", 405.0, 105.0), place("oval", 55.0, 85.0), lace)
    assert not found(*sound)


@pytest.mark.parametrize(
    ("kind", "placement"),
    [
        ("edge", place("head", 250.0, 105.0 - 1e-5)),
        ("edge", place("head", 250.0, -200.0)),
        ("edge", place("oval", 55.0 - 1e-5, 500.0)),
        ("edge", place("head", 500.0, 495.0 - 1e-5, hide="two")),
        ("flaw", place("head", 500.0, 375.0 + 1e-5)),
        ("flaw", place("other", 500.0, 500.0)),
        ("flaw", place("other", 730.0, 645.0 + 1e-5)),
        ("flaw", place("oval", 730.0, 720.0)),
        ("flaw", place("other", 730.0, 720.0)),
        ("zone", place("head", 800.0 + 1e-5, 300.0)),
        ("zone", place("other", 1050.0, 300.0)),
        ("thickness", place("head", 110.0, 500.0)),
        ("species", place("head", 250.0, 250.0, hide="two")),
        ("direction", place("oval", 250.0, 250.0, 0.01)),
        ("direction", place("oval", 250.0, 250.0, hide="two")),
        ("unknown", place("head", 250.0, 250.0, hide="three")),
        ("unknown", place("head", math.nan, 250.0)),
        ("unknown", replace(place("head", 250.0, 250.0), name="nobody")),
        ("shape", replace(place("head", 250.0, 250.0), shape=Disc(99.0))),
        ("shape", replace(place("head", 250.0, 250.0), use="lace")),
        ("shape", Placement("lace", 0, "lace", Disc(45.0), "one", (200.0, 200.0), 0.0)),
    ],
)
def test_planted_faults_are_found(kind: str, placement: Placement) -> None:
    assert kind in found(placement)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        (place("head", 250.0, 250.0), place("other", 405.0 - 1e-5, 250.0)),
        (place("head", 250.0, 250.0), place("other", 260.0, 250.0)),
        (place("head", 250.0, 250.0), place("oval", 405.0 - 1e-5, 250.0)),
        (place("head", 250.0, 250.0), place("oval", 250.0, 250.0)),
    ],
)
def test_pieces_too_near_each_other(one: Placement, other: Placement) -> None:
    assert found(one, other) == {"overlap"}


def test_a_flaw_that_crosses_a_blank_without_a_corner_in_it() -> None:
    bar = Hide("bar", "goat", SQUARE, 1.0, (CorneredFlaw(((300.0, 499.0), (700.0, 499.0), (700.0, 501.0))),))
    task = Task((bar,), (replace(OVAL, direction="any"),))
    layout = Layout(task, (Placement("oval", 0, "head", OBLONG, "bar", (500.0, 500.0), 0.0),))
    assert [fault.kind for fault in faults(layout)] == ["flaw"]


def test_two_blanks_on_one_another_without_a_knife() -> None:
    twins = (replace(OVAL, direction="any"), replace(OVAL, name="twin", direction="any"))
    task = Task((Hide("plain", "goat", SQUARE, 1.0),), twins)
    for shift_mm in (0.0, 30.0):
        places = (
            Placement("oval", 0, "head", OBLONG, "plain", (500.0, 500.0), 0.0),
            Placement("twin", 0, "head", OBLONG, "plain", (500.0, 500.0 + shift_mm), 0.0),
        )
        assert [fault.kind for fault in faults(Layout(task, places))] == ["overlap"]


def test_a_piece_laid_twice() -> None:
    assert found(place("head", 250.0, 250.0), place("head", 250.0, 700.0)) == {"twice"}


def test_a_shortage_is_measured() -> None:
    (fault,) = faults(Layout(TASK, (place("head", 250.0, 100.0),)))
    assert math.isclose(fault.beyond, 5.0, abs_tol=TOLERANCE_MM)


def test_thickness_between_readings() -> None:
    middle: Point = (500.0, 500.0)
    assert HIDE.thickness_at(middle) == 1.5
    assert HIDE.thickness_at((0.0, 500.0)) == 1.0
    # One quarter of the way the weights are 1 / 1 and 1 / 9: (9 x 1 + 1 x 2) / 10.
    assert math.isclose(HIDE.thickness_at((250.0, 500.0)), 1.1, abs_tol=1e-6)


def test_the_check_shares_no_code_with_what_lays() -> None:
    tree = ast.parse(Path(inspect.getfile(faults)).read_text(encoding="utf-8"))
    own = {
        node.module for node in ast.walk(tree) if isinstance(node, ast.ImportFrom) and "tauthide" in str(node.module)
    }
    assert own == {"tauthide.cutting.hides", "tauthide.cutting.pieces"}
