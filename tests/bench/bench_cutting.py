# ruff: noqa: T201 - a bench prints its table
"""How good and how fast the cutting engine is: published packing problems, made-up hides, a large task.

Run `python tests/bench/bench_cutting.py [part ...] [seed]`; parts are equal, growing, strip, hides, many. The seed is 0
unless another is given. Rounds are fixed, so that all but the times is the same every time. Seconds are processor time.
"""

from __future__ import annotations

import math
import resource
import sys
import time
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

import packings
from cutting_bounds import most_discs, used_share
from cutting_hides import HIDES
from tauthide.cutting.faults import faults
from tauthide.cutting.hides import Hide
from tauthide.cutting.improving import Search, plan_cutting
from tauthide.cutting.pieces import Disc, LaceNeed, Piece, Task

HIDE_ROUNDS, MANY_ROUNDS = 300, 1000


def timed(work: Callable[[], float]) -> tuple[float, float]:
    """What some work gives, and the seconds of processor time it took."""
    begin = time.process_time()
    return work(), time.process_time() - begin


def bench_equal(seed: int) -> None:
    """Equal circles in the unit square and the unit circle: as many of radius 1 in the smallest of these."""
    print("equal circles: share of the best known radius, seconds (square; circle)")
    for count in range(2, 21):
        row = [f"{count:3}"]
        for container, best in ((packings.SQUARE, packings.BEST_IN_SQUARE), (packings.CIRCLE, packings.BEST_IN_CIRCLE)):
            found, seconds = timed(lambda: packings.least_size(container, (1.0,) * count, packings.EQUAL_ROUNDS, seed))  # noqa: B023
            row.append(f"{1 / found / best[count - 2]:.4f} {seconds:5.2f} s")
        print("   ".join(row), flush=True)


def bench_growing(seed: int) -> None:
    """Circles of radii 1 to N in the smallest circle."""
    print("radii 1..N in a circle: radius, times the least known, seconds")
    for count, best in packings.LEAST_ROUND_1_TO.items():
        radii, rounds = packings.growing(count), packings.growing_rounds(count)
        found, seconds = timed(lambda: packings.least_size(packings.CIRCLE, radii, rounds, seed))  # noqa: B023
        print(f"{count:3} {found:9.5f} {found / best:.5f} {seconds:5.2f} s", flush=True)


def bench_strip(seed: int) -> None:
    """Thirty circles in a strip."""
    found, seconds = timed(
        lambda: packings.least_size(packings.STRIP, packings.STRIP_RADII, packings.STRIP_ROUNDS, seed)
    )
    print(f"strip: {found:.4f}, {found / packings.LEAST_STRIP:.4f} of the least known, {seconds:.1f} s", flush=True)


def halve(fits: Callable[[float], bool], good: float, bad: float, enough: float) -> float:
    """Close in on the size between one that fits and one that does not, and return the best that did."""
    while abs(bad - good) > enough * good:
        middle = (good + bad) / 2
        if fits(middle):
            good = middle
        else:
            bad = middle
    return good


def bench_hides(seed: int) -> None:
    """Heads on single hides: the largest round heads of which so many fit, and how much skin they use."""
    print("hides: heads, largest head found (mm), used share, area bound's radius share, bound on number, seconds")
    for hide in HIDES:
        for count in range(1, 13):
            most_mm = math.sqrt(hide.area_mm2 / (math.pi * count))

            def fits(radius_mm: float, hide: Hide = hide, count: int = count) -> bool:
                heads = tuple(Piece(f"{number}", "head", Disc(radius_mm)) for number in range(count))
                search = Search(Task((hide,), heads, knife_mm=3.0), seed)
                for _ in range(HIDE_ROUNDS):
                    if not search.layout().missing:
                        break
                    search.step()
                assert not faults(search.layout())
                return not search.layout().missing

            found, seconds = timed(lambda: halve(fits, most_mm * 0.2, most_mm, 0.005))  # noqa: B023
            share, bound = math.pi * found * found * count / hide.area_mm2, most_discs(hide, found, 3.0)
            print(f"{hide.name:12} {count:3} {found:7.1f} {share:6.1%} {bound:3} {seconds:6.2f} s", flush=True)


def bench_many(seed: int) -> None:
    """Five hundred heads and as many laces on sixty hides."""
    hides = tuple(
        Hide(f"{number}", hide.species, hide.outline, hide.thickness, hide.flaws, hide.zones, hide.spine)
        for number in range(60)
        for hide in (HIDES[number % len(HIDES)],)
    )
    sizes_mm = (110.0, 135.0, 160.0, 185.0, 205.0)
    heads = tuple(Piece(f"head {n}", "head", Disc(sizes_mm[n % 5]), drum=f"{n}") for n in range(500))
    laces = tuple(
        LaceNeed(f"lace {n}", ((Disc(70.0),), (Disc(52.0),) * 2, (Disc(44.0),) * 3), drum=f"{n}") for n in range(500)
    )
    task = Task(hides, heads, laces, 3.0)
    for rounds in (0, MANY_ROUNDS):
        begin = time.process_time()
        layout = plan_cutting(task, rounds, seed)
        seconds = time.process_time() - begin
        assert not faults(layout)
        peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        print(
            f"many: {rounds} rounds, {len(layout.missing)} of 1000 missing, {len(layout.hides_used)} hides, "
            f"used {used_share(layout):.1%}, {seconds:.1f} s, {peak:.0f} MB",
            flush=True,
        )


PARTS = {"equal": bench_equal, "growing": bench_growing, "strip": bench_strip, "hides": bench_hides, "many": bench_many}

if __name__ == "__main__":
    given = sys.argv[1:]
    chosen = int(given.pop()) if given and given[-1].isdecimal() else 0
    for part in given or PARTS:
        PARTS[part](chosen)
