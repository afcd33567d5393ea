"""Small words of a sheet: lists, runs, counts, and amounts that hold together."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheet_plans import SPECS, plan_of
from tauthide.schema.fields import fields
from tauthide.sheets.amounts import FIELD_STYLES
from tauthide.sheets.origins import HIDE_TITLES, LAYER_TITLES
from tauthide.sheets.words import counted, held, listing, runs
from tauthide.spec.resolving import PROFILE_QUANTITIES
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
        assert styles <= SHOWN

    def test_fields_with_a_style_of_their_own_exist(self) -> None:
        known = set(fields("spec")) | set(PROFILE_QUANTITIES)
        assert set(FIELD_STYLES) <= known
        assert set(FIELD_STYLES.values()) <= SHOWN

    def test_a_size_reads_the_same_as_a_field_and_as_a_figure(self) -> None:
        figures = plan_of("round").figures
        for path, style in FIELD_STYLES.items():
            figure = figures.get(path.replace("stations.", "holes."))
            assert figure is None or figure.figure.style == style


def test_layers_and_hides_have_words() -> None:
    settings = [setting for name in SPECS for setting in plan_of(name).spec.settings.values()]
    assert {setting.origin.layer for setting in settings} <= set(LAYER_TITLES)
    assert {setting.path for setting in settings if "hide." in setting.path.replace("head.", "")} >= set(HIDE_TITLES)
