"""Made-up hides as a maker might measure them: reflex corners, flaws, weak regions."""

from __future__ import annotations

from tauthide.cutting.hides import CorneredFlaw, Hide, Point, Reading, RoundFlaw, Zone


def mirrored(half: tuple[Point, ...]) -> tuple[Point, ...]:
    """A whole outline from the right half, given from the tail up to the neck."""
    left = tuple((-x, y) for x, y in reversed(half) if x > 0)
    return half + left


GOAT = mirrored(
    ((0.0, -420.0), (90.0, -400.0), (210.0, -470.0), (270.0, -430.0), (230.0, -330.0), (290.0, -150.0), (300.0, 60.0),
     (260.0, 200.0), (340.0, 300.0), (300.0, 350.0), (190.0, 320.0), (110.0, 400.0), (80.0, 500.0), (0.0, 520.0))
)  # fmt: skip
CALF = mirrored(
    ((0.0, -640.0), (120.0, -610.0), (330.0, -720.0), (400.0, -650.0), (340.0, -480.0), (430.0, -200.0),
     (450.0, 100.0), (390.0, 330.0), (520.0, 470.0), (460.0, 540.0), (280.0, 500.0), (170.0, 620.0), (0.0, 760.0))
)  # fmt: skip
DEER = mirrored(
    ((0.0, -560.0), (100.0, -520.0), (240.0, -620.0), (300.0, -570.0), (250.0, -400.0), (330.0, -120.0),
     (310.0, 180.0), (400.0, 380.0), (350.0, 430.0), (200.0, 400.0), (120.0, 560.0), (90.0, 700.0), (0.0, 720.0))
)  # fmt: skip

BELLY_RIGHT = ((240.0, -300.0), (480.0, -300.0), (480.0, 260.0), (250.0, 180.0))
BELLY_LEFT = tuple((-x, y) for x, y in reversed(BELLY_RIGHT))
UP = ((0.0, -300.0), (0.0, 300.0))

HIDES = (
    Hide("goat", "goat", GOAT, 1.0, spine=UP),
    Hide("goat, holed", "goat", GOAT, 0.9, (RoundFlaw((60.0, 40.0), 12.0), RoundFlaw((-150.0, -210.0), 25.0)), (), UP),
    Hide(
        "goat, brand", "goat", GOAT, 1.1,
        (CorneredFlaw(((-190.0, 120.0), (-110.0, 110.0), (-130.0, 190.0), (-160.0, 150.0))),),
        (Zone("neck", ((-150.0, 380.0), (150.0, 380.0), (150.0, 560.0), (-150.0, 560.0))),), UP,
    ),
    Hide(
        "deer", "deer", DEER,
        (Reading((0.0, -400.0), 1.5), (Reading((0.0, 400.0), 1.7)), Reading((250.0, 0.0), 1.1),
         Reading((-250.0, 0.0), 1.1)),
        (RoundFlaw((120.0, 230.0), 18.0), RoundFlaw((-40.0, -130.0), 8.0), RoundFlaw((-210.0, 60.0), 30.0)), (), UP,
    ),
    Hide("calf", "calf", CALF, 1.5, (), (Zone("belly right", BELLY_RIGHT), Zone("belly left", BELLY_LEFT)), UP),
    Hide(
        "calf, holed", "calf", CALF, 1.6,
        (RoundFlaw((0.0, 0.0), 20.0), RoundFlaw((210.0, 300.0), 15.0),
         CorneredFlaw(((-300.0, -420.0), (-180.0, -440.0), (-200.0, -330.0)))),
        (Zone("neck", ((-220.0, 600.0), (220.0, 600.0), (220.0, 800.0), (-220.0, 800.0)), laces=False),), UP,
    ),
)  # fmt: skip
