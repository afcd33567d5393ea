"""What a run makes, takes, buys and costs: the tables of `run.md`."""

from __future__ import annotations

from tauthide.cutting.pieces import LaceNeed, Piece
from tauthide.cutting.wanting import Reason
from tauthide.papers.buying import before_soaking, only_for_spares, skins_to_buy
from tauthide.papers.costs import costs_table, has_prices, unpriced
from tauthide.papers.skins import is_wanting
from tauthide.papers.tables import LEFT, RIGHT, Cell, Column, Table, table
from tauthide.papers.wood import has_wood, wood_table
from tauthide.papers.wording import (
    UNKNOWN,
    clock,
    full_day,
    hand_time,
    metres,
    mm,
    serials,
    square,
    system_of,
    whole,
    words,
)
from tauthide.running.reasons import by_reason, reason_text
from tauthide.running.run_plan import RunPlan
from tauthide.running.timing import TITLES
from tauthide.running.words import day_text
from tauthide.scheduling.schedule import LimitKind
from tauthide.sheets.words import counted, held, listing
from tauthide.text import markdown
from tauthide.units import finer_length, length, long_length, nominal_length, time

HOW_MADE = {"bought": "", "bent": ", to be bent", "staves": ", to be glued of staves"}
"""How frames come about that are not in stock."""


def made_table(plan: RunPlan) -> Table:
    """Return what is made: a row for each spec."""
    system = system_of(plan)
    rows = []
    for batch in plan.order.batches:
        spec, names = batch.plan.spec, batch.entry.serials
        rows.append(
            (
                words(spec.drum), words(spec.title), whole(len(names)), Cell(serials(names), " ".join(names)),
                words(spec.word("head.hide")), square(batch.plan["head.blank_area"], system),
                metres(batch.plan["lace.cut_length"], system), Cell(f"`{batch.plan.digest}`", batch.plan.digest),
            )
        )  # fmt: skip
    columns = (
        Column("Drum", "drum"), Column("What it is", "title"), Column("Build", "quantity", RIGHT),
        Column("Serials", "serials"), Column("Skin", "hide"), Column("Blank, each", "blank_m2"),
        Column("Lace, each", "lace_m"), Column("Digest", "digest"),
    )  # fmt: skip
    return table(columns, rows)


def needs_table(plan: RunPlan) -> Table:
    """Return what is to be had ready: needed, at hand, to be bought."""
    system = system_of(plan)
    purchases = plan.purchases
    rows = []
    for frames in purchases.frames:
        how = HOW_MADE[frames.make]
        rows.append(_need(f"Frames for {frames.drum}{how}", frames.needed, frames.in_stock))
    for rings in purchases.rings:
        across, rod = length(rings.across_mm, system), length(rings.section_mm, system)
        rows.append(
            _need(f"Rings for {rings.drum}, {across} across outside, of rod {rod} thick", rings.needed, rings.in_stock)
        )
    laces = [need for need in plan.order.task.laces if isinstance(need, LaceNeed)]
    given = [taken for taken in (*plan.order.taken.values(), *plan.order.stock.spares.values()) if taken.has_lace]
    joined = sum(taken.is_joined for taken in given)
    spare = ", spares with them" if plan.order.stock.spares else ""
    for what, count in (("ready cut", len(given) - joined), ("to be joined of short ones", joined)):
        if count:
            rows.append(_need(f"Laces out of stock, {what}{spare}", count, count))
    heads = [piece for piece in plan.order.task.pieces if isinstance(piece, Piece) and piece.use == "head"]
    missing = set(plan.layout.missing)
    rows.append(_need("Heads to be cut, spares with them", len(heads), sum(each.name not in missing for each in heads)))
    by_metre = sum(each.count for each in purchases.laces)
    laid = sum(each.name not in missing for each in laces)
    rows.append(_need("Laces to be cut, spares with them", len(laces) - by_metre, laid))
    for each in purchases.laces:
        wide, long = nominal_length(each.width_mm, system), long_length(each.length_mm, system)
        rows.append(_need(f"Laces to buy by length for {each.drum}: {each.hide}, {wide} wide, {long}", each.count, 0))
    for punch in purchases.punches:
        rows.append(_need(f"Punch of {nominal_length(punch.size_mm, system)} for {listing(punch.drums)}", 1, 0))
    columns = (
        Column("What", "what"), Column("Needed", "needed", RIGHT), Column("At hand", "at_hand", RIGHT),
        Column("Wanting", "wanting", RIGHT),
    )  # fmt: skip
    return table(columns, rows)


def _need(what: str, needed: int, at_hand: int) -> tuple[Cell, ...]:
    wanting = needed - at_hand
    return (words(what), whole(needed), whole(at_hand), Cell(f"**{wanting}**" if wanting else "0", wanting))


def skins_table(plan: RunPlan) -> Table:
    """Return what becomes of each skin at hand."""
    system = system_of(plan)
    unused = "not used" if is_wanting(plan) else "not needed"
    rows = []
    for held_skin in plan.run.skins:
        skin = held_skin.skin
        placements = plan.layout.on_hide(skin.name)
        share = plan.layout.used_share(skin.name)
        hide_mm2 = next(hide.area_mm2 for hide in plan.order.task.hides if hide.name == skin.name)
        rows.append(
            (
                words(skin.name), words(skin.hide), words(skin.kept), square(hide_mm2, system),
                whole(sum(each.use == "head" for each in placements)),
                whole(sum(each.use == "lace" for each in placements)),
                Cell(f"{100 * share:.0f} %" if placements else unused, round(100 * share, 1)),
            )
        )  # fmt: skip
    columns = (
        Column("Skin", "skin"), Column("Animal", "hide"), Column("Kept", "kept"), Column("Area", "area_m2"),
        Column("Heads", "heads", RIGHT), Column("Lace discs", "lace_discs", RIGHT),
        Column("Used", "used_percent", RIGHT),
    )  # fmt: skip
    return table(columns, rows)


def limits_table(plan: RunPlan) -> Table:
    """Return what one more of each thing would gain."""
    rows = []
    for limit in plan.limits:
        more = _more(limit.kind, limit.name, limit.more)
        gain = held(time(limit.gain_min)) if limit.gain_min else "nothing"
        rows.append(
            (
                words(more),
                Cell(gain, limit.gain_min),
                Cell(full_day(plan, limit.finish_min), plan.moment(limit.finish_min).isoformat(" ", "minutes")),
            )
        )
    columns = (
        Column("With", "with"), Column("Sooner by", "gain_min", RIGHT), Column("Finished on", "finished", LEFT),
    )  # fmt: skip
    return table(columns, rows)


def _more(kind: LimitKind, name: str, more: int) -> str:
    if kind is LimitKind.PEOPLE:
        return f"{more} more person" if more == 1 else f"{more} more people"
    if kind is LimitKind.WINDOW:
        return f"{time(more)} more {name}"
    return f"{more} more of the {TITLES.get(name, name)}"


def limiting(plan: RunPlan) -> str:
    """Say in words what limits the run: what gains most, or nothing."""
    gaining = [limit for limit in plan.limits if limit.gain_min > 0]
    if not gaining:
        return "Nothing of which one more would help: soaking, drying and the hours set the pace."
    best = max(gaining, key=lambda limit: limit.gain_min)
    return f"What limits the run most: {_more(best.kind, best.name, best.more)} would gain {held(time(best.gain_min))}."


def tub_note(plan: RunPlan) -> str:
    """Say what a place in the tub is; empty where they are not limited."""
    if plan.run.room.tub is None:
        return ""
    return (
        "The tub counts heads, not skins: a place for the head of each drum, or for both its heads, and one more for a "
        "lace of another animal."
    )


def other_stock(plan: RunPlan) -> tuple[str, ...]:
    """Return a line for each other thing in stock."""
    things = [thing for each in plan.run.lots for thing in each.lot.other]
    return tuple(
        markdown(thing.what) if thing.quantity == 1 else f"{thing.quantity} × {markdown(thing.what)}"
        for thing in things
    )


def why_wanting(plan: RunPlan) -> tuple[str, ...]:
    """Return a line for each reason why pieces found no place on the skins at hand."""
    system = system_of(plan)

    def why(reason: Reason) -> str:
        return reason_text(reason, lambda thickness_mm, way: finer_length(thickness_mm, system, way), markdown)

    reasons = by_reason(plan.why_missing)
    return tuple(f"{', '.join(map(markdown, names))}: {why(reason)}" for reason, names in reasons.items())


def left_out(plan: RunPlan) -> tuple[str, ...]:
    """Return the serials of drums that skin is wanting for."""
    return tuple(drum.serial for drum in plan.drums if not plan.is_provided(drum))


def view_overview(plan: RunPlan) -> dict[str, object]:
    """Return the names that the template of `run.md` uses."""
    run, schedule = plan.run, plan.schedule
    system = system_of(plan)
    wanting = left_out(plan)
    in_hand = [drum.serial for drum in plan.drums if drum.serial not in set(wanting)]
    work_min = sum(cost.work_min for cost in plan.costs)
    return {
        "title": markdown(run.title or run.name),
        "name": markdown(run.name),
        "notes": markdown(run.notes) if run.notes else "",
        "partial": plan.partial,
        "drums": made_table(plan),
        "count": counted(len(plan.drums), "drum", "drums"),
        "people": _people(plan),
        "start": full_day(plan, min(work.start_min for work in schedule.works)),
        "begins": begins(plan),
        "last_dry": full_day(plan, max(schedule.dry_min.values())),
        "finish": full_day(plan, schedule.finish_min),
        "finish_by": UNKNOWN if run.finish_by is None else day_text(run.finish_by),
        "hours": hand_time(work_min).text,
        "hours_each": hand_time(work_min / len(plan.drums)).text,
        "lace": held(metres(sum(drum.plan["lace.cut_length"] for drum in plan.drums), system).text),
        "heads": held(square(sum(drum.plan["head.blank_area"] for drum in plan.drums), system).text),
        "needs": needs_table(plan),
        "skins_to_buy": skins_to_buy(plan),
        "buys_skins": bool(plan.purchases.skins),
        "larger": any(skins.skins is None for skins in plan.purchases.skins),
        "buys_laces": bool(plan.purchases.laces),
        "wood": wood_table(plan) if has_wood(plan) else None,
        "other": other_stock(plan),
        "why": why_wanting(plan),
        "wanting": serials(wanting) if wanting else "",
        "in_hand": serials(in_hand) if in_hand else "none",
        "skins": skins_table(plan) if run.skins else None,
        "before_soaking": before_soaking(plan),
        "only_for_spares": listing(only_for_spares(plan)),
        "rounds": plan.rounds,
        "allowance": mm(run.cutting.allowance_mm, system).text,
        "costs": costs_table(plan) if has_prices(plan) else None,
        "spares": bool(run.spares.heads or run.spares.laces),
        "unpriced": unpriced(plan),
        "sundries": bool(run.prices.sundries),
        "mark_up": f"{100 * run.prices.mark_up:g} %" if run.prices.mark_up else "",
        "limits": limits_table(plan) if plan.limits else None,
        "limiting": limiting(plan) if plan.limits else "",
        "tub": tub_note(plan),
        "untreated": any(held_skin.skin.kept != "rawhide" for held_skin in run.skins),
    }


def begins(plan: RunPlan) -> str:
    """Return when a class begins; empty in a run that is none."""
    if plan.run.lesson is None:
        return ""
    first = min(work.start_min for work in plan.schedule.works if work.people)
    return f"{full_day(plan, first)}, {clock(plan, first).text}"


def _people(plan: RunPlan) -> str:
    lesson = plan.run.lesson
    if lesson is not None:
        teachers = counted(lesson.teachers, "teacher", "teachers")
        return f"a class of {len(plan.drums)}, {teachers}, {counted(lesson.tools, 'set', 'sets')} of tools"
    return counted(plan.run.crew, "person", "people")
