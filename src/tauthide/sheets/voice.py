"""Voice and pull on the sheet: estimates with their ranges, and how to learn how strong a skin is."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from tauthide.plan.plan import Plan
from tauthide.quantities.holding import TEST_EDGE_MM, TEST_HOLE_MM, TEST_SPACING_MM
from tauthide.sheets.words import listing
from tauthide.units import System, frequency, length, note, number

RATIO_DECIMALS = 2

ESTIMATES = (
    ("Pitch, dry", "voice.pitch", "voice.pitch_low", "voice.pitch_high"),
    ("Tension of the head", "voice.tension", "voice.tension_low", "voice.tension_high"),
    ("Pull of each station", "pull.station", "pull.station_low", "pull.station_high"),
    ("Pull of each strand", "pull.strand", "", ""),
    ("", "pull.anchor", "", ""),
    ("Drawing tight by hand, a spring balance on a strand reads", "pull.balance", "", ""),
    ("A station holds, dry", "hold.dry", "", ""),
    ("A station holds, wet", "hold.wet", "", ""),
    ("Of that in use with safety, dry", "hold.use_dry", "", ""),
    ("Of that in use with safety, wet", "hold.use_wet", "", ""),
    ("Of the lace's strength in use with safety", "lace.use", "", ""),
    ("Pitches within reach", "", "voice.lowest_pitch", "voice.highest_pitch"),
)
"""What is said, and the figures for the value and its range; of an anchor the lacing tells what is said."""


@dataclass(frozen=True, slots=True)
class Estimate:
    """One row of estimates; empty where there is nothing to say."""

    title: str
    value: str
    range: str


@dataclass(frozen=True, slots=True)
class ModeView:
    """One mode of the head."""

    name: str
    ideal: str
    loaded: str
    ratio: str


@dataclass(frozen=True, slots=True)
class VoiceView:
    """What a sheet says of voice and pull."""

    estimates: tuple[Estimate, ...]
    modes: tuple[ModeView, ...]
    dry: str
    """The rule by which a station holds least, dry."""
    wet: str
    measure: str
    """How to pull a scrap."""


def view_voice(plan: Plan, figures: Mapping[str, str], system: System) -> VoiceView | None:
    """Return voice and pull of a plan; nothing on a frame that is not round. `figures` has its figures as text."""
    if not plan.governs:
        return None
    rows = []
    for title, name, low, high in _told(plan):
        span = f"{figures[low]} to {figures[high]}" if low in figures and high in figures else ""
        if name in figures or (not name and span):
            rows.append(Estimate(title, figures.get(name, ""), span))
    modes = tuple(
        ModeView(
            mode.name,
            frequency(mode.ideal_hz),
            _with_note(mode.loaded_hz),
            number(mode.ratio, RATIO_DECIMALS, fixed=True),
        )
        for mode in plan.modes
    )
    return VoiceView(tuple(rows), modes, plan.governs["dry"], plan.governs["wet"], _scrap(system))


def _told(plan: Plan) -> Iterator[tuple[str, str, str, str]]:
    """Yield the rows of estimates; one of the anchors only where they leave their stations a single strand."""
    for title, name, low, high in ESTIMATES:
        if title:
            yield title, name, low, high
        elif plan["lace.anchor_strands"] == 1:
            anchors = [str(step.station) for step in plan.steps if step.span_mm is None]
            one = f"Station {anchors[0]}, its one strand"
            several = f"Stations {listing(anchors)}, each its one strand"
            yield (one if len(anchors) == 1 else several), name, low, high


def _scrap(system: System) -> str:
    """Return how a maker learns how strong a skin is: the two-hole stitch tear test (scope of ASTM D4705)."""
    hole, apart, edge = (length(mm, system) for mm in (TEST_HOLE_MM, TEST_SPACING_MM, TEST_EDGE_MM))
    return (
        f"Let a scrap dry. Punch two holes of {hole}, {apart} from middle to middle and {edge} from its edge. Hold the"
        " far end, and draw a wire loop through both holes with a spring balance until they tear out. Do it three"
        " times: the middle reading over the thickness is the hide's stitch tear in the shop file."
    )


def _with_note(hz: float) -> str:
    name = note(hz)
    return f"{frequency(hz)}, {name}" if name else frequency(hz)
