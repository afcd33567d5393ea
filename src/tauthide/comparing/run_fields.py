"""What the maker changed about a run: its own fields, its drums, its skins and its stock, as flat text by path."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, fields, is_dataclass
from pathlib import Path
from typing import Any

from tauthide.explaining.amounts import show_setting
from tauthide.findings import Place
from tauthide.running.words import WEEKDAYS, day_text
from tauthide.runs.calendars import Interval, clock
from tauthide.runs.lots import Lot
from tauthide.runs.run import Entry, Run
from tauthide.runs.skins import Skin
from tauthide.spec.digest import OUTSIDE_THE_DRUM, canonical, digest
from tauthide.text import plain
from tauthide.units import length, temperature

DECIMALS = 6
"""Numbers of a run count to a millionth of their unit, as those of a spec do."""

NONE = "none"
PER_M3, PER_M2, PER_M = 1e9, 1e6, 1e3
"""mm3 of a cubic metre, mm2 of a square metre, mm of a metre."""

ORDER = "order"
GROUPED = frozenset({"drums", "skins", "lots"})

NO_MATTER = frozenset({"title", "notes"})
"""What a plan does not depend on."""


@dataclass(frozen=True, slots=True)
class RunValue:
    """A value of a run: how it is told, and what it counts as."""

    shown: str
    exact: str
    """The same text for all that is the same, however it is spelt."""


@dataclass(frozen=True, slots=True)
class RunValueChange:
    """A value of a run that differs."""

    path: str
    old: str
    new: str


ABSENT = RunValue(NONE, "")


def run_values(run: Run) -> dict[str, RunValue]:
    """Return everything that a run is made of, by path, its drums, skins and lots by their names."""
    return {path: RunValue(shown, shown if exact is None else exact) for path, shown, exact in _values(run)}


def changed_run_values(old: Mapping[str, RunValue], new: Mapping[str, RunValue]) -> tuple[RunValueChange, ...]:
    """Return the values that differ, in the order of the run's fields."""
    found = []
    groups: set[str] = set()
    before, after = ({_group(path) for path in side} for side in (old, new))
    for path in {**new, **old}:
        group = _group(path)
        if group not in before or group not in after:
            if group not in groups:
                found.append(RunValueChange(group, *(_brief(side, path) for side in (old, new))))
            groups.add(group)
        elif path == ORDER and before != after:
            continue  # what came or went is told by itself
        elif path not in old or path not in new or old[path].exact != new[path].exact:
            found.append(_change(path, old.get(path, ABSENT), new.get(path, ABSENT)))
    return tuple(found)


def _change(path: str, old: RunValue, new: RunValue) -> RunValueChange:
    same = old.shown == new.shown
    return RunValueChange(path, old.shown, f"{new.shown}, other than before" if same else new.shown)


def _group(path: str) -> str:
    """Return the path of the drum, skin or lot that a value belongs to, which comes and goes as a whole."""
    parts = path.split(".")
    return ".".join(parts[:2]) if parts[0] in GROUPED else path


def _brief(values: Mapping[str, RunValue], path: str) -> str:
    """Return in few words a drum, skin or lot that only one side has: its first value, such as `quantity 8`."""
    return f"{path.rpartition('.')[2]} {values[path].shown}" if path in values else NONE


def matters(changes: Sequence[RunValueChange]) -> bool:
    """Tell whether a plan may differ where these values do."""
    return any(change.path not in NO_MATTER for change in changes)


def _values(run: Run) -> Iterator[tuple[str, str, str | None]]:
    """Yield path, what is shown, and what it counts as where that is more than what is shown."""
    yield "title", plain(run.title) or NONE, None
    yield "notes", plain(run.notes.strip().replace("\n", " ")) or NONE, None
    for entry in run.entries:
        yield from _entry(entry)
    for held_skin in run.skins:
        yield from _parts(f"skins.{held_skin.skin.name}", held_skin.skin)
    for number, held_lot in enumerate(run.lots, 1):
        yield from _parts(f"lots.{number}", held_lot.lot)
    # The order of skins and drums is also theirs in stock and cutting.
    yield ORDER, *_list([entry.spec.drum for entry in run.entries] + [held.skin.name for held in run.skins])
    if run.lesson is None:
        yield "crew", str(run.crew), None
    else:
        begins = "" if run.lesson.begins is None else f", begins {day_text(run.lesson.begins)}"
        yield "class", f"{run.lesson.teachers} teachers, {run.lesson.tools} sets of tools{begins}", None
    for name, intervals in zip(WEEKDAYS, run.calendar.week, strict=True):
        yield f"hours.{name.lower()}", _hours(intervals), None
    yield "start", day_text(run.start), None
    yield "finish_by", NONE if run.finish_by is None else day_text(run.finish_by), None
    yield "days_off", ", ".join(map(day_text, sorted(run.calendar.days_off))) or NONE, None
    for place in ("tub", "bench", "drying"):
        yield f"places.{place}", _number(getattr(run.room, place), "not limited"), None
    yield "air", "what each spec says" if run.air_c is None else temperature(run.air_c, "metric"), _exact(run.air_c)
    yield "spares.heads", str(run.spares.heads), None
    yield "spares.laces", str(run.spares.laces), None
    yield from _prices(run)
    yield from _cutting(run)


def _entry(entry: Entry) -> Iterator[tuple[str, str, str | None]]:
    path = f"drums.{entry.spec.drum}"
    yield f"{path}.quantity", str(entry.quantity), None
    yield f"{path}.first_serial", str(entry.first_serial), None
    yield f"{path}.spec", f"digest {digest(entry.spec)}", None
    for name, setting in sorted(entry.spec.settings.items()):
        if name.startswith(OUTSIDE_THE_DRUM):
            yield f"{path}.{name}", show_setting(setting, "metric"), str(canonical(setting.value))


def _parts(path: str, record: Skin | Lot) -> Iterator[tuple[str, str, str | None]]:
    for part in fields(record):
        value = getattr(record, part.name)
        if not isinstance(value, Place) and part.name not in ("parts", "name", "title"):
            shown = _items(value) if isinstance(value, tuple) else _number(value, NONE)
            yield f"{path}.{part.name}", shown, _exact(value)


def _items(values: Sequence[object]) -> str:
    return f"{len(values)} item" if len(values) == 1 else f"{len(values)} items"


def _list(names: Sequence[str]) -> tuple[str, str]:
    text = ", ".join(map(plain, names))
    return text, text


def _hours(intervals: Sequence[Interval]) -> str:
    return ", ".join(f"{clock(start)} to {clock(end)}" for start, end in intervals) or NONE


def _prices(run: Run) -> Iterator[tuple[str, str, str | None]]:
    prices = run.prices
    yield "prices.currency", plain(prices.currency) or NONE, None
    yield "prices.hour", _number(prices.hour, NONE), None
    yield "prices.hide_per_m2", _number(_times(prices.hide_per_mm2, PER_M2), NONE), None
    yield "prices.frame", _number(prices.frame, NONE), None
    yield "prices.lace_per_m", _number(_times(prices.lace_per_mm, PER_M), NONE), None
    yield "prices.wood_per_m3", _number(_times(prices.wood_per_mm3, PER_M3), NONE), None
    yield "prices.ring", _number(prices.ring, NONE), None
    yield "prices.sundries", _number(prices.sundries, NONE), None
    yield "prices.mark_up", f"{_number(100 * prices.mark_up, NONE)} %", None


def _cutting(run: Run) -> Iterator[tuple[str, str, str | None]]:
    cutting = run.cutting
    yield "cutting.allowance", length(cutting.allowance_mm, "metric"), _exact(cutting.allowance_mm)
    yield "cutting.seed", str(cutting.seed), None
    yield "cutting.rounds", str(cutting.rounds), None
    yield "cutting.lace_pieces", _number(cutting.lace_pieces, "what each spec allows"), None
    match_mm = cutting.thickness_match_mm
    yield "cutting.thickness_match", NONE if match_mm is None else f"{match_mm:g} mm", _exact(match_mm)


def _times(value: float | None, factor: float) -> float | None:
    return None if value is None else value * factor


def _number(value: object, absent: str) -> str:
    if isinstance(value, float):
        return f"{value:.{DECIMALS}g}"
    return absent if value is None or value == "" else plain(str(value))


def _exact(value: Any) -> str:
    """Return a record, list or number as text that is the same for all that counts as the same; places do not."""
    if isinstance(value, float):
        # Adding nothing makes one zero of the two that there are.
        return f"{round(value, DECIMALS) + 0.0:.{DECIMALS}f}"
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{key}: {_exact(item)}" for key, item in sorted(value.items())) + "}"
    if isinstance(value, list | tuple):
        return "[" + ", ".join(map(_exact, value)) + "]"
    if is_dataclass(value) and not isinstance(value, type):
        parts = [getattr(value, part.name) for part in fields(value)]
        return "(" + ", ".join(_exact(part) for part in parts if not isinstance(part, Place | Path)) + ")"
    return repr(value)
