"""The difference between a spec's data as it stands and as it should be, as single edits."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from copy import deepcopy
from dataclasses import dataclass

from tauthide.reading.located import Data, Path


@dataclass(frozen=True, slots=True)
class Replace:
    """Another value at a path that is there."""

    path: Path
    value: Data


@dataclass(frozen=True, slots=True)
class Rename:
    """Another key for the value at a path."""

    path: Path
    key: str


@dataclass(frozen=True, slots=True)
class Insert:
    """A new key, last in its map."""

    path: Path
    value: Data


@dataclass(frozen=True, slots=True)
class Append:
    """A new map, last in the list at a path."""

    path: Path
    value: Data


Edit = Replace | Rename | Insert | Append


def edits_between(old: Data, new: Data, renames: Mapping[Path, Path], path: Path = ()) -> Iterator[Edit]:
    """Yield the edits that make `new` of `old`; keys that are gone but not renamed are passed over.

    `renames` gives for a new key's path that of the key whose place it takes.
    """
    if isinstance(old, dict) and isinstance(new, dict):
        for key, value in new.items():
            here = (*path, key)
            before = renames.get(here)
            if before is not None and before[-1] in old:
                yield Rename(before, key)
                if value != old[str(before[-1])]:
                    yield Replace(here, value)
            elif key in old:
                yield from edits_between(old[key], value, renames, here)
            else:
                yield Insert(here, value)
    elif isinstance(old, list) and isinstance(new, list) and len(old) == len(new):
        for index, (one, other) in enumerate(zip(old, new, strict=True)):
            yield from edits_between(one, other, renames, (*path, index))
    elif _is_longer(old, new):
        assert isinstance(old, list)
        assert isinstance(new, list)
        yield from edits_between(old, new[: len(old)], renames, path)
        yield from (Append(path, item) for item in new[len(old) :])
    elif not _same(old, new):
        yield Replace(path, new)


def _is_longer(old: Data, new: Data) -> bool:
    """Tell whether a list of maps has become longer; lists of anything else are short, and written anew."""
    if not isinstance(old, list) or not isinstance(new, list) or not 0 < len(old) < len(new):
        return False
    return all(isinstance(item, dict) and item for item in (*old, *new))


def apply_edit(data: Data, edit: Edit) -> Data:
    """Return the data after an edit, the order of keys kept; KeyError where its path is not there."""
    changed = deepcopy(data)
    holder = changed
    for step in edit.path[:-1]:
        holder = holder[step]  # type: ignore[index]
    last = edit.path[-1]
    if isinstance(edit, Append):
        holder[last].append(edit.value)  # type: ignore[index, union-attr]
    elif isinstance(holder, list) and isinstance(edit, Replace) and isinstance(last, int):
        holder[last] = edit.value
    elif isinstance(holder, dict) and isinstance(edit, Rename):
        items = [(edit.key if key == last else key, value) for key, value in holder.items()]
        holder.clear()
        holder.update(items)
    elif isinstance(holder, dict) and not isinstance(edit, Rename):
        holder[str(last)] = edit.value
    else:
        raise KeyError(edit.path)
    return changed


def same_data(one: Data, other: Data) -> bool:
    """Tell whether two documents hold the same, keys in the same order, numbers of the same type."""
    if isinstance(one, dict) and isinstance(other, dict):
        return list(one) == list(other) and all(same_data(one[key], other[key]) for key in one)
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(map(same_data, one, other))
    return _same(one, other)


def _same(one: Data, other: Data) -> bool:
    return type(one) is type(other) and one == other
