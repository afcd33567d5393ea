"""The plan of cutting: what is laid, in which order things matter, and that it is the same every time."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import islice

import pytest

from cutting_bounds import most_discs, most_pieces, used_share
from cutting_hides import HIDES
from tauthide.cutting.faults import faults
from tauthide.cutting.forms import form_of, lay
from tauthide.cutting.hides import Hide, Point, Reading, Zone
from tauthide.cutting.improving import REPORT_ROUNDS, Search, improve, plan_cutting
from tauthide.cutting.items import make_items
from tauthide.cutting.pieces import Blank, Disc, LaceNeed, Piece, Task
from tauthide.cutting.wholeness import kinds_of


def square(side_mm: float, name: str = "square", species: str = "goat") -> Hide:
    """A square hide of 1 mm."""
    return Hide(name, species, ((0.0, 0.0), (side_mm, 0.0), (side_mm, side_mm), (0.0, side_mm)), 1.0)


def heads(count: int, radius_mm: float, **more: object) -> tuple[Piece, ...]:
    """Round heads."""
    return tuple(replace(Piece(f"head {n}", "head", Disc(radius_mm)), **more) for n in range(count))  # type: ignore[arg-type]


def oval(length_mm: float, width_mm: float, corners: int = 16) -> Blank:
    """A polygon drawn round an oval."""
    turn, grown = 2 * math.pi / corners, 1 / math.cos(math.pi / corners)
    points = ((grown * math.cos(turn * n), grown * math.sin(turn * n)) for n in range(corners))
    return Blank(tuple((x * width_mm / 2, y * length_mm / 2) for x, y in points))


def test_four_heads_fill_a_square_to_the_knife() -> None:
    task = Task((square(415.1),), heads(4, 100.0), knife_mm=5.0)
    layout = plan_cutting(task, 50)
    assert not layout.missing
    assert not faults(layout)
    assert plan_cutting(replace(task, hides=(square(414.9),)), 50).missing


def test_fewest_hides_before_laces() -> None:
    # Two small hides hold a head each, the large one both: one hide's heads, laces on what is left.
    hides = (square(210.0, "a"), square(420.0, "b"), square(210.0, "c"))
    laces = (LaceNeed("lace", ((Disc(90.0),),)),)
    layout = plan_cutting(Task(hides, heads(2, 100.0), laces), 20)
    assert layout.hides_used == ("b",)
    assert not layout.missing


def test_whole_drums_first() -> None:
    # Room for one large head or for two small ones of one drum.
    pair = tuple(replace(head, name=f"small {n}", drum=f"{n}") for n, head in enumerate(heads(2, 99.0)))
    large = replace(pair[0], name="large", shape=Disc(150.0), drum="large")
    slip = Hide("slip", "goat", ((0.0, 0.0), (400.0, 0.0), (400.0, 301.0), (0.0, 301.0)), 1.0)
    assert plan_cutting(Task((slip,), (large, *pair)), 30).missing == ("large",)


def test_no_head_is_laid_whose_lace_another_drum_could_have() -> None:
    # Room for both heads, or for the small one and its lace; the large one's lace finds no place at all.
    large = Piece("large", "head", Disc(120.0), drum="large")
    small = Piece("small", "head", Disc(100.0), drum="small")
    laces = (LaceNeed("long", ((Disc(230.0),),), drum="large"), LaceNeed("short", ((Disc(119.0),),), drum="small"))
    slip = Hide("slip", "goat", ((0.0, 0.0), (450.0, 0.0), (450.0, 241.0), (0.0, 241.0)), 1.0)
    for rounds in (0, 30):
        layout = plan_cutting(Task((slip,), (large, small), laces), rounds)
        assert layout.missing == ("large", "long")
        assert not faults(layout)
    # With its lace in stock the large head makes a drum as well as the small one with its lace: two heads are laid.
    assert plan_cutting(Task((slip,), (large, small), laces[1:]), 0).missing == ("short",)
    assert plan_cutting(Task((slip,), (large, replace(small, drum=None)), laces[:1]), 0).missing == ("long",)


def test_heads_and_laces_that_are_alike_count_for_one_another() -> None:
    pair = tuple(replace(head, drum=head.name, kind="kind") for head in heads(2, 100.0))
    lace = LaceNeed("lace", ((Disc(50.0),),), drum="head 1", kind="kind")
    spots = [((0, lay(0, 0, form_of(Disc(1.0), "head", 0.0, 0.0), 0.0, 0.0)),), (), ()]
    (kind,) = kinds_of(make_items(Task((square(300.0),), pair, (lace,))))
    # The first head's drum has its lace, the second's is to be cut.
    assert (kind.drums, kind.ready, kind.broken(spots)) == (2, 1, 1)
    assert kind.broken([(), spots[0], ()]) == 1
    assert kind.broken([spots[0], spots[0], ()]) == 1
    assert kind.broken([(), (), spots[0]]) == 2
    assert kind.broken([spots[0]] * 3) == 0
    # Laces laid beyond the heads there are; a lace in stock is not laid.
    for laid, spare in (("", 0), ("h", 0), ("hh", -1), ("l", 1), ("hl", 1), ("hhl", 0)):
        heads_laid = [spots[0] if number < laid.count("h") else () for number in range(2)]
        assert kind.spare_laces([*heads_laid, spots[0] if "l" in laid else ()]) == spare


@pytest.mark.parametrize("seed", range(4))
def test_more_rounds_leave_no_fewer_whole_drums(seed: int) -> None:
    pieces, laces = [], []
    for size in range(3):
        for number in range(4):
            drum = f"{size}-{number}"
            pieces.append(Piece(drum, "head", Disc(90.0 + 25 * size), drum=drum, kind=f"{size}"))
            laces.append(LaceNeed(f"{drum} lace", ((Disc(60.0 + 20 * size),),), drum=drum, kind=f"{size}"))
    search = Search(Task((square(700.0),), tuple(pieces), tuple(laces), 5.0), seed)
    provided = []
    for _ in range(60):
        missing = set(search.layout().missing)
        broken = 0
        for size in range(3):
            gone = [name for name in missing if name.startswith(f"{size}-")]
            of_laces = sum(name.endswith("lace") for name in gone)
            broken += max(of_laces, len(gone) - of_laces)
        provided.append(12 - broken)
        search.step()
    assert provided == sorted(provided)
    assert provided[0] > 0
    assert provided[-1] >= 4


def test_a_drum_has_one_lace() -> None:
    laces = tuple(LaceNeed(f"lace {number}", ((Disc(50.0),),), drum="drum") for number in range(2))
    with pytest.raises(ValueError, match="two laces"):
        Task((square(300.0),), heads(1, 50.0, drum="drum"), laces)


def test_a_lace_comes_from_the_fewest_discs_that_fit() -> None:
    lace = LaceNeed("lace", ((Disc(100.0),), (Disc(80.0), Disc(80.0)), (Disc(60.0),) * 3))
    for side_mm, parts in ((201.0, 1), (290.0, 1)):
        assert len(plan_cutting(Task((square(side_mm),), laces=(lace,)), 20).placements) == parts
    slip = Hide("slip", "goat", ((0.0, 0.0), (400.0, 0.0), (400.0, 170.0), (0.0, 170.0)), 1.0)
    layout = plan_cutting(Task((slip,), laces=(lace,)), 20)
    assert [placement.part for placement in layout.placements] == [0, 1]
    assert not faults(layout)


def test_species_thickness_and_zones_are_kept() -> None:
    readings = (Reading((0.0, 200.0), 1.0), Reading((800.0, 200.0), 2.0))
    outline = ((0.0, 0.0), (800.0, 0.0), (800.0, 400.0), (0.0, 400.0))
    weak = Zone("belly", ((0.0, 0.0), (400.0, 0.0), (400.0, 400.0), (0.0, 400.0)))
    long = Hide("long", "deer", outline, readings, zones=(weak,))
    thin = Piece("thin", "head", Disc(90.0), most_mm=1.4)
    thick = Piece("thick", "head", Disc(90.0), ("deer",), least_mm=1.6)
    task = Task((square(400.0, "goat"), long), (thin, thick), (LaceNeed("lace", ((Disc(150.0),),), ("deer",)),))
    layout = plan_cutting(task, 20)
    assert not layout.missing
    assert not faults(layout)
    assert {placement.name: placement.hide for placement in layout.placements}["thin"] == "goat"


def test_blanks_lie_as_asked_and_clear() -> None:
    spine = ((0.0, 0.0), (300.0, 400.0))
    blank = oval(300.0, 220.0)
    for hide in HIDES[1::2]:
        hide = replace(hide, spine=spine)
        pieces = (
            Piece("along", "head", blank, direction="along"),
            Piece("across", "head", blank, direction="across"),
            Piece("round", "head", Disc(60.0)),
            Piece("any", "scrap", oval(120.0, 60.0, 8)),
        )
        layout = plan_cutting(Task((hide,), pieces, knife_mm=3.0), 2)
        assert not layout.missing
        assert not faults(layout)
        angles = {placement.name: placement.angle_deg for placement in layout.placements}
        # The spine runs 53.13 degrees from x; a blank's axis, its y, lies 90 degrees on.
        assert math.isclose(angles["along"] % 180, math.degrees(math.atan2(4, 3)) - 90 + 180, abs_tol=1e-5)
        assert math.isclose(angles["across"] % 180, math.degrees(math.atan2(4, 3)), abs_tol=1e-5)


def test_no_direction_without_a_spine() -> None:
    assert plan_cutting(Task((square(500.0),), heads(1, 50.0, direction="along")), 5).missing == ("head 0",)


def test_sets_are_matched() -> None:
    thin, thick = square(250.0, "thin"), replace(square(250.0, "thick"), thickness=1.4)
    other = replace(square(250.0, "other"), thickness=1.4)
    pair = heads(2, 120.0, set_name="pair")
    layout = plan_cutting(Task((thin, thick, other), pair, set_tolerance_mm=0.1), 100)
    assert layout.hides_used == ("thick", "other")


def test_what_is_missing() -> None:
    layout = plan_cutting(Task((square(201.0),), heads(3, 100.0), (LaceNeed("lace", ((Disc(50.0),),)),)), 10)
    assert len(layout.missing) == 3
    assert math.isclose(used_share(layout), math.pi * 100.0**2 / 201.0**2)


def test_bounds() -> None:
    # Sixteen circles of a radius 1/8 fill the unit square; five of a radius 0.20711.
    assert most_discs(square(1000.0), 125.0) >= 16
    assert 5 <= most_discs(square(1000.0), 207.1) <= 6
    assert most_discs(square(1000.0), 565.0) == 0
    assert most_pieces([square(100.0)], [Disc(60.0), Disc(30.0), Disc(30.0), Disc(30.0)]) == 3


def test_progress_comes_at_once_and_only_gets_better() -> None:
    task = Task(HIDES[:2], heads(9, 120.0), knife_mm=3.0)
    reports = list(improve(task, 2 * REPORT_ROUNDS, 1))
    assert reports[0].rounds == 0
    assert reports[-1].rounds == 2 * REPORT_ROUNDS
    assert REPORT_ROUNDS in [report.rounds for report in reports]
    search, scores = Search(task, 1), []
    for _ in range(2 * REPORT_ROUNDS):
        scores.append(search.score)
        search.step()
    assert scores == sorted(scores, reverse=True)
    assert search.layout() == reports[-1].layout == plan_cutting(task, 2 * REPORT_ROUNDS, 1)


def test_stopping_leaves_the_best_so_far() -> None:
    task = Task(HIDES[:2], heads(9, 120.0), knife_mm=3.0)
    last = list(islice(improve(task, 10_000), 2))[-1]
    assert not faults(last.layout)
    assert last.layout == plan_cutting(task, last.rounds)


def test_names_twice_are_refused() -> None:
    twice: tuple[Point, ...] = ((0.0, 0.0), (1.0, 0.0), (0.0, 1.0))
    hide = Hide("a", "goat", twice, 1.0)
    with pytest.raises(ValueError, match="twice"):
        Task((hide, hide))
    with pytest.raises(ValueError, match="twice"):
        Task((hide,), heads(1, 1.0) * 2)
