"""Made-up versions from before the first: what the tests of upgrading share."""

from __future__ import annotations

from tauthide.reading.upgrades import Step, rename_key

SIZE = Step("spec", 0, "`frame.size` is called `frame.diameter`", rename_key(("frame", "size"), "diameter"))
BASE_SIZE = Step("base", 0, "`frame.size` is called `frame.diameter`", rename_key(("frame", "size"), "diameter"))
HOLES = Step("spec", -1, "the part `holes` is called `stations`", rename_key(("holes",), "stations"))

STEPS = (SIZE, BASE_SIZE, HOLES)
"""Out of order, since a step is found by its kind and version."""


def to_version_0(text: str) -> str:
    """Return a document of version 1 as it would be in the made-up version 0."""
    return text.replace("diameter:", "size:").replace("spec: 1", "spec: 0", 1).replace("base: 1", "base: 0", 1)
