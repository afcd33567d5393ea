"""Laws of reading: any file gives data or findings, and data stand where their marks say."""

from __future__ import annotations

import json
import math
import subprocess
import sys
from collections.abc import Iterator

import pytest
import yaml
from hypothesis import example, given, settings
from hypothesis import strategies as st

from tauthide.findings import Severity, in_order
from tauthide.reading.documents import KINDS, peek_kind, read_document
from tauthide.reading.events import read_yaml
from tauthide.reading.located import Data, Located, Mark, Path

# signs that YAML gives a meaning, words, and line ends, so that most texts are nearly YAML
SIGNS = "{}[],:-?&*!|>'\"%@`#~<.\\\t\0\u2028é🥁"
BREAKS_AND_BLANKS = ["\n", "\r\n", "\r", " ", "  ", "\n  ", "\n\t", ": ", "- ", "? ", "---\n", "...\n"]
TOKENS = [
    "spec: 1\n",
    "a",
    "b: ",
    "<<: ",
    "*a",
    "&a ",
    "!!str ",
    "!<",
    "%YAML 1.2\n",
    "\\ud800",
    "\\U",
    "\ufeff",
]
VALUES = ["1", "010", ".nan", "1e999", "0x", "depth:55 mm"]
YAML_SCRAPS = st.lists(st.sampled_from([*SIGNS, *BREAKS_AND_BLANKS, *TOKENS, *VALUES]), max_size=40).map("".join)
WORDS = st.text(st.characters(codec="utf-8", categories=["L", "N"], max_codepoint=0x1F9FF), min_size=1, max_size=8)
PLAIN = st.sampled_from(["13 in", "goat", "no", "010", "½", "🥁 drum", "a-b", "0.5", "true", "~", "8 %", "x#y"])
SCALARS = PLAIN | WORDS.map(lambda word: f'"{word}"') | WORDS.map(lambda word: f"'{word}'")


def check_any(source: bytes) -> None:
    """Check what holds for every file: a document, or errors in order with places, and no exception."""
    document, findings = read_document(source, "drum.yaml")
    assert (document is None) == bool(findings)
    assert findings == in_order(findings)
    for finding in findings:
        assert finding.severity is Severity.ERROR
        assert finding.message
        assert finding.allowed
        assert finding.place.line >= 1
        assert finding.place.column >= 1
        assert finding.place.width >= 1
        assert "\n" not in finding.found + finding.write + finding.place.text
    if document is not None:
        assert document.kind in KINDS
        assert peek_kind(source) in (document.kind, None)
        json.dumps(document.located.data, allow_nan=False, ensure_ascii=False).encode("utf-8")


class TestAnyFile:
    """No file makes the reader fail."""

    @given(st.binary(max_size=200))
    @example(b"\xff\xfe")
    @example(b"\xef\xbb\xbf\xef\xbb\xbf")
    @example(b"a: \xed\xa0\x80")
    def test_bytes(self, source: bytes) -> None:
        check_any(source)

    @given(st.text(max_size=200))
    def test_text(self, text: str) -> None:
        check_any(text.encode("utf-8", errors="surrogatepass"))

    @settings(max_examples=500)
    @given(YAML_SCRAPS)
    def test_near_yaml(self, text: str) -> None:
        check_any(text.encode())

    @settings(max_examples=300)
    @given(YAML_SCRAPS)
    def test_near_yaml_read_by_the_parser_in_python(self, text: str) -> None:
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(yaml, "__with_libyaml__", False)
            check_any(text.encode())

    @given(YAML_SCRAPS, st.integers(0, 40))
    def test_a_spec_with_something_put_in(self, text: str, index: int) -> None:
        spec = "spec: 1\ndrum: LIB-13\nframe: {outline: round, depth: 55 mm}\nhead:\n  hide: goat\n"
        check_any((spec[:index] + text + spec[index:]).encode())


SEEN = st.characters(codec="utf-8", exclude_categories=["Cc", "Zl", "Zp"], exclude_characters="\ufeff\ufffe\uffff")
# nothing that begins as a number: some are text to YAML 1.1, which PyYAML writes, and numbers to YAML 1.2
TEXTS = st.text(SEEN | st.sampled_from("\n\t"), max_size=12).filter(lambda text: text[:1] not in "0123456789+-.")
SIMPLE = st.recursive(
    st.none() | st.booleans() | st.integers(-(10**9), 10**9) | TEXTS,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(WORDS, inner, max_size=4),
    max_leaves=20,
)


class TestSameData:
    """What another reader of YAML makes of a document, this one makes of it too."""

    @given(st.dictionaries(WORDS, SIMPLE, max_size=5), st.booleans(), st.booleans())
    def test_as_pyyaml_writes_and_reads_it(self, data: dict[str, Data], flow: bool, unicode: bool) -> None:
        class Dumper(yaml.SafeDumper):
            def ignore_aliases(self, data: object) -> bool:
                return True

        source = yaml.dump(data, Dumper=Dumper, default_flow_style=flow, allow_unicode=unicode, sort_keys=False)
        located, findings = read_yaml(source.encode(), "drum.yaml")
        assert findings == ()
        assert located is not None
        assert located.data == yaml.safe_load(source) == data

    @given(st.dictionaries(WORDS, SIMPLE, max_size=5), st.sampled_from([None, 2]))
    def test_json_is_yaml(self, data: dict[str, Data], indent: int | None) -> None:
        # characters beyond U+FFFF as themselves: JSON's pairs of escapes are no YAML
        source = json.dumps(data, indent=indent, ensure_ascii=False)
        located, findings = read_yaml(source.encode(), "drum.json")
        assert findings == ()
        assert located is not None
        assert located.data == data


def write_block(value: object, indent: int) -> str:
    """Return a generated document as block YAML; scalars are written as they are."""
    blanks = "  " * indent
    if isinstance(value, dict):
        lines = (f"{blanks}{key}:{write_block(inner, indent + 1)}" for key, inner in value.items())
        return "\n" + "\n".join(lines) if indent else "\n".join(lines)
    if isinstance(value, list):
        return "\n" + "\n".join(f"{blanks}-{write_block(inner, indent + 1)}" for inner in value)
    return f" {value}"


def write_flow(value: object) -> str:
    """Return a generated document as flow YAML; scalars are written as they are."""
    if isinstance(value, dict):
        return "{" + ", ".join(f"{key}: {write_flow(inner)}" for key, inner in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(write_flow, value)) + "]"
    return str(value)


def scalars_of(value: object, path: Path) -> Iterator[tuple[Path, str]]:
    """Yield path and written text of every scalar in a generated document."""
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from scalars_of(inner, (*path, key))
    elif isinstance(value, list):
        for index, inner in enumerate(value):
            yield from scalars_of(inner, (*path, index))
    else:
        yield path, str(value)


# letters at the front, so that a key is neither a number nor a word of YAML's when it is read by another
KEYS = WORDS.map(lambda word: f"k{word}")
WRITTEN = st.recursive(
    SCALARS,
    lambda inner: st.lists(inner, min_size=1, max_size=4) | st.dictionaries(KEYS, inner, min_size=1, max_size=4),
    max_leaves=20,
)


class TestMarks:
    """The text at a mark is the text that was written there."""

    @given(st.dictionaries(KEYS, WRITTEN, min_size=1, max_size=5), st.booleans(), st.sampled_from(["\n", "\r\n"]))
    def test_text_at_the_mark(self, written: dict[str, object], flow: bool, end: str) -> None:
        source = write_flow(written) if flow else write_block(written, 0).replace("\n", end)
        located, findings = read_yaml(("\ufeff# 🥁" + end + source).encode(), "drum.yaml")
        assert findings == ()
        assert located is not None
        scalars = dict(scalars_of(written, ()))
        for path, text in scalars.items():
            assert self.at(located, located.values[path]) == text
        for path, mark in located.keys.items():
            assert self.at(located, mark) == path[-1]
        assert scalars.keys() <= located.values.keys()

    @staticmethod
    def at(located: Located, mark: Mark) -> str:
        """Return the text that a mark means."""
        return located.lines[mark.line - 1][mark.column - 1 : mark.column - 1 + mark.width]


class TestBothParsers:
    """With libyaml or without, a file has the same data and the same faults."""

    @pytest.mark.skipif(not yaml.__with_libyaml__, reason="PyYAML was built without libyaml here")
    @given(st.dictionaries(KEYS, WRITTEN, min_size=1, max_size=5), st.booleans())
    def test_same(self, written: dict[str, object], flow: bool) -> None:
        source = (write_flow(written) if flow else write_block(written, 0)).encode()
        one = read_yaml(source, "drum.yaml")
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(yaml, "__with_libyaml__", False)
            other = read_yaml(source, "drum.yaml")
        assert one == other
        assert one[0] is not None


def test_importing_the_reader_does_not_import_yaml() -> None:
    """Importing yaml takes longer than showing the help does, which needs none of it."""
    code = "import sys, tauthide.reading.documents, tauthide.reading.files; print('yaml' in sys.modules)"
    shown = subprocess.run([sys.executable, "-c", code], capture_output=True, check=True, text=True)
    assert shown.stdout.strip() == "False"


def test_numbers_survive_in_json() -> None:
    """The reader lets no number through that JSON cannot hold."""
    located, _ = read_yaml(b"a: 1e14\nb: -0.0\nc: 1e-400\n", "drum.yaml")
    assert located is not None
    assert all(isinstance(value, float) and math.isfinite(value) for value in located.data.values())
