"""Pages in HTML: the sheet, made of its Markdown and drawings, and the template at true size. No script, no network."""

from __future__ import annotations

from collections.abc import Mapping

from tauthide.drawings.canvas import Canvas
from tauthide.plan.plan import Plan
from tauthide.printing.environment import environment
from tauthide.printing.markdown_html import render_sections
from tauthide.printing.paper import PAPERS, TRUE_MARGIN_MM
from tauthide.printing.template import template_pages
from tauthide.text import plain

GAUGE = "gauge.svg"
"""The drawing that has a page of its own at the end: it needs the paper's whole height at true size."""


def render_sheet_page(
    markdown: bytes, drawings: Mapping[str, bytes], paper: str, *, drum: str, digest: str = "", notice: str = ""
) -> bytes:
    """Return a sheet, or a notice in its place, as one page of HTML for a paper, a name of `PAPERS`.

    `drawings` are SVG files by name. Drum, digest and notice run on every printed page; the heading of a section
    runs on every page that it goes on to. Raises ImportError where markdown-it-py is not installed.
    """
    elements = {name: _element(content) for name, content in drawings.items()}
    first, *sections = render_sections(markdown.decode("utf-8"), elements, frozenset({GAUGE} & elements.keys()))
    page = environment().get_template("sheet.html.j2")
    view = {
        "drum": plain(drum),
        "digest": digest,
        "notice": plain(notice),
        "paper": PAPERS[paper],
        "first": first,
        "sections": sections,
        "gauge": elements.get(GAUGE, ""),
    }
    return page.render(view).encode("utf-8")


def render_template_page(plan: Plan, paper: str, notice: str = "") -> bytes:
    """Return gauge and rim at true size as one HTML file of several printed pages."""
    pages = [_element(canvas.bytes()) for canvas in template_pages(plan, paper, Canvas, notice)]
    view = {
        "drum": plain(plan.spec.drum),
        "digest": plan.digest,
        "notice": plain(notice),
        "paper": PAPERS[paper],
        "margin_mm": TRUE_MARGIN_MM,
        "pages": pages,
    }
    return environment().get_template("template.html.j2").render(view).encode("utf-8")


def _element(svg: bytes) -> str:
    return svg.decode("utf-8").strip()
