"""The wood of the frames on a run's papers: strips and boards to buy, and the cutting list over all drums."""

from __future__ import annotations

from itertools import groupby

from tauthide.papers.tables import RIGHT, Cell, Column, Table, table
from tauthide.papers.wording import UNKNOWN, metres, mm, system_of, thin, whole, words
from tauthide.quantities.nesting import Board, Cut
from tauthide.running.run_plan import RunPlan
from tauthide.sheets.frames import SPECIES
from tauthide.sheets.words import held, listing
from tauthide.text import markdown
from tauthide.units import System, length


def wood_table(plan: RunPlan) -> Table:
    """Return the strips and boards to buy: a row for the strips of each spec, and for boards that are cut alike."""
    system = system_of(plan)
    rows = []
    for strips in plan.purchases.wood.strips:
        rows.append(
            (
                words("strip"), words(strips.drum), words(SPECIES.get(strips.species, strips.species)),
                whole(strips.count), whole(strips.in_stock), metres(strips.length_mm, system),
                thin(strips.width_mm, system), thin(strips.thickness_mm, system), words(""), Cell(UNKNOWN, None),
            )
        )  # fmt: skip
    for stock in plan.purchases.wood.stocks:
        for board, same in groupby(zip(stock.boards, stock.in_stock, strict=True), key=lambda each: each[0]):
            alike = [given for _, given in same]
            rows.append(
                (
                    words("board"), Cell(listing(map(markdown, stock.drums)), " ".join(stock.drums)),
                    words(SPECIES.get(stock.species, stock.species)), whole(len(alike)), whole(sum(alike)),
                    metres(board.length_mm, system), thin(stock.width_mm, system), thin(stock.thickness_mm, system),
                    _cuts(board, system), mm(max(board.left_mm, 0.0), system),
                )
            )  # fmt: skip
    at_hand = "In stock" if any(held_lot.lot.wood for held_lot in plan.run.lots) else ""
    columns = (
        Column("What", "what"), Column("For", "drums"), Column("Wood", "species"), Column("How many", "count", RIGHT),
        Column(at_hand, "in_stock", RIGHT),
        Column("Long", "length_m", RIGHT), Column("Wide", "width_mm", RIGHT), Column("Thick", "thickness_mm", RIGHT),
        Column("Cut from each", "cuts"), Column("Left of each", "left_mm", RIGHT),
    )  # fmt: skip
    return table(columns, rows)


def has_wood(plan: RunPlan) -> bool:
    """Tell whether the run makes any frame itself: else there is no list of wood."""
    return bool(plan.purchases.wood)


def _cuts(board: Board, system: System) -> Cell:
    """Return the staves of a board: `8 × LIB-OCTAGON, 151 mm`, the saw's cut with each."""
    parts = [(name, length_mm, len(list(same))) for (name, length_mm), same in groupby(board.cuts, key=_stave)]
    shown = "; ".join(f"{count} × {markdown(name)}, {held(length(size, system))}" for name, size, count in parts)
    return Cell(shown, "; ".join(f"{count} x {name} {size:.1f} mm" for name, size, count in parts))


def _stave(cut: Cut) -> tuple[str, float]:
    return cut.name, cut.length_mm
