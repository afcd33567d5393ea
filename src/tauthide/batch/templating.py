"""A maker's own templates, read and looked at before anything is built."""

from __future__ import annotations

from pathlib import Path

from tauthide.batch.inputs import show_path
from tauthide.findings import Finding, in_order
from tauthide.reading.templates import Templates, read_templates
from tauthide.sheets.custom import check_templates


def load_templates(folder: Path) -> tuple[Templates, tuple[Finding, ...]]:
    """Return a folder's templates, and all that is wrong with them as they stand; FileTrouble if unreadable."""
    templates, findings = read_templates(folder, show_path(folder))
    return templates, in_order((*findings, *check_templates(templates)))
