"""Runs of drums for tests and benches: a whole order of work with set-ups, and what varies between the cases."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from tauthide.scheduling.hours import Span, WorkingHours
from tauthide.scheduling.jobs import Edge, Hold, Job, Longest, Need, Operation, Resource, Run

MONDAY = date(2026, 3, 2)
DAY = ((540, 750), (810, 1020))
"""Nine to half past twelve, half past one to five."""


def every_weekday(first_day: date, spans: tuple[Span, ...], days_off: tuple[date, ...] = ()) -> WorkingHours:
    """Return working hours that are the same from Monday to Friday."""
    return WorkingHours(first_day, (spans,) * 5 + ((), ()), days_off)


@dataclass(frozen=True)
class Case:
    """A run of drums, some of them large: times from memory, workshop practice, no published source."""

    drums: int
    people: int = 2
    tub: int = 4
    drying: int = 6
    wet_min: int = 480
    dry_min: int = 1440
    large: int = 0
    """So many of the drums, the first ones, have half as many holes again and dry twice as long."""


def hours() -> WorkingHours:
    """Return five days a week, seven hours a day."""
    return every_weekday(MONDAY, DAY)


def drum(name: str, case: Case, large: bool = False) -> Job:
    """Return the job of one drum."""
    holes = 48 if large else 32
    stations = holes // 2
    work = Operation
    operations = (
        work("frame.round", 30, (), 720, 5, True),
        work("frame.fit", 10, ("frame.round",), 0, 0, True),
        work("skin.soak", 5, (), 720, 5, True),
        work("skin.flesh", 20, ("skin.soak",), 0, 10, True, needs=(Need("bench"),)),
        work("skin.spine", 3, ("skin.flesh",)),
        work("skin.cut", 10, ("skin.spine", "frame.fit"), 0, 5, True),
        work("skin.mark", 2 * holes // 5, ("skin.cut",), 0, 5, True),
        work("skin.punch", 2 * holes // 5, ("skin.mark",), 0, 5, True),
        work("skin.collect", 3, ("skin.punch",)),
        work("lace.cut", 25, ("skin.soak",), 0, 5, True),
        work("lace.soak", 2, ("lace.cut",), 30),
        work("lace.stretch", 8, ("lace.soak",), 0, 5, True),
        work("lace.lace", 3 * stations // 2, ("skin.collect", "lace.stretch")),
        work("head.centre", 5, ("lace.lace",)),
        work("head.tighten", 3 * stations // 2, ("head.centre",), 25),
        work("head.tighten_again", stations // 2, ("head.tighten",)),
        work("handle.wrap", 24, ("head.tighten_again",)),
        work("head.dry", 4, ("handle.wrap",), case.dry_min * (2 if large else 1)),
        work("finish.trim", 10, ("head.dry",), 0, 5, True),
        work("finish.label", 5, ("finish.trim",), 0, 3, True),
    )
    longest = (
        Longest("skin.flesh", "head.tighten_again", case.wet_min),
        Longest("lace.cut", "lace.lace", case.wet_min, title="wet time of the lace"),
    )
    holds = (
        Hold("tub", "skin.soak", "skin.flesh"),
        Hold("drying", "skin.flesh", "head.dry", until_edge=Edge.WAITED),
    )
    return Job(name, operations, longest, holds, "head.dry")


def drum_run(case: Case) -> Run:
    """Return the run of a case."""
    jobs = tuple(drum(f"D-{number:03}", case, number < case.large) for number in range(case.drums))
    resources = (
        Resource("tub", case.tub, "places in the tub"),
        Resource("drying", case.drying, "places to dry"),
        Resource("bench", 1, "benches"),
    )
    return Run(jobs, case.people, hours(), resources)


COMPARED = {
    "2 drums, one maker": Case(2, people=1),
    "3 drums": Case(3),
    "4 drums, one maker": Case(4, people=1),
    "4 drums, warm": Case(4, wet_min=240),
    "5 drums, two large": Case(5, large=2),
    "6 drums": Case(6),
    "6 drums, small tub": Case(6, tub=2),
    "6 drums, few places to dry": Case(6, drying=3),
    "6 drums, warm": Case(6, wet_min=240, drying=8),
    "7 drums, three makers": Case(7, people=3, tub=8, drying=8),
    "8 drums": Case(8),
    "8 drums, three large": Case(8, large=3, drying=8),
    "8 drums, slow drying": Case(8, dry_min=2880),
    "9 drums, one maker": Case(9, people=1),
    "10 drums": Case(10),
    "10 drums, three makers": Case(10, people=3, tub=8, drying=10),
    "12 drums": Case(12),
    "12 drums, room for all": Case(12, tub=12, drying=12),
    "12 drums, warm": Case(12, wet_min=240, drying=12),
}
"""The cases whose optimum was looked for by a solver; see optima.json."""
