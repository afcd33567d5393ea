"""Single files: whole or not at all, whatever fails."""

from __future__ import annotations

import errno
import os
import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest

from tauthide.output import files as disk
from tauthide.output.drums import Ticket, write_drum
from tauthide.output.files import StoreTrouble
from tauthide.output.manifest import DRUM_FILES

CONTENT = b"x" * 5000

needs_links = pytest.mark.skipif(sys.platform == "win32", reason="links need special rights there")
needs_posix = pytest.mark.skipif(sys.platform == "win32", reason="no such thing there")


def names(folder: Path) -> list[str]:
    """Return everything below a folder, by path."""
    return sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*"))


@pytest.fixture
def old(tmp_path: Path) -> Path:
    """Return a folder with two files of a drum."""
    (tmp_path / "LIB-13").mkdir()
    (tmp_path / "LIB-13/sheet.md").write_bytes(b"old sheet")
    (tmp_path / "LIB-13/plan.json").write_bytes(b"old plan")
    return tmp_path


NEW = {"LIB-13/plan.json": CONTENT, "LIB-13/sheet.md": CONTENT}


def assert_untouched(folder: Path) -> None:
    """Check that the old files are whole and nothing else is there."""
    assert names(folder) == ["LIB-13", "LIB-13/plan.json", "LIB-13/sheet.md"]
    assert (folder / "LIB-13/sheet.md").read_bytes() == b"old sheet"
    assert (folder / "LIB-13/plan.json").read_bytes() == b"old plan"


class TestReplacing:
    """Files are replaced in one step, or stay."""

    def test_new_and_old_files(self, old: Path) -> None:
        disk.replace_files(str(old), "build", {**NEW, "LIB-14/sheet.md": b"", "index.md": b"i"})
        assert names(old) == [
            "LIB-13",
            "LIB-13/plan.json",
            "LIB-13/sheet.md",
            "LIB-14",
            "LIB-14/sheet.md",
            "index.md",
        ]
        assert (old / "LIB-13/sheet.md").read_bytes() == CONTENT
        assert (old / "LIB-14/sheet.md").read_bytes() == b""

    @needs_posix
    @pytest.mark.parametrize(("umask", "mode"), [(0o022, 0o644), (0o077, 0o600), (0o002, 0o664)])
    def test_mode_follows_the_umask(self, tmp_path: Path, umask: int, mode: int) -> None:
        before = os.umask(umask)
        try:
            disk.replace_files(str(tmp_path), "build", {"LIB-13/sheet.md": CONTENT})
        finally:
            os.umask(before)
        assert (tmp_path / "LIB-13/sheet.md").stat().st_mode & 0o777 == mode

    @pytest.mark.parametrize(
        ("number", "words"),
        [
            (errno.ENOSPC, "the disk is full"),
            (errno.EACCES, "permission denied"),
            (errno.EROFS, "the disk can only be read"),
            (errno.EFBIG, "larger than this system allows"),
            (errno.EBUSY, os.strerror(errno.EBUSY)),
        ],
    )
    @pytest.mark.parametrize("function", ["open", "write", "close", "replace"])
    def test_failing_disk(
        self, old: Path, monkeypatch: pytest.MonkeyPatch, function: str, number: int, words: str
    ) -> None:
        monkeypatch.setattr(os, function, failing(getattr(os, function), OSError(number, os.strerror(number))))
        with pytest.raises(StoreTrouble) as trouble:
            disk.replace_files(str(old), "build", NEW)
        monkeypatch.undo()
        assert str(trouble.value).startswith("build/LIB-13/plan.json can't be written: ")
        assert words in str(trouble.value)
        assert str(old) not in str(trouble.value)
        assert_untouched(old)

    @pytest.mark.parametrize("function", ["open", "write", "close", "replace"])
    @pytest.mark.parametrize("after", [True, False])
    def test_interrupt(self, old: Path, monkeypatch: pytest.MonkeyPatch, function: str, after: bool) -> None:
        whole = getattr(os, function)
        monkeypatch.setattr(os, function, failing(whole, KeyboardInterrupt(), after=after))
        with pytest.raises(KeyboardInterrupt):
            disk.replace_files(str(old), "build", {"LIB-13/layout.svg": CONTENT, "LIB-15/sheet.md": CONTENT})
        monkeypatch.undo()
        if function == "replace" and after:
            assert (old / "LIB-13/layout.svg").read_bytes() == CONTENT
            (old / "LIB-13/layout.svg").unlink()
        assert_untouched(old)

    def test_second_file_does_not_fit(self, old: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        full = OSError(errno.ENOSPC, "full")
        monkeypatch.setattr(os, "write", failing(os.write, full, calls=2))
        with pytest.raises(StoreTrouble, match=r"build/LIB-13/sheet\.md can't be written: the disk is full"):
            disk.replace_files(str(old), "build", NEW)
        monkeypatch.undo()
        assert_untouched(old)

    def test_writes_in_pieces_are_put_together(self, old: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        write = os.write
        monkeypatch.setattr(os, "write", lambda handle, data: write(handle, bytes(data[:7])))
        disk.replace_files(str(old), "build", {"index.md": bytes(range(256))})
        monkeypatch.undo()
        assert (old / "index.md").read_bytes() == bytes(range(256))

    def test_a_folder_made_for_nothing_is_taken_away(self, old: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        # The first call finds no folder; the second, once it is made, fails.
        fault = OSError(errno.EIO, "fault")
        monkeypatch.setattr(os, "replace", failing(os.replace, fault, calls=2))
        with pytest.raises(StoreTrouble, match="the disk reports a fault"):
            disk.replace_files(str(old), "build", {"LIB-14/sheet.md": CONTENT})
        monkeypatch.undo()
        assert_untouched(old)

    def test_a_file_in_the_folders_place(self, old: Path) -> None:
        (old / "LIB-14").write_bytes(b"mine")
        with pytest.raises(StoreTrouble, match=r"build/LIB-14/sheet\.md can't be written: a file stands"):
            disk.replace_files(str(old), "build", {"LIB-14/sheet.md": CONTENT})
        assert (old / "LIB-14").read_bytes() == b"mine"
        (old / "LIB-14").unlink()
        assert_untouched(old)

    @needs_posix
    def test_a_file_limit_of_the_system(self, old: Path) -> None:
        code = (
            "import resource, sys\n"
            "from tauthide.output.files import StoreTrouble, replace_files\n"
            "resource.setrlimit(resource.RLIMIT_FSIZE, (1000, 1000))\n"
            "try:\n"
            "    replace_files(sys.argv[1], 'build', {'LIB-13/sheet.md': b'x' * 5000})\n"
            "except StoreTrouble as trouble:\n"
            "    sys.exit(str(trouble))\n"
        )
        source = str(Path(disk.__file__).parents[2])
        run = subprocess.run(
            [sys.executable, "-c", code, str(old)],
            env={**os.environ, "PYTHONPATH": source},
            capture_output=True,
            text=True,
            timeout=60,
        )
        assert run.returncode == 1
        assert run.stderr == "build/LIB-13/sheet.md can't be written: it would be larger than this system allows\n"
        assert_untouched(old)

    @needs_posix
    @pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may write anywhere")
    def test_a_folder_without_leave_to_write(self, old: Path) -> None:
        old.chmod(0o555)
        try:
            with pytest.raises(StoreTrouble, match="permission denied"):
                disk.replace_files(str(old), "build", NEW)
        finally:
            old.chmod(0o755)
        assert_untouched(old)

    def test_another_build_takes_the_empty_folder_away(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        mkdir = os.mkdir
        taken: list[str] = []

        def make_and_lose(path: str, mode: int = 0o777) -> None:
            mkdir(path, mode)
            if not taken:
                taken.append(path)
                os.rmdir(path)  # noqa: PTH106 - the name is what was handed in

        monkeypatch.setattr(os, "mkdir", make_and_lose)
        disk.replace_files(str(tmp_path), "build", {"LIB-13/sheet.md": CONTENT})
        assert taken
        assert names(tmp_path) == ["LIB-13", "LIB-13/sheet.md"]

    def test_a_reader_never_sees_half_a_file(self, tmp_path: Path) -> None:
        whole = {bytes([65 + i]) * 40_000 for i in range(3)}
        target = tmp_path / "index.md"
        target.write_bytes(min(whole))
        stop = threading.Event()

        def write() -> None:
            while not stop.is_set():
                for content in whole:
                    disk.replace_files(str(tmp_path), "build", {"index.md": content})

        writer = threading.Thread(target=write)
        writer.start()
        try:
            seen = {target.read_bytes() for _ in range(300)}
        finally:
            stop.set()
            writer.join()
        assert seen <= whole


def failing(whole: object, error: BaseException, *, calls: int = 1, after: bool = False) -> object:
    """Return a system call that raises at the so-manieth call for writing, before or after doing its work."""
    count = 0

    def call(*args: object, **kwargs: object) -> object:
        nonlocal count
        assert callable(whole)
        count += 1
        if count != calls:
            return whole(*args, **kwargs)
        # A close that reports a fault has closed all the same.
        if after or whole is os.close:
            result = whole(*args, **kwargs)
            if whole is os.open:
                os.close(result)
        raise error

    return call


class TestReading:
    """Only plain files are read."""

    def test_absent(self, old: Path) -> None:
        assert disk.read_file(str(old), "build", "LIB-13/layout.svg") is None
        assert disk.read_file(str(old), "build", "LIB-14/layout.svg") is None
        assert disk.read_file(str(old), "build", "LIB-13/sheet.md/layout.svg") is None

    def test_present(self, old: Path) -> None:
        assert disk.read_file(str(old), "build", "LIB-13/sheet.md") == b"old sheet"
        (old / "empty").touch()
        assert disk.read_file(str(old), "build", "empty") == b""

    def test_a_folder(self, old: Path) -> None:
        with pytest.raises(StoreTrouble, match="build/LIB-13 is a folder, and not ours"):
            disk.read_file(str(old), "build", "LIB-13")

    @needs_links
    def test_a_link(self, old: Path) -> None:
        (old / "index.md").symlink_to(old / "LIB-13/sheet.md")
        with pytest.raises(StoreTrouble, match=r"build/index\.md is a link"):
            disk.read_file(str(old), "build", "index.md")

    @needs_posix
    def test_a_pipe_does_not_hold_us_up(self, old: Path) -> None:
        os.mkfifo(old / "index.md")
        with pytest.raises(StoreTrouble, match=r"build/index\.md is neither file nor folder"):
            disk.read_file(str(old), "build", "index.md")

    def test_a_fault(self, old: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.setattr(os, "read", failing(os.read, OSError(errno.EIO, "x")))
        with pytest.raises(StoreTrouble, match=r"build/LIB-13/sheet\.md can't be read: the disk reports a fault"):
            disk.read_file(str(old), "build", "LIB-13/sheet.md")


class TestSweeping:
    """What a killed build left goes, once it is surely nobody's."""

    @pytest.fixture
    def left(self, old: Path) -> Path:
        stale = time.time() - disk.STALE_AFTER_S - 60
        fresh = time.time() - disk.STALE_AFTER_S + 60
        for name, changed in [
            (".tauthide-00aa.tmp", stale),
            (".tauthide-00bb.tmp", fresh),
            (".tauthide-notes", stale),
            ("mine.tmp", stale),
        ]:
            (old / name).write_bytes(b"")
            os.utime(old / name, (changed, changed))
        return old

    def test_only_old_temporary_files_go(self, left: Path) -> None:
        disk.sweep(str(left))
        assert [path.name for path in sorted(left.iterdir())] == [
            ".tauthide-00bb.tmp",
            ".tauthide-notes",
            "LIB-13",
            "mine.tmp",
        ]

    def test_an_absent_folder_is_no_matter(self, tmp_path: Path) -> None:
        disk.sweep(str(tmp_path / "none"))
        assert names(tmp_path) == []


class TestWritingADrum:
    """One drum's folder, with a ticket."""

    @staticmethod
    def ticket(folder: Path, *owned: str) -> Ticket:
        return Ticket(str(folder), "build", "LIB-13", frozenset(owned))

    def test_counts_and_hashes(self, old: Path) -> None:
        written = write_drum(
            self.ticket(old, *DRUM_FILES), {"sheet.md": b"old sheet", "layout.svg": b"a", "gauge.svg": b"b"}
        )
        assert (written.written, written.unchanged, written.removed) == (2, 1, 1)
        # SHA-256 of the letter a; from memory.
        assert written.hashes["layout.svg"] == "ca978112ca1bbdcafac231b39a23dc4da786eff8147c4e72b9807785afee48bb"
        assert set(written.hashes) == {"sheet.md", "layout.svg", "gauge.svg"}
        assert names(old / "LIB-13") == ["gauge.svg", "layout.svg", "sheet.md"]

    def test_a_foreign_file_stops_the_whole_drum(self, old: Path) -> None:
        with pytest.raises(StoreTrouble, match=r"build/LIB-13/sheet\.md is not ours; move it away or choose"):
            write_drum(self.ticket(old, "plan.json"), {"plan.json": b"new", "sheet.md": b"new"})
        assert_untouched(old)

    def test_a_foreign_file_of_the_same_content_is_no_matter(self, old: Path) -> None:
        written = write_drum(self.ticket(old, "plan.json"), {"plan.json": b"new", "sheet.md": b"old sheet"})
        assert (written.written, written.unchanged, written.removed) == (1, 1, 0)

    def test_foreign_files_are_not_removed(self, old: Path) -> None:
        write_drum(self.ticket(old, "sheet.md"), {"sheet.md": b"notice"})
        assert (old / "LIB-13/plan.json").read_bytes() == b"old plan"

    def test_the_sheet_is_moved_into_place_last(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        placed: list[str] = []
        replace = os.replace

        def note(source: Path, target: Path) -> None:
            replace(source, target)
            placed.append(target.name)

        monkeypatch.setattr(os, "replace", note)
        write_drum(self.ticket(tmp_path, *DRUM_FILES), dict.fromkeys(sorted(DRUM_FILES), b"x"))
        assert sorted(placed) == sorted(DRUM_FILES)
        assert placed[-1] == "sheet.md"

    def test_a_notice_stands_before_the_drawings_go(self, old: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.setattr(os, "unlink", failing(os.unlink, OSError(errno.EIO, "x")))
        with pytest.raises(StoreTrouble, match=r"build/LIB-13/plan\.json can't be removed"):
            write_drum(self.ticket(old, *DRUM_FILES), {"sheet.md": b"notice"})
        assert (old / "LIB-13/sheet.md").read_bytes() == b"notice"

    @needs_links
    def test_a_link_for_a_folder(self, old: Path, tmp_path_factory: pytest.TempPathFactory) -> None:
        elsewhere = tmp_path_factory.mktemp("elsewhere")
        (old / "LIB-14").symlink_to(elsewhere, target_is_directory=True)
        ticket = Ticket(str(old), "build", "LIB-14", frozenset(DRUM_FILES))
        with pytest.raises(StoreTrouble, match="build/LIB-14 is a link"):
            write_drum(ticket, {"sheet.md": b"x"})
        assert names(elsewhere) == []

    @needs_links
    @pytest.mark.parametrize("files", [{"sheet.md": b"x"}, {"plan.json": b"x"}])
    def test_a_link_for_a_file(
        self, old: Path, files: dict[str, bytes], tmp_path_factory: pytest.TempPathFactory
    ) -> None:
        target = tmp_path_factory.mktemp("elsewhere") / "sheet.md"
        target.write_bytes(b"mine")
        (old / "LIB-13/sheet.md").unlink()
        (old / "LIB-13/sheet.md").symlink_to(target)
        with pytest.raises(StoreTrouble, match=r"build/LIB-13/sheet\.md is a link"):
            write_drum(self.ticket(old, *DRUM_FILES), files)
        assert target.read_bytes() == b"mine"
        assert (old / "LIB-13/sheet.md").is_symlink()

    def test_names_of_other_files_are_a_fault_of_ours(self, old: Path) -> None:
        with pytest.raises(ValueError, match="evil"):
            write_drum(self.ticket(old), {"../evil": b"x"})
        assert_untouched(old)
