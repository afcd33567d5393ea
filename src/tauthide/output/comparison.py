"""What a build would change in an output folder, found without writing anything."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path

from tauthide.output import files as disk
from tauthide.output.manifest import Manifest
from tauthide.output.store import TOP, Expected


class Gap(StrEnum):
    """How a file on disk falls short of what a build would write."""

    STALE = "stale"
    MISSING = "missing"
    LEFT_OVER = "left over"
    """Ours, there, and no longer wanted."""


@dataclass(frozen=True, slots=True, order=True)
class Difference:
    """One file that a build would write or remove."""

    path: str
    """Below the output folder, with `/`."""
    gap: Gap


def differences(folder: Path, shown: str, expected: Expected) -> tuple[Difference, ...]:
    """Return what a build would change, by path, holding one drum's contents at a time.

    Only contents count, not the manifest's own bytes. Raises `StoreTrouble` where a build would: at a damaged
    manifest, or a link or folder in a file's place.
    """
    manifest, _ = disk.read_manifest(folder, shown)
    listed = _listed_paths(manifest)
    found: list[Difference] = []
    for drum, contents in expected:
        if drum != TOP:
            disk.require_folder(folder, shown, drum)
        for name, content in contents.items():
            path = name if drum == TOP else f"{drum}/{name}"
            listed.discard(path)
            there = disk.read_file(str(folder), shown, path)
            if there is None:
                found.append(Difference(path, Gap.MISSING))
            elif there != content:
                found.append(Difference(path, Gap.STALE))
    found += [Difference(path, Gap.LEFT_OVER) for path in listed if disk.kind_of(folder / path) is not None]
    return tuple(sorted(found))


def _listed_paths(manifest: Manifest) -> set[str]:
    drums = {f"{drum}/{name}" for drum, entry in manifest.drums.items() for name in entry.files}
    return drums | set(manifest.top)
