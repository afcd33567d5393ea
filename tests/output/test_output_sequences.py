"""Any sequence of builds, whole, interrupted, killed or at the same time, ends with the right files."""

from __future__ import annotations

import errno
import multiprocessing
import os
import sys
import tempfile
from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor
from contextlib import contextmanager, suppress
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from output_builds import (
    SHOWN,
    Batch,
    Wanted,
    build,
    contents,
    contents_of,
    expected_of,
    files_of,
    index_of,
    record_of,
    stamps,
)
from tauthide.output import lock
from tauthide.output.comparison import differences
from tauthide.output.drums import write_drum
from tauthide.output.files import TEMPORARY_PREFIX, StoreTrouble
from tauthide.output.lock import turn
from tauthide.output.manifest import INDEX_NAME, MANIFEST_NAME, parse_manifest
from tauthide.output.store import Store

FOREIGN = {
    "notes.txt": b"mine",
    "LIB-1/notes.txt": b"mine",
    "LIB-2/old/sheet.md": b"mine",
    "other/sheet.md": b"mine",
    "other/.tauthide-0.tmp": b"mine",
}
"""Files of the maker's: also in drums' folders, and with our names where no drum is."""

batches = st.dictionaries(
    st.sampled_from(["LIB-1", "LIB-2", "LIB-3"]),
    st.builds(Wanted, st.sampled_from(["goat", "cow"]), st.booleans()),
)

CALLS = ("open", "write", "replace", "unlink", "rmdir", "mkdir")


@contextmanager
def folder_of_a_maker() -> Iterator[Path]:
    """Yield a folder in which the maker has files, and check in the end that they are as they were."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        for path, content in FOREIGN.items():
            (folder / path).parent.mkdir(exist_ok=True, parents=True)
            (folder / path).write_bytes(content)
        yield folder
        assert contents(folder).items() >= FOREIGN.items()


@contextmanager
def striking(at: int, strike: Callable[[], None]) -> Iterator[None]:
    """Let the system call with that number, of those that a build makes to change the disk, be struck."""
    whole = {name: getattr(os, name) for name in CALLS}
    count = 0

    def struck(name: str) -> Callable[..., object]:
        def call(*args: object, **kwargs: object) -> object:
            nonlocal count
            count += 1
            if count == at:
                strike()
            result: object = whole[name](*args, **kwargs)
            return result

        return call

    for name in CALLS:
        setattr(os, name, struck(name))
    try:
        yield
    finally:
        for name in CALLS:
            setattr(os, name, whole[name])


def interrupt() -> None:
    """Do as the maker who presses the keys."""
    raise KeyboardInterrupt


def fill() -> None:
    """Do as a disk that is full."""
    raise OSError(errno.ENOSPC, "full")


def remove_temporary(folder: Path) -> int:
    """Remove what a killed build left under temporary names, as the sweep does an hour later."""
    left = [path for path in folder.iterdir() if path.name.startswith(TEMPORARY_PREFIX)]
    for path in left:
        path.unlink()
    return len(left)


def assert_mends(folder: Path, batch: Batch) -> None:
    """Check that the next build brings all to order, and the one after does nothing."""
    build(folder, batch)
    assert contents(folder) == {**FOREIGN, **contents_of(batch)}
    before = stamps(folder)
    assert build(folder, batch).written == 0
    assert stamps(folder) == before
    assert differences(folder, SHOWN, expected_of(batch)) == ()


class TestSequences:
    """After each build the folder holds the batch and the maker's own files, and nothing else."""

    @settings(max_examples=60, deadline=None)
    @given(st.lists(batches, min_size=1, max_size=4))
    def test_whole_builds(self, sequence: list[Batch]) -> None:
        with folder_of_a_maker() as folder:
            for batch in sequence:
                build(folder, batch)
                assert contents(folder) == {**FOREIGN, **contents_of(batch)}
            assert_mends(folder, sequence[-1])

    @settings(max_examples=150, deadline=None)
    @given(batches, batches, batches, st.integers(1, 90), st.sampled_from([interrupt, fill]))
    def test_a_build_that_fails_leaves_no_half_file_nor_temporary_one(
        self, old: Batch, broken: Batch, new: Batch, at: int, strike: Callable[[], None]
    ) -> None:
        with folder_of_a_maker() as folder:
            build(folder, old)
            with suppress(KeyboardInterrupt, StoreTrouble), striking(at, strike):
                build(folder, broken)
            assert remove_temporary(folder) == 0
            whole = [FOREIGN, contents_of(old), contents_of(broken)]
            for path, content in contents(folder).items():
                assert any(part.get(path) == content for part in whole)
            assert_mends(folder, new)

    @pytest.mark.skipif(not hasattr(os, "fork"), reason="no way to be killed so quickly there")
    @settings(max_examples=100, deadline=None)
    @given(batches, batches, batches, st.integers(1, 90))
    def test_a_build_that_is_killed_leaves_nothing_unowned(
        self, old: Batch, broken: Batch, new: Batch, at: int
    ) -> None:
        with folder_of_a_maker() as folder:
            build(folder, old)
            child = os.fork()
            if child == 0:
                with suppress(BaseException), striking(at, lambda: os._exit(9)):
                    build(folder, broken)
                    os._exit(0)
                os._exit(1)
            status = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
            assert status in (0, 9)
            remove_temporary(folder)
            manifest = parse_manifest((folder / MANIFEST_NAME).read_bytes())
            listed = {f"{drum}/{name}" for drum, entry in manifest.drums.items() for name in entry.files}
            assert set(contents(folder)) <= set(FOREIGN) | listed | set(manifest.top)
            assert_mends(folder, new)


class TestProcesses:
    """Workers of one build, and several builds in one folder."""

    def test_drums_written_by_workers(self, tmp_path: Path) -> None:
        batch: Batch = {f"LIB-{i}": Wanted("goat", failed=i % 3 == 0) for i in range(12)}
        build(tmp_path / "one", batch)
        with (
            ProcessPoolExecutor(2, multiprocessing.get_context("spawn")) as pool,
            Store(tmp_path / "two", SHOWN) as store,
        ):
            store.open(batch)
            results = {drum: pool.submit(write_drum, store.ticket(drum), files_of(drum, batch[drum])) for drum in batch}
            for drum, result in results.items():
                store.record(record_of(drum, batch[drum]), result.result())
            store.close(index_of(batch))
        assert store.written == len(contents_of(batch))
        assert contents(tmp_path / "two") == contents_of(batch)
        manifests = {(tmp_path / name / MANIFEST_NAME).read_bytes() for name in ("one", "two")}
        assert len(manifests) == 1

    def test_trouble_comes_back_from_a_worker(self, tmp_path: Path) -> None:
        with Store(tmp_path, SHOWN) as store:
            store.open(["LIB-1"])
            ticket = store.ticket("LIB-1")
            (tmp_path / "LIB-1").write_bytes(b"mine")
            with ProcessPoolExecutor(1, multiprocessing.get_context("spawn")) as pool:
                result = pool.submit(write_drum, ticket, {"sheet.md": b"x"})
                with pytest.raises(StoreTrouble, match="build/LIB-1 is a file"):
                    result.result()

    @pytest.mark.skipif(sys.platform == "win32", reason="a file that is being read can't be replaced there")
    def test_several_builds_at_once(self, tmp_path: Path) -> None:
        mine: Batch = {"LIB-1": Wanted("goat"), "LIB-2": Wanted("goat"), "MINE": Wanted("goat")}
        yours: Batch = {"LIB-1": Wanted("cow"), "LIB-2": Wanted("cow", failed=True), "YOURS": Wanted("cow")}
        context = multiprocessing.get_context("spawn")
        start = context.Barrier(2)
        builds = [context.Process(target=build_often, args=(tmp_path, start, batch)) for batch in (mine, yours)]
        for process in builds:
            process.start()
        for process in builds:
            process.join(60)
            assert process.exitcode == 0
        whole = [contents_of(mine), contents_of(yours)]
        for path, content in contents(tmp_path).items():
            assert any(part.get(path) == content for part in whole)
        assert (tmp_path / INDEX_NAME).read_bytes() in {index_of(mine), index_of(yours)}
        for batch in (mine, yours):
            build(tmp_path, batch)
            assert contents(tmp_path) == contents_of(batch)

    def test_what_another_build_claimed_meanwhile_stays_listed(self, tmp_path: Path) -> None:
        mine: Batch = {"LIB-1": Wanted("goat", failed=True)}
        yours: Batch = {"LIB-1": Wanted("cow"), "LIB-2": Wanted("cow")}
        first = Store(tmp_path, SHOWN)
        first.open(mine)
        first.put(record_of("LIB-1", mine["LIB-1"]), files_of("LIB-1", mine["LIB-1"]))
        build(tmp_path, yours)
        first.close(index_of(mine))
        manifest = parse_manifest((tmp_path / MANIFEST_NAME).read_bytes())
        assert set(manifest.drums) == {"LIB-1", "LIB-2"}
        assert set(manifest.drums["LIB-1"].files) == set(files_of("LIB-1", yours["LIB-1"]))
        build(tmp_path, mine)
        assert contents(tmp_path) == contents_of(mine)

    def test_a_drum_removed_by_another_build_and_written_again_as_it_was_stays_listed(self, tmp_path: Path) -> None:
        mine: Batch = {"LIB-1": Wanted("goat")}
        build(tmp_path, mine)
        first = Store(tmp_path, SHOWN)
        first.open(mine)
        build(tmp_path, {})
        assert not (tmp_path / "LIB-1").exists()
        first.put(record_of("LIB-1", mine["LIB-1"]), files_of("LIB-1", mine["LIB-1"]))
        first.close(index_of(mine))
        assert set(parse_manifest((tmp_path / MANIFEST_NAME).read_bytes()).drums) == {"LIB-1"}
        assert_mends_alone(tmp_path, mine)

    @pytest.mark.skipif(sys.platform == "win32", reason="no lock on a folder there")
    def test_updates_of_the_manifest_take_turns(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        # Between the first one's reading and replacing the manifest, another tries to do the same.
        replace, others = os.replace, []

        def replace_slowly(source: Path, target: Path) -> None:
            if Path(target).name == MANIFEST_NAME:
                with turn(tmp_path) as got:
                    others.append(got)
            replace(source, target)

        monkeypatch.setattr(lock, "WAIT_S", 0.02)
        monkeypatch.setattr(os, "replace", replace_slowly)
        build(tmp_path, {"LIB-1": Wanted("goat")})
        monkeypatch.undo()
        assert others == [False, False]
        with turn(tmp_path) as got:
            assert got

    def test_a_folder_that_goes_while_it_is_looked_at(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        mine: Batch = {"LIB-1": Wanted("goat")}
        build(tmp_path, mine)
        store, scandir = Store(tmp_path, SHOWN), os.scandir
        store.read()

        def lose(path: str) -> object:
            if path.endswith("LIB-1"):
                monkeypatch.undo()
                build(tmp_path, {})
            return scandir(path)

        monkeypatch.setattr(os, "scandir", lose)
        store.open(mine)
        store.put(record_of("LIB-1", mine["LIB-1"]), files_of("LIB-1", mine["LIB-1"]))
        store.close(index_of(mine))
        assert_mends_alone(tmp_path, mine)

    def test_a_first_build_that_finds_another_at_work(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        # The other one claims and writes between our reading the manifest and our looking at the folder.
        mine: Batch = {"LIB-1": Wanted("goat")}
        store = Store(tmp_path, SHOWN)
        store.read()
        build(tmp_path, {"LIB-1": Wanted("cow")})
        store.open(mine)
        store.put(record_of("LIB-1", mine["LIB-1"]), files_of("LIB-1", mine["LIB-1"]))
        store.close(index_of(mine))
        assert contents(tmp_path) == contents_of(mine)


def assert_mends_alone(folder: Path, batch: Batch) -> None:
    """Check that the folder holds the batch, all of it listed: an empty build takes all of it away."""
    assert contents(folder) == contents_of(batch)
    build(folder, {})
    assert contents(folder) == contents_of({})


def build_often(folder: Path, start: object, batch: Batch) -> None:
    """Build the same batch over and over, as soon as the other process is ready."""
    start.wait(30)  # type: ignore[attr-defined]
    for _ in range(25):
        build(folder, batch)
        parse_manifest((folder / MANIFEST_NAME).read_bytes())
