"""Whole builds into a folder, as the compiler would do them, with contents made up from a word."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from tauthide.output.manifest import DRUM_FILES, INDEX_NAME, MANIFEST_NAME, DrumRecord
from tauthide.output.store import TOP, Store

SHOWN = "build"


@dataclass(frozen=True)
class Wanted:
    """One drum of a batch: what its files say, and whether its spec has errors."""

    word: str
    failed: bool = False


Batch = Mapping[str, Wanted]


def files_of(drum: str, wanted: Wanted) -> dict[str, bytes]:
    """Return the files of a drum, each of another length."""
    if wanted.failed:
        return {"sheet.md": f"{drum}: no sheet, {wanted.word}\n".encode()}
    return {name: f"{drum}/{name} {wanted.word}\n".encode() * (3 + 40 * i) for i, name in enumerate(DRUM_FILES)}


def index_of(batch: Batch) -> bytes:
    """Return the index of a batch."""
    return "".join(f"{drum} {batch[drum].word}\n" for drum in sorted(batch)).encode()


def record_of(drum: str, wanted: Wanted) -> DrumRecord:
    """Return a drum's record; its fingerprint stands for all that went in."""
    fingerprint = f"{wanted.word} {wanted.failed}"
    findings = [{"name": "odd-count"}] if wanted.failed else []
    return DrumRecord(drum, f"{drum.lower()}.yaml", fingerprint, wanted.failed, findings, [drum, wanted.word])


def expected_of(batch: Batch) -> Iterator[tuple[str, Mapping[str, bytes]]]:
    """Yield all that a build of the batch writes."""
    for drum, wanted in batch.items():
        yield drum, files_of(drum, wanted)
    yield TOP, {INDEX_NAME: index_of(batch)}


def build(folder: Path, batch: Batch) -> Store:
    """Do a build as the compiler does, and return the closed store."""
    with Store(folder, SHOWN) as store:
        store.open(batch, lambda: expected_of(batch))
        for drum, wanted in batch.items():
            record = record_of(drum, wanted)
            if store.known(drum) == record and store.intact(drum):
                store.keep(record)
            else:
                store.put(record, files_of(drum, wanted))
        store.close(index_of(batch))
    return store


def contents(folder: Path) -> dict[str, bytes]:
    """Return all files below a folder but the manifest, by path with `/`."""
    files = (path for path in folder.rglob("*") if path.is_file())
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in files if path.name != MANIFEST_NAME}


def contents_of(batch: Batch) -> dict[str, bytes]:
    """Return what `contents` must be after a build of the batch."""
    return {
        f"{drum}/{name}" if drum else name: content
        for drum, files in expected_of(batch)
        for name, content in files.items()
    }


def stamps(folder: Path) -> dict[str, tuple[int, int]]:
    """Return inode and time of change of every file, the manifest too: both differ after rewriting."""
    return {
        path.relative_to(folder).as_posix(): (path.stat().st_ino, path.stat().st_mtime_ns)
        for path in folder.rglob("*")
        if path.is_file()
    }
