"""What the run cuts out of skin: heads, laces and scraps to pull, as a task for the cutting plan."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from tauthide.cutting.hides import CorneredFlaw, Flaw, Hide, Reading, RoundFlaw, Zone
from tauthide.cutting.pieces import Direction, Disc, LaceNeed, Piece, Task
from tauthide.plan.plan import Plan
from tauthide.quantities.lace import circle_for, disc_for, piece_length
from tauthide.running.blanks import blank_shape
from tauthide.running.drums import Batch, Drum, spare_heads, spare_laces
from tauthide.running.stock import Shared, most_lace_pieces
from tauthide.runs.run import Run
from tauthide.runs.skins import Circle, Ring, Skin

SCRAP_RADIUS_MM = 30.0
"""A scrap to be pulled with two holes, and something to hold it by. Workshop practice, no published source."""


def task_of(run: Run, batches: Sequence[Batch], drums: Sequence[Drum], stock: Shared) -> Task:
    """Return all that is to be cut from the skins at hand: what stock gives is not among it."""
    matched = run.cutting.thickness_match_mm
    return Task(
        hides=tuple(hide_of(held.skin) for held in run.skins),
        pieces=tuple(_pieces(run, batches, drums)),
        laces=tuple(_laces(run, batches, drums, stock)),
        knife_mm=run.cutting.allowance_mm,
        set_tolerance_mm=0.0 if matched is None else matched,
    )


def hide_of(skin: Skin) -> Hide:
    """Return a measured skin as the cutting plan takes it."""
    readings = tuple(Reading(each.at_mm, each.thickness_mm) for each in skin.thicknesses if each.at_mm is not None)
    return Hide(
        name=skin.name,
        species=skin.hide,
        outline=skin.outline_mm,
        thickness=readings or skin.thicknesses[0].thickness_mm,
        flaws=tuple(_flaw(flaw.region) for flaw in skin.flaws),
        zones=tuple(Zone(weak.region, weak.ring.points_mm, heads=False, laces=weak.laces) for weak in skin.weak),
        spine=skin.spine_mm,
    )


def head_name(serial: str) -> str:
    """Return the name of a drum's head among the pieces."""
    return serial


def head_names(drum: Drum) -> tuple[str, ...]:
    """Return the names of all heads of a drum among the pieces."""
    first = head_name(drum.serial)
    return (first,) if drum.plan.lacing.heads == 1 else (first, f"{drum.serial} second head")


def lace_name(serial: str) -> str:
    """Return the name of a drum's lace among the pieces."""
    return f"{serial} lace"


def thickness_limits(plan: Plan) -> tuple[float, float]:
    """Return the least and greatest wet thickness in mm that a spec allows its head: the nominal within tolerance."""
    nominal, tolerance = plan.spec.number("head.thickness"), plan.spec.number("tolerances.thickness")
    return nominal * (1 - tolerance), nominal * (1 + tolerance)


def lace_lengths(plan: Plan, most_pieces: int) -> tuple[float, ...]:
    """Return the length in mm of each piece of a lace, for one piece, two and so on: each join takes some."""
    spec = plan.spec
    net, allowance, join = plan["lace.longest_net"], spec.number("lace.allowance"), spec.number("lace.join")
    return tuple(piece_length(net, allowance, join, pieces) for pieces in range(1, most_pieces + 1))


def lace_ways(plan: Plan, most_pieces: int) -> tuple[tuple[Disc, ...], ...]:
    """Return the discs of a drum's laces, each in one piece, in two and so on; the first has room for the tab."""
    spec, laces = plan.spec, round(plan["lace.laces"])
    width, core = spec.number("lace.width"), spec.number("lace.core")
    beyond, tab_length = plan["lace.tab_beyond"], spec.number("lace.tab_length")
    ways = []
    for pieces, length in enumerate(lace_lengths(plan, most_pieces), 1):
        disc_mm = disc_for(length, width, core)
        one = (Disc(circle_for(disc_mm, beyond, tab_length) / 2), *(Disc(disc_mm / 2),) * (pieces - 1))
        ways.append(one * laces)
    return tuple(ways)


def _flaw(region: Circle | Ring) -> Flaw:
    if isinstance(region, Circle):
        return RoundFlaw(region.centre_mm, region.radius_mm)
    return CorneredFlaw(region.points_mm)


def _pieces(run: Run, batches: Sequence[Batch], drums: Sequence[Drum]) -> Iterator[Piece]:
    for drum in drums:
        for name in head_names(drum):
            yield _head(run, drum.plan, name, drum.serial)
    for batch in batches:
        name = batch.plan.spec.drum
        for spare in spare_heads(run, batch):
            yield _head(run, batch.plan, spare, None)
        hides = (batch.plan.spec.word("head.hide"),)
        yield Piece(f"{name} scrap", "scrap", Disc(SCRAP_RADIUS_MM), hides, *thickness_limits(batch.plan))


def _head(run: Run, plan: Plan, name: str, serial: str | None) -> Piece:
    shape = blank_shape(plan)
    return Piece(
        name=name,
        use="head",
        shape=shape,
        species=(plan.spec.word("head.hide"),),
        least_mm=thickness_limits(plan)[0],
        most_mm=thickness_limits(plan)[1],
        direction="any" if isinstance(shape, Disc) else _direction(plan),
        set_name=None if run.cutting.thickness_match_mm is None else plan.spec.drum,
        drum=serial,
        kind=None if serial is None else plan.spec.drum,
    )


def _direction(plan: Plan) -> Direction:
    return "along" if plan.spec.word("head.spine") == "along" else "across"


def _laces(run: Run, batches: Sequence[Batch], drums: Sequence[Drum], stock: Shared) -> Iterator[LaceNeed]:
    for drum in drums:
        if not stock.drums[drum.serial].has_lace:
            yield _lace(run, drum.plan, lace_name(drum.serial), drum.serial)
    for batch in batches:
        for name in spare_laces(run, batch):
            if name not in stock.spares:
                yield _lace(run, batch.plan, name, None)


def _lace(run: Run, plan: Plan, name: str, serial: str | None) -> LaceNeed:
    most = most_lace_pieces(run, plan)
    kind = None if serial is None else plan.spec.drum
    return LaceNeed(name, lace_ways(plan, most), (plan.spec.word("lace.hide"),), drum=serial, kind=kind)
