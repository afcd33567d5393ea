"""Sheets and index set out by a maker's own templates; what they don't replace is built in."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import fields, is_dataclass
from functools import lru_cache
from types import TracebackType
from typing import TYPE_CHECKING, Any

from tauthide.findings import Finding, Place, Severity
from tauthide.plan.plan import Plan
from tauthide.reading import template_faults as faults
from tauthide.reading.faults import Fault
from tauthide.reading.templates import Templates
from tauthide.sheets.environment import built_in
from tauthide.sheets.index import IndexRow, view_index
from tauthide.sheets.view import make_view
from tauthide.text import markdown

if TYPE_CHECKING:
    from tauthide.sheets.sandbox import Sandbox

BUILT_IN = "built-in "
"""What stands before the name of a built-in template where its file would be named."""

MOST_SAID = 200
"""Characters of what Jinja says that a finding repeats."""

_NAME = re.compile(r"(?!www\.)[a-z][a-z0-9]*(?:[._-][a-z0-9]+)*")
_SAID = (("'dict object' has no attribute", "this map has no"), ("'list object' has no element", "this list has no"),
         ("'str object' has no attribute", "a text has no"))  # fmt: skip
"""What Jinja says, and how we put it."""
_ADDRESS = re.compile(r" at 0x[0-9a-fA-F]+")


class TemplateTrouble(Exception):  # noqa: N818 - a maker's trouble, not a fault of ours
    """A template that can't be used, or fails; its finding says where and why."""

    def __init__(self, finding: Finding) -> None:
        """Take the finding."""
        super().__init__(finding.message)
        self.finding = finding


def check_templates(templates: Templates) -> tuple[Finding, ...]:
    """Return what is wrong with templates before any drum is set out by them: what can't be read, or isn't used."""
    from jinja2.meta import find_referenced_templates

    environment = _environment(templates)
    found = []
    wanted: set[str | None] = set()
    for name, text in templates.files.items():
        try:
            environment.get_template(name)
            wanted.update(find_referenced_templates(environment.parse(text)))
        except Exception as error:
            found.append(_finding(templates, name, error))
    if not found and None not in wanted:  # which stands for a name that is worked out
        unused = (name for name in templates.files if name not in wanted and built_in(name) is None)
        found += [_unused(templates, name) for name in unused]
    return tuple(found)


def render_sheet_with(templates: Templates, plan: Plan, findings: Iterable[Finding], data: Mapping[str, Any]) -> bytes:
    """Return the build sheet of a plan, set out by a maker's templates; TemplateTrouble where they fail.

    `data` is what `plan.json` holds; templates have it as `plan`.
    """
    view = {**make_view(plan, findings), "plan": _safe(data)}
    return _render(templates, "sheet.md.j2", view)


def render_index_with(templates: Templates, rows: Iterable[IndexRow]) -> bytes:
    """Return the index of a batch, set out by a maker's templates; TemplateTrouble where they fail."""
    return _render(templates, "index.md.j2", view_index(rows))


def plain_data(value: Any) -> Any:
    """Return a view as maps, lists, text, numbers, yes or no, and nothing; TypeError for anything else."""
    if value is None or isinstance(value, (bool, int, float)):
        return value
    if isinstance(value, str):
        return str(value)
    if is_dataclass(value) and not isinstance(value, type):
        return {field.name: plain_data(getattr(value, field.name)) for field in fields(value)}
    if isinstance(value, Mapping):
        return {str(name): plain_data(item) for name, item in value.items()}
    if isinstance(value, (list, tuple)):
        return [plain_data(item) for item in value]
    raise TypeError(f"no plain data: {type(value).__name__}")


def _safe(data: Any) -> Any:
    """Return data with every text escaped for Markdown, but for plain names such as `head.blank_radius`."""
    if isinstance(data, str):
        return data if _NAME.fullmatch(data) else markdown(data)
    if isinstance(data, Mapping):
        return {name: _safe(item) for name, item in data.items()}
    return [_safe(item) for item in data] if isinstance(data, (list, tuple)) else data


def _render(templates: Templates, name: str, view: Mapping[str, object]) -> bytes:
    environment = _environment(templates)
    data = plain_data(view)
    environment.restart()
    try:
        return (environment.get_template(name).render(data).rstrip("\n") + "\n").encode("utf-8")
    except Exception as error:  # whatever goes wrong in there is the template's doing: the data is plain
        raise TemplateTrouble(_finding(templates, name, error)) from error


@lru_cache(maxsize=2)
def _environment(templates: Templates) -> Sandbox:
    """Return the environment of these templates, made once for a batch."""
    from jinja2 import FunctionLoader

    from tauthide.sheets.sandbox import Sandbox

    def load(name: str) -> tuple[str, str, Callable[[], bool]] | None:
        if name in templates.files:
            return templates.files[name], templates.path(name), lambda: True
        text = built_in(name)
        return None if text is None else (text, f"{BUILT_IN}{name}", lambda: True)

    return Sandbox(FunctionLoader(load))


def _finding(templates: Templates, name: str, error: Exception) -> Finding:
    """Return the finding for what went wrong in a template, at the innermost line that the maker wrote."""
    from jinja2 import TemplateSyntaxError

    fault, what = _fault(error)
    where, line = _place(templates, name, error.__traceback__)
    if isinstance(error, TemplateSyntaxError) and error.name in templates.files:
        where, line = error.name or where, error.lineno
    place = templates.place(where, line)
    what = _ADDRESS.sub("", " ".join(what.split()))
    for said, ours in _SAID:
        what = what.replace(said, ours)
    what = what[:MOST_SAID].rstrip(".")
    return fault.at(place, found=place.text.strip(), what=what)


def _unused(templates: Templates, name: str) -> Finding:
    message = f"Nothing asks for `{name}`: no built-in template has this name, and no other one here includes it"
    allowed = "the name of a built-in template, or one that another template here includes"
    return Finding("template-unused", Severity.WARNING, message, Place(templates.path(name)), allowed=allowed)


def _place(templates: Templates, name: str, trace: TracebackType | None) -> tuple[str, int]:
    names = {templates.path(own): own for own in templates.files}
    found = (name if name in templates.files else next(iter(sorted(templates.files)), name), 1)
    while trace is not None:
        own = names.get(trace.tb_frame.f_code.co_filename)
        if own is not None:
            found = own, trace.tb_lineno
        trace = trace.tb_next
    return found


def _fault(error: Exception) -> tuple[Fault, str]:
    from jinja2 import TemplateAssertionError, TemplateNotFound, TemplateSyntaxError, UndefinedError
    from jinja2.exceptions import SecurityError, TemplateRuntimeError

    from tauthide.sheets.sandbox import TooMuchError

    said = str(error)
    if isinstance(error, RecursionError):
        return faults.TEMPLATE_TOO_MUCH, "it is nested too deeply, or includes or calls itself without end"
    if isinstance(error, MemoryError):
        return faults.TEMPLATE_TOO_MUCH, "more memory than there is"
    if isinstance(error, TooMuchError):
        return faults.TEMPLATE_TOO_MUCH, said
    if isinstance(error, SecurityError):
        return faults.TEMPLATE_NOT_ALLOWED, said
    if isinstance(error, TemplateAssertionError):  # a filter or test of no such name
        return faults.TEMPLATE_NOT_ALLOWED, error.message or said
    if isinstance(error, UndefinedError):
        return faults.TEMPLATE_UNDEFINED, said
    if isinstance(error, TemplateSyntaxError):
        return faults.TEMPLATE_SYNTAX, error.message or said
    if isinstance(error, SyntaxError):
        return faults.TEMPLATE_SYNTAX, "its loops stand too deep within each other"
    if isinstance(error, TemplateNotFound):
        return faults.TEMPLATE_ABSENT, said
    if isinstance(error, TemplateRuntimeError):
        return faults.TEMPLATE_FAILED, said
    return faults.TEMPLATE_FAILED, f"{type(error).__name__}: {said}"
