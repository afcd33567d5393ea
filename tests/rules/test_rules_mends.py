"""What a finding says to write mends what it found, whatever the drum."""

from __future__ import annotations

from collections.abc import Mapping

import pytest
from hypothesis import assume, event, example, given, settings
from hypothesis import strategies as st

from drums import Fields, Leaf, changed, drums, mm, spec_text
from tauthide.findings import Finding, has_errors
from tauthide.quantities.figures import start_workings
from tauthide.rules.registry import RULES, hold_rules
from tauthide.rules.rule import Rule, drum_of
from tauthide.spec.chain import stdin_chain
from tauthide.spec.resolving import resolve


def lengths(least: float, most: float) -> st.SearchStrategy[str]:
    """Draw lengths in tenths of a millimetre, or in sixteenths of an inch."""
    in_mm = st.integers(int(least * 10), int(most * 10)).map(lambda tenths: mm(tenths / 10))
    in_inches = st.integers(int(least / 25.4 * 16) + 1, int(most / 25.4 * 16)).map(lambda parts: f"{parts / 16} in")
    return in_mm | in_inches


@st.composite
def hard_drums(draw: st.DrawFn) -> Fields:
    """Draw drums that a hasty maker might write: the schema takes them, the rules often do not."""
    fields: dict[str, Leaf] = dict(draw(st.sampled_from(OUTLINES)))
    for path in fields:
        if path in SIZES:
            fields[path] = draw(lengths(100, 500))
    fields["frame.depth"] = draw(lengths(15, 80))
    fields["head.hide"] = draw(st.sampled_from(("goat", "sheep", "cow")))
    fields["stations.count"] = 2 * draw(st.integers(2, 32))
    for path, least, most in OPTIONAL:
        if draw(st.booleans()):
            fields[path] = draw(lengths(least, most))
    for one, other in (("stations.web", "stations.pair_spacing"), ("stations.margin", "stations.edge_distance")):
        if one in fields:
            fields.pop(other, None)
    for path, choices in CHOICES.items():
        if draw(st.booleans()):
            fields[path] = draw(st.sampled_from(choices))
    fields["bench.units"] = draw(st.sampled_from(("metric", "inch")))
    return fields


SIZES = ("frame.diameter", "frame.length", "frame.width", "frame.across_flats")
OUTLINES: tuple[Fields, ...] = (
    {"frame.outline": "round", "frame.diameter": ""},
    {"frame.outline": "oval", "frame.length": "", "frame.width": ""},
    {"frame.outline": "polygon", "frame.sides": 8, "frame.across_flats": ""},
    {"frame.outline": "polygon", "frame.sides": 3, "frame.across_flats": ""},
)
OPTIONAL = (
    ("frame.edge_radius", 1, 15),
    ("frame.wall", 4, 20),
    ("head.turnover", 5, 120),
    ("stations.hole", 4, 15),
    ("stations.web", 5, 40),
    ("stations.pair_spacing", 5, 50),
    ("stations.margin", 4, 30),
    ("stations.edge_distance", 2, 40),
    ("head.thickness", 0.3, 4),
    ("head.dry_thickness", 0.3, 3),
    ("lace.width", 2, 25),
    ("lace.thickness", 0.3, 5),
    ("lace.play", 0, 80),
    ("lace.tab_length", 10, 60),
    ("lace.tab_width", 5, 80),
    ("lace.tail", 0, 300),
    ("lace.core", 2, 40),
)
CHOICES: Mapping[str, tuple[Leaf, ...]] = {
    "stations.marking": ("fold", "step", "tape"),
    "bench.punches": ("[6 mm, 8 mm]", "[1/2 in, 4 mm, 3/8 in]", "[20 mm, 10.1 mm]"),
    "lace.allowance": ("0 %", "2.5 %", "8 %"),
    "voice.pull": ("40 N", "120 N", "160 N", "400 N"),
    "voice.wet_share": ("30 %", "100 %"),
    "voice.safety": ("100 %", "250 %"),
    "frame.make": ("bent", "staves"),
    "head.stretch": ("0 %", "8 %"),
    "handle.arms": (0, 1, 2, 3, 6),
    "lace.hide": ("goat", "cow"),
    "bench.water": ("30.1 C", "45 C", "86.5 F"),
    "bench.air": ("4 C", "29 C", "83 F", "100 F"),
    "bench.humidity": ("10 %", "34.9 %", "75.1 %", "95 %"),
    "tolerances.play": ("0 mm", "15 mm"),
    "tolerances.turnover": ("0 mm", "12 mm"),
}


def look(fields: Fields) -> tuple[Finding, ...] | None:
    """Return what the rules find; None where the schema has something to say already."""
    spec, findings = resolve(stdin_chain(spec_text(fields).encode()))
    return None if spec is None or findings else hold_rules(start_workings(spec))


def mended(fields: Fields, finding: Finding) -> Fields:
    """Return the fields with what a finding says to write put in its place."""
    key, value = finding.write.split(": ")
    part, field = finding.path.split(".")
    assert key == field
    return {**fields, f"{part}.{field}": int(value) if value.isdigit() else value}


def check_mends(fields: Fields) -> None:
    """Assert that each finding's mend is taken by the schema, and clears that finding."""
    for finding in look(fields) or ():
        if finding.write:
            after = look(mended(fields, finding))
            assert after is not None, finding
            assert (finding.name, finding.path) not in [(left.name, left.path) for left in after], finding


class TestMends:
    """What is to be written is taken by the schema, and clears the finding."""

    @settings(max_examples=200, deadline=None)
    @given(hard_drums())
    @example(changed(frame_edge_radius="9 mm"))
    def test_of_hasty_drums(self, fields: Fields) -> None:
        for finding in look(fields) or ():
            event(finding.name)
        check_mends(fields)

    @settings(max_examples=60, deadline=None)
    @given(drums(most=32), st.sampled_from(("metric", "inch")))
    def test_of_careful_drums(self, fields: Fields, units: str) -> None:
        """No rule refuses them, but some have something to say."""
        check_mends({**fields, "bench.units": units})

    @settings(max_examples=60, deadline=None)
    @given(drums(outlines=("round",), most=24), st.integers(101, 140), st.integers(5, 100))
    def test_of_drums_pulled_too_hard(self, fields: Fields, percent: int, wet_share: int) -> None:
        """By a little more than their skin holds: what a wider web may mend."""
        silent = {path: leaf for path, leaf in fields.items() if not path.startswith("voice.")}
        gentle = {**silent, "voice.pull": "1 N", "voice.wet_share": f"{wet_share} %"}
        spec, _ = resolve(stdin_chain(spec_text(gentle).encode()))
        assert spec is not None
        w = start_workings(spec)
        pull = percent / 100 / max(w["hold.use_dry"], w["hold.use_wet"])
        assume(1 <= pull <= 5000)
        hard = {**gentle, "voice.pull": f"{pull:.6f} N"}
        event(f"wider web: {'web-small-for-pull' in [finding.name for finding in look(hard) or ()]}")
        check_mends(hard)

    @pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
    @pytest.mark.parametrize("units", ["metric", "inch"])
    def test_of_the_examples(self, rule: Rule, units: str) -> None:
        check_mends({**drum_of(rule.failing), "bench.units": units})


MENDING = tuple(rule for rule in RULES if any(finding.write for finding in look(drum_of(rule.failing)) or ()))
"""The rules whose findings say what to write."""


class TestMendsOfEachRule:
    """Rules that other drums seldom break are broken on purpose, in drums that are odd in other ways, too."""

    @pytest.mark.parametrize("rule", MENDING, ids=lambda rule: rule.name)
    @settings(max_examples=8, deadline=None)
    @given(fields=hard_drums())
    def test_in_an_odd_drum(self, rule: Rule, fields: Fields) -> None:
        check_mends(broken(rule, fields))

    @pytest.mark.parametrize("rule", MENDING, ids=lambda rule: rule.name)
    def test_is_not_passed_over(self, rule: Rule) -> None:
        """The fields that break the rule do so in some of the drums that `test_in_an_odd_drum` draws from."""
        found = look(broken(rule, {"frame.depth": "55 mm", "head.hide": "goat", "stations.count": 16}))
        assert any(finding.name == rule.name and finding.write for finding in found or ())


def broken(rule: Rule, fields: Fields) -> Fields:
    """Return a drum with the fields laid over it that break a rule; its outline and pull stay the only ones."""
    failing = drum_of(rule.failing)
    rivals = {"stations.web": "stations.pair_spacing", "stations.margin": "stations.edge_distance"}
    rivals["voice.pitch"] = "voice.pull"
    rivals |= {other: one for one, other in rivals.items()}
    kept = {
        path: leaf
        for path, leaf in fields.items()
        if path not in SIZES and path not in ("frame.outline", "frame.sides") and rivals.get(path) not in rule.failing
    }
    return {**failing, **kept, **rule.failing}


def follow(fields: Fields) -> tuple[int, tuple[Finding, ...]]:
    """Write what the first error says, again and again; return how often, and what is left."""
    for times in range(10):
        findings = look(fields) or ()
        errors = [finding for finding in findings if has_errors([finding]) and finding.write]
        if not errors:
            return times, findings
        fields = mended(fields, errors[0])
    raise AssertionError(f"mends go round in a circle: {fields}")


@settings(max_examples=200, deadline=None)
@given(hard_drums())
def test_mends_come_to_an_end(fields: Fields) -> None:
    """Two rules may want opposite things; a maker who does as told must not be sent back and forth for ever."""
    assume(look(fields) is not None)
    follow(fields)
