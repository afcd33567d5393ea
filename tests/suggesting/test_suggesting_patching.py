"""The patch: exactly the change that is meant, everything else in the maker's text as it was."""

from __future__ import annotations

import difflib
import textwrap
from collections.abc import Sequence

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from tauthide.reading.events import read_yaml
from tauthide.reading.located import Data, Path
from tauthide.suggesting.edits import Insert, Rename, Replace, apply_edit, edits_between, same_data
from tauthide.suggesting.patching import patch


def data_of(text: str) -> dict[str, Data]:
    located, findings = read_yaml(text.encode(), "a.yaml")
    assert located is not None, findings
    return located.data


def patched(text: str, *changes: tuple[Path, Data], renames: dict[Path, Path] | None = None) -> str:
    """Return a text with values set at paths; AssertionError where that can't be done in place."""
    data: Data = data_of(text)
    for path, value in changes:
        old = (renames or {}).get(path)
        if old is not None:
            data = apply_edit(data, Rename(old, str(path[-1])))
        data = apply_edit(data, Replace(path, value))
    assert isinstance(data, dict)
    written = patch(text.encode(), data, renames or {})
    assert written is not None
    return written.decode()


COUNT: Path = ("stations", "count")
BLOCK = """\
# the hall drum
spec: 1
drum: 'HALL'   # in quotes
frame:
    depth: 55 mm      # measured
    diameter: "13 in"

    # nothing is known of the wall
stations:
    count: 15  # to be asked
    web: 18 mm
# the end
"""


class TestReplacing:
    def test_only_the_value_changes(self) -> None:
        assert patched(BLOCK, (COUNT, 16)) == BLOCK.replace("count: 15", "count: 16")

    def test_quotes_stay(self) -> None:
        after = patched(BLOCK, (("frame", "diameter"), "14 in"))
        assert after == BLOCK.replace('"13 in"', '"14 in"')

    def test_inch_signs(self) -> None:
        after = patched(BLOCK, (("frame", "diameter"), '14"'))
        assert data_of(after)["frame"] == {"depth": "55 mm", "diameter": '14"'}

    def test_numbers_that_were_text(self) -> None:
        assert patched("spec: 1\nstations: {count: '16'}\n", (COUNT, 16)) == "spec: 1\nstations: {count: 16}\n"

    def test_value_on_a_line_of_its_own(self) -> None:
        text = "spec: 1\nstations:\n  count:\n    15 # odd\n  web: 18 mm\n"
        assert patched(text, (COUNT, 16)) == text.replace("15", "16")

    def test_text_of_several_lines(self) -> None:
        text = "spec: 1\ntitle: one\n  two # seen\ndrum: A\n"
        assert patched(text, (("title",), "three")) == "spec: 1\ntitle: three # seen\ndrum: A\n"

    @pytest.mark.parametrize(
        ("text", "expected"),
        [
            ("stations: {count: }", "stations: {count: 16}"),
            ("stations: {count: , web: 18 mm}", "stations: {count: 16, web: 18 mm}"),
            ("stations:\n  count:\n  web: 18 mm", "stations:\n  count: 16\n  web: 18 mm"),
            ("stations:\n  count: # how many?\n", "stations:\n  count: 16 # how many?\n"),
            ("stations: {count: ~}", "stations: {count: 16}"),
            ("stations: {count: \n  }", "stations: {count: 16\n  }"),
            ("stations: {count: # how many?\n  }", "stations: {count: 16 # how many?\n  }"),
        ],
    )
    def test_empty_values(self, text: str, expected: str) -> None:
        assert patched(f"spec: 1\n{text}", (COUNT, 16)) == f"spec: 1\n{expected}"

    def test_empty_parts(self) -> None:
        text = "spec: 1\nstations: # to do\nhead: {hide: goat}\n"
        after = patched(text, (("stations",), {"count": 16}))
        assert after == "spec: 1\nstations: {count: 16} # to do\nhead: {hide: goat}\n"

    def test_items_of_lists(self) -> None:
        text = "spec: 1\naccept:\n  - rule: pears-close # sic\n    because: we know\n"
        assert patched(text, (("accept", 0, "rule"), "pairs-close")) == text.replace("pears", "pairs")


class TestInserting:
    def test_last_in_a_block(self) -> None:
        after = patched(BLOCK, (("frame", "outline"), "round"))
        assert after == BLOCK.replace('"13 in"\n', '"13 in"\n    outline: round\n')

    def test_last_in_the_last_block(self) -> None:
        after = patched(BLOCK, (("stations", "hole"), "10 mm"))
        assert after == BLOCK.replace("18 mm\n", "18 mm\n    hole: 10 mm\n")

    def test_behind_a_list(self) -> None:
        text = "spec: 1\nbench:\n  punches:\n  - 8 mm\n  - 10 mm # new\n\nhead: {hide: goat}\n"
        after = patched(text, (("bench", "units"), "inch"))
        assert after == text.replace("# new\n", "# new\n  units: inch\n")

    def test_in_brackets(self) -> None:
        text = "spec: 1\nhead: { hide: goat }  # ours\n"
        assert patched(text, (("head", "turnover"), "40 mm")) == text.replace("goat", "goat, turnover: 40 mm")

    def test_in_brackets_over_several_lines(self) -> None:
        text = "spec: 1\nhead: {\n  hide: goat, # ours\n}\n"
        after = patched(text, (("head", "turnover"), "40 mm"))
        assert after == text.replace("goat,", "goat, turnover: 40 mm,")

    def test_in_empty_brackets(self) -> None:
        assert patched("spec: 1\nhead: {}\n", (("head", "hide"), "goat")) == "spec: 1\nhead: {hide: goat}\n"

    def test_a_part_like_the_others(self) -> None:
        head: Data = {"hide": "goat"}
        assert patched(BLOCK, (("head",), head)) == BLOCK + "head:\n    hide: goat\n"
        flow = "spec: 1\nstations: {count: 16}\n# the end\n"
        assert patched(flow, (("head",), head)) == flow + "head: {hide: goat}\n"

    def test_without_an_end_of_line(self) -> None:
        assert patched("spec: 1\ndrum: A", (("head",), {"hide": "goat"})) == "spec: 1\ndrum: A\nhead: {hide: goat}"

    def test_before_the_mark_of_the_end(self) -> None:
        after = patched("---\nspec: 1\ndrum: A\n...\n", (("head",), {"hide": "goat"}))
        assert after == "---\nspec: 1\ndrum: A\nhead: {hide: goat}\n...\n"

    def test_all_in_brackets(self) -> None:
        after = patched("{spec: 1, drum: A}\n", (("head",), {"hide": "goat"}))
        assert after == "{spec: 1, drum: A, head: {hide: goat}}\n"

    def test_behind_a_text_of_lines(self) -> None:
        text = "spec: 1\nnotes: |\n  one\n  two\n"
        assert patched(text, (("head",), {"hide": "goat"})) == text + "head: {hide: goat}\n"


class TestRenaming:
    def test_key_and_value(self) -> None:
        text = "spec: 1\nstations:\n  pair_spacing: 28 mm # wide\n  count: 16\n"
        after = patched(
            text, (("stations", "web"), "18 mm"), renames={("stations", "web"): ("stations", "pair_spacing")}
        )
        assert after == text.replace("pair_spacing: 28", "web: 18")

    def test_key_alone(self) -> None:
        text = "spec: 1\nhead: {tickness: 1 mm, hide: goat}\n"
        renames: dict[Path, Path] = {("head", "thickness"): ("head", "tickness")}
        after = patched(text, (("head", "thickness"), "1 mm"), renames=renames)
        assert after == text.replace("tickness", "thickness")


class TestLineEnds:
    @pytest.mark.parametrize("line_end", ["\r\n", "\r"])
    def test_stay(self, line_end: str) -> None:
        text = BLOCK.replace("\n", line_end)
        after = patched(text, (COUNT, 16), (("frame", "outline"), "round"), (("head",), {"hide": "goat"}))
        expected = BLOCK.replace("count: 15", "count: 16").replace('"13 in"\n', '"13 in"\n    outline: round\n')
        assert after == (expected + "head:\n    hide: goat\n").replace("\n", line_end)

    def test_byte_order_mark_stays(self) -> None:
        data = data_of(BLOCK)
        source = b"\xef\xbb\xbf" + BLOCK.encode()
        changed = apply_edit(data, Replace(COUNT, 16))
        assert isinstance(changed, dict)
        assert patch(source, changed, {}) == source.replace(b"15", b"16")


def test_without_the_parser_in_c(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("yaml.__with_libyaml__", False)
    after = patched(BLOCK, (COUNT, 16), (("frame", "outline"), "round"), (("head",), {"hide": "goat"}))
    expected = BLOCK.replace("count: 15", "count: 16").replace('"13 in"\n', '"13 in"\n    outline: round\n')
    assert after == expected + "head:\n    hide: goat\n"


class TestRefusing:
    def test_what_is_no_document(self) -> None:
        assert patch(b"spec: [1\n", {"spec": 1}, {}) is None

    def test_what_would_have_to_be_taken_out(self) -> None:
        assert patch(BLOCK.encode(), {"spec": 1, "drum": "HALL"}, {}) is None

    def test_a_key_without_a_colon(self) -> None:
        data: dict[str, Data] = {"spec": 1, "head": {"hide": "goat"}}
        assert patch(b"spec: 1\nhead: {hide}\n", data, {}) is None


class TestEdits:
    def test_single_steps(self) -> None:
        old: Data = {"a": {"b": 1, "c": 2}, "d": [{"e": 1}]}
        new: Data = {"a": {"x": 1, "c": 3, "y": 4}, "d": [{"e": 2}]}
        assert list(edits_between(old, new, {("a", "x"): ("a", "b")})) == [
            Rename(("a", "b"), "x"),
            Replace(("a", "c"), 3),
            Insert(("a", "y"), 4),
            Replace(("d", 0, "e"), 2),
        ]

    def test_types_count(self) -> None:
        assert list(edits_between({"a": 16.0}, {"a": 16}, {})) == [Replace(("a",), 16)]
        assert not same_data({"a": 1, "b": 2}, {"b": 2, "a": 1})


# Layouts as makers have them: parts in brackets or not, comments anywhere, either line end.

FIELDS = {
    "frame": ("outline", "diameter", "depth", "wall"),
    "head": ("hide", "turnover", "stretch"),
    "stations": ("count", "web", "hole", "margin"),
    "lace": ("width", "play"),
}
VALUES = ("13 in", "55 mm", "goat", "16", '"8 mm"', "'3 %'", "1 1/2 in", "", "~")
COMMENTS = ("", "", "  # why", " #", "   # {no: brackets}, 'nor quotes: \"")
NEW: tuple[Data, ...] = ("20 mm", 16, "1/2 in", '9"', "5 %")

Layout = tuple[str, dict[Path, Data], dict[Path, Path]]


@st.composite
def layouts(draw: st.DrawFn) -> Layout:
    """Draw a text, values to be set in it, and keys that take the place of others."""
    lines = [draw(st.sampled_from(["spec: 1", "# first\nspec: 1 # kind", "---\nspec: 1", "%YAML 1.2\n---\nspec: 1"]))]
    parts = draw(st.lists(st.sampled_from(sorted(FIELDS)), unique=True, max_size=4))
    present: list[Path] = []
    for part in parts:
        keys = draw(st.lists(st.sampled_from(FIELDS[part]), unique=True, min_size=1))
        entries = [f"{key}: {draw(st.sampled_from(VALUES))}".rstrip() for key in keys]
        present += [(part, key) for key in keys]
        gap = draw(st.sampled_from(["", "\n", "\n# a remark\n"])).split("\n")[1:]
        lines += [line for line in gap if line or draw(st.booleans())]
        comment = draw(st.sampled_from(COMMENTS))
        if draw(st.booleans()):
            between = draw(st.sampled_from([", ", " , ", ",\n    "]))
            closing = draw(st.sampled_from(["}", " }", ",}", "\n  }"]))
            lines.append(f"{part}: {{{between.join(entries)} {closing}{comment}")
        else:
            indent = " " * draw(st.integers(1, 4))
            lines.append(f"{part}:{comment}")
            for entry in entries:
                if draw(st.integers(0, 4)) == 0:
                    lines.append(f"{indent}# about the next line")
                lines.append(f"{indent}{entry}{draw(st.sampled_from(COMMENTS))}")
    text = "\n".join(lines) + draw(st.sampled_from(["", "\n", "\n\n# the end\n", "\n...\n"]))
    text = text.replace("\n", draw(st.sampled_from(["\n", "\n", "\r\n"])))
    wanted, renames = draw(changes(present))
    return text, wanted, renames


@st.composite
def changes(draw: st.DrawFn, present: Sequence[Path]) -> tuple[dict[Path, Data], dict[Path, Path]]:
    every: list[Path] = [(part, key) for part, keys in FIELDS.items() for key in keys]
    some: st.SearchStrategy[list[Path]] = st.lists(st.sampled_from(every), unique=True, min_size=1, max_size=4)
    paths = draw(some)
    wanted = {path: draw(st.sampled_from(NEW)) for path in paths}
    renames: dict[Path, Path] = {}
    free = [path for path in wanted if path not in present]
    for path in free:
        same_part = [old for old in present if old[0] == path[0] and old not in wanted and old not in renames.values()]
        takes: bool = draw(st.booleans())
        if same_part and takes:
            renames[path] = draw(st.sampled_from(same_part))
    return wanted, renames


def intended(text: str, wanted: dict[Path, Data], renames: dict[Path, Path]) -> dict[str, Data]:
    data: Data = data_of(text)
    for path, value in wanted.items():
        if path in renames:
            data = apply_edit(data, Rename(renames[path], str(path[-1])))
        assert isinstance(data, dict)
        if data.get(str(path[0])) is None:
            data = apply_edit(data, Insert(path[:1], {}))
        data = apply_edit(data, Replace(path, value))
    assert isinstance(data, dict)
    return data


class TestLayouts:
    @settings(max_examples=300, deadline=None)
    @given(layouts())
    def test_exactly_what_is_meant(self, layout: Layout) -> None:
        text, wanted, renames = layout
        assume(read_yaml(text.encode(), "")[0] is not None)
        new = intended(text, wanted, renames)
        written = patch(text.encode(), new, renames)
        assert written is not None
        after = written.decode()
        assert data_of(after) == new
        old_lines, new_lines = text.splitlines(keepends=True), after.splitlines(keepends=True)
        kept_apart(old_lines, new_lines, len(wanted))
        assert comments(after) == comments(text)
        assert after.endswith("\n") == text.endswith("\n")
        assert ("\r\n" in after) == ("\r\n" in text) or "\n" not in text
        assert after.count("\n") == after.count("\r\n") or "\r\n" not in text


def kept_apart(old: list[str], new: list[str], most: int) -> None:
    """Hold that no more lines are gone than values were set: each at most on a line of its own."""
    matcher = difflib.SequenceMatcher(
        None, [line.rstrip("\r\n") for line in old], [line.rstrip("\r\n") for line in new]
    )
    gone = sum(i2 - i1 for tag, i1, i2, _, _ in matcher.get_opcodes() if tag != "equal")
    assert gone <= most, textwrap.indent("".join(new), "    ")


def comments(text: str) -> list[str]:
    """Return the comments of a text: no value of ours has a `#` in it."""
    return [line[line.index("#") :].rstrip("\r\n") for line in text.splitlines() if "#" in line]
