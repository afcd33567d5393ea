"""Laws of reading and showing, for any text and any value."""

from __future__ import annotations

import math
import re
from collections.abc import Callable

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from tauthide import units
from tauthide.units import KINDS, Direction, Kind, QuantityError, System, parse

KIND_NAMES = sorted(KINDS)
SYSTEMS: tuple[System, ...] = ("metric", "inch")
DIRECTIONS: tuple[Direction, ...] = ("nearest", "up", "down")
NOISE = 1e-8
"""Share of a step allowed for floats, above the step's half."""

PIECES = (
    "0", "1", "2", "13", "999999999", "1234567890", "1/2", "3/2", "31/32", "32/32", "1/7", "1/0", "½", "⅞",
    ".", ".5", "3.25", " ", "  ", "\t", "\n", "\u00a0", "\u2003", "-", "−", "+", ",", "/", "'", "’", "e3",
    "A2", "Bb", "♭", "cents", "İ", "ſ", "\u212a",
)  # fmt: skip
"""Bits of texts that are nearly, but often not quite, quantities."""


def _words(kind: Kind) -> list[str]:
    spelled = [word for unit in kind.units for word in unit.spellings]
    return [*spelled, *(word.upper() for word in spelled), *(unit.name for unit in kind.units)]


@st.composite
def near_quantities(draw: st.DrawFn) -> tuple[str, str]:
    """Draw a kind's name, and a text put together from numbers, blanks, signs and units."""
    kind = KINDS[draw(st.sampled_from(KIND_NAMES))]
    piece = st.sampled_from(PIECES) | st.sampled_from(_words(kind))
    return kind.name, "".join(draw(st.lists(piece, max_size=9)))


def _outcome(kind: str, text: str) -> float | QuantityError:
    try:
        return parse(kind, text)
    except QuantityError as error:
        return error


def _is_read(kind: str, text: str) -> bool:
    return isinstance(_outcome(kind, text), float)


class TestPattern:
    """A kind's pattern and the reader accept the same texts."""

    @given(near_quantities())
    @settings(max_examples=600)
    @example(("length", "1 ft.5 in"))
    @example(("length", "13 in\n"))
    @example(("length", "13 ſ"))
    @example(("temperature", "- 5 °C"))
    @example(("force", "5 K"))
    def test_a_near_quantity_matches_just_where_it_is_read(self, drawn: tuple[str, str]) -> None:
        kind, text = drawn
        assert (re.search(KINDS[kind].pattern, text) is not None) == _is_read(kind, text)

    @pytest.mark.parametrize("kind", KIND_NAMES)
    @given(data=st.data())
    @settings(max_examples=60)
    def test_whatever_matches_is_read(self, kind: str, data: st.DataObject) -> None:
        text = data.draw(st.from_regex(KINDS[kind].pattern, fullmatch=True))
        assert math.isfinite(parse(kind, text))

    @pytest.mark.parametrize("kind", KIND_NAMES)
    def test_every_spelling_matches_and_is_read(self, kind: str) -> None:
        for word in _words(KINDS[kind]):
            readable = KINDS[kind].find(word) is not None
            assert (re.search(KINDS[kind].pattern, f"5 {word}") is not None) == readable
            assert _is_read(kind, f"5 {word}") == readable

    @pytest.mark.parametrize("kind", KIND_NAMES)
    def test_a_pattern_is_portable(self, kind: str) -> None:
        pattern = KINDS[kind].pattern
        assert pattern.isascii()
        assert pattern.startswith("^")
        assert pattern.endswith("$")
        # Groups of Python's own, classes that differ between the two, and needless escapes, which ECMA-262
        # refuses in its Unicode mode.
        assert not re.search(r"\(\?[^:]", pattern)
        assert not re.search(r"\\[^u./^$*+?()\[\]{}|\\]", pattern)


class TestAnyText:
    """Any text gives a finite value or a QuantityError, and what is suggested is read."""

    @given(st.sampled_from(KIND_NAMES), st.text(max_size=60))
    @settings(max_examples=300)
    def test_any_text(self, kind: str, text: str) -> None:
        self._check(kind, text)

    @given(near_quantities())
    @settings(max_examples=600)
    @example(("length", "9" * 5000))
    @example(("length", "1e99 mm"))
    @example(("length", "1e-99 mm"))
    @example(("length", "1 ft " * 60))
    def test_any_near_quantity(self, drawn: tuple[str, str]) -> None:
        self._check(*drawn)

    @staticmethod
    def _check(kind: str, text: str) -> None:
        outcome = _outcome(kind, text)
        if isinstance(outcome, QuantityError):
            assert outcome.message
            assert not outcome.message.endswith(".")
            assert outcome.message.isprintable()
            for suggestion in outcome.write:
                assert math.isfinite(parse(kind, suggestion))
        else:
            assert math.isfinite(outcome)
            assert outcome >= 0 or kind == "temperature"

    @given(st.sampled_from(KIND_NAMES), st.integers() | st.floats() | st.text(max_size=12))
    def test_every_reading_of_a_bare_number_is_read(self, kind: str, number: float | str) -> None:
        for reading in KINDS[kind].read_bare(number):
            assert math.isfinite(parse(kind, reading))

    @given(st.sampled_from(KIND_NAMES), st.integers(0, 10**9 - 1))
    def test_a_bare_number_reappears_as_written(self, kind: str, number: int) -> None:
        readings = KINDS[kind].read_bare(number)
        assert any(reading.split(" ")[0] == str(number) for reading in readings)


class TestExactness:
    """Equal lengths in different units are the same float."""

    @given(st.integers(0, 10**5), st.integers(1, 63))
    def test_inches_feet_and_millimetres_agree(self, whole: int, part: int) -> None:
        inches = parse("length", f"{whole} {part}/64 in")
        feet, rest = divmod(whole, 12)
        # A sixty-fourth is 0.396875 mm, exact to six decimals.
        millionths_of_mm = (whole * 64 + part) * 396_875
        assert parse("length", f"{feet} ft {rest}-{part}/64 in") == inches
        mm = f"{millionths_of_mm // 10**6}.{millionths_of_mm % 10**6:06d}"
        assert parse("length", f"{mm} mm") == inches

    @given(st.integers(0, 10**6))
    def test_centimetres_and_metres_agree(self, tenths_of_mm: int) -> None:
        mm = parse("length", f"{tenths_of_mm // 10}.{tenths_of_mm % 10} mm")
        assert parse("length", f"{tenths_of_mm // 100}.{tenths_of_mm % 100:02d} cm") == mm
        assert parse("length", f"{tenths_of_mm // 10**4}.{tenths_of_mm % 10**4:04d} m") == mm


IN_MM = 25.4
LENGTH_FORMS: tuple[tuple[Callable[[float, Direction], str], float], ...] = (
    (units.metric_length, 1.0),
    (units.inch_length, IN_MM / 16),
    (units.metric_fine_length, 0.1),
    (units.inch_fine_length, IN_MM / 1000),
    (units.metric_nominal_length, 0.5),
    (units.metric_long_length, 10.0),
    (units.inch_long_length, IN_MM / 16),
)
"""Each way to show a length in one system, with its step in mm."""

LBF_N = 4.4482216152605
LBF_N = 4.4482216152605
FIGURES: tuple[tuple[str, float, float, float, float], ...] = (
    ("length", 0.0, 1e6, 1.0, IN_MM / 16),
    ("area", 0.0, 9999.0, 1.0, 0.01 * IN_MM**2),
    ("area", 1e4, 1e8, 1e4, 0.1 * (12 * IN_MM) ** 2),
    ("angle", 0.0, 360.0, 0.1, 0.1),
    ("mass", 0.0, 999.0, 1.0, 0.1 * 28.349523125),
    ("mass", 1e3, 1e5, 10.0, 0.01 * 453.59237),
    ("time", 0.0, 1e6, 1.0, 1.0),
    ("percentage", 0.0, 10.0, 0.001, 0.001),
    ("force", 0.0, 9.9, 0.1, 0.1 * LBF_N),
    ("force", 10.0, 44.0, 1.0, 0.1 * LBF_N),
    ("force", 45.0, 1e5, 1.0, LBF_N),
    ("tension", 0.0, 1e5, 1.0, 0.1 * LBF_N / 0.0254),
    ("tear", 0.0, 1e3, 0.1, LBF_N / IN_MM),
    ("temperature", -40.0, 100.0, 1.0, 5 / 9),
    ("density", 0.0, 2e4, 1.0, 0.1 * 0.45359237 / 0.3048**3),
    ("stress", 0.0, 1e3, 0.1, LBF_N / IN_MM**2),
)
"""Kind, range of values, and the steps of its metric and its inch form, all in base units."""


class TestShownAndReadAgain:
    """Reading what was shown gives the value back within its rounding."""

    @pytest.mark.parametrize(("form", "step_mm"), LENGTH_FORMS)
    @pytest.mark.parametrize("direction", DIRECTIONS)
    @given(mm=st.floats(0, 1e5))
    def test_a_length_in_one_system(
        self, form: Callable[[float, Direction], str], step_mm: float, direction: Direction, mm: float
    ) -> None:
        off_mm = parse("length", form(mm, direction)) - mm
        noise_mm = NOISE * step_mm
        low, high = {"nearest": (-0.5, 0.5), "up": (0.0, 1.0), "down": (-1.0, 0.0)}[direction]
        assert low * step_mm - noise_mm <= off_mm <= high * step_mm + noise_mm

    @pytest.mark.parametrize("system", SYSTEMS)
    @pytest.mark.parametrize("figure", FIGURES, ids=lambda figure: f"{figure[0]} from {figure[1]}")
    @given(data=st.data())
    @settings(max_examples=50)
    def test_both_readings_of_a_figure(
        self, figure: tuple[str, float, float, float, float], system: System, data: st.DataObject
    ) -> None:
        kind, low, high, *steps = figure
        value = data.draw(st.floats(low, high))
        texts = re.fullmatch(r"([^()]+)(?: \(([^()]+)\))?", units.show(kind, value, system))
        assert texts is not None
        first, second = texts[1], texts[2] or texts[1]
        in_metric, in_inch = (first, second) if system == "metric" else (second, first)
        assert abs(parse(kind, in_metric) - value) <= steps[0] * (0.5 + NOISE)
        assert abs(parse(kind, in_inch) - value) <= steps[1] * (0.5 + NOISE)

    @pytest.mark.parametrize("system", SYSTEMS)
    @given(kg_per_m2=st.floats(0, 100))
    def test_a_surface_density(self, system: System, kg_per_m2: float) -> None:
        """It is shown but never read, so its two numbers are taken apart here; pound and foot are exact."""
        shown = units.show("surface_density", kg_per_m2, system)
        texts = re.fullmatch(r"([0-9.]+) (\S[^()]*) \(([0-9.]+) (\S[^()]*)\)", shown)
        assert texts is not None
        numbers = {texts[2]: float(texts[1]), texts[4]: float(texts[3])}
        assert texts[2] == ("kg/m²" if system == "metric" else "lb/sq ft")
        assert set(numbers) == {"kg/m²", "lb/sq ft"}
        assert abs(numbers["kg/m²"] - kg_per_m2) <= 0.01 * (0.5 + NOISE)
        assert abs(numbers["lb/sq ft"] - kg_per_m2 * 0.3048**2 / 0.45359237) <= 0.001 * (0.5 + NOISE)

    def test_every_kind_has_its_steps(self) -> None:
        assert {figure[0] for figure in FIGURES} == set(KINDS) - {"pitch"}

    @given(st.floats(16.4, 15_000))
    def test_a_pitch_by_frequency_and_by_note(self, hz: float) -> None:
        frequency, note = units.pitch(hz).split(", ")
        assert abs(parse("pitch", frequency) - hz) <= 0.05 + NOISE
        assert abs(1200 * math.log2(parse("pitch", note) / hz)) <= 0.5 + NOISE

    @given(st.floats(-1e6, 1e6), st.integers(0, 6))
    def test_a_number(self, value: float, decimals: int) -> None:
        shown = units.number(value, decimals)
        assert abs(float(shown) - value) <= (0.5 + NOISE) * 10.0**-decimals + 1e-9
        assert shown == shown.strip()
        assert "e" not in shown
        assert shown != "-0"

    @given(st.floats(0, 1e5), st.floats(0, 1e5), st.sampled_from(DIRECTIONS))
    def test_the_longer_is_never_shown_as_shorter(self, one_mm: float, other_mm: float, direction: Direction) -> None:
        short_mm, long_mm = sorted((one_mm, other_mm))
        for form, _ in LENGTH_FORMS:
            assert parse("length", form(short_mm, direction)) <= parse("length", form(long_mm, direction))
