"""What is in reach: the strength of the lace, the most that a station may be pulled, and the pitches it gives.

Every use grows in step with the pull, so the pull that uses the weakest part in full follows without a search.
"""

from __future__ import annotations

from math import cos, radians

from tauthide.figures import FigureSet, Workings
from tauthide.geometry.blank import is_round
from tauthide.quantities.voice import CAPSTAN, MEMBRANE, has_voice, pitch_of, sliding_ratio, tension_of
from tauthide.spec.defaults import WORKSHOP

FIGURES = FigureSet()

SLACKEST_N_M = 250.0
"""Tension of a head that only just sounds; slacker it flaps. From memory, no published source found."""


@FIGURES.figure("lace.hold", "N", "force", "The lace holds, dry (estimate)",
                "dry_strength lace.width dry_thickness: those of the lace", WORKSHOP, is_round)  # fmt: skip
def lace_hold(w: Workings) -> float:
    """Return the breaking load of the dry lace."""
    return w.given("lace_hide.dry_strength") * w.given("lace.width") * w.given("lace_hide.dry_thickness")


@FIGURES.figure("lace.hold_wet", "N", "force", "The lace holds, wet (estimate)",
                "wet_strength lace.width lace.thickness: those of the lace", WORKSHOP, is_round)  # fmt: skip
def lace_hold_wet(w: Workings) -> float:
    """Return the breaking load of the wet lace."""
    return w.given("lace_hide.wet_strength") * w.given("lace.width") * w.given("lace.thickness")


@FIGURES.figure("lace.use_dry", "1", "percentage", "Of what the lace holds, dry, in use with safety (estimate)",
                "pull.anchor safety / lace.hold", WORKSHOP, has_voice)  # fmt: skip
def lace_use_dry(w: Workings) -> float:
    """Return the share of the dry lace's strength that the one strand of the anchor uses."""
    return w["pull.anchor"] * w.given("voice.safety") / w["lace.hold"]


@FIGURES.figure("lace.use_wet", "1", "percentage", "Of what the lace holds, wet, in use with safety (estimate)",
                "max(pull.anchor pull.wet_share, pull.balance) safety / lace.hold_wet", CAPSTAN,
                has_voice)  # fmt: skip
def lace_use_wet(w: Workings) -> float:
    """Return the share of the wet lace's strength that the anchor uses, or the hand that draws tight."""
    pull = max(w["pull.anchor"] * w["pull.wet_share"], w["pull.balance"])
    return pull * w.given("voice.safety") / w["lace.hold_wet"]


@FIGURES.figure("lace.use", "1", "percentage", "Of what the lace holds, in use with safety (estimate)",
                "max(lace.use_dry, lace.use_wet)", WORKSHOP, has_voice)  # fmt: skip
def lace_use(w: Workings) -> float:
    """Return the share of the lace's strength in use, in the state that uses more."""
    return max(w["lace.use_dry"], w["lace.use_wet"])


@FIGURES.figure("pull.most", "N", "force", "The most that each station may be pulled (estimate)",
                "min(hold.dry, lace.hold lace.anchor_strands cos(pull.strand_angle), hold.wet / pull.wet_share,"
                " lace.hold_wet cos(pull.strand_angle) / (pull.wet_share max(1 / lace.anchor_strands,"
                " exp(0.2 pi) / 2))) / safety",
                WORKSHOP, is_round)  # fmt: skip
def most_pull(w: Workings) -> float:
    """Return the dry pull of a station at which the first part of head or lace is used in full."""
    slant, share = cos(radians(w["pull.strand_angle"])), w["pull.wet_share"]
    anchor = w["lace.anchor_strands"]
    limits = [w["hold.dry"], w["lace.hold"] * anchor * slant]
    if share > 0:
        limits += [w["hold.wet"] / share, w["lace.hold_wet"] * slant / (share * max(1.0 / anchor, sliding_ratio() / 2))]
    return min(limits) / w.given("voice.safety")


@FIGURES.figure("voice.highest_pitch", "Hz", "pitch", "Highest pitch within reach of this skin and size (estimate)",
                "2.405 / (2 pi voice.membrane_radius) sqrt(count pull.most / (2 pi voice.membrane_radius)"
                " / (voice.surface_density + voice.air_load))", MEMBRANE, is_round)  # fmt: skip
def highest_pitch(w: Workings) -> float:
    """Return the pitch at which the weakest part of head or lace is used in full."""
    return pitch_of(w, tension_of(w, w["pull.most"]))


@FIGURES.figure("voice.lowest_pitch", "Hz", "pitch", "Lowest pitch within reach of this skin and size (estimate)",
                "2.405 / (2 pi voice.membrane_radius) sqrt(250 N/m / (voice.surface_density + voice.air_load)):"
                " slacker it flaps", WORKSHOP, is_round)  # fmt: skip
def lowest_pitch(w: Workings) -> float:
    """Return the pitch of a head that is only just tight enough to sound."""
    return pitch_of(w, SLACKEST_N_M)
