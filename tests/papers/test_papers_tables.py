"""Tables: what stands on a paper and what goes into a spreadsheet."""

from __future__ import annotations

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tauthide.papers.tables import FORMULA_STARTS, Cell, Column, Table, table
from tauthide.text import markdown

texts = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\x00\r"), max_size=20)


@given(st.lists(st.tuples(texts, st.integers(-1000, 1000)), max_size=5))
def test_a_spreadsheet_reads_back_what_was_written(rows: list[tuple[str, int]]) -> None:
    content = table(
        [Column("A", "a"), Column("B", "b_mm")], [(Cell(markdown(text), text), Cell(str(n), n)) for text, n in rows]
    ).csv()
    read = list(csv.reader(io.StringIO(content.decode("utf-8"), newline="")))
    assert read[0] == ["a", "b_mm"]
    for (text, number), (first, second) in zip(rows, read[1:], strict=True):
        assert first == (f"'{text}" if text.startswith(FORMULA_STARTS) else text)
        assert int(second) == number


def test_a_maker_s_text_is_no_formula() -> None:
    content = table([Column("A", "a")], [(Cell("x", "=1+1"),), (Cell("x", "plain"),)]).csv()
    assert content == b"a\n'=1+1\nplain\n"


def test_columns_of_one_side_only() -> None:
    both = table([Column("☐", ""), Column("", "x_mm"), Column("Name", "name")],
                 [(Cell("☐"), Cell("", 1.5), Cell("**A**", "A"))])  # fmt: skip
    assert both.lines == ("| ☐ | Name |", "| --- | --- |", "| ☐ | **A** |")
    assert both.csv() == b"x_mm,name\n1.5,A\n"


@pytest.mark.parametrize(
    ("value", "text"), [(1.0, "1"), (1.25, "1.25"), (0.12349, "0.123"), (None, ""), (-0.5, "-0.5")]
)
def test_numbers_without_needless_digits(value: float | None, text: str) -> None:
    assert (
        table([Column("A", "a"), Column("B", "b")], [(Cell("", value), Cell("", "x"))]).csv()
        == f"a,b\n{text},x\n".encode()
    )


def test_a_row_that_does_not_fit() -> None:
    with pytest.raises(ValueError, match="does not fit"):
        table([Column("A", "a")], [(Cell("1"), Cell("2"))])


def test_empty() -> None:
    assert Table((Column("A", "a"),), ()).csv() == b"a\n"
