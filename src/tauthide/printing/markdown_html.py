"""Markdown to HTML by markdown-it-py: an optional package, imported only here and only when it is needed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from html import escape
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from markdown_it import MarkdownIt
    from markdown_it.token import Token


@dataclass(frozen=True, slots=True)
class Section:
    """A part of a page that begins with a heading of the second rank; the first part begins with the title."""

    heading: str
    """HTML; empty for the part before the first such heading."""
    body: str
    """HTML."""


def render_sections(markdown: str, drawings: Mapping[str, str], apart: frozenset[str]) -> tuple[Section, ...]:
    """Return a page of Markdown as HTML, section by section.

    `drawings` are the SVG elements that stand where their file's image stands; those of `apart` stand elsewhere
    on the page, and a link leads there. Raises ImportError where markdown-it-py is not installed.
    """
    reader = _reader()
    env: dict[str, Any] = {"drawings": drawings, "apart": apart}
    parts: list[list[Token]] = [[]]
    for token in reader.parse(markdown, env):
        if token.type == "heading_open" and token.tag == "h2":
            parts.append([])
        parts[-1].append(token)
    return tuple(_section(reader, part, env) for part in parts)


def _section(reader: MarkdownIt, tokens: Sequence[Token], env: dict[str, Any]) -> Section:
    if not tokens or tokens[0].tag != "h2":
        return Section("", _html(reader, tokens, env))
    return Section(_html(reader, tokens[1].children or [], env), _html(reader, tokens[3:], env))


def _html(reader: MarkdownIt, tokens: Sequence[Token], env: dict[str, Any]) -> str:
    return str(reader.renderer.render(tokens, reader.options, env))


@cache
def _reader() -> MarkdownIt:
    """Return a reader of CommonMark with tables and task lists that lets no HTML of the text's own through."""
    from markdown_it import MarkdownIt  # late: optional
    from mdit_py_plugins.tasklists import tasklists_plugin

    reader = MarkdownIt("commonmark", {"html": False, "xhtmlOut": True}).enable("table")
    reader.use(tasklists_plugin, enabled=True, label=True)
    # The reader makes a rule a method of its renderer.
    reader.add_render_rule("image", _image)
    reader.add_render_rule("link_open", _link)
    reader.add_render_rule("table_open", _open_table)
    reader.add_render_rule("table_close", _close_table)
    return reader


def _image(_renderer: object, tokens: Sequence[Token], index: int, _options: object, env: dict[str, Any]) -> str:
    token = tokens[index]
    name, words = str(token.attrGet("src") or ""), escape(token.content)
    if name in env["apart"]:
        return f'{words}: <a href="#{_anchor(name)}">at the end</a>'
    drawing = env["drawings"].get(name)
    return (
        words if drawing is None else f'<span class="drawing" id="{_anchor(name)}">{_labelled(drawing, words)}</span>'
    )


def _link(_renderer: object, tokens: Sequence[Token], index: int, _options: object, env: dict[str, Any]) -> str:
    """Lead to the drawing on this very page, where the Markdown leads to its file."""
    target = str(tokens[index].attrGet("href") or "")
    inside = target in env["drawings"] or target in env["apart"]
    return f'<a href="{escape(f"#{_anchor(target)}" if inside else target)}">'


def _open_table(*_: object) -> str:
    return '<div class="wide"><table>\n'


def _close_table(*_: object) -> str:
    return "</table></div>\n"


def _anchor(name: str) -> str:
    return name.removesuffix(".svg")


def _labelled(svg: str, words: str) -> str:
    """Give a drawing the words that the page has for it, to be read out."""
    before, _, rest = svg.partition(' aria-label="')
    return f'{before} aria-label="{words}"{rest.partition(chr(34))[2]}' if rest else svg
