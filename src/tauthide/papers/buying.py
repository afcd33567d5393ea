"""Skin that a run buys, and what its own skins want before they are soaked: lines and a table of `run.md`."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from tauthide.papers.tables import Cell, Column, Table, table
from tauthide.papers.wording import mm, money, square, system_of, whole, words
from tauthide.running.costs import cents
from tauthide.running.needs import head_names, lace_name
from tauthide.running.purchases import SkinsToBuy
from tauthide.running.run_plan import RunPlan
from tauthide.sheets.words import counted
from tauthide.text import markdown
from tauthide.units import area, length

BEFORE_SOAKING: Mapping[str, str] = MappingProxyType(
    {
        "fresh": "take off flesh and hair",
        "salted": "rinse out the salt, take off the hair",
        "dried": "take off the hair, if it has any",
        "frozen": "thaw it in cool water, take off the hair if it has any",
    }
)
"""What is done to a skin, by how it is kept, before the run's first step. Workshop practice, no published source."""


def skins_to_buy(plan: RunPlan) -> tuple[str, ...]:
    """Return a line for each animal of which skin is to be bought."""
    return tuple(_skin_line(plan, skins) for skins in plan.purchases.skins)


def _skin_line(plan: RunPlan, skins: SkinsToBuy) -> str:
    system = system_of(plan)
    pieces = counted(len(skins.pieces), "piece", "pieces")
    size = f"{length(skins.length_mm, system)} long and {length(skins.width_mm, system)} wide"
    if skins.skins is None:
        return (
            f"{markdown(skins.hide)} skin for {pieces} of {area(skins.area_mm2, system)}: at least one piece is larger"
            f" than an ordinary skin gives, so look for skins above {size}"
        )
    number = counted(skins.skins, "ordinary skin", "ordinary skins")
    price = _price(plan, skins)
    paid = "" if price is None else f": {money(plan, price).text}"
    return f"{number} of {markdown(skins.hide)}, {size}, for {pieces} of {area(skins.area_mm2, system)}{paid}"


def _price(plan: RunPlan, skins: SkinsToBuy) -> float | None:
    per_mm2 = plan.run.prices.hide_per_mm2
    return None if per_mm2 is None else cents(skins.bought_mm2 * per_mm2)


def skins_to_buy_table(plan: RunPlan) -> Table:
    """Return the same for the spreadsheet: a row for each animal."""
    names = ("hide", "pieces", "area_m2", "ordinary_skins", "length_mm", "width_mm", "price")
    system = system_of(plan)
    return table(
        tuple(Column("", name) for name in names),
        [
            (words(each.hide), whole(len(each.pieces)), square(each.area_mm2, system),
             Cell("", each.skins), mm(each.length_mm, system), mm(each.width_mm, system),
             money(plan, _price(plan, each)))
            for each in plan.purchases.skins
        ],
    )  # fmt: skip


def only_for_spares(plan: RunPlan) -> tuple[str, ...]:
    """Return the skins that no drum needs, but a spare comes out of: no work of the schedule takes them."""
    of_drums = {name for drum in plan.drums for name in (*head_names(drum), lace_name(drum.serial))}
    uses = {hide: {each.name for each in plan.layout.on_hide(hide)} for hide in plan.layout.hides_used}
    return tuple(markdown(hide) for hide, names in uses.items() if not names & of_drums)


def before_soaking(plan: RunPlan) -> tuple[str, ...]:
    """Return a line for each skin that is used and is not rawhide yet."""
    used = set(plan.layout.hides_used)
    return tuple(
        f"**{markdown(each.skin.name)}** ({each.skin.kept}): {BEFORE_SOAKING[each.skin.kept]}"
        for each in plan.run.skins
        if each.skin.name in used and each.skin.kept in BEFORE_SOAKING
    )
