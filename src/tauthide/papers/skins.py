"""Where each piece lies: the tables of `skins.md` and `lace.md`."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import cos, hypot, radians, sin, sqrt

from tauthide.cutting.hides import Hide
from tauthide.cutting.pieces import Disc, LaceNeed, Piece
from tauthide.papers.tables import RIGHT, Cell, Column, Table, table
from tauthide.papers.wording import UNKNOWN, metres, mm, size, system_of, thin, whole, words
from tauthide.running.drums import Drum, spare_laces
from tauthide.running.needs import lace_lengths, lace_name
from tauthide.running.run_plan import RunPlan
from tauthide.running.stock import Taken
from tauthide.running.taping import POINT_NAMES, Cut
from tauthide.runs.skins import Skin
from tauthide.sheets.words import counted, held, listing
from tauthide.text import markdown
from tauthide.units import System, length, long_length, number

USES = {"head": "head", "lace": "lace disc", "scrap": "scrap to pull"}

POINT_KINDS = {
    "tail": "the tail end of the spine",
    "neck": "the neck end of the spine",
    "corner": "the corner of the edge",
    "own": "your own fixed point",
}
"""What the tape is held to."""

TAPE_ERROR_MM = 5.0
"""How far off a tape on a floor is, held by hand over a skin. Workshop practice, no published source."""

GRID_DECIMALS = 2
"""Places are read off the grid to a tenth of a square or so; an ordinary shape's are drawn this finely."""

SAME_WAY_MM = 1.0
"""A blank whose length and width differ by less has no longer way: what a bench can measure."""

ALONG = sqrt(0.5)
"""Above this cosine a direction counts as along the spine, below it as across: half a right angle."""


@dataclass(frozen=True, slots=True)
class SkinView:
    """One skin on paper."""

    name: str
    file: str
    what: str
    grid: str
    points: str
    """Where the tapes are held, and how well that does."""
    pieces: Table
    scraps: bool


def pieces_table(plan: RunPlan, skin: str, cuts: tuple[Cut, ...]) -> Table:
    """Return the pieces of a skin in cutting order, with the tape's readings to their centres."""
    third = any(len(cut.fixed) > len("AB") for cut in cuts)
    return table(_piece_columns("From C" if third else ""), [_piece_row(plan, skin, cut) for cut in cuts])


def _piece_columns(third: str) -> tuple[Column, ...]:
    return (
        Column("☐", ""), Column("", "skin"), Column("No.", "number", RIGHT), Column("Piece", "piece"),
        Column("What", "use"), Column("Size", "size_mm", RIGHT), Column("From A", "from_a_mm", RIGHT),
        Column("From B", "from_b_mm", RIGHT), Column(third, "from_c_mm", RIGHT), Column("Side", "side"),
        Column("Thick there", "thickness_mm", RIGHT), Column("", "thinnest_mm"), Column("", "thickest_mm"),
        Column("", "x_mm"), Column("", "y_mm"), Column("", "turned_deg"),
    )  # fmt: skip


def _piece_row(plan: RunPlan, skin: str, cut: Cut) -> tuple[Cell, ...]:
    system = system_of(plan)
    placement = cut.placement
    return (
        Cell("☐"), words(skin), whole(cut.number), words(_piece_name(cut)),
        Cell(f"{USES[placement.use]}{_turned(plan, skin, cut)}", placement.use), size(placement, system),
        *_readings(cut, system), words(f"{cut.side} of {tapes_text(cut)}"), thin(cut.thickness_mm, system),
        thin(cut.thinnest_mm, system), thin(cut.thickest_mm, system),
        Cell("", round(placement.centre[0], 1)), Cell("", round(placement.centre[1], 1)),
        Cell("", round(placement.angle_deg, 2)),
    )  # fmt: skip


def _readings(cut: Cut, system: System) -> list[Cell]:
    """Return the readings from A, B and C: of those two from which the piece is found, else a dash."""
    held_at = {point.name: mm(cut.reading_mm(point), system) for point in cut.tapes}
    return [held_at.get(name, Cell(UNKNOWN)) for name in POINT_NAMES]


def tapes_text(cut: Cut) -> str:
    """Return the names of the two points from which a piece is found: `A–C`."""
    return "–".join(point.name for point in cut.tapes)


def points_text(skin: Skin, cuts: Sequence[Cut], system: System) -> str:
    """Say where the fixed points of a skin lie, what they are, and how well the pieces are found from them."""
    texts = []
    for point in cuts[0].fixed:
        right, up = (number(axis_mm / skin.grid_mm, GRID_DECIMALS) for axis_mm in point.at_mm)
        texts.append(f"**{point.name}** is {POINT_KINDS[point.kind]} ({right} squares right, {up} up)")
    tape = length(TAPE_ERROR_MM, system)
    off = length(TAPE_ERROR_MM * max(cut.error for cut in cuts), system, "up")
    return f"{'; '.join(texts)}. Tapes that are {tape} off put a middle {off} off at the most."


def _piece_name(cut: Cut) -> str:
    """Return a piece's name: of several for one lace each has its own, so that the tags tell them apart."""
    part = cut.placement.part
    return f"{cut.placement.name} {part + 1}" if part else cut.placement.name


def _turned(plan: RunPlan, skin: str, cut: Cut) -> str:
    """Say how a blank that is longer than wide lies to the spine; nothing of others."""
    shape = cut.placement.shape
    if isinstance(shape, Disc):
        return ""
    wide_mm, long_mm = (max(axis) - min(axis) for axis in zip(*shape.outline, strict=True))
    if abs(long_mm - wide_mm) < SAME_WAY_MM:
        return ", turned as drawn"
    (tail_x, tail_y), (neck_x, neck_y) = next(h.skin.spine_mm for h in plan.run.skins if h.skin.name == skin)
    angle = radians(cut.placement.angle_deg + (0.0 if long_mm > wide_mm else 90.0))
    along = abs(-sin(angle) * (neck_x - tail_x) + cos(angle) * (neck_y - tail_y))
    return f", longer {'along' if along > ALONG * hypot(neck_x - tail_x, neck_y - tail_y) else 'across'} the spine"


def all_pieces(plan: RunPlan) -> Table:
    """Return the pieces of all skins for the spreadsheet."""
    rows = [_piece_row(plan, skin, cut) for skin, cuts in plan.cuts.items() for cut in cuts]
    return table(_piece_columns(""), rows)


def view_skins(plan: RunPlan) -> dict[str, object]:
    """Return the names that the template of `skins.md` uses."""
    run = plan.run
    skins = [held.skin for held in run.skins]
    return {
        "title": markdown(run.title or run.name),
        "name": markdown(run.name),
        "partial": plan.partial,
        "skins": tuple(
            SkinView(
                markdown(skin.name),
                skin_file(skin.name),
                markdown(f"{skin.hide}, {skin.kept}" + (f": {skin.title}" if skin.title else "")),
                length(skin.grid_mm, system_of(plan)),
                points_text(skin, plan.cuts[skin.name], system_of(plan)),
                pieces_table(plan, skin.name, plan.cuts[skin.name]),
                any(cut.placement.use == "scrap" for cut in plan.cuts[skin.name]),
            )
            for skin in skins
            if plan.cuts[skin.name]
        ),
        "wanting": is_wanting(plan),
        "unused": tuple(
            f"{markdown(hide.name)}: {_why_unused(plan, hide)}"
            for hide in plan.order.task.hides
            if not plan.cuts[hide.name]
        ),
    }


def is_wanting(plan: RunPlan) -> bool:
    """Tell whether a head or lace found no place: then a skin that nothing comes out of is not one to spare."""
    scraps = {piece.name for piece in plan.order.task.pieces if piece.use == "scrap"}
    return any(name not in scraps for name in plan.layout.missing)


def _why_unused(plan: RunPlan, hide: Hide) -> str:
    """Say why nothing comes out of a skin at hand, as far as it can be told."""
    task, missing, system = plan.order.task, set(plan.layout.missing), system_of(plan)
    wanted: list[Piece | LaceNeed] = [piece for piece in task.pieces if piece.use == "head"]
    of_hide = [each for each in (*wanted, *task.laces) if hide.species in each.species]
    if not of_hide:
        return f"nothing of this run is of {markdown(hide.species)}"
    left = [each for each in of_hide if each.name in missing]
    if not left:
        return "not needed"
    limits = [(each.least_mm, each.most_mm) for each in left if each.least_mm is not None and each.most_mm is not None]
    readings = [each.thickness_mm for each in hide.thickness] if isinstance(hide.thickness, tuple) else [hide.thickness]
    if limits and all(max(readings) < least or min(readings) > most for least, most in limits):
        least, most = min(least for least, _ in limits), max(most for _, most in limits)
        span = f"{thin(least, system).text} to {thin(most, system).text}"
        return f"no head that is wanting may be cut from its thickness: they take {span}, soaked"
    return "nothing that is wanting finds a place on it"


def skin_file(name: str) -> str:
    """Return the name of a skin's drawing."""
    return f"skin-{name}.svg"


def laces_table(plan: RunPlan) -> Table:
    """Return every lace: from which disc, its length and width, for which drum."""
    rows = [
        row
        for drum in plan.drums
        for row in _rows_of(plan, drum, lace_name(drum.serial), drum.serial, plan.order.taken[drum.serial])
    ]
    for batch in plan.order.batches:
        drum = next(each for each in plan.drums if each.batch is batch)
        for name in spare_laces(plan.run, batch):
            rows += _rows_of(plan, drum, name, "spare", plan.order.stock.spares.get(name))
    columns = (
        Column("☐", ""), Column("Lace, named for its drum", "lace"), Column("", "drum"), Column("Hide", "hide"),
        Column("Width", "width_mm", RIGHT), Column("Whole lace", "length_m", RIGHT),
        Column("From", "from"), Column("Disc", "disc_mm", RIGHT), Column("This piece", "piece_m", RIGHT),
    )  # fmt: skip
    return table(columns, rows)


def _rows_of(plan: RunPlan, drum: Drum, name: str, use: str, taken: Taken | None) -> list[tuple[Cell, ...]]:
    """Return the rows of a drum's lace, or of one that is spare and like that drum's."""
    if taken is None or not taken.has_lace:
        return _cut_rows(plan, drum, name, use)
    system = system_of(plan)
    names = (name, *(f"{name} {number}" for number in range(2, len(taken.lace_pieces) + 1)))
    return [
        (*_head(plan, drum, each, use), words("stock"), Cell(UNKNOWN), metres(piece.length_mm, system))
        for each, piece in zip(names, taken.lace_pieces, strict=True)
    ]


def _cut_rows(plan: RunPlan, drum: Drum, name: str, use: str) -> list[tuple[Cell, ...]]:
    system = system_of(plan)
    places = plan.on_skin.get(name, ())
    if not places:
        return [(*_head(plan, drum, name, use), Cell("**to be bought**", "to be bought"), Cell(UNKNOWN), Cell(UNKNOWN))]
    pieces = max(1, len(places) // round(drum.plan["lace.laces"]))
    each_mm = lace_lengths(drum.plan, pieces)[-1]
    return [
        (*_head(plan, drum, _piece_name(cut), use),
         Cell(f"{markdown(skin)}, {held(f'no. {cut.number}')}", f"{skin}, no. {cut.number}"),
         size(cut.placement, system), Cell(metres(each_mm, system).text if len(places) > 1 else "all of it",
                                           metres(each_mm, system).value))
        for skin, cut in places
    ]  # fmt: skip


def joins(plan: RunPlan) -> tuple[str, ...]:
    """Return a line for each drum with a lace in pieces: how long they are, what the joins take, what is wanted."""
    return tuple(line for drum in plan.drums for line in _joins_of(plan, drum))


def _joins_of(plan: RunPlan, drum: Drum) -> Iterator[str]:
    system, spec = system_of(plan), drum.plan.spec
    for which, lengths in enumerate(_laces_in_pieces(plan, drum), 1):
        if len(lengths) > 1:
            joins_mm = (len(lengths) - 1) * spec.number("lace.join")
            own = f" {which}" if drum.plan["lace.laces"] > 1 else ""
            pieces = listing([long_length(each, system) for each in lengths])
            count = counted(len(lengths) - 1, "join", "joins")
            takes = "takes" if len(lengths) == 2 else "take"
            yield (
                f"{markdown(lace_name(drum.serial))}{own}: {pieces}; {count} {takes} {length(joins_mm, system)}:"
                f" {long_length(sum(lengths) - joins_mm, system)} in one"
            )


def _laces_in_pieces(plan: RunPlan, drum: Drum) -> Iterator[list[float]]:
    """Yield the lengths in mm of the pieces of each lace of a drum."""
    taken = plan.order.taken[drum.serial]
    if taken.has_lace:
        yield from ([piece.length_mm for piece in lace] for lace in taken.laces)
        return
    laces = round(drum.plan["lace.laces"])
    pieces = len(plan.on_skin.get(lace_name(drum.serial), ())) // laces
    for _ in range(laces if pieces else 0):
        yield [lace_lengths(drum.plan, pieces)[-1]] * pieces


def _head(plan: RunPlan, drum: Drum, name: str, use: str) -> tuple[Cell, ...]:
    system, spec = system_of(plan), drum.plan.spec
    return (
        Cell("☐"), words(name), words(use), words(spec.word("lace.hide")), mm(spec.number("lace.width"), system),
        metres(drum.plan["lace.cut_length"], system),
    )  # fmt: skip


def view_laces(plan: RunPlan) -> dict[str, object]:
    """Return the names that the template of `lace.md` uses."""
    specs = [batch.plan.spec for batch in plan.order.batches]
    system = system_of(plan)
    tabs = dict.fromkeys(
        f"{markdown(spec.drum)}: {length(spec.number('lace.tab_length'), system)} long,"
        f" {length(spec.number('lace.tab_width'), system)} wide; core {length(spec.number('lace.core'), system)};"
        f" a join takes {length(spec.number('lace.join'), system)}"
        for spec in specs
    )
    return {
        "title": markdown(plan.run.title or plan.run.name),
        "name": markdown(plan.run.name),
        "laces": laces_table(plan),
        "tabs": tuple(tabs),
        "joins": joins(plan),
        "stock": any(taken.has_lace for taken in plan.order.taken.values()),
    }
