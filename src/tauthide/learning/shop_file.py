"""Learned values written into a shop file: comments and order kept, each value marked as learned."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from copy import deepcopy

from tauthide.learning.lessons import Lesson
from tauthide.reading.events import read_yaml
from tauthide.reading.located import Data, Located
from tauthide.schema.wording import dotted
from tauthide.suggesting.patching import patch
from tauthide.units import KINDS, number

DECIMALS = 4
NEW_FILE = b"shop: 1\n"
LEARNED = "learned from"


def written(lesson: Lesson) -> str:
    """Return a lesson's value as a maker would write it, with its unit."""
    size = KINDS[lesson.subject.quantity].unit(lesson.subject.unit).size
    return f"{number(lesson.value / size, DECIMALS)} {lesson.subject.unit}"


def mark_of(lesson: Lesson) -> str:
    """Return the comment that marks a learned value: with how many records it has, and from when."""
    records = f"{lesson.count} records"
    if lesson.first is None or lesson.last is None:
        return f"# {dotted(lesson.path)}: {LEARNED} {records}"
    days = lesson.first.isoformat()
    if lesson.first != lesson.last:
        days += f" to {lesson.last.isoformat()}"
    return f"# {dotted(lesson.path)}: {LEARNED} {records}, {days}"


def chosen(lessons: Iterable[Lesson]) -> tuple[Lesson, ...]:
    """Return the lessons that change the shop file, one for each value: of several the one that asks for most."""
    most: dict[tuple[str | int, ...], Lesson] = {}
    for lesson in lessons:
        if lesson.estimate is not None and (lesson.path not in most or lesson.value > most[lesson.path].value):
            most[lesson.path] = lesson
    return tuple(lesson for lesson in most.values() if lesson.changes)


def teach(source: bytes | None, lessons: Sequence[Lesson]) -> bytes | None:
    """Return a shop file with the values of lessons; None where its layout can't be changed safely.

    None as `source` makes a new file.
    """
    source = NEW_FILE if source is None else source
    located, _ = read_yaml(source, "")
    if located is None:
        return None
    data = deepcopy(located.data)
    for lesson in lessons:
        _set(data, [str(step) for step in lesson.path], written(lesson))
    patched = patch(source, data, {})
    return None if patched is None else _marked(patched, lessons)


def _set(data: dict[str, Data], steps: Sequence[str], value: str) -> None:
    for step in steps[:-1]:
        inner = data.get(step)
        if not isinstance(inner, dict):
            inner = data[step] = {}
        data = inner
    data[steps[-1]] = value


def _marked(source: bytes, lessons: Sequence[Lesson]) -> bytes | None:
    """Return the text with a comment above the line of each value, in place of an older one."""
    before, _ = read_yaml(source, "")
    assert before is not None  # it was just patched
    text = source.decode("utf-8")
    for lesson in lessons:
        text = _without_mark(text, lesson)
        located, _ = read_yaml(text.encode("utf-8"), "")
        if located is None:
            return None
        text = _with_mark(text, located, lesson)
    after, _ = read_yaml(text.encode("utf-8"), "")
    return text.encode("utf-8") if after is not None and after.data == before.data else None


def _lines(text: str) -> list[str]:
    """Return the lines with their ends: only what YAML takes for one ends a line."""
    return re.findall(r"[^\r\n]*(?:\r\n|\r|\n)|[^\r\n]+", text)


def _without_mark(text: str, lesson: Lesson) -> str:
    start = f"# {dotted(lesson.path)}: {LEARNED} "
    return "".join(line for line in _lines(text) if not line.strip().startswith(start))


def _with_mark(text: str, located: Located, lesson: Lesson) -> str:
    lines = _lines(text)
    index = located.place(lesson.path, key=True).line - 1
    line = lines[index]
    end = "\r\n" if line.endswith("\r\n") else "\n"
    indent = line[: len(line) - len(line.lstrip(" "))]
    lines.insert(index, f"{indent}{mark_of(lesson)}{end}")
    return "".join(lines)
