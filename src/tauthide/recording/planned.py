"""What the plan says of the things that are measured on a drum."""

from __future__ import annotations

from collections.abc import Mapping

from tauthide.plan.plan import Plan


def planned_values(plan: Plan) -> Mapping[str, float]:
    """Return what was planned, in base units, by the field of a record; lace without its allowance."""
    reach = plan["skin.reach"]
    values = {
        "blank": max(plan.outline.length_at(reach), plan.outline.width_at(reach)),
        "thickness": plan.spec.number("head.thickness"),
        "dry_thickness": plan.spec.number("head.dry_thickness"),
        "margin": plan["holes.margin"],
        "lace_used": plan["lace.net_length"],
        "dry": plan.spec.number("hide.dry"),
        "stitch_tear": plan.spec.number("hide.stitch_tear"),
        "hand": sum(operation.hand_min for operation in plan.operations),
    }
    if plan.has("holes.tight_radius"):
        values["holes_across"] = 2 * plan["holes.tight_radius"]
    if plan.has("voice.pitch"):
        values["pitch_dry"] = plan["voice.pitch"]
    return values


def planned_times(plan: Plan) -> Mapping[str, float]:
    """Return the planned hand time of each operation of the drum, in minutes."""
    return {operation.name: operation.hand_min for operation in plan.operations}


def lace_cut_mm(plan: Plan) -> float:
    """Return the length to which the lace was to be cut."""
    return plan["lace.cut_length"]
