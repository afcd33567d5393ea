"""Writing one drum's files: no manifest is needed, so it may run in another process than the store's."""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path

from tauthide.output import files as disk
from tauthide.output.claims import Seen, listed
from tauthide.output.manifest import DRUM_FILES


@dataclass(frozen=True, slots=True)
class Ticket:
    """Leave to write one drum's files; it goes to a worker process as it stands."""

    folder: str
    """The output folder."""
    shown: str
    """The output folder as the maker is shown it."""
    drum: str
    owned: frozenset[str]
    """File names that may be overwritten or removed."""
    seen: Seen | None = None
    """The manifest that lists them, as it looks from outside; None to be sure by reading it."""
    former: str | None = None
    """The drum's old name, where it differs in case only and the disk takes both for the same folder."""


@dataclass(frozen=True, slots=True)
class Written:
    """What `write_drum` did; the counts are of files."""

    hashes: Mapping[str, str] = field(default_factory=dict)
    """SHA-256 by file name, of all files that the drum now has."""
    written: int = 0
    unchanged: int = 0
    removed: int = 0


def write_drum(ticket: Ticket, files: Mapping[str, bytes]) -> Written:
    """Bring a drum's folder to exactly these files, as far as they are ours; leave alone what is the same.

    All files are written in full before the first is moved into place, so a full disk leaves the old set.
    Old files go last: a notice then stands in the sheet's place before the drawings go.
    Raises `StoreTrouble`, with nothing changed, where a file that is not ours, or a link, is in the way.
    """
    if not set(files) <= set(DRUM_FILES):
        raise ValueError(f"not names of a drum's files: {sorted(set(files) - set(DRUM_FILES))}")
    root, shown, drum = ticket.folder, ticket.shown, ticket.drum
    if ticket.former is not None:
        # Links in the index must lead somewhere on a disk that tells the spellings apart, too.
        with disk.told(shown, drum), suppress(FileNotFoundError):  # another build was quicker
            Path(root, ticket.former).rename(Path(root, drum))
    disk.require_folder(Path(root), shown, drum)
    hashes: dict[str, str] = {}
    changed: dict[str, bytes] = {}
    for name in DRUM_FILES:
        if name not in files:
            continue
        path, content = f"{drum}/{name}", files[name]
        old = disk.read_file(root, shown, path)
        hashes[name] = disk.digest(content)
        if old == content:
            continue
        if old is not None and name not in ticket.owned:
            raise disk.not_ours(shown, path)
        changed[path] = content
    names = [name for name in files if name in ticket.owned]
    if changed:
        disk.replace_files(root, shown, changed, partial(listed, root, shown, drum, names, ticket.seen))
    gone = [name for name in DRUM_FILES if name in ticket.owned and name not in files]
    removed = sum(disk.remove_file(root, shown, f"{drum}/{name}") for name in gone)
    return Written(hashes, len(changed), len(files) - len(changed), removed)
