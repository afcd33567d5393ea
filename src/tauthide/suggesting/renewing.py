"""A document of an older version written anew in the present one: comments, order and line ends stay."""

from __future__ import annotations

from collections.abc import Sequence

from tauthide.reading.events import read_yaml
from tauthide.reading.upgrades import Step, take
from tauthide.suggesting.patching import patch


def renew(source: bytes, steps: Sequence[Step]) -> bytes | None:
    """Return the document in `source` after all steps; None where its layout can't be changed safely."""
    for step in steps:
        located, _ = read_yaml(source, "")
        if located is None:
            return None
        changed = take(step, located.data)
        written = patch(source, changed.data, changed.renames)
        if written is None:
            return None
        source = written
    return source
