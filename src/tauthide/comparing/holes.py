"""Which holes of the blank move, and how far."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from math import dist

from tauthide.plan.plan import Plan
from tauthide.units import System, fine_length

Point = tuple[float, float]

NOISE_MM = 1e-6
"""A hole that moves by less stays where it is."""


@dataclass(frozen=True, slots=True)
class HoleMove:
    """A hole that lies elsewhere, or that only one of the two drums has."""

    station: int
    hole: str
    """`a` or `b`."""
    old: Point | None
    """In mm, seen from the inner side, from the middle of the head; None where the old drum has no such hole."""
    new: Point | None

    @property
    def moved_mm(self) -> float | None:
        """How far it moves on the blank; None where it is new or gone."""
        return None if self.old is None or self.new is None else dist(self.old, self.new)


def moved_holes(old: Plan, new: Plan) -> tuple[HoleMove, ...]:
    """Return the holes that move, are new or gone, from station 1 on, `a` before `b`."""
    before, after = _holes(old), _holes(new)
    moves = (HoleMove(*key, before.get(key), after.get(key)) for key in sorted({*before, *after}))
    return tuple(move for move in moves if move.moved_mm is None or move.moved_mm > NOISE_MM)


def describe_moves(moves: Sequence[HoleMove], system: System) -> Iterator[str]:
    """Yield the moves in words, stations with the same in one line: `stations 1 to 16, holes a and b: 3.0 mm`."""
    by_station = [(station, tuple(_words(move, system) for move in several))
                  for station, several in groupby(moves, key=lambda move: move.station)]  # fmt: skip
    for said, run in _runs(by_station):
        first, last = run[0], run[-1]
        stations = f"station {first}" if first == last else f"stations {first} to {last}"
        if len(said) > 1 and len({text for _, text in said}) == 1:
            yield f"{stations}, holes a and b: {said[0][1]}"
        else:
            yield f"{stations}, " + ", ".join(f"hole {hole}: {text}" for hole, text in said)


def _holes(plan: Plan) -> dict[tuple[int, str], Point]:
    return {(pair.station, hole): point for pair in plan.blank for hole, point in (("a", pair.a), ("b", pair.b))}


def _words(move: HoleMove, system: System) -> tuple[str, str]:
    moved = move.moved_mm
    if moved is not None:
        return move.hole, f"moves by {fine_length(moved, system)}"
    return move.hole, "new" if move.old is None else "gone"


def _runs(
    by_station: Sequence[tuple[int, tuple[tuple[str, str], ...]]],
) -> Iterator[tuple[tuple[tuple[str, str], ...], list[int]]]:
    """Draw neighbouring stations together of which the same is to be said."""
    run: list[int] = []
    for index, (station, said) in enumerate(by_station):
        run.append(station)
        following = by_station[index + 1] if index + 1 < len(by_station) else None
        if following is None or following[1] != said or following[0] != station + 1:
            yield said, run
            run = []
