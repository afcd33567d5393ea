"""Files moved into place only while the manifest lists them, whatever other builds do to it meanwhile."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TypeAlias

from tauthide.output import files as disk
from tauthide.output.lock import turn
from tauthide.output.manifest import MANIFEST_NAME, DrumEntry, Manifest, render_manifest

Seen: TypeAlias = tuple[int, int, int]
"""Inode, time of change in ns and size of a manifest: a manifest written since has others."""


def look(root: str) -> Seen | None:
    """Return how the manifest in a folder looks from outside; None where there is none to be seen."""
    try:
        state = Path(root, MANIFEST_NAME).lstat()
    except OSError:
        return None
    return state.st_ino, state.st_mtime_ns, state.st_size


@contextmanager
def listed(root: str, shown: str, drum: str, names: Collection[str], seen: Seen | None) -> Iterator[None]:
    """Hold the folder's lock with these names of a drum listed; an empty `drum` is the folder itself.

    `seen` is the manifest as the caller knows it, with the names in it. Another build that has come to its
    end since may have struck them off, as names of files that were not there. Were they not listed anew, and
    we killed before our own end, the files would be nobody's, and the next build would refuse them.
    """
    with turn(Path(root)):
        if look(root) != seen:
            manifest, _ = disk.read_manifest(Path(root), shown)
            claimed = _claim(manifest, drum, names)
            if claimed != manifest:
                disk.replace_files(root, shown, {MANIFEST_NAME: render_manifest(claimed)})
        yield


def _claim(manifest: Manifest, drum: str, names: Collection[str]) -> Manifest:
    """Return the manifest with the names in it, claimed where they are not listed."""
    claims: dict[str, str | None] = dict.fromkeys(names)
    if not drum:
        return Manifest(manifest.drums, claims | dict(manifest.top))
    entry = manifest.drums.get(drum, DrumEntry())
    return Manifest({**manifest.drums, drum: DrumEntry(claims | dict(entry.files), entry.record)}, manifest.top)
