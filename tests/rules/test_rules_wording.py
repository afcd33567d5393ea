"""How rules write lengths: what is found and what is allowed never read the same."""

from __future__ import annotations

import math

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from drums import Fields, changed, workings_of
from rule_cases import found_by
from tauthide.rules.measures import force_at_most
from tauthide.rules.wording import (
    SLACK_MM,
    at_least,
    at_most,
    length,
    no_less,
    no_more,
    percent,
    thick_at_least,
    thick_at_most,
)
from tauthide.units import parse

METRIC, INCH = workings_of(), workings_of(bench_units="inch")
BOTH = {"metric": METRIC, "inch": INCH}

lengths = st.floats(0.2, 2000)
apart = st.floats(10 * SLACK_MM, 5) | st.integers(-5, 0).map(lambda power: 10.0**power)


@pytest.mark.parametrize("units", BOTH)
class TestApart:
    """A length that breaks its limit looks as if it did."""

    @given(limit=lengths, by=apart)
    @example(limit=10.0, by=0.01)
    @example(limit=25.4, by=1e-5)
    @example(limit=5.0463, by=0.0063)
    def test_below(self, units: str, limit: float, by: float) -> None:
        w = BOTH[units]
        found, allowed = length(w, limit - by, limit), no_less(w, limit, limit - by)
        assert _value(found) < _value(allowed)
        assert parse_mm(allowed) >= limit - SLACK_MM

    @given(limit=lengths, by=apart)
    @example(limit=10.0, by=0.01)
    def test_above(self, units: str, limit: float, by: float) -> None:
        w = BOTH[units]
        found, allowed = length(w, limit + by, limit), no_more(w, limit, limit + by)
        assert _value(found) > _value(allowed)
        assert parse_mm(allowed) <= limit + SLACK_MM

    @given(mm=lengths)
    def test_written_to_the_safe_side(self, units: str, mm: float) -> None:
        w = BOTH[units]
        step = 25.4 / 16 if units == "inch" else 0.5
        assert mm - SLACK_MM <= parse_mm(at_least(w, mm)) < mm + step
        assert mm - step < parse_mm(at_most(w, mm)) <= mm + SLACK_MM


def parse_mm(text: str) -> float:
    """Read a length back."""
    return parse("length", text.replace("-", ""))


def _value(text: str) -> float:
    return float(text.split()[0])


@given(mm=lengths)
def test_thickness_to_the_safe_side(mm: float) -> None:
    assert mm - SLACK_MM <= parse_mm(thick_at_least(mm)) < mm + 0.1
    assert mm - 0.1 < parse_mm(thick_at_most(mm)) <= mm + SLACK_MM


@pytest.mark.parametrize(
    ("mm", "up", "down"),
    [
        (6.35, "1/4 in", "1/4 in"),
        (6.3, "1/4 in", "3/16 in"),
        (12.7, "1/2 in", "1/2 in"),
        (38.2, "1 9/16 in", "1 1/2 in"),
    ],
)
def test_fractions_are_reduced(mm: float, up: str, down: str) -> None:
    assert (at_least(INCH, mm), at_most(INCH, mm)) == (up, down)


def test_decimals_only_where_they_are_needed() -> None:
    assert (length(METRIC, 9.99, 10), no_less(METRIC, 10, 9.99)) == ("9.99 mm", "10 mm")
    assert (length(METRIC, 9.9, 10), no_less(METRIC, 10, 9.9)) == ("9.9 mm", "10 mm")
    assert (length(INCH, 9.99, 10), no_less(INCH, 10, 9.99)) == ("0.393 in", "0.4 in")
    assert (percent(0.0299, 0.03), percent(0.03, 0.0299), percent(0.01, 0.03)) == ("2.99 %", "3 %", "1 %")


def test_equal_lengths_come_to_an_end() -> None:
    assert length(METRIC, math.pi, math.pi) == "3.14159265 mm"


class TestMendsThatNeedMoreThanAWholeNumber:
    """A mend is as round as may be, but never beyond what it must keep within."""

    def test_a_force_with_no_whole_newton_between(self) -> None:
        assert force_at_most(workings_of(), 41.7, 41.2) == "41.7 N"
        assert force_at_most(workings_of(), 41.7, 40.9) == "41 N"
        assert force_at_most(workings_of(), 41.74, 41.72) == ""

    def test_a_limit_reads_otherwise_than_what_was_found(self) -> None:
        (finding,) = found_by("gather-great", changed(frame_depth="73.52 mm", stations_count=10))
        assert finding.found == "10 stations, 75.005 mm taken up between each and the next"
        assert finding.allowed == "at most 75 mm between stations"

    def test_nor_in_inches_where_the_limit_is_no_round_number(self) -> None:
        (finding,) = found_by("gather-great", changed(frame_depth="73.52 mm", stations_count=10, bench_units="inch"))
        # 75 mm are 2.952756 in, rounded down to what is told apart from 75.005 mm, 2.952949 in.
        assert finding.found == "10 stations, 2.9529 in taken up between each and the next"
        assert finding.allowed == "at most 2.952 in between stations"

    def test_fewer_stations_too_where_more_would_not_do(self) -> None:
        sizes: Fields = {"frame.depth": "50 mm"}
        triangle = changed(
            sizes,
            frame_outline="polygon",
            frame_sides=3,
            frame_across_flats="8 in",
            head_hide="deer",
            stations_count=14,
        )
        (finding,) = found_by("span-along-side", triangle)
        assert finding.write == "count: 12"
