"""The view of a drum: everything that its sheet says, as text, rounded and with its units."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType

from tauthide.findings import Finding
from tauthide.plan.plan import Plan
from tauthide.sheets.amounts import DEFAULT_MARK, mark_defaults, show_fields, show_figures, system_of
from tauthide.sheets.frames import view_making
from tauthide.sheets.lacing import view_lacing
from tauthide.sheets.marking import view_marking
from tauthide.sheets.origins import view_defaults, view_given
from tauthide.sheets.remarks import view_findings, view_notes
from tauthide.sheets.standing import view_standing
from tauthide.sheets.tables import view_figures, view_lace_parts, view_work
from tauthide.sheets.voice import view_voice
from tauthide.sheets.words import counted, guide_of
from tauthide.spec.settings import Spec
from tauthide.text import markdown
from tauthide.units import System, length, long_length, show, time

OTHER_SIDE: Mapping[str, str] = MappingProxyType({"hair": "flesh", "flesh": "hair"})
"""Which side of the skin faces inward, by the side that faces outward."""

WARMEST_SOAK_C = 20.0
"""Wet skin above this is damaged within hours. CSIRO Meat Technology Update 98/3."""

GAUGE_BAR_MM = 100.0
"""The bars that the drawing of the gauge has, by which a print is checked."""

CENTRING_PLACES = 4
"""The overhang is compared at so many places. Workshop practice, no published source."""

SPINE: Mapping[str, str] = MappingProxyType(
    {
        "round": "Set its middle on {guide}.",
        "oval": "Turn it so that its length runs along {guide}.",
        "even": "Turn it so that {guide} crosses the middle of the side nearest you and of the side opposite.",
        "odd": "Turn it so that {guide} crosses the middle of the side nearest you and the corner opposite.",
    }
)
"""How the frame lies on the spine, by outline; a polygon by whether its sides are even or odd in number."""

COUPLES: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "holes.web": ("stations.web", "stations.pair_spacing"),
        "holes.pair_spacing": ("stations.pair_spacing", "stations.web"),
        "holes.margin": ("stations.margin", "stations.edge_distance"),
        "holes.edge_distance": ("stations.edge_distance", "stations.margin"),
    }
)
"""The two of each couple are printed as figures: which field gives each, and which its partner."""


def make_view(plan: Plan, findings: Iterable[Finding]) -> dict[str, object]:
    """Return the names that the templates of a sheet use, each with plain text, or views made of it."""
    spec = plan.spec
    system = system_of(spec)
    figures, values = show_figures(plan, system), show_fields(spec, system)
    field = mark_defaults(spec, values)
    return {
        "mark": DEFAULT_MARK,
        "title": markdown(spec.title or spec.drum),
        "drum": markdown(spec.drum),
        "digest": plan.digest,
        "quantity": spec.quantity,
        "drums": counted(spec.quantity, "drum", "drums"),
        "notes": view_notes(spec.notes),
        "standing": view_standing(plan.standing),
        "remarks": view_findings(findings, spec.place.file),
        "round": plan.outline.kind == "round",
        "outline": plan.outline.kind,
        "field": field,
        "figure": {**figures, **_couples(spec, figures)},
        "frame": frame_text(spec, field),
        "blank": blank_text(plan, figures),
        "count": len(plan.stations),
        "other_hide": spec.word("lace.hide") != spec.word("head.hide"),
        "inner": OTHER_SIDE[spec.word("head.outer")],
        "across": spec.word("head.spine") == "across",
        "guide": guide_of(spec),
        "lie": SPINE[_spine_kind(spec)].format(guide=f"the {guide_of(spec)}"),
        "two_heads": plan.lacing.heads > 1,
        "on_wall": plan.has("holes.inset") and plan["holes.inset"] < 0,
        "short_of_wall": _from_wall(plan) < 0,
        "from_wall": length(abs(_from_wall(plan)), system),
        "pair_centre": spec.word("stations.mark_at") == "pair_centre",
        "warmest": show("temperature", WARMEST_SOAK_C, system),
        "gauge_bar": length(GAUGE_BAR_MM, system),
        "making": view_making(plan, system),
        "marking": view_marking(plan, system),
        "lacing": view_lacing(plan),
        "several_wraps": spec.has("lace.ring_wraps") and spec.count("lace.ring_wraps") > 1,
        "places": centring_places(len(plan.stations)),
        "waits": {operation.name: time(operation.wait_min) for operation in plan.operations},
        "handle": _handle(plan, system),
        "work": view_work(plan),
        "lace_parts": view_lace_parts(plan, system),
        "voice": view_voice(plan, figures, system),
        "figures": view_figures(plan, figures),
        "defaults": view_defaults(spec, values),
        "given": view_given(spec, values),
    }


def frame_text(spec: Spec, field: Mapping[str, str]) -> str:
    """Return the frame's outline and size across in words; `field` has the spec's values as text."""
    outline = spec.word("frame.outline")
    if outline == "round":
        return f"round, {field['frame.diameter']} across"
    if outline == "oval":
        return f"oval, {field['frame.length']} by {field['frame.width']}"
    return f"{field['frame.sides']} sides, {field['frame.across_flats']} across the flats"


def blank_text(plan: Plan, figures: Mapping[str, str]) -> str:
    """Return the blank's size in words; `figures` has the plan's figures as text."""
    if plan.has("head.blank_diameter"):
        return f"{figures['head.blank_diameter']} across"
    return f"{figures['head.blank_length']} by {figures['head.blank_width']}"


def centring_places(count: int) -> tuple[str, ...]:
    """Return the four places, a quarter turn apart, where the overhang is compared."""
    found = []
    for quarter in range(CENTRING_PLACES):
        before, over = divmod(quarter * count, CENTRING_PLACES)
        station = before + 1
        found.append(f"between stations {station} and {station + 1}" if over else f"station {station}")
    return tuple(found)


def _spine_kind(spec: Spec) -> str:
    outline = spec.word("frame.outline")
    if outline != "polygon":
        return outline
    return "odd" if spec.count("frame.sides") % 2 else "even"


def _from_wall(plan: Plan) -> float:
    """Return how far in from the outside of the wall the holes' middles lie, along the skin as the turnover is."""
    if not plan.has("holes.inset"):
        return 0.0
    return plan.spec.number("frame.edge_radius") + plan["holes.inset"]


def _couples(spec: Spec, figures: Mapping[str, str]) -> dict[str, str]:
    """Return the four figures of the couples, marked where no file gives either of the two."""
    marked = {}
    for name, couple in COUPLES.items():
        is_default = all(spec.settings[path].origin.is_default for path in couple if spec.has(path))
        marked[name] = figures[name] + (DEFAULT_MARK if is_default else "")
    return marked


def _handle(plan: Plan, system: System) -> dict[str, object]:
    arms = plan.spec.count("handle.arms")
    if not arms:
        return {"arms": 0}
    strands = round(plan["lace.strands"])
    least, over = divmod(strands, arms)
    return {
        "arms": arms,
        "strands": f"{least} or {least + 1} strands" if over else counted(least, "strand", "strands"),
        "all_strands": strands,
        "lace_each": long_length(plan["lace.handle"] / arms, system),
        "way_out": long_length(arms * plan.spec.number("handle.wrap"), system),
        "bundle": length(plan["handle.bundle"], system),
    }
