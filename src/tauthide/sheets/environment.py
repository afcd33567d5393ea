"""The template environment, made once, and the templates that ship beside this module."""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from jinja2 import Environment, Template


@cache
def environment() -> Environment:
    """Return the environment of all sheets; a name that a template asks for in vain is an error.

    Markdown is not HTML, so nothing is escaped here: the view escapes every word that a maker wrote.
    """
    from jinja2 import Environment, FunctionLoader, StrictUndefined

    return Environment(
        loader=FunctionLoader(built_in),
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
        autoescape=False,
        auto_reload=False,
    )


def template(name: str) -> Template:
    """Return the template `name`, such as `sheet.md.j2`, compiled once.

    Raises jinja2.TemplateNotFound where there is none.
    .
    """
    return environment().get_template(name)


def built_in(name: str) -> str | None:
    """Return the text of the template `name`, or None where there is none."""
    # Read through importlib.resources, so that the package also works from a zip file.
    parts = name.split("/")
    if not all(parts) or ".." in parts:
        return None  # a maker's own template may ask for anything
    file = files("tauthide.sheets").joinpath("templates", *parts)
    return file.read_text(encoding="utf-8") if file.is_file() else None
