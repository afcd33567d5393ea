"""Looks for optimal schedules with a constraint solver, and records them for the tests. Not a test.

Run it as `python tests/bench/solve_schedules.py [SECONDS_PER_CASE] [--drawn]` in an environment with the package and
`ortools` installed, which is not among the project's dependencies. It writes `tests/scheduling/optima.json`, or with
`--drawn`, of runs drawn at random, `tests/scheduling/optima_random.json`.

The model: a start for every operation, within working hours as a whole; a set-up shared by an operation that starts
when the same operation of another job, which nobody else follows, ends; people, benches, tub and drying places as
cumulative resources; least and longest times between starts. Jobs of the same kind are put in order by their first wet
operation. The finish is the end of the last operation and its wait. The search starts from the schedule of our own
engine, as a hint and as an upper limit; "OPTIMAL" means proven to within the gap that the record names.
"""

from __future__ import annotations

import importlib
import json
import sys
from collections import defaultdict
from dataclasses import asdict
from pathlib import Path
from random import Random
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[1]))

import itertools

from runs import COMPARED, Case, drum_run
from tauthide.scheduling.hours import DAY_MIN
from tauthide.scheduling.jobs import Edge, Job, Operation, Run
from tauthide.scheduling.planning import plan_run
from tauthide.scheduling.schedule import Schedule

RECORDS = Path(__file__).parents[1] / "scheduling" / "optima.json"
RANDOM_RECORDS = RECORDS.with_name("optima_random.json")
DRAWN, DRAWN_SEED = 20, 20261125
SECONDS = 60.0
WORKERS = 4
GAP = 0.002


class Model:
    """The constraint model of one run."""

    def __init__(self, solver: Any, run: Run, known: Schedule) -> None:
        """Build the model below a known schedule's finish."""
        self.solver, self.run, self.horizon = solver, run, known.finish_min
        self.model = solver.CpModel()
        self.starts: dict[tuple[str, str], Any] = {}
        self.ends: dict[tuple[str, str], Any] = {}
        self.uses: dict[str, list[tuple[Any, int]]] = defaultdict(list)
        self.alone: dict[tuple[str, str], Any] = {}
        known_works = {(work.job, work.operation): work for work in known.works}
        for job in run.jobs:
            for operation in job.operations:
                self._operation(job, operation)
                self.model.AddHint(self.starts[job.name, operation.name],
                                   known_works[job.name, operation.name].start_min)  # fmt: skip
            self._ties(job)
        self._families()
        self._order_alike()
        for name, units in [("people", run.people), *((each.name, each.units) for each in run.resources)]:
            self.model.AddCumulative([use for use, _ in self.uses[name]], [each for _, each in self.uses[name]], units)
        self.finish = self.model.NewIntVar(0, self.horizon, "finish")
        for job in run.jobs:
            for operation in job.operations:
                self.model.Add(self.finish >= self.ends[job.name, operation.name] + operation.wait_min)
        self.model.Minimize(self.finish)

    def _domain(self, minutes: int) -> Any:
        """Return the minutes at which work of a length may start."""
        spans = [span for day in range(self.horizon // DAY_MIN + 1) for span in self.run.hours.of_day(day)]
        return self.solver.Domain.FromIntervals([[a, b - minutes] for a, b in spans if b - minutes >= a])

    def _operation(self, job: Job, operation: Operation) -> None:
        key = (job.name, operation.name)
        start = self.model.NewIntVarFromDomain(self._domain(operation.hand_min), "")
        end = self.model.NewIntVar(0, self.horizon, "")
        self.starts[key], self.ends[key] = start, end
        alone = self.model.NewBoolVar("")
        self.alone[key] = alone
        if not operation.may_group:
            self.model.Add(alone == 1)
        minutes = operation.hand_min + operation.setup_min
        self.model.AddLinearExpressionInDomain(start, self._domain(minutes)).OnlyEnforceIf(alone)
        self.model.Add(start >= job.earliest_min)
        size = operation.hand_min + operation.setup_min * alone
        use = self.model.NewIntervalVar(start, size, end, "")
        self.uses["people"].append((use, operation.people))
        for need in operation.needs:
            self.uses[need.resource].append((use, need.units))

    def _moment(self, job: Job, name: str, edge: Edge) -> Any:
        wait = next(operation.wait_min for operation in job.operations if operation.name == name)
        if edge is Edge.START:
            return self.starts[job.name, name]
        return self.ends[job.name, name] + (wait if edge is Edge.WAITED else 0)

    def _ties(self, job: Job) -> None:
        waits = {operation.name: operation.wait_min for operation in job.operations}
        for operation in job.operations:
            for before in operation.after:
                self.model.Add(self.starts[job.name, operation.name] >= self.ends[job.name, before] + waits[before])
        for longest in job.longest:
            since = self._moment(job, longest.since, longest.since_edge)
            self.model.Add(self._moment(job, longest.until, longest.until_edge) - since <= longest.most_min)
        for hold in job.holds:
            since = self._moment(job, hold.since, hold.since_edge)
            until = self._moment(job, hold.until, hold.until_edge)
            size = self.model.NewIntVar(0, self.horizon, "")
            self.uses[hold.resource].append((self.model.NewIntervalVar(since, size, until, ""), hold.units))

    def _families(self) -> None:
        """Who shares a set-up follows exactly one, and is followed by one at most."""
        families: dict[str, list[tuple[str, str]]] = defaultdict(list)
        for job in self.run.jobs:
            for operation in job.operations:
                if operation.may_group:
                    families[operation.name].append((job.name, operation.name))
        for family in families.values():
            into, out = defaultdict(list), defaultdict(list)
            for before in family:
                for after in family:
                    if before != after:
                        follows = self.model.NewBoolVar("")
                        self.model.Add(self.starts[after] == self.ends[before]).OnlyEnforceIf(follows)
                        into[after].append(follows)
                        out[before].append(follows)
            for key in family:
                self.model.Add(sum(into[key]) + self.alone[key] == 1)
                self.model.Add(sum(out[key]) <= 1)

    def _order_alike(self) -> None:
        alike: dict[tuple[Operation, ...], list[str]] = defaultdict(list)
        for job in self.run.jobs:
            alike[job.operations].append(job.name)
        for names in alike.values():
            for before, after in itertools.pairwise(names):
                self.model.Add(self.starts[before, "skin.flesh"] <= self.starts[after, "skin.flesh"])


def solve(solver: Any, case: Case, seconds: float) -> dict[str, Any]:
    """Return what the solver found for a case."""
    run = drum_run(case)
    known = plan_run(run).schedule
    assert known is not None
    search = solver.CpSolver()
    search.parameters.max_time_in_seconds = seconds
    search.parameters.num_workers = WORKERS
    search.parameters.random_seed = 1
    search.parameters.relative_gap_limit = GAP
    model = Model(solver, run, known)
    status = search.StatusName(search.Solve(model.model))
    found = status in ("OPTIMAL", "FEASIBLE")
    return {
        "case": asdict(case),
        "status": status,
        "finish_min": int(search.ObjectiveValue()) if found else None,
        "bound_min": int(search.BestObjectiveBound()),
        "began_with_min": known.finish_min,
        "seconds": round(search.WallTime(), 1),
    }


def drawn_cases(seed: int, count: int) -> dict[str, Case]:
    """Draw runs of 2 to 12 drums at random; some cannot be done at all."""
    random = Random(seed)
    cases: dict[str, Case] = {}
    while len(cases) < count:
        case = Case(
            drums=2 + len(cases) % 11,
            people=random.choice([1, 2, 2, 3]),
            tub=random.choice([1, 2, 3, 4, 6]),
            drying=random.choice([2, 3, 4, 5, 6, 8]),
            wet_min=random.choice([210, 270, 300, 360, 420, 600]),
            dry_min=random.choice([1080, 1440, 2160]),
            large=random.choice([0, 0, 1, 2]),
        )
        if case not in COMPARED.values() and case not in cases.values():
            cases[f"drawn {len(cases) + 1}"] = case
    return cases


def main() -> None:
    """Solve all cases and write the records."""
    drawn = "--drawn" in sys.argv
    numbers = [float(each) for each in sys.argv[1:] if each != "--drawn"]
    seconds = numbers[0] if numbers else SECONDS
    solver = importlib.import_module("ortools.sat.python.cp_model")
    version = importlib.import_module("ortools").__version__
    how = {"solver": f"OR-Tools CP-SAT {version}", "script": "tests/bench/solve_schedules.py", "workers": WORKERS,
"random_seed": 1, "relative_gap_limit": GAP, "seconds_per_case": seconds}  # fmt: skip
    records: dict[str, Any] = {"how": how, "cases": {}}
    cases = drawn_cases(DRAWN_SEED, DRAWN) if drawn else COMPARED
    if drawn:
        how["drawn_by_seed"] = DRAWN_SEED
    for name, case in cases.items():
        if plan_run(drum_run(case)).schedule is not None:
            records["cases"][name] = solve(solver, case, seconds)
            print(name, {key: each for key, each in records["cases"][name].items() if key != "case"}, flush=True)  # noqa: T201
            file = RANDOM_RECORDS if drawn else RECORDS
            file.write_text(json.dumps(records, indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
