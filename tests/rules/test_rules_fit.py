"""Rules of what must fit: cases that break each, keep it, and lie at its limit."""

from __future__ import annotations

from pathlib import Path

import pytest

from drums import Fields, changed
from rule_cases import Cases, RuleLaws, findings_in_shop, found_by
from tauthide.findings import Severity

LONG_LACE = changed(
    frame_diameter="24 in",
    head_hide="cow",
    stations_count=24,
    stations_web="16 mm",
    lace_hide="sheep",
    lace_core="20 mm",
)

CASES = {
    "hole-tight": Cases(
        breaks=changed(stations_hole="4 mm"),
        says="""\
            warning hole-tight at hole: 4 mm
            The lace fills 64 % of its holes, more than 40 %
            found: 4 mm for a lace of 8 mm by 1 mm
            allowed: at least 5.1 mm, or a lace of at most 5 mm
            write: hole: 5.5 mm
            """,
        # Two fifths of a hole of 5.0463 mm are 8 mm2.
        limit=changed(stations_hole="5.047 mm"),
        beyond=changed(stations_hole="5.046 mm"),
        keeps=changed(),
    ),
    "hole-slack": Cases(
        breaks=changed(stations_hole="17 mm"),
        says="""\
            warning hole-slack at hole: 17 mm
            The holes are more than twice as wide as the lace
            found: 17 mm for a lace of 8 mm
            allowed: at most 16 mm, or a wider lace
            write: hole: 16 mm
            """,
        limit=changed(stations_hole="16 mm"),
        beyond=changed(stations_hole="16.01 mm"),
        keeps=changed(),
    ),
    "tab-wide": Cases(
        breaks=changed(lace_tab_width="45 mm"),
        says="""\
            note tab-wide at tab_width: 45 mm
            Doubled over, the tab is larger than its hole: pass the running end through first instead
            found: 45 mm, which makes 90 mm² doubled over
            allowed: at most 39.2 mm for a hole of 78.5 mm²
            write: tab_width: 39 mm
            """,
        # A hole of 10 mm has 78.54 mm2.
        limit=changed(lace_tab_width="39.26 mm"),
        beyond=changed(lace_tab_width="39.28 mm"),
        keeps=changed(),
    ),
    "punch-not-owned": Cases(
        breaks=changed(bench_punches="[1/2 in, 8 mm, 3/8 in]"),
        says="""\
            warning punch-not-owned at stations:
            None of your punches makes this hole
            found: the default, 10 mm; your punches: 8 mm, 3/8 in, 1/2 in
            allowed: a punch that you own, of at least 5.1 mm for this lace
            write: hole: 3/8 in
            """,
        limit=changed(bench_punches="[9.75 mm]"),
        beyond=changed(bench_punches="[9.74 mm]"),
        keeps=changed(),
    ),
    "play-small": Cases(
        breaks=changed(lace_play="2 mm"),
        says="""\
            warning play-small at play: 2 mm
            With so little play in the spans the frame cannot be centred
            found: 2 mm
            allowed: at least 5 mm
            write: play: 5 mm
            """,
        limit=changed(lace_play="5 mm"),
        beyond=changed(lace_play="4.99 mm"),
        keeps=changed(),
    ),
    "play-large": Cases(
        breaks=changed(lace_play="60 mm", bench_units="inch"),
        says="""\
            warning play-large at play: 60 mm
            So much play in the spans takes long to work out, and the frame slips meanwhile
            found: 2.36 in
            allowed: at most 1.57 in
            write: play: 1 9/16 in
            """,
        limit=changed(lace_play="40 mm"),
        beyond=changed(lace_play="40.01 mm"),
        keeps=changed(),
    ),
    "lace-beyond-disc": Cases(
        breaks=changed(LONG_LACE, lace_width="12 mm"),
        says="""\
            warning lace-beyond-disc at width: 12 mm
            No disc of this hide gives the lace in one piece
            found: 12 mm wide, which takes a disc of 522.8 mm
            allowed: at most 500 mm of sheep: cut it in 2 pieces of 8.50 m, each from a disc of 376.1 mm
            write:
            """,
        limit=changed(LONG_LACE, lace_width="10.961 mm"),
        beyond=changed(LONG_LACE, lace_width="10.962 mm"),
        keeps=changed(LONG_LACE, lace_width="9 mm"),
    ),
    "blank-beyond-hide": Cases(
        breaks=changed(frame_diameter="18 in"),
        says="""\
            warning blank-beyond-hide at hide: goat
            The blank is larger than a usual goat skin gives
            found: a diameter of 646.9 mm
            allowed: at most 550 mm: the largest sound disc of that hide
            write:
            """,
        # 2 x (55 + 40) mm round the frame, less 0.292 mm that the rounded edges save.
        limit=changed(frame_diameter="360.29 mm"),
        beyond=changed(frame_diameter="360.3 mm"),
        keeps=changed(),
    ),
    "handle-bundle-thick": Cases(
        breaks=changed(handle_arms=2, lace_width="12 mm", lace_thickness="4 mm", stations_hole="14 mm"),
        says="""\
            warning handle-bundle-thick at arms: 2
            The bundles of the handle get too thick to grip
            found: 2 arms, each 36.8 mm thick
            allowed: arms of at most 30 mm
            write: arms: 4
            """,
        limit=changed(handle_arms=4, lace_width="7.98065 mm", lace_thickness="8 mm"),
        beyond=changed(handle_arms=4, lace_width="7.98067 mm", lace_thickness="8 mm"),
        keeps=changed(),
    ),
    "tail-short": Cases(
        breaks=changed(lace_tail="100 mm"),
        says="""\
            warning tail-short at tail: 100 mm
            The tail is too short to hold on to and to hitch
            found: 100 mm
            allowed: at least 150 mm
            write: tail: 150 mm
            """,
        limit=changed(lace_tail="150 mm"),
        beyond=changed(lace_tail="149.9 mm"),
        keeps=changed(),
    ),
    "tab-short": Cases(
        breaks=changed(lace_tab_length="20 mm"),
        says="""\
            warning tab-short at tab_length: 20 mm
            The tab is too short to take the slit
            found: 20 mm
            allowed: at least 24 mm, 3 times the lace's width
            write: tab_length: 24 mm
            """,
        limit=changed(lace_tab_length="24 mm"),
        beyond=changed(lace_tab_length="23.99 mm"),
        keeps=changed(),
    ),
    "core-tight": Cases(
        breaks=changed(lace_core="8 mm"),
        says="""\
            warning core-tight at core: 8 mm
            The lace is cut too tightly round the middle of its disc
            found: 8 mm
            allowed: at least 12 mm, 1.5 times the lace's width
            write: core: 12 mm
            """,
        limit=changed(lace_core="12 mm"),
        beyond=changed(lace_core="11.99 mm"),
        keeps=changed(),
    ),
    "allowance-small": Cases(
        breaks=changed(lace_allowance="1 %"),
        says="""\
            warning allowance-small at allowance: 1 %
            So small an allowance leaves nothing for bends and an uneven cut
            found: 1 %
            allowed: at least 3 %
            write: allowance: 3 %
            """,
        limit=changed(lace_allowance="3 %"),
        beyond=changed(lace_allowance="2.99 %"),
        keeps=changed(),
    ),
    "dry-thicker-than-wet": Cases(
        breaks=changed(head_thickness="0.5 mm"),
        says="""\
            error dry-thicker-than-wet at head:
            The skin would be thicker dry than wet, but drying shrinks it
            found: the default, 0.6 mm
            allowed: at most the wet thickness, 0.5 mm
            write: dry_thickness: 0.3 mm
            """,
        limit=changed(head_thickness="0.6 mm"),
        beyond=changed(head_thickness="0.59 mm"),
        keeps=changed(),
    ),
}


@pytest.mark.parametrize(("name", "cases"), CASES.items(), ids=list(CASES))
class TestEachRule(RuleLaws):
    """The cases above."""


class TestHoleTight:
    """By area, by the lace curled up, and where it does not pass at all."""

    def test_curled(self) -> None:
        """A thin wide lace leaves more than half of the hole free, yet overlaps itself."""
        fields = changed(lace_width="14 mm", lace_thickness="0.3 mm", stations_hole="4 mm", lace_core="25 mm")
        (finding,) = found_by("hole-tight", fields)
        assert finding.severity is Severity.WARNING
        assert finding.message == "Curled into its hole, the lace overlaps itself"
        assert finding.allowed == "at least 4.8 mm, or a lace of at most 11.6 mm"
        assert finding.write == "hole: 5 mm"

    def test_larger_than_the_hole(self) -> None:
        (finding,) = found_by("hole-tight", changed(lace_thickness="3 mm", stations_hole="5 mm"))
        assert finding.severity is Severity.ERROR
        assert finding.message == "The lace cannot pass through its holes"
        assert finding.found == "5 mm for a lace of 8 mm by 3 mm"
        assert finding.write == "hole: 9 mm"

    def test_thicker_than_the_hole(self) -> None:
        """A lace of 1 by 3 mm has less than the area of its hole, but is thicker than that is wide."""
        fields = changed(lace_width="1 mm", lace_thickness="3 mm", stations_hole="2.5 mm")
        (finding,) = found_by("hole-tight", fields)
        assert finding.severity is Severity.ERROR
        assert finding.allowed == "at least 3.4 mm"

    def test_just_passing(self) -> None:
        """8 mm2 fill a hole of 3.19154 mm."""
        tight = [found_by("hole-tight", changed(stations_hole=hole)) for hole in ("3.191 mm", "3.192 mm")]
        assert [finding.severity for (finding,) in tight] == [Severity.ERROR, Severity.WARNING]


def test_no_hole_suits_a_lace_as_thick_as_wide() -> None:
    """A hole so small that the lace is not loose in it would be too tight for it."""
    fields = changed(lace_width="4 mm", lace_thickness="4 mm", stations_hole="9 mm")
    (finding,) = found_by("hole-slack", fields)
    assert finding.write == "hole: 8 mm"
    (finding,) = found_by("hole-slack", changed(fields, lace_thickness="8 mm"))
    assert finding.write == ""


class TestTab:
    """Doubled over, or flat."""

    def test_even_flat(self) -> None:
        (finding,) = found_by("tab-wide", changed(lace_tab_width="80 mm"))
        assert (
            finding.message == "Even flat, the tab is larger than its hole: pass the running end through first instead"
        )

    def test_no_tab_narrower_than_the_lace(self) -> None:
        (finding,) = found_by("tab-wide", changed(lace_thickness="2.5 mm", lace_tab_width="40 mm", lace_width="16 mm"))
        assert finding.write == ""


class TestPunches:
    """The nearest that is owned, never below the fit."""

    @pytest.mark.parametrize(
        ("punches", "write"),
        [
            ("[9 mm, 11 mm]", "hole: 9 mm"),
            ("[4 mm, 5 mm]", ""),
            ("[5 mm, 20 mm]", ""),
            ("[5.1 mm, 20 mm]", "hole: 5.1 mm"),
            ("[20 mm, 18 mm]", "hole: 18 mm"),
            ("[15 mm, 17 mm, 7 mm]", "hole: 7 mm"),
        ],
    )
    def test_nearest(self, punches: str, write: str) -> None:
        (finding,) = found_by("punch-not-owned", changed(bench_punches=punches))
        # A hole twice the lace's width is no mend, if there is another; here the only one left is.
        assert finding.write == (write or ("hole: 20 mm" if "20" in punches else ""))

    def test_none_listed(self) -> None:
        assert found_by("punch-not-owned", changed(stations_hole="9.3 mm")) == ()


def test_play_of_a_small_drum() -> None:
    """A quarter of the way from the middle to the rim."""
    (finding,) = found_by("play-large", changed(frame_diameter="200 mm", stations_count=8, lace_play="26 mm"))
    assert finding.allowed == "at most 25 mm, a quarter of the way from the middle to the rim"
    assert finding.write == "play: 25 mm"


class TestPieces:
    """In how many pieces the lace can be had."""

    def test_of_one_hide(self, tmp_path: Path) -> None:
        """The smaller the discs, the more pieces."""
        said = []
        for disc in ("500 mm", "300 mm", "100 mm"):
            shop = f"shop: 1\nhides:\n  sheep: {{disc: {disc}}}\n"
            found = findings_in_shop(tmp_path, shop, changed(LONG_LACE, lace_width="12 mm"))
            said += [finding.allowed for finding in found if finding.name == "lace-beyond-disc"]
        assert said == [
            "at most 500 mm of sheep: cut it in 2 pieces of 8.50 m, each from a disc of 376.1 mm",
            "at most 300 mm of sheep: cut it in 4 pieces of 4.30 m, each from a disc of 273.5 mm",
            "at most 100 mm of sheep: not even in 12 pieces",
        ]


def test_longest_of_an_oval_blank() -> None:
    """Its length counts, whichever way it lies."""
    fields = changed(frame_outline="oval", frame_length="13 in", frame_width="18 in")
    oval: Fields = {path: leaf for path, leaf in fields.items() if path != "frame.diameter"}
    (finding,) = found_by("blank-beyond-hide", oval)
    assert finding.found == "a width of 646.9 mm"


class TestThickness:
    """Whichever of the two the maker wrote, the other is to be mended; of both, the dry one."""

    @pytest.mark.parametrize(
        ("fields", "path", "write"),
        [
            (changed(head_dry_thickness="1.4 mm"), "head.thickness", "thickness: 2.4 mm"),
            (changed(head_thickness="0.5 mm"), "head.dry_thickness", "dry_thickness: 0.3 mm"),
            (
                changed(head_thickness="1 mm", head_dry_thickness="1.2 mm"),
                "head.dry_thickness",
                "dry_thickness: 0.6 mm",
            ),
            (changed(head_thickness="0.3 mm"), "head.dry_thickness", "dry_thickness: 0.2 mm"),
        ],
    )
    def test_which(self, fields: Fields, path: str, write: str) -> None:
        (finding,) = found_by("dry-thicker-than-wet", fields)
        assert (finding.path, finding.write) == (path, write)
