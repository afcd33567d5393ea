"""Boards cut up: nothing overlaps or is lost, and little is bought, against every way there is for few pieces."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from math import inf

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tauthide.quantities.nesting import MOST_TRIED, Boards, Cut, bought_mm, longest_piece_mm, nest, price

SLACK = 1e-6


def cuts_of(lengths: Sequence[float]) -> list[Cut]:
    return [Cut(f"piece {number}", length) for number, length in enumerate(lengths)]


def ways_to_share(pieces: Sequence[float]) -> Iterator[list[list[float]]]:
    """Yield every way to share pieces out among boards that are not told apart."""
    if not pieces:
        yield []
        return
    first, rest = pieces[0], pieces[1:]
    for shared in ways_to_share(rest):
        yield [[first], *shared]
        for index, board in enumerate(shared):
            yield [*shared[:index], [first, *board], *shared[index + 1 :]]


def least_bought(pieces: Sequence[float], stock: Sequence[float], ends: float) -> float:
    """Return the least length of boards, found by trying all ways; independent of how the program does it."""
    best = inf
    for shared in ways_to_share(pieces):
        lengths = []
        for board in shared:
            enough = [length for length in stock if sum(board) + 2 * ends <= length + SLACK]
            if not enough:
                break
            lengths.append(min(enough))
        else:
            best = min(best, sum(lengths))
    return best


def check(boards: Boards, cuts: Sequence[Cut], stock: Sequence[float], ends: float) -> None:
    """Every piece is cut once, no board gives more than it has, and all boards are of the stock."""
    assert Counter(cut for board in boards for cut in board.cuts) == Counter(cuts)
    for board in boards:
        assert board.cuts
        assert board.length_mm in stock
        assert sum(cut.length_mm for cut in board.cuts) + 2 * ends <= board.length_mm + SLACK


pieces = st.lists(st.integers(20, 400), min_size=1, max_size=7)
stocks = st.lists(st.integers(450, 1500), min_size=1, max_size=3, unique=True)


class TestFew:
    @settings(max_examples=150, deadline=None)
    @given(pieces, stocks, st.integers(0, 25))
    def test_as_little_as_any_way_there_is(self, lengths: list[int], stock: list[int], ends: int) -> None:
        cuts = cuts_of(lengths)
        boards = nest(cuts, stock, ends)
        check(boards, cuts, stock, ends)
        assert bought_mm(boards) == pytest.approx(least_bought(lengths, stock, ends))

    def test_first_fit_alone_would_buy_more(self) -> None:
        """By first fit, longest first, 45 and 40 share a board, then three of 30, and 25 needs a third."""
        lengths = [45.0, 40.0, 30.0, 30.0, 30.0, 25.0]
        boards = nest(cuts_of(lengths), [100.0])
        assert sorted(sum(cut.length_mm for cut in board.cuts) for board in boards) == [100.0, 100.0]

    def test_of_equal_lengths_the_fewest_boards(self) -> None:
        assert [board.length_mm for board in nest(cuts_of([300.0, 290.0]), [400.0, 800.0])] == [800.0]


class TestAlike:
    @settings(max_examples=150, deadline=None)
    @given(st.integers(1, 7), st.integers(20, 400), stocks, st.integers(0, 25))
    def test_as_little_as_any_way_there_is(self, count: int, length: int, stock: list[int], ends: int) -> None:
        cuts = cuts_of([length] * count)
        boards = nest(cuts, stock, ends)
        check(boards, cuts, stock, ends)
        assert bought_mm(boards) == pytest.approx(least_bought([length] * count, stock, ends))

    def test_many(self) -> None:
        """Ten of 151 mm out of 1.5 m less its ends is one too many; 24 are cheapest of 2.4 and 1.5 m."""
        boards = nest(cuts_of([151.0] * 24), [1000.0, 1500.0, 2400.0], 25.0)
        assert [(board.length_mm, len(board.cuts)) for board in boards] == [(2400.0, 15), (1500.0, 9)]

    def test_a_thousand_rings(self) -> None:
        boards = nest(cuts_of([92.0] * 12_000), [1000.0, 2000.0], 25.0)
        assert sum(len(board.cuts) for board in boards) == 12_000
        assert price(boards) == (1_143_000.0, 572)  # 21 of 2 m for each 21: 571 boards and one of 1 m for the rest


class TestMany:
    @settings(max_examples=60, deadline=None)
    @given(st.lists(st.integers(20, 400), min_size=MOST_TRIED + 1, max_size=60), stocks, st.integers(0, 25))
    def test_nothing_is_lost(self, lengths: list[int], stock: list[int], ends: int) -> None:
        cuts = cuts_of(lengths)
        check(nest(cuts, stock, ends), cuts, stock, ends)

    @settings(max_examples=8, deadline=None)
    @given(st.lists(st.integers(100, 400), min_size=10, max_size=10, unique=True), st.integers(450, 900))
    def test_within_the_bound_of_first_fit(self, lengths: list[int], board: int) -> None:
        """At most 11/9 of the best number of boards and 6/9 of a board (Dosa 2007), the best by trying all ways."""
        assert len(lengths) > MOST_TRIED
        best = round(least_bought(lengths, [board], 0.0) / board)
        assert best <= len(nest(cuts_of(lengths), [board])) <= 11 / 9 * best + 6 / 9

    @settings(max_examples=30, deadline=None)
    @given(st.lists(st.integers(20, 400), min_size=1, max_size=20), stocks)
    def test_order_of_the_pieces_does_not_matter(self, lengths: list[int], stock: list[int]) -> None:
        cuts = cuts_of(lengths)
        assert nest(cuts, stock) == nest(list(reversed(cuts)), list(reversed(stock)))


class TestLimits:
    def test_nothing_to_cut(self) -> None:
        assert nest([], [1000.0]) == ()

    @pytest.mark.parametrize(("length", "ends"), [(1000.0, 0.0), (950.0, 25.0)])
    def test_just_fits(self, length: float, ends: float) -> None:
        assert len(nest(cuts_of([length]), [1000.0], ends)) == 1

    @pytest.mark.parametrize(("length", "ends"), [(1000.01, 0.0), (950.01, 25.0)])
    def test_too_long(self, length: float, ends: float) -> None:
        with pytest.raises(ValueError, match="longer than any board"):
            nest(cuts_of([length]), [1000.0], ends)

    def test_no_boards(self) -> None:
        with pytest.raises(ValueError, match="longer than any board"):
            nest(cuts_of([10.0]), [])

    def test_longest_piece(self) -> None:
        assert longest_piece_mm([600.0, 1000.0], 25.0) == 950.0
