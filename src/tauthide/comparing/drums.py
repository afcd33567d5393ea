"""The comparison of two drums, and of two batches of drums."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from tauthide.comparing.figures import FigureChange, changed_figures
from tauthide.comparing.holes import HoleMove, moved_holes
from tauthide.comparing.matching import State, missing_from
from tauthide.comparing.needs import Need, needs
from tauthide.comparing.runs import RunChange
from tauthide.comparing.seen import Seen
from tauthide.comparing.steps import StepChange, changed_steps
from tauthide.comparing.values import ValueChange, WordChange, changed_values, changed_words, roots
from tauthide.findings import Finding, Severity
from tauthide.plan.concerns import Concern
from tauthide.text import plain


@dataclass(frozen=True, slots=True)
class DrumChange:
    """All that differs between two states of one drum; what does not differ is not in it."""

    old: Seen | None
    new: Seen | None
    state: State
    values: tuple[ValueChange, ...] = ()
    words: tuple[WordChange, ...] = ()
    figures: tuple[FigureChange, ...] = ()
    holes: tuple[HoleMove, ...] = ()
    steps: tuple[StepChange, ...] = ()
    came: tuple[Finding, ...] = ()
    went: tuple[Finding, ...] = ()

    @property
    def name(self) -> str:
        """The drum's name, the new one where it was renamed; its file's where it has none."""
        for seen in (self.new, self.old):
            if seen is not None:
                return plain(seen.drum or seen.file)
        return ""

    @property
    def file(self) -> str:
        """The spec's file, the new one if there is one."""
        seen = self.new or self.old
        return "" if seen is None else seen.file

    @property
    def computed(self) -> bool:
        """Tell whether there are figures on both sides."""
        return self.old is not None and self.new is not None and None not in (self.old.plan, self.new.plan)

    @property
    def spoils_skin(self) -> bool:
        """Tell whether skin that was cut, or a gauge that was made, by the old plan is wrong by the new one."""
        return bool(self.holes) or any(change.concern is Concern.SKIN for change in self.figures)


@dataclass(frozen=True, slots=True)
class Comparison:
    """What differs between two batches."""

    drums: tuple[DrumChange, ...]
    """Only those that differ: what spoils skin first, then by name."""
    same: int
    """How many drums do not differ."""
    needs: tuple[Need, ...]
    """What all drums together take, where that differs."""
    runs: tuple[RunChange, ...] = ()
    """Only those that differ."""
    same_runs: int = 0

    @property
    def differs(self) -> bool:
        """Tell whether anything does."""
        return bool(self.drums or self.runs)

    @property
    def told_runs(self) -> bool:
        """Tell whether there are runs on either side."""
        return bool(self.runs or self.same_runs)


def compare(old: Iterable[Seen], new: Iterable[Seen]) -> Comparison:
    """Compare two batches: drums by name, and of the rest those whose files have the same name."""
    old, new = tuple(old), tuple(new)
    changes = [compare_drum(before, after) for before, after in _match(old, new)]
    differing = [change for change in changes if change.state is not State.SAME]
    ordered = sorted(differing, key=lambda change: (_weight(change), change.name.casefold(), change.file))
    return Comparison(tuple(ordered), len(changes) - len(differing), needs(old, new))


def compare_drum(old: Seen | None, new: Seen | None) -> DrumChange:
    """Compare two states of one drum; None where it is new or gone."""
    if old is None or new is None:
        came = () if new is None else new.findings
        went = () if old is None else old.findings
        return DrumChange(old, new, State.NEW if old is None else State.GONE, came=came, went=went)
    values = () if old.spec is None or new.spec is None else changed_values(old.spec, new.spec)
    holes: tuple[HoleMove, ...] = ()
    steps: tuple[StepChange, ...] = ()
    if old.plan is not None and new.plan is not None:
        holes, steps = moved_holes(old.plan, new.plan), changed_steps(old.plan, new.plan)
    parts = (
        values,
        changed_words(old, new),
        changed_figures(old, new, roots(values)),
        holes,
        steps,
        missing_from(new.findings, old.findings),
        missing_from(old.findings, new.findings),
    )
    # What can't be read can't be compared, unless it is the very same text.
    unknown = None in (old.spec, new.spec) and old.source != new.source
    return DrumChange(old, new, State.CHANGED if unknown or any(parts) else State.SAME, *parts)


def _match(old: Sequence[Seen], new: Sequence[Seen]) -> Iterator[tuple[Seen | None, Seen | None]]:
    if len(old) == len(new) == 1:
        yield old[0], new[0]
        return
    left, right = list(old), list(new)
    for same in (_by_drum, _by_file):
        keyed = {same(seen): seen for seen in reversed(right) if same(seen)}
        for seen in tuple(left):
            other = keyed.pop(same(seen), None)
            if other is not None:
                left = [item for item in left if item is not seen]
                right = [item for item in right if item is not other]
                yield seen, other
    yield from ((seen, None) for seen in left)
    yield from ((None, seen) for seen in right)


def _by_drum(seen: Seen) -> str:
    return seen.drum


def _by_file(seen: Seen) -> str:
    return seen.key


def _weight(change: DrumChange) -> int:
    """Return where a drum stands in the list: errors that came, then skin, then the rest."""
    if any(finding.severity is Severity.ERROR for finding in change.came):
        return 0
    if change.spoils_skin:
        return 1
    return 2 if change.figures else 3
