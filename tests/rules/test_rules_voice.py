"""Rules on pull, voice and frame: what is said, where the limit lies, and that what is to be written mends it."""

from __future__ import annotations

from math import sqrt
from pathlib import Path

import pytest
from hypothesis import assume, event, given, settings
from hypothesis import strategies as st

from drums import Fields, Leaf, changed, read_workings, spec_text
from rule_cases import Cases, RuleLaws, findings_of, found_by, told
from rule_findings import assert_told, findings_with_hides, mended, named, names_in
from tauthide.findings import Severity
from tauthide.quantities.figures import start_workings
from tauthide.quantities.reach import SLACKEST_N_M
from tauthide.rules.registry import hold_rules
from tauthide.spec.chain import stdin_chain
from tauthide.spec.resolving import resolve
from tauthide.units import parse


def polygon(sides: int = 8, **changes: Leaf) -> Fields:
    """Return a drum with corners."""
    fields = changed(frame_outline="polygon", frame_sides=sides, frame_across_flats="14 in", **changes)
    return {path: leaf for path, leaf in fields.items() if path != "frame.diameter"}


def oval(length: str = "18 in", width: str = "14 in", **changes: Leaf) -> Fields:
    """Return an oval drum."""
    fields = changed(frame_outline="oval", frame_length=length, frame_width=width, **changes)
    return {path: leaf for path, leaf in fields.items() if path != "frame.diameter"}


def at_pull(newtons: float, **changes: Leaf) -> Fields:
    """Return the usual drum with a pull on each station."""
    return changed(voice_pull=f"{newtons:.9f} N", **changes)


def most(figure: str, **changes: Leaf) -> float:
    """Return the pull in N at which a use becomes 1: uses grow with the pull."""
    return 100 / read_workings(spec_text(at_pull(100, **changes)))[figure]


NARROW = {"lace_width": "5 mm"}
WET = {"voice_wet_share": "60 %"}

CASES = {
    "pull-beyond-skin": Cases(
        breaks=changed(voice_pitch="C3"),
        says="""\
            warning pull-beyond-skin at pitch: C3
            Dry, each station is pulled harder than its skin holds by the stitch tear test, at usual strengths
            found: 182 N at each station
            allowed: at most 152 N: it tears at 229 N, and the safety is 150 %
            write: pitch: Bb2
            """,
        limit=at_pull(most("hold.use_dry") * (1 - 1e-7)),
        beyond=at_pull(most("hold.use_dry") * (1 + 1e-7)),
        keeps=changed(voice_pitch="A2"),
    ),
    "pull-beyond-lace": Cases(
        breaks=changed(voice_pitch="A2", **NARROW),
        says="""\
            warning pull-beyond-lace at pitch: A2
            Dry, the lace is pulled harder than it holds, at its usual strength
            found: 135 N in the strand at the anchor, which has only one
            allowed: at most 120 N: it breaks at 180 N, and the safety is 150 %; or a lace at least 6 mm wide
            write: pitch: G#2
            """,
        limit=at_pull(most("lace.use", **NARROW) * (1 - 1e-7), **NARROW),
        beyond=at_pull(most("lace.use", **NARROW) * (1 + 1e-7), **NARROW),
        keeps=changed(voice_pitch="A2", lace_width="6 mm"),
    ),
    "pull-on-frame": Cases(
        breaks=changed(voice_pitch="A2", frame_wall="4 mm"),
        says="""\
            note pull-on-frame at wall: 4 mm
            A hoop so thin may lose its shape under the pull of the head, if it is a plain ring of ash
            found: 4 mm, drawn inward by 4012 N/m (22.9 lbf/in) of its round
            allowed: at least 5.5 mm with this depth and safety
            write: wall: 5.5 mm
            """,
        # 3 x 12 kN/mm2 x 55 mm x (5 mm)^3 / 12 over (165.1 mm)^3 = 4.5832 N/mm; with the safety 2 x 1.5 T, so that
        # T is 1527.7 N/m, and each of 16 stations pulls 2 pi 0.1631 m T / 16 = 97.8475 N.
        limit=at_pull(97.84, frame_wall="5 mm"),
        beyond=at_pull(97.86, frame_wall="5 mm"),
        keeps=changed(voice_pitch="A2", frame_wall="8 mm"),
    ),
    "voice-out-of-reach": Cases(
        breaks=changed(voice_pitch="C1"),
        says="""\
            warning voice-out-of-reach at pitch: C1
            So low, the head would be too slack to sound: it flaps
            found: 32.7 Hz (C1)
            allowed: from 38.8 Hz (Eb1 -3 cents) to 119.8 Hz (Bb2 +48 cents) with this skin, lace and size
            write: pitch: Eb1
            """,
        # Each of 16 stations takes 2 pi 0.1631 m x 250 N/m / 16 = 16.01238 N.
        limit=at_pull(16.0124),
        beyond=at_pull(16.0123),
        keeps=changed(voice_pitch="E1"),
    ),
    "voice-not-round": Cases(
        breaks=oval(voice_pull="120 N"),
        says="""\
            note voice-not-round at pull: 120 N
            Pitch and pull are estimated for round frames only, and with them what skin and lace must hold
            found: outline: oval
            allowed: a pitch or a pull for frames with `outline: round`
            write:
            """,
        limit=changed(voice_pull="120 N"),
        beyond=polygon(24, voice_pull="120 N"),
        keeps=polygon(),
    ),
    "hoop-bent-tight": Cases(
        breaks=changed(frame_make="bent", frame_wall="10 mm"),
        says="""\
            warning hoop-bent-tight at wall: 10 mm
            The hoop is bent too tight for its thickness: many pieces of wood crack
            found: 10 mm, bent to a radius of 155.1 mm inside
            allowed: at most 9.7 mm: a sixteenth of the radius inside, with strap and end pressure
            write: wall: 9.5 mm
            """,
        # 340 mm across: 10 mm of wall leave 160 mm of radius.
        limit=changed(frame_diameter="340 mm", frame_make="bent", frame_wall="10 mm"),
        beyond=changed(frame_diameter="339.999 mm", frame_make="bent", frame_wall="10 mm"),
        keeps=changed(frame_make="staves", frame_wall="14 mm", head_turnover="45 mm"),
    ),
    "polygon-bent": Cases(
        breaks=polygon(frame_make="bent"),
        says="""\
            error polygon-bent at make: bent
            A frame with corners cannot be bent from a strip
            found: bent, with 8 corners
            allowed: staves or bought
            write: make: staves
            """,
        limit=polygon(frame_make="bought"),
        beyond=polygon(24, frame_make="bent"),
        keeps=polygon(frame_make="staves"),
    ),
}


@pytest.mark.parametrize(("name", "cases"), CASES.items(), ids=list(CASES))
class TestEachRule(RuleLaws):
    """The cases above."""


class TestSkin:
    def test_wet(self) -> None:
        assert_told(
            "pull-beyond-skin",
            changed(voice_pitch="A2", **WET),
            """\
            warning pull-beyond-skin at pitch: A2
            Wet, each station is pulled harder than its skin holds by the stitch tear test, at usual strengths
            found: 77 N at each station, drawn in by hand
            allowed: at most 64 N: it tears at 95 N, and the safety is 150 %
            write: pitch: G2
            """,
        )

    def test_wet_limit(self) -> None:
        pull = most("hold.use_wet", **WET)
        assert pull < most("hold.use_dry", **WET)
        assert "pull-beyond-skin" not in names_in(at_pull(pull * (1 - 1e-7), **WET))
        assert "pull-beyond-skin" in names_in(at_pull(pull * (1 + 1e-7), **WET))

    def test_both_states(self) -> None:
        """One thing to write clears both, whichever is the worse."""
        fields = changed(voice_pitch="F3")
        both = [finding for finding in findings_of(fields) if finding.name == "pull-beyond-skin"]
        assert [finding.message.partition(",")[0] for finding in both] == ["Dry", "Wet"]
        assert {finding.write for finding in both} == {"pitch: Bb2"}
        assert "pull-beyond-skin" not in names_in(mended(fields, both[0]))

    def test_inches(self) -> None:
        assert_told(
            "pull-beyond-skin",
            changed(voice_pull="45 lbf", bench_units="inch"),
            """\
            warning pull-beyond-skin at pull: 45 lbf
            Dry, each station is pulled harder than its skin holds by the stitch tear test, at usual strengths
            found: 45 lbf at each station
            allowed: at most 34 lbf: it tears at 51 lbf, and the safety is 150 %
            write: pull: 34 lbf
            """,
        )

    def test_found_and_allowed_never_look_the_same(self) -> None:
        (finding,) = found_by("pull-beyond-skin", at_pull(most("hold.use_dry") * 1.00001))
        assert finding.found == "152.422 N at each station"
        assert finding.allowed.startswith("at most 152.42 N: ")

    @pytest.mark.parametrize(
        ("hides", "governing", "severity"),
        [
            ("{goat: {stitch_tear: 70 N/mm}}", "the stitch tear test", Severity.ERROR),
            ("{goat: {dry_strength: 60 N/mm2}}", "the stitch tear test", Severity.WARNING),
            ("{goat: {dry_strength: 4 N/mm2, wet_strength: 4 N/mm2}}", "bearing in the holes", Severity.ERROR),
            ("{goat: {stitch_tear: 500 N/mm}}", "bearing in the holes", Severity.WARNING),
            ("{deer: {stitch_tear: 70 N/mm}}", "the stitch tear test", Severity.WARNING),
        ],
    )
    def test_measured(self, tmp_path: Path, hides: str, governing: str, severity: Severity) -> None:
        """Only what was measured on this hide, and governs, makes it an error."""
        fields = changed(voice_pitch="C4")
        dry = next(
            finding
            for finding in findings_with_hides(tmp_path, fields, hides)
            if finding.name == "pull-beyond-skin" and finding.message.startswith("Dry")
        )
        assert governing in dry.message
        assert dry.severity is severity
        assert ("that you measured" in dry.message) == (severity is Severity.ERROR)

    @pytest.mark.parametrize(
        ("measured", "severity"),
        [
            ("stitch_tear: 70 N/mm, wet_strength: 15 N/mm2, dry_strength: 60 N/mm2", Severity.ERROR),
            ("stitch_tear: 70 N/mm, wet_strength: 15 N/mm2", Severity.WARNING),
            ("wet_strength: 1 N/mm2", Severity.WARNING),
        ],
    )
    def test_measured_wet(self, tmp_path: Path, measured: str, severity: Severity) -> None:
        """By the stitch test the wet limit also leans on how much weaker the skin is wet than dry."""
        found = findings_with_hides(tmp_path, changed(voice_pitch="C4"), f"{{goat: {{{measured}}}}}")
        (wet,) = [item for item in found if item.name == "pull-beyond-skin" and item.message.startswith("Wet")]
        assert wet.severity is severity

    def test_scrap_is_told(self) -> None:
        from tauthide.rules.pull_beyond_skin import RULE

        assert "two holes of 2 mm, 6 mm from middle to middle and 6 mm from the scrap's edge" in RULE.mend


class TestLace:
    def test_wet(self) -> None:
        assert_told(
            "pull-beyond-lace",
            changed(voice_pitch="A2", **WET),
            """\
            warning pull-beyond-lace at pitch: A2
            Wet, the lace is pulled harder than it holds, at its usual strength
            found: 81 N in the strand drawn tight by hand
            allowed: at most 80 N: it breaks at 120 N, and the safety is 150 %; or a lace at least 8.5 mm wide
            write: pitch: G#2
            """,
        )

    @pytest.mark.parametrize("share", ["30 %", "60 %"])
    def test_wider_lace_mends_it_as_well(self, share: str) -> None:
        fields = changed(voice_pitch="B2", lace_width="6 mm", voice_wet_share=share)
        found = [finding for finding in findings_of(fields) if finding.name == "pull-beyond-lace"]
        assert found
        width = found[0].allowed.partition("a lace at least ")[2].removesuffix(" wide")
        assert "pull-beyond-lace" not in names_in({**fields, "lace.width": width})
        narrower = f"{parse('length', width) - 0.5} mm"
        assert "pull-beyond-lace" in names_in({**fields, "lace.width": narrower})

    @pytest.mark.parametrize(
        ("hides", "severity"),
        [
            ("{goat: {dry_strength: 30 N/mm2}}", Severity.ERROR),
            ("{goat: {wet_strength: 15 N/mm2}}", Severity.WARNING),
        ],
    )
    def test_measured(self, tmp_path: Path, hides: str, severity: Severity) -> None:
        found = findings_with_hides(tmp_path, changed(voice_pitch="A2", **NARROW), hides)
        (dry,) = [item for item in found if item.name == "pull-beyond-lace" and item.message.startswith("Dry")]
        assert dry.severity is severity


class TestReach:
    def test_too_high(self) -> None:
        assert_told(
            "voice-out-of-reach",
            changed(voice_pitch="A3"),
            """\
            warning voice-out-of-reach at pitch: A3
            So high, skin or lace would tear even without any safety
            found: 220 Hz (A3)
            allowed: from 38.8 Hz (Eb1 -3 cents) to 119.8 Hz (Bb2 +48 cents) with this skin, lace and size
            write: pitch: Bb2
            """,
        )

    def test_upper_limit(self) -> None:
        """The safety is not counted: a pitch between needs only be pulled less, or accepted."""
        w = read_workings(spec_text(changed(voice_pitch="A2")))
        tears = w["voice.highest_pitch"] * sqrt(1.5)
        below, above = f"{tears * (1 - 1e-7):.9f} Hz", f"{tears * (1 + 1e-7):.9f} Hz"
        assert "voice-out-of-reach" not in names_in(changed(voice_pitch=below))
        assert "pull-beyond-skin" in names_in(changed(voice_pitch=below))
        assert "voice-out-of-reach" in names_in(changed(voice_pitch=above))

    def test_by_pull(self) -> None:
        assert_told(
            "voice-out-of-reach",
            changed(voice_pull="10 N"),
            """\
            warning voice-out-of-reach at pull: 10 N
            So low, the head would be too slack to sound: it flaps
            found: 30.7 Hz (B0 -10 cents)
            allowed: from 38.8 Hz (Eb1 -3 cents) to 119.8 Hz (Bb2 +48 cents) with this skin, lace and size
            write: pull: 17 N
            """,
        )
        high = changed(voice_pull="900 N")
        (finding,) = [item for item in findings_of(high) if item.name == "voice-out-of-reach"]
        assert finding.write == "pull: 152 N"
        assert names_in(mended(high, finding)) == []

    def test_no_pitch_in_reach(self, tmp_path: Path) -> None:
        """A skin as weak as that tears before it sounds: no number helps."""
        found = findings_with_hides(tmp_path, changed(voice_pitch="C1"), "{goat: {stitch_tear: 5 N/mm}}")
        assert told(named("voice-out-of-reach", found)).splitlines()[3:] == [
            "allowed: no pitch at all: with its safety skin or lace tears before the head is tight enough to sound",
            "write:",
        ]

    def test_lowest_is_where_tension_is_least(self) -> None:
        w = read_workings(spec_text(changed(voice_pitch="Eb1")))
        assert w["voice.tension"] > SLACKEST_N_M
        assert findings_of(changed(voice_pitch="Eb1")) == ()
        assert names_in(changed(voice_pitch="D1")) == ["voice-out-of-reach"]

    def test_none_is_wanted(self) -> None:
        """Without a pitch or a pull nothing is said of forces."""
        assert findings_of(changed()) == ()


class TestBent:
    def test_error(self) -> None:
        assert_told(
            "hoop-bent-tight",
            changed(frame_make="bent", frame_wall="15 mm", head_turnover="50 mm"),
            """\
            error hoop-bent-tight at wall: 15 mm
            The hoop is bent too tight for its thickness: hardly any piece of wood stands it
            found: 15 mm, bent to a radius of 150.1 mm inside
            allowed: at most 9.7 mm: a sixteenth of the radius inside, with strap and end pressure
            write: wall: 9.5 mm
            """,
        )

    @pytest.mark.parametrize(("diameter", "severity"), [("260 mm", Severity.WARNING), ("259.99 mm", Severity.ERROR)])
    def test_limit_of_the_error(self, diameter: str, severity: Severity) -> None:
        """10 mm of wall bent to 120 mm inside."""
        fields = changed(frame_diameter=diameter, stations_count=8, frame_make="bent", frame_wall="10 mm")
        (finding,) = found_by("hoop-bent-tight", fields)
        assert finding.severity is severity

    def test_oval_counts_at_its_ends(self) -> None:
        """18 by 12 in bends at its ends to 6^2 / 9 = 4 in, 101.6 mm: a seventeenth of that is 5.98 mm."""
        thin = oval("18 in", "12 in", frame_make="bent", frame_wall="5.97 mm", stations_web="15 mm")
        assert "hoop-bent-tight" not in names_in(thin)
        assert "hoop-bent-tight" in names_in({**thin, "frame.wall": "5.98 mm"})

    def test_frames_that_are_not_bent(self) -> None:
        for make in ("bought", "staves"):
            assert findings_of(changed(frame_make=make, frame_wall="14 mm", head_turnover="45 mm")) == ()


@pytest.mark.parametrize(
    "fields",
    [
        changed(voice_pitch="A2"),
        changed(frame_diameter="10 in", head_hide="sheep", stations_count=10, voice_pitch="A2"),
        changed(frame_diameter="16 in", head_hide="deer", voice_pitch="D2"),
        changed(frame_diameter="16 in", head_hide="deer", voice_pitch="E2"),
        changed(
            frame_diameter="20 in", frame_wall="11 mm", head_hide="cow", head_turnover="2 in", stations_count=20,
            voice_pitch="A1",
        ),
    ],
    ids=["goat 13 in A2", "sheep 10 in A2", "deer 16 in D2", "deer 16 in E2", "cow 20 in A1"],
)  # fmt: skip
def test_ordinary_drums_are_in_order(fields: Fields) -> None:
    assert not CASES.keys() & names_in(fields)


def test_large_drum_on_a_usual_wall_is_only_noted() -> None:
    fields = changed(frame_diameter="20 in", head_hide="cow", stations_count=20, voice_pitch="A1")
    assert CASES.keys() & names_in(fields) == {"pull-on-frame"}


@st.composite
def pulled_drums(draw: st.DrawFn) -> Fields:
    """Draw round drums with a voice, sensible or not."""
    pitch = st.integers(20, 400).map(lambda hz: f"{hz} Hz") | st.sampled_from(("E1", "A1", "D2", "A2", "C#3", "A3"))
    pull = st.integers(1, 900).map(lambda newtons: f"{newtons} N")
    voice: dict[str, Leaf] = {"voice.pitch": draw(pitch)} if draw(st.booleans()) else {"voice.pull": draw(pull)}
    return {
        **changed(
            frame_diameter=f"{draw(st.integers(200, 600))} mm",
            frame_wall=f"{draw(st.integers(3, 20))} mm",
            frame_make=draw(st.sampled_from(("bent", "bought"))),
            head_hide=draw(st.sampled_from(("goat", "sheep", "deer", "cow"))),
            stations_count=2 * draw(st.integers(4, 12)),
            lace_width=f"{draw(st.integers(4, 10))} mm",
            voice_wet_share=f"{draw(st.integers(5, 100))} %",
            voice_safety=f"{draw(st.integers(100, 300))} %",
            bench_units=draw(st.sampled_from(("metric", "inch"))),
        ),
        **voice,
    }


@settings(max_examples=150, deadline=None)
@given(pulled_drums())
def test_what_to_write_mends(fields: Fields) -> None:
    """It is taken by the schema and clears the finding, whatever the drum."""
    spec, found = resolve(stdin_chain(spec_text(fields).encode()))
    assert spec is not None, found
    findings = [finding for finding in hold_rules(start_workings(spec)) if finding.name in CASES and finding.write]
    assume(findings)
    for finding in findings:
        event(finding.name)
        assert finding.name not in names_in(mended(fields, finding)), finding
