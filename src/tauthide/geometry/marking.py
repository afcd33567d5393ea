"""Marking: how the stations get onto the skin, by folds, steps or a running tape."""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, pi, sin

from tauthide.figures import FigureSet, Workings
from tauthide.geometry.blank import is_round, outline_of

FIGURES = FigureSet()

FOLD_LIMIT_MM = 2.0
"""Wet skin thicker than this does not fold to a line. Workshop practice, no published source."""

OVAL_FOLDS = 2
"""An oval has two axes to fold along."""

STEP_LIMIT = 20
"""Above this many stations a step wrong by 1 mm is out by a hole's width at the end: use the tape.

Workshop practice, no published source.
"""


@dataclass(frozen=True, slots=True)
class Fold:
    """One round of folding: every crease that it makes, and the stations that the creases mark."""

    number: int
    creases_deg: tuple[float, ...]
    """Directions of the creases through the middle, anticlockwise from the right, 0 to 180."""
    stations: tuple[int, ...]
    """The stations that this fold marks for the first time, in order."""


@dataclass(frozen=True, slots=True)
class Tape:
    """One mark of the running tape."""

    station: int
    distance_mm: float
    """Along the line from station 1, in the direction of numbering, not rounded."""


@dataclass(frozen=True, slots=True)
class Marking:
    """How the stations of one drum are marked."""

    method: str
    """`fold`, `step` or `tape`."""
    chosen: bool
    """Whether the method was chosen here, not by the maker."""
    on: str
    """`skin`: on the blank's edge; `frame`: on the frame, squared out to the skin."""
    folds: tuple[Fold, ...]
    """Empty unless the method is `fold`."""
    stepped: tuple[int, ...]
    """Stations left to step off (or to tape, off-round), in order; all but the first without folds."""
    tape: tuple[Tape, ...]
    """From station 1 on: always worked out, as a check on the other methods."""
    tape_closes_mm: float
    """What the tape reads when it is back at station 1."""


def folds_possible(w: Workings) -> int:
    """Return how many times halving gives marks that are stations: 0 where none."""
    halvings = _halvings(w.count("stations.count"))
    kind = w.word("frame.outline")
    if kind == "round":
        return halvings
    if kind == "oval":
        return min(halvings, OVAL_FOLDS)
    return min(halvings, _halvings(w.count("frame.sides")) + 1)


def choose_method(w: Workings) -> str:
    """Return the marking method: the maker's, or the one that suits skin, outline and count."""
    if w.has("stations.marking"):
        return w.word("stations.marking")
    count = w.count("stations.count")
    if w.given("head.thickness") <= FOLD_LIMIT_MM and 2 ** folds_possible(w) == count:
        return "fold"
    return "step" if is_round(w) and count <= STEP_LIMIT else "tape"


@FIGURES.shape("stations.marking")
def marking(w: Workings) -> Marking:
    """Return how this drum's stations are marked."""
    method = choose_method(w)
    count = w.count("stations.count")
    on_skin = is_round(w)
    folds = _folds(w, folds_possible(w)) if method == "fold" else ()
    folded = {station for fold in folds for station in fold.stations}
    outline = outline_of(w)
    whole = outline.perimeter_at(w["skin.reach"]) if on_skin else outline.perimeter_mm
    return Marking(
        method=method,
        chosen=not w.has("stations.marking"),
        on="skin" if on_skin or (method == "fold" and len(folded) == count) else "frame",
        folds=folds,
        stepped=tuple(k for k in range(2, count + 1) if k not in folded),
        tape=tuple(Tape(k, (k - 1) * whole / count) for k in range(1, count + 1)),
        tape_closes_mm=whole,
    )


@FIGURES.figure("stations.step_error", "mm", "length", "Out by this much at the end if each step is 1 mm wrong",
                "count x 1 mm: the setting error times the number of steps",
                "Encyclopaedia Britannica, 9th ed., vol. 11, on stepping round a divided circle",
                is_round)  # fmt: skip
def step_error(w: Workings) -> float:
    """Return how far a chord 1 mm wrong leads astray once round."""
    return float(w.count("stations.count"))


def crease_ends(fold: Fold, reach_mm: float) -> tuple[tuple[float, float, float, float], ...]:
    """Return for each crease of a fold its ends (x1, y1, x2, y2) at `reach_mm` either side of the middle."""
    ends = []
    for crease in fold.creases_deg:
        x, y = reach_mm * cos(crease * pi / 180), reach_mm * sin(crease * pi / 180)
        ends.append((-x, -y, x, y))
    return tuple(ends)


def _folds(w: Workings, rounds: int) -> tuple[Fold, ...]:
    """Return the rounds of folding: the first crease runs through station 1, each next halves the angles."""
    count = w.count("stations.count")
    hand = 1 if w.word("stations.hand") == "anticlockwise" else -1
    folds = []
    for number in range(1, rounds + 1):
        parts = 2**number
        stride = count // parts
        steps = range(parts) if number == 1 else range(1, parts, 2)
        creases = sorted({(-90.0 + hand * step * 360.0 / parts) % 180.0 for step in steps})
        stations = tuple(1 + step * stride for step in steps)
        folds.append(Fold(number, tuple(creases), stations))
    return tuple(folds)


def _halvings(number: int) -> int:
    """Return how often 2 divides `number`."""
    return (number & -number).bit_length() - 1
