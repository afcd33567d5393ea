"""Times builds of many specs against a bare pipeline, in the same run. Not a test: it prints, it never fails.

Run it as `python tests/bench/bench_build.py [SPECS]` in an environment with the package installed. Creating files
may cost more than everything else: with TMPDIR in memory the program itself is timed.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[2]
SCHEMA = ROOT / "schemas" / "spec.schema.json"
BARE = Path(__file__).with_name("bare_pipeline.py")
RUNS = 3
SHORT_RUNS = 9
KIB_PER_MIB = 1024

HIDES = ("goat", "sheep", "deer", "calf", "horse", "elk", "cow")


@dataclass(frozen=True)
class Timing:
    """Median wall and processor time in seconds, and the largest peak memory in MiB."""

    wall_s: float
    cpu_s: float
    peak_mib: float


def write_specs(folder: Path, count: int) -> None:
    """Write so many different specs, of all outlines and hides."""
    folder.mkdir(parents=True)
    for number in range(count):
        stations = 8 + 2 * (number % 9)
        size = 250 + 20 * (number % 9) + number * 0.05
        frame = (
            f"{{outline: round, diameter: {size:.2f} mm, depth: 55 mm}}",
            f"{{outline: oval, length: {size + 60:.2f} mm, width: {size:.2f} mm, depth: 60 mm}}",
            f"{{outline: polygon, sides: 8, across_flats: {size:.2f} mm, depth: 50 mm}}",
            f"{{outline: round, diameter: {size:.2f} mm, depth: 2 in}}",
        )[number % 4]
        (folder / f"drum-{number:04}.yaml").write_text(
            f"spec: 1\ndrum: B-{number:04}\ntitle: Bench drum {number}\nquantity: {1 + number % 5}\n"
            f"frame: {frame}\nhead: {{hide: {HIDES[number % 7]}}}\nstations: {{count: {stations}}}\n",
            encoding="utf-8",
        )


def afresh(folder: Path, command: Sequence[str]) -> list[str]:
    """Return the command with its output folder removed first."""
    return ["sh", "-c", 'rm -rf "$1" && shift && exec "$@"', "sh", str(folder), *command]


def run(command: Sequence[str]) -> Timing:
    """Run a command once and return its times and memory."""
    environment = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    started = time.perf_counter()
    process = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, env=environment)
    _, status, usage = os.wait4(process.pid, 0)
    wall = time.perf_counter() - started
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode != 0:
        raise SystemExit(f"{' '.join(command)} ended with {process.returncode}")
    return Timing(wall, usage.ru_utime + usage.ru_stime, usage.ru_maxrss / KIB_PER_MIB)


def median(timings: Sequence[Timing]) -> Timing:
    """Return the medians of several timings."""
    return Timing(
        statistics.median(timing.wall_s for timing in timings),
        statistics.median(timing.cpu_s for timing in timings),
        max(timing.peak_mib for timing in timings),
    )


def in_turn(first: Sequence[str], second: Sequence[str], runs: int) -> tuple[Timing, Timing, float]:
    """Run two commands in turn, after one round to warm up; return medians and the median ratio of wall times."""
    run(first), run(second)
    pairs = [(run(first), run(second)) for _ in range(runs)]
    ratio = statistics.median(one.wall_s / other.wall_s for one, other in pairs)
    return median([one for one, _ in pairs]), median([other for _, other in pairs]), ratio


def say(what: str, timing: Timing, ratio: float | None = None, aim: str = "") -> None:
    """Print one line."""
    compared = "" if ratio is None else f"   {ratio:5.2f} times ({aim})"
    print(f"{what:44} {timing.wall_s * 1000:9.1f} ms  {timing.peak_mib:6.1f} MiB{compared}")  # noqa: T201


def main() -> None:
    """Run the bench."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 1000
    tauthide = [sys.executable, "-m", "tauthide"]
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        specs, few, one = folder / "specs", folder / "few", folder / "one"
        write_specs(specs, count)
        write_specs(few, max(1, count // 10))
        write_specs(one, 1)
        bare = afresh(folder / "bare", [sys.executable, str(BARE), str(specs), str(folder / "bare"), str(SCHEMA)])

        def build(source: Path, out: str, *more: str) -> list[str]:
            return [*tauthide, "build", str(source), "--out", str(folder / out), *more]

        built, bare_time, ratio = in_turn(afresh(folder / "fresh", build(specs, "fresh")), bare, RUNS)
        say(f"bare pipeline, {count} specs, 1 file each", bare_time)
        say(f"build, {count} specs, 6 files each", built, ratio, "aim: at most 3")
        run(build(specs, "kept"))
        again, _, ratio = in_turn(build(specs, "kept"), bare, RUNS)
        say("build again, nothing changed", again, ratio, "aim: at most 0.5")
        verified, _, ratio = in_turn(build(specs, "kept", "--verify"), bare, RUNS)
        say("build --verify", verified, ratio, "no aim")
        say(f"build, {len(list(few.iterdir()))} specs: memory", median([run(build(few, "few"))]))
        helped, passed, ratio = in_turn([*tauthide, "--help"], [sys.executable, "-c", "pass"], SHORT_RUNS)
        say("python -c pass", passed)
        say("--help", helped, ratio, "aim: at most 2.5")
        imports = [sys.executable, "-c", "import yaml, jsonschema, jinja2"]
        single = [
            "sh",
            "-c",
            'rm -rf "$1" && shift && exec "$@"',
            "sh",
            str(folder / "single"),
            *build(one, "single"),
        ]
        alone, imported, ratio = in_turn(single, imports, SHORT_RUNS)
        say("import yaml, jsonschema, jinja2", imported)
        say("build, 1 spec", alone, ratio, "aim: at most 1.5")


if __name__ == "__main__":
    main()
