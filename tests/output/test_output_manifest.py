"""The manifest's text: the same for the same content, and refused unless a build could have written it."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tauthide.output.manifest import (
    DRUM_FILES,
    INDEX_NAME,
    DrumEntry,
    DrumRecord,
    Manifest,
    ManifestDamageError,
    is_drum_name,
    merge_manifests,
    parse_manifest,
    render_manifest,
)

HASH = "0123456789abcdef" * 4

hashes = st.none() | st.binary(min_size=32, max_size=32).map(bytes.hex)
texts = st.text(max_size=8)
values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False, allow_infinity=False) | texts,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(texts, inner, max_size=3),
    max_leaves=5,
)
drum_names = st.text(min_size=1, max_size=6).filter(is_drum_name)


@st.composite
def entries(draw: st.DrawFn, drum: str) -> DrumEntry:
    """Draw an entry, finished or only claimed."""
    files = draw(st.dictionaries(st.sampled_from(DRUM_FILES), hashes))
    if draw(st.booleans()):
        return DrumEntry(files)
    record = DrumRecord(
        drum, draw(texts), draw(texts), draw(st.booleans()), draw(st.lists(values, max_size=2)), draw(values)
    )
    return DrumEntry(files, record)


@st.composite
def manifests(draw: st.DrawFn) -> Manifest:
    """Draw a manifest of up to three drums."""
    names = draw(st.lists(drum_names, max_size=3, unique=True))
    return Manifest(
        {name: draw(entries(name)) for name in names},
        draw(st.dictionaries(st.just(INDEX_NAME), hashes)),
    )


def sample() -> Manifest:
    """Return a manifest with a finished drum, a failed one and a claimed one."""
    finished = DrumRecord("LIB-13", "lib-13.yaml", "f1", False, [], {"quantity": 8})
    failed = DrumRecord("LIB-14", "lib-14.yaml", "f2", True, [{"name": "odd-count"}], None)
    return Manifest(
        {
            "LIB-13": DrumEntry(dict.fromkeys(DRUM_FILES, HASH), finished),
            "LIB-14": DrumEntry({"sheet.md": HASH}, failed),
            "LIB-15": DrumEntry(dict.fromkeys(DRUM_FILES, None)),
        },
        {INDEX_NAME: HASH},
    )


class TestRendering:
    """The text says all, and always the same way."""

    @given(manifests())
    def test_reads_back_as_it_was(self, manifest: Manifest) -> None:
        assert parse_manifest(render_manifest(manifest)) == manifest

    @given(manifests())
    def test_order_of_insertion_does_not_show(self, manifest: Manifest) -> None:
        turned = Manifest(
            {
                drum: DrumEntry(dict(reversed(list(entry.files.items()))), entry.record)
                for drum, entry in reversed(list(manifest.drums.items()))
            },
            manifest.top,
        )
        assert render_manifest(turned) == render_manifest(manifest)

    @given(manifests())
    def test_keys_are_sorted_everywhere(self, manifest: Manifest) -> None:
        def check(pairs: list[tuple[str, object]]) -> dict[str, object]:
            assert [key for key, _ in pairs] == sorted(key for key, _ in pairs)
            return dict(pairs)

        json.loads(render_manifest(manifest), object_pairs_hook=check)

    def test_is_ascii_with_unix_line_ends_and_a_line_per_drum(self) -> None:
        data = render_manifest(sample())
        assert data.isascii()
        assert b"\r" not in data
        assert data.endswith(b"}\n")
        assert [line[:8] for line in data.decode().splitlines() if line.startswith('"LIB')] == [
            '"LIB-13"',
            '"LIB-14"',
            '"LIB-15"',
        ]


def at(*keys: str) -> Callable[[Any, object], None]:
    """Return a function that sets what stands at a path of keys; an ellipsis removes it."""

    def change(document: Any, value: object) -> None:
        for key in keys[:-1]:
            document = document[key]
        if value is ...:
            del document[keys[-1]]
        else:
            document[keys[-1]] = value

    return change


RECORD = ("drums", "LIB-13", "record")
TAMPERED = {
    "file above": (at("drums", "LIB-13", "files", "../../x"), HASH),
    "file elsewhere": (at("drums", "LIB-13", "files", "/etc/passwd"), HASH),
    "file deeper": (at("drums", "LIB-13", "files", "a/sheet.md"), HASH),
    "file of the maker's": (at("drums", "LIB-13", "files", "notes.txt"), HASH),
    "manifest as a file": (at("top", ".tauthide.json"), HASH),
    "top file above": (at("top", "../index.md"), HASH),
    "drum above": (at("drums", ".."), {"files": {"sheet.md": HASH}, "record": None}),
    "drum here": (at("drums", "."), {"files": {"sheet.md": HASH}, "record": None}),
    "drum two above": (at("drums", "../.."), {"files": {"sheet.md": HASH}, "record": None}),
    "drum elsewhere": (at("drums", "/etc"), {"files": {"sheet.md": HASH}, "record": None}),
    "drum elsewhere on another system": (at("drums", "C:x"), {"files": {}, "record": None}),
    "drum with a backslash": (at("drums", "..\\x"), {"files": {}, "record": None}),
    "drum without a name": (at("drums", ""), {"files": {}, "record": None}),
    "drum with a null": (at("drums", "a\0b"), {"files": {}, "record": None}),
    "drum named as the index": (at("drums", "Index.md"), {"files": {}, "record": None}),
    "drum named by half a character": (at("drums", "\ud800"), {"files": {}, "record": None}),
    "hash too short": (at("drums", "LIB-13", "files", "sheet.md"), "ab"),
    "hash with a line end": (at("drums", "LIB-13", "files", "sheet.md"), HASH + "\n"),
    "hash a number": (at("drums", "LIB-13", "files", "sheet.md"), 5),
    "files a list": (at("drums", "LIB-13", "files"), ["sheet.md"]),
    "no files": (at("drums", "LIB-13", "files"), ...),
    "entry a text": (at("drums", "LIB-13"), "x"),
    "entry with more": (at("drums", "LIB-13", "more"), 1),
    "drums a list": (at("drums"), []),
    "top a list": (at("top"), []),
    "no top": (at("top"), ...),
    "more at the top": (at("more"), 1),
    "no format": (at("format"), ...),
    "newer format": (at("format"), 2),
    "format nearly right": (at("format"), True),
    "record a text": (at(*RECORD), "x"),
    "record with more": (at(*RECORD, "more"), 1),
    "record with less": (at(*RECORD, "spec"), ...),
    "spec a number": (at(*RECORD, "spec"), 1),
    "fingerprint a number": (at(*RECORD, "fingerprint"), 1),
    "failed a number": (at(*RECORD, "failed"), 0),
    "findings a text": (at(*RECORD, "findings"), "x"),
}


class TestDamage:
    """What no build could have written is refused, and never with another exception."""

    @pytest.mark.parametrize("case", TAMPERED)
    def test_tampered(self, case: str) -> None:
        document = json.loads(render_manifest(sample()))
        change, value = TAMPERED[case]
        change(document, value)
        with pytest.raises(ManifestDamageError):
            parse_manifest(json.dumps(document).encode())

    @pytest.mark.parametrize(
        "data",
        [
            b"",
            b"[]",
            b"null",
            b"\xff\xfe",
            b'{"format": 1',
            b"[" * 100_000,
            b"<<<<<<< HEAD\n" + render_manifest(sample()),
            render_manifest(sample()).replace(b'"quantity": 8', b'"quantity": NaN'),
        ],
    )
    def test_not_whole(self, data: bytes) -> None:
        with pytest.raises(ManifestDamageError):
            parse_manifest(data)

    @given(st.integers(min_value=0, max_value=len(render_manifest(sample())) - 2))
    def test_cut_off_anywhere(self, end: int) -> None:
        with pytest.raises(ManifestDamageError):
            parse_manifest(render_manifest(sample())[:end])

    @given(st.integers(min_value=0), st.binary(min_size=1, max_size=3))
    def test_any_change_is_read_or_refused_and_never_leads_outside(self, at: int, patch: bytes) -> None:
        data = bytearray(render_manifest(sample()))
        at %= len(data)
        data[at : at + len(patch)] = patch
        try:
            manifest = parse_manifest(bytes(data))
        except ManifestDamageError:
            return
        for drum, entry in manifest.drums.items():
            assert is_drum_name(drum)
            assert set(entry.files) <= set(DRUM_FILES)
        assert set(manifest.top) <= {INDEX_NAME}

    def test_says_which_format_it_reads(self) -> None:
        with pytest.raises(ManifestDamageError, match="format 1"):
            parse_manifest(b'{"format": 7}')


class TestMerging:
    """Two builds at once: what only the other lists is kept."""

    def test_a_drum_that_we_never_knew_is_taken_whole(self) -> None:
        merged = merge_manifests(Manifest(), sample(), (), lambda drum, name, _: not drum)
        assert merged.drums == sample().drums
        assert merged.top == dict.fromkeys(sample().top)

    def test_of_a_drum_that_we_know_what_is_kept_is_claimed(self) -> None:
        ours = Manifest({"LIB-13": DrumEntry({"sheet.md": "f" * 64})})
        merged = merge_manifests(
            ours, sample(), sample().drums, lambda _, name, recorded: name == "plan.json" or recorded is None
        )
        assert merged.top == {}
        assert merged.drums == {
            "LIB-13": DrumEntry({"sheet.md": "f" * 64, "plan.json": None}),
            "LIB-15": DrumEntry(dict.fromkeys(DRUM_FILES)),
        }
