"""The run as jobs that share people, places and hours."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType

from tauthide.running.drums import Drum
from tauthide.running.jobs import CUTTING_OF_LACE, PREPARED, SOAKED, job_of
from tauthide.running.stock import Taken
from tauthide.runs.run import Run
from tauthide.scheduling.hours import WorkingHours
from tauthide.scheduling.jobs import Need, Resource
from tauthide.scheduling.jobs import Run as Timed
from tauthide.work.operations import BENCH, DRYING, MAKING_OF_FRAME, TUB
from tauthide.work.wetness import longest_soak

TEACHER, TOOLS = "teacher", "tools"

TITLES: Mapping[str, str] = MappingProxyType(
    {
        TUB: "places in the tub",
        BENCH: "places at the bench",
        DRYING: "drying places",
        TEACHER: "teachers",
        TOOLS: "sets of punch, mallet and knife",
    }
)

MOST_AT_ONCE = 2
"""Places of one kind that a drum takes at the most: its head and a lace of another animal soak together."""

IN_CLASS: Mapping[str, tuple[Need, ...]] = MappingProxyType(
    {
        "skin.cut": (Need(TEACHER), Need(TOOLS)),
        "skin.punch": (Need(TOOLS),),
        "lace.cut": (Need(TOOLS),),
        "head.centre": (Need(TEACHER),),
    }
)
"""What an operation takes of a class: a teacher looks on where a slip would cost the skin or the drum's shape, and
sets of punch, mallet and knife go round. Workshop practice, no published source."""


def timed_run(run: Run, drums: Sequence[Drum], taken: Mapping[str, Taken]) -> Timed:
    """Return the run as its jobs, people, places and hours; where a place is not limited there is enough for all."""
    lesson = run.lesson
    shared = IN_CLASS if lesson is not None else None
    ready = PREPARED if is_prepared(run) else frozenset()
    enough = MOST_AT_ONCE * max(len(drums), run.crew)
    units = {TUB: run.room.tub, BENCH: run.room.bench, DRYING: run.room.drying}
    if is_prepared(run):
        del units[TUB]  # all lies in it before the class begins
    resources = [Resource(name, enough if most is None else most, TITLES[name]) for name, most in units.items()]
    if lesson is not None:
        resources += [Resource(TEACHER, lesson.teachers, TITLES[TEACHER]), Resource(TOOLS, lesson.tools, TITLES[TOOLS])]
    return Timed(
        jobs=tuple(
            job_of(
                drum.serial,
                drum.plan,
                air_of(run, drum),
                shared,
                spared_of(taken[drum.serial]) | ready,
                lace_first=lace_first(run),
            )
            for drum in drums
        ),
        people=run.crew,
        hours=WorkingHours(run.start, run.calendar.week, tuple(sorted(run.calendar.days_off))),
        resources=tuple(resources),
        own_hands=lesson is not None,
    )


def lace_first(run: Run) -> bool:
    """Tell whether a head and a lace of another animal cannot soak together: the tub has one place."""
    return run.room.tub is not None and run.room.tub < MOST_AT_ONCE and not is_prepared(run)


def is_prepared(run: Run) -> bool:
    """Tell whether the run is a class whose teachers have frames and skins ready when it begins."""
    return run.lesson is not None and run.lesson.begins is not None


def spared_of(taken: Taken) -> frozenset[str]:
    """Return the operations that a drum does not need for what stock gives it."""
    of_lace = CUTTING_OF_LACE if taken.has_lace else frozenset()
    return of_lace if taken.frame is None else of_lace | frozenset(MAKING_OF_FRAME)


def air_of(run: Run, drum: Drum) -> float:
    """Return the temperature in degrees C of the room in which a drum's skin is worked wet."""
    return drum.plan.spec.number("bench.air") if run.air_c is None else run.air_c


def longest_soak_of(run: Run, drum: Drum) -> int:
    """Return how many minutes a drum's skin may lie in the water at the most."""
    least = max(each.wait_min for each in drum.plan.operations if each.name == SOAKED)
    return int(longest_soak(least, air_of(run, drum)))
