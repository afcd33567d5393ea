# ruff: noqa: T201 - a bench prints its table
"""How good and how fast the cutting engine is: published packing problems, made-up hides, a large task.

Run `python tests/bench/bench_cutting.py [part ...]`; parts are equal, growing, strip, hides, many.
Seeds and rounds are fixed, so that all but the times is the same every time.
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
from cutting_hides import HIDES
from tauthide.cutting.bounds import most_discs, used_share
from tauthide.cutting.faults import faults
from tauthide.cutting.hides import Hide, Point
from tauthide.cutting.improving import Search, plan_cutting
from tauthide.cutting.pieces import Disc, LaceNeed, Piece, Task

EQUAL_ROUNDS, GROWING_ROUNDS, STRIP_ROUNDS, HIDE_ROUNDS, MANY_ROUNDS = 700, 500, 500, 300, 300


def timed(work: Callable[[], float]) -> tuple[float, float]:
    """What some work gives, and the seconds it took."""
    begin = time.perf_counter()
    return work(), time.perf_counter() - begin


def largest_radius(outline: tuple[Point, ...], count: int, area: float) -> float:
    """The largest radius found at which so many equal discs fit."""

    def fits(radius: float, rounds: int) -> bool:
        return packings.packs(outline, (radius,) * count, rounds) is not None

    most = math.sqrt(area / (math.pi * count))
    return packings.close_in(fits, most * 0.5, most, EQUAL_ROUNDS, 0.003)


def bench_equal() -> None:
    """Equal circles in the unit square and the unit circle."""
    print("equal circles: share of the best known radius, seconds (square; circle)")
    for count in range(2, 21):
        row = [f"{count:3}"]
        for outline, area, best in (
            (packings.square(1.0), 1.0, packings.BEST_IN_SQUARE),
            (packings.inscribed(1.0), math.pi, packings.BEST_IN_CIRCLE),
        ):
            found, seconds = timed(lambda: largest_radius(outline, count, area))  # noqa: B023
            row.append(f"{found / best[count - 2]:.4f} {seconds:5.2f} s")
        print("   ".join(row), flush=True)


def least_size(outline: packings.Outline, radii: tuple[float, ...], small: float, large: float, rounds: int) -> float:
    """The least size found at which all discs fit."""

    def fits(size: float, rounds: int) -> bool:
        return packings.packs(outline(size), radii, rounds) is not None

    return packings.close_in(fits, large, small, rounds, 0.003)


def bench_growing() -> None:
    """Circles of radii 1 to N in the smallest circle."""
    print("radii 1..N in a circle: radius, times the least known, seconds")
    for count, best in packings.LEAST_ROUND_1_TO.items():
        radii = tuple(float(number) for number in range(1, count + 1))
        low = math.sqrt(sum(radius * radius for radius in radii))
        found, seconds = timed(lambda: least_size(packings.inscribed, radii, low, low * 1.5, GROWING_ROUNDS))  # noqa: B023
        print(f"{count:3} {found:9.5f} {found / best:.5f} {seconds:5.2f} s", flush=True)


def bench_strip() -> None:
    """Thirty circles in a strip."""
    radii = packings.STRIP_RADII
    low = math.pi * sum(radius * radius for radius in radii) / packings.STRIP_WIDTH
    found, seconds = timed(lambda: least_size(packings.strip, radii, low, low * 1.5, STRIP_ROUNDS))
    print(f"strip: {found:.4f}, {found / packings.LEAST_STRIP:.4f} of the least known, {seconds:.1f} s", flush=True)


def bench_hides() -> None:
    """Heads on single hides: the largest round heads of which so many fit, and how much skin they use."""
    print("hides: heads, largest head found (mm), used share, area bound's radius share, bound on number, seconds")
    for hide in HIDES:
        for count in range(1, 13):
            most_mm = math.sqrt(hide.area_mm2 / (math.pi * count))

            def fits(radius_mm: float, hide: Hide = hide, count: int = count) -> bool:
                heads = tuple(Piece(f"{number}", "head", Disc(radius_mm)) for number in range(count))
                search = Search(Task((hide,), heads, knife_mm=3.0), 0)
                for _ in range(HIDE_ROUNDS):
                    if not search.layout().missing:
                        break
                    search.step()
                assert not faults(search.layout())
                return not search.layout().missing

            found, seconds = timed(lambda: packings.halve(fits, most_mm * 0.2, most_mm, 0.005))  # noqa: B023
            share, bound = math.pi * found * found * count / hide.area_mm2, most_discs(hide, found, 3.0)
            print(f"{hide.name:12} {count:3} {found:7.1f} {share:6.1%} {bound:3} {seconds:6.2f} s", flush=True)


def bench_many() -> None:
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
        begin = time.perf_counter()
        layout = plan_cutting(task, rounds)
        seconds = time.perf_counter() - begin
        assert not faults(layout)
        peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        print(
            f"many: {rounds} rounds, {len(layout.missing)} of 1000 missing, {len(layout.hides_used)} hides, "
            f"used {used_share(layout):.1%}, {seconds:.1f} s, {peak:.0f} MB",
            flush=True,
        )


PARTS = {"equal": bench_equal, "growing": bench_growing, "strip": bench_strip, "hides": bench_hides, "many": bench_many}

if __name__ == "__main__":
    for part in sys.argv[1:] or PARTS:
        PARTS[part]()
