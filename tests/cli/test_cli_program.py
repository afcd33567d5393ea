"""The program as a process of its own: surroundings, streams, full disks, signals."""

from __future__ import annotations

import contextlib
import errno
import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from workshops import Workshop, command, files_of, many_specs, run_program, spec_text, stamps, surroundings, tree

pytestmark = pytest.mark.slow
needs_posix = pytest.mark.skipif(sys.platform == "win32", reason="no such thing there")
needs_full = pytest.mark.skipif(not Path("/dev/full").exists(), reason="no device that is always full")

SPECS = 30


@pytest.fixture(scope="module")
def many(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give a repository with many specs, one of them broken, built undisturbed into `reference`."""
    folder = tmp_path_factory.mktemp("many")
    (folder / ".git").mkdir()
    many_specs(folder / "specs", SPECS)
    (folder / "specs/m-007.yaml").write_text("spec: 1\ndrum: M-007\n")
    (folder / "shop.yaml").write_text("shop: 1\ntitle: Workshop\nlace: {play: 9 mm}\n")
    assert run_program(folder, "build", "--out", "reference").returncode == 1
    return folder


@pytest.fixture(scope="module")
def reference(many: Path) -> dict[str, bytes]:
    """Give what the many specs are built to."""
    return tree(many / "reference", manifest=True)


class TestSameBytes:
    """Whatever the surroundings, with any number of processes and any order of paths."""

    @pytest.mark.parametrize(
        ("where", "paths", "jobs", "changes"),
        [
            (".", ["specs"], "2", {}),
            (".", ["specs"], "0", {"PYTHONHASHSEED": "1"}),
            ("specs", ["."], "1", {"PYTHONHASHSEED": "2", "TZ": "Pacific/Kiritimati"}),
            ("..", ["many0/specs"], "3", {"LC_ALL": "C", "PYTHONUTF8": "0", "LANG": "", "TZ": "UTC"}),
            (
                ".",
                ["specs"],
                "1",
                {"LC_ALL": "de_DE.UTF-8", "HOME": "/", "COLUMNS": "20", "PYTHONIOENCODING": "latin-1"},
            ),
            (".", [f"specs/m-{number:03}.yaml" for number in reversed(range(SPECS))], "2", {"SOURCE_DATE_EPOCH": "1"}),
        ],
    )
    def test_surroundings(
        self, many: Path, reference: dict[str, bytes], tmp_path: Path, where: str, paths: list[str], jobs: str,
        changes: dict[str, str],
    ) -> None:  # fmt: skip
        paths = [path.replace("many0", many.name) for path in paths]
        environment = surroundings(**changes)
        done = run_program(
            many / where, "build", *paths, "--jobs", jobs, "--out", str(tmp_path / "out"), environment=environment
        )
        assert done.returncode == 1
        assert tree(tmp_path / "out", manifest=True) == reference

    def test_another_place(self, many: Path, reference: dict[str, bytes], tmp_path: Path) -> None:
        copy = tmp_path / "a" / "b" / "copy"
        (copy / ".git").mkdir(parents=True)
        for name, content in tree(many).items():
            if name.endswith(".yaml"):
                (copy / name).parent.mkdir(exist_ok=True)
                (copy / name).write_bytes(content)
        run_program(tmp_path, "build", str(copy / "specs"), "--out", "out")
        assert tree(tmp_path / "out", manifest=True) == reference

    def test_again_writes_nothing(self, many: Path, tmp_path: Path) -> None:
        out = str(tmp_path / "out")
        run_program(many, "build", "--out", out)
        before = stamps(tmp_path)
        done = run_program(many, "build", "--out", out, "--jobs", "2")
        assert b" 0 files written" in done.stderr
        assert stamps(tmp_path) == before
        assert run_program(many, "build", "--out", out, "--verify", "--jobs", "2").returncode == 1  # one is broken
        assert stamps(tmp_path) == before


class TestStreams:
    @pytest.fixture
    def folder(self, tmp_path: Path) -> Path:
        """Give a folder with a spec that has an error."""
        (tmp_path / "specs").mkdir()
        (tmp_path / "specs/a.yaml").write_text("spec: 1\ndrum: A\n")
        return tmp_path

    def test_module(self, tmp_path: Path) -> None:
        done = run_program(tmp_path, "--version")
        assert done.returncode == 0
        assert done.stdout.startswith(b"tauthide ")

    def test_standard_input(self, tmp_path: Path) -> None:
        done = run_program(tmp_path, "build", "-", stdin=spec_text("A").encode())
        assert done.returncode == 0
        assert list(tree(tmp_path / "sheets")) == [*files_of("A"), "index.md"]

    @needs_posix
    @pytest.mark.parametrize("arguments", [["check", "--format", "json"], ["--help"], ["--version"]])
    def test_reader_of_the_pipe_is_gone(self, folder: Path, arguments: list[str]) -> None:
        reader, writer = os.pipe()
        os.close(reader)
        with subprocess.Popen(
            command(*arguments), cwd=folder, env=surroundings(), stdout=writer, stderr=subprocess.PIPE
        ) as process:
            os.close(writer)
            _, said = process.communicate(timeout=60)
        assert (process.returncode, said) == (2, b"")

    @needs_posix
    def test_reader_of_the_pipe_goes(self, folder: Path) -> None:
        """More than a pipe holds, and the reader takes one byte."""
        (folder / "specs/a.yaml").write_text(spec_text("A") + "".join(f"k{number}: 1\n" for number in range(1000)))
        with subprocess.Popen(
            command("check", "--format", "json"),
            cwd=folder, env=surroundings(), stdout=subprocess.PIPE, stderr=subprocess.PIPE,
        ) as process:  # fmt: skip
            assert process.stdout is not None
            assert process.stderr is not None
            assert os.read(process.stdout.fileno(), 1) == b"{"
            process.stdout.close()
            assert process.stderr.read() == b""
            assert process.wait(timeout=60) == 2

    @needs_posix
    def test_reader_of_the_errors_is_gone(self, folder: Path) -> None:
        reader, writer = os.pipe()
        os.close(reader)
        with subprocess.Popen(
            command("build"), cwd=folder, env=surroundings(), stdout=subprocess.PIPE, stderr=writer
        ) as process:
            os.close(writer)
            said, _ = process.communicate(timeout=60)
        assert (process.returncode, said) == (2, b"")
        assert list(tree(folder / "sheets")) == ["A/sheet.md", "index.md"]

    @needs_full
    @pytest.mark.parametrize("arguments", [["check", "--format", "json"], ["--help"]])
    def test_full_disk_behind_standard_output(self, folder: Path, arguments: list[str]) -> None:
        with Path("/dev/full").open("wb") as full:
            done = subprocess.run(
                command(*arguments), cwd=folder, env=surroundings(), stdout=full, stderr=subprocess.PIPE, check=False
            )
        assert (done.returncode, done.stderr) == (2, b"tauthide: No space left on device\n")

    @needs_full
    def test_full_disk_behind_the_errors(self, folder: Path) -> None:
        with Path("/dev/full").open("wb") as full:
            done = subprocess.run(
                command("check"), cwd=folder, env=surroundings(), stderr=full, stdout=subprocess.PIPE, check=False
            )
        assert (done.returncode, done.stdout) == (2, b"")

    @needs_posix
    @pytest.mark.parametrize(
        ("closed", "jobs"), [("2>&-", "1"), (">&-", "1"), ("<&-", "1"), ("<&- >&- 2>&-", "1"), ("<&- >&- 2>&-", "2")]
    )
    def test_closed_streams(self, tmp_path: Path, closed: str, jobs: str) -> None:
        """No file of ours may come under the number of a closed stream, and catch what is said."""
        many_specs(tmp_path / "specs", 16)
        (tmp_path / "specs/m-000.yaml").write_text("spec: 1\ndrum: M-000\n")
        line = f'exec "$@" {closed}'
        done = subprocess.run(
            ["sh", "-c", line, "sh", *command("build", "--jobs", jobs)],
            cwd=tmp_path, env=surroundings(), capture_output=True, check=False, timeout=60,
        )  # fmt: skip
        assert done.returncode == 1
        assert b"Traceback" not in done.stderr
        built = tree(tmp_path / "sheets", manifest=True)
        assert len(built) == 15 * 7 + 1 + 2
        assert not [name for name, content in built.items() if b"missing-key]" in content]
        assert json.loads(built["M-001/plan.json"])["drum"] == "M-001"

    @needs_posix
    @pytest.mark.parametrize(
        ("changes", "coloured"), [({}, True), ({"NO_COLOR": "1"}, False), ({"TERM": "dumb"}, False)]
    )
    def test_terminal(self, folder: Path, changes: dict[str, str], coloured: bool) -> None:
        import pty

        main_end, end = pty.openpty()
        environment = {key: value for key, value in surroundings(TERM="xterm").items() if key != "NO_COLOR"} | changes
        with subprocess.Popen(command("check"), cwd=folder, env=environment, stderr=end, stdout=end) as process:
            os.close(end)
            said = b""
            with contextlib.suppress(OSError):  # what Linux says at the end
                while piece := os.read(main_end, 4096):
                    said += piece
            os.close(main_end)
        assert process.returncode == 1
        assert b"[missing-key]" in said
        assert (b"\x1b[" in said) is coloured


class TestFullDisk:
    """A disk that is full at any moment: the old sheets stay whole, and no stray file stays."""

    @pytest.fixture
    def built(self, workshop: Workshop) -> Workshop:
        """Give a workshop with two drums built and both specs changed since."""
        workshop.write("specs/a.yaml", spec_text("A"))
        workshop.write("specs/b.yaml", spec_text("B"))
        workshop.build()
        for drum in ("a", "b"):
            workshop.write(f"specs/{drum}.yaml", spec_text(drum.upper(), more="title: new\n").replace("13 in", "14 in"))
        return workshop

    @pytest.mark.parametrize("free", [0, 1000, 30_000, 60_000, 90_000, 130_000, 170_000])
    def test_at_any_moment(self, built: Workshop, monkeypatch: pytest.MonkeyPatch, free: int) -> None:
        old = built.sheets()
        built.build("--out", "new")
        new = tree(built.folder / "new")
        room = [free]

        def write(handle: int, data: memoryview) -> int:
            if room[0] <= 0:
                raise OSError(errno.ENOSPC, "No space left on device")
            piece = data[: room[0]]
            room[0] -= len(piece)
            return written(handle, piece)

        written = os.write
        monkeypatch.setattr(os, "write", write)
        run = built.run("build")
        monkeypatch.setattr(os, "write", written)
        assert room[0] == 0
        assert run.code == 2
        assert run.err.startswith("tauthide: sheets/")
        assert run.err.endswith(" can't be written: the disk is full\n")
        for name, content in built.sheets().items():
            assert content in (old[name], new[name]), name
        for drum in ("A", "B"):
            drawn = {name: content for name, content in built.sheets().items() if name.startswith(f"{drum}/")}
            assert drawn in ({name: old[name] for name in drawn}, {name: new[name] for name in drawn})
        assert not list((built.folder / "sheets").rglob("*.tmp"))
        assert built.build().code == 0
        assert built.sheets() == new

    @needs_posix
    @pytest.mark.parametrize("jobs", ["1", "2"])
    def test_limit_of_the_system(self, many: Path, reference: dict[str, bytes], tmp_path: Path, jobs: str) -> None:
        import resource

        def limit() -> None:
            resource.setrlimit(resource.RLIMIT_FSIZE, (9000, 9000))

        out = str(tmp_path / "out")
        done = run_program(many, "build", "--out", out, "--jobs", jobs, preexec_fn=limit)
        assert done.returncode == 2
        assert b"can't be written: it would be larger than this system allows\n" in done.stderr
        assert not list(tmp_path.rglob("*.tmp"))
        assert whole(tmp_path / "out", reference)
        assert run_program(many, "build", "--out", out).returncode == 1
        assert tree(tmp_path / "out", manifest=True) == reference


def whole(folder: Path, reference: dict[str, bytes]) -> bool:
    """Tell whether every file in a folder, but the manifest, is what it should be."""
    return all(content == reference[name] for name, content in tree(folder).items() if not name.endswith(".tmp"))


@needs_posix
class TestSignals:
    @contextlib.contextmanager
    def build(self, many: Path, out: Path, jobs: str, **more: Any) -> Iterator[subprocess.Popen[bytes]]:
        """Start a build, and hand it over once it has written some drums, but not all."""
        with subprocess.Popen(
            command("build", "--out", str(out), "--jobs", jobs),
            cwd=many, env=surroundings(), stderr=subprocess.PIPE, start_new_session=True, **more,
        ) as process:  # fmt: skip
            end = time.monotonic() + 30
            while len(list(out.glob("*/sheet.md"))) < 3 and time.monotonic() < end:
                time.sleep(0.002)
            try:
                yield process
            finally:
                with contextlib.suppress(ProcessLookupError):
                    os.killpg(process.pid, signal.SIGKILL)

    def ended(self, process: subprocess.Popen[bytes]) -> tuple[int, str]:
        """Wait for the end and return exit code and what was said."""
        _, said = process.communicate(timeout=30)
        return process.returncode, said.decode()

    @pytest.mark.parametrize(
        ("number", "to_all", "jobs", "code", "said"),
        [
            (signal.SIGINT, False, "1", 130, "tauthide: interrupted\n"),
            (signal.SIGINT, False, "2", 130, "tauthide: interrupted\n"),
            (signal.SIGINT, True, "2", 130, "tauthide: interrupted\n"),
            (signal.SIGTERM, False, "1", 143, ""),
            (signal.SIGTERM, False, "2", 143, ""),
            (signal.SIGTERM, True, "2", 143, ""),
            (signal.SIGHUP, True, "2", 143, ""),
        ],
    )
    def test_told_to_end(
        self, many: Path, reference: dict[str, bytes], tmp_path: Path, number: signal.Signals, to_all: bool,
        jobs: str, code: int, said: str,
    ) -> None:  # fmt: skip
        """Told by itself or, as from a keyboard, with its workers: files stay whole, and the next build works."""
        out = tmp_path / "out"
        with self.build(many, out, jobs) as process:
            (os.killpg if to_all else os.kill)(process.pid, number)
            assert self.ended(process) == (code, said)
        assert not list(out.rglob("*.tmp"))
        assert 0 < len(tree(out)) < len(reference)
        assert whole(out, reference)
        assert run_program(many, "build", "--out", str(out)).returncode == 1
        assert tree(out, manifest=True) == reference

    @pytest.mark.skipif(not Path("/proc/self/task").exists(), reason="no way to tell a process's children")
    @pytest.mark.parametrize("number", [signal.SIGKILL, signal.SIGTERM])
    def test_worker_is_ended(
        self, many: Path, reference: dict[str, bytes], tmp_path: Path, number: signal.Signals
    ) -> None:
        out = tmp_path / "out"
        with self.build(many, out, "2") as process:
            children = Path(f"/proc/{process.pid}/task/{process.pid}/children").read_text().split()
            os.kill(int(children[0]), number)
            code, said = self.ended(process)
        assert code == 3
        assert said.startswith("tauthide: a worker process was ended from outside")
        assert len(said.splitlines()) == 1
        if number is signal.SIGTERM:
            assert not list(out.rglob("*.tmp"))
        assert whole(out, reference)
        assert run_program(many, "build", "--out", str(out)).returncode == 1
        assert {name: content for name, content in tree(out, manifest=True).items() if name[-4:] != ".tmp"} == reference

    def test_ignored_signals_stay_ignored(self, many: Path, reference: dict[str, bytes], tmp_path: Path) -> None:
        """As under nohup: the terminal goes, and the build goes on."""

        def ignore() -> None:
            signal.signal(signal.SIGHUP, signal.SIG_IGN)

        with self.build(many, tmp_path / "out", "1", preexec_fn=ignore) as process:
            os.kill(process.pid, signal.SIGHUP)
            assert self.ended(process)[0] == 1
        assert tree(tmp_path / "out", manifest=True) == reference

    def test_signals_are_given_back(self, workshop: Workshop) -> None:
        before = signal.getsignal(signal.SIGTERM)
        workshop.write("specs/a.yaml", spec_text("A"))
        assert workshop.run("check").code == 0
        assert signal.getsignal(signal.SIGTERM) is before
