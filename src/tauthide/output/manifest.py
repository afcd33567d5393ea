"""The manifest: which files in the output folder are ours, as text that is the same on any machine.

Only what stands here is ever overwritten or removed, so reading is strict: anything that this module could
not have written itself is refused, and no name in it can point outside `DIR/<drum>/<known file>` and
`DIR/index.md`. Nothing here touches the disk.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, TypeAlias

MANIFEST_NAME = ".tauthide.json"
MANIFEST_FORMAT = 1
INDEX_NAME = "index.md"

DRUM_FILES = (
    "plan.json", "template.pdf", "template.html", "gauge.svg", "steps.svg", "lacing.svg", "section.svg",
    "layout-2.svg", "layout.svg", "frame.svg", "sheet.html", "sheet.md",
)  # fmt: skip
"""All files that a drum may have, in the order of writing: the sheet, which refers to the rest, is last."""

TOP_FILES = (INDEX_NAME,)
"""All files that may lie in the output folder itself, beside the manifest."""

Json: TypeAlias = "bool | int | float | str | Sequence[Json] | Mapping[str, Json] | None"

_HASH = re.compile(r"[0-9a-f]{64}")
_RECORD_KEYS = {"failed", "findings", "fingerprint", "index_row", "spec"}


class ManifestDamageError(ValueError):
    """The text is not a manifest that this version can trust; the message says why."""


@dataclass(frozen=True, slots=True)
class DrumRecord:
    """What the last build knew of a drum, so that the next can tell that nothing has changed."""

    drum: str
    spec: str
    """The spec file's name as the caller gave it: relative, with `/`."""
    fingerprint: str
    """The caller's hash over everything that went into the drum's files."""
    failed: bool
    """Whether the drum had errors, and so has a notice for a sheet and nothing else."""
    findings: Sequence[Json] = ()
    index_row: Json = None


@dataclass(frozen=True, slots=True)
class DrumEntry:
    """A drum's files and its record."""

    files: Mapping[str, str | None] = field(default_factory=dict)
    """SHA-256 by file name; None for a name that is claimed: its file may be there or not, old or new."""
    record: DrumRecord | None = None
    """None for a drum whose first build has not come to its end."""


@dataclass(frozen=True, slots=True)
class Manifest:
    """All that is ours in one output folder."""

    drums: Mapping[str, DrumEntry] = field(default_factory=dict)
    top: Mapping[str, str | None] = field(default_factory=dict)
    """The files in the output folder itself, as in `DrumEntry.files`."""


def is_drum_name(name: str) -> bool:
    """Tell whether a drum's name is a single plain part of a path that can be nothing else in the folder."""
    return (
        name.isprintable()  # no control characters, nor half characters that no file system encodes
        and name.strip() == name != ""
        and not name.startswith(".")
        and not any(sign in name for sign in '/\\:<>"|?*')
        and name.casefold() not in TOP_FILES
    )


def render_manifest(manifest: Manifest) -> bytes:
    """Return the manifest as JSON: keys sorted, a line per drum, LF, ASCII only.

    A line per drum keeps a comparison of two manifests readable, and is what the fast encoder can do.
    """
    lines = [f"{_compact(drum)}: {_compact(_entry_json(manifest.drums[drum]))}" for drum in sorted(manifest.drums)]
    drums = "{\n" + ",\n".join(lines) + "\n}" if lines else "{}"
    top = _compact(dict(manifest.top))
    return f'{{\n"drums": {drums},\n"format": {MANIFEST_FORMAT},\n"top": {top}\n}}\n'.encode("ascii")


def parse_manifest(data: bytes) -> Manifest:
    """Return the manifest that `render_manifest` wrote; raise `ManifestDamageError` for anything else."""
    try:
        document = json.loads(data.decode("utf-8"), parse_constant=_refuse_constant)
    except (ValueError, RecursionError):
        # A folder kept under version control may well hold the marks of a merge that stopped half way.
        raise ManifestDamageError("it isn't whole JSON") from None
    if not isinstance(document, dict) or "format" not in document:
        raise ManifestDamageError("it isn't a list of files")
    number = document["format"]
    if type(number) is not int or number != MANIFEST_FORMAT:
        raise ManifestDamageError(f"it isn't of format {MANIFEST_FORMAT}, the one that this version of Tauthide reads")
    _expect_keys(document, {"drums", "format", "top"}, "the list")
    drums = _expect(document["drums"], dict, "drums")
    for drum in drums:
        if not is_drum_name(drum):
            raise ManifestDamageError("it names a drum that no build could have written")
    return Manifest(
        drums={drum: _parse_entry(drum, entry) for drum, entry in drums.items()},
        top=_parse_files(document["top"], TOP_FILES),
    )


def merge_manifests(
    ours: Manifest, theirs: Manifest, known: Collection[str], keeps: Callable[[str, str, str | None], bool]
) -> Manifest:
    """Return our manifest with what only another build's has, so that nothing on disk is left unlisted.

    Drums that are not among the `known` are taken whole; of the others, as claims, the files that `keeps`
    (asked by drum, file name and hash) says are to stay listed. An empty drum is the folder itself.
    """
    drums = dict(ours.drums)
    for drum, entry in theirs.drums.items():
        if drum not in known:
            drums[drum] = entry
            continue
        mine = drums.get(drum, DrumEntry())
        extra = _only_theirs(drum, mine.files, entry.files, keeps)
        if extra:
            drums[drum] = DrumEntry({**mine.files, **extra}, mine.record)
    return Manifest(drums, {**_only_theirs("", ours.top, theirs.top, keeps), **ours.top})


def _only_theirs(
    drum: str,
    mine: Mapping[str, str | None],
    theirs: Mapping[str, str | None],
    keeps: Callable[[str, str, str | None], bool],
) -> dict[str, str | None]:
    return {name: None for name, recorded in theirs.items() if name not in mine and keeps(drum, name, recorded)}


def _entry_json(entry: DrumEntry) -> Json:
    """Return an entry as JSON values; the record's drum is the entry's key."""
    record = entry.record
    return {
        "files": dict(entry.files),
        "record": None
        if record is None
        else {
            "failed": record.failed,
            "findings": list(record.findings),
            "fingerprint": record.fingerprint,
            "index_row": record.index_row,
            "spec": record.spec,
        },
    }


def _compact(value: Json) -> str:
    return json.dumps(value, sort_keys=True, allow_nan=False)


def _parse_entry(drum: str, value: object) -> DrumEntry:
    entry = _expect(value, dict, "a drum")
    _expect_keys(entry, {"files", "record"}, "a drum")
    files = _parse_files(entry["files"], DRUM_FILES)
    if entry["record"] is None:
        return DrumEntry(files)
    record = _expect(entry["record"], dict, "record")
    _expect_keys(record, _RECORD_KEYS, "a record")
    return DrumEntry(
        files,
        DrumRecord(
            drum=drum,
            spec=_expect(record["spec"], str, "spec"),
            fingerprint=_expect(record["fingerprint"], str, "fingerprint"),
            failed=_expect(record["failed"], bool, "failed"),
            findings=_expect(record["findings"], list, "findings"),
            index_row=record["index_row"],
        ),
    )


def _parse_files(value: object, known: tuple[str, ...]) -> dict[str, str | None]:
    files: dict[str, str | None] = _expect(value, dict, "files")
    for name, digest in files.items():
        if name not in known:
            raise ManifestDamageError("it names a file that no build could have written")
        if digest is not None and not (isinstance(digest, str) and _HASH.fullmatch(digest)):
            raise ManifestDamageError("it holds a hash that isn't one")
    return files


def _expect(value: object, kind: type, what: str) -> Any:
    if not isinstance(value, kind):
        raise ManifestDamageError(f"{what} in it isn't what a build writes there")
    return value


def _expect_keys(value: Mapping[str, object], keys: set[str], what: str) -> None:
    if set(value) != keys:
        raise ManifestDamageError(f"{what} in it has other parts than a build writes")


def _refuse_constant(name: str) -> None:
    raise ValueError(name)
