"""Bad input, end to end: a clear finding at its place, never a traceback, and nothing on disk lost."""

from __future__ import annotations

import re
from typing import NamedTuple
from xml.etree import ElementTree

import pytest

from tauthide.text import markdown
from workshops import PARTS, Workshop, files_of, spec_text

GOOD = spec_text()


class Bad(NamedTuple):
    """A spec with one fault, and what must be said of it."""

    text: str | bytes
    name: str
    line: int
    column: int
    found: str = ""
    write: str = ""


def parts(old: str, new: str) -> str:
    """Return the good spec with something in its parts replaced."""
    assert old in PARTS
    return spec_text(parts=PARTS.replace(old, new))


def headed(lines: str) -> str:
    """Return the good spec with lines between its name and its parts."""
    return spec_text(more=lines)


CASES = {
    "wrong type": Bad(parts("count: 16", "count: many"), "wrong-type", 5, 19, "many", "16"),
    "wrong type of a part": Bad(parts("head: {hide: goat}", "head: goat"), "wrong-type", 4, 7, "goat", "{hide: goat}"),
    "number where a name belongs": Bad("spec: 1\ndrum: 13\n" + PARTS, "wrong-type", 2, 7, "13", '"13"'),
    "unknown key": Bad(headed("colour: red\n"), "unknown-key", 3, 1, "colour"),
    "misspelt key": Bad(parts("hide:", "hyde:"), "unknown-key", 4, 8, "hyde", "hide"),
    "misspelt word": Bad(parts("goat", "gaot"), "unknown-word", 4, 14, "gaot", "goat"),
    "missing unit": Bad(parts("13 in", "13"), "missing-unit", 3, 35, "13", "13 in or 13 mm"),
    "odd station count": Bad(parts("16", "15"), "odd-station-count", 5, 19, "15", "14 or 16"),
    "negative size": Bad(parts("13 in", "-13 in"), "bad-quantity", 3, 35, "-13 in", "13 in"),
    "absurd size": Bad(parts("13 in", "13 m"), "out-of-range", 3, 35, "13 m"),
    "both of a couple": Bad(
        parts("count: 16", "count: 16, web: 18 mm, pair_spacing: 28 mm"),
        "both-of-a-couple", 5, 35, "pair_spacing: 28 mm", "web: 18 mm or pair_spacing: 28 mm",
    ),
    "pairs that run into the next station": Bad(
        parts("count: 16", "count: 64"), "pairs-run-together", 5, 19, "", "count: 16",
    ),
    "blank smaller than its holes": Bad(
        parts("hide: goat", "hide: goat, turnover: 8 mm").replace("55 mm", "15 mm"),
        "holes-in-head", 4, 30, "8 mm", "turnover: 9.5 mm",
    ),
    "not UTF-8": Bad(GOOD.encode() + b"notes: caf\xe9\n", "not-utf8", 6, 11, "the byte 0xE9"),
    "UTF-16": Bad(GOOD.encode("utf-16"), "not-utf8", 1, 1, "UTF-16"),
    "tabs": Bad("spec: 1\ndrum: LIB-13\nframe:\n\toutline: round\n", "tab-indent", 4, 1),
    "empty file": Bad("", "empty-file", 1, 1),
    "nothing but comments": Bad("# LIB-13 is out of use\n", "empty-file", 1, 1),
    "several documents": Bad(f"{GOOD}---\n{GOOD}", "several-documents", 6, 1),
    "duplicate key": Bad(headed("quantity: 8\nquantity: 9\n"), "duplicate-key", 4, 1, "quantity"),
    "anchor": Bad(parts("goat", "&skin goat"), "yaml-anchor", 4, 14, "&skin"),
    "alias": Bad(parts("goat", "*skin"), "yaml-alias", 4, 14, "*skin"),
    "tag": Bad(parts("goat", "!!str goat"), "yaml-tag", 4, 14, "!!str"),
    "merge": Bad(parts("hide: goat", "<<: {hide: goat}"), "yaml-merge", 4, 8, "<<"),
    ".nan": Bad(headed("quantity: .nan\n"), "non-finite-number", 3, 11, ".nan"),
    ".inf": Bad(headed("quantity: -.inf\n"), "non-finite-number", 3, 11, "-.inf"),
    "huge number": Bad(headed(f"quantity: 1{'0' * 400}\n"), "huge-number", 3, 11),
    "huge exponent": Bad(parts("13 in", "1e999 in"), "bad-quantity", 3, 35, "1e999 in"),
    "large count": Bad(headed("quantity: 1000000000\n"), "out-of-range", 3, 11, "1000000000"),
    "deep nesting": Bad(f"{GOOD}notes: {'[' * 500}{']' * 500}\n", "nested-too-deep", 6, 0),
    "brackets left open": Bad(f"{GOOD}notes: {'[' * 5000}\n", "nested-too-deep", 6, 0),
    "large file": Bad(GOOD + "#" * 256 * 1024, "file-too-large", 1, 1, "more than 256 KiB"),
    "no map": Bad("- spec: 1\n- drum: LIB-13\n", "root-not-map", 1, 1),
    "kind not first": Bad(f"drum: LIB-13\nspec: 1\n{PARTS}", "kind-not-first", 2, 1, "`drum` first", "spec: 1"),
    "kind forgotten": Bad(f"drum: LIB-13\n{PARTS}", "unknown-kind", 1, 1, "drum"),
    "kind misspelt": Bad(GOOD.replace("spec", "spce"), "unknown-kind", 1, 1, "spce", "spec: 1"),
    "later version": Bad(GOOD.replace("spec: 1", "spec: 2"), "unknown-version", 1, 7, "2", "spec: 1"),
    "control character": Bad(headed('title: "a\x1b[2Jb"\n'), "control-character", 3, 10, "U+001B"),
    "out of the folder": Bad("spec: 1\ndrum: ../LIB-13\n" + PARTS, "bad-name", 2, 7, "../LIB-13", "LIB-13"),
    "absolute name": Bad("spec: 1\ndrum: /etc/LIB\n" + PARTS, "bad-name", 2, 7, "/etc/LIB", "etc-LIB"),
    "backslash in the name": Bad("spec: 1\ndrum: a\\b\n" + PARTS, "bad-name", 2, 7, "a\\b", "a-b"),
    "two dots for a name": Bad("spec: 1\ndrum: ..\n" + PARTS, "bad-name", 2, 7, ".."),
    "a dot for a name": Bad("spec: 1\ndrum: .\n" + PARTS, "bad-name", 2, 7, "."),
    "device for a name": Bad("spec: 1\ndrum: CON\n" + PARTS, "bad-name", 2, 7, "CON", "drum-CON"),
    "colon in the name": Bad('spec: 1\ndrum: "a:b"\n' + PARTS, "bad-name", 2, 7, "a:b", "a-b"),
    "long name": Bad(f"spec: 1\ndrum: {'x' * 65}\n" + PARTS, "bad-name", 2, 7, "", "x" * 64),
    "name of the index": Bad("spec: 1\ndrum: Index.md\n" + PARTS, "bad-name", 2, 7, "Index.md"),
    "no name": Bad(f"spec: 1\n{PARTS}", "missing-key", 1, 1, "", "drum: LIB-13"),
    "long title": Bad(headed(f"title: {'x' * 200}\n"), "text-too-long", 3, 8),
    "half a character": Bad(headed('title: "\\ud800"\n'), "yaml-syntax", 3, 0),
}  # fmt: skip


@pytest.mark.parametrize("case", CASES)
class TestOneFault:
    def test_check(self, workshop: Workshop, case: str) -> None:
        bad = CASES[case]
        workshop.write("specs/lib-13.yaml", bad.text)
        run = workshop.check()
        finding = run.only
        assert run.code == 1
        assert (finding["name"], finding["severity"]) == (bad.name, "error")
        assert (finding["file"], finding["line"]) == ("specs/lib-13.yaml", bad.line)
        if bad.column:
            assert finding["column"] == bad.column
        assert finding["message"]
        assert finding["allowed"]
        if bad.found:
            assert finding["found"] == bad.found
        assert finding["write"] == bad.write or not bad.write
        assert run.report["summary"] == {"specs": 1, "errors": 1, "warnings": 0, "notes": 0}

    def test_build(self, workshop: Workshop, case: str) -> None:
        """A sheet that was built before gives way to a notice; another drum's is made all the same."""
        workshop.write("specs/lib-13.yaml", GOOD)
        assert workshop.build().code == 0
        workshop.write("specs/lib-13.yaml", CASES[case].text)
        workshop.write("specs/other.yaml", spec_text("OTHER"))
        run = workshop.build()
        assert (run.code, run.names) == (1, [CASES[case].name])
        assert list(workshop.sheets()) == ["LIB-13/sheet.md", *files_of("OTHER"), "index.md"]
        assert "do not cut" in workshop.sheet("LIB-13")
        assert "do not cut" in (workshop.folder / "sheets/index.md").read_text(encoding="utf-8")

    def test_text(self, workshop: Workshop, case: str) -> None:
        bad = CASES[case]
        workshop.write("specs/lib-13.yaml", bad.text)
        run = workshop.run("check")
        assert run.code == 1
        assert run.out == ""
        assert run.err.startswith(f"specs/lib-13.yaml:{bad.line}:")
        assert f"[{bad.name}]" in run.err.splitlines()[0]
        assert run.err.endswith("1 spec; 1 error\n")
        assert len(run.err) < 2000
        assert run.err.replace("\n", "").isprintable()


class TestSeveralFaults:
    def test_all_at_once_in_order_of_position(self, workshop: Workshop) -> None:
        workshop.write(
            "specs/a.yaml",
            "spec: 1\ndrum: a b\nquantity: 0\nframe: {outline: round, diameter: 13, depht: 55 mm}\n"
            "head: {hide: gaot}\nstations: {count: 15, colour: red}\n",
        )
        run = workshop.check()
        assert [(finding["line"], finding["column"], finding["name"]) for finding in run.findings] == [
            (2, 7, "bad-name"),
            (3, 11, "out-of-range"),
            (4, 35, "missing-unit"),
            (4, 39, "unknown-key"),
            (5, 14, "unknown-word"),
            (6, 19, "odd-station-count"),
            (6, 23, "unknown-key"),
        ]

    def test_one_bad_spec_stops_no_other(self, workshop: Workshop) -> None:
        for number in range(5):
            workshop.write(f"specs/{number}.yaml", spec_text(f"D{number}"))
        workshop.write("specs/2.yaml", "spec: 1\ndrum: D2\n")
        run = workshop.build()
        assert run.code == 1
        assert set(run.names) == {"missing-key"}
        assert {finding["file"] for finding in run.findings} == {"specs/2.yaml"}
        built = [file for drum in ("D0", "D1") for file in files_of(drum)]
        built += ["D2/sheet.md"] + [file for drum in ("D3", "D4") for file in files_of(drum)]
        assert list(workshop.sheets()) == [*built, "index.md"]

    def test_files_in_order_of_names(self, workshop: Workshop) -> None:
        for name in ("b", "a", "c/a"):
            workshop.write(f"specs/{name}.yaml", "spec: 1\ndrum: x y\n" + PARTS)
        assert [finding["file"] for finding in workshop.check().findings] == [
            "specs/a.yaml",
            "specs/b.yaml",
            "specs/c/a.yaml",
        ]


class TestHarmless:
    """What looks odd and is none the worse for it."""

    @pytest.mark.parametrize(
        "text",
        [GOOD.encode("utf-8-sig"), GOOD.replace("\n", "\r\n"), GOOD.replace("\n", "\r"), GOOD.rstrip("\n")],
        ids=["BOM", "CRLF", "CR", "no last line end"],
    )
    def test_same_bytes(self, workshop: Workshop, text: str | bytes) -> None:
        workshop.write("specs/lib-13.yaml", GOOD)
        workshop.build()
        before = workshop.sheets()
        workshop.write("specs/lib-13.yaml", text)
        run = workshop.build()
        assert (run.code, run.findings) == (0, [])
        assert workshop.sheets() == before

    @pytest.mark.parametrize(
        "text",
        [
            f"%YAML 1.2\n# a comment\n---\n{GOOD}...\n",
            '{"spec": 1, "drum": "LIB-13", "frame": {"outline": "round", "diameter": "13 in", "depth": "55 mm"}, '
            '"head": {"hide": "goat"}, "stations": {"count": 16}}',
        ],
        ids=["marks", "JSON"],
    )
    def test_same_drum(self, workshop: Workshop, text: str) -> None:
        workshop.write("specs/lib-13.yaml", GOOD)
        workshop.build()
        before = workshop.sheets()
        workshop.write("specs/lib-13.yaml", text)
        assert workshop.build().code == 0
        changed = [name for name, content in workshop.sheets().items() if content != before[name]]
        assert changed == ["LIB-13/sheet.md"]  # which tells on what line each value stands

    def test_columns_behind_a_bom_and_wide_letters(self, workshop: Workshop) -> None:
        workshop.write("specs/a.yaml", b"\xef\xbb\xbfspce: 1\n")
        workshop.write(
            "specs/b.yaml", headed('title: "\u7f8a\u76ae \U0001f98c", colour: red\n'.replace(", colour", "\ncolour"))
        )
        run = workshop.run("check")
        assert "specs/a.yaml:1:1: error" in run.err
        assert "    4 | colour: red\n      | ^^^^^^\n" in run.err


MARKUP = "<script>alert(1)</script> | [x](javascript:1) `code` *b* & {{ 7*7 }} {% raw %} \\ ![i](x) ]]> --"
"""Markup of every kind that a title may run into."""


class TestTextFields:
    """Terminal escapes and markup are plain text wherever they are shown."""

    @staticmethod
    def escaped(text: str) -> str:
        """Return text as a value in YAML's double quotes."""
        return '"' + "".join(f"\\U{ord(character):08x}" for character in text) + '"'

    def test_markup(self, workshop: Workshop) -> None:
        quoted = self.escaped(MARKUP)
        workshop.write("specs/a.yaml", headed(f"title: {quoted}\nnotes: {quoted}\n"))
        assert workshop.build().code == 0
        sheets = workshop.sheets()
        for name, content in sheets.items():
            text = content.decode("utf-8")
            if name.endswith(".md"):
                assert markdown(MARKUP) in text
                assert MARKUP not in text
                assert not re.search(r"(?<!\\)<script", text)
            if name.endswith(".svg"):
                kinds = {element.tag.rpartition("}")[2] for element in ElementTree.fromstring(text).iter()}
                assert not kinds & {"script", "a", "image", "foreignObject"}

    def test_escapes(self, workshop: Workshop) -> None:
        text = "a\x1b[31mred\x07\x9b2J\u202eevil\u200b\u2028z"
        quoted = self.escaped(text)
        workshop.write("specs/a.yaml", headed(f"title: {quoted}\nnotes: {quoted}\n"))
        assert workshop.build().code == 0
        for name, content in workshop.sheets(manifest=True).items():
            shown = content.decode("utf-8").replace("\n", "")
            assert not [character for character in text[1:] if character in shown and not character.isprintable()], name
        workshop.write("specs/a.yaml", headed(f"title: {quoted}\nnotes: {quoted}\ncolour: {quoted}\n"))
        run = workshop.run("check")
        assert run.code == 1
        assert run.err.replace("\n", "").isprintable()
