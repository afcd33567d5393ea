"""A card for each drum, and the sheet to tick and measure: the tables of `kits.md` and `travellers.md`."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tauthide.papers.tables import MIDDLE, RIGHT, Cell, Column, Table, table
from tauthide.papers.wording import BOX, LINE, UNKNOWN, metres, mm, size, system_of, thin, words
from tauthide.running.drums import Drum
from tauthide.running.needs import head_names, lace_name
from tauthide.running.run_plan import RunPlan
from tauthide.running.steps import RunStep, steps_of
from tauthide.sheets.words import listing
from tauthide.text import markdown
from tauthide.units import System, fine_length, length, long_length, nominal_length, show

STEPS_A_TABLE = 10
"""So many steps stand side by side: more would not fit the width of a page."""

MEASURED: tuple[tuple[str, str], ...] = (
    ("Blank across", "blank_mm"),
    ("Wet thickness", "thickness_mm"),
    ("Hole to edge", "margin_mm"),
    ("Lace used", "lace_used_m"),
    ("Lace left", "lace_left_m"),
    ("Pitch wet", "pitch_wet"),
    ("Pitch dry", "pitch_dry"),
    ("Days to dry", "dry_days"),
    ("Hand time", "hand_min"),
    ("What went wrong, at which step", "trouble"),
)
"""What is measured as the drum is built, and its name in the spreadsheet."""


@dataclass(frozen=True, slots=True)
class Card:
    """A drum's card."""

    serial: str
    title: str
    place: str
    """In a class, whose place it is; else empty."""
    lines: tuple[tuple[str, str], ...]
    """What it is of, and which."""


def cards_of(plan: RunPlan) -> tuple[Card, ...]:
    """Return the card of each drum."""
    places = _places(plan)
    return tuple(
        Card(
            markdown(drum.serial),
            markdown(drum.plan.spec.title or drum.plan.spec.drum),
            f"place {places[drum.serial]}" if drum.serial in places else "",
            tuple(_lines(plan, drum)),
        )
        for drum in plan.drums
    )


def _places(plan: RunPlan) -> dict[str, int]:
    """Return the place of each drum in a class; nothing in a run that is none."""
    if plan.run.lesson is None:
        return {}
    return {work.job: work.people[0] for work in plan.schedule.works if work.people}


def _lines(plan: RunPlan, drum: Drum) -> Sequence[tuple[str, str]]:
    system, spec = system_of(plan), drum.plan.spec
    hole = nominal_length(spec.number("stations.hole"), system)
    punches = drum.plan["punchings.count"]
    return (
        ("Frame", _frame(plan, drum, system)),
        *_heads(plan, drum, system),
        ("Lace", _lace(plan, drum, system)),
        *_ring(drum, system),
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


def _ring(drum: Drum, system: System) -> Sequence[tuple[str, str]]:
    """Return the line of the ring that the lace runs to; none of other lacings."""
    spec = drum.plan.spec
    if not spec.has("lace.ring"):
        return ()
    across, rod = length(spec.number("lace.ring"), system), length(spec.number("lace.ring_section"), system)
    return (("Ring", f"{across} across outside, of rod {rod} thick"),)


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
    stock = plan.order.taken[drum.serial].lace
    if stock is not None:
        return f"from stock, {long_length(stock.length_mm, system)} long"
    places = plan.on_skin.get(lace_name(drum.serial), ())
    if not places:
        return "**to be bought**"
    return "from " + listing(f"skin **{markdown(skin)}**, no. **{cut.number}**" for skin, cut in places)


def kits_table(plan: RunPlan) -> Table:
    """Return the cards for the spreadsheet: a row for each drum."""
    system = system_of(plan)
    places = _places(plan)
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
    if plan.order.taken[drum.serial].lace is not None:
        return "stock"
    return " ".join(f"{skin}/{cut.number}" for skin, cut in plan.on_skin.get(lace_name(drum.serial), ()))


def view_kits(plan: RunPlan) -> dict[str, object]:
    """Return the names that the template of `kits.md` uses."""
    return {
        "title": markdown(plan.run.title or plan.run.name),
        "name": markdown(plan.run.name),
        "cards": cards_of(plan),
        "lesson": plan.run.lesson is not None,
    }


def step_tables(plan: RunPlan) -> tuple[Table, ...]:
    """Return the matrix of drums by steps, in parts that fit the page."""
    steps = steps_of(plan.order.batches)
    parts = [steps[start : start + STEPS_A_TABLE] for start in range(0, len(steps), STEPS_A_TABLE)]
    return tuple(_matrix(plan, part) for part in parts)


def _done(plan: RunPlan) -> set[tuple[str, str]]:
    """Return the drums and steps that belong together."""
    return {(work.job, work.operation) for work in plan.schedule.works}


def _matrix(plan: RunPlan, steps: Sequence[RunStep]) -> Table:
    columns = (Column("Drum", "drum"), *(Column(str(step.number), step.name, MIDDLE) for step in steps))
    done = _done(plan)
    return table(columns, [(words(drum.serial), *(_tick(done, drum, step) for step in steps)) for drum in plan.drums])


def _tick(done: set[tuple[str, str]], drum: Drum, step: RunStep) -> Cell:
    return Cell(BOX, "") if (drum.serial, step.name) in done else Cell(UNKNOWN, "none")


def measured_table(plan: RunPlan) -> Table:
    """Return the room for what is measured, with what is planned."""
    system = system_of(plan)
    rows = []
    for drum in plan.drums:
        figures = drum.plan
        planned = {
            "blank_mm": mm(2 * _reach(drum), system).text,
            "thickness_mm": thin(figures.spec.number("head.thickness"), system).text,
            "margin_mm": mm(figures["holes.margin"], system).text,
            "lace_used_m": metres(figures["lace.cut_length"], system).text,
            "dry_days": show("time", figures.spec.number("hide.dry"), system),
        }
        cells = [Cell(f"{planned[name]} {LINE}" if name in planned else LINE, "") for _, name in MEASURED]
        rows.append((words(drum.serial), *cells))
    return table((Column("Drum", "drum"), *(Column(head, name, RIGHT) for head, name in MEASURED)), rows)


def travellers_table(plan: RunPlan) -> Table:
    """Return steps and measures for the spreadsheet, empty where they are to be filled in."""
    steps = steps_of(plan.order.batches)
    columns = (
        Column("", "drum"), *(Column("", step.name) for step in steps), *(Column("", name) for _, name in MEASURED),
    )  # fmt: skip
    done = _done(plan)
    rows = [
        (words(drum.serial), *(_tick(done, drum, step) for step in steps), *(Cell("", "") for _ in MEASURED))
        for drum in plan.drums
    ]
    return table(columns, rows)


def view_travellers(plan: RunPlan) -> dict[str, object]:
    """Return the names that the template of `travellers.md` uses."""
    return {
        "title": markdown(plan.run.title or plan.run.name),
        "name": markdown(plan.run.name),
        "steps": tuple((step.number, markdown(step.title)) for step in steps_of(plan.order.batches)),
        "matrix": step_tables(plan),
        "measured": measured_parts(plan),
    }


def measured_parts(plan: RunPlan) -> tuple[Table, ...]:
    """Return the measures in two tables that fit the page."""
    whole = measured_table(plan)
    half = len(MEASURED) // 2
    return tuple(
        Table(
            (whole.columns[0], *whole.columns[1 + start : 1 + start + half]),
            tuple((row[0], *row[1 + start : 1 + start + half]) for row in whole.rows),
        )
        for start in (0, half)
    )
