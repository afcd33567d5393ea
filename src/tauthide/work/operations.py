"""The operations of one drum, in bench order.

Hand and set-up times are rough, workshop practice from memory, no published source; a shop's own records beat them.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from tauthide.figures import Workings

Minutes = Callable[[Workings], float]

HOUR_MIN = 60.0
TURN_EVERY_MIN = 12 * HOUR_MIN
"""A drying drum is turned morning and evening. Workshop practice, no published source."""

TURNING_MIN = 2.0
REST_MIN = 25.0
"""Wet skin creeps for 20 to 30 minutes after it is drawn tight. Workshop practice, no published source."""

SEALING_MIN = 12 * HOUR_MIN
LACE_SOAK_MIN = 30.0


@dataclass(frozen=True, slots=True)
class Operation:
    """One operation of the order of work."""

    name: str
    title: str
    hand_min: float
    """Time with the hands on it."""
    wait_min: float
    """Time that passes afterwards before the next operation may start."""
    after: tuple[str, ...]
    """Names of the operations that must be done before."""
    wet: bool
    """Whether the skin must still be wet."""
    setup_min: float = 0.0
    """Time to lay out and clear away, once for all drums that are done together."""
    place: str = ""
    """What it takes up beside hands: a place in the `tub`, at the `bench` or for `drying`; empty for nothing."""
    until: str = ""
    """The operation that frees the place when it starts; empty if the place is free when the hands are."""


TUB, BENCH, DRYING = "tub", "bench", "drying"
PLACES = (TUB, BENCH, DRYING)
"""The places that operations take up, in the order in which a drum comes to them."""


@dataclass(frozen=True, slots=True)
class _Kind:
    name: str
    title: str
    hand: Minutes
    after: tuple[str, ...] = ()
    wait: Minutes = lambda _: 0.0
    wet: bool = False
    applies: Callable[[Workings], bool] = lambda _: True
    otherwise: tuple[str, ...] = ()
    """What takes its place before others where it does not apply; if empty, what it comes after."""
    setup: float = 0.0
    place: str = ""
    until: str = ""


def _fixed(minutes: float) -> Minutes:
    return lambda _: minutes


def _each_head(minutes: float) -> Minutes:
    return lambda w: minutes * w["head.count"]


def _each_hole(minutes: float) -> Minutes:
    return lambda w: minutes * w["head.count"] * w["holes.count"]


def _each_station(minutes: float) -> Minutes:
    return lambda w: minutes * w["head.count"] * w.count("stations.count")


def _has_handle(w: Workings) -> bool:
    return w.count("handle.arms") > 0


def _other_hide(w: Workings) -> bool:
    return w.word("lace.hide") != w.word("head.hide")


def _turnings(w: Workings) -> float:
    return TURNING_MIN * (w.given("hide.dry") // TURN_EVERY_MIN)


_KINDS = (
    _Kind("frame.round", "Round and seal the edges", _fixed(30), (), _fixed(SEALING_MIN), setup=10),
    _Kind("frame.fit", "Dry-fit frame, gauge and tools", _fixed(10), ("frame.round",), setup=5),
    _Kind("skin.soak", "Soak the skin in cool water", _fixed(5), (),
          lambda w: w.given("hide.soak"), setup=10, place=TUB, until="skin.flesh"),
    _Kind("lace.soak_hide", "Soak the skin for the lace", _fixed(5), (), lambda w: w.given("lace_hide.soak"),
          applies=_other_hide, otherwise=("skin.soak",), setup=10, place=TUB, until="lace.cut"),
    _Kind("skin.flesh", "Flesh and trim", _each_head(20), ("skin.soak",), wet=True, setup=10, place=BENCH),
    _Kind("skin.spine", "Choose the side, mark the spine", _each_head(3), ("skin.flesh",), wet=True, place=BENCH),
    _Kind("skin.cut", "Cut the blank", _each_head(10), ("skin.spine", "frame.fit"), wet=True, setup=3, place=BENCH),
    _Kind("skin.mark", "Mark the stations", _each_hole(0.4), ("skin.cut",), wet=True, setup=3, place=BENCH),
    _Kind("skin.punch", "Punch the holes", _each_hole(0.4), ("skin.mark",), wet=True, setup=3, place=BENCH),
    _Kind("skin.collect", "Pick up and count the punchings", _fixed(3), ("skin.punch",), wet=True, place=BENCH),
    _Kind("lace.cut", "Cut the lace", lambda w: 10 + w["lace.cut_length"] / 500, ("lace.soak_hide",),
          wet=True, setup=3, place=BENCH),
    _Kind("lace.soak", "Soak the lace", _fixed(2), ("lace.cut",), _fixed(LACE_SOAK_MIN), wet=True),
    _Kind("lace.stretch", "Stretch the lace, taper its end", _fixed(8), ("lace.soak",), wet=True),
    _Kind("lace.lace", "Lace the head", _each_station(1.5),
          ("skin.collect", "lace.stretch"), wet=True, setup=3, place=BENCH),
    _Kind("head.centre", "Centre the frame", _fixed(5), ("lace.lace",), wet=True, place=BENCH),
    _Kind("head.tighten", "Draw tight, two passes", _each_station(1.5),
          ("head.centre",), _fixed(REST_MIN), wet=True, place=BENCH),
    _Kind("head.tighten_again", "Draw tight again", _each_station(0.5),
          ("head.tighten",), wet=True, place=BENCH),
    _Kind("handle.wrap", "Wrap the handle", lambda w: 6.0 * w.count("handle.arms"),
          ("head.tighten_again",), wet=True, applies=_has_handle, place=BENCH),
    _Kind("head.dry", "Dry lying flat, turned twice a day", _turnings,
          ("handle.wrap",), lambda w: w.given("hide.dry"), place=DRYING, until="finish.trim"),
    _Kind("finish.trim", "Trim the edge and the tail", _fixed(10), ("head.dry",), setup=3, place=BENCH),
    _Kind("finish.label", "Label and care card", _fixed(5), ("finish.trim",), setup=3),
)  # fmt: skip


def order_of_work(w: Workings) -> tuple[Operation, ...]:
    """Return the drum's operations in bench order; each names only earlier ones as done before it."""
    kinds = [kind for kind in _KINDS if kind.applies(w)]
    present = {kind.name for kind in kinds}
    instead = {kind.name: kind.otherwise or kind.after for kind in _KINDS if kind.name not in present}
    operations = []
    for kind in kinds:
        after = tuple(name for wanted in kind.after for name in instead.get(wanted, (wanted,)))
        operations.append(
            Operation(kind.name, kind.title, kind.hand(w), kind.wait(w), after, kind.wet, kind.setup, kind.place,
                      kind.until)
        )  # fmt: skip
    return tuple(operations)
