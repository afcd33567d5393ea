"""The plan: a first one at once, then better ones, by taking out a neighbourhood and laying it anew."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from random import Random

from tauthide.cutting.bed import Bed
from tauthide.cutting.items import Item, make_boards, make_items
from tauthide.cutting.pieces import Layout, Placement, Task
from tauthide.cutting.state import Judge, Score, State, Taste, nearest

REPORT_ROUNDS = 50
"""Rounds between two reports where nothing better was found."""

MOST_AGAIN = 8
"""Missing items tried again in a round."""

MOST_ELSEWHERE = 6
"""Hides that a round left alone on which it tries to lay a piece that it took out."""


@dataclass(frozen=True, slots=True)
class Progress:
    """The best layout after some rounds."""

    rounds: int
    layout: Layout
    better: bool
    """Whether it is better than the one before."""


def improve(task: Task, rounds: int, seed: int = 0) -> Iterator[Progress]:
    """Yield the first plan at once, each better one, and every 50 rounds the best; at the end the best.

    Stop asking, and the last that came is the best so far. The same task, rounds and seed give the same layouts
    on any machine; more rounds go on from where fewer ended.
    """
    search = Search(task, seed)
    yield Progress(0, search.layout(), True)
    for number in range(1, rounds + 1):
        better = search.step()
        if better or number % REPORT_ROUNDS == 0 or number == rounds:
            yield Progress(number, search.layout(), better)


def plan_cutting(task: Task, rounds: int, seed: int = 0) -> Layout:
    """Return the best layout after some rounds."""
    search = Search(task, seed)
    for _ in range(rounds):
        search.step()
    return search.layout()


class Search:
    """The search for a better layout, one round at a time."""

    def __init__(self, task: Task, seed: int) -> None:
        """Make everything ready and lay a first plan."""
        self.task = task
        self._random = Random(seed).random  # the one method whose numbers Python promises for good
        self.items = make_items(task)
        self._judge = Judge(self.items, task.set_tolerance_mm)
        boards = make_boards(task)
        self._areas = [hide.area_mm2 for hide in task.hides]
        bare = State([Bed(board) for board in boards], [() for _ in self.items])
        firsts = [self._first(bare, order) for order in self._first_orders()]
        self._now: tuple[Score, State] = min(firsts, key=lambda first: first[0])
        self._best = self._now

    @property
    def score(self) -> Score:
        """How good the best layout is: the least is best."""
        return self._best[0]

    def layout(self) -> Layout:
        """The best layout so far."""
        state = self._best[1]
        placements = []
        for hide, bed in zip(self.task.hides, state.beds, strict=True):
            for laid in sorted(bed.laid, key=lambda laid: (laid.item, laid.part)):
                item, form = self.items[laid.item], laid.form
                use = item.wanted.use if item.use != "lace" and hasattr(item.wanted, "use") else "lace"
                place = (laid.x, laid.y)
                placements.append(
                    Placement(item.wanted.name, laid.part, use, form.shape, hide.name, place, form.angle_deg)
                )
        return Layout(self.task, tuple(placements))

    def step(self) -> bool:
        """One round: take out, lay anew, keep what is no worse. Whether it is better than all before."""
        state = self._now[1].copy()
        ruined = self._ruin(state)
        self._rebuild(state, ruined)
        score = self._judge.score(state)
        if score <= self._now[0]:
            self._now = (score, state)
        if score < self._best[0]:
            self._best = (score, state)
            return True
        return False

    def _first_orders(self) -> Iterator[list[Item]]:
        uses = ("head", "lace", "scrap")
        yield sorted(self.items, key=lambda item: (uses.index(item.use), -item.size_mm, item.number))
        yield sorted(self.items, key=lambda item: (uses.index(item.use), item.size_mm, item.number))

    def _first(self, bare: State, order: list[Item]) -> tuple[Score, State]:
        state = bare.copy()

        def taste(x: float, y: float) -> float:
            return y + x * 0.25

        refused: list[tuple[object, tuple[int, ...]]] = []
        for item in order:
            hides = self._hides(state)
            # Where its like found no room just before, it will find none either.
            if refused and refused[-1][0] == (item.ways, item.wanted.least_mm, item.wanted.most_mm):
                continue
            if not state.lay_item(item, hides, taste):
                refused.append(((item.ways, item.wanted.least_mm, item.wanted.most_mm), ()))
        return self._judge.score(state), state

    def _hides(self, state: State) -> list[int]:
        """All hides: those in use first, then the largest."""
        return sorted(range(len(self._areas)), key=lambda hide: (not state.beds[hide].laid, -self._areas[hide], hide))

    def _pick(self, count: int) -> int:
        """A number from 0 up to but not with `count`."""
        return min(int(self._random() * count), count - 1)

    def _ruin(self, state: State) -> list[int]:
        """Take out a neighbourhood of a hide or of two; return the hides."""
        used = [hide for hide, bed in enumerate(state.beds) if bed.laid]
        if not used:
            return []
        hides = [used[self._pick(len(used))]]
        if len(used) > 1 and self._random() < 0.4:
            other = used[self._pick(len(used))]
            hides += [other] if other not in hides else []
        for hide in hides:
            laid = state.beds[hide].laid
            centre = laid[self._pick(len(laid))]
            close = nearest([(hide, piece) for piece in laid], (centre.x, centre.y))
            share = self._random()
            count = 1 + int(share * share * len(close)) if len(close) > 3 else 1 + self._pick(len(close))
            state.take_out(dict.fromkeys(piece.item for _, piece in close[:count]))
        return hides

    def _rebuild(self, state: State, ruined: list[int]) -> None:
        out = [item for item in self.items if not state.spots[item.number]]
        was_out = [item for item in out if not self._now[1].spots[item.number]]
        again = {was_out[self._pick(len(was_out))].number for _ in range(MOST_AGAIN)} if was_out else set()
        out = [item for item in out if self._now[1].spots[item.number] or item.number in again]
        taste, mix = self._taste(state, ruined), self._random()
        mix *= mix
        uses = {"head": 0, "lace": 1, "scrap": 2}
        keyed = [((uses[item.use], -item.size_mm * (1 - mix * self._random()), item.number), item) for item in out]
        used = [hide for hide, bed in enumerate(state.beds) if bed.laid and hide not in ruined]
        start = self._pick(len(used)) if used else 0
        elsewhere = (used[start:] + used[:start])[:MOST_ELSEWHERE]
        empty = sorted(
            (hide for hide, bed in enumerate(state.beds) if not bed.laid and hide not in ruined),
            key=lambda hide: (-self._areas[hide], hide),
        )
        hides = elsewhere + ruined if self._random() < 0.5 else ruined + elsewhere
        for _, item in sorted(keyed, key=lambda pair: pair[0]):
            state.lay_item(item, hides + empty, taste)

    def _taste(self, state: State, ruined: list[int]) -> Taste:
        """A taste for one side of the hide, or for places near to or far from a place."""
        kind, a, b = self._random(), self._random() - 0.5, self._random() - 0.5
        if kind < 0.5 or not ruined:
            return lambda x, y: a * x + b * y
        outline = state.beds[ruined[0]].board.hide.outline
        xs, ys = [x for x, _ in outline], [y for _, y in outline]
        px = min(xs) + (a + 0.5) * (max(xs) - min(xs))
        py = min(ys) + (b + 0.5) * (max(ys) - min(ys))
        if kind < 0.75:
            return lambda x, y: (x - px) * (x - px) + (y - py) * (y - py)
        return lambda x, y: -((x - px) * (x - px) + (y - py) * (y - py))
