"""Reading dates and hours, and what is wrong with them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date, timedelta

from tauthide.findings import Finding
from tauthide.reading.located import Data, Located, Path
from tauthide.runs import faults
from tauthide.runs.calendars import WEEKDAYS, Calendar, Interval, clock, joined, minutes, without
from tauthide.runs.values import as_list, as_map, found_at, value_at

MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip
DAY_NAMES = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")


def read_date(located: Located, path: Path) -> date | Finding:
    """Return the date that is written at a path, or the finding that there is no such day."""
    written = value_at(located.data, path)
    year, month, day = (int(part) for part in str(written).split("-"))
    try:
        return date(year, month, day)
    except ValueError:
        month_name = MONTHS[month - 1]
        return found_at(located, faults.NO_SUCH_DAY, path, month=month_name, day=day, year=year)


def read_calendar(located: Located) -> tuple[Calendar, tuple[Finding, ...]]:
    """Return when people work, and what is wrong with the hours and days off; without errors it is sound."""
    findings: list[Finding] = []
    week: list[list[Interval]] = [[] for _ in WEEKDAYS]
    taken: list[tuple[int, Interval, int]] = []
    for index, fields in enumerate(_items(located.data["hours"])):
        path: Path = ("hours", index)
        whole = _interval(fields)
        if whole[1] <= whole[0]:
            findings.append(found_at(located, faults.HOURS_BACKWARD, (*path, "to"), start=clock(whole[0])))
            continue
        days = [WEEKDAYS.index(str(day)) for day in as_list(fields["days"])]
        findings += _overlaps(located, index, whole, days, taken)
        taken += ((day, whole, index) for day in days)
        amiss = list(_judge_breaks(located, path, whole, _items(fields.get("breaks", []))))
        findings += amiss
        if not amiss:
            pieces = without(whole, tuple(map(_interval, _items(fields.get("breaks", [])))))
            if not pieces:
                findings.append(found_at(located, faults.ALL_BREAK, (*path, "breaks"), key=True))
            for day in days:
                week[day] += pieces
    days_off = [
        read_date(located, ("days_off", index)) for index in range(len(as_list(located.data.get("days_off", []))))
    ]
    findings += (day for day in days_off if isinstance(day, Finding))
    known = frozenset(day for day in days_off if isinstance(day, date))
    return Calendar(tuple(joined(day) for day in week), known), tuple(findings)


def judge_dates(
    located: Located, calendar: Calendar, start: date | Finding, finish_by: date | Finding | None
) -> Iterator[Finding]:
    """Yield what is wrong with start and finish, in themselves and beside a sound calendar."""
    yield from (day for day in (start, finish_by) if isinstance(day, Finding))
    if not isinstance(start, date):
        return
    if isinstance(finish_by, date):
        if finish_by < start:
            yield found_at(located, faults.FINISH_EARLY, ("finish_by",), start=start.isoformat())
            return
        days = (start + timedelta(days) for days in range((finish_by - start).days + 1))
        if not any(map(calendar.intervals, days)):
            yield found_at(located, faults.NO_WORKING_DAY, ("finish_by",))
            return
    if not calendar.intervals(start):
        yield found_at(located, faults.START_DAY_OFF, ("start",), weekday=DAY_NAMES[start.weekday()])


def judge_class(located: Located, start: date | Finding) -> Iterator[Finding]:
    """Yield what is wrong with the day on which a class begins."""
    path: Path = ("class", "begins")
    if "begins" not in as_map(located.data.get("class", {})):
        return
    begins = read_date(located, path)
    if isinstance(begins, Finding):
        yield begins
    elif isinstance(start, date) and begins <= start:
        yield found_at(located, faults.CLASS_EARLY, path, start=start.isoformat())


def _overlaps(
    located: Located, index: int, whole: Interval, days: list[int], taken: list[tuple[int, Interval, int]]
) -> Iterator[Finding]:
    """Yield a finding for each earlier block of hours that these overlap, with the days on which they do."""
    clashes: dict[int, list[str]] = {}
    for day, interval, number in taken:
        if day in days and interval[0] < whole[1] and whole[0] < interval[1]:
            clashes.setdefault(number, []).append(WEEKDAYS[day])
    for number, names in clashes.items():
        yield found_at(
            located, faults.HOURS_OVERLAP, ("hours", index, "days"), number=str(number), days=", ".join(names)
        )


def _judge_breaks(located: Located, path: Path, whole: Interval, breaks: list[Mapping[str, Data]]) -> Iterator[Finding]:
    earlier: list[Interval] = []
    for index, fields in enumerate(breaks):
        pause = _interval(fields)
        here: Path = (*path, "breaks", index)
        if pause[1] <= pause[0]:
            yield found_at(located, faults.HOURS_BACKWARD, (*here, "to"), start=clock(pause[0]))
            continue
        if pause[0] < whole[0] or pause[1] > whole[1]:
            start, end = map(clock, whole)
            yield found_at(located, faults.BREAK_OUTSIDE, (*here, "from"), start=start, end=end)
            continue
        for other in earlier:
            if other[0] < pause[1] and pause[0] < other[1]:
                start, end = map(clock, other)
                yield found_at(located, faults.BREAKS_OVERLAP, (*here, "from"), start=start, end=end)
                break
        earlier.append(pause)


def _interval(fields: Mapping[str, Data]) -> Interval:
    return minutes(fields["from"]), minutes(fields["to"])


def _items(data: Data) -> list[Mapping[str, Data]]:
    return [item for item in as_list(data) if isinstance(item, dict)]
