"""Small words of a sheet: lists, runs, counts, and amounts that hold together."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheet_plans import SPECS, plan_of
from tauthide.sheets.amounts import FIELD_STYLES, NOMINAL, show_style
from tauthide.sheets.origins import HIDE_TITLES, LAYER_TITLES
from tauthide.sheets.words import counted, held, listing, runs
from tauthide.units import SHOWN


@pytest.mark.parametrize(
    ("items", "words"), [((), ""), ((1,), "1"), ((1, 9), "1 and 9"), ((3, 7, 11, 15), "3, 7, 11 and 15")]
)
def test_listing(items: tuple[int, ...], words: str) -> None:
    assert listing(items) == words


@pytest.mark.parametrize(
    ("numbers", "words"),
    [
        ((), ""),
        ((2,), "2"),
        ((2, 3), "2, 3"),
        ((2, 3, 4), "2 to 4"),
        ((2, 4, 5, 6, 9, 10), "2, 4 to 6, 9, 10"),
    ],
)
def test_runs(numbers: tuple[int, ...], words: str) -> None:
    assert runs(numbers) == words


@given(st.sets(st.integers(1, 64)))
def test_runs_can_be_read_back(numbers: set[int]) -> None:
    read: set[int] = set()
    for part in filter(None, runs(sorted(numbers)).split(", ")):
        first, _, last = part.partition(" to ")
        read |= set(range(int(first), int(last or first) + 1))
    assert read == numbers


def test_counted() -> None:
    assert [counted(count, "drum", "drums") for count in (0, 1, 8)] == ["0 drums", "1 drum", "8 drums"]


def test_held_breaks_only_before_the_bracket() -> None:
    assert held("30 mm (1 3/16 in)") == "30\u00a0mm (1\u00a03/16\u00a0in)"


class TestStyles:
    def test_every_figure_has_a_style_that_is_known(self) -> None:
        styles = {reading.figure.style for name in SPECS for reading in plan_of(name).figures.values()}
        assert styles <= SHOWN | {NOMINAL}

    def test_fields_with_a_style_of_their_own_exist(self) -> None:
        known = {path for name in SPECS for path in plan_of(name).spec.settings}
        assert set(FIELD_STYLES) <= known
        assert set(FIELD_STYLES.values()) <= SHOWN | {NOMINAL}

    @pytest.mark.parametrize(
        ("mm", "metric", "inch"),
        [
            (9.525, "9.5 mm (3/8 in)", "3/8 in (9.5 mm)"),
            (10.0, "10 mm (3/8 in)", "3/8 in (10 mm)"),
            (12.7, "12.7 mm (1/2 in)", "1/2 in (12.7 mm)"),
        ],
    )
    def test_sizes_of_tools(self, mm: float, metric: str, inch: str) -> None:
        assert (show_style(NOMINAL, mm, "metric"), show_style(NOMINAL, mm, "inch")) == (metric, inch)

    def test_an_unknown_style_is_an_error(self) -> None:
        with pytest.raises(KeyError):
            show_style("furlong", 1.0, "metric")


def test_layers_and_hides_have_words() -> None:
    settings = [setting for name in SPECS for setting in plan_of(name).spec.settings.values()]
    assert {setting.origin.layer for setting in settings} <= set(LAYER_TITLES)
    assert {setting.path for setting in settings if "hide." in setting.path.replace("head.", "")} >= set(HIDE_TITLES)
