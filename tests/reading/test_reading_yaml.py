"""What is read, and where it stands."""

from __future__ import annotations

import textwrap

import pytest
import yaml

from tauthide.findings import Place
from tauthide.reading.events import read_yaml
from tauthide.reading.located import Data, Located, Mark, Path

SPEC = """\
# A drum for the lending set.
spec: 1
drum: LIB-13
title: "Lending set, 13½ inch 🥁 goat"  # with a stroke
quantity: 8
frame: {outline: round, 'diameter': 13 in, depth: 55 mm}
stations:
  count: 16
  hand:
notes: |
  Keep dry.
  Count the punchings.
bench:
  punches:
  - 8 mm
  - 10 mm
  -
    size: 12 mm
  - [a, {b: c}]
plain: over
  two lines
quoted: 'over
  two'
"""


@pytest.fixture(params=["libyaml", "python"], autouse=True)
def _parser(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    if request.param == "libyaml" and not yaml.__with_libyaml__:
        pytest.skip("PyYAML was built without libyaml here")
    monkeypatch.setattr(yaml, "__with_libyaml__", request.param == "libyaml")


def read(source: str | bytes) -> Located:
    """Return the document in a file that is in order."""
    located, findings = read_yaml(source if isinstance(source, bytes) else source.encode(), "drum.yaml")
    assert findings == ()
    assert located is not None
    return located


def marked(located: Located, mark: Mark) -> str:
    """Return the text that a mark means."""
    return located.lines[mark.line - 1][mark.column - 1 : mark.column - 1 + mark.width]


def test_data() -> None:
    expected: dict[str, Data] = {
        "spec": 1,
        "drum": "LIB-13",
        "title": "Lending set, 13½ inch 🥁 goat",
        "quantity": 8,
        "frame": {"outline": "round", "diameter": "13 in", "depth": "55 mm"},
        "stations": {"count": 16, "hand": None},
        "notes": "Keep dry.\nCount the punchings.\n",
        "bench": {"punches": ["8 mm", "10 mm", {"size": "12 mm"}, ["a", {"b": "c"}]]},
        "plain": "over two lines",
        "quoted": "over two",
    }
    located = read(SPEC)
    assert located.data == expected
    assert list(located.data) == list(expected)


@pytest.mark.parametrize(
    ("path", "line", "text"),
    [
        ((), 2, "s"),
        (("spec",), 2, "1"),
        (("drum",), 3, "LIB-13"),
        (("title",), 4, '"Lending set, 13½ inch 🥁 goat"'),
        (("frame",), 6, "{"),
        (("frame", "diameter"), 6, "13 in"),
        (("frame", "depth"), 6, "55 mm"),
        (("stations",), 8, "c"),
        (("stations", "count"), 8, "16"),
        (("notes",), 10, "|"),
        (("bench", "punches"), 15, "-"),
        (("bench", "punches", 1), 16, "10 mm"),
        (("bench", "punches", 2), 18, "s"),
        (("bench", "punches", 2, "size"), 18, "12 mm"),
        (("bench", "punches", 3), 19, "["),
        (("bench", "punches", 3, 1, "b"), 19, "c"),
        (("plain",), 20, "over"),
        (("quoted",), 22, "'over"),
    ],
)
def test_marks_of_values(path: Path, line: int, text: str) -> None:
    located = read(SPEC)
    assert located.values[path].line == line
    assert marked(located, located.values[path]) == text


@pytest.mark.parametrize(
    ("path", "text"),
    [
        (("spec",), "spec"),
        (("frame", "outline"), "outline"),
        (("frame", "diameter"), "'diameter'"),
        (("stations", "hand"), "hand"),
        (("bench", "punches", 3, 1, "b"), "b"),
    ],
)
def test_marks_of_keys(path: Path, text: str) -> None:
    located = read(SPEC)
    assert marked(located, located.keys[path]) == text


def test_every_key_and_value_has_a_mark() -> None:
    located = read(SPEC)

    def walk(value: Data, path: Path) -> set[Path]:
        items = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
        return {path}.union(*(walk(inner, (*path, key)) for key, inner in items))

    paths = walk(located.data, ())
    assert set(located.values) == paths
    assert set(located.keys) == {path for path in paths if path and isinstance(path[-1], str)}


def test_place_of_an_empty_value_is_behind_its_colon() -> None:
    assert read(SPEC).place(("stations", "hand")) == Place("drum.yaml", 9, 8, 1, "  hand:")


def test_place_of_what_is_absent_is_its_parent() -> None:
    located = read(SPEC)
    assert located.place(("stations", "web"), key=True) == located.place(("stations",), key=True)


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("mark", ["", "\ufeff"], ids=["plain", "byte-order-mark"])
def test_line_ends_and_byte_order_mark_change_nothing(end: str, mark: str) -> None:
    plain = read(SPEC)
    located = read((mark + SPEC.replace("\n", end)).encode())
    assert located.data == plain.data
    assert located.lines == plain.lines
    assert located.keys == plain.keys
    assert located.values == plain.values


def test_lines_are_the_files_lines() -> None:
    assert read(SPEC).lines == tuple(SPEC.splitlines())
    assert read("a: b").lines == ("a: b",)
    assert read("a: b\n\n").lines == ("a: b", "")


@pytest.mark.parametrize("head", ["---\n", "%YAML 1.2\n---\n", "%YAML 1.1 # older\n---\n", "# a\n\n--- # b\n"])
@pytest.mark.parametrize("tail", ["", "...\n", "# end\n", "\n\n"])
def test_document_marks_and_directive_are_taken(head: str, tail: str) -> None:
    located = read(f"{head}spec: 1\n{tail}")
    assert located.data == {"spec": 1}
    assert located.keys[("spec",)].line == head.count("\n") + 1


def test_percent_sign_further_down_is_no_directive() -> None:
    assert read("a: |\n  x\n  %YAML 3\nb: 8 %\n").data == {"a": "x\n%YAML 3\n", "b": "8 %"}


@pytest.mark.parametrize(
    "text",
    ["  one\n\ttwo", "'one\n\ttwo'", '"one\n\ttwo"', "|\n  one\n  \ttwo\n", ">\n  one\n  \ttwo\n  \tthree\n"],
)
def test_tabs_within_text_are_text(text: str) -> None:
    source = f"a: {text}\n"
    if text.startswith("  "):
        located, findings = read_yaml(source.encode(), "drum.yaml")
        assert located is None
        assert [finding.name for finding in findings] == ["tab-indent"]
    else:
        assert read(source).data == yaml.safe_load(source)


def test_escapes_are_data() -> None:
    """What cannot stand in a file can be written in double quotes; showing it safely comes later."""
    assert read('a: "\\e[31m \\0 \\u2028 \\U0001F941"\n').data == {"a": "\x1b[31m \0 \u2028 🥁"}


def test_key_of_any_text() -> None:
    source = textwrap.dedent(
        """\
        <: 1
        "<<": 2
        '*a': 3
        "~": 4
        a b: 5
        ? c
        : 6
        """
    )
    assert read(source).data == {"<": 1, "<<": 2, "*a": 3, "~": 4, "a b": 5, "c": 6}


def test_equal_keys_in_different_maps() -> None:
    assert read("a: {a: {a: 1}}\nb: [{a: 1}, {a: 2}]\n").data == {
        "a": {"a": {"a": 1}},
        "b": [{"a": 1}, {"a": 2}],
    }


def test_keys_of_different_kinds_are_the_same_text() -> None:
    located, findings = read_yaml(b"1: a\n'1': b\n", "drum.yaml")
    assert located is None
    assert [finding.name for finding in findings] == ["duplicate-key"]
