"""Whatever a maker writes into a text field is shown as plain text."""

from __future__ import annotations

import re
import string
import unicodedata
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheet_plans import SPECS, cells, finding, plan_from, plan_of, section, tables
from tauthide.findings import Place, Severity, relative_to
from tauthide.sheets.index import failed_row, index_row
from tauthide.sheets.remarks import view_notes
from tauthide.sheets.sheet import render_index, render_notice, render_sheet
from tauthide.sheets.words import own
from tauthide.text import markdown

HOSTILE = {
    "markup": "# <b>x</b> | *y* _z_ `code` ~~gone~~",
    "link": "[press](javascript:x) ![see](http://x.example/a.png) <http://x.example> &lt;",
    "escapes": "\x1b[31mred\x1b[0m \x07 \x00 \x9b2J",
    "bidi": "\u202egnirts\u2066\u200b\ufeff",
    "line ends": "one\r\n\n# two\u2028three\x0b\x85four",
    "backslash": "\\* \\| \\\\ \\",
    "fence": "```",
    "rule": "---",
    "row": "| a | b |\n| --- | --- |",
}


def active(text: str) -> list[str]:
    """Return what a Markdown reader or a terminal would act on: bare punctuation, hidden characters."""
    bare = re.sub(rf"\\[{re.escape(string.punctuation)}]", "", text)
    return [
        character
        for character in bare
        if character in string.punctuation or unicodedata.category(character) in {"Cc", "Cf", "Zl", "Zp", "Co", "Cs"}
    ]


@pytest.mark.parametrize("text", HOSTILE.values(), ids=HOSTILE)
class TestHostileText:
    def test_title(self, text: str) -> None:
        plan = plan_of("round")
        page = render_sheet(replace(plan, spec=replace(plan.spec, title=text))).decode()
        first, rest = page.split("\n", 1)
        assert first.startswith("# ")
        assert active(first[2:]) == []
        assert rest == render_sheet(plan).decode().split("\n", 1)[1]

    def test_notes(self, text: str) -> None:
        plan = plan_of("round")
        page = render_sheet(replace(plan, spec=replace(plan.spec, notes=f"Before\n{text}\nAfter"))).decode()
        part = page[page.index("**Notes**") + len("**Notes**") : page.index("## Take care")]
        lines = [line for line in part.split("\n") if line]
        assert lines[0] == "> Before\\"
        assert lines[-1] == "> After"
        for line in lines:
            assert line.startswith(">")
            assert active(line[1:].removesuffix("\\")) == []
        assert page.replace(f"\n**Notes**{part.rstrip()}\n", "") == render_sheet(plan).decode()

    def test_finding(self, text: str) -> None:
        found = replace(
            finding(message=text, found=text, allowed=text, write=text, path=text),
            place=Place(f"specs/{text}", 3),
        )
        plan = plan_of("round")
        plan = replace(plan, spec=replace(plan.spec, place=Place("specs/lib-13.yaml", 2)))
        page = render_sheet(plan, [found]).decode()
        part = section(page, "## Look at these first").removeprefix("## Look at these first").strip()
        word, lines = markdown(text), [markdown(line) for line in text.split("\n") if line.strip()]
        file = markdown(relative_to("specs/lib-13.yaml", f"specs/{text}"))
        assert part == (
            f"- **Warning:** {word}. Found: {word}. Allowed: {word}. Write: {'; '.join(lines)}"
            f" (web-too-narrow, {word}; {file}, line 3)"
        )
        assert active(word + file + "".join(lines)) == []

    def test_notice(self, text: str) -> None:
        page = render_notice(text, text, [finding(Severity.ERROR)]).decode()
        assert active(page.split("\n")[0].removeprefix("# ").removesuffix(": do not cut")) == []
        assert active(page.split("\n")[2].split("**")[1].removesuffix(".")) == []

    def test_index(self, text: str) -> None:
        rows = (index_row(plan_of("round")), failed_row("LIB-14", text))
        table = tables(render_index(rows).decode())[0]
        assert [len(row) for row in table] == [8, 8, 8]
        assert active(table[2][1]) == []


def test_what_is_written_in_a_value_is_escaped() -> None:
    page = render_sheet(plan_from(SPECS["round"].replace("depth: 55 mm", 'depth: "5.5 cm"'))).decode()
    row = next(line for line in page.splitlines() if "`frame.depth`" in line)
    assert cells(row)[2] == "5\\.5 cm"


def test_a_plain_title_reads_as_it_was_written() -> None:
    page = render_sheet(plan_of("round")).decode()
    assert page.split("\n")[0].replace("\\", "") == "# Lending set, 13 inch goat"


class TestNotes:
    """Each line of the notes stays a line."""

    def test_lines_and_paragraphs(self) -> None:
        assert view_notes("one\ntwo\n\n\n   three  \n \n") == (("one", "two"), ("three",))

    def test_windows_line_ends(self) -> None:
        assert view_notes("one\r\ntwo") == view_notes("one\ntwo")

    def test_none(self) -> None:
        assert view_notes("") == ()

    @given(st.text(alphabet=st.characters(exclude_categories=["Cs"]), max_size=80))
    @settings(max_examples=100)
    def test_nothing_is_lost_or_active(self, notes: str) -> None:
        shown = [line for paragraph in view_notes(notes) for line in paragraph]
        assert shown == [markdown(line) for line in notes.replace("\r\n", "\n").split("\n") if line.strip()]
        assert all(active(line) == [] for line in shown)


class TestOwnWords:
    """Our own titles and formulas stay readable in the page's source."""

    @pytest.mark.parametrize(
        ("text", "shown"),
        [
            ("2 head.blank_radius sin(pi / count)", "2 head.blank_radius sin(pi / count)"),
            ("a | b", "a \\| b"),
            ("x * y <z> [w] `v`", "x \\* y \\<z\\> \\[w\\] \\`v\\`"),
            ("_u_ v_w", "\\_u\\_ v_w"),
        ],
    )
    def test_only_what_acts_is_escaped(self, text: str, shown: str) -> None:
        assert own(text) == shown
