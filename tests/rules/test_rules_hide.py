"""Rules on skin, water, air and the length of the lace: what is said, where the limit lies, and that mends mend."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import assume, event, given, settings
from hypothesis import strategies as st

from drums import Fields, Leaf, changed, plan_of, read_workings, spec_text, workings_of
from rule_cases import Cases, RuleLaws, findings_of, found_by, told
from rule_findings import assert_told, findings_with_hides, mended, named, names_in
from tauthide.findings import Severity
from tauthide.rules.hide_uncertified import RULE as UNCERTIFIED
from tauthide.work.operations import order_of_work
from tauthide.work.wetness import LONGEST_WET, longest_wet_time, warmest_air, wet_time

EXACT: dict[str, Leaf] = {
    "tolerances_thickness": "0 %", "tolerances_play": "0 mm", "tolerances_stretch": "0 %", "lace_allowance": "0 %",
    "handle_arms": 0,
}  # fmt: skip
"""A lace that varies with the turnover only, cut to the next 50 mm and no longer."""


def exact_turnover() -> float:
    """Return the tolerance in mm that raising to 50 mm covers: 31 strands move with the turnover."""
    w = workings_of(changed(**EXACT))
    return (w["lace.cut_length"] - w["lace.net_length"]) / 31


def warmest() -> float:
    """Return the air in degrees C in which the usual drum is just drawn tight in time."""
    air = warmest_air(wet_time(workings_of()))
    assert air is not None
    return air


CASES = {
    "soak-water-warm": Cases(
        breaks=changed(bench_water="40 C"),
        says="""\
            warning soak-water-warm at water: 40 C
            The soaking water is too warm: the skin goes off and its hair side loosens
            found: 40 C
            allowed: at most 30 C; the cooler, the better
            write: water: 30 C
            """,
        limit=changed(bench_water="86 F"),
        beyond=changed(bench_water="30.01 C"),
        keeps=changed(bench_water="8 C"),
    ),
    "wet-time-long": Cases(
        breaks=changed(bench_air="28 C"),
        says="""\
            warning wet-time-long at air: 28 C
            The skin is wet for longer than it keeps in a room so warm
            found: 3 h 32 min from the water to drawn tight, in air of 28 C
            allowed: at most 2 h 48 min in such air; or air of at most 26 C
            write: air: 26 C
            """,
        limit=changed(bench_air=f"{warmest() - 1e-6:.9f} C"),
        beyond=changed(bench_air=f"{warmest() + 1e-6:.9f} C"),
        keeps=changed(bench_air="20 C"),
    ),
    "drying-fast": Cases(
        breaks=changed(bench_humidity="20 %", bench_air="30 C"),
        says="""\
            warning drying-fast at humidity: 20 %
            The air is so dry that the head dries unevenly
            found: 20 %
            allowed: at least 35 %
            write: humidity: 35 %
            warning drying-fast at air: 30 C
            The air is so warm that the head dries unevenly
            found: 30 C
            allowed: at most 28 C
            write: air: 28 C
            """,
        limit=changed(bench_humidity="35 %", bench_air="28 C"),
        beyond=changed(bench_humidity="35 %", bench_air="28.01 C"),
        keeps=changed(bench_humidity="40 %", bench_air="22 C"),
    ),
    "drying-damp": Cases(
        breaks=changed(bench_humidity="85 %"),
        says="""\
            warning drying-damp at humidity: 85 %
            The air is so damp that the head hardly dries, and mould may get there first
            found: 85 %
            allowed: at most 75 %
            write: humidity: 75 %
            """,
        limit=changed(bench_humidity="75 %"),
        beyond=changed(bench_humidity="75.01 %"),
        keeps=changed(bench_humidity="70 %"),
    ),
    "hide-uncertified": Cases(
        breaks=changed(head_origin="imported"),
        says="""\
            warning hide-uncertified at origin: imported
            An untreated hide from abroad without a veterinary certificate can carry anthrax spores
            found: imported
            allowed: domestic, or certified: imported with a veterinary certificate
            write:
            """,
        limit=changed(head_origin="certified"),
        beyond=changed(head_origin="imported", head_hide="deer"),
        keeps=changed(head_origin="domestic"),
    ),
    "measures-contradict": Cases(
        breaks=changed(head_thickness="2 mm"),
        says="""\
            warning measures-contradict at head:
            The skin's two thicknesses are hardly those of one skin
            found: the default, 0.6 mm dry, 30 % of 2 mm wet
            allowed: from 40 % to 85 % of the wet thickness, usually 60 %
            write: dry_thickness: 1.2 mm
            """,
        limit=changed(head_thickness="1.5 mm"),
        beyond=changed(head_thickness="1.5001 mm"),
        keeps=changed(head_thickness="2 mm", head_dry_thickness="1.2 mm"),
    ),
    "allowance-below-spread": Cases(
        breaks=changed(lace_allowance="1 %"),
        says="""\
            warning allowance-below-spread at allowance: 1 %
            The lace may come out too short: within the tolerances more is needed than is cut
            found: 1 %, which cuts 6650 mm where up to 6855.1 mm may be needed
            allowed: at least 4.4 % with these tolerances
            write: allowance: 4.4 %
            """,
        limit=changed(**EXACT, tolerances_turnover=f"{exact_turnover() - 1e-6:.9f} mm"),
        beyond=changed(**EXACT, tolerances_turnover=f"{exact_turnover() + 1e-6:.9f} mm"),
        keeps=changed(lace_allowance="5 %"),
    ),
}


@pytest.mark.parametrize(("name", "cases"), CASES.items(), ids=list(CASES))
class TestEachRule(RuleLaws):
    """The cases above."""


class TestWater:
    def test_error(self) -> None:
        assert_told(
            "soak-water-warm",
            changed(bench_water="55 C"),
            """\
            error soak-water-warm at water: 55 C
            In water as warm as that raw skin shrinks to glue, and nothing brings it back
            found: 55 C
            allowed: at most 30 C; the cooler, the better
            write: water: 30 C
            """,
        )

    @pytest.mark.parametrize(("water", "severity"), [("53 C", Severity.ERROR), ("52.99 C", Severity.WARNING)])
    def test_limit_of_the_error(self, water: str, severity: Severity) -> None:
        (finding,) = findings_of(changed(bench_water=water))
        assert finding.severity is severity

    def test_inches_count_in_fahrenheit(self) -> None:
        (finding,) = findings_of(changed(bench_water="100 F", bench_units="inch"))
        assert (finding.found, finding.allowed) == ("100 F", "at most 86 F; the cooler, the better")
        assert finding.write == "water: 86 F"


class TestWetTime:
    @pytest.mark.parametrize(
        ("air_c", "hours"),
        [(-5, 24), (0, 24), (10, 24), (12.5, 18), (15, 12), (20, 8), (24, 4.8), (25, 4), (30, 2), (32, 1.2), (35, 0),
         (50, 0)],
    )  # fmt: skip
    def test_longest(self, air_c: float, hours: float) -> None:
        assert longest_wet_time(air_c) == pytest.approx(hours * 60)

    @pytest.mark.parametrize("air_c", [10, 11, 15, 17.5, 20, 22, 25, 29, 30, 33, 35])
    def test_warmest_is_the_inverse(self, air_c: float) -> None:
        assert warmest_air(longest_wet_time(air_c)) == pytest.approx(air_c)

    def test_no_air_is_cool_enough_for_more_than_a_day(self) -> None:
        assert warmest_air(24 * 60.0) == pytest.approx(10)
        assert warmest_air(24 * 60 + 1) is None

    def test_no_time_below_none(self) -> None:
        with pytest.raises(ValueError, match="0 or longer"):
            warmest_air(-1)

    def test_table_falls(self) -> None:
        assert [list(column) for column in zip(*LONGEST_WET, strict=True)] == [
            sorted(air for air, _ in LONGEST_WET),
            sorted((longest for _, longest in LONGEST_WET), reverse=True),
        ]

    def test_time_by_hand(self) -> None:
        """Everything wet up to drawn tight, the rest before the last pass among it, and nothing after."""
        plan = plan_of()
        names = [operation.name for operation in plan.operations]
        first, last = names.index("skin.flesh"), names.index("head.tighten_again")
        counted = plan.operations[first : last + 1]
        expected = sum(item.hand_min + item.wait_min for item in counted)
        assert wet_time(workings_of()) == pytest.approx(expected)
        assert "skin.soak" not in [item.name for item in counted]
        assert {item.name for item in order_of_work(workings_of()) if item.wet} - {item.name for item in counted} == {
            "handle.wrap"
        }

    def test_more_stations_take_longer(self) -> None:
        assert wet_time(workings_of(stations_count=18)) > wet_time(workings_of(stations_count=16))

    def test_handle_does_not_count(self) -> None:
        """But for the lace that is cut for it."""
        with_handle, without = workings_of(), workings_of(handle_arms=0)
        lace = with_handle["lace.cut_length"] - without["lace.cut_length"]
        assert wet_time(with_handle) - wet_time(without) == pytest.approx(lace / 500)


class TestDrying:
    @pytest.mark.parametrize(
        ("humidity", "names"),
        [("34.99 %", ["drying-fast"]), ("35 %", []), ("75 %", []), ("75.01 %", ["drying-damp"])],
    )
    def test_between_dry_and_damp(self, humidity: str, names: list[str]) -> None:
        assert names_in(changed(bench_humidity=humidity)) == names

    def test_what_looks_the_same_gets_decimals(self) -> None:
        (finding,) = findings_of(changed(bench_humidity="75.01 %"))
        assert (finding.found, finding.allowed) == ("75.01 %", "at most 75 %")


def test_cautions_of_an_uncertified_hide() -> None:
    said = UNCERTIFIED.why + UNCERTIFIED.mend
    for caution in ("anthrax", "sand", "sweep", "respirator", "gloves", "wash", "authorities"):
        assert caution in said


class TestMeasures:
    def test_at_the_one_that_was_not_given(self) -> None:
        assert_told(
            "measures-contradict",
            changed(head_dry_thickness="0.9 mm"),
            """\
            warning measures-contradict at head:
            The skin's two thicknesses are hardly those of one skin
            found: the default, 1 mm wet, of which 0.9 mm dry is 90 %
            allowed: from 40 % to 85 % of the wet thickness, usually 60 %
            write: thickness: 1.5 mm
            """,
        )

    def test_both_given(self) -> None:
        (finding,) = found_by("measures-contradict", changed(head_thickness="2 mm", head_dry_thickness="1.8 mm"))
        assert (finding.path, finding.write) == ("head.dry_thickness", "dry_thickness: 1.2 mm")

    @pytest.mark.parametrize(
        ("dry", "found"), [("0.85 mm", False), ("0.8501 mm", True), ("1 mm", True), ("1.001 mm", False)]
    )
    def test_upper_limit(self, dry: str, found: bool) -> None:
        """Thicker dry than wet is another rule's."""
        assert bool(found_by("measures-contradict", changed(head_dry_thickness=dry))) is found

    def test_strengths(self, tmp_path: Path) -> None:
        found = findings_with_hides(tmp_path, changed(), "{goat: {wet_strength: 70 N/mm2}}")
        assert told(named("measures-contradict", found)).splitlines() == [
            "warning measures-contradict at hides: {goat: {wet_strength: 70 N/mm2}}",
            "By the shop's values the head's skin is stronger wet than dry, which no skin is",
            "found: by the shop file, 70 N/mm² (10153 psi) wet, 60 N/mm² (8702 psi) dry",
            "allowed: a wet strength below the dry one: measure both again",
            "write:",
            "warning measures-contradict at hides: {goat: {wet_strength: 70 N/mm2}}",
            "By the shop's values the lace's hide is stronger wet than dry, which no skin is",
            "found: by the shop file, 70 N/mm² (10153 psi) wet, 60 N/mm² (8702 psi) dry",
            "allowed: a wet strength below the dry one: measure both again",
            "write:",
        ]

    def test_strengths_at_the_limit(self, tmp_path: Path) -> None:
        assert findings_with_hides(tmp_path, changed(), "{goat: {wet_strength: 60 N/mm2}}") == ()

    def test_lace_of_another_hide(self, tmp_path: Path) -> None:
        (finding,) = findings_with_hides(tmp_path, changed(lace_hide="calf"), "{calf: {dry_strength: 10 N/mm2}}")
        assert "the lace's hide" in finding.message


def test_usual_drums_are_cut_long_enough() -> None:
    for fields in (
        changed(),
        changed(frame_diameter="10 in", head_hide="sheep", stations_count=10),
        changed(frame_diameter="20 in", head_hide="cow", stations_count=20, head_turnover="2 in"),
    ):
        assert not CASES.keys() & names_in(fields)
        w = read_workings(spec_text(fields))
        assert w["lace.net_high"] < w["lace.cut_length"]


@st.composite
def bench_drums(draw: st.DrawFn) -> Fields:
    """Draw drums worked on in all weathers, with tolerances of all sizes."""
    return changed(
        frame_diameter=f"{draw(st.integers(250, 600))} mm",
        stations_count=2 * draw(st.integers(4, 16)),
        stations_web="10 mm",
        head_thickness=f"{draw(st.integers(3, 30)) / 10} mm",
        bench_water=f"{draw(st.integers(0, 60))} C",
        bench_air=f"{draw(st.integers(0, 50))} C",
        bench_humidity=f"{draw(st.integers(5, 100))} %",
        bench_units=draw(st.sampled_from(("metric", "inch"))),
        lace_allowance=f"{draw(st.integers(0, 20))} %",
        tolerances_turnover=f"{draw(st.integers(0, 20))} mm",
        tolerances_play=f"{draw(st.integers(0, 20))} mm",
        tolerances_thickness=f"{draw(st.integers(0, 50))} %",
    )


@settings(max_examples=150, deadline=None)
@given(bench_drums())
def test_what_to_write_mends(fields: Fields) -> None:
    """It is taken by the schema and clears the finding; of two of one name, that at its own field."""
    findings = [finding for finding in findings_of(fields) if finding.name in CASES and finding.write]
    assume(findings)
    for finding in findings:
        event(finding.name)
        left = [(other.name, other.path) for other in findings_of(mended(fields, finding))]
        assert (finding.name, finding.path) not in left, finding
