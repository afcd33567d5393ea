"""The store: one output folder during one build, and the bookkeeping of what in it is ours.

Order of events: `read` the manifest of the last build, `open` for a batch, then for each drum `put` (or
`ticket`, `write_drum` in a worker process, `record`) or `keep`, and at last `close`; on any failure
`abandon`, which a `with` statement does by itself.

Names are claimed before they are written: before the first file that the manifest does not list, the names of
all files that the batch may write go into the manifest, without a hash. A build that is killed at any moment
leaves nothing but files listed there, and temporary ones, which `open` sweeps up once they are an hour old.

Two builds may be at work in one folder. Each file is then one build's or the other's, never a mixture; the
manifest, updated in turns, takes over what the other build has listed meanwhile, and where its hashes don't
fit what lies there the next build writes the drum again. Files are moved into place in turns, too, and listed
anew if the other build has struck them off: so what one that is killed has written is never nobody's. The
folder is not locked for a whole build: a slow one would keep the other waiting for nothing worse than work
done twice.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from contextlib import suppress
from functools import partial
from pathlib import Path
from types import TracebackType
from typing import Self, TypeAlias

from tauthide.output import files as disk
from tauthide.output.claims import Seen, listed, look
from tauthide.output.drums import Ticket, Written, write_drum
from tauthide.output.files import StoreTrouble, read_manifest
from tauthide.output.lock import turn
from tauthide.output.manifest import (
    DRUM_FILES,
    INDEX_NAME,
    MANIFEST_NAME,
    DrumEntry,
    DrumRecord,
    Manifest,
    is_drum_name,
    merge_manifests,
    render_manifest,
)

TOP = ""
"""In an `Expected` stream, what stands for the output folder itself."""

Expected: TypeAlias = Iterable[tuple[str, Mapping[str, bytes]]]
"""All that a build would write: drum and its files, one drum at a time; `TOP` for the index."""


class Store:
    """One output folder during one build; see the module for the order of calls.

    All methods raise `StoreTrouble`, with a message for the maker, where the disk or what lies on it is the
    matter, and `ValueError` or `RuntimeError` where the caller is.
    """

    def __init__(self, folder: Path, shown: str) -> None:
        """Take a folder, and its name as the maker is shown it; nothing is read yet."""
        self.written = 0
        self.unchanged = 0
        self.removed = 0
        self._folder = folder
        self._root = str(folder)
        self._shown = shown
        self._old: Manifest = Manifest()
        self._on_disk: bytes | None = None
        self._batch: dict[str, None] = {}
        self._by_fold: dict[str, str] = {}
        self._foreign: set[str] = set()
        self._former: dict[str, str] = {}
        self._done: dict[str, DrumEntry] = {}
        self._gone: set[str] = set()
        self._respelt: set[str] = set()
        self._seen: Seen | None = None
        self._top: dict[str, str | None] = {}
        self._claimed = False
        self._touched = False
        self._state = "new"

    def __enter__(self) -> Self:
        """Return the store itself."""
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        """Abandon the build unless it was closed."""
        self.abandon()

    def read(self) -> None:
        """Read the last build's manifest; nothing is written."""
        self._seen = look(self._root)
        self._old, self._on_disk = read_manifest(self._folder, self._shown)
        self._top = dict(self._old.top)
        if self._state == "new":
            self._state = "read"

    def known(self, drum: str) -> DrumRecord | None:
        """Return what the last build that finished this drum recorded of it."""
        entry = self._old.drums.get(drum)
        return entry.record if entry else None

    def drums_of(self, spec: str) -> tuple[str, ...]:
        """Return the drums that came from a spec file, for one that can't be read any more, in order."""
        entries = self._old.drums.items()
        return tuple(sorted(drum for drum, entry in entries if entry.record and entry.record.spec == spec))

    def others(self) -> tuple[str, ...]:
        """Return our drums that are not in this batch, in order: `close` removes them."""
        return tuple(sorted(set(self._old.drums) - set(self._batch)))

    def intact(self, drum: str) -> bool:
        """Tell whether the drum's files are all on disk just as they were recorded, and none is in doubt."""
        entry = self._old.drums.get(drum)
        if entry is None or entry.record is None or not entry.files or None in entry.files.values():
            return False
        for name, recorded in entry.files.items():
            content = disk.read_file(self._root, self._shown, f"{drum}/{name}")
            if content is None or disk.digest(content) != recorded:
                return False
        return True

    def open(self, drums: Iterable[str], expected: Callable[[], Expected] | None = None) -> None:
        """Get ready for a batch: look at what is in the way before anything is written.

        A file where the batch would write, that no manifest lists, is foreign, and refused unless it is just
        what would be written; only to compare such files, which is rare, is `expected` asked for the batch.
        """
        self._batch = dict.fromkeys(drums)
        self._by_fold = {drum.casefold(): drum for drum in self._batch}
        if not all(map(is_drum_name, self._batch)) or len(self._by_fold) < len(self._batch):
            raise ValueError("names of drums that can't be folders beside each other")
        if self._state == "new":
            self.read()
        with disk.told(self._shown, ""):
            self._folder.mkdir(parents=True, exist_ok=True)
        disk.sweep(self._root)
        unlisted = self._survey()
        if unlisted:
            # Another build may just have claimed, and then written, what we take for foreign.
            self.read()
            unlisted = self._survey()
        if unlisted:
            self._take_over(unlisted, expected)
        self._state = "open"

    def ticket(self, drum: str, names: Iterable[str] = DRUM_FILES) -> Ticket:
        """Return leave to write a drum's files, having claimed the names if they are not ours yet."""
        self._require_open(drum)
        listed = self._files_of(drum)
        if any(name not in listed and f"{drum}/{name}" not in self._foreign for name in names):
            self._claim()
        self._touched = True
        owned = frozenset(self._files_of(drum))
        return Ticket(self._root, self._shown, drum, owned, self._seen, self._former.get(drum))

    def record(self, record: DrumRecord, written: Written) -> None:
        """Note what `write_drum` did for a drum."""
        self._require_open(record.drum)
        self._done[record.drum] = DrumEntry(written.hashes, record)
        self.written += written.written
        self.unchanged += written.unchanged
        self.removed += written.removed

    def put(self, record: DrumRecord, files: Mapping[str, bytes]) -> None:
        """Bring a drum's folder to exactly these files and note it; what is the same is left alone."""
        self.record(record, write_drum(self.ticket(record.drum, files), files))

    def keep(self, record: DrumRecord) -> None:
        """Note a drum whose files are `intact` and stay; the record may have changed."""
        self._require_open(record.drum)
        files = self._old.drums.get(record.drum, DrumEntry()).files
        self._done[record.drum] = DrumEntry(files, record)
        self.unchanged += len(files)

    def close(self, index: bytes) -> None:
        """Write the index, remove our drums that are not in this batch, and bring the manifest up to date.

        A drum of the batch that was neither put nor kept stays as it was.
        """
        self._require_open()
        self._write_index(index)
        for drum in self.others():
            self._remove_drum(drum)
        self._save(tidy=True)
        self._state = "closed"

    def abandon(self) -> None:
        """Bring the manifest up to date after a failure, as far as that is possible; raises no trouble.

        If it is not, say on a full disk, the manifest there still claims all that may have been written.
        Workers must have ended: a claim to a file that isn't there yet is given up.
        """
        if self._state == "open":
            self._state = "abandoned"
            with suppress(StoreTrouble):
                self._save(tidy=True)

    def _require_open(self, drum: str | None = None) -> None:
        if self._state != "open":
            raise RuntimeError("the store is not open")
        if drum is not None and drum not in self._batch:
            raise ValueError(f"not a drum of this batch: {drum}")

    def _survey(self) -> list[str]:
        """Return the paths where the batch may write and a file lies that the manifest doesn't list."""
        unlisted: list[str] = []
        there = {
            drum
            for drum in sorted({*self._batch, *self._old.drums})
            if disk.require_folder(self._folder, self._shown, drum)
        }
        self._former = self._renamed(there)
        for drum in sorted(there):
            listed = self._files_of(drum)
            wanted = DRUM_FILES if drum in self._batch else tuple(listed)
            found = disk.known_names(self._root, self._shown, drum, wanted)
            unlisted += [f"{drum}/{name}" for name in found if name not in listed]
        kind = disk.kind_of(self._folder / INDEX_NAME)
        if kind not in (None, disk.Kind.FILE):
            raise disk.in_the_way(self._shown, INDEX_NAME, kind)
        if kind and INDEX_NAME not in self._top:
            unlisted.append(INDEX_NAME)
        return unlisted

    def _renamed(self, there: set[str]) -> dict[str, str]:
        """Return old names by drums of the batch, where the disk takes both for the same folder."""
        former: dict[str, str] = {}
        for old in sorted(there - set(self._batch)):
            twin = self._by_fold.get(old.casefold())
            if twin and disk.same_folder(self._folder / old, self._folder / twin):
                former[twin] = old
        return former

    def _take_over(self, unlisted: list[str], expected: Callable[[], Expected] | None) -> None:
        """Compare files that no manifest lists with what the batch would write; the rest are left alone."""
        if expected is None:
            raise disk.not_ours(self._shown, unlisted[0])
        self._foreign = set(unlisted)
        for drum, contents in expected():
            for name, content in contents.items():
                path = name if drum == TOP else f"{drum}/{name}"
                if path not in self._foreign:
                    continue
                if disk.read_file(self._root, self._shown, path) != content:
                    raise disk.not_ours(self._shown, path)
                self._foreign.remove(path)

    def _files_of(self, drum: str) -> dict[str, str | None]:
        """Return those of a drum's files that are ours: listed, also under an old spelling, or claimed."""
        files: dict[str, str | None] = {}
        for name in (self._former.get(drum, drum), drum):
            files.update(self._old.drums.get(name, DrumEntry()).files)
        if self._claimed and drum in self._batch:
            for name in DRUM_FILES:
                if f"{drum}/{name}" not in self._foreign:
                    files.setdefault(name, None)
        return files

    def _claim(self) -> None:
        """Put into the manifest all names that this batch may write; once is enough."""
        if not self._claimed:
            self._claimed = True
            self._save(tidy=False)

    def _now(self, *, tidy: bool) -> Manifest:
        """Return what is ours as things stand; tidy, without claims to files that are not there."""
        drums: dict[str, DrumEntry] = {}
        for drum in {*self._old.drums, *self._batch} - self._gone:
            if drum in self._done:
                drums[drum] = self._done[drum]
                continue
            record = self.known(drum)
            files = self._files_of(drum)
            if tidy:
                files = self._without_empty_claims(drum, files)
            if files or record:
                drums[drum] = DrumEntry(files, record)
        top = dict(self._top)
        if self._claimed and INDEX_NAME not in self._foreign:
            top.setdefault(INDEX_NAME, None)
        return Manifest(drums, self._without_empty_claims(TOP, top) if tidy else top)

    def _without_empty_claims(self, drum: str, files: Mapping[str, str | None]) -> dict[str, str | None]:
        return {
            name: recorded for name, recorded in files.items() if recorded is not None or self._is_there(drum, name)
        }

    def _is_there(self, drum: str, name: str) -> bool:
        return disk.kind_of(self._folder / drum / name) is not None

    def _save(self, *, tidy: bool) -> None:
        """Write the manifest if that changes anything, with what another build has there or claims."""
        if not self._touched and render_manifest(self._now(tidy=tidy)) == self._on_disk:
            return
        with turn(self._folder):
            # Looked at and read only now, even if we have nothing new to say: another build may have written
            # files since, or have removed, and struck off its list, a drum that we wrote anew just as it was.
            theirs, there = read_manifest(self._folder, self._shown)
            keeps = partial(self._keeps, at_work=there != self._on_disk)
            known = {*self._old.drums, *self._batch}
            data = render_manifest(merge_manifests(self._now(tidy=tidy), theirs, known, keeps))
            if data != there:
                disk.replace_files(self._root, self._shown, {MANIFEST_NAME: data})
            self._seen = look(self._root)
        self._on_disk = data

    def _keeps(self, drum: str, name: str, recorded: str | None, *, at_work: bool) -> bool:
        """Tell whether a name that only the manifest on disk has stays there: it is claimed, or lies there."""
        return drum not in self._respelt and ((recorded is None and at_work) or self._is_there(drum, name))

    def _write_index(self, index: bytes) -> None:
        there = disk.read_file(self._root, self._shown, INDEX_NAME)
        if there == index:
            self.unchanged += 1
        elif there is not None and INDEX_NAME in self._foreign:
            raise disk.not_ours(self._shown, INDEX_NAME)
        else:
            if INDEX_NAME not in self._top:
                self._claim()
            self._touched = True
            hold = partial(listed, self._root, self._shown, TOP, (INDEX_NAME,), self._seen)
            disk.replace_files(self._root, self._shown, {INDEX_NAME: index}, hold)
            self.written += 1
        self._top[INDEX_NAME] = disk.digest(index)

    def _remove_drum(self, drum: str) -> None:
        """Remove a drum that is not in the batch, and its folder if nothing else is in it."""
        twin = self._by_fold.get(drum.casefold())
        if twin and disk.same_folder(self._folder / drum, self._folder / twin):
            # The same files under a new spelling: once they are the new drum's, the old name is forgotten.
            if twin in self._done:
                self._gone.add(drum)
                self._respelt.add(drum)
            return
        if disk.require_folder(self._folder, self._shown, drum):
            for name in self._old.drums[drum].files:
                self.removed += disk.remove_file(self._root, self._shown, f"{drum}/{name}")
            disk.remove_empty(self._folder / drum)
        self._gone.add(drum)
