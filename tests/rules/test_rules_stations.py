"""Rules of stations, holes and marking: cases that break each, keep it, and lie at its limit."""

from __future__ import annotations

from pathlib import Path

import pytest

from drums import Fields, changed
from rule_cases import Cases, RuleLaws, findings_in_shop, findings_of, found_by, told
from tauthide.findings import Severity

UNROUND: Fields = {"frame.depth": "55 mm", "head.hide": "deer"}
OCTAGON = changed(UNROUND, frame_outline="polygon", frame_sides=8, frame_across_flats="14 in", stations_count=16)
SQUARE = changed(OCTAGON, frame_sides=4, frame_across_flats="220 mm", stations_count=8)
TRIANGLE = changed(OCTAGON, frame_sides=3, frame_across_flats="300 mm")
EIGHT_ON_A_TRIANGLE = changed(TRIANGLE, stations_count=8, stations_pair_spacing="30 mm", stations_edge_distance="17 mm")
OVAL = changed(UNROUND, frame_outline="oval", frame_length="16 in", frame_width="13 in", stations_count=16)
COW = changed(head_hide="cow", frame_diameter="22 in", stations_web="16 mm", stations_count=20)

CASES = {
    "few-stations": Cases(
        breaks=changed(stations_count=8),
        says="""\
            warning few-stations at count: 8
            Too few stations for this rim: the head goes slack between them
            found: 8 stations, 129.7 mm of rim each
            allowed: at most 110 mm of rim for each station
            write: count: 10
            """,
        # A square of 220 mm has 880 mm of rim.
        limit=changed(SQUARE),
        beyond=changed(SQUARE, frame_across_flats="220.01 mm"),
        keeps=changed(),
    ),
    "many-stations": Cases(
        breaks=changed(stations_count=26, stations_web="12 mm", bench_units="inch"),
        says="""\
            warning many-stations at count: 26
            More stations than this rim needs: every hole weakens the skin
            found: 26 stations, 1.57 in of rim each
            allowed: at least 1.78 in of rim for each station
            write: count: 20
            """,
        limit=changed(SQUARE, frame_across_flats="180 mm", stations_count=16, stations_web="6 mm"),
        beyond=changed(SQUARE, frame_across_flats="179.99 mm", stations_count=16, stations_web="6 mm"),
        keeps=changed(),
    ),
    "gather-great": Cases(
        breaks=changed(frame_depth="80 mm", stations_count=10),
        says="""\
            warning gather-great at count: 10
            So much skin gathers between neighbouring stations that the puckers fold over each other
            found: 10 stations, 79.1 mm taken up between each and the next
            allowed: at most 75 mm between stations
            write: count: 12
            """,
        # 2 pi / 10 of depth + 2 x 40 - 2 x 17 mm, less 0.146 mm that the rounded edges save.
        limit=changed(frame_depth="73.51 mm", stations_count=10),
        beyond=changed(frame_depth="73.52 mm", stations_count=10),
        keeps=changed(),
    ),
    "polygon-uneven-sides": Cases(
        breaks=changed(OCTAGON, stations_count=18),
        says="""\
            warning polygon-uneven-sides at count: 18
            The sides of the frame get unequal numbers of stations
            found: 18 stations on 8 sides
            allowed: an even multiple of 8
            write: count: 16
            """,
        limit=changed(OCTAGON),
        beyond=changed(OCTAGON, stations_count=14),
        keeps=changed(stations_count=14),
    ),
    "polygon-odd-opposite": Cases(
        breaks=changed(OCTAGON, frame_sides=7, stations_count=14),
        says="""\
            warning polygon-odd-opposite at sides: 7
            Opposite the middle of a side lies a corner: no station has one opposite that is like it
            found: 7 sides
            allowed: an even number of sides
            write:
            """,
        limit=changed(OCTAGON),
        beyond=changed(OCTAGON, frame_sides=9, stations_count=18),
        keeps=changed(),
    ),
    "span-along-side": Cases(
        breaks=changed(TRIANGLE, stations_count=6),
        says="""\
            warning span-along-side at count: 6
            The span from station 4 to station 2 runs along the rim, over a hole of station 3
            found: 6 stations
            allowed: a count with which every span runs clear across the back
            write: count: 12
            """,
        # The nearest span passes 6.826 mm from the middle of a hole.
        limit=changed(EIGHT_ON_A_TRIANGLE, stations_hole="13.65 mm"),
        beyond=changed(EIGHT_ON_A_TRIANGLE, stations_hole="13.66 mm"),
        keeps=changed(TRIANGLE, stations_count=12),
    ),
    "web-small-for-hole": Cases(
        breaks=changed(stations_pair_spacing="19 mm", bench_units="inch"),
        says="""\
            warning web-small-for-hole at pair_spacing: 19 mm
            The web is narrower than the holes beside it
            found: 0.75 in, which leaves a web of 0.35 in
            allowed: a web of at least 0.4 in, the width of a hole
            write: pair_spacing: 13/16 in
            """,
        limit=changed(stations_web="10 mm"),
        beyond=changed(stations_web="9.99 mm"),
        keeps=changed(),
    ),
    "web-small-for-skin": Cases(
        breaks=changed(stations_web="14 mm"),
        says="""\
            warning web-small-for-skin at web: 14 mm
            The web is narrow for skin of 1 mm when wet
            found: 14 mm
            allowed: a web of at least 15 mm for skin below 1.2 mm, 12 mm from there on
            write: web: 15 mm
            """,
        limit=changed(stations_web="12 mm", head_thickness="1.2 mm"),
        beyond=changed(stations_web="12 mm", head_thickness="1.19 mm"),
        keeps=changed(),
    ),
    "web-small-for-pull": Cases(
        breaks=changed(voice_pull="155 N"),
        says="""\
            warning web-small-for-pull at stations:
            The web is too small for this pull: dry, 102 % of its strength by the stitch tear test in use (estimate)
            found: the default, 20 mm
            allowed: a web of at least 20.6 mm, which brings that to at most 100 % with safety
            write: web: 21 mm
            """,
        # 110 N/mm x 0.6 mm x (20 + 24 / sqrt 3) / (4 + 10 / sqrt 3) = 228.631 N, over a safety of 1.5.
        limit=changed(voice_pull="152.42 N"),
        beyond=changed(voice_pull="152.43 N"),
        keeps=changed(voice_pull="120 N"),
    ),
    "margin-small": Cases(
        breaks=changed(stations_edge_distance="12 mm"),
        says="""\
            warning margin-small at edge_distance: 12 mm
            Too little skin is left between the holes and its edge
            found: 12 mm, which leaves a margin of 7 mm
            allowed: a margin of at least 8 mm
            write: edge_distance: 13 mm
            """,
        limit=changed(stations_margin="8 mm"),
        beyond=changed(stations_margin="7.99 mm"),
        keeps=changed(),
    ),
    "holes-below-sheet-rule": Cases(
        breaks=changed(stations_pair_spacing="22 mm", stations_edge_distance="11 mm"),
        says="""\
            note holes-below-sheet-rule at edge_distance: 11 mm
            The holes lie nearer to the edge of the skin than bolt holes in sheet metal may
            found: 11 mm, which leaves a margin of 6 mm
            allowed: a margin of at least 7 mm: 1.2 holes from the holes' middle to the edge
            write: edge_distance: 12 mm
            note holes-below-sheet-rule at pair_spacing: 22 mm
            The holes of a pair lie nearer to each other than bolt holes in sheet metal may
            found: 22 mm, which leaves a web of 12 mm
            allowed: a web of at least 14 mm: 2.4 holes from middle to middle
            write: pair_spacing: 24 mm
            """,
        limit=changed(stations_pair_spacing="24 mm", stations_edge_distance="12 mm"),
        beyond=changed(stations_pair_spacing="24 mm", stations_edge_distance="11.99 mm"),
        keeps=changed(),
    ),
    "turnover-on-wood": Cases(
        breaks=changed(head_turnover="7 mm"),
        says="""\
            warning turnover-on-wood at turnover: 7 mm
            The edge of the skin ends on the wood of the back, which it should clear
            found: 7 mm on a wall of 8 mm
            allowed: at least 10 mm with this wall, margin and hole
            write: turnover: 10 mm
            """,
        limit=changed(head_turnover="10 mm"),
        beyond=changed(head_turnover="9.99 mm"),
        keeps=changed(),
    ),
    "fold-thick-skin": Cases(
        breaks=changed(COW, stations_marking="fold"),
        says="""\
            warning fold-thick-skin at marking: fold
            Skin as thick as this does not fold to a line
            found: fold, with skin of 3.2 mm when wet
            allowed: folding up to 2 mm; steps or a running tape beyond
            write: marking: step
            """,
        limit=changed(head_thickness="2 mm", stations_marking="fold"),
        beyond=changed(head_thickness="2.01 mm", stations_marking="fold"),
        keeps=changed(COW, stations_marking="step"),
    ),
    "many-steps": Cases(
        breaks=changed(COW, stations_count=24, stations_marking="step"),
        says="""\
            warning many-steps at marking: step
            Stepped 24 times, a chord wrong by 1 mm is out by 24 mm at the end
            found: step, with 24 stations
            allowed: stepping up to 20 stations; a running tape beyond
            write: marking: tape
            """,
        limit=changed(COW, stations_marking="step"),
        beyond=changed(COW, stations_count=22, stations_marking="step"),
        keeps=changed(COW, stations_count=24, stations_marking="tape"),
    ),
    "steps-off-round": Cases(
        breaks=changed(OVAL, stations_marking="step"),
        says="""\
            warning steps-off-round at marking: step
            Equal steps do not give equal shares of a rim that is not round: the sheet marks the frame with a tape
            found: step, on an oval
            allowed: stepping on round frames; a running tape or folds elsewhere
            write: marking: tape
            """,
        limit=changed(stations_marking="step"),
        beyond=changed(OCTAGON, stations_marking="step"),
        keeps=changed(OVAL, stations_marking="tape"),
    ),
}


@pytest.mark.parametrize(("name", "cases"), CASES.items(), ids=list(CASES))
class TestEachRule(RuleLaws):
    """The cases above."""


class TestCounts:
    """Counts to be written are ones with which the drum can be built."""

    def test_none_where_pairs_have_no_room(self) -> None:
        """More stations would take up the puckers, but their pairs would run together."""
        (finding,) = found_by("gather-great", changed(frame_depth="150 mm", stations_count=10))
        assert finding.write == ""

    def test_none_beyond_what_a_spec_takes(self) -> None:
        """A triangle of 2 m has 10.39 m of rim: 95 stations, where 64 are the most."""
        (finding,) = found_by("few-stations", changed(TRIANGLE, frame_across_flats="2 m", stations_count=12))
        assert finding.write == ""

    @pytest.mark.parametrize(("count", "write"), [(4, "count: 16"), (12, "count: 16"), (38, "count: 32")])
    def test_sides_get_as_many(self, count: int, write: str) -> None:
        """Of the counts that suit the rim of an octagon those come first that its sides divide."""
        names = ("few-stations", "many-stations")
        large = changed(OCTAGON, frame_across_flats="20 in", stations_web="12 mm", stations_count=count)
        assert [each.write for each in findings_of(large) if each.name in names] == [write]

    def test_nearest_and_of_two_the_larger(self) -> None:
        """20 lies midway between 16 and 24."""
        wide = changed(OCTAGON, frame_across_flats="20 in", stations_count=20)
        (finding,) = found_by("polygon-uneven-sides", wide)
        assert finding.write == "count: 24"


class TestWebForSkin:
    """A thin skin wants more."""

    @pytest.mark.parametrize(
        ("thickness", "web", "found"),
        [
            ("1.19 mm", "15 mm", False),
            ("1.19 mm", "14.99 mm", True),
            ("1.2 mm", "12 mm", False),
            ("1.2 mm", "11.99 mm", True),
        ],
    )
    def test_limits(self, thickness: str, web: str, found: bool) -> None:
        fields = changed(head_thickness=thickness, stations_web=web)
        assert bool(found_by("web-small-for-skin", fields)) == found

    def test_thick(self) -> None:
        """Nothing is said of thin skin."""
        fields = changed(head_hide="cow", stations_hole="10 mm", stations_web="11 mm")
        (finding,) = found_by("web-small-for-skin", fields)
        assert (finding.allowed, finding.write) == ("a web of at least 12 mm", "web: 12 mm")


class TestWebForPull:
    """Only said where a wider web would do."""

    def test_too_much_for_any_web(self) -> None:
        """Twice the pull wants twice the block path: a web that leaves no room for puckers."""
        assert found_by("web-small-for-pull", changed(voice_pull="300 N")) == ()

    def test_pair_spacing(self) -> None:
        (finding,) = found_by("web-small-for-pull", changed(voice_pull="155 N", stations_pair_spacing="30 mm"))
        assert finding.found == "30 mm, which leaves a web of 20 mm"
        assert finding.write == "pair_spacing: 31 mm"

    def test_wet(self) -> None:
        """All of the pull is drawn in by hand; soaked, a quarter of the dry strength is left."""
        (finding,) = found_by("web-small-for-pull", changed(voice_pull="64 N", voice_wet_share="100 %"))
        assert finding.message.startswith("The web is too small for this pull: wet, 101 % of its strength")

    @pytest.mark.parametrize(
        ("measured", "severity"),
        [
            ("{stitch_tear: 110 N/mm}", Severity.ERROR),
            ("{dry_strength: 60 N/mm2, wet_strength: 15 N/mm2}", Severity.WARNING),
            ("{density: 1200 kg/m3}", Severity.WARNING),
        ],
    )
    def test_severity(self, tmp_path: Path, measured: str, severity: Severity) -> None:
        """An error once the strength that governs is the maker's own: here that of the stitch tear test."""
        shop = f"shop: 1\nhides:\n  goat: {measured}\n"
        found = findings_in_shop(tmp_path, shop, changed(voice_pull="155 N"))
        assert [each.severity for each in found if each.name == "web-small-for-pull"] == [severity]

    def test_wet_needs_all_its_strengths(self, tmp_path: Path) -> None:
        """The stitch tear test is made dry; what is left of it wet goes by both breaking stresses."""
        fields = changed(voice_pull="64 N", voice_wet_share="100 %")
        some = "shop: 1\nhides:\n  goat: {stitch_tear: 110 N/mm}\n"
        every = "shop: 1\nhides:\n  goat: {stitch_tear: 110 N/mm, dry_strength: 60 N/mm2, wet_strength: 15 N/mm2}\n"
        severities = [findings_in_shop(tmp_path, shop, fields)[0].severity for shop in (some, every)]
        assert severities == [Severity.WARNING, Severity.ERROR]

    def test_no_voice(self) -> None:
        """Without a pitch or a pull there is nothing to hold; nor off-round, where it is not known."""
        assert found_by("web-small-for-pull", changed(stations_web="15 mm")) == ()
        assert found_by("web-small-for-pull", changed(OVAL, voice_pull="500 N")) == ()


def test_turnover_clears_the_holes_too() -> None:
    """Past a wall of 20 mm by 2 mm the holes would lie over it: so they are brought inside it."""
    fields = changed(frame_wall="20 mm", head_turnover="11 mm")
    (finding,) = found_by("turnover-on-wood", fields)
    assert finding.write == "turnover: 42 mm"
    assert findings_of(changed(fields, head_turnover="42 mm")) == ()


def test_holes_over_the_wood_are_said_once() -> None:
    names = [finding.name for finding in findings_of(changed(frame_wall="30 mm", head_turnover="29 mm"))]
    assert names == ["hole-over-back-edge"]


def test_thick_skin_is_folded_no_more() -> None:
    """Off round the way is the tape, as it would be chosen."""
    thick = changed(OVAL, head_thickness="2.5 mm", stations_marking="fold", stations_count=14)
    assert told(found_by("fold-thick-skin", thick)).endswith("write: marking: tape")
