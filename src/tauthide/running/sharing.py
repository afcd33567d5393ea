"""Drums whose pieces come out of one skin: only one pair of hands works at a skin at a time."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from tauthide.cutting.pieces import Layout
from tauthide.running.drums import Drum
from tauthide.running.jobs import HEAD_CUT, LACE_CUT, LIFTED
from tauthide.running.needs import head_names, lace_name
from tauthide.scheduling.jobs import Job, Need, Resource
from tauthide.scheduling.jobs import Run as Timed

AT_SKIN = "skin "
"""What the resource is called that is a skin, before the skin's name."""


def with_skins(timed: Timed, drums: tuple[Drum, ...], layout: Layout) -> Timed:
    """Return a run whose drums take hold of their skins, one at a time, to flesh and to cut out a head or a lace."""
    hides: dict[str, list[str]] = {}
    for placement in layout.placements:
        known = hides.setdefault(placement.name, [])
        if placement.hide not in known:
            known.append(placement.hide)
    used = dict.fromkeys(placement.hide for placement in layout.placements)
    by_serial = {drum.serial: drum for drum in drums}
    return replace(
        timed,
        jobs=tuple(_holding(job, by_serial[job.name], hides) for job in timed.jobs),
        resources=(*timed.resources, *(Resource(f"{AT_SKIN}{hide}", 1, f"skin {hide}") for hide in used)),
    )


def skin_places(timed: Timed) -> set[str]:
    """Return the names of the resources that are skins."""
    return {resource.name for resource in timed.resources if resource.name.startswith(AT_SKIN)}


def _holding(job: Job, drum: Drum, hides: Mapping[str, list[str]]) -> Job:
    heads = dict.fromkeys(hide for name in head_names(drum) for hide in hides.get(name, ()))
    laces = dict.fromkeys(hides.get(lace_name(drum.serial), ()))
    taken = {LIFTED: heads, HEAD_CUT: heads, LACE_CUT: laces}
    return replace(
        job,
        operations=tuple(
            replace(each, needs=(*each.needs, *(Need(f"{AT_SKIN}{hide}") for hide in taken.get(each.name, ()))))
            for each in job.operations
        ),
    )
