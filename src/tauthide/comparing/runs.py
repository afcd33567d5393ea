"""The comparison of runs: what was changed, what more must be bought, and when all is finished."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from tauthide.comparing.matching import State, missing_from
from tauthide.comparing.run_fields import NONE, RunValueChange, changed_run_values, matters, run_values
from tauthide.comparing.seen import SeenRun
from tauthide.findings import Finding
from tauthide.papers.wording import system_of
from tauthide.running.costs import total
from tauthide.running.run_plan import RunPlan
from tauthide.running.words import clock_text, day_text
from tauthide.text import plain
from tauthide.units import System, nominal_length, show_change, time

NOISE = 1e-6
CENTS = 2
"""Money is told to its hundredth."""

Worker = Callable[[SeenRun], SeenRun]
"""Plans a run, which takes a while."""


@dataclass(frozen=True, slots=True)
class Amount:
    """Something that a run comes to: a number with style and unit, or a moment."""

    title: str
    style: str
    """Of `units`; or `moment`, or `money`."""
    unit: str
    value: float | datetime | None
    """In the base unit; None where it is not known."""
    buys: bool = False
    """Whether it is to be bought."""


@dataclass(frozen=True, slots=True)
class Effect:
    """An amount of a run that differs."""

    title: str
    unit: str
    old: float | str | None
    """In the base unit, a moment as `2026-03-02T09:00`; None where it is not known, or the run is new."""
    new: float | str | None
    shown_old: str
    shown_new: str
    difference: str
    buys: bool


@dataclass(frozen=True, slots=True)
class RunChange:
    """All that differs between two states of one run."""

    old: SeenRun | None
    new: SeenRun | None
    state: State
    values: tuple[RunValueChange, ...] = ()
    effects: tuple[Effect, ...] = ()
    came: tuple[Finding, ...] = ()
    went: tuple[Finding, ...] = ()

    @property
    def seen(self) -> SeenRun:
        """The new state, or the old where it is gone."""
        seen = self.new or self.old
        assert seen is not None  # there is no change without a run
        return seen

    @property
    def name(self) -> str:
        """The run's name; its file's where it has none."""
        return plain(self.seen.name or self.seen.file)

    @property
    def unplanned(self) -> tuple[str, ...]:
        """Which sides could not be planned: `old`, `new`."""
        sides = (("old", self.old), ("new", self.new))
        return tuple(side for side, seen in sides if seen is not None and seen.broken)


def compare_runs(old: Iterable[SeenRun], new: Iterable[SeenRun], work: Worker) -> tuple[tuple[RunChange, ...], int]:
    """Compare runs by name, of the rest those in files of the same name, and a single one with a single one.

    Returns those that differ, by name, and how many do not. Only what differs is planned.
    """
    changes = [_compare(before, after, work) for before, after in _match(tuple(old), tuple(new))]
    differing = [change for change in changes if change.state is not State.SAME]
    ordered = sorted(differing, key=lambda change: (not change.came, change.name.casefold(), change.seen.file))
    return tuple(ordered), len(changes) - len(differing)


def _match(old: Sequence[SeenRun], new: Sequence[SeenRun]) -> Iterator[tuple[SeenRun | None, SeenRun | None]]:
    if len(old) == len(new) == 1:
        yield old[0], new[0]
        return
    rest = list(new)
    alone = []
    for before in old:
        same = [after for after in rest if before.name and after.name == before.name]
        same += [after for after in rest if after.key == before.key]
        if same:
            rest.remove(same[0])
            yield before, same[0]
        else:
            alone.append(before)
    yield from ((before, None) for before in alone)
    yield from ((None, after) for after in rest)


def _compare(old: SeenRun | None, new: SeenRun | None, work: Worker) -> RunChange:
    if old is None or new is None:
        old, new = (None if seen is None else work(seen) for seen in (old, new))
        came, went = (() if seen is None else seen.findings for seen in (new, old))
        return RunChange(old, new, State.NEW if old is None else State.GONE, (), _effects(old, new), came, went)
    values: tuple[RunValueChange, ...] = ()
    unknown = False
    if old.run is not None and new.run is not None:
        values = changed_run_values(run_values(old.run), run_values(new.run))
        if matters(values):
            old, new = work(old), work(new)
    else:
        # What one side could not come to must not look as if it were gone, so neither is planned.
        unknown = old.source != new.source
    came, went = missing_from(new.findings, old.findings), missing_from(old.findings, new.findings)
    effects = _effects(old, new)
    differs = unknown or bool(values or came or went)
    return RunChange(old, new, State.CHANGED if differs else State.SAME, values, effects, came, went)


def _effects(old: SeenRun | None, new: SeenRun | None) -> tuple[Effect, ...]:
    """Return the amounts that differ, what is to be bought first; nothing where a side could not be planned."""
    sides = [seen for seen in (old, new) if seen is not None]
    plans = [seen.plan for seen in sides if seen.plan is not None]
    if len(plans) < len(sides):
        return ()
    before, after = ({} if seen is None or seen.plan is None else _amounts(seen.plan) for seen in (old, new))
    system = system_of(plans[-1])
    money = plain(plans[-1].run.prices.currency)
    titles = sorted({**after, **before}, key=lambda title: not (after.get(title) or before[title]).buys)
    found = (_effect(before.get(title), after.get(title), system, money) for title in titles)
    return tuple(effect for effect in found if effect is not None)


def _amounts(plan: RunPlan) -> Mapping[str, Amount]:
    amounts = (*_purchases(plan), *_work(plan))
    return {amount.title: amount for amount in amounts}


def _purchases(plan: RunPlan) -> Iterator[Amount]:
    bought = plan.purchases
    for frames in bought.frames:
        yield Amount(f"Frames for {plain(frames.drum)}", "count", "1", float(frames.to_buy), buys=True)
    for rings in bought.rings:
        yield Amount(f"Rings for {plain(rings.drum)}", "count", "1", float(rings.to_buy), buys=True)
    for skins in bought.skins:
        hide = plain(skins.hide)
        if skins.skins is None:
            yield Amount(f"Skins of {hide}, larger than ordinary", "count", "1", 1.0, buys=True)
        else:
            yield Amount(f"Ordinary skins of {hide}", "count", "1", float(skins.skins), buys=True)
        yield Amount(f"Skin of {hide} for what finds no place", "area", "mm2", skins.area_mm2, buys=True)
    for punch in bought.punches:
        title = f"Punches of {nominal_length(punch.size_mm, system_of(plan))}"
        yield Amount(title, "count", "1", 1.0, buys=True)


def _work(plan: RunPlan) -> Iterator[Amount]:
    missing = set(plan.layout.missing)
    heads = [piece.name for piece in plan.order.task.pieces if piece.use == "head"]
    laces = [need.name for need in plan.order.task.laces]
    yield Amount("Drums", "count", "1", float(len(plan.drums)))
    yield Amount("Heads to be cut that find no place on the skins", "count", "1", float(len(missing & set(heads))))
    yield Amount("Laces to be cut that find no place on the skins", "count", "1", float(len(missing & set(laces))))
    yield Amount("Skins at hand that are cut", "count", "1", float(len(plan.layout.hides_used)))
    yield Amount("Starts", "moment", "", plan.moment(min(work.start_min for work in plan.schedule.works)))
    yield Amount("Last drum is dry", "moment", "", plan.moment(max(plan.schedule.dry_min.values())))
    yield Amount("Finished", "moment", "", plan.moment(plan.schedule.finish_min))
    yield Amount("Hand time", "time", "min", sum(cost.work_min for cost in plan.costs))
    yield Amount("Cost of all drums", "money", "", total([cost.whole for cost in plan.costs]))


def _effect(old: Amount | None, new: Amount | None, system: System, money: str) -> Effect | None:
    """Return how an amount differs; None where it does not. What a run does not name, it does not take."""
    amount = new or old
    assert amount is not None  # it is of one of the sides
    before, after = (None if side is None else side.value for side in (old, new))
    if amount.style in ("moment", "money"):
        return _told(amount, before, after, money)
    was, now = (0.0 if not isinstance(value, float | int) else float(value) for value in (before, after))
    if abs(now - was) <= NOISE:
        return None
    return Effect(amount.title, amount.unit, was, now, *show_change(amount.style, amount.unit, was, now, system),
                  amount.buys)  # fmt: skip


def _told(amount: Amount, old: float | datetime | None, new: float | datetime | None, money: str) -> Effect | None:
    """Return how a moment or an amount of money differs."""
    if old == new:
        return None
    if isinstance(old, datetime | None) and isinstance(new, datetime | None):
        difference = "" if old is None or new is None else _later(old, new)
        return Effect(amount.title, "", _iso(old), _iso(new), _moment(old), _moment(new), difference, amount.buys)
    assert not isinstance(old, datetime)  # an amount is a moment on both sides, or on none
    assert not isinstance(new, datetime)
    label = f" {money}" if money else ""
    difference = "" if old is None or new is None else f"{new - old:+.{CENTS}f}{label}"
    return Effect(amount.title, money, old, new, _money(old, label), _money(new, label), difference, amount.buys)


def _moment(moment: datetime | None) -> str:
    return NONE if moment is None else f"{day_text(moment)}, {clock_text(moment)}"


def _iso(moment: datetime | None) -> str | None:
    return None if moment is None else moment.isoformat(timespec="minutes")


def _money(amount: float | None, label: str) -> str:
    return "not known" if amount is None else f"{amount:.{CENTS}f}{label}"


def _later(old: datetime, new: datetime) -> str:
    minutes = abs(new - old) / timedelta(minutes=1)
    return f"{time(minutes)} {'later' if new > old else 'sooner'}"


def worked_out(seen: SeenRun, plan: RunPlan | None, findings: tuple[Finding, ...]) -> SeenRun:
    """Return a run with its plan and what was found when it was planned."""
    return replace(seen, plan=plan, findings=findings, broken=plan is None)
