"""Time and memory of a large run: 500 drums of two specs, 60 skins with flaws.

Run it by hand: `python tests/bench/bench_run.py [DRUMS] [SKINS] [EFFORT]`. Everything is made up.
"""

from __future__ import annotations

import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

SPEC = "spec: 1\ndrum: {name}\nframe: {{outline: round, diameter: {size} in, depth: {depth} mm}}\n"
SPEC += "head: {{hide: goat}}\nstations: {{count: {count}}}\nhandle: {{arms: {arms}}}\n"
SKIN = """\
skin: 1
name: goat-{number}
hide: goat
kept: rawhide
thicknesses: [{{at: [4, 4], thickness: 0.95 mm}}, {{at: [12, 14], thickness: 1.05 mm}}]
grid: 50 mm
outline: {{shape: whole, length: {length} mm, width: {width} mm}}
flaws: [{{kind: hole, at: [{x}, {y}], diameter: 20 mm}}, {{kind: scar, at: [{y}, {x}], diameter: 35 mm}}]
"""
RUN = """\
run: 1
name: large
drums: [{{spec: small.yaml, quantity: {small}}}, {{spec: large.yaml, quantity: {large}}}]
skins: [{skins}]
crew: 6
hours: [{{days: [mon, tue, wed, thu, fri], from: 8:00, to: 17:00, breaks: [{{from: 12:00, to: 13:00}}]}}]
start: 2026-03-02
places: {{tub: 20, bench: 6, drying: 40}}
"""


def write_run(folder: Path, drums: int, skins: int) -> Path:
    """Write a run into a folder and return its file."""
    (folder / ".git").mkdir()
    (folder / "small.yaml").write_text(SPEC.format(name="SMALL", size=8, depth=40, count=8, arms=0))
    (folder / "large.yaml").write_text(SPEC.format(name="LARGE", size=13, depth=55, count=16, arms=4))
    names = []
    for number in range(1, skins + 1):
        sizes = {"length": 950 + 5 * (number % 30), "width": 800 + 4 * (number % 25)}
        text = SKIN.format(number=number, **sizes, x=6 + number % 3, y=5 + number % 7)
        (folder / f"goat-{number}.yaml").write_text(text)
        names.append(f"goat-{number}.yaml")
    file = folder / "run.yaml"
    file.write_text(RUN.format(small=drums - drums // 4, large=drums // 4, skins=", ".join(names)))
    return file


def main(drums: int = 500, skins: int = 60, effort: int = 200) -> None:
    """Run the program once and print what it took."""
    with tempfile.TemporaryDirectory() as made:
        folder = Path(made)
        file = write_run(folder, drums, skins)
        started = time.perf_counter()
        command = [sys.executable, "-m", "tauthide", "run", str(file), "--out", str(folder / "papers")]
        done = subprocess.run([*command, "--effort", str(effort)], check=False, capture_output=True, text=True)
        taken = time.perf_counter() - started
        size = sum(path.stat().st_size for path in (folder / "papers").iterdir()) if done.returncode == 0 else 0
    most_mib = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024
    print(done.stderr.strip().splitlines()[-1])  # noqa: T201
    what = f"{drums} drums, {skins} skins, effort {effort}"
    print(f"{what}: {taken:.1f} s, {most_mib:.0f} MiB, papers {size // 1024} KiB")  # noqa: T201


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
