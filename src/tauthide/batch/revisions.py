"""Specs as they stood at a git revision, put into a folder of their own to be read like any others."""

from __future__ import annotations

import os
import subprocess
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from tauthide.reading.faults import MAX_BYTES
from tauthide.reading.files import ENDINGS, FileTrouble, repository_root

PATIENCE_S = 120
"""Git is given so long for one answer."""

FILE_MODES, LINK_MODE = (b"100644", b"100755"), b"120000"

OF_A_HOOK = ("GIT_DIR", "GIT_WORK_TREE", "GIT_INDEX_FILE", "GIT_PREFIX", "GIT_COMMON_DIR", "GIT_NAMESPACE")
"""What a hook is told of its repository; here the repository is the one that the path lies in."""


@dataclass(frozen=True, slots=True)
class Repository:
    """A git repository with its files."""

    root: Path
    """Absolute, links followed."""

    def commit(self, revision: str) -> str:
        """Return the full name of a revision's commit; FileTrouble where there is none of that name."""
        if not revision.strip() or revision.startswith("-") or not revision.isprintable():
            raise FileTrouble(f"{revision!r} is no name of a git revision")
        done = self._run("rev-parse", "--quiet", "--verify", f"{revision}^{{commit}}")
        if done.returncode:
            reason = _first_line(done.stderr)
            raise FileTrouble(f"git knows no revision {revision} here" + (f" ({reason})" if reason else ""))
        return done.stdout.decode("ascii", "replace").strip()

    def extract(self, commit: str, folder: Path) -> None:
        """Write all YAML files of a commit into a folder, which then counts as a repository's own."""
        (folder / ".git").mkdir()
        listed = self._run("ls-tree", "-r", "-z", "--full-tree", commit)
        if listed.returncode:
            raise FileTrouble(f"git can't list {commit}: {_first_line(listed.stderr)}")
        entries = list(_entries(listed.stdout))
        request = b"".join(name + b"\n" for _, name, _ in entries)
        done = self._run("cat-file", "--batch", stdin=request)
        if done.returncode:
            raise FileTrouble(f"git can't read {commit}: {_first_line(done.stderr)}")
        found = list(zip(entries, _contents(done.stdout), strict=True))
        # Links come last, so that nothing is written through one.
        for (mode, _, path), content in sorted(found, key=lambda item: item[0][0] == LINK_MODE):
            _write(folder, mode, path, content)

    def _run(self, *arguments: str, stdin: bytes = b"") -> subprocess.CompletedProcess[bytes]:
        environment = {name: value for name, value in os.environ.items() if name not in OF_A_HOOK}
        # Nothing is fetched, locked or asked for, and what git says is in the language of our messages.
        environment |= {"GIT_OPTIONAL_LOCKS": "0", "GIT_NO_LAZY_FETCH": "1", "GIT_TERMINAL_PROMPT": "0", "LC_ALL": "C"}
        try:
            return subprocess.run(
                ("git", "-C", str(self.root), *arguments),
                input=stdin, capture_output=True, env=environment, timeout=PATIENCE_S, check=False,
            )  # fmt: skip
        except FileNotFoundError:
            raise FileTrouble("git is not installed here, so nothing can be compared with a revision") from None
        except (OSError, subprocess.TimeoutExpired) as error:
            raise FileTrouble(f"git can't be run: {error}") from error


def repository_of(path: Path) -> tuple[Repository, PurePosixPath]:
    """Return the repository that a path lies in, and the path within it; what it names need not be there.

    FileTrouble where it lies in none.
    """
    absolute = Path(os.path.abspath(path))  # noqa: PTH100 - without following links, which may not be there
    there = absolute.parent if absolute != absolute.parent else absolute
    while not there.is_dir():
        there = there.parent
    within = absolute.relative_to(there)
    root = repository_root(absolute if absolute.is_dir() else there)
    if not os.path.lexists(root / ".git"):
        raise FileTrouble(f"{path} lies in no git repository, so there is no revision of it")
    real = there.resolve() / within
    return Repository(root), PurePosixPath(real.relative_to(root).as_posix())


def _entries(listing: bytes) -> Iterator[tuple[bytes, bytes, bytes]]:
    """Yield mode, object and path of each YAML file; what could lead out of a folder is left out."""
    for line in listing.split(b"\0"):
        about, _, path = line.partition(b"\t")
        parts = path.split(b"/")
        if not path or any(part in (b"", b".", b"..") or part.lower() == b".git" for part in parts):
            continue
        mode, _, name = about.split(b" ")
        if mode in (*FILE_MODES, LINK_MODE) and os.fsdecode(path).lower().endswith(ENDINGS):
            yield mode, name, path


def _contents(answer: bytes) -> Iterator[bytes]:
    """Yield the objects that `cat-file --batch` gave, in order."""
    at = 0
    while at < len(answer):
        end = answer.index(b"\n", at)
        header = answer[at:end].split(b" ")
        if len(header) != 3:
            raise FileTrouble(f"git has not all files of that revision: {header[0].decode('ascii', 'replace')}")
        size = int(header[2])
        yield answer[end + 1 : end + 1 + size]
        at = end + 1 + size + 1


def _write(folder: Path, mode: bytes, path: bytes, content: bytes) -> None:
    target = folder / os.fsdecode(path)
    if mode != LINK_MODE:
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(content[: MAX_BYTES + 1])
    elif target.parent.is_dir() and target.parent.resolve().is_relative_to(folder) and not os.path.lexists(target):
        # Leads where it led; the reader refuses one that leads out of the folder.
        target.symlink_to(os.fsdecode(content))


def _first_line(text: bytes) -> str:
    return text.decode("utf-8", "replace").strip().partition("\n")[0]
