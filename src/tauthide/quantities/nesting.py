"""Pieces cut from boards of a few lengths, any number of each: little bought, and which pieces from which board.

Few pieces are laid out as well as can be, by trying; many by first fit, longest piece first, which for boards of one
length takes at most 11/9 of the best and 6/9 of a board more. Source: Dosa 2007, The tight bound of first fit
decreasing bin-packing algorithm. Pieces all of one length are laid out as well as can be in any number.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from math import floor, inf

MOST_TRIED = 9
"""Up to so many pieces of different lengths are laid out by trying."""

SLACK_MM = 1e-6
"""A piece fits that is longer by no more: far less than a saw can do, but more than floats lose."""


@dataclass(frozen=True, slots=True)
class Cut:
    """One piece of a board."""

    name: str
    """What it is for."""
    length_mm: float
    """What it takes of the board, the saw's cut with it."""


@dataclass(frozen=True, slots=True)
class Board:
    """One board and what is cut from it, in order from one end."""

    length_mm: float
    ends_mm: float
    """Cut off each end first."""
    cuts: tuple[Cut, ...]

    @property
    def left_mm(self) -> float:
        """Length that is left over beside pieces and ends."""
        return self.length_mm - 2 * self.ends_mm - sum(cut.length_mm for cut in self.cuts)

    def fits(self, cut: Cut) -> bool:
        """Tell whether a further piece fits."""
        return cut.length_mm <= self.left_mm + SLACK_MM


Boards = tuple[Board, ...]


def nest(cuts: Iterable[Cut], stock_mm: Iterable[float], ends_mm: float = 0.0) -> Boards:
    """Return boards that give all pieces, the longest first; ValueError if a piece is longer than any board gives.

    As little length of board as is found; of equals, the fewest boards. The same for the same input, always.
    """
    stock = sorted(set(stock_mm))
    listed = sorted(cuts, key=lambda cut: (-cut.length_mm, cut.name))
    if not listed:
        return ()
    if not stock or listed[0].length_mm > stock[-1] - 2 * ends_mm + SLACK_MM:
        raise ValueError("a piece is longer than any board gives")
    if listed[0].length_mm - listed[-1].length_mm <= SLACK_MM:
        return _of_one_length(listed, stock, ends_mm)
    found = min((_first_fit(listed, stock, ends_mm, length) for length in stock if _gives(length, listed[0], ends_mm)),
                key=price)  # fmt: skip
    return _tried(listed, stock, ends_mm, found) if len(listed) <= MOST_TRIED else found


def price(boards: Boards) -> tuple[float, int]:
    """Return what boards cost: their length in mm to a micrometre, and of equals their number."""
    return (round(sum(board.length_mm for board in boards), 3), len(boards))


def _gives(length_mm: float, cut: Cut, ends_mm: float) -> bool:
    return Board(length_mm, ends_mm, ()).fits(cut)


def _of_one_length(cuts: Sequence[Cut], stock: Sequence[float], ends_mm: float) -> Boards:
    """Return the best boards for pieces all as long: the cheapest way to each number, from what one board adds."""
    each = [floor((length - 2 * ends_mm + SLACK_MM) / cuts[0].length_mm) for length in stock]
    best: list[tuple[float, int, int]] = [(0.0, 0, -1)]
    for wanted in range(1, len(cuts) + 1):
        ways = [
            (round(best[max(0, wanted - number)][0] + length, 3), best[max(0, wanted - number)][1] + 1, kind)
            for kind, (number, length) in enumerate(zip(each, stock, strict=True))
            if number > 0
        ]
        best.append(min(ways))
    kinds = []
    wanted = len(cuts)
    while wanted > 0:
        kinds.append(best[wanted][2])
        wanted -= each[kinds[-1]]
    boards, at = [], 0
    for kind in sorted(kinds, key=lambda kind: -stock[kind]):
        boards.append(Board(stock[kind], ends_mm, tuple(cuts[at : at + each[kind]])))
        at += each[kind]
    return tuple(boards)


def _first_fit(cuts: Sequence[Cut], stock: Sequence[float], ends_mm: float, opened_mm: float) -> Boards:
    """Lay each piece on the first board that has room, else on a new one; then shrink boards to what they need."""
    shared: list[list[Cut]] = []
    left_mm: list[float] = []
    shortest_mm = cuts[-1].length_mm - SLACK_MM
    open_boards: list[int] = []
    for cut in cuts:
        at = next((index for index in open_boards if cut.length_mm <= left_mm[index] + SLACK_MM), None)
        if at is None:
            at = len(shared)
            shared.append([])
            left_mm.append(opened_mm - 2 * ends_mm)
            open_boards.append(at)
        shared[at].append(cut)
        left_mm[at] -= cut.length_mm
        if left_mm[at] < shortest_mm:
            open_boards.remove(at)  # nothing fits any more, so that a large run stays quick
    return tuple(_shrunk(Board(opened_mm, ends_mm, tuple(pieces)), stock) for pieces in shared)


def _shrunk(board: Board, stock: Sequence[float]) -> Board:
    """Return the board with the least length of stock that still gives all its pieces."""
    return next(
        smaller for smaller in (replace(board, length_mm=length) for length in stock) if smaller.left_mm >= -SLACK_MM
    )


def _tried(cuts: Sequence[Cut], stock: Sequence[float], ends_mm: float, found: Boards) -> Boards:
    """Return the best boards of all ways to share the pieces out, or what was found where none is better."""
    best, best_price = found, price(found)

    def share(at: int, boards: Boards) -> None:
        nonlocal best, best_price
        shrunk = tuple(_shrunk(board, stock) for board in boards)
        if price(shrunk) >= best_price:
            return
        if at == len(cuts):
            best, best_price = shrunk, price(shrunk)
            return
        cut, seen = cuts[at], set()
        for index, board in enumerate(boards):
            left = round(board.left_mm, 6)
            if board.fits(cut) and left not in seen:
                seen.add(left)
                share(at + 1, (*boards[:index], replace(board, cuts=(*board.cuts, cut)), *boards[index + 1 :]))
        share(at + 1, (*boards, Board(stock[-1], ends_mm, (cut,))))

    share(0, ())
    return best


def bought_mm(boards: Iterable[Board]) -> float:
    """Return the length of all boards together."""
    return sum(board.length_mm for board in boards)


def longest_piece_mm(stock_mm: Iterable[float], ends_mm: float) -> float:
    """Return the longest piece, saw's cut with it, that the boards give; below 0 where there are none."""
    return max((length - 2 * ends_mm for length in stock_mm), default=-inf)
