"""`run.json`: the plan of a run as data, for other programs; its form is in `schemas/run_plan.schema.json`."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any

from tauthide.cutting.pieces import Disc
from tauthide.cutting.wanting import Reason
from tauthide.findings import Finding, finding_data, relative_to
from tauthide.output.plan_json import exact
from tauthide.quantities.nesting import Board
from tauthide.running.costs import Cost, sum_of
from tauthide.running.drums import Drum
from tauthide.running.needs import head_names, lace_name
from tauthide.running.run_plan import RunPlan
from tauthide.running.taping import Cut
from tauthide.running.woodwork import Stock
from tauthide.scheduling.schedule import Work

FORMAT = 1


def render_run(plan: RunPlan, findings: Sequence[Finding]) -> bytes:
    """Return the bytes of `run.json`; files are named relative to the run's."""
    run_file = plan.run.place.file
    data: dict[str, Any] = {
        "format": FORMAT,
        "run": plan.run.name,
        "partial": plan.partial,
        "rounds": plan.rounds,
        "finish": _moment(plan, plan.schedule.finish_min),
        "drums": [_drum(plan, drum, run_file) for drum in plan.drums],
        "unapproved": [
            {"drum": batch.plan.spec.drum, "serials": list(batch.entry.serials), "why": standing.why}
            for batch in plan.unapproved
            if (standing := batch.plan.standing) is not None
        ],
        "skins": [
            {"skin": name, "fixed_points": _fixed_points(cuts), "pieces": [_piece(cut) for cut in cuts]}
            for name, cuts in plan.cuts.items()
        ],
        "missing": list(plan.layout.missing),
        "why_missing": [_reason(name, reason) for name, reason in plan.why_missing.items()],
        "to_buy": _to_buy(plan),
        "work": [
            {"drum": work.job, "operation": work.operation, "start": _moment(plan, work.start_min),
             "end": _moment(plan, work.end_min), "people": list(work.people), "group": work.group,
             "setup_min": work.setup_min, "latest_start": _latest(plan, work)}
            for work in plan.schedule.works
        ],
        "teaching": [
            {"operation": each.operation, "start": _moment(plan, each.start_min), "end": _moment(plan, each.end_min),
             "teachers": list(each.teachers), "drums": list(each.serials), "looks_on": each.looks_on}
            for each in plan.teaching
        ],
        "limits": [
            {"kind": str(limit.kind), "name": limit.name, "more": limit.more, "gain_min": limit.gain_min}
            for limit in plan.limits
        ],
        "chains": [
            [{"drum": job, "operation": operation} for job, operation in chain] for chain in plan.slack.chains
        ],
        "costs": {"currency": plan.run.prices.currency, "drums": [_cost(cost) for cost in plan.costs],
                  "all": _amounts(sum_of(plan.costs))},
        "findings": [finding_data(finding, run_file) for finding in findings],
    }  # fmt: skip
    return (json.dumps(data, indent=1, ensure_ascii=True) + "\n").encode("ascii")


def _latest(plan: RunPlan, work: Work) -> str | None:
    """Return when a work may start at the latest; None for what teachers make ready."""
    latest = plan.slack.latest_min.get((work.job, work.operation))
    return None if latest is None else _moment(plan, latest)


def _moment(plan: RunPlan, minute: int) -> str:
    return plan.moment(minute).isoformat("T", "minutes")


def _drum(plan: RunPlan, drum: Drum, run_file: str) -> dict[str, Any]:
    taken = plan.order.taken[drum.serial]
    schedule = plan.schedule
    return {
        "serial": drum.serial,
        "spec": relative_to(run_file, drum.batch.entry.shown),
        "digest": drum.plan.digest,
        "approved": None if drum.plan.standing is None else drum.plan.standing.approved,
        "frame_in_stock": taken.frame is not None,
        "lace_in_stock": taken.has_lace,
        "stock_laces_mm": [[exact(piece.length_mm) for piece in lace] for lace in taken.laces],
        "ring_in_stock": taken.ring is not None,
        "head": [place for name in head_names(drum) for place in _places(plan, name)],
        "lace": _places(plan, lace_name(drum.serial)),
        "dry": _moment(plan, schedule.dry_min[drum.serial]),
        "done": _moment(plan, schedule.done_min[drum.serial]),
    }


def _places(plan: RunPlan, name: str) -> list[dict[str, Any]]:
    return [{"skin": skin, "number": cut.number} for skin, cut in plan.on_skin.get(name, ())]


def _fixed_points(cuts: Sequence[Cut]) -> list[dict[str, Any]]:
    """Return where the tapes are held; nothing on a skin that nothing is cut from."""
    return [
        {"name": point.name, "x_mm": exact(point.at_mm[0]), "y_mm": exact(point.at_mm[1]), "what": point.kind}
        for point in (cuts[0].fixed if cuts else ())
    ]


def _piece(cut: Cut) -> dict[str, Any]:
    placement, shape = cut.placement, cut.placement.shape
    form: dict[str, Any]
    if isinstance(shape, Disc):
        form = {"diameter_mm": exact(2 * shape.radius_mm)}
    else:
        form = {"outline_mm": [[exact(x), exact(y)] for x, y in shape.outline]}
    return {
        "number": cut.number,
        "piece": placement.name,
        "part": placement.part + 1,
        "use": placement.use,
        "x_mm": exact(placement.centre[0]),
        "y_mm": exact(placement.centre[1]),
        "turned_deg": exact(placement.angle_deg),
        "from_a_mm": exact(cut.from_a_mm),
        "from_b_mm": exact(cut.from_b_mm),
        "from_c_mm": None if cut.from_c_mm is None else exact(cut.from_c_mm),
        "tapes": [point.name for point in cut.tapes],
        "side": cut.side,
        "thickness_mm": exact(cut.thickness_mm),
        "thinnest_mm": exact(cut.thinnest_mm),
        "thickest_mm": exact(cut.thickest_mm),
        **form,
    }


def _reason(name: str, reason: Reason) -> dict[str, Any]:
    return {
        "piece": name,
        "cause": reason.cause,
        "skin": reason.hide or None,
        "thickness_mm": None if reason.span_mm is None else [exact(each) for each in reason.span_mm],
        "allowed_mm": [None if each is None else exact(each) for each in (reason.least_mm, reason.most_mm)],
    }


def _to_buy(plan: RunPlan) -> dict[str, Any]:
    purchases = plan.purchases
    return {
        "frames": [{"drum": frames.drum, "count": frames.to_buy} for frames in purchases.frames if frames.to_buy],
        "skins": [
            {"hide": skins.hide, "area_mm2": exact(skins.area_mm2), "skins": skins.skins, "pieces": list(skins.pieces)}
            for skins in purchases.skins
        ],
        "laces": [
            {
                "drum": laces.drum,
                "hide": laces.hide,
                "width_mm": exact(laces.width_mm),
                "count": laces.count,
                "length_mm": exact(laces.length_mm),
            }
            for laces in purchases.laces
        ],
        "punches": [{"size_mm": exact(punch.size_mm), "drums": list(punch.drums)} for punch in purchases.punches],
        "rings": [
            {
                "drum": rings.drum,
                "count": rings.to_buy,
                "across_mm": exact(rings.across_mm),
                "section_mm": exact(rings.section_mm),
            }
            for rings in purchases.rings
            if rings.to_buy
        ],
        "strips": [
            {
                "drum": strips.drum,
                "species": strips.species,
                "count": strips.to_buy,
                "length_mm": exact(strips.length_mm),
                "width_mm": exact(strips.width_mm),
                "thickness_mm": exact(strips.thickness_mm),
            }
            for strips in purchases.wood.strips
            if strips.to_buy
        ],
        "boards": [
            _board(stock, board)
            for stock in purchases.wood.stocks
            for board, given in zip(stock.boards, stock.in_stock, strict=True)
            if not given
        ],
    }


def _board(stock: Stock, board: Board) -> dict[str, Any]:
    return {
        "species": stock.species,
        "length_mm": exact(board.length_mm),
        "width_mm": exact(stock.width_mm),
        "thickness_mm": exact(stock.thickness_mm),
        "cuts": [{"drum": cut.name, "length_mm": exact(cut.length_mm)} for cut in board.cuts],
    }


def _cost(cost: Cost) -> dict[str, Any]:
    return {"drum": cost.serial, **_amounts(cost)}


def _amounts(cost: Cost) -> dict[str, Any]:
    return {
        "work_min": exact(cost.work_min), "frame": cost.frame, "skin": cost.skin, "lace": cost.lace,
        "ring": cost.ring, "sundries": cost.sundries, "material": cost.material, "work": cost.work,
        "cost": cost.whole, "price": cost.price,
    }  # fmt: skip
