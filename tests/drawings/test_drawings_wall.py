"""The wall rolled out: what passes beneath, and numbers that leave the crossings to be seen."""

from __future__ import annotations

import math
import re

import pytest

from sheet_plans import plan_from
from tauthide.drawings.wall import draw_wall

LINE = re.compile(r'<line x1="([-.0-9]+)" y1="([-.0-9]+)" x2="([-.0-9]+)" y2="([-.0-9]+)"([^>]*)/>')
CIRCLE = re.compile(r'<circle cx="([-.0-9]+)" cy="([-.0-9]+)" r="2.4"')


def drawn(count: int, laces: int, hand: str = "clockwise") -> str:
    """Return the drawing of two heads of 12 inches."""
    return draw_wall(plan_from(
        "frame: {outline: round, diameter: 12 in, depth: 100 mm}\nhead: {hide: goat, drop: 30 mm}\n"
        f"stations: {{count: {count}, hand: {hand}}}\nlace: {{lacing: zigzag, laces: {laces}}}\n"
    )).decode()  # fmt: skip


def crossing(one: tuple[float, ...], other: tuple[float, ...]) -> tuple[float, float] | None:
    """Return where two lines cross; None where they do not."""
    (ax, ay, bx, by), (cx, cy, dx, dy) = one, other
    turn = (bx - ax) * (dy - cy) - (by - ay) * (dx - cx)
    if turn == 0:
        return None
    s = ((cx - ax) * (dy - cy) - (cy - ay) * (dx - cx)) / turn
    t = ((cx - ax) * (by - ay) - (cy - ay) * (bx - ax)) / turn
    return (ax + s * (bx - ax), ay + s * (by - ay)) if 0.02 < s < 0.98 and 0.02 < t < 0.98 else None


def legs(svg: str) -> dict[str, tuple[float, ...]]:
    """Return the legs by step, and closing ones by `end` and their lace, in the order in which they are drawn."""
    found: dict[str, tuple[float, ...]] = {}
    for *ends, rest in LINE.findall(svg):
        step, lace = re.search(r'data-step="(\d+)"', rest), re.search(r'closing" data-lace="(\d+)"', rest)
        if step or lace:
            found[step[1] if step else f"end {lace[1] if lace else 0}"] = tuple(map(float, ends))
    return found


@pytest.mark.parametrize(("count", "laces"), [(8, 1), (10, 1), (10, 3), (12, 1), (16, 2)])
@pytest.mark.parametrize("hand", ["clockwise", "anticlockwise"])
def test_numbers_leave_the_crossings_to_be_seen(count: int, laces: int, hand: str) -> None:
    svg = drawn(count, laces, hand)
    lines = list(legs(svg).values())
    centres = [(float(x), float(y)) for x, y in CIRCLE.findall(svg)]
    places = [at for index, one in enumerate(lines) for other in lines[index + 1 :] if (at := crossing(one, other))]
    assert len(places) >= count - laces
    for at in places:
        assert min(math.dist(at, centre) for centre in centres) > 2.4 + 1.0


def test_an_end_that_goes_up_passes_beneath_the_leg_that_lies_there() -> None:
    """Lace 1 of three takes seven stations of twenty: its end goes from the first head up to the second's tab."""
    found = legs(drawn(10, 3))
    assert crossing(found["end 1"], found["9"]) is not None
    order = list(found)
    assert order.index("end 1") < order.index("9")
