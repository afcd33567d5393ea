"""The template environment of pages in HTML: everything that is put in is escaped, unless made by us as HTML."""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from jinja2 import Environment

_PLAIN = frozenset("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789 ")


@cache
def environment() -> Environment:
    """Return the environment; a name that a template asks for in vain is an error."""
    from jinja2 import Environment, FunctionLoader, StrictUndefined

    made = Environment(
        loader=FunctionLoader(_read),
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
        autoescape=True,
        auto_reload=False,
    )
    made.filters["css"] = css_text
    return made


def css_text(text: str) -> str:
    """Return a text as a string of CSS: all but letters and digits of ASCII by their numbers, so it can't end.

    A number is followed by a blank that belongs to it; else it would swallow one of the text's own.
    """
    return '"' + "".join(sign if sign in _PLAIN else f"\\{ord(sign):06x} " for sign in text) + '"'


def _read(name: str) -> str | None:
    # Read through importlib.resources, so that the package also works from a zip file.
    file = files("tauthide.printing").joinpath("templates", name)
    return file.read_text(encoding="utf-8") if file.is_file() else None
