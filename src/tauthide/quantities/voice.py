"""The voice: pitch and tension of the head, and what each station and strand then pulls. Round frames only.

All of it is an estimate: an ideal membrane with an even tension, and the air that moves with it. The range
takes in how much the skin weighs in dry and damp weather and how the air moves. It holds at one tension:
damp weather also slackens the skin itself, which no formula here follows.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, exp, pi, radians

from tauthide.figures import OWN_DEFINITION, FigureSet, Workings
from tauthide.geometry.blank import is_round
from tauthide.quantities.membrane import (
    AIR_COEFFICIENT_BAFFLED,
    AIR_COEFFICIENTS,
    LOWEST,
    MM_PER_M,
    Mode,
    air_load,
    find_modes,
    frequency,
    tension_for,
    water_content,
)
from tauthide.spec.defaults import WORKSHOP

FIGURES = FigureSet()

MEMBRANE = "ideal membrane: zeros of the Bessel functions (Abramowitz and Stegun, table 9.5)"
AIR = "potential flow about an unbaffled disc that moves as the mode does (computed)"
HUMIDITY = "water in collagen by humidity (Heritage Science 1:14, table 1)"
CAPSTAN = "capstan equation"

LACE_FRICTION = 0.2
"""Wet lace over wet skin. From memory, no published source found."""

EDGES_TURN_DEG = 180.0
"""Two edges of 90 degrees each that a strand slides round at a station."""

USUAL_HUMIDITY = 0.5
"""At which the hide's density is taken to hold."""

DRY_HUMIDITY, DAMP_HUMIDITY = 0.3, 0.7
"""Between a heated room in winter and a damp day. Workshop practice, no published source."""


@dataclass(frozen=True, slots=True)
class _Case:
    """One end of the range."""

    thicker: float
    """How often the thickness tolerance is added: 1 or -1."""
    humidity: float
    air: float
    """Coefficient of the air."""


_LIGHT = _Case(-1, DRY_HUMIDITY, AIR_COEFFICIENTS[LOWEST])
_HEAVY = _Case(1, DAMP_HUMIDITY, AIR_COEFFICIENT_BAFFLED)


def has_voice(w: Workings) -> bool:
    """Tell whether a tension can be told: a round frame, and a pitch or a pull that is wanted."""
    return is_round(w) and (w.has("voice.pitch") or w.has("voice.pull"))


def wants_pitch(w: Workings) -> bool:
    """Tell whether the tension follows from a pitch that is wanted, and so has a range of its own."""
    return has_voice(w) and not w.has("voice.pull")


@FIGURES.figure("voice.membrane_radius", "mm", "length", "Radius of the skin that sounds",
                "diameter / 2 - edge_radius", OWN_DEFINITION, is_round)  # fmt: skip
def membrane_radius(w: Workings) -> float:
    """Return the radius of the free membrane."""
    return w.given("frame.diameter") / 2 - w.given("frame.edge_radius")


@FIGURES.figure("voice.surface_density", "kg/m2", "surface_density", "Weight of the dry skin by area",
                "density x dry_thickness", OWN_DEFINITION, is_round)  # fmt: skip
def surface_density(w: Workings) -> float:
    """Return the mass of the dry skin over its area."""
    return w.given("hide.density") * w.given("head.dry_thickness") / MM_PER_M


@FIGURES.figure("voice.air_load", "kg/m2", "surface_density", "Air that moves with the skin, by area (estimate)",
                "0.986 x 1.2 kg/m³ x voice.membrane_radius", AIR, is_round)  # fmt: skip
def moving_air(w: Workings) -> float:
    """Return the air that moves with mode 01, both faces together, without a baffle."""
    return air_load(AIR_COEFFICIENTS[LOWEST], _radius_m(w))


@FIGURES.figure("voice.tension", "N/m", "tension", "Tension of the dry head (estimate)",
                "from a pitch: (voice.surface_density + voice.air_load) (2 pi voice.membrane_radius pitch / 2.405)^2;"
                " from a pull: count pull / (2 pi voice.membrane_radius)", MEMBRANE, has_voice)  # fmt: skip
def tension(w: Workings) -> float:
    """Return the tension that gives the pitch, or that the pull gives."""
    if w.has("voice.pull"):
        return tension_of(w, w.given("voice.pull"))
    return tension_for(LOWEST, _radius_m(w), w.given("voice.pitch"), moving_mass(w))


@FIGURES.figure("voice.tension_low", "N/m", "tension", "Tension for this pitch, at the low end (estimate)",
                "(voice.surface_density (1 - tolerances.thickness) x 112.44 % / 117.95 %"
                " + 0.986 x 1.2 kg/m³ x voice.membrane_radius) (2 pi voice.membrane_radius pitch / 2.405)^2:"
                " thin skin, dry as at 30 % humidity", HUMIDITY,
                wants_pitch)  # fmt: skip
def tension_low(w: Workings) -> float:
    """Return the least tension that may give the pitch, within tolerance, weather and models of the air."""
    return tension_for(LOWEST, _radius_m(w), w.given("voice.pitch"), _moving_mass(w, _LIGHT))


@FIGURES.figure("voice.tension_high", "N/m", "tension", "Tension for this pitch, at the high end (estimate)",
                "(voice.surface_density (1 + tolerances.thickness) x 125.05 % / 117.95 %"
                " + 1.49 x 1.2 kg/m³ x voice.membrane_radius) (2 pi voice.membrane_radius pitch / 2.405)^2:"
                " thick skin, damp as at 70 % humidity, hoop a perfect baffle", HUMIDITY, wants_pitch)  # fmt: skip
def tension_high(w: Workings) -> float:
    """Return the most tension that the pitch may take, within tolerance, weather and models of the air."""
    return tension_for(LOWEST, _radius_m(w), w.given("voice.pitch"), _moving_mass(w, _HEAVY))


@FIGURES.figure("voice.pitch", "Hz", "pitch", "Pitch of the dry head (estimate)",
                "2.405 / (2 pi voice.membrane_radius) sqrt(voice.tension /"
                " (voice.surface_density + voice.air_load))", MEMBRANE, has_voice)  # fmt: skip
def pitch(w: Workings) -> float:
    """Return the frequency of mode 01 with its air."""
    return frequency(LOWEST, _radius_m(w), w["voice.tension"], moving_mass(w))


@FIGURES.figure("voice.pitch_low", "Hz", "pitch", "Pitch at the same tension, at the low end (estimate)",
                "2.405 / (2 pi voice.membrane_radius) sqrt(voice.tension / (voice.surface_density"
                " (1 + tolerances.thickness) x 125.05 % / 117.95 % + 1.49 x 1.2 kg/m³ x voice.membrane_radius)):"
                " thick skin, damp as at 70 % humidity, hoop a perfect baffle", HUMIDITY, has_voice)  # fmt: skip
def pitch_low(w: Workings) -> float:
    """Return the lowest pitch at this tension within tolerance, weather and models of the air."""
    return frequency(LOWEST, _radius_m(w), w["voice.tension"], _moving_mass(w, _HEAVY))


@FIGURES.figure("voice.pitch_high", "Hz", "pitch", "Pitch at the same tension, at the high end (estimate)",
                "2.405 / (2 pi voice.membrane_radius) sqrt(voice.tension / (voice.surface_density"
                " (1 - tolerances.thickness) x 112.44 % / 117.95 % + 0.986 x 1.2 kg/m³ x voice.membrane_radius)):"
                " thin skin, dry as at 30 % humidity", HUMIDITY,
                has_voice)  # fmt: skip
def pitch_high(w: Workings) -> float:
    """Return the highest pitch at this tension within tolerance, weather and models of the air."""
    return frequency(LOWEST, _radius_m(w), w["voice.tension"], _moving_mass(w, _LIGHT))


@FIGURES.shape("voice.modes")
def modes(w: Workings) -> tuple[Mode, ...]:
    """Return the twelve lowest modes, from low to high without air; only for a drum that `has_voice`."""
    return find_modes(_radius_m(w), w["voice.tension"], w["voice.surface_density"])


@FIGURES.figure("pull.station", "N", "force", "Pull of each station on the dry head (estimate)",
                "2 pi voice.membrane_radius voice.tension / count", OWN_DEFINITION, has_voice)  # fmt: skip
def station_pull(w: Workings) -> float:
    """Return the radial force that one station takes."""
    return _pull_of(w, w["voice.tension"])


@FIGURES.figure("pull.station_low", "N", "force", "Pull of each station for this pitch, at the low end (estimate)",
                "2 pi voice.membrane_radius voice.tension_low / count", OWN_DEFINITION, wants_pitch)  # fmt: skip
def station_pull_low(w: Workings) -> float:
    """Return the pull at the low end of the tension's range."""
    return _pull_of(w, w["voice.tension_low"])


@FIGURES.figure("pull.station_high", "N", "force", "Pull of each station for this pitch, at the high end (estimate)",
                "2 pi voice.membrane_radius voice.tension_high / count", OWN_DEFINITION, wants_pitch)  # fmt: skip
def station_pull_high(w: Workings) -> float:
    """Return the pull at the high end of the tension's range."""
    return _pull_of(w, w["voice.tension_high"])


@FIGURES.figure("pull.strand", "N", "force", "Pull of each strand on the dry head (estimate)",
                "pull.station / 2 / cos(pull.strand_angle)", OWN_DEFINITION, has_voice)  # fmt: skip
def strand_pull(w: Workings) -> float:
    """Return the force in one of the two strands of a station."""
    return w["pull.station"] / 2 / cos(radians(w["pull.strand_angle"]))


@FIGURES.figure("pull.anchor", "N", "force", "Pull of each strand at the anchor (estimate)",
                "pull.station / lace.anchor_strands / cos(pull.strand_angle)", OWN_DEFINITION, has_voice)  # fmt: skip
def anchor_pull(w: Workings) -> float:
    """Return the force in each strand at the anchor: more than elsewhere where it has only one."""
    return w["pull.station"] / w["lace.anchor_strands"] / cos(radians(w["pull.strand_angle"]))


@FIGURES.figure("pull.wet_share", "1", "percentage", "Share of the pull put in by hand, wet; drying does the rest",
                "wet_share, as given", WORKSHOP, is_round)  # fmt: skip
def wet_share(w: Workings) -> float:
    """Return the share of the final pull that is drawn in by hand."""
    return w.given("voice.wet_share")


@FIGURES.figure("pull.balance", "N", "force", "A spring balance on the strand reads this, drawing tight (estimate)",
                "pull.strand pull.wet_share exp(0.2 pi): friction 0.2, round two edges of 90 degrees", CAPSTAN,
                has_voice)  # fmt: skip
def balance_pull(w: Workings) -> float:
    """Return the pull by hand on a strand that has to slide over two edges."""
    return w["pull.strand"] * w["pull.wet_share"] * sliding_ratio()


def sliding_ratio(friction: float = LACE_FRICTION, turn_deg: float = EDGES_TURN_DEG) -> float:
    """Return how many times the pull behind edges the pull before them is, when a strand slides round them.

    Source: the capstan equation.
    """
    return exp(friction * radians(turn_deg))


def moving_mass(w: Workings) -> float:
    """Return what moves with mode 01 in kg/m2: the skin and its air."""
    return w["voice.surface_density"] + w["voice.air_load"]


def tension_of(w: Workings, pull_n: float) -> float:
    """Return the tension in N/m of a head whose stations each pull so much."""
    return w.count("stations.count") * pull_n / (2 * pi * _radius_m(w))


def pitch_of(w: Workings, tension_n_m: float) -> float:
    """Return the pitch in Hz of the dry head at a tension."""
    return frequency(LOWEST, _radius_m(w), tension_n_m, moving_mass(w))


def _moving_mass(w: Workings, case: _Case) -> float:
    thickness = 1 + case.thicker * w.given("tolerances.thickness")
    water = (1 + water_content(case.humidity)) / (1 + water_content(USUAL_HUMIDITY))
    return w["voice.surface_density"] * thickness * water + air_load(case.air, _radius_m(w))


def _radius_m(w: Workings) -> float:
    return w["voice.membrane_radius"] / MM_PER_M


def _pull_of(w: Workings, tension_n_m: float) -> float:
    return 2 * pi * _radius_m(w) * tension_n_m / w.count("stations.count")
