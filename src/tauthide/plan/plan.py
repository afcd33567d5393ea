"""The plan, and how it is worked out from a spec."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from tauthide.figures import Figure, Workings
from tauthide.geometry.blank import is_round
from tauthide.geometry.holes import Pair, StationMark
from tauthide.geometry.marking import Marking
from tauthide.geometry.outline import Outline
from tauthide.lacing.lacings import lacing_of
from tauthide.lacing.order import Lacing, Step
from tauthide.plan.standing import Standing
from tauthide.quantities.holding import RULES, governing_rule
from tauthide.quantities.lace import parts_of
from tauthide.quantities.membrane import Mode
from tauthide.quantities.nesting import Boards
from tauthide.quantities.staves import can_be_cut
from tauthide.quantities.voice import has_voice
from tauthide.spec.digest import digest
from tauthide.spec.settings import Spec
from tauthide.work.operations import Operation, order_of_work


@dataclass(frozen=True, slots=True)
class Reading:
    """A figure of this drum: its definition and its value in base units."""

    figure: Figure
    value: float


@dataclass(frozen=True, slots=True)
class Plan:
    """One drum, worked out. All points are seen from the inner side, in mm, centre at (0, 0), y up."""

    spec: Spec
    digest: str
    figures: Mapping[str, Reading]
    """Every figure that this drum has, by name."""
    outline: Outline
    """The frame's outside edge, as if numbered anticlockwise (every outline is its own mirror image)."""
    stations: tuple[StationMark, ...]
    """From station 1 on."""
    blank: tuple[Pair, ...]
    """Pairs on the flat blank, from station 1 on."""
    mounted: tuple[Pair, ...]
    """Where the lace takes hold on the frame, from station 1 on."""
    marking: Marking
    lacing: Lacing
    steps: tuple[Step, ...]
    """The lacing, step by step."""
    lace_parts: tuple[str, ...]
    """Names of the figures that add up to `lace.net_length`."""
    operations: tuple[Operation, ...]
    modes: tuple[Mode, ...] = ()
    """The modes of the head, lowest first; none where no tension can be told."""
    governs: Mapping[str, str] = field(default_factory=dict)
    """By `dry` and `wet`, the rule by which a station holds least, in words; empty on frames that are not round."""
    boards: Boards = ()
    """The boards for one ring of staves, and what is cut from each; empty where the frame is not of staves."""
    standing: Standing | None = None
    """How it stands with its approval; None where that was not asked."""
    head: int = 1
    """Which head's blank, holes and marking these are."""
    second: Plan | None = None
    """Of two heads the second, as its own maker sees it from its inner side: numbered the other way round. Its blank,
    holes and marking are meant; all else is the drum's."""

    def __getitem__(self, name: str) -> float:
        """Return the value of the figure `name` in its base unit; KeyError if this drum has none."""
        return self.figures[name].value

    def has(self, name: str) -> bool:
        """Tell whether this drum has the figure `name`."""
        return name in self.figures


OTHER_HAND = {"clockwise": "anticlockwise", "anticlockwise": "clockwise"}


def make_plan(workings: Workings) -> Plan:
    """Work out the plan; the gate rules must have passed, or geometry may not exist."""
    plan = _plan_of(workings)
    if plan.lacing.heads == 1:
        return plan
    return replace(plan, second=replace(_plan_of(_second_head(workings)), digest=plan.digest, head=2))


def _second_head(workings: Workings) -> Workings:
    """Return the workings of the head that faces the first: seen from its own inner side all is the other way round."""
    settings = dict(workings.spec.settings)
    hand = settings["stations.hand"]
    settings["stations.hand"] = replace(hand, value=OTHER_HAND[workings.spec.word("stations.hand")])
    return workings.of(replace(workings.spec, settings=settings))


def _plan_of(workings: Workings) -> Plan:
    return Plan(
        spec=workings.spec,
        digest=digest(workings.spec),
        figures={figure.name: Reading(figure, workings[figure.name]) for figure in workings.applicable()},
        outline=workings.shape("frame.outline"),
        stations=workings.shape("stations.marks"),
        blank=workings.shape("holes.blank"),
        mounted=workings.shape("holes.mounted"),
        marking=workings.shape("stations.marking"),
        lacing=lacing_of(workings),
        steps=workings.shape("lace.steps"),
        lace_parts=parts_of(workings),
        operations=order_of_work(workings),
        modes=workings.shape("voice.modes") if has_voice(workings) else (),
        governs={state: RULES[state][governing_rule(workings, state)] for state in RULES} if is_round(workings) else {},
        boards=workings.shape("stave.cutting") if can_be_cut(workings) else (),
    )
