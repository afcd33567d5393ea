"""The operations of one drum, in bench order.

Hand and set-up times are rough, workshop practice from memory, no published source; a shop's own records beat them:
its file may set, under `times`, minutes of hand time and of setting up for each operation.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from tauthide.figures import Workings
from tauthide.quantities.movement import is_bent, is_of_staves

Minutes = Callable[[Workings], float]

HOUR_MIN = 60.0
TURN_EVERY_MIN = 12 * HOUR_MIN
"""A drying drum is turned morning and evening. Workshop practice, no published source."""

TURNING_MIN = 2.0
REST_MIN = 25.0
"""Wet skin creeps for 20 to 30 minutes after it is drawn tight. Workshop practice, no published source."""

SEALING_MIN = 12 * HOUR_MIN
LACE_SOAK_MIN = 30.0
GLUE_MIN = 24 * HOUR_MIN
"""Glued wood is left clamped overnight, and worked the day after. Workshop practice, no published source."""

MAKING_OF_FRAME = (
    "frame.strip", "frame.bend", "frame.scarf", "frame.plane",
    "frame.staves", "frame.glue", "frame.true",
)  # fmt: skip
"""Operations that a drum does not need whose frame is ready."""


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
class Pace:
    """Hand time as so many minutes for each of something."""

    each_min: float
    of: str
    """What the minutes are for one of, such as `hole`; empty for the whole operation."""
    number: Callable[[Workings], float]
    """How many of these the drum has."""

    def __call__(self, w: Workings) -> float:
        """Return the hand time of the whole operation."""
        return self.each_min * self.number(w)


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
    return Pace(minutes, "", lambda _: 1)


def _each_head(minutes: float) -> Minutes:
    return Pace(minutes, "head", lambda w: w["head.count"])


def _each_hole(minutes: float) -> Minutes:
    return Pace(minutes, "hole", lambda w: w["head.count"] * w["holes.count"])


def _each_station(minutes: float) -> Minutes:
    return Pace(minutes, "station", lambda w: w["head.count"] * w.count("stations.count"))


def _each_of(field: str, minutes: float, of: str) -> Minutes:
    return Pace(minutes, of, lambda w: float(w.count(field)))


LACE_START_M = 5.0
"""Starting the cut of a lace takes as long as so many metres of it. Workshop practice, no published source."""
_MM_PER_M = 1000.0


def _metres(w: Workings) -> float:
    return LACE_START_M + w["lace.cut_length"] / _MM_PER_M


BENDING_MIN = 15.0
"""From the steam box to the form and into the clamps. Workshop practice, no published source."""

STAVES_START = 20.0 / 3.0
"""Planing the boards and setting the saw take 20 minutes: as long as cutting so many staves. Workshop practice, no
published source."""


def _steaming(w: Workings) -> float:
    return BENDING_MIN + w["bend.steam_most"]


def _staves(w: Workings) -> float:
    return STAVES_START + w["stave.count"]


def _has_handle(w: Workings) -> bool:
    return w.count("handle.arms") > 0


def _other_hide(w: Workings) -> bool:
    return w.word("lace.hide") != w.word("head.hide")


def _turnings(w: Workings) -> float:
    return w.given("hide.dry") // TURN_EVERY_MIN


# A frame takes days to make, and skin must not lie in the water meanwhile: it is soaked once the frame is true.
_MADE = ("frame.plane", "frame.true")

_KINDS = (
    _Kind("frame.strip", "Saw and plane the strip", _fixed(30), applies=is_bent, setup=10),
    _Kind("frame.bend", "Steam the strip, bend it at once", Pace(1, "minute of steaming", _steaming), ("frame.strip",),
          lambda w: w.given("bending.drying"), applies=is_bent, setup=20),
    _Kind("frame.scarf", "Cut and glue the scarf", _fixed(45), ("frame.bend",), _fixed(GLUE_MIN), applies=is_bent,
          setup=10),
    _Kind("frame.plane", "Plane the hoop true", _fixed(30), ("frame.scarf",), applies=is_bent, setup=5),
    _Kind("frame.staves", "Plane boards, cut the staves", Pace(3, "stave", _staves), applies=is_of_staves,
          setup=20),
    _Kind("frame.glue", "Glue the ring", _fixed(30), ("frame.staves",), _fixed(GLUE_MIN), applies=is_of_staves,
          setup=10),
    _Kind("frame.true", "Round or plane the ring true", _fixed(60), ("frame.glue",), applies=is_of_staves, setup=10),
    _Kind("frame.round", "Round and seal the edges", _fixed(30), _MADE, _fixed(SEALING_MIN), setup=10),
    _Kind("frame.fit", "Dry-fit frame, gauge and tools", _fixed(10), ("frame.round",), setup=5),
    _Kind("skin.soak", "Soak the skin in cool water", _fixed(5), _MADE,
          lambda w: w.given("hide.soak"), setup=10, place=TUB, until="skin.flesh"),
    _Kind("lace.soak_hide", "Soak the skin for the lace", _fixed(5), _MADE, lambda w: w.given("lace_hide.soak"),
          applies=_other_hide, otherwise=("skin.soak",), setup=10, place=TUB, until="lace.cut"),
    _Kind("skin.flesh", "Flesh and trim", _each_head(20), ("skin.soak",), wet=True, setup=10, place=BENCH),
    _Kind("skin.spine", "Choose the side, mark the spine", _each_head(3), ("skin.flesh",), wet=True, place=BENCH),
    _Kind("skin.cut", "Cut the blank", _each_head(10), ("skin.spine", "frame.fit"), wet=True, setup=3, place=BENCH),
    _Kind("skin.mark", "Mark the stations", _each_hole(0.4), ("skin.cut",), wet=True, setup=3, place=BENCH),
    _Kind("skin.punch", "Punch the holes", _each_hole(0.4), ("skin.mark",), wet=True, setup=3, place=BENCH),
    _Kind("skin.collect", "Pick up and count the punchings", _fixed(3), ("skin.punch",), wet=True, place=BENCH),
    _Kind("lace.cut", "Cut the lace", Pace(2, "metre of lace", _metres), ("lace.soak_hide",),
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
    _Kind("handle.wrap", "Wrap the handle", _each_of("handle.arms", 6, "arm"),
          ("head.tighten_again",), wet=True, applies=_has_handle, place=BENCH),
    _Kind("head.dry", "Dry lying flat, turned twice a day", Pace(TURNING_MIN, "turning", _turnings),
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
        after = tuple(dict.fromkeys(name for wanted in kind.after for name in _present(wanted, instead)))
        operations.append(
            Operation(kind.name, kind.title, _hand(kind, w), kind.wait(w), after, kind.wet, _setup(kind, w),
                      kind.place, kind.until)
        )  # fmt: skip
    return tuple(operations)


def _hand(kind: _Kind, w: Workings) -> float:
    """Return the hand time: as the shop finds it, or else as built in."""
    path = f"times.{kind.name}.each"
    if not w.has(path):
        return kind.hand(w)
    return w.given(path) * (kind.hand.number(w) if isinstance(kind.hand, Pace) else 1.0)


def _setup(kind: _Kind, w: Workings) -> float:
    path = f"times.{kind.name}.set_up"
    return w.given(path) if w.has(path) else kind.setup


def usual_paces() -> Mapping[str, Pace]:
    """Return for each operation by name, in bench order, its built-in hand time; one that has no pace is left out."""
    return {kind.name: kind.hand for kind in _KINDS if isinstance(kind.hand, Pace)}


def operation_names() -> Mapping[str, str]:
    """Return the title of every operation by name, in bench order."""
    return {kind.name: kind.title for kind in _KINDS}


def _present(name: str, instead: Mapping[str, tuple[str, ...]]) -> Iterator[str]:
    """Yield the operation itself, or those that take its place where it does not apply, as far back as it takes."""
    if name not in instead:
        yield name
    for other in instead.get(name, ()):
        yield from _present(other, instead)
