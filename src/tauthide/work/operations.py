"""The operations of one drum, in bench order.

Hand times are rough, workshop practice from memory, no published source; a shop's own records beat them.
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


def _fixed(minutes: float) -> Minutes:
    return lambda _: minutes


def _each(figure: str, minutes: float) -> Minutes:
    return lambda w: minutes * w[figure]


def _has_handle(w: Workings) -> bool:
    return w.count("handle.arms") > 0


def _other_hide(w: Workings) -> bool:
    return w.word("lace.hide") != w.word("head.hide")


def _turnings(w: Workings) -> float:
    return TURNING_MIN * (w.given("hide.dry") // TURN_EVERY_MIN)


_KINDS = (
    _Kind("frame.round", "Round and seal the edges", _fixed(30), (), _fixed(SEALING_MIN)),
    _Kind("frame.fit", "Dry-fit frame, gauge and tools", _fixed(10), ("frame.round",)),
    _Kind("skin.soak", "Soak the skin in cool water", _fixed(5), (), lambda w: w.given("hide.soak")),
    _Kind("lace.soak_hide", "Soak the skin for the lace", _fixed(5), (), lambda w: w.given("lace_hide.soak"),
          applies=_other_hide, otherwise=("skin.soak",)),
    _Kind("skin.flesh", "Flesh and trim", _fixed(20), ("skin.soak",), wet=True),
    _Kind("skin.spine", "Choose the side, mark the spine", _fixed(3), ("skin.flesh",), wet=True),
    _Kind("skin.cut", "Cut the blank", _fixed(10), ("skin.spine", "frame.fit"), wet=True),
    _Kind("skin.mark", "Mark the stations", _each("holes.count", 0.4), ("skin.cut",), wet=True),
    _Kind("skin.punch", "Punch the holes", _each("holes.count", 0.4), ("skin.mark",), wet=True),
    _Kind("skin.collect", "Pick up and count the punchings", _fixed(3), ("skin.punch",), wet=True),
    _Kind("lace.cut", "Cut the lace", lambda w: 10 + w["lace.cut_length"] / 500, ("lace.soak_hide",), wet=True),
    _Kind("lace.soak", "Soak the lace", _fixed(2), ("lace.cut",), _fixed(LACE_SOAK_MIN), wet=True),
    _Kind("lace.stretch", "Stretch the lace, taper its end", _fixed(8), ("lace.soak",), wet=True),
    _Kind("lace.lace", "Lace the head", lambda w: 1.5 * w.count("stations.count"),
          ("skin.collect", "lace.stretch"), wet=True),
    _Kind("head.centre", "Centre the frame", _fixed(5), ("lace.lace",), wet=True),
    _Kind("head.tighten", "Draw tight, two passes", lambda w: 1.5 * w.count("stations.count"),
          ("head.centre",), _fixed(REST_MIN), wet=True),
    _Kind("head.tighten_again", "Draw tight again", lambda w: 0.5 * w.count("stations.count"),
          ("head.tighten",), wet=True),
    _Kind("handle.wrap", "Wrap the handle", lambda w: 6.0 * w.count("handle.arms"),
          ("head.tighten_again",), wet=True, applies=_has_handle),
    _Kind("head.dry", "Dry lying flat, turned twice a day", _turnings,
          ("handle.wrap",), lambda w: w.given("hide.dry")),
    _Kind("finish.trim", "Trim the edge and the tail", _fixed(10), ("head.dry",)),
    _Kind("finish.label", "Label and care card", _fixed(5), ("finish.trim",)),
)  # fmt: skip


def order_of_work(w: Workings) -> tuple[Operation, ...]:
    """Return the drum's operations in bench order; each names only earlier ones as done before it."""
    kinds = [kind for kind in _KINDS if kind.applies(w)]
    present = {kind.name for kind in kinds}
    instead = {kind.name: kind.otherwise or kind.after for kind in _KINDS if kind.name not in present}
    operations = []
    for kind in kinds:
        after = tuple(name for wanted in kind.after for name in instead.get(wanted, (wanted,)))
        operations.append(Operation(kind.name, kind.title, kind.hand(w), kind.wait(w), after, kind.wet))
    return tuple(operations)
