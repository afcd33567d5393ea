"""Thousands of spoilt files through the whole program: each ends in findings or sheets, in bounded time and memory.

Run it by itself, it is no part of the tests: `python tests/soak/soak_builds.py --seed 1 --count 1000`.

Each file is built in a process of its own, forked from one that has done a build, with a limit on its memory and
its time; the system counts both. Time is the processor's, so that other work on the machine does not count, and
memory is what the process had at its height, less some 5 MB of its parent's that it never touched.
Exit code 0: all was well; 1: something was not, and the files that did it lie in the folder given by `--keep`.
"""

from __future__ import annotations

import argparse
import json
import os
import random
import resource
import shutil
import sys
import tempfile
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from soak.mutations import mutate_bytes, mutate_meaning
from tauthide.__main__ import main as run_program

SPECS = Path(__file__).parents[2] / "specs"

MOST_TIME_S = 2.0
"""Processor time that one build may take."""
MOST_MEMORY_MB = 200.0
"""Memory that one build may take at its height, the interpreter's own included."""

STOP_TIME_S = 30
"""Processor time at which a build is stopped, since it would hardly come to its end."""
STOP_MEMORY_BYTES = 2 << 30
"""Address space at which a build gets no more."""

KINDS = ("spec", "base", "shop")
WAYS = ("meaning", "bytes")

DRUM_FILES = {"gauge.svg", "lacing.svg", "layout.svg", "plan.json", "section.svg", "sheet.md", "steps.svg"}
WITH_FRAME = DRUM_FILES | {"frame.svg"}
"""Of a drum whose frame is made in the shop."""


@dataclass
class Tally:
    """What came of all files of one kind, spoilt in one way."""

    runs: int = 0
    sheets: int = 0
    notices: int = 0
    nothing: int = 0
    findings: Counter[str] = field(default_factory=Counter)
    slowest_s: float = 0.0
    slowest: int = 0
    peak_mb: float = 0.0
    peak: int = 0
    faults: list[str] = field(default_factory=list)


@dataclass(frozen=True)
class Ended:
    """How one build ended."""

    status: int
    """Exit code, or the negative number of the signal that ended it."""
    time_s: float
    memory_mb: float
    out: str
    err: str


def main() -> int:
    """Run the soak and print what came of it."""
    arguments = _arguments()
    sources = {
        "spec": sorted(SPECS.glob("lib-*.yaml")),
        "base": sorted(SPECS.glob("*.base.yaml")),
        "shop": [SPECS / "shop.yaml"],
    }
    wrong = 0
    with tempfile.TemporaryDirectory() as name:
        _warm_up(Path(name))
        for kind in arguments.kinds:
            for way in arguments.ways:
                tally = Tally()
                for number in range(arguments.count):
                    shop = Path(name, "shop")
                    _one(shop, sources, (kind, way, arguments.seed, number), tally, arguments.keep)
                    shutil.rmtree(shop)
                _print(kind, way, tally)
                wrong += len(tally.faults)
    sys.stdout.write(
        f"\n{wrong} of {arguments.count * len(arguments.kinds) * len(arguments.ways)} not as they should be\n"
    )
    return 1 if wrong else 0


def draw(source: Path, way: str, dice: random.Random) -> bytes:
    """Return one spoilt file."""
    if way == "meaning":
        return mutate_meaning(source.read_text(encoding="utf-8"), dice)
    return mutate_bytes(source.read_bytes(), [path.read_bytes() for path in sorted(SPECS.glob("*.yaml"))], dice)


def _arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument("--seed", type=int, default=1, help="what the dice begin with (default: 1)")
    parser.add_argument("--count", type=int, default=1000, help="files of each kind and way (default: 1000)")
    parser.add_argument("--kinds", nargs="+", choices=KINDS, default=KINDS, help="which files are spoilt")
    parser.add_argument("--ways", nargs="+", choices=WAYS, default=WAYS, help="how")
    parser.add_argument("--keep", type=Path, default=Path("soak"), help="folder for what went wrong (default: soak)")
    return parser.parse_args()


def _warm_up(folder: Path) -> None:
    """Build once in this process, so that what all builds share is there when it is forked."""
    shutil.copytree(SPECS, folder / "warm/specs")
    (folder / "warm/.git").mkdir()
    ended = _build(folder / "warm")
    if ended.status != 0:
        raise SystemExit(f"the specs themselves don't build: {ended.err}{ended.out}")
    here = Path.cwd()
    os.chdir(folder / "warm")
    with open(os.devnull, "w", encoding="utf-8") as nowhere:  # noqa: PTH123 - no path of ours
        kept, sys.stdout = sys.stdout, nowhere
        run_program(["build", "--out", "again", "--format", "json"])
        sys.stdout = kept
    os.chdir(here)


def _one(
    shop: Path, sources: dict[str, list[Path]], which: tuple[str, str, int, int], tally: Tally, keep: Path
) -> None:
    kind, way, seed, number = which
    dice = random.Random(f"{kind} {way} {seed} {number}")
    chosen = dice.choice(sources[kind])
    content = draw(chosen, way, dice)
    (shop / "specs").mkdir(parents=True)
    (shop / ".git").mkdir()
    # Beside a spoilt base or shop file stands a good spec that takes it over.
    wanted = ["lending.base.yaml", "shop.yaml", *(["lib-16.yaml"] if kind != "spec" else [])]
    for name in wanted:
        shutil.copy(SPECS / name, shop / "specs" / name)
    name = chosen.name if kind != "spec" else "spoilt.yaml"
    (shop / "specs" / name).write_bytes(content)
    ended = _build(shop)
    fault = _judge(shop, ended, tally)
    tally.runs += 1
    if ended.time_s > tally.slowest_s:
        tally.slowest_s, tally.slowest = ended.time_s, number
    if ended.memory_mb > tally.peak_mb:
        tally.peak_mb, tally.peak = ended.memory_mb, number
    if fault:
        keep.mkdir(parents=True, exist_ok=True)
        kept = keep / f"{kind}-{way}-{seed}-{number}.yaml"
        kept.write_bytes(content)
        tally.faults.append(f"{kept}: {fault}")


def _judge(shop: Path, ended: Ended, tally: Tally) -> str:
    """Return what is not as it should be, or nothing; count the rest."""
    if ended.time_s > MOST_TIME_S:
        return f"took {ended.time_s:.2f} s"
    if ended.memory_mb > MOST_MEMORY_MB:
        return f"took {ended.memory_mb:.0f} MB"
    if ended.status not in (0, 1, 2) or ended.err:
        return f"ended with {ended.status}: {ended.err.strip()[-300:]}"
    try:
        report = json.loads(ended.out)
    except ValueError:
        return f"no report: {ended.out[:100]!r}"
    errors = [finding for finding in report["findings"] if finding["severity"] == "error"]
    tally.findings.update(finding["name"] for finding in report["findings"])
    if bool(errors) is (ended.status == 0):
        return f"exit code {ended.status} with {len(errors)} errors"
    made = {folder.name: {path.name for path in folder.iterdir()} for folder in (shop / "sheets").glob("*/")}
    if any(files not in (DRUM_FILES, WITH_FRAME, {"sheet.md"}) for files in made.values()):
        return f"half a drum: {made}"
    if not errors and not any(files >= DRUM_FILES for files in made.values()):
        # A file that has become another program's, or another kind's, is passed over.
        return "neither findings nor sheets" if not report["findings"] else ""
    tally.sheets += sum(files >= DRUM_FILES for files in made.values())
    tally.notices += sum(not files >= DRUM_FILES for files in made.values())
    tally.nothing += not made
    return ""


def _build(shop: Path) -> Ended:
    """Build in a process of its own, and return how it ended and what it took."""
    with tempfile.TemporaryFile() as out, tempfile.TemporaryFile() as err:
        child = os.fork()
        if child == 0:
            code = 99
            try:
                code = _in_child(shop, out.fileno(), err.fileno())
            finally:
                os._exit(code)
        _, status, used = os.wait4(child, 0)
        said = list(_texts(out.fileno(), err.fileno()))
    # Linux counts kibibytes, macOS bytes.
    memory = used.ru_maxrss / (1 << 20 if sys.platform == "darwin" else 1 << 10)
    return Ended(os.waitstatus_to_exitcode(status), used.ru_utime + used.ru_stime, memory, *said)


def _in_child(shop: Path, out: int, err: int) -> int:
    resource.setrlimit(resource.RLIMIT_CPU, (STOP_TIME_S, STOP_TIME_S))
    resource.setrlimit(resource.RLIMIT_AS, (STOP_MEMORY_BYTES, STOP_MEMORY_BYTES))
    os.chdir(shop)
    with open(out, "w", encoding="utf-8", closefd=False) as sys.stdout, open(
        err, "w", encoding="utf-8", closefd=False
    ) as sys.stderr:  # fmt: skip
        return run_program(["build", "--format", "json"])


def _texts(*handles: int) -> Iterator[str]:
    for handle in handles:
        os.lseek(handle, 0, os.SEEK_SET)
        with open(handle, encoding="utf-8", errors="replace", closefd=False) as file:
            yield file.read()


def _print(kind: str, way: str, tally: Tally) -> None:
    lines = [
        f"\n{kind}, by {way}: {tally.runs} files; {tally.sheets} drums with sheets, {tally.notices} with a notice, "
        f"{tally.nothing} batches with neither",
        f"  slowest {tally.slowest_s:.2f} s (number {tally.slowest}), "
        f"most memory {tally.peak_mb:.0f} MB (number {tally.peak})",
        "  findings: " + ", ".join(f"{name} {count}" for name, count in tally.findings.most_common()),
        *(f"  WRONG {fault}" for fault in tally.faults),
    ]
    sys.stdout.write("\n".join(lines) + "\n")
    sys.stdout.flush()


if __name__ == "__main__":
    sys.exit(main())
