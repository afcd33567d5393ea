"""Which drum gets which of the pieces that are alike: those whose work comes first get the same skins."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import replace

from tauthide.cutting.pieces import Layout, Placement
from tauthide.running.drums import Drum
from tauthide.running.jobs import SOAKED
from tauthide.running.needs import head_name, head_names, lace_name
from tauthide.running.stock import Taken
from tauthide.running.taping import all_cuts
from tauthide.runs.skins import Skin
from tauthide.scheduling.hours import DAY_MIN
from tauthide.scheduling.schedule import Schedule

Place = tuple[Placement, ...]
"""All parts of one piece."""


def hand_out(
    layout: Layout, skins: Sequence[Skin], drums: Sequence[Drum], taken: Mapping[str, Taken], schedule: Schedule
) -> Layout:
    """Return the same places with the drums of each spec in the order of their work.

    Heads of one spec are alike, and so are its laces. The search names them as they come; here the drums whose skin
    goes into the water on an earlier day, then those with the lower serials, get the heads of the same skin, and of
    skins that no later spec needs; a lace comes from its head's skin where it can. Where there are too few, as many
    drums as can be whole are: drums for which there is a lace get their heads before others, and laces go first to
    drums with their heads.
    """
    soaked = {work.job: work.start_min for work in schedule.works if work.operation == SOAKED}
    ordered = sorted(drums, key=lambda drum: soaked.get(drum.serial, 0) // DAY_MIN)
    laid: dict[str, Place] = {}
    for cuts in all_cuts(skins, layout).values():
        for cut in cuts:
            laid[cut.placement.name] = (*laid.get(cut.placement.name, ()), cut.placement)
    last_needed: dict[str, int] = {}
    for drum in ordered:
        for placement in (each for name in head_names(drum) for each in laid.get(name, ())):
            until = max(soaked.get(each.serial, 0) for each in drums if each.batch is drum.batch)
            last_needed[placement.hide] = max(last_needed.get(placement.hide, 0), until)
    names: dict[str, str] = {}
    for batch in dict.fromkeys(drum.batch.plan.spec.drum for drum in drums):
        alike = [drum for drum in ordered if drum.plan.spec.drum == batch]
        names |= _hand_out_one(alike, laid, taken, last_needed)
    moved = tuple(replace(each, name=names.get(each.name, each.name)) for each in layout.placements)
    ranks = {name: rank for rank, name in enumerate(_wanted(layout))}
    hides = {hide.name: rank for rank, hide in enumerate(layout.task.hides)}
    return replace(
        layout, placements=tuple(sorted(moved, key=lambda each: (hides[each.hide], ranks[each.name], each.part)))
    )


def _hand_out_one(
    alike: Sequence[Drum], laid: Mapping[str, Place], taken: Mapping[str, Taken], last_needed: Mapping[str, int]
) -> dict[str, str]:
    """Return the new name of each piece of one spec by its old one."""
    order = {name: rank for rank, name in enumerate(laid)}
    heads = [name for drum in alike for name in head_names(drum) if name in laid]
    heads.sort(key=lambda name: (last_needed[laid[name][0].hide], order[name]))
    laces = sorted((name for drum in alike if (name := lace_name(drum.serial)) in laid), key=order.__getitem__)
    wanting = [drum.serial for drum in alike if not taken[drum.serial].has_lace]
    wanting, laceless = wanting[: len(laces)], wanting[len(laces) :]
    names = dict(zip(heads, _heads_for(alike, laceless, len(heads)), strict=True))
    hide_of = {new: laid[old][0].hide for old, new in names.items()}
    for serial in wanting:
        same = next((name for name in laces if laid[name][0].hide == hide_of.get(head_name(serial))), None)
        if same is not None:
            names[same] = lace_name(serial)
            laces.remove(same)
    bare = [serial for serial in wanting if lace_name(serial) not in set(names.values())]
    names |= {old: lace_name(serial) for old, serial in zip(laces, bare, strict=True)}
    return names


def _heads_for(alike: Sequence[Drum], laceless: Collection[str], heads: int) -> list[str]:
    """Return the names of the heads that there are, in the order of work; drums without a lace get theirs last."""
    names = [(drum, name) for drum in alike for name in head_names(drum)]
    given = {name for _, name in sorted(names, key=lambda pair: pair[0].serial in laceless)[:heads]}
    return [name for _, name in names if name in given]


def _wanted(layout: Layout) -> Iterable[str]:
    yield from (piece.name for piece in layout.task.pieces)
    yield from (lace.name for lace in layout.task.laces)
