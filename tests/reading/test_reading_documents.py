"""What kind a document is, read in full and at a glance."""

from __future__ import annotations

import pytest

from tauthide.reading.documents import KINDS, VERSION, peek_kind, read_document, suggest_kind


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize(
    "form", ["{}: 1\n", "{}: 1", "# a\n\n---\n{}: 1\n", "{{{}: 1}}", "'{}': 1\nx: 2\n", '{{"{}":1}}']
)
def test_kind_and_version(kind: str, form: str) -> None:
    document, findings = read_document(form.format(kind).encode(), "drum.yaml")
    assert findings == ()
    assert document is not None
    assert (document.kind, document.version) == (kind, VERSION)
    assert document.located.file == "drum.yaml"


@pytest.mark.parametrize(
    ("source", "kind"),
    [
        (b"spec: 1\n", "spec"),
        (b"spec:\n", "spec"),
        (b"spec:", "spec"),
        (b"spec : 1\n", "spec"),
        (b"\xef\xbb\xbfspec: 1\n", "spec"),
        (b"# a\r\n\r\n  # b\r\nlot: 1\r\n", "lot"),
        (b"# a\r# b\rskin: 1\r", "skin"),
        (b"%YAML 1.2\n---\nrun: 1\n", "run"),
        (b"--- # a\n# b\nshop: 1\n", "shop"),
        (b"---\n\nbase: 1\n", "base"),
        (b"{records: 1}", "records"),
        (b"{ # a\n  'approval':1}", "approval"),
        (b'--- {"spec": 1}', "spec"),
        (b'"spec": 1\n', "spec"),
        # amiss further on, which reading the whole will tell
        (b"spec: 2\nframe: {\n", "spec"),
        (b"spec: 1\ntitle: \xff\n", "spec"),
        ("spec: 1\n".encode("utf-16"), "spec"),
        (b"\xfe\xff" + "spec: 1\n".encode("utf-16-be"), "spec"),
        ("spec: 1\n".encode("utf-32"), "spec"),
    ],
)
def test_peek(source: bytes, kind: str) -> None:
    assert peek_kind(source) == kind


@pytest.mark.parametrize(
    "source",
    [
        b"",
        b"\n\n# spec: 1\n",
        b"specs: 1\n",
        b"spec:1\n",
        b"spec\n",
        b"spec 1\n",
        b"'spec: 1\n",
        b"Spec: 1\n",
        b"- spec: 1\n",
        b"drum: LIB-13\nspec: 1\n",
        b"on:\n  push:\n",
        b"title: a\n---\nspec: 1\n",
        b"x---\nspec: 1\n",
        b"\x00\x01\x02",
    ],
)
def test_peek_at_what_is_none_of_ours(source: bytes) -> None:
    assert peek_kind(source) is None


def test_peek_goes_through_a_long_header_once() -> None:
    """A pattern that tried every way through the header's line ends would not come to an end."""
    assert peek_kind(b"#\r\n \t\r\n" * 30_000 + b"spec: 1") == "spec"
    assert peek_kind(b"#\r\n \t\r\n" * 30_000 + b"none: 1") is None


@pytest.mark.parametrize(
    ("word", "kind"),
    [
        *(("spce", "spec"), ("sepc", "spec"), ("specs", "spec"), ("SPEC", "spec"), ("bas", "base")),
        *(("shpo", "shop"), ("record", "records"), ("aproval", "approval"), ("runs", "run")),
        *(("drum", ""), ("title", ""), ("quantity", ""), ("", "")),
    ],
)
def test_suggestion(word: str, kind: str) -> None:
    assert suggest_kind(word) == kind


def test_a_misspelt_kind_is_met_before_a_kind_further_down() -> None:
    """A skin may have a field named as a kind is; the first key tells what was meant."""
    document, findings = read_document(b"skn: 1\nlot: 7\n", "skin.yaml")
    assert document is None
    assert [(finding.name, finding.write) for finding in findings] == [("unknown-kind", "skin: 1")]
