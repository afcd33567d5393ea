"""The files of a drum that are made to be printed, as far as a build is asked for them."""

from __future__ import annotations

from collections.abc import Mapping

from tauthide.plan.plan import Plan
from tauthide.printing.paper import Prints

NOT_TO_CUT = "Do not cut"
"""Runs on every page of what stands in the place of a sheet."""


def render_prints(plan: Plan, files: Mapping[str, bytes], prints: Prints, notice: str = "") -> dict[str, bytes]:
    """Return the printed files of a drum by name; `files` are its sheet and drawings, by name.

    `notice` is set on every page. Raises ImportError where a package of the extra `print` is missing.
    """
    made: dict[str, bytes] = {}
    spec = plan.spec
    if prints.html:
        from tauthide.printing.pages import render_sheet_page, render_template_page

        drawings = {name: content for name, content in files.items() if name.endswith(".svg")}
        made["template.html"] = render_template_page(plan, prints.paper, notice)
        made["sheet.html"] = render_sheet_page(
            files["sheet.md"], drawings, prints.paper, drum=spec.drum, digest=plan.digest, notice=notice
        )
    if prints.pdf:
        from tauthide.printing.pdf import render_template_pdf

        made["template.pdf"] = render_template_pdf(plan, prints.paper, notice)
    return made


def render_failed_prints(drum: str, files: Mapping[str, bytes], prints: Prints) -> dict[str, bytes]:
    """Return what is printed of a drum that has a notice in its sheet's place: the notice, and no template."""
    if not prints.html:
        return {}
    from tauthide.printing.pages import render_sheet_page

    return {"sheet.html": render_sheet_page(files["sheet.md"], {}, prints.paper, drum=drum, notice=NOT_TO_CUT)}
