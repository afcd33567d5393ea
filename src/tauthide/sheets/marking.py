"""Marking in words: each fold, run of steps and reading of the tape."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from tauthide.geometry.marking import FOLD_LIMIT_MM, Fold, Marking
from tauthide.plan.plan import Plan
from tauthide.sheets.words import guide_of, listing
from tauthide.units import System, inch_length, length, metric_length

STEP_FAULTS: Mapping[System, tuple[float, Callable[[float], str]]] = MappingProxyType(
    {"metric": (1.0, metric_length), "inch": (25.4 / 16, inch_length)}
)
"""How wrong one step is taken to be, to show what that adds up to: 1 mm or 1/16 in, a pencil line's width.

Each in its own system and with how it is shown: 16 times 1 mm is 16 mm, 16 times 1/16 in is 1 in.
"""

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


@dataclass(frozen=True, slots=True)
class FaultView:
    """What a small fault in each step adds up to, in one system."""

    each: str
    end: str


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
    faults: tuple[FaultView, ...]
    """What faults add up to over the first run, the sheet's system first; empty without runs."""
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
    runs = () if on_frame or method == "tape" else _runs(marking)
    return MarkingView(
        method=method,
        folds=tuple(_fold(fold, guide_of(plan.spec)) for fold in marking.folds),
        runs=runs,
        faults=_faults(runs[0].steps, system) if runs else (),
        why=_why(marking, on_frame, too_thick, system),
        tape_title="By a running tape" if by_tape else "Check with a tape",
        rest=listing(marking.stepped) if on_frame and marking.folds else "",
        tape_how=_tape_how(outline, by_tape),
        tape=_tape(marking, system),
        closes=length(marking.tape_closes_mm, system),
        carry="" if outline == "round" else _carry(outline, on_frame, guide_of(plan.spec)),
    )


def _fold(fold: Fold, guide: str) -> FoldView:
    stations = listing(fold.stations)
    if fold.number == 1:
        return FoldView(1, f"Fold the skin in half along the {guide}, edge on edge.", RIM_ENDS, stations)
    # A new mark lies half way between two that are there: station 1, and one as far beyond the new one.
    first = fold.stations[0]
    onto = 2 * first - 1
    if fold.number == 2:
        return FoldView(2, f"Open it. Fold it across, station 1 on station {onto}.", RIM_ENDS, stations)
    how = f"Open it. Lay each mark on the next, 1 on {onto} and so on round."
    return FoldView(fold.number, how, HALF_WAY, stations)


def _faults(steps: int, system: System) -> tuple[FaultView, ...]:
    others: tuple[System, ...] = ("metric", "inch")
    ordered = sorted(others, key=lambda other: other != system)
    found = []
    for each_mm, shown in (STEP_FAULTS[other] for other in ordered):
        found.append(FaultView(shown(each_mm), shown(steps * each_mm)))
    return tuple(found)


def _runs(marking: Marking) -> tuple[RunView, ...]:
    count = len(marking.tape)
    stepped = set(marking.stepped)
    sure = [station for station in range(1, count + 1) if station not in stepped]
    found = []
    for start, landing in zip(sure, [*sure[1:], count + 1], strict=True):
        between = range(start + 1, landing)
        if between:
            found.append(RunView(start, listing(between), (landing - 1) % count + 1, landing - start))
    return tuple(found)


def _why(marking: Marking, on_frame: bool, too_thick: bool, system: System) -> str:
    if on_frame and not marking.folds:
        return "This frame is not round: mark on the frame, then carry the marks out to the skin."
    if too_thick and marking.chosen:
        return f"Wet skin thicker than {length(FOLD_LIMIT_MM, system)} does not fold to a line."
    return ""


def _tape_how(outline: str, by_tape: bool) -> str:
    is_round = outline == "round"
    where = "the blank's edge" if is_round else "the outside of the frame"
    zero = "station 1" if is_round else "its mark 1"
    then = "Leave it there for all the marks." if by_tape else "The marks should stand at:"
    return f"Lay the tape round {where}, zero at {zero}. {then}"


def _carry(outline: str, on_frame: bool, guide: str) -> str:
    lay = f"Lay the frame on the skin so, {guide} on {guide}, the same distance from the edge all round."
    if on_frame:
        return f"{lay} Carry each mark out to the skin's edge, {CARRY[outline]}."
    return f"{lay} Each mark on the skin must lie beside its reading, {CARRY[outline]}."


def _tape(marking: Marking, system: System) -> tuple[tuple[ReadingView, ReadingView], ...]:
    readings = [ReadingView(mark.station, length(mark.distance_mm, system)) for mark in marking.tape]
    half = len(readings) // 2
    return tuple(zip(readings[:half], readings[half:], strict=True))
