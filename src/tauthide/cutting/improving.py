"""The plan: a first one at once, then better ones, by taking out a neighbourhood and laying it anew."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from random import Random

from tauthide.cutting.bed import Bed
from tauthide.cutting.items import Item, make_boards, make_items
from tauthide.cutting.judging import Judge, Score
from tauthide.cutting.pieces import Layout, Piece, Placement, Task
from tauthide.cutting.state import State, Taste, nearest
from tauthide.cutting.wholeness import Unit, kinds_of, lay_whole, units_of

REPORT_ROUNDS = 50
"""Rounds between two reports where nothing better was found."""

MOST_AGAIN = 8
"""Missing items tried again in a round."""

MOST_ELSEWHERE = 6
"""Hides that a round left alone on which it tries to lay a piece that it took out."""


USES = ("head", "lace", "scrap")
"""In the order in which they are laid."""

SMALL_FIRST = 0.7
"""How often drums that are laid as wholes come small ones first, 0 to 1: more of them find room."""

# How often a round does what it does, 0 to 1: tried out on packings with published answers.
TWO_HIDES = 0.4
FAVOURED = 0.15
"""What was missing is laid first."""
WHOLE, HEADS_WANTING = 0.5, 0.1
"""Where drums are not whole: drum by drum, all that one needs or nothing of it. Seldom where only heads are wanting."""
STAY, MOVE = 0.45, 0.9
"""Up to which draw the hides taken from, or other hides, are tried first; beyond it, empty hides."""
ONE_SIDE, NEAR = 0.1, 0.2
"""Up to which draw places on one side, or near to a place, are taken first; beyond it, far from a place: what is laid
from the edge inwards packs best."""
MIDDLE, STRETCH = 0.75, 2.0
"""How much of a hide's length and width the place lies in that pieces are laid far from, and by how much at most one
way counts more than the other."""


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
        self._kinds = kinds_of(self.items)
        self._judge = Judge(self.items, self._kinds, task.set_tolerance_mm)
        self._in_parts = any(len(unit) > 1 for unit in units_of(self.items))
        boards = make_boards(task)
        self._areas = [hide.area_mm2 for hide in task.hides]
        bare = State([Bed(board) for board in boards], [() for _ in self.items])
        orders = list(self._first_orders())
        firsts = [self._first(bare, order) for order in orders]
        if self._in_parts and all(score[0] for score, _ in firsts):
            firsts += [self._first(bare, orders[0], units) for units in self._first_units()]
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
                use = item.wanted.use if isinstance(item.wanted, Piece) else "lace"
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
        yield sorted(self.items, key=lambda item: (USES.index(item.use), -item.size_mm, item.number))
        yield sorted(self.items, key=lambda item: (USES.index(item.use), item.size_mm, item.number))

    def _first_units(self) -> Iterator[list[Unit]]:
        """Drums, small ones first, or large ones: heads alone may take the place that their laces need."""
        sized = [(math.fsum(item.area_mm2 for item in unit), unit) for unit in units_of(self.items)]
        for sign in (1, -1):
            yield [unit for _, unit in sorted(sized, key=lambda pair: (sign * pair[0], pair[1][0].number))]

    def _first(self, bare: State, order: list[Item], units: Iterable[Unit] = ()) -> tuple[Score, State]:
        """Lay drums as wholes, if any are given, then everything else in order."""
        state = bare.copy()

        def taste(x: float, y: float) -> float:
            return y + x * 0.25

        lay_whole(state, units, self._hides, taste)
        refused: object = None
        for item in order:
            if state.spots[item.number]:
                continue
            like = (item.ways, item.wanted.least_mm, item.wanted.most_mm)
            # Where its like found no room just before, it will find none either.
            if like != refused and not state.lay_item(item, self._hides(state), taste):
                refused = like
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
        if len(used) > 1 and self._random() < TWO_HIDES:
            other = used[self._pick(len(used))]
            hides += [other] if other not in hides else []
        for hide in hides:
            laid = state.beds[hide].laid
            centre = laid[self._pick(len(laid))]
            close = nearest([(hide, piece) for piece in laid], (centre.x, centre.y))
            state.take_out(dict.fromkeys(piece.item for _, piece in close[: 1 + self._pick(len(close))]))
        return hides

    def _rebuild(self, state: State, ruined: list[int]) -> None:
        """Lay what was taken out, and some of what was missing before, largest first, more or less."""
        before = self._now[1].spots
        out = [item for item in self.items if not state.spots[item.number]]
        missing = [item.number for item in out if not before[item.number]]
        again = {missing[self._pick(len(missing))] for _ in range(MOST_AGAIN)} if missing else set()
        taste, mix = self._taste(state, ruined), self._random()
        mix *= mix
        favour = 2.0 if self._random() < FAVOURED else 1.0
        keyed = []
        for item in out:
            if before[item.number] or item.number in again:
                size_mm = item.size_mm * (1 - mix * self._random()) * (favour if item.number in again else 1.0)
                keyed.append(((USES.index(item.use), -size_mm, item.number), item))
        hides = self._hides_again(state, ruined)
        ordered = [item for _, item in sorted(keyed, key=lambda pair: pair[0])]
        if self._in_parts and self._now[0][0] and self._random() < self._share_whole():
            lay_whole(state, self._units_again(out, ordered, mix), lambda _: hides, taste)
        for item in ordered:
            if not state.spots[item.number]:
                state.lay_item(item, hides, taste)

    def _share_whole(self) -> float:
        spare = [kind.spare_laces(self._now[1].spots) for kind in self._kinds]
        return HEADS_WANTING if max(spare) > 0 and min(spare) >= 0 else WHOLE

    def _units_again(self, out: list[Item], ordered: list[Item], mix: float) -> list[Unit]:
        """What drums lack of which a piece is to be laid: small drums first, or large ones, more or less."""
        wanted = {item.number for item in ordered}
        sign = 1 if self._random() < SMALL_FIRST else -1
        keyed = []
        for unit in units_of(out):
            if any(item.number in wanted for item in unit):
                area_mm2 = math.fsum(item.area_mm2 for item in unit) * (1 - mix * self._random())
                keyed.append(((sign * area_mm2, unit[0].number), unit))
        return [unit for _, unit in sorted(keyed, key=lambda pair: pair[0])]

    def _hides_again(self, state: State, ruined: list[int]) -> list[int]:
        """In which order hides are tried: those taken from, some others in use, empty ones, or otherwise."""
        used = [hide for hide, bed in enumerate(state.beds) if bed.laid and hide not in ruined]
        start = self._pick(len(used)) if used else 0
        elsewhere = (used[start:] + used[:start])[:MOST_ELSEWHERE]
        empty = [hide for hide in self._hides(state) if not state.beds[hide].laid and hide not in ruined]
        mood = self._random()
        if mood < STAY or len(state.beds) == 1:
            return ruined + elsewhere + empty
        if mood < MOVE:
            return elsewhere + ruined + empty
        turn = self._pick(len(empty)) if empty else 0
        return elsewhere + empty[turn:] + empty[:turn] + ruined

    def _taste(self, state: State, ruined: list[int]) -> Taste:
        """A taste for one side of the hide, or for places near to or far from a place."""
        kind, a, b = self._random(), self._random() - 0.5, self._random() - 0.5
        if kind < ONE_SIDE or not ruined:
            return lambda x, y: a * x + b * y
        outline = state.beds[ruined[0]].board.hide.outline
        xs, ys = [x for x, _ in outline], [y for _, y in outline]
        share = 1.0 if kind < NEAR else MIDDLE
        px = (min(xs) + max(xs)) / 2 + share * a * (max(xs) - min(xs))
        py = (min(ys) + max(ys)) / 2 + share * b * (max(ys) - min(ys))
        if kind < NEAR:
            return lambda x, y: (x - px) * (x - px) + (y - py) * (y - py)
        stretch = STRETCH * self._random()
        return lambda x, y: -((x - px) * (x - px) + stretch * (y - py) * (y - py))
