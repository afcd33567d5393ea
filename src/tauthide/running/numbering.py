"""The numbers of the pieces on a skin: the order in which they are cut out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from tauthide.running.drums import Drum
from tauthide.running.jobs import HEAD_CUT, LACE_CUT
from tauthide.running.needs import head_names, lace_name
from tauthide.running.taping import Cut
from tauthide.scheduling.schedule import Schedule


def in_order_of_work(
    cuts: Mapping[str, Sequence[Cut]], drums: Sequence[Drum], schedule: Schedule
) -> dict[str, tuple[Cut, ...]]:
    """Return the pieces of each skin numbered in the order in which the schedule has them cut; spares come last."""
    works = schedule.placed()
    times: dict[str, int] = {}
    for drum in drums:
        for name, operation in (*((name, HEAD_CUT) for name in head_names(drum)), (lace_name(drum.serial), LACE_CUT)):
            if (drum.serial, operation) in works:
                times[name] = works[drum.serial, operation].start_min
    last = max((work.start_min for work in schedule.works), default=0) + 1
    numbered = {}
    for skin, listed in cuts.items():
        ordered = sorted(listed, key=lambda cut: (times.get(cut.placement.name, last), cut.number))
        numbered[skin] = tuple(replace(cut, number=number) for number, cut in enumerate(ordered, start=1))
    return numbered
