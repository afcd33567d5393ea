"""A card for each drum: the cards and the table of `kits.md`."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tauthide.papers.classes import own_table, places_of
from tauthide.papers.tables import Cell, Column, Table, table
from tauthide.papers.wording import metres, size, system_of, thin, words
from tauthide.running.drums import Drum
from tauthide.running.needs import head_names, lace_name
from tauthide.running.run_plan import RunPlan
from tauthide.sheets.words import counted, listing
from tauthide.text import markdown
from tauthide.units import System, fine_length, length, long_length, nominal_length, show
from tauthide.work.operations import TUB


@dataclass(frozen=True, slots=True)
class Card:
    """A drum's card."""

    serial: str
    title: str
    place: str
    """In a class, whose place it is; else empty."""
    unapproved: bool
    """Whether nothing may be cut for it yet: a card is cut off from the notice at the page's top."""
    lines: tuple[tuple[str, str], ...]
    """What it is of, and which."""
    times: Table | None
    """In a class, when each step is done; else None."""


def cards_of(plan: RunPlan) -> tuple[Card, ...]:
    """Return the card of each drum."""
    places = places_of(plan)
    return tuple(
        Card(
            markdown(drum.serial),
            markdown(drum.plan.spec.title or drum.plan.spec.drum),
            f"place {places[drum.serial]}" if drum.serial in places else "",
            plan.is_unapproved(drum.serial),
            (*_lines(plan, drum), *_made_ready(plan, drum)),
            own_table(plan, drum),
        )
        for drum in plan.drums
    )


def _made_ready(plan: RunPlan, drum: Drum) -> Sequence[tuple[str, str]]:
    """Return what the teachers of a class have done with the drum before it begins."""
    done = [each.title for each in plan.teaching if not each.looks_on and drum.serial in each.serials]
    return (("Made ready", f"by the teacher: {'; '.join(map(markdown, done))}"),) if done else ()


def _lines(plan: RunPlan, drum: Drum) -> Sequence[tuple[str, str]]:
    system, spec = system_of(plan), drum.plan.spec
    hole = nominal_length(spec.number("stations.hole"), system)
    punches = drum.plan["punchings.count"]
    return (
        ("Frame", _frame(plan, drum, system)),
        *_heads(plan, drum, system),
        ("Lace", _lace(plan, drum, system)),
        *_ring(plan, drum, system),
        ("Stations", f"{spec.count('stations.count')}, punch {hole}, {punches:.0f} punchings to count"),
        ("Build sheet", f"{markdown(spec.drum)}, digest `{drum.plan.digest}`"),
    )


_WHENCE = {"bought": "to be bought", "bent": "to be bent", "staves": "to be glued of staves"}
"""Where a frame comes from that is not in stock."""


def _frame(plan: RunPlan, drum: Drum, system: System) -> str:
    spec = drum.plan.spec
    outline = drum.plan.outline
    across = length(outline.length_at(0), system)
    if outline.kind == "oval":
        across += f" by {length(outline.width_at(0), system)}"
    where = _WHENCE[spec.word("frame.make")] if plan.order.taken[drum.serial].frame is None else "from stock"
    return f"{outline.kind}, {across}, {length(spec.number('frame.depth'), system)} deep: {where}"


def _heads(plan: RunPlan, drum: Drum, system: System) -> Sequence[tuple[str, str]]:
    """Return a line for each head: of two they are mirror images, so each is told by its number."""
    names = head_names(drum)
    titles = ("Head",) if len(names) == 1 else tuple(f"Head {number}" for number in range(1, len(names) + 1))
    return [(title, _head(plan, drum, name, system)) for title, name in zip(titles, names, strict=True)]


def _ring(plan: RunPlan, drum: Drum, system: System) -> Sequence[tuple[str, str]]:
    """Return the line of the ring that the lace runs to; none of other lacings."""
    spec = drum.plan.spec
    if not spec.has("lace.ring"):
        return ()
    across, rod = length(spec.number("lace.ring"), system), length(spec.number("lace.ring_section"), system)
    where = "to be bought" if plan.order.taken[drum.serial].ring is None else "from stock"
    return (("Ring", f"{across} across outside, of rod {rod} thick: {where}"),)


def _head(plan: RunPlan, drum: Drum, name: str, system: System) -> str:
    hide = markdown(drum.plan.spec.word("head.hide"))
    places = plan.on_skin.get(name, ())
    if not places:
        return f"{hide}, blank {_blank_size(drum, system)}: **skin to be bought**"
    skin, cut = places[0]
    thick = " to ".join(dict.fromkeys(fine_length(each, system) for each in (cut.thinnest_mm, cut.thickest_mm)))
    return f"{hide}, skin **{markdown(skin)}**, no. **{cut.number}**, {size(cut.placement, system).text}, {thick} thick"


def _blank_size(drum: Drum, system: System) -> str:
    """Return the size of a blank: across, or length and width where these differ."""
    outline, reach = drum.plan.outline, drum.plan["skin.reach"]
    sides = dict.fromkeys(show("length", each, system) for each in (outline.length_at(reach), outline.width_at(reach)))
    return f"{next(iter(sides))} across" if len(sides) == 1 else " by ".join(sides)


def _reach(drum: Drum) -> float:
    plan = drum.plan
    reach = plan["skin.reach"]
    return max(plan.outline.length_at(reach), plan.outline.width_at(reach)) / 2


def _lace(plan: RunPlan, drum: Drum, system: System) -> str:
    spec = drum.plan.spec
    whole = long_length(drum.plan["lace.cut_length"], system)
    wide = nominal_length(spec.number("lace.width"), system)
    return f"{whole}, {wide} wide, {_lace_from(plan, drum, system)}"


def _lace_from(plan: RunPlan, drum: Drum, system: System) -> str:
    taken = plan.order.taken[drum.serial]
    if taken.has_lace:
        pieces = listing(long_length(piece.length_mm, system) for piece in taken.lace_pieces)
        return f"from stock, {'joined of ' if taken.is_joined else ''}{pieces}{'' if taken.is_joined else ' long'}"
    places = plan.on_skin.get(lace_name(drum.serial), ())
    if not places:
        return "**to be bought**"
    return "from " + listing(f"skin **{markdown(skin)}**, no. **{cut.number}**" for skin, cut in places)


def shared(plan: RunPlan) -> tuple[tuple[str, str], ...]:
    """Return what the places of a class share: what of it, and how much; nothing in a run that is none."""
    run, system = plan.run, system_of(plan)
    if run.lesson is None:
        return ()
    holes = sorted({batch.plan.spec.number("stations.hole") for batch in plan.order.batches})
    punches = listing(nominal_length(hole, system) for hole in holes)
    tub = sum(held.resource == TUB for held in plan.schedule.held)
    lines = [
        ("Tools", f"{counted(run.lesson.tools, 'set', 'sets')} of mallet, knife and punch, {punches}"),
        ("Tub", f"cool water for {counted(run.room.tub or tub, 'head', 'heads')}"),
        ("Drying places", f"flat, for {counted(len(plan.drums), 'drum', 'drums')}"),
    ]
    spares = [
        counted(number * len(plan.order.batches), *words_for)
        for number, words_for in ((run.spares.heads, ("head", "heads")), (run.spares.laces, ("lace", "laces")))
        if number
    ]
    return (*lines, ("Spares", listing(spares))) if spares else tuple(lines)


def kits_table(plan: RunPlan) -> Table:
    """Return the cards for the spreadsheet: a row for each drum."""
    system = system_of(plan)
    places = places_of(plan)
    names = (
        "drum", "spec", "digest", "place", "frame_in_stock", "skin", "number", "thickness_mm", "thinnest_mm",
        "thickest_mm", "skin_2", "number_2", "thickness_2_mm", "thinnest_2_mm", "thickest_2_mm", "lace_m", "lace_from",
    )  # fmt: skip
    rows = []
    for drum in plan.drums:
        taken = plan.order.taken[drum.serial]
        rows.append(
            (
                words(drum.serial), words(drum.plan.spec.drum), words(drum.plan.digest),
                Cell("", places.get(drum.serial)), Cell("", "no" if taken.frame is None else "yes"),
                *_head_cells(plan, head_names(drum)[0], system), *_second_cells(plan, drum, system),
                metres(drum.plan["lace.cut_length"], system), Cell("", _lace_places(plan, drum)),
            )
        )  # fmt: skip
    return table(tuple(Column("", name) for name in names), rows)


def _head_cells(plan: RunPlan, name: str, system: System) -> tuple[Cell, ...]:
    places = plan.on_skin.get(name, ())
    if not places:
        return _NO_HEAD
    skin, cut = places[0]
    thick = (thin(each, system) for each in (cut.thickness_mm, cut.thinnest_mm, cut.thickest_mm))
    return Cell("", skin), Cell("", cut.number), *thick


_NO_HEAD = (Cell("", ""), *[Cell("", None)] * 4)


def _second_cells(plan: RunPlan, drum: Drum, system: System) -> tuple[Cell, ...]:
    """Return the cells of a second head, empty where there is none."""
    names = head_names(drum)
    return _head_cells(plan, names[1], system) if len(names) > 1 else _NO_HEAD


def _lace_places(plan: RunPlan, drum: Drum) -> str:
    if plan.order.taken[drum.serial].has_lace:
        return "stock"
    return " ".join(f"{skin}/{cut.number}" for skin, cut in plan.on_skin.get(lace_name(drum.serial), ()))


def view_kits(plan: RunPlan) -> dict[str, object]:
    """Return the names that the template of `kits.md` uses."""
    return {
        "title": markdown(plan.run.title or plan.run.name),
        "name": markdown(plan.run.name),
        "cards": cards_of(plan),
        "lesson": plan.run.lesson is not None,
        "shared": shared(plan),
    }
