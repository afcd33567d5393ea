"""Each rule with cases beside each other: one that breaks it, one that keeps it, one at its limit."""

from __future__ import annotations

import importlib.util
from collections.abc import Iterator
from pathlib import Path

import pytest

from drums import changed
from rule_cases import GATES, Cases, RuleLaws, findings_in_shop, findings_of, found_by, is_held
from tauthide.findings import Severity
from tauthide.rules.registry import RULES
from tauthide.rules.rule import Rule, drum_of

SHALLOW = changed(frame_depth="15 mm")
SMALL = changed(frame_diameter="200 mm", stations_count=4)

CASES = {
    "edge-rounding-too-large": Cases(
        breaks=changed(frame_edge_radius="9 mm"),
        says="""\
            error edge-rounding-too-large at edge_radius: 9 mm
            The edges cannot be rounded that much: the wall is too thin or the frame too shallow
            found: 9 mm
            allowed: at most 8 mm: the wall's thickness, and half the depth
            write: edge_radius: 8 mm
            """,
        limit=changed(SHALLOW, frame_edge_radius="7.5 mm"),
        beyond=changed(SHALLOW, frame_edge_radius="7.51 mm"),
        keeps=changed(frame_edge_radius="3 mm"),
    ),
    "web-gone": Cases(
        breaks=changed(stations_pair_spacing="9 mm"),
        says="""\
            error web-gone at pair_spacing: 9 mm
            With holes of 10 mm this pair spacing leaves no web between the holes of a pair
            found: 9 mm
            allowed: more than a hole: at least 12 mm
            write: pair_spacing: 12 mm
            """,
        limit=changed(stations_pair_spacing="12 mm"),
        beyond=changed(stations_pair_spacing="11.99 mm"),
        keeps=changed(stations_pair_spacing="28 mm"),
    ),
    "margin-gone": Cases(
        breaks=changed(stations_edge_distance="3 mm", bench_units="inch"),
        says="""\
            error margin-gone at edge_distance: 3 mm
            Holes of 0.39 in at this edge distance cut the edge of the skin
            found: 0.12 in
            allowed: more than half a hole: at least 0.24 in
            write: edge_distance: 1/4 in
            """,
        limit=changed(stations_edge_distance="6 mm"),
        beyond=changed(stations_edge_distance="5.99 mm"),
        keeps=changed(stations_edge_distance="17 mm"),
    ),
    "holes-in-head": Cases(
        breaks=changed(SHALLOW, head_turnover="8 mm"),
        says="""\
            error holes-in-head at turnover: 8 mm
            The blank is too small for its holes: they would lie on the bearing edge or in the head itself
            found: 8 mm
            allowed: at least 9.1 mm with this margin and hole
            write: turnover: 9.5 mm
            """,
        # 15 mm of depth without its roundings, a quarter turn of 2.5 mm, and what lies outside the hole.
        limit=changed(SHALLOW, head_turnover="9.07301 mm"),
        beyond=changed(SHALLOW, head_turnover="9.073 mm"),
        keeps=changed(SHALLOW, head_turnover="40 mm"),
    ),
    "pair-too-wide": Cases(
        breaks=changed(SMALL, head_turnover="90 mm"),
        says="""\
            error pair-too-wide at turnover: 90 mm
            The holes come to lie so far inside the frame that a pair no longer fits there
            found: 90 mm, which puts the holes 73 mm inside the frame
            allowed: a turnover of at most 86 mm with this margin, hole and web
            write: turnover: 86 mm
            """,
        # A radius of 100 mm less a pair of 30 mm leaves 70 mm, and 17 mm lie outside the holes' middle.
        limit=changed(SMALL, head_turnover="86.999 mm"),
        beyond=changed(SMALL, head_turnover="87 mm"),
        keeps=changed(SMALL, head_turnover="40 mm"),
    ),
    "pairs-run-together": Cases(
        breaks=changed(stations_count=24),
        says="""\
            error pairs-run-together at count: 24
            Hole pairs run into the next station on the frame
            found: 24 stations, which leaves -2.9 mm between pairs
            allowed: more than 0 between the holes of neighbouring stations
            write: count: 16
            """,
        limit=changed(stations_count=22, stations_web="20.43 mm"),
        beyond=changed(stations_count=22, stations_web="20.53 mm"),
        keeps=changed(),
    ),
    "pairs-close": Cases(
        breaks=changed(stations_count=26, stations_web="14 mm", head_turnover="12 mm", frame_depth="20 mm"),
        says="""\
            warning pairs-close at count: 26
            Neighbouring pairs lie closer on the blank than the holes of a pair
            found: 9.5 mm of skin between pairs
            allowed: at least the web, 14 mm
            write: count: 22
            warning pairs-close at count: 26
            On the frame neighbouring pairs leave less than a hole's width for the puckers between them
            found: 5.4 mm between pairs
            allowed: at least a hole's width, 10 mm
            write: count: 22
            """,
        limit=changed(stations_count=18, stations_web="19.5 mm"),
        beyond=changed(stations_count=18, stations_web="19.8 mm"),
        keeps=changed(),
    ),
    "hole-over-back-edge": Cases(
        breaks=changed(head_turnover="28 mm"),
        says="""\
            warning hole-over-back-edge at turnover: 28 mm
            The holes come to lie over the wood of the back edge, where there is no room to thread
            found: 28 mm, which puts the holes' middle 11 mm inside the wall's outer face
            allowed: at least 30 mm with this wall, margin and hole
            write: turnover: 30 mm
            """,
        limit=changed(head_turnover="30 mm"),
        beyond=changed(head_turnover="29.99 mm"),
        keeps=changed(head_turnover="12 mm"),
    ),
}

BY_NAME = {rule.name: rule for rule in RULES}


def listed() -> Iterator[tuple[str, Cases]]:
    """Yield the cases that the test modules beside this one list, with their rules' names."""
    for path in sorted(Path(__file__).parent.glob("test_rules_*.py")):
        source = importlib.util.spec_from_file_location(f"listed_{path.stem}", path)
        assert source is not None
        assert source.loader is not None
        module = importlib.util.module_from_spec(source)
        source.loader.exec_module(module)
        yield from getattr(module, "CASES", {}).items()


def test_every_rule_has_cases() -> None:
    """Those that break it, that keep it, and at its limit: once each."""
    assert sorted(name for name, _ in listed()) == sorted(BY_NAME)


@pytest.mark.parametrize(("name", "cases"), CASES.items(), ids=list(CASES))
class TestEachRule(RuleLaws):
    """The cases above."""


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
class TestEachPage:
    """What a rule says of itself."""

    def test_name(self, rule: Rule) -> None:
        assert rule.name == rule.name.lower()
        assert set(rule.name) <= set("abcdefghijklmnopqrstuvwxyz-")

    def test_words(self, rule: Rule) -> None:
        for words in (rule.why, rule.mend):
            assert words.endswith(".")
            assert len(words) > 20
        assert rule.source

    def test_severity(self, rule: Rule) -> None:
        """A gate that only warned would let through what the geometry can't do."""
        assert not rule.gate or rule.severity is Severity.ERROR
        assert rule.gate == (rule.name in GATES)

    def test_failing_example(self, rule: Rule) -> None:
        (finding, *_) = found_by(rule.name, drum_of(rule.failing))
        assert finding.severity is rule.severity

    def test_passing_example(self, rule: Rule) -> None:
        assert found_by(rule.name, drum_of(rule.passing)) == ()
        assert is_held(drum_of(rule.passing))


def test_what_to_write_is_said() -> None:
    for name, cases in CASES.items():
        assert all(each.write for each in found_by(name, cases.breaks))


def test_pairs_are_not_brought_apart_by_too_few_stations() -> None:
    """At most 110 mm of rim for each station (workshop practice, no published source): ten for 1037 mm."""
    wide = changed(stations_count=10, stations_web="62 mm")
    assert [(item.name, item.write) for item in findings_of(wide) if "pairs" in item.name] == [("pairs-close", "")]


def test_gates_stand_first() -> None:
    gates = [rule.gate for rule in RULES]
    assert gates == sorted(gates, reverse=True)
    assert len(BY_NAME) == len(RULES)


def test_nothing_is_asked_behind_a_broken_gate() -> None:
    """The holes would lie over the back edge, too, but where they lie is not to be relied on."""
    broken = changed(frame_edge_radius="9 mm", head_turnover="28 mm")
    assert [finding.name for finding in findings_of(broken)] == ["edge-rounding-too-large"]


def test_a_default_is_told_at_its_part() -> None:
    """Where the field that must change is not in the spec, the finding stands at its part and says so."""
    fields = changed(SHALLOW, stations_margin="45 mm")
    (finding,) = findings_of(fields)
    assert (finding.name, finding.path) == ("holes-in-head", "head.turnover")
    assert finding.place.text == "head:"
    assert finding.found.startswith("the default, ")


def test_what_the_shop_says_is_no_default(tmp_path: Path) -> None:
    """It is the maker's own, and may well be measured: only what is built in is called a default."""
    fields = changed(SHALLOW, stations_margin="45 mm")
    (finding,) = findings_in_shop(tmp_path, "shop: 1\nhead: {turnover: 41 mm}\n", fields)
    assert (finding.name, finding.path) == ("holes-in-head", "head.turnover")
    assert finding.found == "by the shop file, 41 mm"


def test_what_a_shop_measured_of_a_hide_is_no_default(tmp_path: Path) -> None:
    shop = "shop: 1\nhides: {goat: {hole: 4 mm}}\n"
    (finding,) = (item for item in findings_in_shop(tmp_path, shop, changed()) if item.name == "hole-tight")
    assert finding.found.startswith("by the shop file, 4 mm for a lace")
