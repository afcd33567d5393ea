"""The drums of a run as jobs to be scheduled."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType

from tauthide.plan.plan import Plan
from tauthide.scheduling.jobs import Edge, Hold, Job, Longest, Need, whole_minutes
from tauthide.scheduling.jobs import Operation as Task
from tauthide.work.operations import MAKING_OF_FRAME, TURNING_MIN, Operation
from tauthide.work.wetness import DRAWN_TIGHT, LONGEST_UNDRIED_MIN, longest_soak, longest_wet_time

SOAKED = "skin.soak"
"""The operation by which the skin goes into the water."""

LACE_SOAKED = "lace.soak_hide"
"""The operation by which a skin goes into the water that only laces come out of: another animal's."""

HEAD_CUT, LACE_CUT = "skin.cut", "lace.cut"
"""The operations by which a head and a lace are cut out of their skins."""

SOAKED_UNTIL: Mapping[str, str] = MappingProxyType({SOAKED: "skin.flesh", LACE_SOAKED: LACE_CUT})
"""The operation that lifts a skin out of the water again, by that which put it in."""

LIFTED = "skin.flesh"
"""The operation for which the skin is lifted out of the water."""

DRIED = "head.dry"
"""The operation after whose wait a drum is dry."""

WET_TIME = "wet time"
TIME_IN_WATER = "time in the water"
TIME_TO_DRYING = "time from tight to drying"

CUTTING_OF_LACE = frozenset({LACE_SOAKED, LACE_CUT})
"""Operations that a lace does not need which is in stock, cut to width."""


PREPARED = frozenset({*MAKING_OF_FRAME, "frame.round", SOAKED, LACE_SOAKED})
"""Operations that the teachers of a class do before it begins, where it says when: they wait overnight or longer, so
that the day itself would begin with waiting. Workshop practice, no published source."""


def job_of(
    name: str,
    plan: Plan,
    air_c: float,
    shared: Mapping[str, tuple[Need, ...]] | None = None,
    spared: Collection[str] = (),
    *,
    lace_first: bool = False,
) -> Job:
    """Return one drum as a job: its order of work, the places it takes up, and how long its skin may wait wet.

    `shared` gives what an operation needs beside hands and places, by the operation's name; `spared` names those
    that this drum does not need, and what comes after them comes after what they come after. With `lace_first` a
    lace of another animal is cut before the head's skin goes into the water, as where the tub has one place. Times
    are whole minutes, rounded up. The turning of a drying drum is a round through the drying place, morning and
    evening, that takes minutes: only the first, when the drum is laid down, is in the job.
    """
    needs = shared or {}
    operations = without(plan.operations, spared)
    if lace_first:
        operations = with_lace_first(operations)
    return Job(
        name=name,
        operations=tuple(task_of_operation(operation, needs.get(operation.name, ())) for operation in operations),
        longest=tuple(_longest(operations, air_c)),
        holds=tuple(_hold(each) for each in operations if each.until),
        dry_after=DRIED,
    )


def _longest(operations: Sequence[Operation], air_c: float) -> Iterator[Longest]:
    """Yield how long a skin may be out of the water until it is tight, tight until it lies drying, and in the water."""
    yield Longest(LIFTED, DRAWN_TIGHT, int(longest_wet_time(air_c)), Edge.START, Edge.END, WET_TIME)
    yield Longest(DRAWN_TIGHT, DRIED, int(LONGEST_UNDRIED_MIN), Edge.END, Edge.START, TIME_TO_DRYING)
    soaks = {operation.name: operation.wait_min for operation in operations}
    for soaked, lifted in ((SOAKED, LIFTED), (LACE_SOAKED, LACE_CUT)):
        if soaked in soaks and lifted in soaks:
            most = int(longest_soak(soaks[soaked], air_c))
            yield Longest(soaked, lifted, most, Edge.END, Edge.START, TIME_IN_WATER)


def _hold(operation: Operation) -> Hold:
    """Return what an operation holds: a place to dry from when the skin is lifted, for then there must be one."""
    since = LIFTED if operation.name == DRIED else operation.name
    return Hold(operation.place, since, operation.until)


def without(operations: Sequence[Operation], spared: Collection[str]) -> tuple[Operation, ...]:
    """Return the operations in order without those spared; what came after one of these comes after what it did."""
    instead: dict[str, tuple[str, ...]] = {}
    kept = []
    for operation in operations:
        after = tuple(dict.fromkeys(name for each in operation.after for name in instead.get(each, (each,))))
        if operation.name in spared:
            instead[operation.name] = after
        else:
            kept.append(replace(operation, after=after))
    return tuple(kept)


def with_lace_first(operations: Sequence[Operation]) -> tuple[Operation, ...]:
    """Return the operations in order with a lace of another animal soaked and cut before the head's skin is soaked.

    Not the other way round: the head would wait wet, and its time is short. A lace waits in a bowl of cool water.
    """
    if LACE_SOAKED not in {operation.name for operation in operations}:
        return tuple(operations)
    early = [operation for operation in operations if operation.name in CUTTING_OF_LACE]
    kept: list[Operation] = []
    for operation in operations:
        if operation.name == SOAKED:
            kept += [*early, replace(operation, after=(*operation.after, LACE_CUT))]
        elif operation.name not in CUTTING_OF_LACE:
            kept.append(operation)
    return tuple(kept)


def task_of_operation(operation: Operation, shared: tuple[Need, ...] = ()) -> Task:
    """Return an operation as it is scheduled, with what it takes; its times as whole minutes, rounded up."""
    place = () if operation.until or not operation.place else (Need(operation.place),)
    return Task(
        name=operation.name,
        hand_min=whole_minutes(TURNING_MIN if operation.name == DRIED else operation.hand_min),
        after=operation.after,
        wait_min=whole_minutes(operation.wait_min),
        setup_min=whole_minutes(operation.setup_min),
        may_group=operation.setup_min > 0,
        needs=(*place, *shared),
        title=operation.title,
    )
