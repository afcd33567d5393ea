"""Documents of older versions: brought up to the present one, a step for each version between.

A step says what the next version calls things, as a function from data to data; places stay those of the file,
so that findings point at what its maker wrote. `tauthide.suggesting.renewing` writes the same steps into a text.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from tauthide.reading.located import Data, Located, Mark, Path


@dataclass(frozen=True, slots=True)
class Changed:
    """A document after a step."""

    data: dict[str, Data]
    renames: Mapping[Path, Path]
    """For the path of each key that takes another one's place, the path which that one had."""


Change = Callable[[dict[str, Data]], Changed]


@dataclass(frozen=True, slots=True)
class Step:
    """The way from one version of a kind of document to the next."""

    kind: str
    version: int
    """The version that it starts from."""
    says: str
    """What changes, for the maker: `frame.size is called frame.diameter now`."""
    change: Change
    """Gives the next version's data, in the same order, all but the version itself, and leaves what it is given
    alone. It takes any data, right or wrong: what it doesn't understand it leaves for the schema to report. It
    renames keys where they stand, and changes values; a part and a field within it are renamed by two steps."""


UPGRADES: tuple[Step, ...] = ()
"""Every step so far: all kinds are of their first version."""


def steps_from(kind: str, version: int, newest: int, known: Sequence[Step]) -> tuple[Step, ...] | None:
    """Return the steps from a version to the newest, in order; None where one of them is not known."""
    found = {step.version: step for step in known if step.kind == kind}
    versions = range(version, newest)
    if version > newest or any(each not in found for each in versions):
        return None
    return tuple(found[each] for each in versions)


def take(step: Step, data: dict[str, Data]) -> Changed:
    """Return the data after a step, the version with it."""
    changed = step.change(data)
    return replace(changed, data={**changed.data, step.kind: step.version + 1})


def bring_up(located: Located, steps: Sequence[Step]) -> Located:
    """Return the document after all steps; every key and value is placed where it, or what it was, stands."""
    for step in steps:
        changed = take(step, located.data)
        came_to = {old: new for new, old in changed.renames.items()}
        located = Located(
            located.file,
            located.lines,
            changed.data,
            _moved(located.keys, came_to),
            _moved(located.values, came_to),
        )
    return located


def rename_key(path: Path, key: str) -> Change:
    """Return the change that calls the key at `path` by another name, unless one of that name is there too."""

    def change(data: dict[str, Data]) -> Changed:
        if not _is_there(data, path) or _is_there(data, (*path[:-1], key)):
            return Changed(data, {})
        return Changed(_renamed(data, path, key), {(*path[:-1], key): path})

    return change


def _renamed(data: dict[str, Data], path: Path, key: str) -> dict[str, Data]:
    first, rest = path[0], path[1:]
    renamed: dict[str, Data] = {}
    for name, value in data.items():
        if name != first:
            renamed[name] = value
        elif rest:
            assert isinstance(value, dict)  # the path is there
            renamed[name] = _renamed(value, rest, key)
        else:
            renamed[key] = value
    return renamed


def _is_there(data: Data, path: Path) -> bool:
    for step in path:
        if not isinstance(data, dict) or step not in data:
            return False
        data = data[str(step)]
    return True


def _moved(marks: Mapping[Path, Mark], came_to: Mapping[Path, Path]) -> dict[Path, Mark]:
    return {_translated(path, came_to): mark for path, mark in marks.items()}


def _translated(path: Path, came_to: Mapping[Path, Path]) -> Path:
    """Return where a path leads after renaming: the longest renamed part of it counts."""
    for length in range(len(path), 0, -1):
        new = came_to.get(path[:length])
        if new is not None:
            return (*new, *path[length:])
    return path
