"""Tables of any content give amendments or findings, never an exception."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from tauthide.reading.events import read_yaml
from tauthide.recording.amending import amend, field_path
from tauthide.recording.travellers import read_traveller
from tauthide.work.operations import operation_names

HEADS = ("drum", "dry_days", "skin.punch", "trouble", "blank_mm", "colour", "")
CELLS = st.one_of(
    st.text(max_size=8), st.sampled_from(["x", "2,5", "14 min", "'=1", "LIB-08-01", "web tore, 3", '"', "\n", "1e9"])
)


@given(st.binary(max_size=200))
@settings(max_examples=200, deadline=None)
def test_bytes(source: bytes) -> None:
    amendments, findings = read_traveller(source, "t.csv")
    assert findings or all(amendment.serial for amendment in amendments)


@given(st.lists(st.lists(CELLS, max_size=7), max_size=5), st.sampled_from([",", ";", "\t"]))
@settings(max_examples=200, deadline=None)
def test_tables_make_documents_that_can_be_read(rows: list[list[str]], delimiter: str) -> None:
    text = "\n".join(delimiter.join(row) for row in [list(HEADS), *rows])
    amendments, _ = read_traveller(text.encode("utf-8"), "t.csv", tuple(operation_names()))
    if amendments:
        content = amend(None, amendments).content
        assert content is not None
        located, findings = read_yaml(content, "r.yaml")
        assert located is not None, findings
        again = amend(content, amendments).content
        assert again == content


def test_short_names_of_operations() -> None:
    assert field_path("skin.punch") == field_path("times.skin.punch") == ("times", "skin", "punch")
    assert field_path("blank") == ("blank",)
    assert field_path("colour.red") == ("colour", "red")
