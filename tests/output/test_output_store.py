"""One output folder through its builds: what is ours is brought up to date, the rest is left alone."""

from __future__ import annotations

import errno
import json
import os
import shutil
import sys
from collections.abc import Callable
from pathlib import Path
from typing import ClassVar

import pytest

from output_builds import (
    Batch,
    Wanted,
    build,
    contents,
    contents_of,
    expected_of,
    files_of,
    index_of,
    record_of,
)
from output_builds import stamps as stamps_of
from tauthide.output import files as disk
from tauthide.output.files import StoreTrouble
from tauthide.output.manifest import DRUM_FILES, INDEX_NAME, MANIFEST_NAME, parse_manifest
from tauthide.output.store import Store

needs_links = pytest.mark.skipif(sys.platform == "win32", reason="links need special rights there")

ONE: Batch = {"LIB-13": Wanted("goat")}
TWO: Batch = {"LIB-13": Wanted("goat"), "LIB-14": Wanted("cow")}
FAILED: Batch = {"LIB-13": Wanted("goat", failed=True)}


def opened(folder: Path, batch: Batch, *, compare: bool = False) -> Store:
    """Return a store that is open for a batch."""
    store = Store(folder, "build")
    store.open(batch, (lambda: expected_of(batch)) if compare else None)
    return store


def put(store: Store, batch: Batch, drum: str) -> None:
    """Put one drum of a batch."""
    store.put(record_of(drum, batch[drum]), files_of(drum, batch[drum]))


def listed(folder: Path) -> dict[str, dict[str, str | None]]:
    """Return the files that the manifest on disk lists, by drum."""
    manifest = parse_manifest((folder / MANIFEST_NAME).read_bytes())
    return {drum: dict(entry.files) for drum, entry in manifest.drums.items()}


class TestBuilding:
    """The folder holds just the batch, and a build with nothing new writes nothing."""

    def test_first_build_makes_the_folder_and_its_parents(self, tmp_path: Path) -> None:
        store = build(tmp_path / "a/b", TWO)
        assert contents(tmp_path / "a/b") == contents_of(TWO)
        assert (store.written, store.unchanged, store.removed) == (2 * len(DRUM_FILES) + 1, 0, 0)

    @pytest.mark.parametrize("batch", [TWO, FAILED, {}])
    def test_second_build_writes_nothing(self, tmp_path: Path, batch: Batch) -> None:
        build(tmp_path, batch)
        before = stamps_of(tmp_path)
        store = build(tmp_path, batch)
        assert stamps_of(tmp_path) == before
        assert (store.written, store.unchanged, store.removed) == (0, len(contents_of(batch)), 0)

    def test_putting_the_same_again_writes_nothing(self, tmp_path: Path) -> None:
        build(tmp_path, FAILED)
        before = stamps_of(tmp_path)
        store = opened(tmp_path, FAILED)
        put(store, FAILED, "LIB-13")
        store.close(index_of(FAILED))
        assert stamps_of(tmp_path) == before

    def test_only_what_differs_is_rewritten(self, tmp_path: Path) -> None:
        build(tmp_path, TWO)
        before = stamps_of(tmp_path)
        store = opened(tmp_path, TWO)
        store.keep(record_of("LIB-14", TWO["LIB-14"]))
        store.put(
            record_of("LIB-13", Wanted("new")),
            {**files_of("LIB-13", TWO["LIB-13"]), "sheet.md": b"another"},
        )
        store.close(index_of(TWO))
        after = stamps_of(tmp_path)
        assert {path for path in after if after[path] != before[path]} == {"LIB-13/sheet.md", MANIFEST_NAME}
        assert (store.written, store.unchanged, store.removed) == (1, 2 * len(DRUM_FILES), 0)

    def test_manifest_does_not_depend_on_order_or_history(self, tmp_path: Path) -> None:
        build(tmp_path / "one", TWO)
        build(tmp_path / "two", {**FAILED, "old": Wanted("x")})
        build(tmp_path / "two", dict(reversed(list(TWO.items()))))
        one, two = ((tmp_path / name / MANIFEST_NAME).read_bytes() for name in ("one", "two"))
        assert one == two
        assert str(tmp_path).encode() not in one

    def test_a_record_that_changes_alone_changes_the_manifest_alone(self, tmp_path: Path) -> None:
        build(tmp_path, ONE)
        before = stamps_of(tmp_path)
        store = opened(tmp_path, ONE)
        store.keep(record_of("LIB-13", Wanted("same but for a comment")))
        store.close(index_of(ONE))
        after = stamps_of(tmp_path)
        assert {path for path in after if after[path] != before[path]} == {MANIFEST_NAME}
        store.read()
        assert store.known("LIB-13") == record_of("LIB-13", Wanted("same but for a comment"))

    def test_a_notice_takes_the_place_of_all_files(self, tmp_path: Path) -> None:
        build(tmp_path, ONE)
        store = build(tmp_path, FAILED)
        assert contents(tmp_path) == contents_of(FAILED)
        assert store.removed == len(DRUM_FILES) - 1
        assert listed(tmp_path) == {
            "LIB-13": {"sheet.md": disk.digest(files_of("LIB-13", FAILED["LIB-13"])["sheet.md"])}
        }

    def test_a_drum_that_is_gone_goes_with_its_folder(self, tmp_path: Path) -> None:
        build(tmp_path, TWO)
        store = build(tmp_path, ONE)
        assert contents(tmp_path) == contents_of(ONE)
        assert not (tmp_path / "LIB-14").exists()
        assert store.removed == len(DRUM_FILES)

    def test_a_folder_with_something_of_the_makers_stays(self, tmp_path: Path) -> None:
        build(tmp_path, TWO)
        (tmp_path / "LIB-14/notes.txt").write_bytes(b"mine")
        build(tmp_path, ONE)
        assert contents(tmp_path) == {**contents_of(ONE), "LIB-14/notes.txt": b"mine"}

    def test_a_drum_neither_put_nor_kept_stays_as_it_was(self, tmp_path: Path) -> None:
        build(tmp_path, TWO)
        before = (tmp_path / MANIFEST_NAME).read_bytes()
        store = opened(tmp_path, TWO)
        store.keep(record_of("LIB-13", TWO["LIB-13"]))
        store.close(index_of(TWO))
        assert (tmp_path / MANIFEST_NAME).read_bytes() == before
        assert contents(tmp_path) == contents_of(TWO)

    @needs_links
    def test_the_folder_itself_may_be_a_link(self, tmp_path: Path) -> None:
        (tmp_path / "real").mkdir()
        (tmp_path / "build").symlink_to("real", target_is_directory=True)
        build(tmp_path / "build", ONE)
        assert contents(tmp_path / "real") == contents_of(ONE)

    @pytest.mark.parametrize("drums", [["../x"], [""], ["."], ["a/b"], ["index.md"], [".x"], ["a", "A"]])
    def test_names_that_should_have_been_refused_are_a_fault_of_ours(self, tmp_path: Path, drums: list[str]) -> None:
        with pytest.raises(ValueError, match="names of drums"):
            Store(tmp_path / "build", "build").open(drums)
        assert not (tmp_path / "build").exists()

    def test_calls_out_of_order_are_a_fault_of_ours(self, tmp_path: Path) -> None:
        store = Store(tmp_path, "build")
        with pytest.raises(RuntimeError):
            store.close(b"")
        store.open(ONE)
        with pytest.raises(ValueError, match="LIB-14"):
            put(store, TWO, "LIB-14")
        assert contents(tmp_path) == {}


class TestKnowing:
    """What the last build left is known, and trusted as far as the disk bears it out."""

    def test_record_and_spec(self, tmp_path: Path) -> None:
        build(tmp_path, {**TWO, **FAILED})
        store = Store(tmp_path, "build")
        store.read()
        assert store.known("LIB-13") == record_of("LIB-13", FAILED["LIB-13"])
        assert store.known("LIB-15") is None
        assert store.drums_of("lib-14.yaml") == ("LIB-14",)
        assert store.drums_of("lib-15.yaml") == ()

    def test_intact(self, tmp_path: Path) -> None:
        build(tmp_path, {**TWO, **FAILED})
        store = Store(tmp_path, "build")
        store.read()
        assert store.intact("LIB-13")
        assert store.intact("LIB-14")
        assert not store.intact("LIB-15")

    @pytest.mark.parametrize("name", DRUM_FILES)
    @pytest.mark.parametrize("content", [b"edited", None])
    def test_not_intact(self, tmp_path: Path, name: str, content: bytes | None) -> None:
        build(tmp_path, TWO)
        path = tmp_path / "LIB-13" / name
        if content is None:
            path.unlink()
        else:
            path.write_bytes(content)
        store = Store(tmp_path, "build")
        store.read()
        assert not store.intact("LIB-13")
        assert store.intact("LIB-14")
        build(tmp_path, TWO)
        assert contents(tmp_path) == contents_of(TWO)

    def test_a_claimed_file_leaves_the_drum_in_doubt(self, tmp_path: Path) -> None:
        build(tmp_path, FAILED)
        store = opened(tmp_path, ONE)
        store.ticket("LIB-13")
        again = Store(tmp_path, "build")
        again.read()
        assert not again.intact("LIB-13")


class TestClaiming:
    """No file is written whose name the manifest doesn't list already."""

    def test_every_new_file_is_listed_first(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        build(tmp_path, FAILED)
        replace, seen = os.replace, []

        def check(source: Path, target: Path) -> None:
            path = Path(target).relative_to(tmp_path)
            if path.name != MANIFEST_NAME:
                manifest = parse_manifest((tmp_path / MANIFEST_NAME).read_bytes())
                files = manifest.top if len(path.parts) == 1 else manifest.drums[path.parts[0]].files
                assert path.name in files
                seen.append(path)
            replace(source, target)

        monkeypatch.setattr(os, "replace", check)
        build(tmp_path, TWO)
        assert {path.as_posix() for path in seen} == set(contents_of(TWO))

    def test_one_claim_is_enough_for_a_batch(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        replace, writings = os.replace, []

        def count(source: Path, target: Path) -> None:
            replace(source, target)
            if Path(target).name == MANIFEST_NAME:
                writings.append(target)

        monkeypatch.setattr(os, "replace", count)
        build(tmp_path, {f"LIB-{i}": Wanted("x") for i in range(20)})
        assert len(writings) == 2

    def test_a_lost_index_is_claimed_before_it_is_written_again(
        self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        build(tmp_path, ONE)
        document = json.loads((tmp_path / MANIFEST_NAME).read_bytes())
        document["top"] = {}
        (tmp_path / MANIFEST_NAME).write_text(json.dumps(document), encoding="utf-8")
        (tmp_path / INDEX_NAME).unlink()
        replace, tops = os.replace, []

        def note(source: Path, target: Path) -> None:
            if Path(target).name == INDEX_NAME:
                tops.append(parse_manifest((tmp_path / MANIFEST_NAME).read_bytes()).top)
            replace(source, target)

        monkeypatch.setattr(os, "replace", note)
        build(tmp_path, ONE)
        assert tops == [{INDEX_NAME: None}]

    def test_opening_sweeps_up(self, tmp_path: Path) -> None:
        left = tmp_path / f"{disk.TEMPORARY_PREFIX}00{disk.TEMPORARY_SUFFIX}"
        left.touch()
        os.utime(left, (0, 0))
        opened(tmp_path, ONE)
        assert not left.exists()

    def test_after_a_killed_build_all_is_ours(self, tmp_path: Path) -> None:
        store = opened(tmp_path, TWO)
        put(store, TWO, "LIB-13")
        del store  # neither closed nor abandoned
        build(tmp_path, {})
        assert contents(tmp_path) == {INDEX_NAME: b""}
        assert not (tmp_path / "LIB-13").exists()

    def test_abandoned_manifest_tells_what_is_there(self, tmp_path: Path) -> None:
        build(tmp_path, FAILED)

        def interrupted() -> None:
            with Store(tmp_path, "build") as store:
                store.open(TWO)
                put(store, TWO, "LIB-14")
                raise KeyboardInterrupt

        with pytest.raises(KeyboardInterrupt):
            interrupted()
        digests = {name: disk.digest(data) for name, data in files_of("LIB-14", TWO["LIB-14"]).items()}
        notice = disk.digest(files_of("LIB-13", FAILED["LIB-13"])["sheet.md"])
        assert listed(tmp_path) == {"LIB-13": {"sheet.md": notice}, "LIB-14": digests}

    def test_abandoned_before_anything_was_written_changes_nothing(self, tmp_path: Path) -> None:
        build(tmp_path, FAILED)
        before = stamps_of(tmp_path)
        opened(tmp_path, TWO).abandon()
        assert stamps_of(tmp_path) == before

    def test_a_full_disk_at_the_claim_changes_nothing(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        build(tmp_path, FAILED)
        before = stamps_of(tmp_path)

        def full(handle: int, data: bytes) -> int:
            raise OSError(errno.ENOSPC, "full")

        monkeypatch.setattr(os, "write", full)
        with pytest.raises(StoreTrouble, match=r"^build/\.tauthide\.json can't be written: the disk is full$"):
            build(tmp_path, TWO)
        monkeypatch.undo()
        assert stamps_of(tmp_path) == before

    def test_a_disk_that_stays_full_leaves_the_claims(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        build(tmp_path, FAILED)
        write, spent = os.write, 0

        def fill(handle: int, data: bytes) -> int:
            nonlocal spent
            spent += len(data)
            if spent > 12_000:
                raise OSError(errno.ENOSPC, "full")
            return write(handle, data)

        monkeypatch.setattr(os, "write", fill)
        with pytest.raises(StoreTrouble, match="the disk is full"):
            build(tmp_path, TWO)
        monkeypatch.undo()
        assert contents(tmp_path) == contents_of(FAILED)
        assert set(listed(tmp_path)["LIB-14"]) == set(DRUM_FILES)
        build(tmp_path, TWO)
        assert contents(tmp_path) == contents_of(TWO)


class TestForeignFiles:
    """What is not listed is neither overwritten nor removed."""

    @pytest.mark.parametrize("path", ["index.md", "LIB-14/sheet.md", "LIB-14/gauge.svg"])
    @pytest.mark.parametrize("compare", [True, False])
    def test_refused_before_anything_is_written(self, tmp_path: Path, path: str, compare: bool) -> None:
        (tmp_path / "LIB-14").mkdir()
        (tmp_path / path).write_bytes(b"mine")
        with pytest.raises(StoreTrouble) as trouble:
            opened(tmp_path, TWO, compare=compare)
        assert str(trouble.value) == f"build/{path} is not ours; move it away or choose another --out"
        assert contents(tmp_path) == {path: b"mine"}
        assert not (tmp_path / MANIFEST_NAME).exists()

    def test_taken_over_where_the_content_is_the_same(self, tmp_path: Path) -> None:
        build(tmp_path, TWO)
        manifest = (tmp_path / MANIFEST_NAME).read_bytes()
        (tmp_path / MANIFEST_NAME).unlink()
        store = build(tmp_path, TWO)
        assert (tmp_path / MANIFEST_NAME).read_bytes() == manifest
        assert (store.written, store.unchanged) == (0, 2 * len(DRUM_FILES) + 1)

    def test_left_alone_where_the_batch_does_not_write(self, tmp_path: Path) -> None:
        (tmp_path / "LIB-13").mkdir()
        (tmp_path / "LIB-13/layout.svg").write_bytes(b"mine")
        build(tmp_path, FAILED)
        assert contents(tmp_path) == {**contents_of(FAILED), "LIB-13/layout.svg": b"mine"}
        assert listed(tmp_path)["LIB-13"].keys() == {"sheet.md"}
        build(tmp_path, {})
        assert contents(tmp_path) == {**contents_of({}), "LIB-13/layout.svg": b"mine"}

    def test_not_claimed_for_other_drums_either(self, tmp_path: Path) -> None:
        batch: Batch = {**FAILED, "LIB-14": Wanted("cow")}
        (tmp_path / "LIB-13").mkdir()
        (tmp_path / "LIB-13/layout.svg").write_bytes(b"mine")
        store = opened(tmp_path, batch, compare=True)
        put(store, batch, "LIB-14")  # claims for the whole batch
        del store
        build(tmp_path, {})
        assert contents(tmp_path) == {**contents_of({}), "LIB-13/layout.svg": b"mine"}

    @pytest.mark.parametrize("path", ["LIB-13/sheet.md", "index.md", MANIFEST_NAME])
    @pytest.mark.parametrize("first", [True, False])
    def test_a_folder_in_a_files_place(self, tmp_path: Path, path: str, first: bool) -> None:
        if not first:
            build(tmp_path, TWO)
            (tmp_path / path).unlink()
        (tmp_path / path).mkdir(parents=True)
        before = contents(tmp_path)
        with pytest.raises(StoreTrouble, match=f"^build/{path} is a folder, and not ours"):
            build(tmp_path, TWO)
        assert contents(tmp_path) == before

    def test_a_file_in_a_drums_place(self, tmp_path: Path) -> None:
        (tmp_path / "LIB-13").write_bytes(b"mine")
        with pytest.raises(StoreTrouble, match=r"^build/LIB-13 is a file, and not ours"):
            build(tmp_path, TWO)
        assert contents(tmp_path) == {"LIB-13": b"mine"}

    def test_a_file_in_the_folders_place(self, tmp_path: Path) -> None:
        (tmp_path / "build").write_bytes(b"mine")
        with pytest.raises(StoreTrouble, match=r"^build is not a folder; choose another --out$"):
            build(tmp_path / "build", ONE)
        assert contents(tmp_path) == {"build": b"mine"}

    def test_a_file_in_a_parents_place(self, tmp_path: Path) -> None:
        (tmp_path / "build").write_bytes(b"mine")
        with pytest.raises(StoreTrouble, match=r"^build can't be written: a file stands where a folder"):
            build(tmp_path / "build/deep/er", ONE)
        assert contents(tmp_path) == {"build": b"mine"}


@needs_links
class TestLinks:
    """Nothing is written or removed through a link inside the folder."""

    @pytest.fixture
    def elsewhere(self, tmp_path_factory: pytest.TempPathFactory) -> Path:
        folder = tmp_path_factory.mktemp("elsewhere")
        for name in ("sheet.md", "index.md", "plan.json"):
            (folder / name).write_bytes(b"mine")
        return folder

    @pytest.mark.parametrize("batch", [TWO, {"LIB-14": Wanted("cow")}])
    @pytest.mark.parametrize("first", [True, False])
    def test_a_drums_folder(self, tmp_path: Path, elsewhere: Path, batch: Batch, first: bool) -> None:
        if not first:
            build(tmp_path, TWO)
            shutil.rmtree(tmp_path / "LIB-13")
        (tmp_path / "LIB-13").symlink_to(elsewhere, target_is_directory=True)
        before = contents(elsewhere), stamps_of(tmp_path)
        if first and "LIB-13" not in batch:
            build(tmp_path, batch)  # a link of the maker's that is none of our business
        else:
            with pytest.raises(StoreTrouble, match=r"^build/LIB-13 is a link, and what is written there would"):
                build(tmp_path, batch)
            assert stamps_of(tmp_path) == before[1]
        assert contents(elsewhere) == before[0]

    @pytest.mark.parametrize("path", ["LIB-13/sheet.md", "LIB-13/plan.json", "index.md"])
    @pytest.mark.parametrize("batch", [TWO, FAILED, {}])
    @pytest.mark.parametrize("leads", ["to a file", "nowhere"])
    def test_a_file(self, tmp_path: Path, elsewhere: Path, path: str, batch: Batch, leads: str) -> None:
        build(tmp_path, TWO)
        (tmp_path / path).unlink()
        (tmp_path / path).symlink_to(elsewhere / (Path(path).name if leads == "to a file" else "none"))
        before = contents(tmp_path), contents(elsewhere)
        with pytest.raises(StoreTrouble, match=f"^build/{path} is a link"):
            build(tmp_path, batch)
        assert (contents(tmp_path), contents(elsewhere)) == before

    def test_the_manifest(self, tmp_path: Path, elsewhere: Path) -> None:
        (tmp_path / MANIFEST_NAME).symlink_to(elsewhere / "sheet.md")
        with pytest.raises(StoreTrouble, match=r"^build/\.tauthide\.json is a link"):
            build(tmp_path, ONE)

    def test_the_folder_leading_nowhere(self, tmp_path: Path) -> None:
        (tmp_path / "build").symlink_to(tmp_path / "none", target_is_directory=True)
        with pytest.raises(StoreTrouble, match=r"^build is not a folder"):
            build(tmp_path / "build", ONE)


class TestDamagedManifests:
    """A manifest that can't be trusted stops the build, and nothing is touched."""

    @pytest.mark.parametrize(
        "tamper",
        [
            lambda text: text.replace('"LIB-14"', '"../outside"'),
            lambda text: text.replace('"gauge.svg"', '"../../outside/sheet.md"'),
            lambda text: text.replace('"index.md"', '"../outside/sheet.md"'),
            lambda text: "<<<<<<< HEAD\n" + text,
            lambda text: text[:-5],
            lambda text: "",
        ],
    )
    def test_nothing_is_removed(self, tmp_path: Path, tamper: Callable[[str], str]) -> None:
        folder = tmp_path / "build"
        build(folder, TWO)
        (tmp_path / "outside").mkdir()
        (tmp_path / "outside/sheet.md").write_bytes(b"mine")
        manifest = folder / MANIFEST_NAME
        text = manifest.read_text(encoding="utf-8")
        assert tamper(text) != text
        manifest.write_text(tamper(text), encoding="utf-8", newline="\n")
        before = stamps_of(tmp_path)
        with pytest.raises(StoreTrouble) as trouble:
            build(folder, ONE)
        assert stamps_of(tmp_path) == before
        assert str(trouble.value).startswith("build/.tauthide.json, the list of the files that are Tauthide's, can't")
        assert "Move the folder build away, or delete it if nothing in it is yours" in str(trouble.value)

    def test_a_made_up_listing_reaches_no_further_than_our_names(self, tmp_path: Path) -> None:
        folder = tmp_path / "build"
        build(folder, {})
        (folder / "notes").mkdir()
        (folder / "notes/notes.txt").write_bytes(b"mine")
        (folder / "notes/sheet.md").write_bytes(b"listed, if falsely")
        manifest = folder / MANIFEST_NAME
        document = json.loads(manifest.read_bytes())
        document["drums"]["notes"] = {"files": {"sheet.md": None}, "record": None}
        manifest.write_text(json.dumps(document), encoding="utf-8")
        build(folder, {})
        assert contents(folder) == {INDEX_NAME: b"", "notes/notes.txt": b"mine"}


class FoldingDisk:
    """A disk that takes names for the same that differ in case only, for paths below one folder."""

    def __init__(self, root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        """Put the system calls that the store makes under this disk's rule."""
        self.root = root
        self.listdir = os.listdir
        for name in ("open", "stat", "lstat", "scandir", "unlink", "rmdir", "mkdir"):
            monkeypatch.setattr(os, name, self.folded(getattr(os, name)))
        for name in ("rename", "replace"):
            monkeypatch.setattr(os, name, self.folded_move(getattr(os, name)))

    def spell(self, path: object) -> object:
        """Return the path as it is spelt on disk."""
        if not isinstance(path, str | Path) or not str(path).startswith(str(self.root)):
            return path
        there = str(self.root)
        for part in Path(path).relative_to(self.root).parts:
            try:
                entries = self.listdir(there)
            except OSError:
                entries = []
            there = os.path.join(there, next((e for e in entries if e.casefold() == part.casefold()), part))  # noqa: PTH118
        return there

    def folded(self, call: Callable[..., object]) -> Callable[..., object]:
        """Return a system call whose first argument is a path."""
        return lambda path, *args, **kwargs: call(self.spell(path), *args, **kwargs)

    def folded_move(self, call: Callable[..., object]) -> Callable[..., object]:
        """Return a system call that moves: a thing onto itself changes its spelling."""

        def move(source: Path, target: Path) -> object:
            old, new = self.spell(source), self.spell(target)
            if old == new:
                new = str(Path(str(new)).with_name(Path(target).name))
            return call(old, new)

        return move


class TestSpelling:
    """A drum renamed in case only keeps its new files, whatever the disk thinks of case."""

    OLD: ClassVar[Batch] = {"lib-13": Wanted("goat"), "LIB-14": Wanted("cow")}

    @pytest.fixture(params=["folding", "telling apart"])
    def folder(self, request: pytest.FixtureRequest, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
        if request.param == "folding":
            FoldingDisk(tmp_path, monkeypatch)
            (tmp_path / "probe").mkdir()
            assert (tmp_path / "PROBE").is_dir()
            (tmp_path / "Probe").rmdir()
        return tmp_path

    @pytest.mark.parametrize("wanted", [Wanted("goat"), Wanted("sheep"), Wanted("goat", failed=True)])
    def test_renamed(self, folder: Path, wanted: Wanted) -> None:
        build(folder, self.OLD)
        new: Batch = {"LIB-13": wanted, "LIB-14": Wanted("cow")}
        build(folder, new)
        assert contents(folder) == contents_of(new)
        assert set(listed(folder)) == {"LIB-13", "LIB-14"}
        before = stamps_of(folder)
        assert build(folder, new).written == 0
        assert stamps_of(folder) == before

    def test_renamed_and_killed_before_the_end(self, folder: Path) -> None:
        build(folder, self.OLD)
        new: Batch = {"LIB-13": Wanted("sheep")}
        store = opened(folder, new)
        put(store, new, "LIB-13")
        del store
        build(folder, new)
        assert contents(folder) == contents_of(new)
        assert set(listed(folder)) == {"LIB-13"}

    def test_renamed_but_neither_put_nor_kept(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        FoldingDisk(tmp_path, monkeypatch)
        build(tmp_path, self.OLD)
        opened(tmp_path, ONE).close(index_of(ONE))
        old = {f"lib-13/{name}" for name in DRUM_FILES}
        assert set(contents(tmp_path)) == {*old, INDEX_NAME}
        # The old name is still known, so that the next build finds the folder to be respelt.
        build(tmp_path, ONE)
        assert contents(tmp_path) == contents_of(ONE)

    def test_renamed_after_its_files_were_lost(self, folder: Path) -> None:
        build(folder, self.OLD)
        for path in (folder / "lib-13").iterdir():
            path.unlink()
        (folder / "lib-13").rmdir()
        new: Batch = {"LIB-13": Wanted("goat")}
        build(folder, new)
        assert contents(folder) == contents_of(new)

    def test_a_foreign_file_of_another_spelling(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        FoldingDisk(tmp_path, monkeypatch)
        (tmp_path / "LIB-13").mkdir()
        (tmp_path / "LIB-13/Sheet.MD").write_bytes(b"mine")
        with pytest.raises(StoreTrouble, match=r"^build/LIB-13/sheet\.md is not ours"):
            build(tmp_path, ONE)
        assert contents(tmp_path) == {"LIB-13/Sheet.MD": b"mine"}
