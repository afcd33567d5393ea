"""Marking in words: each fold, run of steps and reading of the tape."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from tauthide.geometry.marking import FOLD_LIMIT_MM, Fold, Marking
from tauthide.plan.plan import Plan
from tauthide.sheets.words import listing
from tauthide.units import System, length

STEP_FAULT_MM: Mapping[str, float] = MappingProxyType({"metric": 1.0, "inch": 25.4 / 16})
"""How wrong one step is taken to be, to show what that adds up to: 1 mm or 1/16 in, a pencil line's width."""

RIM_ENDS = "the rim at both ends of the fold"
HALF_WAY = "the rim half way between"

CARRY: Mapping[str, str] = MappingProxyType(
    {
        "oval": "square to the rim",
        "polygon": "in line with the middle of the frame",
    }
)
"""How a mark is carried from a frame that is not round to the skin's edge, by outline."""


@dataclass(frozen=True, slots=True)
class FoldView:
    """One round of folding."""

    number: int
    how: str
    where: str
    """What to pinch."""
    stations: str
    """The stations that it marks: `5 and 13`."""


@dataclass(frozen=True, slots=True)
class RunView:
    """A run of steps from one sure mark to the next."""

    start: int
    stations: str
    landing: int
    steps: int
    astray: str
    """How far out the run lands if each step is wrong by `step_fault`."""


@dataclass(frozen=True, slots=True)
class ReadingView:
    """One mark of the running tape."""

    station: int
    tape: str


@dataclass(frozen=True, slots=True)
class MarkingView:
    """How the stations are marked."""

    method: str
    """`fold`, `step` or `tape`."""
    folds: tuple[FoldView, ...]
    runs: tuple[RunView, ...]
    step_fault: str
    why: str
    """Why this method; empty where there is nothing to say."""
    tape_title: str
    rest: str
    """The stations that folds leave to the tape; empty where they mark all."""
    tape_how: str
    tape: tuple[tuple[ReadingView, ReadingView], ...]
    """Rows of the tape's table: the first half of the stations, and beside it the second."""
    closes: str
    carry: str
    """How the marks come from the frame to the skin; empty where they are made on the skin."""


def view_marking(plan: Plan, system: System) -> MarkingView:
    """Return the marking of a plan in words.

    Equal steps of dividers divide only a circle: off-round a run of steps is left to the tape.
    """
    marking, outline = plan.marking, plan.outline.kind
    on_frame = marking.on == "frame"
    method = "tape" if marking.method == "step" and on_frame else marking.method
    too_thick = plan.spec.number("head.thickness") > FOLD_LIMIT_MM
    by_tape = method == "tape" or on_frame
    return MarkingView(
        method=method,
        folds=tuple(map(_fold, marking.folds)),
        runs=() if on_frame or method == "tape" else _runs(marking, system),
        step_fault=length(STEP_FAULT_MM[system], system),
        why=_why(marking, on_frame, too_thick, system),
        tape_title="By a running tape" if by_tape else "Check with a tape",
        rest=listing(marking.stepped) if on_frame and marking.folds else "",
        tape_how=_tape_how(on_frame, outline, by_tape),
        tape=_tape(marking, system),
        closes=length(marking.tape_closes_mm, system),
        carry="" if outline == "round" else _carry(outline, on_frame),
    )


def _fold(fold: Fold) -> FoldView:
    stations = listing(fold.stations)
    if fold.number == 1:
        return FoldView(1, "Fold the skin in half along the spine, edge on edge.", RIM_ENDS, stations)
    # A new mark lies half way between two that are there: station 1, and one as far beyond the new one.
    first = fold.stations[0]
    onto = 2 * first - 1
    if fold.number == 2:
        return FoldView(2, f"Open it. Fold it across, station 1 on station {onto}.", RIM_ENDS, stations)
    how = f"Open it. Lay each mark on the next, 1 on {onto} and so on round."
    return FoldView(fold.number, how, HALF_WAY, stations)


def _runs(marking: Marking, system: System) -> tuple[RunView, ...]:
    count = len(marking.tape)
    stepped = set(marking.stepped)
    sure = [station for station in range(1, count + 1) if station not in stepped]
    found = []
    for start, landing in zip(sure, [*sure[1:], count + 1], strict=True):
        between = range(start + 1, landing)
        if between:
            steps = landing - start
            astray = length(steps * STEP_FAULT_MM[system], system)
            found.append(RunView(start, listing(between), (landing - 1) % count + 1, steps, astray))
    return tuple(found)


def _why(marking: Marking, on_frame: bool, too_thick: bool, system: System) -> str:
    if on_frame and not marking.folds:
        return "This frame is not round: mark on the frame, then carry the marks out to the skin."
    if too_thick and marking.chosen:
        return f"Wet skin thicker than {length(FOLD_LIMIT_MM, system)} does not fold to a line."
    return ""


def _tape_how(on_frame: bool, outline: str, by_tape: bool) -> str:
    where = "the blank's edge" if outline == "round" and not on_frame else "the outside of the frame"
    then = "Leave it there for all the marks." if by_tape else "The marks should stand at:"
    return f"Lay the tape round {where}, zero at station 1. {then}"


def _carry(outline: str, on_frame: bool) -> str:
    lay = "Lay the frame on the skin, spine on spine, the same distance from the edge all round."
    if on_frame:
        return f"{lay} Carry each mark out to the skin's edge, {CARRY[outline]}."
    return f"{lay} Each mark on the skin must lie beside its reading, {CARRY[outline]}."


def _tape(marking: Marking, system: System) -> tuple[tuple[ReadingView, ReadingView], ...]:
    readings = [ReadingView(mark.station, length(mark.distance_mm, system)) for mark in marking.tape]
    half = len(readings) // 2
    return tuple(zip(readings[:half], readings[half:], strict=True))
