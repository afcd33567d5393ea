"""Where a value comes from: a line of a maker's file, or a default with its reason and source."""

from __future__ import annotations

from typing import Any

from tauthide.schema.fields import Field, fields
from tauthide.sheets.origins import LAYER_TITLES
from tauthide.spec.layers import COUPLES, TIMES, Origin
from tauthide.spec.settings import Spec


def origin_text(origin: Origin) -> str:
    """Return an origin in a line: `shop file: shop.yaml:13`, `built in: a cool room (workshop practice ...)`."""
    title = LAYER_TITLES[origin.layer]
    if origin.place is not None:
        return f"{title}: {origin.place.file}:{origin.place.line}"
    source = f" ({origin.source})" if origin.source else ""
    return f"{title}: {origin.reason}{source}"


def origin_data(origin: Origin) -> dict[str, Any]:
    """Return an origin as plain data; file and line are null for what is built in."""
    place = origin.place
    return {
        "layer": origin.layer,
        "file": None if place is None else place.file,
        "line": None if place is None else place.line,
        "reason": origin.reason,
        "source": origin.source,
    }


def unset_text(spec: Spec, path: str) -> str:
    """Return why a field holds nothing."""
    other = COUPLES.get(path)
    if other is not None and spec.has(other):
        return f"no layer sets it, or {other} took its place"
    return "no layer sets it"


def schema_field(spec: Spec, path: str) -> Field | None:
    """Return what the schemas say of a path; hide profiles are described by the shop file's schema."""
    part, _, name = path.rpartition(".")
    hide = {"hide": "head.hide", "lace_hide": "lace.hide"}.get(part)
    if path.startswith(f"{TIMES}."):
        return fields("shop").get(path)
    if hide is None or not spec.has(hide):
        return fields("spec").get(path)
    return fields("shop").get(f"hides.{spec.word(hide)}.{name}")
