"""Two builds in one folder, one of them killed at the worst moment: no file is left that nobody owns."""

from __future__ import annotations

import os
import random
import signal
import sys
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from output_builds import SHOWN, Batch, Wanted, build, contents, contents_of, files_of, index_of, record_of
from tauthide.output import lock
from tauthide.output.files import TEMPORARY_PREFIX
from tauthide.output.manifest import DRUM_FILES, INDEX_NAME, MANIFEST_NAME, parse_manifest
from tauthide.output.store import Store

MINE: Batch = {"LIB-1": Wanted("goat"), "LIB-2": Wanted("goat")}
NEXT: Batch = {"LIB-1": Wanted("elk"), "LIB-2": Wanted("elk")}

needs_fork = pytest.mark.skipif(sys.platform == "win32", reason="no way to be killed so quickly there")


def start(folder: Path, batch: Batch) -> Store:
    """Return the store of a build that has claimed its names, and written nothing."""
    store = Store(folder, SHOWN)
    store.open(batch)
    for drum in batch:
        store.ticket(drum)
    return store


def put(store: Store, batch: Batch, drum: str) -> None:
    """Put one drum of a batch."""
    store.put(record_of(drum, batch[drum]), files_of(drum, batch[drum]))


def unlisted(folder: Path) -> set[str]:
    """Return the files in a folder that its manifest doesn't list, temporary ones aside."""
    if not (folder / MANIFEST_NAME).exists():
        return set(contents(folder)) - {path for path in contents(folder) if TEMPORARY_PREFIX in path}
    manifest = parse_manifest((folder / MANIFEST_NAME).read_bytes())
    listed = {f"{drum}/{name}" for drum, entry in manifest.drums.items() for name in entry.files}
    return {path for path in contents(folder) if TEMPORARY_PREFIX not in path} - listed - set(manifest.top)


RIVALS: dict[str, Batch] = {
    "the same drums": {"LIB-1": Wanted("cow"), "LIB-2": Wanted("cow")},
    "drums with errors": {"LIB-1": Wanted("cow", failed=True), "LIB-2": Wanted("cow", failed=True)},
    "other drums": {"LIB-3": Wanted("cow")},
    "no drums": {},
}


@pytest.mark.parametrize("rival", RIVALS.values(), ids=RIVALS)
class TestClaimsAreStruckOff:
    """A build claims its names; another sees that, comes to its end, and finds no such files."""

    def test_killed_after_a_drum(self, tmp_path: Path, rival: Batch) -> None:
        first = start(tmp_path, MINE)
        build(tmp_path, rival)
        put(first, MINE, "LIB-1")
        del first  # killed: neither closed nor abandoned
        assert unlisted(tmp_path) == set()
        build(tmp_path, NEXT)
        assert contents(tmp_path) == contents_of(NEXT)

    def test_killed_after_the_index(self, tmp_path: Path, rival: Batch, monkeypatch: pytest.MonkeyPatch) -> None:
        first = start(tmp_path, MINE)
        build(tmp_path, rival)
        for drum in MINE:
            put(first, MINE, drum)
        monkeypatch.setattr(first, "_save", lambda *, tidy: None)
        first.close(index_of(MINE))
        assert unlisted(tmp_path) == set()
        build(tmp_path, NEXT)
        assert contents(tmp_path) == contents_of(NEXT)

    def test_both_end(self, tmp_path: Path, rival: Batch) -> None:
        first = start(tmp_path, MINE)
        build(tmp_path, rival)
        for drum in MINE:
            put(first, MINE, drum)
        first.close(index_of(MINE))
        assert unlisted(tmp_path) == set()
        build(tmp_path, {})
        assert contents(tmp_path) == contents_of({})

    def test_written_while_the_other_ends(self, tmp_path: Path, rival: Batch) -> None:
        """The first one's files come after the other has written its own, and before it lists them."""
        first = start(tmp_path, MINE)
        second = start(tmp_path, rival)
        for drum in rival:
            put(second, rival, drum)
        for drum in MINE:
            put(first, MINE, drum)
        second.close(index_of(rival))
        del first
        assert unlisted(tmp_path) == set()
        build(tmp_path, NEXT)
        assert contents(tmp_path) == contents_of(NEXT)


def test_an_index_alone_is_listed_anew(tmp_path: Path) -> None:
    """The other build has come only as far as to strike off the name of an index that was not there."""
    first = start(tmp_path, {})
    first._claim()
    second = Store(tmp_path, SHOWN)
    second.open({})
    second._touched = True
    second.abandon()
    assert parse_manifest((tmp_path / MANIFEST_NAME).read_bytes()).top == {}
    first._write_index(b"mine")
    assert parse_manifest((tmp_path / MANIFEST_NAME).read_bytes()).top == {INDEX_NAME: None}


def test_names_that_are_listed_are_not_listed_anew(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Without another build the manifest is read once, and written at the claim and at the end."""
    opened, reads = os.open, []

    def count(path: str | Path, flags: int, *more: int, **named: int) -> int:
        if str(path).endswith(MANIFEST_NAME) and not flags & os.O_CREAT:
            reads.append(path)
        return opened(path, flags, *more, **named)

    monkeypatch.setattr(os, "open", count)
    build(tmp_path, {f"LIB-{number}": Wanted("goat") for number in range(20)})
    assert len(reads) == 3


@pytest.mark.skipif(sys.platform == "win32", reason="no lock on a folder there")
def test_a_build_that_was_stopped_holds_nobody_up_for_long(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """It has the lock and doesn't give it back: others wait so long in all, not so long for every drum."""
    monkeypatch.setattr(lock, "WAIT_S", 0.1)
    monkeypatch.setattr(lock, "MOST_WAIT_S", 0.25)
    monkeypatch.setattr(lock._Patience, "spent_s", 0.0)
    batch = {f"LIB-{number}": Wanted("goat") for number in range(30)}
    waits: list[float] = []
    monkeypatch.setattr("time.sleep", waits.append)
    clock = iter(step * 0.01 for step in range(1_000_000))
    monkeypatch.setattr("time.monotonic", lambda: next(clock))
    with lock.turn(tmp_path) as got:
        assert got
        build(tmp_path, batch)
    assert contents(tmp_path) == contents_of(batch)
    assert len(waits) < 40  # of the clock's steps of 0.01; without the bound it would be 9 for each of 33 turns


@needs_fork
@settings(max_examples=60, deadline=None)
@given(
    st.randoms(use_true_random=False),
    st.sampled_from(sorted(RIVALS)),
    st.integers(0, len(DRUM_FILES) * 4 + 8),
    st.booleans(),
)
def test_killed_between_any_two_steps(
    tmp_path_factory: pytest.TempPathFactory, choice: random.Random, rival: str, at: int, begun: bool
) -> None:
    """A build is killed at any change of the disk, and a whole one by another runs somewhere before that."""
    folder = tmp_path_factory.mktemp("rivals")
    if begun:
        build(folder, {"LIB-1": Wanted("deer"), "LIB-2": Wanted("deer", failed=True)})
    between = choice.randint(0, at)
    in_child(lambda: build_and_die(folder, RIVALS[rival], between, at))
    assert unlisted(folder) == set()
    build(folder, NEXT)
    assert {p: c for p, c in contents(folder).items() if TEMPORARY_PREFIX not in p} == contents_of(NEXT)


def in_child(work: Callable[[], object]) -> None:
    """Do something in a process of its own, and wait for its end."""
    child = os.fork()
    if child == 0:
        with suppress(BaseException):
            work()
        os._exit(0)
    os.waitpid(child, 0)


def build_and_die(folder: Path, rival: Batch, between: int, at: int) -> None:
    """Build; before one change of the disk let another process build, at a later one be killed.

    The other waits for a change at which the folder is not locked, as it would by itself.
    """
    whole = {name: getattr(os, name) for name in ("write", "replace", "unlink")}
    count, due = 0, True

    def struck(name: str) -> Callable[..., object]:
        def call(*args: object, **named: object) -> object:
            nonlocal count, due
            if due and count >= between and is_free(folder):
                due = False
                in_child(lambda: build_as_ever(whole, folder, rival))
            if count == at:
                os.kill(os.getpid(), signal.SIGKILL)
            count += 1
            result: object = whole[name](*args, **named)
            return result

        return call

    for name in whole:
        setattr(os, name, struck(name))
    build(folder, MINE)


def build_as_ever(whole: dict[str, Callable[..., object]], folder: Path, batch: Batch) -> None:
    """Build with the system's calls as they were."""
    for name, call in whole.items():
        setattr(os, name, call)
    build(folder, batch)


def is_free(folder: Path) -> bool:
    """Tell whether nobody has the folder's lock."""
    import fcntl

    handle = os.open(folder, os.O_RDONLY)
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return False
    finally:
        os.close(handle)
    return True
