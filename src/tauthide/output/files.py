"""Files written whole or not at all, never through a link, never over what is not ours.

A file is first written under a name of its own in the output folder and then moved into place in one step,
so that a reader, a second build or a power cut finds the old file or the new one. Temporary files all lie in
the output folder itself, not beside their targets: what a killed build leaves is then found in one place.
The disk is not told to flush: a file lost with the power is found by its hash and built again.
"""

from __future__ import annotations

import errno
import os
import stat
import time
from collections.abc import Callable, Collection, Iterator, Mapping
from contextlib import AbstractContextManager, contextmanager, nullcontext, suppress
from enum import Enum
from pathlib import Path

from tauthide.output.manifest import MANIFEST_NAME, Manifest, ManifestDamageError, parse_manifest

TEMPORARY_PREFIX = ".tauthide-"
TEMPORARY_SUFFIX = ".tmp"

STALE_AFTER_S = 3600.0
"""Age from which a temporary file counts as left by a killed build; none that lives needs it for a second."""

PLACE_ATTEMPTS = 3
"""How often a drum's folder is made anew when another build takes it away, empty, at the same time."""

_FILE_MODE = 0o666  # less the umask, which the system takes off by itself
_READ_FLAGS = (
    os.O_RDONLY
    | getattr(os, "O_NOFOLLOW", 0)
    | getattr(os, "O_NONBLOCK", 0)  # a named pipe must not hold the build up
    | getattr(os, "O_CLOEXEC", 0)
    | getattr(os, "O_BINARY", 0)
)
_WRITE_FLAGS = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_CLOEXEC", 0) | getattr(os, "O_BINARY", 0)
_FOLLOWS_LINKS = not hasattr(os, "O_NOFOLLOW")

_REASONS = {
    errno.ENOSPC: "the disk is full",
    errno.EDQUOT: "your share of the disk is used up",
    errno.EFBIG: "it would be larger than this system allows",
    errno.EACCES: "permission denied",
    errno.EPERM: "permission denied",
    errno.EROFS: "the disk can only be read",
    errno.ENAMETOOLONG: "the name is too long for this disk",
    errno.ENOTDIR: "a file stands where a folder is needed",
    errno.EEXIST: "a file stands where a folder is needed",
    errno.EIO: "the disk reports a fault",
}


class StoreTrouble(Exception):  # noqa: N818 - not an error of ours
    """The disk, or what lies on it, doesn't let us go on; the message is for the maker."""


class Kind(Enum):
    """What stands at a path, links not followed."""

    FILE = "a file"
    FOLDER = "a folder"
    LINK = "a link"
    OTHER = "neither file nor folder"


def read_manifest(folder: Path, shown: str) -> tuple[Manifest, bytes | None]:
    """Return a folder's manifest and its bytes, or an empty one and None; raise `StoreTrouble` if damaged."""
    with told(shown, "", "read"):
        if kind_of(folder) is not None and not folder.is_dir():
            raise StoreTrouble(f"{shown} is not a folder; choose another --out")
    data = read_file(str(folder), shown, MANIFEST_NAME)
    if data is None:
        return Manifest(), None
    try:
        return parse_manifest(data), data
    except ManifestDamageError as damage:
        raise StoreTrouble(
            f"{shown_path(shown, MANIFEST_NAME)}, the list of the files that are Tauthide's, can't be used: "
            f"{damage}. Move the folder {shown} away, or delete it if nothing in it is yours, and build again"
        ) from None


def replace_files(
    folder: str,
    shown: str,
    contents: Mapping[str, bytes],
    hold: Callable[[], AbstractContextManager[None]] = nullcontext,
) -> None:
    """Write files by their paths below the folder; whatever happens, no temporary one is left.

    Once all are written they are moved into place while `hold` holds.
    """
    staged: list[tuple[str, str]] = []
    made: list[Path] = []
    try:
        for path, content in contents.items():
            temporary = f"{folder}/{TEMPORARY_PREFIX}{os.urandom(8).hex()}{TEMPORARY_SUFFIX}"
            # Noted before it is there: an interrupt in between must not leave it.
            staged.append((temporary, path))
            with told(shown, path):
                _write_new(temporary, content)
        with hold():
            for temporary, path in staged:
                with told(shown, path):
                    _place(Path(temporary), Path(folder, path), made)
    except BaseException:
        for temporary, _ in staged:
            with suppress(OSError):
                Path(temporary).unlink(missing_ok=True)
        for parent in made:
            remove_empty(parent)
        raise


def read_file(folder: str, shown: str, path: str) -> bytes | None:
    """Return a file's content, or None if it isn't there; raise `StoreTrouble` if it is no plain file."""
    whole = f"{folder}/{path}"
    with told(shown, path, "read"):
        if _FOLLOWS_LINKS and Path(whole).is_symlink():
            raise in_the_way(shown, path, Kind.LINK)
        try:
            handle = os.open(whole, _READ_FLAGS)
        except (FileNotFoundError, NotADirectoryError):
            return None
        except OSError:
            kind = kind_of(Path(whole))
            if kind is None or kind is Kind.FILE:
                raise
            raise in_the_way(shown, path, kind) from None
        try:
            state = os.fstat(handle)
            if not stat.S_ISREG(state.st_mode):
                raise in_the_way(shown, path, kind_of(Path(whole)) or Kind.OTHER)
            return _read_all(handle, state.st_size)
        finally:
            os.close(handle)


def remove_file(folder: str, shown: str, path: str) -> bool:
    """Remove a file that is ours; tell whether it was there."""
    target = Path(folder, path)
    kind = kind_of(target)
    if kind is None:
        return False
    if kind is not Kind.FILE:
        raise in_the_way(shown, path, kind)
    with told(shown, path, "removed"):
        try:
            target.unlink()
        except FileNotFoundError:  # another build at work was quicker
            return False
    return True


def remove_empty(folder: Path) -> None:
    """Remove a folder if nothing is in it."""
    with suppress(OSError):
        folder.rmdir()


def sweep(folder: str) -> None:
    """Remove temporary files that a killed build left, as far as they are surely nobody's any more."""
    limit = time.time() - STALE_AFTER_S
    with suppress(OSError), os.scandir(folder) as entries:
        for entry in entries:
            if not (entry.name.startswith(TEMPORARY_PREFIX) and entry.name.endswith(TEMPORARY_SUFFIX)):
                continue
            with suppress(OSError):
                if entry.is_file(follow_symlinks=False) and entry.stat().st_mtime < limit:
                    Path(entry.path).unlink()


def kind_of(path: Path) -> Kind | None:
    """Tell what stands at a path, links not followed; None for nothing."""
    try:
        mode = path.lstat().st_mode
    except OSError:
        return None
    if stat.S_ISREG(mode):
        return Kind.FILE
    if stat.S_ISDIR(mode):
        return Kind.FOLDER
    return Kind.LINK if stat.S_ISLNK(mode) else Kind.OTHER


def known_names(folder: str, shown: str, drum: str, wanted: Collection[str]) -> list[str]:
    """Return those of the wanted names that lie in a drum's folder; `StoreTrouble` if one is no plain file.

    None do where the folder isn't there: another build may just have removed it.
    Where the disk takes names for the same that differ in case only, a file may go by another spelling.
    """
    found: set[str] = set()
    with told(shown, drum, "read"), suppress(FileNotFoundError), os.scandir(f"{folder}/{drum}") as entries:
        for entry in entries:
            name = entry.name.casefold()
            if name not in wanted or name in found:
                continue
            plain = entry.name == name and entry.is_file(follow_symlinks=False)
            kind = Kind.FILE if plain else kind_of(Path(folder, drum, name))
            if kind is None:
                continue
            if kind is not Kind.FILE:
                raise in_the_way(shown, f"{drum}/{name}", kind)
            found.add(name)
    return sorted(found)


def same_folder(one: Path, other: Path) -> bool:
    """Tell whether two paths, both there, lead to the same folder."""
    try:
        return one.samefile(other)
    except OSError:
        return False


def require_folder(root: Path, shown: str, drum: str) -> bool:
    """Tell whether a drum's folder is there; raise `StoreTrouble` if something else stands in its place."""
    kind = kind_of(root / drum)
    if kind is None or kind is Kind.FOLDER:
        return kind is not None
    raise in_the_way(shown, drum, kind)


def digest(content: bytes) -> str:
    """Return the SHA-256 of a file's content in lower case hexadecimal digits."""
    import hashlib  # late: a run that only prints help must not pay for it

    return hashlib.sha256(content).hexdigest()


def shown_path(shown: str, path: str) -> str:
    """Return a path in the output folder as the maker is shown it; an empty path is the folder itself."""
    return f"{shown.rstrip('/')}/{path}" if path else shown


def not_ours(shown: str, path: str) -> StoreTrouble:
    """Return the trouble with a file that we would write but did not make."""
    return StoreTrouble(f"{shown_path(shown, path)} is not ours; move it away or choose another --out")


def in_the_way(shown: str, path: str, kind: Kind) -> StoreTrouble:
    """Return the trouble with a path where something stands that no build puts there."""
    if kind is Kind.LINK:
        return StoreTrouble(
            f"{shown_path(shown, path)} is a link, and what is written there would land elsewhere; "
            "remove the link or choose another --out"
        )
    return StoreTrouble(
        f"{shown_path(shown, path)} is {kind.value}, and not ours; move it away or choose another --out"
    )


@contextmanager
def told(shown: str, path: str, deed: str = "written") -> Iterator[None]:
    """Turn what the system says into a `StoreTrouble` that names the file as the maker knows it."""
    try:
        yield
    except OSError as error:
        reason = _REASONS.get(error.errno or 0) or error.strerror or type(error).__name__
        raise StoreTrouble(f"{shown_path(shown, path)} can't be {deed}: {reason}") from error


def _write_new(path: str, content: bytes) -> None:
    """Write a file that must not be there yet."""
    handle = os.open(path, _WRITE_FLAGS, _FILE_MODE)
    try:
        rest = memoryview(content)
        while rest:
            rest = rest[os.write(handle, rest) :]
    finally:
        os.close(handle)


def _place(temporary: Path, target: Path, made: list[Path]) -> None:
    """Move a finished file into place, making the drum's folder if it isn't there; note what was made."""
    for _ in range(PLACE_ATTEMPTS):
        try:
            temporary.replace(target)
        except FileNotFoundError:
            with suppress(FileExistsError):
                target.parent.mkdir()
                made.append(target.parent)
        else:
            return
    temporary.replace(target)


def _read_all(handle: int, size: int) -> bytes:
    """Read a file to its end, in one go where its size has not changed."""
    pieces: list[bytes] = []
    while piece := os.read(handle, size + 1):
        pieces.append(piece)
    return pieces[0] if len(pieces) == 1 else b"".join(pieces)
