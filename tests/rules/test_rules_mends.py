"""What a finding says to write mends what it found, whatever the drum."""

from __future__ import annotations

from hypothesis import assume, event, example, given, settings
from hypothesis import strategies as st

from drums import Fields, Leaf, changed, mm, spec_text
from tauthide.findings import Finding, has_errors
from tauthide.quantities.figures import start_workings
from tauthide.rules.registry import hold_rules
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
)


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


class TestMends:
    """What is to be written is taken by the schema, and clears the finding."""

    @settings(max_examples=200, deadline=None)
    @given(hard_drums())
    @example(changed(frame_edge_radius="9 mm"))
    def test_each(self, fields: Fields) -> None:
        findings = look(fields)
        assume(findings)
        for finding in findings or ():
            event(finding.name)
            if not finding.write:
                continue
            after = look(mended(fields, finding))
            assert after is not None, finding
            assert finding.name not in [left.name for left in after], finding


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
