"""The two sides of a comparison: specs and runs as they lie, or as they stood at a git revision."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path
from tempfile import TemporaryDirectory

from tauthide.batch.building import is_spec
from tauthide.batch.compiling import compile_input
from tauthide.batch.inputs import STDIN, Inputs, find_inputs, show_path
from tauthide.batch.revisions import repository_of
from tauthide.batch.running import plan_loaded
from tauthide.batch.survey import Surveyed, survey
from tauthide.comparing.runs import worked_out
from tauthide.comparing.seen import Seen, SeenRun
from tauthide.findings import in_order
from tauthide.reading.files import FileTrouble
from tauthide.runs.loading import load_run
from tauthide.spec.chain import Library

RUN = "run"


@dataclass(frozen=True, slots=True)
class Side:
    """All that is seen on one side."""

    drums: tuple[Seen, ...]
    runs: tuple[SeenRun, ...]


def see_files(path: str) -> Side:
    """Return the specs and runs that a path leads to, as they lie; FileTrouble where there are none."""
    _refuse_stdin(path)
    return _see(find_inputs((path,), b""), Library(show_path), path)


def see_revision(path: str, revision: str) -> Side:
    """Return the specs and runs that a path led to at a git revision; FileTrouble where that can't be told.

    Files are named as they would be if they lay there now.
    """
    _refuse_stdin(path)
    with _checked_out(path, revision) as (folder, root, place):
        if not os.path.lexists(place):
            raise FileTrouble(f"{path}: there is no such file or folder at {revision}")

        def show(file: Path) -> str:
            # The reader follows links, and so the folder may have another name.
            real = Path(os.path.realpath(file.parent)) / file.name
            return show_path(root / real.relative_to(folder))

        inputs = find_inputs((str(place),), b"")
        items = tuple(item if item.path is None else replace(item, shown=show(item.path)) for item in inputs.items)
        return _see(Inputs(items, inputs.findings), Library(show), f"{path} at {revision}")


def plan_seen(seen: SeenRun) -> SeenRun:
    """Plan a run that was seen; one with errors stays as it is."""
    if seen.run is None:
        return seen
    planned = plan_loaded(seen.run, seen.findings, None, lambda _done, _all: None, limits=False)
    return worked_out(seen, planned.plan, planned.findings)


def _refuse_stdin(path: str) -> None:
    if path == STDIN:
        raise FileTrouble("standard input can't be compared: name a file or a folder")


@contextmanager
def _checked_out(path: str, revision: str) -> Iterator[tuple[Path, Path, Path]]:
    """Give a folder with a revision's files, the repository's own folder, and where the path lies in the first."""
    repository, within = repository_of(Path(path))
    commit = repository.commit(revision)
    with TemporaryDirectory(prefix="tauthide-") as name:
        folder = Path(name).resolve()
        repository.extract(commit, folder)
        yield folder, repository.root, folder / within


def _see(inputs: Inputs, library: Library, what: str) -> Side:
    if inputs.findings:
        finding = inputs.findings[0]
        raise FileTrouble(f"{what}: {finding.message}")
    surveyed = survey(inputs.items, library)
    specs = [item for item in surveyed if is_spec(item)]
    runs = [item for item in surveyed if item.kind == RUN]
    for item in (*specs, *runs):
        if item.unreadable:
            raise FileTrouble(f"{item.findings[0].place.file}: {item.findings[0].message}")
    if not specs and not runs:
        raise FileTrouble(f"{what}: there is no spec here, nor a run")
    drums = tuple(_look(item, library, _root(specs)) for item in specs)
    return Side(drums, tuple(_look_at_run(item, library, _root(runs)) for item in runs))


def _root(items: Iterable[Surveyed]) -> str:
    """Return the folder that all of them lie in, as seen from the repository."""
    return os.path.commonpath([os.path.dirname(item.input.stable) or "." for item in items])  # noqa: PTH120


def _look_at_run(item: Surveyed, library: Library, root: str) -> SeenRun:
    source = item.input.read()
    run, findings = load_run(source, library)
    document = source.document
    name = "" if document is None else document.located.data.get("name", "")
    return SeenRun(
        file=item.input.shown,
        key=os.path.relpath(item.input.stable, root),
        name=name if isinstance(name, str) else "",
        source=source.source,
        run=run,
        findings=findings,
        broken=run is None,
    )


def _look(item: Surveyed, library: Library, root: str) -> Seen:
    compiled = compile_input(item.input, library)
    if compiled.unreadable:
        raise FileTrouble(f"{compiled.findings[0].place.file}: {compiled.findings[0].message}")
    source = item.input.read()
    return Seen(
        file=item.input.shown,
        key=os.path.relpath(item.input.stable, root),
        drum=item.drum or "",
        source=source.source,
        spec=compiled.spec,
        plan=compiled.plan,
        workings=compiled.workings,
        findings=in_order((*item.findings, *compiled.findings)),
    )
