"""What stock gives: frames and laces that fit, each once, and the punches at hand."""

from __future__ import annotations

from pathlib import Path

from run_files import LARGE, LOT, SMALL
from run_plans import ALL_GOAT, ordered, planned, run_with
from tauthide.papers.overview import needs_table
from tauthide.papers.skins import laces_table
from tauthide.running.run_plan import Order
from tauthide.running.stock import joined_length

TWO_LACES = LOT.replace(
    "laces: [{hide: goat, width: 8 mm, length: 8 m}]",
    "laces:\n- {hide: goat, width: 8 mm, length: 9 m}\n- {hide: goat, width: 8 mm, length: 8 m}",
)


def test_the_first_drums_get_what_fits(tmp_path: Path) -> None:
    order = ordered(tmp_path, {"large.yaml": ALL_GOAT})
    frames = [drum.serial for drum in order.drums if order.taken[drum.serial].frame]
    laces = [drum.serial for drum in order.drums if order.taken[drum.serial].laces]
    assert frames == ["SMALL-01", "SMALL-02"]
    assert laces == ["SMALL-01"]


def test_the_shortest_lace_that_does(tmp_path: Path) -> None:
    order = ordered(tmp_path, {"large.yaml": ALL_GOAT, "runs/cupboard.yaml": TWO_LACES})
    lengths = {serial: taken.lace_pieces[0].length_mm for serial, taken in order.taken.items() if taken.laces}
    assert lengths == {"SMALL-01": 8000.0, "SMALL-02": 9000.0}


def test_a_lace_too_short_or_of_other_width_or_hide_is_left(tmp_path: Path) -> None:
    for lace in (
        "{hide: goat, width: 8 mm, length: 1 m}",
        "{hide: goat, width: 6 mm, length: 8 m}",
        "{hide: deer, width: 8 mm, length: 8 m}",
    ):
        lot = LOT.replace("{hide: goat, width: 8 mm, length: 8 m}", lace)
        order = ordered(tmp_path, {"runs/cupboard.yaml": lot})
        assert not any(taken.laces for taken in order.taken.values())


def test_frames_of_other_sizes_are_left(tmp_path: Path) -> None:
    for other in (
        "diameter: 9 in, depth: 40 mm",
        "diameter: 8 in, depth: 45 mm",
        "diameter: 8 in, depth: 40 mm, wall: 5 mm",
    ):
        lot = LOT.replace("diameter: 8 in, depth: 40 mm", other)
        order = ordered(tmp_path, {"runs/cupboard.yaml": lot})
        assert not any(taken.frame for taken in order.taken.values())


def test_what_stock_gives_is_not_cut(tmp_path: Path) -> None:
    order = ordered(tmp_path)
    assert "SMALL-01 lace" not in {lace.name for lace in order.task.laces}
    assert "SMALL-02 lace" in {lace.name for lace in order.task.laces}
    jobs = {job.name: {operation.name for operation in job.operations} for job in order.timed.jobs}
    assert "lace.cut" not in jobs["SMALL-01"]
    assert {"lace.cut", "lace.soak"} <= jobs["SMALL-02"]
    assert "lace.soak" in jobs["SMALL-01"]


def _laces(lengths_m: list[float]) -> str:
    listed = ", ".join(f"{{hide: goat, width: 8 mm, length: {length} m}}" for length in lengths_m)
    return LOT.replace("{hide: goat, width: 8 mm, length: 8 m}", listed)


class TestJoiningShortLaces:
    """The goat's lace of a SMALL takes about 3 m; a join takes 80 mm. Its spec allows two pieces."""

    def taken(self, folder: Path, lengths_m: list[float], spec: str = "", run: str = "") -> dict[str, list[float]]:
        changes = {"small.yaml": SMALL + spec, "runs/cupboard.yaml": _laces(lengths_m), **run_with(run)}
        order = ordered(folder, changes)
        plan = order.drums[0].plan
        for taken in order.taken.values():
            for lace in taken.laces:
                assert sum(piece.length_mm for piece in lace) >= joined_length(plan, len(lace)) - 1e-6
        return {
            serial: [piece.length_mm / 1000 for piece in taken.lace_pieces]
            for serial, taken in order.taken.items()
            if taken.has_lace
        }

    def whole_m(self, folder: Path) -> float:
        return ordered(folder).drums[0].plan["lace.each_length"] / 1000

    def test_the_longest_first_and_then_the_shortest_that_does(self, tmp_path: Path) -> None:
        whole = self.whole_m(tmp_path)
        long, short = round(whole - 0.3, 3), 0.38  # 0.3 m are wanting, and 80 mm for the join
        assert self.taken(tmp_path, [0.2, short, 0.9, long]) == {"SMALL-01": [long, short]}

    def test_a_little_less_is_too_short(self, tmp_path: Path) -> None:
        whole = self.whole_m(tmp_path)
        assert self.taken(tmp_path, [round(whole - 0.3, 3), 0.379]) == {}

    def test_never_more_pieces_than_allowed(self, tmp_path: Path) -> None:
        third = round(self.whole_m(tmp_path) / 3 + 0.1, 3)
        pieces = [third, third, third]
        assert self.taken(tmp_path, pieces) == {}
        assert self.taken(tmp_path, pieces, "lace: {pieces: 3}\n") == {"SMALL-01": pieces}
        assert self.taken(tmp_path, pieces, "lace: {pieces: 3}\n", "cutting: {lace_pieces: 2}\n") == {}
        half = round(self.whole_m(tmp_path) / 2 + 0.1, 3)
        assert self.taken(tmp_path, [half, half]) == {"SMALL-01": [half, half]}
        assert self.taken(tmp_path, [half, half], "lace: {pieces: 1}\n") == {}

    def test_whole_ones_first_for_all_drums(self, tmp_path: Path) -> None:
        whole = self.whole_m(tmp_path)
        half = round(whole / 2 + 0.1, 3)
        assert self.taken(tmp_path, [half, half, whole]) == {"SMALL-01": [whole], "SMALL-02": [half, half]}

    def test_what_does_not_suffice_is_put_back(self, tmp_path: Path) -> None:
        # Two laces for each drum: what is left over for the first would not do for both of its laces.
        two = "lace: {laces: 2, pieces: 2}\n"
        each = ordered(tmp_path, {"small.yaml": SMALL + two}).drums[0].plan["lace.each_length"] / 1000
        half = round(each / 2 + 0.1, 3)
        assert self.taken(tmp_path, [half] * 3, two) == {}
        assert self.taken(tmp_path, [half] * 4, two) == {"SMALL-01": [half] * 4}
        assert self.taken(tmp_path, [each, half, half], two) == {"SMALL-01": [each, half, half]}


class TestSpareLaces:
    """What the drums leave over serves for spares before one is cut from skin."""

    def ordered(self, folder: Path, laces: str) -> Order:
        lot = LOT.replace("{hide: goat, width: 8 mm, length: 8 m}", laces)
        return ordered(folder, {"runs/cupboard.yaml": lot, **run_with("spares: {laces: 2}\n")})

    def cut(self, order: Order) -> list[str]:
        return [lace.name for lace in order.task.laces if "spare" in lace.name]

    def test_drums_come_first(self, tmp_path: Path) -> None:
        of_calf = ["LARGE spare lace 1", "LARGE spare lace 2"]
        for quantity, cut in (
            (3, ["SMALL spare lace 1", "SMALL spare lace 2"]),
            (4, ["SMALL spare lace 2"]),
            (9, []),
        ):
            order = self.ordered(tmp_path, f"{{hide: goat, width: 8 mm, length: 8 m, quantity: {quantity}}}")
            assert all(order.taken[f"SMALL-0{number}"].has_lace for number in (1, 2, 3))
            assert self.cut(order) == [*cut, *of_calf]
            assert set(order.stock.spares) == {"SMALL spare lace 1", "SMALL spare lace 2"} - set(cut)

    def test_joined_only_once_no_drum_wants_them(self, tmp_path: Path) -> None:
        half = round(ordered(tmp_path).drums[0].plan["lace.each_length"] / 2000 + 0.1, 3)
        order = self.ordered(tmp_path, f"{{hide: goat, width: 8 mm, length: {half} m, quantity: 9}}")
        # Four laces of two pieces each, and one piece is left.
        assert sum(taken.has_lace for taken in order.taken.values()) == 3
        assert list(order.stock.spares) == ["SMALL spare lace 1"]
        assert order.stock.spares["SMALL spare lace 1"].is_joined

    def test_papers_tell_it(self, tmp_path: Path) -> None:
        lot = LOT.replace("length: 8 m}", "length: 8 m, quantity: 4}")
        plan = planned(tmp_path, {"runs/cupboard.yaml": lot, **run_with("spares: {laces: 2}\n")})
        rows = [line.replace("\u00a0", " ").split(" | ") for line in laces_table(plan).lines]
        whence = {row[1]: row[5] for row in rows if "spare" in row[1]}
        assert whence["SMALL spare lace 1"] == "stock"
        assert whence["SMALL spare lace 2"] != "stock"
        (row,) = [line for line in needs_table(plan).lines if "out of stock" in line]
        assert row.replace("\\", "") == "| Laces out of stock, ready cut, spares with them | 4 | 4 | 0 |"


def test_rings_that_fit_are_taken_once(tmp_path: Path) -> None:
    large = LARGE.replace("lace: {hide: calf}", "lace: {hide: calf, lacing: ring}")
    for rings, having in (
        ("{diameter: 60 mm, section: 6 mm}", ["LARGE-01"]),
        ("{diameter: 60 mm, section: 6 mm, quantity: 5}", ["LARGE-01", "LARGE-02"]),
        ("{diameter: 62 mm, section: 6 mm}", []),
        ("{diameter: 60 mm, section: 8 mm}", []),
    ):
        changes = {"large.yaml": large, "runs/cupboard.yaml": LOT + f"rings: [{rings}]\n"}
        order = ordered(tmp_path, changes)
        assert [serial for serial, taken in order.taken.items() if taken.ring] == having
