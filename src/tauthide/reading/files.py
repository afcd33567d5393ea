"""Finding and reading a maker's files: the only part of the reader that touches the disk."""

from __future__ import annotations

import os
import re
import stat
from enum import StrEnum
from pathlib import Path, PureWindowsPath

from tauthide.reading.faults import MAX_BYTES

ENDINGS = (".yaml", ".yml")
"""How a document's file name ends, in small or capital letters."""
APPROVAL_ENDING = ".approval.yaml"
"""How the name of a spec's approval ends, in the place of the spec's own ending."""
SHOP_FILE = "shop.yaml"
"""The name of the file that holds a shop's own defaults."""

_CONTROL = re.compile("[\x00-\x1f\x7f]")


class FileTrouble(Exception):  # noqa: N818  (a maker's trouble, not a fault of ours)
    """A file or folder that cannot be read; its message is one sentence for the maker."""


class Unusable(StrEnum):
    """Why a file that a document names cannot be taken."""

    EMPTY = "empty"
    CHARACTER = "character"
    """A backslash, a control character, or one that no file name can hold."""
    HOME = "home"
    """`~` at the start, which is a home folder to a shell and different on every machine."""
    ABSOLUTE = "absolute"
    ENDING = "ending"
    """Neither `.yaml` nor `.yml`."""
    OUTSIDE = "outside"
    """Outside the repository, links followed."""
    ABSENT = "absent"
    NOT_A_FILE = "not-a-file"
    """A folder, a device or the like."""


class NamedFileError(Exception):
    """A file that a document names, as in `inherits`, and that cannot be taken."""

    def __init__(self, reason: Unusable, text: str) -> None:
        """Say why the file that the maker wrote as `text` cannot be taken."""
        super().__init__(f"{text!r}: {reason}")
        self.reason = reason
        self.text = text


def read_bytes(path: Path, shown: str) -> bytes:
    """Return a file's bytes, at most one more than a document may have: reading it as YAML reports the rest.

    `shown` is the file's name in messages. Raises FileTrouble where it is absent, no regular file, or cannot
    be read.
    """
    try:
        # asked before opening: opening a pipe may wait for ever, and opening a device may do something
        if not stat.S_ISREG(path.stat().st_mode):
            raise FileTrouble(_describe_other(path, shown))
        flags = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
        with open(os.open(path, flags | getattr(os, "O_CLOEXEC", 0)), "rb") as file:  # noqa: PTH123
            # and again after: it may have been put in the other's place
            if not stat.S_ISREG(os.fstat(file.fileno()).st_mode):
                raise FileTrouble(_describe_other(path, shown))
            return file.read(MAX_BYTES + 1)
    except (OSError, ValueError) as error:
        raise FileTrouble(_describe(error, shown)) from error


def repository_root(path: Path) -> Path:
    """Return the folder that bounds what belongs with a file or folder, absolute and with links followed.

    That is the nearest folder at or above it that holds `.git` (a folder, or a file as in a worktree);
    without one, the current folder if the file lies in it, else the file's own folder.
    """
    folder = _folder_of(path)
    for candidate in (folder, *folder.parents):
        if os.path.lexists(candidate / ".git"):
            return candidate
    current = Path.cwd().resolve()
    return current if folder.is_relative_to(current) else folder


def find_documents(path: Path) -> list[Path]:
    """Return every `.yaml` and `.yml` file in a folder and below, in byte order of their names within it.

    Names that begin with a dot are passed over, and so are links to folders, links that lead out of the
    repository, and all that is no regular file. Raises FileTrouble where a folder cannot be read.
    """
    root = repository_root(path)
    found: list[tuple[bytes, Path]] = []
    folders = [Path()]
    while folders:
        within = folders.pop()
        for entry in _list(path / within):
            relative = within / entry.name
            if entry.name.startswith("."):
                continue
            if entry.is_dir(follow_symlinks=False):
                folders.append(relative)
            elif entry.name.lower().endswith(ENDINGS) and _is_ours(entry, root):
                found.append((os.fsencode(relative.as_posix()), path / relative))
    return [document for _, document in sorted(found)]


def find_shop(spec_path: Path) -> Path | None:
    """Return the nearest `shop.yaml` beside or above a spec, not above its repository, or nothing.

    The path is absolute. What is there is returned even where it is no file or leads nowhere: reading it
    says so, where passing over it would change the shop's defaults without a word. Raises FileTrouble where
    it is a link out of the repository.
    """
    folder = _folder_of(spec_path)
    root = repository_root(spec_path)
    for candidate in (folder, *folder.parents):
        shop = candidate / SHOP_FILE
        if os.path.lexists(shop):
            if not _lies_within(shop, root):
                raise FileTrouble(f"{SHOP_FILE} is a link that leads out of the repository")
            return shop
        if candidate == root:
            break
    return None


def approval_path(spec_path: Path) -> Path:
    """Return where the approval of a spec lies: beside it, `lib-13.approval.yaml` for `lib-13.yaml`."""
    return spec_path.with_name(spec_path.stem + APPROVAL_ENDING)


def approved_paths(path: Path) -> tuple[Path, ...]:
    """Return the specs beside an approval that it may be for; empty where its name is not an approval's."""
    if not path.name.endswith(APPROVAL_ENDING):
        return ()
    stem = path.name.removesuffix(APPROVAL_ENDING)
    return tuple(spec for ending in ENDINGS if stem and lies_there(spec := path.with_name(stem + ending)))


def lies_there(path: Path) -> bool:
    """Tell whether anything lies at a path, even a link that leads nowhere."""
    return os.path.lexists(path)


def resolve_named(from_path: Path, text: str) -> Path:
    """Return the file that the document at `from_path` names as `text`, absolute and with links followed.

    So the same file has the same path however it is reached, and a circle can be told by comparing. Raises
    NamedFileError; where a file lies outside, nothing is told of whether it is there.
    """
    reason = _check_name(text)
    if reason is not None:
        raise NamedFileError(reason, text)
    root = repository_root(from_path)
    try:
        path = (_folder_of(from_path) / text).resolve()
        if not path.is_relative_to(root):
            raise NamedFileError(Unusable.OUTSIDE, text)
        mode = path.stat().st_mode
    except (OSError, ValueError, RuntimeError) as error:
        # RuntimeError is what a link that leads to itself gives
        raise NamedFileError(Unusable.ABSENT, text) from error
    if not stat.S_ISREG(mode):
        raise NamedFileError(Unusable.NOT_A_FILE, text)
    if not path.name.lower().endswith(ENDINGS):
        raise NamedFileError(Unusable.ENDING, text)
    return path


def _check_name(text: str) -> Unusable | None:
    """Return what is wrong with a name as it is written, the same on every system."""
    if not text.strip():
        return Unusable.EMPTY
    if "\\" in text or _CONTROL.search(text):
        return Unusable.CHARACTER
    if text.startswith("~"):
        return Unusable.HOME
    if text.startswith("/") or PureWindowsPath(text).drive:
        return Unusable.ABSOLUTE
    if not text.lower().endswith(ENDINGS):
        return Unusable.ENDING
    try:
        text.encode("utf-8")
    except UnicodeEncodeError:
        return Unusable.CHARACTER
    return None


def _folder_of(path: Path) -> Path:
    """Return the folder that a path is or lies in, absolute, the folder's links followed."""
    try:
        return path.resolve() if path.is_dir() else path.parent.resolve()
    except (OSError, ValueError, RuntimeError) as error:
        raise FileTrouble(_describe(error, str(path))) from error


def _list(folder: Path) -> list[os.DirEntry[str]]:
    try:
        with os.scandir(folder) as entries:
            return list(entries)
    except (OSError, ValueError) as error:
        raise FileTrouble(_describe(error, folder.as_posix())) from error


def _is_ours(entry: os.DirEntry[str], root: Path) -> bool:
    try:
        if not entry.is_file():
            return False
    except OSError:
        return False
    return not entry.is_symlink() or _lies_within(Path(entry.path), root)


def _lies_within(path: Path, root: Path) -> bool:
    try:
        return path.resolve().is_relative_to(root)
    except (OSError, RuntimeError):
        return False


def _describe(error: Exception, shown: str) -> str:
    if isinstance(error, FileNotFoundError):
        return f"{shown}: there is no such file or folder"
    if isinstance(error, PermissionError):
        return f"{shown}: you are not permitted to read this"
    reason = error.strerror if isinstance(error, OSError) and error.strerror else "the name cannot be used"
    return f"{shown}: it cannot be read ({reason})"


def _describe_other(path: Path, shown: str) -> str:
    kind = "a folder" if path.is_dir() else "not a regular file"
    return f"{shown}: this is {kind}, where a file is wanted"
