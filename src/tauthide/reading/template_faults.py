"""What can be wrong with a maker's own templates: every fault once, with its words."""

from __future__ import annotations

from tauthide.reading.faults import Fault

MAX_TEMPLATES = 100
"""Most templates in a folder. The built-in ones are some 20."""
MAX_TEMPLATE_BYTES = 64 * 1024
"""Longest template. The longest built-in one has some 4 KiB."""

TEMPLATE_LINK = Fault(
    "template-link",
    "`{name}` is a link, and templates are taken from their own folder only",
    "files and folders that lie in the folder of templates itself",
    "What a link leads to may change, or lie outside the repository, without anybody seeing it in a review.",
)
TEMPLATE_TOO_LARGE = Fault(
    "template-too-large",
    "the template is larger than one may be",
    f"at most {MAX_TEMPLATE_BYTES // 1024} KiB",
    "A template that large is hardly one, and would only cost time.",
)
TEMPLATES_TOO_MANY = Fault(
    "templates-too-many",
    "there are more templates in this folder than may be",
    f"at most {MAX_TEMPLATES} files that end with .j2",
    "So many are hardly meant for one sheet: most likely the folder is another one.",
)
TEMPLATE_NOT_UTF8 = Fault(
    "template-not-utf8",
    "the template is not text in UTF-8",
    "text in UTF-8",
    "What its letters are would be a guess, and they would be printed wrongly.",
)
TEMPLATE_FIXED = Fault(
    "template-fixed",
    "`{name}` can't be replaced: the notice that says not to cut is always the same",
    "templates of the sheet and of the index",
    "A drum with errors must not be cut from, and nobody should have to learn a new way of being told so.",
)
TEMPLATE_SYNTAX = Fault(
    "template-syntax",
    "the template can't be read: {what}",
    "a template as Jinja describes it",
    "A template that can't be read makes no sheet.",
)
TEMPLATE_UNDEFINED = Fault(
    "template-undefined",
    "the template asks for what is not there: {what}",
    "the names that the README lists under Templates",
    "A gap on a sheet would go unnoticed until the skin is cut.",
)
TEMPLATE_ABSENT = Fault(
    "template-absent",
    "the template asks for another one that is not there: {what}",
    "a template of this folder, or a built-in one",
    "A part of the sheet would be missing.",
)
TEMPLATE_NOT_ALLOWED = Fault(
    "template-not-allowed",
    "the template does what a template may not do: {what}",
    "the names, filters and tests that the README lists under Templates",
    "A template comes with a repository that others may have changed: it sets out text, and can do nothing else.",
)
TEMPLATE_TOO_MUCH = Fault(
    "template-too-much",
    "the template takes or makes more than a sheet may: {what}",
    "a page of ordinary length",
    "It would run for ever, or fill the memory.",
)
TEMPLATE_FAILED = Fault(
    "template-failed",
    "the template fails here: {what}",
    "what works for every drum of the batch",
    "A template that fails for a drum makes no sheet of it.",
)

TEMPLATE_FAULTS: tuple[Fault, ...] = (
    TEMPLATE_LINK,
    TEMPLATE_TOO_LARGE,
    TEMPLATES_TOO_MANY,
    TEMPLATE_NOT_UTF8,
    TEMPLATE_FIXED,
    TEMPLATE_SYNTAX,
    TEMPLATE_UNDEFINED,
    TEMPLATE_ABSENT,
    TEMPLATE_NOT_ALLOWED,
    TEMPLATE_TOO_MUCH,
    TEMPLATE_FAILED,
)
"""Every fault that templates may have."""
