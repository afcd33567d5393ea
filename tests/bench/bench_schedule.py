"""Times the scheduling of runs of drums, and compares it with doing all of one operation first. Not a test.

Run it as `python tests/bench/bench_schedule.py [DRUMS ...]` in an environment with the package installed.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from runs import Case, drum_run
from tauthide.scheduling.bounds import finish_bound
from tauthide.scheduling.checking import violations
from tauthide.scheduling.compiled import compile_run
from tauthide.scheduling.hours import DAY_MIN
from tauthide.scheduling.jobs import Run
from tauthide.scheduling.placing import Tally, place_all
from tauthide.scheduling.planning import plan_run
from tauthide.scheduling.recipes import Recipe, Wave
from tauthide.scheduling.search import score

DRUMS = (12, 30, 60, 500)


def all_at_once(run: Run) -> int:
    """Return the finish if each operation is done for all drums before the next."""
    shop = compile_run(run)
    recipe = Recipe((Wave(tuple(range(len(run.jobs)))),), len(run.jobs), False, 1)
    return score(shop, place_all(shop, recipe, Tally()))[0]


def main() -> None:
    """Print a line for each number of drums and each crew."""
    counts = [int(text) for text in sys.argv[1:]] or DRUMS
    print("drums people  seconds  finish d  bound d  one operation first d  violations")  # noqa: T201
    for drums in counts:
        for people in (2, 4):
            case = Case(drums, people, tub=4 * people, drying=8 * people, large=drums // 3)
            run = drum_run(case)
            started = time.perf_counter()
            schedule = plan_run(run).schedule
            seconds = time.perf_counter() - started
            assert schedule is not None
            finish, bound, naive = schedule.finish_min, finish_bound(compile_run(run)), all_at_once(run)
            days = " ".join(f"{minutes / DAY_MIN:8.2f}" for minutes in (finish, bound, naive))
            print(f"{drums:5} {people:6} {seconds:8.2f} {days} {len(violations(run, schedule)):8}", flush=True)  # noqa: T201


if __name__ == "__main__":
    main()
