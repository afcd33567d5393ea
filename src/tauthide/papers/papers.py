"""All papers of a run as files."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from tauthide.papers.buying import skins_to_buy_table
from tauthide.papers.classes import teacher_table
from tauthide.papers.costs import costs_table, has_prices
from tauthide.papers.kits import kits_table, view_kits
from tauthide.papers.overview import (
    limits_table,
    made_table,
    needs_table,
    skins_table,
    view_overview,
)
from tauthide.papers.skins import all_pieces, laces_table, view_laces, view_skins
from tauthide.papers.soaking import soaking_table
from tauthide.papers.tables import Table
from tauthide.papers.timetable import chain_table, drums_table, view_timetable, work_table
from tauthide.papers.travellers import travellers_table, view_travellers
from tauthide.papers.wood import has_wood, wood_table
from tauthide.papers.wording import notices
from tauthide.running.run_plan import RunPlan
from tauthide.sheets.environment import template

_PAGES: Mapping[str, Callable[[RunPlan], dict[str, object]]] = {
    "run": view_overview,
    "schedule": view_timetable,
    "skins": view_skins,
    "lace": view_laces,
    "kits": view_kits,
    "travellers": view_travellers,
}
_TABLES: Mapping[str, Callable[[RunPlan], Table]] = {
    "made": made_table,
    "needs": needs_table,
    "skins_to_buy": skins_to_buy_table,
    "hides": skins_table,
    "costs": costs_table,
    "schedule": work_table,
    "drums": drums_table,
    "water": soaking_table,
    "chain": chain_table,
    "teacher": teacher_table,
    "limits": limits_table,
    "skins": all_pieces,
    "lace": laces_table,
    "kits": kits_table,
    "travellers": travellers_table,
    "wood": wood_table,
}
_ONLY_WHERE: Mapping[str, Callable[[RunPlan], bool]] = {
    "costs": has_prices,
    "wood": has_wood,
    "skins_to_buy": lambda plan: bool(plan.purchases.skins),
    "hides": lambda plan: bool(plan.run.skins),
    "water": lambda plan: bool(plan.layout.placements),
    "teacher": lambda plan: plan.run.lesson is not None,
    "limits": lambda plan: bool(plan.limits),
}
"""Tables that a run has only where there is something to say."""


def render_papers(plan: RunPlan) -> dict[str, bytes]:
    """Return the Markdown pages and the CSV tables of a run by file name."""
    notice = {"unapproved": notices(plan)}
    pages = {f"{name}.md": _page(name, {**view(plan), **notice}) for name, view in _PAGES.items()}
    wanted = {name: make for name, make in _TABLES.items() if name not in _ONLY_WHERE or _ONLY_WHERE[name](plan)}
    tables = {f"{name}.csv": make(plan).csv() for name, make in wanted.items()}
    return {**pages, **tables}


def _page(name: str, view: Mapping[str, object]) -> bytes:
    return template(f"papers/{name}.md.j2").render(**view).encode("utf-8")
