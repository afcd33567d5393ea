"""A field that says nothing in the lacing that the drum has."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.rules.rule import Rule, Trouble
from tauthide.spec.defaults import LACING_FIELDS, WORKSHOP


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble for each field that is given and bears only on other lacings."""
    lacing = w.word("lace.lacing")
    own = LACING_FIELDS.get(lacing, ())
    for path in dict.fromkeys(path for paths in LACING_FIELDS.values() for path in paths):
        if path not in own and w.has(path) and w.spec.settings[path].origin.layer != "built-in":
            where = " or ".join(f"`{name}`" for name, paths in LACING_FIELDS.items() if path in paths)
            key = path.rpartition(".")[2]
            yield Trouble(
                path,
                f"`{key}` says nothing in this lacing",
                f"{key} beside lacing: {lacing}",
                f"`{key}` only with lacing {where}",
            )


RULE = Rule(
    name="lace-of-other-lacing",
    severity=Severity.ERROR,
    why="Whoever wrote it meant another lacing, or will look for it on the sheet in vain.",
    mend="Take the field away, or name the lacing that it belongs to.",
    source=WORKSHOP,
    check=check,
    failing={"lace.ring": "60 mm"},
    passing={"lace.ring": "60 mm", "lace.lacing": "ring"},
    gate=True,
)
