"""The whole program against a disk, a signal or another build that gets in its way, at every stage."""

from __future__ import annotations

import errno
import os
import random
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from tauthide.__main__ import main
from workshops import command, run_program, spec_text, surroundings, tree

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="needs fork, signals and users of POSIX")

NOBODY = 65534
"""A user without rights, by convention of most systems."""

CALLS = ("mkdir", "write", "replace", "unlink", "rmdir")
"""The system's calls that change the disk; `write` is also how a build's own files are written."""


@dataclass(frozen=True)
class Ended:
    """How a run in a process of its own ended."""

    code: int
    """Exit code, or the negative number of the signal that killed it."""
    said: str


def run_in_fork(folder: Path, arguments: tuple[str, ...], prepare: Callable[[], object]) -> Ended:
    """Run the program in a copy of this process, which costs no start-up; `prepare` runs in it before."""
    with tempfile.TemporaryFile() as said:
        child = os.fork()
        if child == 0:
            code = 99
            try:
                os.dup2(said.fileno(), 1)
                os.dup2(said.fileno(), 2)
                sys.stdout = open(1, "w", encoding="utf-8", closefd=False)  # noqa: SIM115 - to the end
                sys.stderr = open(2, "w", encoding="utf-8", closefd=False)  # noqa: SIM115 - to the end
                os.chdir(folder)
                prepare()
                code = main(arguments)
                sys.stdout.flush()
                sys.stderr.flush()
            finally:
                os._exit(code)
        code = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
        said.seek(0)
        ended = Ended(code, said.read().decode())
    assert "Traceback" not in ended.said
    return ended


def strike(at: int, number: signal.Signals) -> Callable[[], None]:
    """Return what lets this process be sent a signal at its change of the disk with that number."""

    def prepare() -> None:
        count = 0

        def struck(call: Callable[..., object]) -> Callable[..., object]:
            def strikes(*args: object, **named: object) -> object:
                nonlocal count
                count += 1
                if count == at:
                    os.kill(os.getpid(), number)
                return call(*args, **named)

            return strikes

        for name in CALLS:
            setattr(os, name, struck(getattr(os, name)))

    return prepare


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """Give a folder that others may read, with a build of three drums, and specs that make something else now.

    One drum changes, one has errors now, one is gone, one is new: so a build writes, replaces and removes.
    """
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        folder.chmod(0o755)
        (folder / ".git").mkdir()
        (folder / "specs").mkdir()
        before = Path.cwd()
        os.chdir(folder)
        try:
            for drum in ("A", "B", "C"):
                (folder / f"specs/{drum}.yaml").write_text(spec_text(drum))
            assert main(["build"]) == 0
            (folder / "specs/A.yaml").write_text(spec_text("A").replace("13 in", "14 in"))
            (folder / "specs/B.yaml").write_text(spec_text("B").replace("goat", "dragon"))
            (folder / "specs/C.yaml").rename(folder / "specs/D.yaml")
            (folder / "specs/D.yaml").write_text(spec_text("D"))
            assert main(["build", "--out", "new"]) == 1
        finally:
            os.chdir(before)
        yield folder


@pytest.fixture
def work(shop: Path) -> Iterator[Path]:
    """Give a copy of that folder for one test."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name, "shop")
        shutil.copytree(shop, folder)
        Path(name).chmod(0o755)
        yield folder


def assert_whole(folder: Path, old: dict[str, bytes], new: dict[str, bytes]) -> None:
    """Check that each file is as it was or as it should be, none half written."""
    for name, content in tree(folder / "sheets").items():
        if not name.endswith(".tmp"):
            assert content in (old.get(name), new.get(name)), name


def assert_mends(folder: Path) -> None:
    """Check that the next build makes all as it should be, and the one after has nothing to do."""
    for left in (folder / "sheets").glob("*.tmp"):  # as the sweep does an hour later
        left.unlink()
    ended = run_in_fork(folder, ("build",), lambda: None)
    assert (ended.code, "dragon" in ended.said) == (1, True)
    assert tree(folder / "sheets", manifest=True) == tree(folder / "new", manifest=True)


class TestEveryStage:
    """Struck at each change of the disk in turn, from the first to the last."""

    def stages(self, work: Path, number: signal.Signals) -> Iterator[Ended]:
        """Yield how builds ended that were struck ever later, until one isn't struck any more."""
        old, new = tree(work / "sheets"), tree(work / "new")
        shutil.copytree(work / "sheets", work / "kept")
        for at in range(1, 500):
            shutil.rmtree(work / "sheets")
            shutil.copytree(work / "kept", work / "sheets")
            ended = run_in_fork(work, ("build",), strike(at, number))
            assert_whole(work, old, new)
            if ended.code == 1:
                assert at > 20
                return
            yield ended
            assert_mends(work)
        pytest.fail("never came to its end")

    def test_killed(self, work: Path) -> None:
        assert {ended.code for ended in self.stages(work, signal.SIGKILL)} == {-signal.SIGKILL}

    def test_interrupted(self, work: Path) -> None:
        for ended in self.stages(work, signal.SIGINT):
            assert ended == Ended(130, "tauthide: interrupted\n")
            assert list((work / "sheets").glob("*.tmp")) == []


class TestReadOnly:
    @pytest.mark.parametrize("which", ["sheets", "sheets/A", "."])
    def test_a_folder(self, work: Path, which: str) -> None:
        """What can't be written is told, and everything stays."""
        if which == ".":
            shutil.rmtree(work / "sheets")
        elif which == "sheets/A":  # all that is to be written there is what lies in that folder
            for path in (work / "sheets").rglob("*"):
                path.chmod(0o777 if path.is_dir() else 0o666)
            (work / "sheets").chmod(0o777)
        (work / which).chmod(0o555)
        before = tree(work, manifest=True)
        ended = run_in_fork(work, ("build",), self.lose_rights)
        assert ended.code == 2
        lines = ended.said.splitlines()
        assert len(lines) == 1
        assert lines[0].startswith("tauthide: sheets")
        assert lines[0].endswith("can't be written: permission denied")
        after = {name: content for name, content in tree(work, manifest=True).items() if "tauthide.json" not in name}
        assert after == {name: content for name, content in before.items() if "tauthide.json" not in name}
        for folder in (work, work / "sheets", work / "sheets/A"):
            if folder.exists():
                folder.chmod(0o755)
        assert_mends(work)

    def test_verifying_needs_no_leave_to_write(self, work: Path) -> None:
        for path in (work / "new", *(work / "new").rglob("*")):
            path.chmod(0o555 if path.is_dir() else 0o444)
        ended = run_in_fork(work, ("build", "--verify", "--out", "new"), self.lose_rights)
        assert (ended.code, "nothing stale, missing or left over" in ended.said) == (1, True)
        for path in (work / "new", *(work / "new").rglob("*")):
            path.chmod(0o755)

    def lose_rights(self) -> None:
        """Be a user whom permissions bind."""
        if os.geteuid() == 0:
            os.setgroups([])
            os.setgid(NOBODY)
            os.setuid(NOBODY)


class TestOwnDisk:
    """A disk of its own, so small that it fills up, or one that can only be read."""

    @pytest.fixture
    def mounted(self, work: Path) -> Iterator[Path]:
        """Give a small disk, where the rights are there to mount one, as the output folder."""
        if os.geteuid() != 0 or shutil.which("mount") is None:
            pytest.skip("only root may mount a disk")
        (work / "disk").mkdir()
        done = subprocess.run(
            ["mount", "-t", "tmpfs", "-o", "size=640k", "tauthide-test", str(work / "disk")],
            capture_output=True, check=False, text=True, timeout=30,
        )  # fmt: skip
        if done.returncode:
            pytest.skip(f"no disk may be mounted here: {done.stderr.strip()}")
        try:
            yield work / "disk"
        finally:
            subprocess.run(["umount", str(work / "disk")], check=True, timeout=30)

    @pytest.mark.parametrize("free", [0, 4, 16, 64, 96])
    def test_full(self, work: Path, mounted: Path, free: int) -> None:
        shutil.copytree(work / "sheets", mounted / "sheets")
        old, new = tree(work / "sheets"), tree(work / "new")
        room = os.statvfs(mounted)
        (mounted / "ballast").write_bytes(b"x" * max(room.f_bavail * room.f_frsize - free * 1024, 0))
        ended = run_in_fork(work, ("build", "--out", "disk/sheets"), lambda: None)
        assert ended.code == 2
        assert ended.said.startswith("tauthide: disk/sheets/")
        assert ended.said.endswith(" can't be written: the disk is full\n")
        assert_whole(mounted, old, new)
        assert list(mounted.rglob("*.tmp")) == []
        (mounted / "ballast").unlink()
        assert run_in_fork(work, ("build", "--out", "disk/sheets"), lambda: None).code == 1
        assert tree(mounted / "sheets", manifest=True) == tree(work / "new", manifest=True)

    def test_read_only(self, work: Path, mounted: Path) -> None:
        shutil.copytree(work / "sheets", mounted / "sheets")
        subprocess.run(["mount", "-o", "remount,ro", str(mounted)], check=True, timeout=30)
        ended = run_in_fork(work, ("build", "--out", "disk/sheets"), lambda: None)
        assert ended.code == 2
        assert ended.said.startswith("tauthide: disk/sheets/")
        assert ended.said.endswith(" can't be written: the disk can only be read\n")
        assert tree(mounted / "sheets") == tree(work / "sheets")


class TestLinks:
    def test_output_folder(self, work: Path) -> None:
        """The folder itself may be a link: it is the maker's choice where the sheets lie."""
        (work / "sheets").rename(work / "elsewhere")
        (work / "sheets").symlink_to("elsewhere")
        assert_mends(work)
        assert (work / "sheets").is_symlink()
        assert tree(work / "elsewhere", manifest=True) == tree(work / "new", manifest=True)

    @pytest.mark.parametrize("path", ["A", "A/sheet.md", "B/layout.svg", "C", "D", "index.md", ".tauthide.json"])
    def test_within(self, work: Path, path: str) -> None:
        """What a link leads to is neither written nor removed, nor anything else."""
        place = work / "sheets" / path
        shutil.copytree(work / "sheets/A", work / "mine")
        if place.is_dir():
            shutil.rmtree(place)
        place.unlink(missing_ok=True)
        place.symlink_to(work / "mine" / ("" if path in "ACD" else "sheet.md"))
        before = tree(work, manifest=True)
        ended = run_in_fork(work, ("build",), lambda: None)
        assert ended.code == 2
        assert ended.said == (
            f"tauthide: sheets/{path} is a link, and what is written there would land elsewhere; "
            "remove the link or choose another --out\n"
        )
        assert tree(work, manifest=True) == before
        place.unlink()
        if path != ".tauthide.json":  # without it no file there is known to be ours
            assert_mends(work)

    @pytest.mark.parametrize("leads", ["none", "sheets"])
    def test_leading_nowhere(self, work: Path, leads: str) -> None:
        shutil.rmtree(work / "sheets")
        (work / "sheets").symlink_to(leads)
        ended = run_in_fork(work, ("build",), lambda: None)
        assert ended == Ended(2, "tauthide: sheets is not a folder; choose another --out\n")
        assert (work / "sheets").is_symlink()


class TestAtOnce:
    """Two programs at once, of the same drums with other sizes."""

    @pytest.fixture
    def two(self, tmp_path: Path) -> Path:
        for name, size in (("mine", "13 in"), ("yours", "15 in"), ("next", "16 in")):
            (tmp_path / name).mkdir()
            for number in range(6):
                parts = spec_text(f"M-{number}").replace("13 in", size)
                (tmp_path / name / f"m-{number}.yaml").write_text(parts)
            run_program(tmp_path, "build", name, "--out", f"whole-{name}")
        (tmp_path / ".git").mkdir()
        return tmp_path

    def start(self, two: Path, name: str) -> subprocess.Popen[bytes]:
        return subprocess.Popen(
            command("build", name, "--out", "out"), cwd=two, env=surroundings(), stderr=subprocess.PIPE
        )

    def test_both_end(self, two: Path) -> None:
        builds = [self.start(two, name) for name in ("mine", "yours")]
        for build in builds:
            _, said = build.communicate(timeout=60)
            assert (build.returncode, b"Traceback" in said) == (0, False), said
        whole = [tree(two / f"whole-{name}") for name in ("mine", "yours")]
        assert set(tree(two / "out")) == set(whole[0])
        for name, content in tree(two / "out").items():
            assert content in (whole[0][name], whole[1][name]), name
        assert run_program(two, "build", "next", "--out", "out").returncode == 0
        assert tree(two / "out", manifest=True) == tree(two / "whole-next", manifest=True)

    @pytest.mark.slow
    def test_one_is_killed(self, two: Path) -> None:
        """At a moment that is drawn by lot; the next build makes all as it should be."""
        lot = random.Random(13)
        for _ in range(5):
            shutil.rmtree(two / "out", ignore_errors=True)
            killed, other = self.start(two, "mine"), self.start(two, "yours")
            self.wait_for_drum(two / "out")
            time.sleep(lot.uniform(0, 0.15))
            killed.send_signal(signal.SIGKILL)
            killed.communicate(timeout=60)
            _, said = other.communicate(timeout=60)
            assert other.returncode == 0, said
            done = run_program(two, "build", "next", "--out", "out")
            assert done.returncode == 0, done.stderr
            built = {name: data for name, data in tree(two / "out").items() if not name.endswith(".tmp")}
            assert built == tree(two / "whole-next")

    def wait_for_drum(self, out: Path) -> None:
        end = time.monotonic() + 30
        while not list(out.glob("*/plan.json")) and time.monotonic() < end:
            time.sleep(0.002)


def test_a_new_spec_on_a_full_disk_leaves_no_half_file(work: Path) -> None:
    """`suggest --out` writes one file, whole or not at all."""

    def fill() -> None:
        written = os.write

        def write(handle: int, data: bytes) -> int:
            if len(data) > 100:
                written(handle, data[:50])
                raise OSError(errno.ENOSPC, "No space left on device")
            return written(handle, data)

        os.write = write  # type: ignore[assignment]

    ended = run_in_fork(work, ("suggest", "--diameter", "14in", "--out", "new.yaml"), fill)
    assert ended == Ended(2, "tauthide: new.yaml can't be written: the disk is full\n")
    assert not (work / "new.yaml").exists()
