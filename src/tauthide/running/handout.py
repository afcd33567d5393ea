"""Which drum gets which of the pieces that are alike: those whose work comes first get the same skins."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from operator import le

from tauthide.cutting.pieces import Layout, Placement
from tauthide.running.drums import Drum, spare_heads, spare_laces
from tauthide.running.jobs import SOAKED
from tauthide.running.needs import head_name, head_names, lace_name
from tauthide.running.stock import Taken
from tauthide.running.taping import all_cuts
from tauthide.runs.run import Run
from tauthide.scheduling.hours import DAY_MIN
from tauthide.scheduling.schedule import Schedule

Place = tuple[Placement, ...]
"""All parts of one piece."""


@dataclass(frozen=True, slots=True)
class _Pool:
    """The places of pieces that are alike."""

    places: tuple[str, ...]
    """Names of the pieces that were laid there."""
    spares: tuple[str, ...]
    """The spares that get some of them."""


def hand_out(layout: Layout, run: Run, drums: Sequence[Drum], taken: Mapping[str, Taken], schedule: Schedule) -> Layout:
    """Return the same places with the drums of each spec in the order of their work.

    Heads of one spec are alike, and so are its laces. The search names them as they come; here the drums whose skin
    goes into the water on an earlier day, then those with the lower serials, get the heads of the same skin, and of
    skins that no later spec needs; a lace comes from its head's skin where it can. Where there are too few, as many
    drums as can be whole are: drums for which there is a lace get their heads before others, and laces go first to
    drums with their heads. Spares get what the drums leave over: places on skins that no drum needs then.
    """
    soaked = {work.job: work.start_min for work in schedule.works if work.operation == SOAKED}
    ordered = sorted(drums, key=lambda drum: soaked.get(drum.serial, 0) // DAY_MIN)
    laid: dict[str, Place] = {}
    for cuts in all_cuts([held.skin for held in run.skins], layout).values():
        for cut in cuts:
            laid[cut.placement.name] = (*laid.get(cut.placement.name, ()), cut.placement)
    specs = dict.fromkeys(drum.plan.spec.drum for drum in drums)
    alike = {spec: [drum for drum in ordered if drum.plan.spec.drum == spec] for spec in specs}
    pools = {spec: _pools_of(run, listed, laid, taken, layout) for spec, listed in alike.items()}
    spares = _spares_of([pool for both in pools.values() for pool in both], laid, layout)
    last_needed: dict[str, int] = {}
    for spec, listed in alike.items():
        until = max(soaked.get(each.serial, 0) for each in listed)
        for placement in (each for name in pools[spec][0].places if name not in spares for each in laid[name]):
            last_needed[placement.hide] = max(last_needed.get(placement.hide, 0), until)
    names = dict(spares)
    for spec, listed in alike.items():
        heads, laces = ([name for name in pool.places if name not in spares] for pool in pools[spec])
        names |= _hand_out_one(listed, heads, laces, laid, taken, last_needed)
    moved = tuple(replace(each, name=names.get(each.name, each.name)) for each in layout.placements)
    ranks = {name: rank for rank, name in enumerate(_wanted(layout))}
    hides = {hide.name: rank for rank, hide in enumerate(layout.task.hides)}
    return replace(
        layout, placements=tuple(sorted(moved, key=lambda each: (hides[each.hide], ranks[each.name], each.part)))
    )


def _pools_of(
    run: Run, alike: Sequence[Drum], laid: Mapping[str, Place], taken: Mapping[str, Taken], layout: Layout
) -> tuple[_Pool, _Pool]:
    """Return the places of one spec's heads, and of its laces."""
    batch, cut = alike[0].batch, {lace.name for lace in layout.task.laces}
    heads = [name for drum in alike for name in head_names(drum)]
    laces = [lace_name(drum.serial) for drum in alike if not taken[drum.serial].has_lace]
    spare = [name for name in spare_laces(run, batch) if name in cut]
    return _pool(heads, spare_heads(run, batch), laid), _pool(laces, spare, laid)


def _pool(wanted: Sequence[str], spares: Sequence[str], laid: Mapping[str, Place]) -> _Pool:
    known = {*wanted, *spares}
    places = tuple(name for name in laid if name in known)
    return _Pool(places, tuple(spares[: max(0, len(places) - len(wanted))]))


def _spares_of(pools: Sequence[_Pool], laid: Mapping[str, Place], layout: Layout) -> dict[str, str]:
    """Return the name of each spare by the name of the piece whose place it gets.

    First whole skins, those with the fewest pieces, as long as there are spares enough to empty one of all that drums
    need; then places on the skin with the fewest pieces.
    """
    chosen: list[list[str]] = [[] for _ in pools]
    hides = [hide.name for hide in layout.task.hides]

    def left_on(hide: str) -> list[list[str]]:
        """Return the places of each pool on a skin that no spare has been given."""
        return [
            [name for name in pool.places if name not in given and any(each.hide == hide for each in laid[name])]
            for pool, given in zip(pools, chosen, strict=True)
        ]

    while True:
        on = {hide: left_on(hide) for hide in reversed(hides)}
        fewest = sorted((hide for hide in on if any(on[hide])), key=lambda hide: sum(map(len, on[hide])))
        wanting = [len(pool.spares) - len(given) for pool, given in zip(pools, chosen, strict=True)]
        freed = [on[hide] for hide in fewest if all(map(le, map(len, on[hide]), wanting))]
        if not freed:
            break
        for given, names in zip(chosen, freed[0], strict=True):
            given += names
    for number, want in enumerate(wanting):
        last = dict.fromkeys(name for hide in fewest for name in reversed(on[hide][number]))
        chosen[number] += list(last)[:want]
    return {
        old: new for pool, given in zip(pools, chosen, strict=True) for old, new in zip(given, pool.spares, strict=True)
    }


def _hand_out_one(
    alike: Sequence[Drum], heads: list[str], laces: list[str],
    laid: Mapping[str, Place], taken: Mapping[str, Taken], last_needed: Mapping[str, int],
) -> dict[str, str]:  # fmt: skip
    """Return the new name of each piece of one spec by its old one."""
    order = {name: rank for rank, name in enumerate(laid)}
    heads.sort(key=lambda name: (last_needed[laid[name][0].hide], order[name]))
    laces.sort(key=order.__getitem__)
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
