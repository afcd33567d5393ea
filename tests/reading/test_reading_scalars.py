"""Plain scalars by the core schema of YAML 1.2.

Source of the table: YAML specification, revision 1.2.2, section 10.3.2 "Tag Resolution" (core schema), its
regular expressions and its example 10.9; and, for what YAML 1.1 read otherwise, the pages "bool", "int",
"float" and "null" of its type repository; both from memory.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tauthide.reading.events import read_yaml
from tauthide.reading.faults import HUGE_NUMBER, NON_FINITE, Fault
from tauthide.reading.scalars import resolve_plain

NULLS = ("", "~", "null", "Null", "NULL")
TRUES = ("true", "True", "TRUE")
FALSES = ("false", "False", "FALSE")
INTEGERS = {
    "0": 0,
    "-0": 0,
    "+12": 12,
    "-19": -19,
    "010": 10,
    "00": 0,
    "0o7": 7,
    "0o14": 12,
    "0x3A": 58,
    "0xff": 255,
    "999999999999999": 999_999_999_999_999,
    "-999999999999999": -999_999_999_999_999,
    "000000000000000000001": 1,
}
DECIMALS = {
    "0.": 0.0,
    "-0.0": -0.0,
    ".5": 0.5,
    "+.5": 0.5,
    "+12e03": 12000.0,
    "-2E+05": -200000.0,
    "1e3": 1000.0,
    "1.5e-3": 0.0015,
    "010.5": 10.5,
    "0.1234567890123456789": 0.12345678901234568,
    "9.99e14": 9.99e14,
}
TEXTS = (
    # read otherwise by YAML 1.1
    *("yes", "Yes", "no", "NO", "on", "On", "off", "OFF", "y", "n"),
    *("12:30", "1:2:3", "190:20:30.15", "0b1010", "0b1", "1_000", "0x_1", "685_230.15", "2024-05-01", "="),
    # nearly something
    *(
        "nULL",
        "tRUE",
        "none",
        "nil",
        "inf",
        "nan",
        ".INf",
        "+.nan",
        "-.NaN",
        "-",
        "+",
        ".",
        "-.",
        "..",
        "...",
    ),
    *(
        "1e",
        "e1",
        "1e+",
        "1.2.3",
        "1,5",
        "1 000",
        "0x",
        "0o",
        "0o8",
        "0xG",
        "-0x1",
        "+0o7",
        "--1",
        "1-",
        "½",
        "٣",
    ),
    *("13 in", "1/2", "13½ in", "330mm", "A2", "1\u00a0", "true ", "~~"),
)
NON_FINITES = (".inf", "-.inf", "+.inf", ".Inf", ".INF", "-.INF", ".nan", ".NaN", ".NAN")
HUGE = ("1000000000000000", "-1000000000000000", "1e15", "-1e15", "1e999", "0x38D7EA4C68000", "9" * 5000)
HUGE_OCTAL = "0o" + "7" * 5000


@pytest.mark.parametrize("text", NULLS)
def test_null(text: str) -> None:
    assert resolve_plain(text) is None


@pytest.mark.parametrize(("texts", "value"), [(TRUES, True), (FALSES, False)])
def test_boolean(texts: tuple[str, ...], value: bool) -> None:
    for text in texts:
        assert resolve_plain(text) is value


@pytest.mark.parametrize("text", INTEGERS)
def test_integer(text: str) -> None:
    value = resolve_plain(text)
    assert type(value) is int
    assert value == INTEGERS[text]


@pytest.mark.parametrize("text", DECIMALS)
def test_decimal(text: str) -> None:
    value = resolve_plain(text)
    assert type(value) is float
    assert value == DECIMALS[text]
    assert math.copysign(1, value) == math.copysign(1, DECIMALS[text])


@pytest.mark.parametrize("text", TEXTS)
def test_text(text: str) -> None:
    assert resolve_plain(text) == text


@pytest.mark.parametrize("text", NON_FINITES)
def test_non_finite_is_refused(text: str) -> None:
    assert resolve_plain(text) is NON_FINITE


@pytest.mark.parametrize("text", [*HUGE, HUGE_OCTAL], ids=lambda text: text[:20])
def test_huge_is_refused(text: str) -> None:
    assert resolve_plain(text) is HUGE_NUMBER


def test_quoted_and_block_scalars_are_text() -> None:
    source = "\"1\": '1'\nb: \"true\"\nc: |\n  12\nd: >-\n  ~\ne: '.nan'\nf: ''\n"
    located, findings = read_yaml(source.encode(), "drum.yaml")
    assert findings == ()
    assert located is not None
    assert located.data == {"1": "1", "b": "true", "c": "12\n", "d": "~", "e": ".nan", "f": ""}


@pytest.mark.parametrize("key", ["1", "true", "no", "010", ".5", ".nan", "1e99", "12:30", "0x1"])
def test_keys_are_text(key: str) -> None:
    located, findings = read_yaml(f"{key}: a\n".encode(), "drum.yaml")
    assert findings == ()
    assert located is not None
    assert located.data == {key: "a"}


class TestAnyNumber:
    """What a number is written as is what is read."""

    @given(st.integers(-(10**15) + 1, 10**15 - 1))
    def test_integer(self, number: int) -> None:
        assert resolve_plain(str(number)) == number

    @given(st.integers(0, 10**15 - 1))
    def test_other_bases(self, number: int) -> None:
        assert resolve_plain(oct(number)) == resolve_plain(hex(number)) == number

    @given(st.floats(-1e15, 1e15, exclude_min=True, exclude_max=True))
    def test_decimal(self, number: float) -> None:
        assert resolve_plain(repr(number)) == number

    @given(st.integers(10**15).flatmap(lambda number: st.sampled_from([number, -number])))
    def test_too_large(self, number: int) -> None:
        assert resolve_plain(str(number)) is HUGE_NUMBER


@given(st.text(st.sampled_from("+-.0123456789eExonaifINF~truefalse_: "), max_size=12))
def test_numbers_are_always_finite(text: str) -> None:
    value = resolve_plain(text)
    if isinstance(value, float):
        assert math.isfinite(value)
    else:
        assert value is None or isinstance(value, (str, int, Fault))
