"""The skins in the water: when each goes in, whole, and when it is cut up."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from tauthide.papers.tables import Cell, Column, Table, table
from tauthide.papers.wording import UNKNOWN, moment, serials, words
from tauthide.running.jobs import HEAD_CUT, LACE_CUT, LACE_SOAKED, LIFTED, SOAKED
from tauthide.running.needs import head_names, lace_name
from tauthide.running.run_plan import RunPlan
from tauthide.running.timing import longest_soak_of
from tauthide.sheets.words import counted

TOO_LONG = "all at the first cut, then dry"
"""What becomes of a skin that would lie in the water for too long."""


@dataclass(frozen=True, slots=True)
class _Soak:
    """The drums whose heads and laces come out of a skin, and when it goes into the water."""

    heads: tuple[str, ...]
    laces: tuple[str, ...]
    start_min: int


def _soaks(plan: RunPlan) -> dict[str, _Soak]:
    """Return how each skin is soaked that a drum needs, by its name."""
    works = plan.schedule.placed()
    heads: dict[str, list[str]] = {skin: [] for skin in plan.cuts}
    laces: dict[str, list[str]] = {skin: [] for skin in plan.cuts}
    for drum in plan.drums:
        for skin in dict.fromkeys(skin for name in head_names(drum) for skin, _ in plan.on_skin.get(name, ())):
            heads[skin].append(drum.serial)
        for skin in dict.fromkeys(skin for skin, _ in plan.on_skin.get(lace_name(drum.serial), ())):
            laces[skin].append(drum.serial)
    found = {}
    for skin in plan.cuts:
        soaked = [works[serial, SOAKED] for serial in heads[skin]]
        soaked += [works.get((serial, LACE_SOAKED), works[serial, SOAKED]) for serial in laces[skin]]
        if soaked:
            found[skin] = _Soak(tuple(heads[skin]), tuple(laces[skin]), min(work.end_min for work in soaked))
    return found


def water_times(plan: RunPlan) -> dict[str, int]:
    """Return when each drum's head goes into the water for the last time: with its skin, or by itself.

    By itself where the skin is still to be had, or where it would lie in the water for too long.
    """
    works, soaks = plan.schedule.placed(), _soaks(plan)
    times = {}
    for drum in plan.drums:
        skins = {skin for name in head_names(drum) for skin, _ in plan.on_skin.get(name, ())}
        own = works[drum.serial, SOAKED].end_min
        first = min((soaks[skin].start_min for skin in skins), default=own)
        too_long = works[drum.serial, LIFTED].start_min - first > longest_soak_of(plan.run, drum)
        times[drum.serial] = own if too_long else first
    return times


def soaking_table(plan: RunPlan) -> Table:
    """Return when each skin goes into the water and is cut up, and for which drums."""
    works = plan.schedule.placed()
    most = {drum.serial: longest_soak_of(plan.run, drum) for drum in plan.drums}
    rows = []
    for skin, soak in _soaks(plan).items():
        heads, laces, soaked = soak.heads, soak.laces, soak.start_min
        cut_up = [works[serial, HEAD_CUT] for serial in heads] + [works[serial, LACE_CUT] for serial in laces]
        last = max(work.end_min for work in cut_up)
        too_long = last - soaked > min(most[serial] for serial in (*heads, *laces))
        rows.append(
            (
                Cell("☐"), words(skin), moment(plan, soaked),
                Cell(serials(heads) or UNKNOWN, " ".join(heads)), Cell(serials(laces) or UNKNOWN, " ".join(laces)),
                moment(plan, min(work.start_min for work in cut_up)), moment(plan, last),
                Cell(TOO_LONG if too_long else "one by one", "yes" if too_long else "no"), soaked,
            )
        )  # fmt: skip
    columns = (
        Column("☐", ""), Column("Skin", "skin"), Column("In the water by", "in_water"), Column("Heads for", "heads"),
        Column("Laces for", "laces"), Column("First cut", "first_cut"), Column("Last cut", "last_cut"),
        Column("Cut", "cut_up_at_once"),
    )  # fmt: skip
    return table(columns, [row[:-1] for row in sorted(rows, key=lambda row: row[-1])])


def _in_tub(plan: RunPlan) -> Iterator[tuple[int, int]]:
    """Yield from when until when each head lies in the water, its skin whole."""
    works, times = plan.schedule.placed(), water_times(plan)
    for drum in plan.drums:
        for _ in head_names(drum):
            yield times[drum.serial], works[drum.serial, LIFTED].start_min


def in_tub_note(plan: RunPlan) -> str:
    """Say how many heads lie in the water at once if skins stay whole; empty where the tub takes them."""
    tub = plan.run.room.tub
    times = list(_in_tub(plan)) if plan.layout.placements else []
    most = max((sum(start <= at < end for start, end in times) for at, _ in times), default=0)
    if tub is None or most <= tub:
        return ""
    return (
        f"Where skins stay whole, up to {counted(most, 'head', 'heads')} lie in the water at once; the tub has places "
        f"for {tub}: have a second one ready."
    )
