"""Texts with units: what is read, what is refused, and what is suggested instead."""

from __future__ import annotations

import math

import pytest

from tauthide.units import KINDS, QuantityError, parse

FOOT_MM = 304.8
DAY_MIN = 1440.0
DIVISORS = "2, 3, 4, 5, 6, 8, 10, 12, 16, 32, 64"


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("13 in", 330.2),
        ("13in", 330.2),
        ("13 IN", 330.2),
        ("13 in.", 330.2),
        ("13 inch", 330.2),
        ("13 Inches", 330.2),
        ('13"', 330.2),
        ("13″", 330.2),
        ("13”", 330.2),
        ("13''", 330.2),
        ("1 1/2 in", 38.1),
        ("1-1/2 in", 38.1),
        ('1-1/2"', 38.1),
        ("1/2 in", 12.7),
        ("½ in", 12.7),
        ("13½ in", 342.9),
        ("13 ½ in", 342.9),
        ("13-½ in", 342.9),
        ("7/16 in", 11.1125),
        ("63/64 in", 25.003125),
        ("33 cm", 330.0),
        ("33.02 cm", 330.2),
        ("330mm", 330.0),
        ("0.33 m", 330.0),
        ("0 mm", 0.0),
        ("1 ft", FOOT_MM),
        ("1 foot", FOOT_MM),
        ("2 feet", 2 * FOOT_MM),
        ("1½ ft", 457.2),
        ("1 ft 1 in", 330.2),
        ("1ft1in", 330.2),
        ("1' 1\"", 330.2),
        ("1′1″", 330.2),
        ("1’ 1”", 330.2),
        ("1 ft 1 1/2 in", 342.9),
        ("1 ft 1½ in", 342.9),
        ("  13 \t  in \n", 330.2),
        ("13\u00a0in", 330.2),
        ("13\u202fmm", 13.0),
        ("2 metres", 2000.0),
        ("999999999.999999999 mm", 999999999.999999999),
    ],
)
def test_a_length_is_read_to_the_last_bit(text: str, mm: float) -> None:
    assert parse("length", text) == mm


@pytest.mark.parametrize(
    ("kind", "text", "value"),
    [
        ("angle", "22.5 deg", 22.5),
        ("angle", "22.5°", 22.5),
        ("angle", "3 rad", 3 * 180 / math.pi),
        ("mass", "250 g", 250.0),
        ("mass", "0.25 kg", 250.0),
        ("mass", "1 lb 4 oz", 20 * 28.349523125),
        ("time", "45 min", 45.0),
        ("time", "6 h", 360.0),
        ("time", "1 h 30 min", 90.0),
        ("time", "1/2 hour", 30.0),
        ("time", "2 d", 2 * DAY_MIN),
        ("time", "2 days", 2 * DAY_MIN),
        ("time", "1 wk 1 d 1 h 1 min", 8 * DAY_MIN + 61.0),
        ("percentage", "8 %", 0.08),
        ("percentage", "8%", 0.08),
        ("percentage", "12.5 per cent", 0.125),
        ("pitch", "110 Hz", 110.0),
        ("pitch", "0.11 kHz", 110.0),
        ("pitch", "A4", 440.0),
        ("pitch", "A2", 110.0),
        ("pitch", "A2 +0 cents", 110.0),
        ("density", "1200 kg/m3", 1200.0),
        ("density", "1200 kg/m³", 1200.0),
        ("density", "1.2 g/cm3", 1200.0),
        ("stress", "10 N/mm2", 10.0),
        ("stress", "10 MPa", 10.0),
        ("stress", "500 kPa", 0.5),
        ("temperature", "18 C", 18.0),
        ("temperature", "18 °C", 18.0),
        ("temperature", "64.4 °F", 18.0),
        ("temperature", "-4 F", -20.0),
        ("temperature", "−5 °C", -5.0),
        ("force", "120 N", 120.0),
        ("force", "1.2 kN", 1200.0),
        ("tension", "2000 N/m", 2000.0),
        ("tension", "2 N/mm", 2000.0),
        ("tear", "29 N/mm", 29.0),
        ("tear", "290 N/cm", 29.0),
        ("area", "0.2 m2", 200_000.0),
        ("area", "5 cm²", 500.0),
        ("area", "1 sq  ft", 92_903.04),
    ],
)
def test_every_kind_is_read_in_its_base_unit(kind: str, text: str, value: float) -> None:
    assert parse(kind, text) == pytest.approx(value, rel=1e-15)


@pytest.mark.parametrize(
    ("sharp", "flat"),
    [("C#3", "Db3"), ("D♯2", "E♭2"), ("A#1", "Bb1"), ("B#3", "C4"), ("Cb4", "B3"), ("E#2", "F2")],
)
def test_notes_that_sound_alike_have_one_pitch(sharp: str, flat: str) -> None:
    assert parse("pitch", sharp) == parse("pitch", flat)


def test_cents_go_up_and_down() -> None:
    assert parse("pitch", "A2 +50 cents") == pytest.approx(parse("pitch", "Bb2 - 50 cents"))
    assert parse("pitch", "A2 -1 cent") < parse("pitch", "A2") < parse("pitch", "A2 +0.5 cents")


@pytest.mark.parametrize(
    ("kind", "text", "says", "write"),
    [
        ("length", "13", "a length needs a unit: mm, cm, m, in, ft", ("13 mm", "13 in")),
        ("length", "13½", "a length needs a unit: mm, cm, m, in, ft", ("13½ mm", "13½ in")),
        ("length", "-5 mm", "a length is never negative", ("5 mm",)),
        ("length", "−5", "a length is never negative", ("5 mm", "5 in")),
        ("length", "+5 mm", "no plus sign is wanted", ("5 mm",)),
        ("length", "33,5 cm", "a decimal point is meant, not a comma", ("33.5 cm",)),
        ("length", "33,5", "a decimal point is meant, not a comma", ("33.5 mm", "33.5 in")),
        ("length", "1,200 mm", "a decimal point is meant, not a comma", ("1.200 mm", "1200 mm")),
        ("length", "0,200 m", "a decimal point is meant, not a comma", ("0.200 m",)),
        ("length", "1,234.5 mm", "digits are written without gaps", ("1234.5 mm",)),
        ("length", "12 345 mm", "digits are written without gaps", ("12345 mm",)),
        ("length", "1_200 mm", "digits are written without gaps", ("1200 mm",)),
        ("length", "1e3 mm", "numbers are written out, without an exponent", ("1000 mm",)),
        ("length", "1.5E-2 m", "numbers are written out, without an exponent", ("0.015 m",)),
        ("length", "1e80 mm", "numbers are written out, without an exponent", ()),
        ("length", "1 3/2 in", "the fraction 3/2 is not below 1", ("2 1/2 in",)),
        ("length", "3/2 in", "the fraction 3/2 is not below 1", ("1 1/2 in",)),
        ("length", "1 4/4 in", "the fraction 4/4 is not below 1", ("2 in",)),
        ("length", "1/0 in", "a fraction cannot be divided by zero", ()),
        ("length", "1 0/4 in", "a fraction of nothing is left out", ("1 in",)),
        ("length", "1/ 2 in", "a fraction is written without blanks or zeros in it", ("1/2 in",)),
        ("length", "2/14 in", f"a fraction goes by one of {DIVISORS}, not by 14", ("0.143 in",)),
        ("length", "1 in 1 ft", "the parts go from the large unit to the small one", ("1 ft 1 in",)),
        ("length", "1 in 1 in", "each unit may stand only once", ()),
        ("length", "1 m 20 cm", "only ft and in may stand together in one length", ()),
        ("length", "1.5 ft 3 in", "only the last part may have a fraction", ()),
        ("length", "1 ft 6", "6 needs a unit of its own", ("1 ft 6 in",)),
        ("length", ".5 in", "a point needs a digit before it", ("0.5 in",)),
        ("length", "5. in", "a point needs a digit after it", ("5 in",)),
        ("length", "1234567890 mm", "a number has at most 9 digits before the point and 9 after it", ()),
        ("length", "", "a length is wanted here, and there is none", ()),
        ("length", " \t", "a length is wanted here, and there is none", ()),
        ("length", "wide", "this does not read as a length", ()),
        ("length", "1" * 300, "this is too long for a length", ()),
        ("length", "13 kg", "kg is a unit of mass, not of length", ()),
        ("length", "13 inchs", "inchs is not a unit of length: mm, cm, m, in, ft", ("13 inches",)),
        ("length", "2 milimetre", "milimetre is not a unit of length: mm, cm, m, in, ft", ("2 millimetre",)),
        ("length", "13 \x1b[31m", "this is not a unit of length: mm, cm, m, in, ft", ()),
        ("length", "1'-1\"", "this does not read as a length", ("1' 1\"",)),
        ("length", "1 ft and 1 in", "this does not read as a length", ("1 ft 1 in",)),
        ("length", "1⁄2 in", "this does not read as a length", ("1/2 in",)),
        ("length", "１３ in", "this does not read as a length", ("13 in",)),
        ("time", "6", "a time needs a unit: min, h, d, wk", ("6 min", "6 h")),
        ("time", "6 m", "m is a unit of length, not of time", ("6 min",)),
        ("time", "30 min 1 h", "the parts go from the large unit to the small one", ("1 h 30 min",)),
        ("force", "10 lb", "lb is a unit of mass, not of force", ("10 lbf",)),
        ("stress", "10 mPa", "mPa is not a unit of stress: N/mm2, MPa, kPa, psi", ("10 MPa",)),
        ("percentage", "0.08", "a percentage needs a unit: %", ("8 %", "0.08 %")),
        ("pitch", "110", "a pitch needs a unit: Hz, kHz, or a note name", ("110 Hz", "A2")),
        ("pitch", "a2", "a note name starts with a capital", ("A2",)),
        ("pitch", "H2", "note names go from A to G: H is called B here, and B is Bb", ("B2",)),
        ("pitch", "C#", "a note name needs its octave: A4 is the A at 440 Hz", ("C#2", "C#3")),
        ("pitch", "A2 +150 cents", "a note takes at most 99 cents more or less, as in A2 +15 cents", ("A2",)),
        ("temperature", "18", "a temperature needs a unit: C, F", ("18 C", "18 F")),
        ("temperature", "-18", "a temperature needs a unit: C, F", ("-18 C", "-18 F")),
        ("temperature", "–5 C", "a minus sign is meant, not a dash", ("-5 C",)),
        ("temperature", "18 K", "K is not a unit of temperature: C, F", ()),
        ("angle", "30", "an angle needs a unit: deg, rad", ("30 deg",)),
    ],
)  # fmt: skip
def test_a_slip_is_named_and_mended(kind: str, text: str, says: str, write: tuple[str, ...]) -> None:
    with pytest.raises(QuantityError) as caught:
        parse(kind, text)
    assert (caught.value.message, caught.value.write) == (says, write)
    assert str(caught.value) == says


@pytest.mark.parametrize(
    ("kind", "number", "readings"),
    [
        ("length", 13, ("13 mm", "13 in")),
        ("length", 55, ("55 mm", "55 in")),
        ("length", 13.5, ("13.5 mm", "13.5 in")),
        ("length", "13.50", ("13.50 mm", "13.50 in")),
        ("length", " 1 1/2 ", ("1 1/2 mm", "1 1/2 in")),
        ("length", -13, ()),
        ("length", 10**9, ()),
        ("length", 1e-7, ()),
        ("length", math.inf, ()),
        ("length", math.nan, ()),
        ("length", True, ()),
        ("length", "thirteen", ()),
        ("time", 6, ("6 min", "6 h")),
        ("angle", 30, ("30 deg",)),
        ("angle", 0.5, ("0.5 deg", "0.5 rad")),
        ("percentage", 8, ("8 %",)),
        ("percentage", 0.08, ("8 %", "0.08 %")),
        ("percentage", "0.125", ("12.5 %", "0.125 %")),
        ("percentage", 1, ("100 %", "1 %")),
        ("percentage", 0, ("0 %",)),
        ("percentage", "1/2", ("1/2 %",)),
        ("pitch", 110, ("110 Hz", "A2")),
        ("pitch", 112, ("112 Hz", "A2")),
        ("pitch", 2, ("2 Hz",)),
        ("pitch", 0, ("0 Hz",)),
        ("density", 1200, ("1200 kg/m3",)),
        ("density", 1.2, ("1.2 g/cm3", "1.2 kg/m3")),
        ("temperature", -5, ("-5 C", "-5 F")),
        ("mass", 250, ("250 g", "250 oz")),
    ],
)
def test_a_bare_number_gets_its_likely_readings(kind: str, number: float | str, readings: tuple[str, ...]) -> None:
    assert KINDS[kind].read_bare(number) == readings


def test_every_kind_knows_its_own_units() -> None:
    for name, kind in KINDS.items():
        assert kind.name == name
        assert {kind.unit(unit.name).name for unit in kind.units} == {unit.name for unit in kind.units}
        assert set(kind.bare) <= {unit.name for unit in kind.units}
        assert all(unit.name in kind.label for unit in kind.units)
        # A chain that did not go from large to small would refuse the order that everyone writes.
        sizes = [kind.unit(unit).size for unit in kind.chain]
        assert sizes == sorted(sizes, reverse=True)


def test_no_word_spells_two_units_of_a_kind() -> None:
    for kind in KINDS.values():
        assert len(kind.words) == sum(len(unit.spellings) for unit in kind.units)


def test_a_unit_or_kind_that_is_not_there_is_a_fault_of_the_caller() -> None:
    with pytest.raises(KeyError):
        KINDS["length"].unit("kg")
    with pytest.raises(KeyError):
        parse("colour", "13 in")


def test_remembered_texts_are_bounded() -> None:
    assert parse.cache_info().maxsize == parse.cache_parameters()["maxsize"] is not None
