"""Pages in HTML: whole in themselves, safe whatever a maker writes, and with words for every drawing."""

from __future__ import annotations

import re
from dataclasses import replace
from html.parser import HTMLParser

import pytest

from sheet_plans import SPECS, finding, plan_of
from tauthide.batch.compiling import render_drum
from tauthide.drawings.canvas import Canvas, overlapping
from tauthide.findings import Severity
from tauthide.plan.plan import Plan
from tauthide.printing.environment import css_text
from tauthide.printing.paper import PAPERS, Prints, missing
from tauthide.printing.prints import render_failed_prints, render_prints
from tauthide.printing.template import template_pages
from tauthide.sheets.sheet import render_notice

HTML = Prints(html=True)
HOSTILE = '</style><script>alert(1)</script>"; } \\" <b>&amp; \u202e'


def pages_of(plan: Plan, notice: str = "", prints: Prints = HTML) -> dict[str, str]:
    """Return the printed pages of a plan by name."""
    files = render_prints(plan, render_drum(plan, ()), prints, notice)
    return {name: content.decode("utf-8") for name, content in files.items()}


class Reader(HTMLParser):
    """Notes what a page is made of."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str]]] = []
        self.open: list[str] = []
        self.feed(page)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, {name: value or "" for name, value in attrs}))
        if tag not in ("meta", "input", "br"):
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, {name: value or "" for name, value in attrs}))

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def all(self, tag: str) -> list[dict[str, str]]:
        """Return the attributes of all elements of a kind."""
        return [attributes for found, attributes in self.tags if found == tag]


@pytest.mark.parametrize("name", SPECS)
class TestSelfContained:
    def test_nothing_from_elsewhere_and_no_script(self, name: str) -> None:
        for page in pages_of(plan_of(name)).values():
            read = Reader(page)
            assert read.open == []
            tags = {tag for tag, _ in read.tags}
            assert tags.isdisjoint({"script", "link", "img", "iframe", "object", "embed", "base", "use", "image"})
            for _, attributes in read.tags:
                assert not any(attribute.startswith("on") for attribute in attributes)
                assert {"src", "srcset", "xlink:href"}.isdisjoint(attributes)
            assert not re.search(r"url\(|@import|@font-face", page)
            assert any(
                meta.get("content") == "default-src 'none'; style-src 'unsafe-inline'" for meta in read.all("meta")
            )

    def test_links_lead_somewhere_on_the_page(self, name: str) -> None:
        read = Reader(pages_of(plan_of(name))["sheet.html"])
        places = [attributes["id"] for _, attributes in read.tags if "id" in attributes]
        assert len(places) == len(set(places))
        targets = [link["href"] for link in read.all("a")]
        assert "#gauge" in targets
        assert {target.removeprefix("#") for target in targets} <= set(places)
        assert all(target.startswith("#") for target in targets)

    def test_drawings_are_there_with_their_words(self, name: str) -> None:
        read = Reader(pages_of(plan_of(name))["sheet.html"])
        labels = [drawing["aria-label"] for drawing in read.all("svg")]
        assert len(labels) == len(set(labels)) == 5
        assert all(drawing["role"] == "img" for drawing in read.all("svg"))
        assert "The spans across the back, numbered in lacing order" in labels


def test_all_words_of_the_markdown_are_on_the_page() -> None:
    plan = plan_of("round")
    page = pages_of(plan)["sheet.html"]
    assert page.count('type="checkbox"') == render_drum(plan, ())["sheet.md"].decode().count("- [ ] ")
    assert "[ ]" not in page
    assert '<meta name="viewport" content="width=device-width' in page


@pytest.mark.parametrize("paper", PAPERS)
def test_paper(paper: str) -> None:
    for page in pages_of(plan_of("round"), prints=Prints(html=True, paper=paper)).values():
        assert re.findall(r"@page {\s*size: (\w+);", page) == [PAPERS[paper].name]


class TestMakersText:
    def test_hostile_title_notes_and_drum(self) -> None:
        plan = plan_of("round")
        plan = replace(plan, spec=replace(plan.spec, title=HOSTILE, notes=HOSTILE, drum=HOSTILE))
        for page in pages_of(plan, HOSTILE).values():
            assert "script" not in {tag for tag, _ in Reader(page).tags}
            assert page.count("</style>") == 1
            assert "\u202e" not in page

    def test_css_text_is_one_string(self) -> None:
        assert css_text('a"b\\') == '"a\\000022 b\\00005c "'
        assert css_text("Stop: no") == '"Stop\\00003a  no"'
        assert set(css_text(HOSTILE)[1:-1]) <= set("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789 \\")

    def test_notice_runs_on_the_pages(self) -> None:
        pages = pages_of(plan_of("round"), "Not approved")
        assert f"@top-right {{ content: {css_text('Not approved')};" in pages["sheet.html"]
        svgs = re.findall(r"<svg.*?</svg>", pages["template.html"], re.DOTALL)
        assert len(svgs) > 3
        assert all(">Not approved</text>" in svg for svg in svgs)
        assert "Not approved" not in "".join(pages_of(plan_of("round")).values())


def test_a_drum_with_errors_has_its_notice_and_no_template() -> None:
    files = {"sheet.md": render_notice("LIB-13", "", [finding(Severity.ERROR)], "specs/lib-13.yaml")}
    printed = render_failed_prints("LIB-13", files, Prints(html=True, pdf=True))
    assert set(printed) == {"sheet.html"}
    page = printed["sheet.html"].decode()
    assert css_text("Do not cut") in page
    assert "The web is narrow" in page
    assert render_failed_prints("LIB-13", files, Prints(pdf=True)) == {}


@pytest.mark.parametrize("name", SPECS)
@pytest.mark.parametrize("paper", PAPERS)
def test_texts_of_the_template_do_not_overlap(name: str, paper: str) -> None:
    for number, canvas in enumerate(template_pages(plan_of(name), paper, Canvas, "Not approved, do not cut"), 1):
        width, height = PAPERS[paper].room_mm
        if number > 1:  # the gauge's texts count from its own corner, and are tested with it
            assert overlapping(canvas.texts) == [], number
            for text in canvas.texts:
                for x, y in text.corners:
                    assert -0.1 <= x <= width + 0.1, (number, text.text)
                    assert -0.1 <= y <= height + 0.1, (number, text.text)


def test_prints_key_tells_apart() -> None:
    keys = {Prints(html, pdf, paper).key for html in (True, False) for pdf in (True, False) for paper in PAPERS}
    assert keys == {"", *keys}
    assert len(keys) == 7
    assert "markdown-it-py==" in HTML.key
    assert missing(Prints(html=True, pdf=True)) == ()
