"""What a run, its skins and its stock are read into."""

from __future__ import annotations

import json
import math
from datetime import date, timedelta
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from run_files import FILES, LOT, RUN, SKIN, findings_in_text, library_of, loaded_run, source_of, write_files
from tauthide.reading.faults import EXCERPT_LENGTH
from tauthide.runs.loading import KINDS, check_document, load_lot, load_run, load_skin
from tauthide.runs.polygons import contains, crossings
from tauthide.runs.shapes import SHAPES
from tauthide.runs.skins import Circle, Ring, Skin, twice_area
from tauthide.schema import fields, schema
from tauthide.spec.chain import Library, read_source

DEMO = Path(__file__).parents[2] / "specs" / "runs"


def skin_of(text: str) -> Skin:
    """Return the skin in a text, in which nothing may be wrong."""
    skin, findings = load_skin(read_source(Path("skin.yaml"), "skin.yaml", text.encode()))
    assert skin is not None, findings
    return skin


class TestSkin:
    def test_points_are_counted_in_squares_of_the_grid(self) -> None:
        skin = skin_of(SKIN.replace("grid: 50 mm", "grid: 2 in"))
        assert skin.outline_mm[2] == pytest.approx((14 * 50.8, 18 * 50.8))
        assert skin.spine_mm[1] == pytest.approx((7 * 50.8, 18 * 50.8))
        assert skin.fixed_points_mm == skin.spine_mm

    def test_outline_is_anticlockwise_whichever_way_it_was_read(self) -> None:
        backward = SKIN.replace("[0, 0], [14, 0], [14, 18], [0, 18]", "[0, 0], [0, 18], [14, 18], [14, 0]")
        assert skin_of(backward).outline_mm == skin_of(SKIN).outline_mm
        assert twice_area(skin_of(backward).outline_mm) == pytest.approx(2 * 700 * 900)

    def test_flaws_weak_regions_and_thickness(self) -> None:
        more = "flaws: [{kind: hole, at: [5, 11], diameter: 1 in}, {kind: cut, points: [[1, 1], [2, 1], [2, 2]]}]\n"
        more += "weak: [{region: belly, points: [[0, 6], [2, 6], [2, 13]], allows: nothing},"
        more += " {region: neck, points: [[0, 16], [14, 16], [14, 18], [0, 18]]}]\nprice: 24.5\n"
        measured = "thicknesses: [{at: [7, 15], thickness: 1.2 mm}, {at: [3, 8], thickness: 0.9 mm}]"
        skin = skin_of(SKIN.replace("thickness: 1.0 mm", measured) + more)
        assert [(flaw.kind, flaw.region) for flaw in skin.flaws] == [
            ("hole", Circle((250.0, 550.0), 12.7)),
            ("cut", Ring(((50.0, 50.0), (100.0, 50.0), (100.0, 100.0)))),
        ]
        assert [(weak.region, weak.laces) for weak in skin.weak] == [("belly", False), ("neck", True)]
        assert [(item.thickness_mm, item.at_mm) for item in skin.thicknesses] == [
            (1.2, (350.0, 750.0)),
            (0.9, (150.0, 400.0)),
        ]
        assert skin.price == 24.5
        assert (skin.place.line, skin.flaws[1].place.line, skin.parts["grid"].line) == (2, 9, 6)

    def test_one_thickness_holds_all_over(self) -> None:
        (only,) = skin_of(SKIN).thicknesses
        assert (only.thickness_mm, only.at_mm) == (1.0, None)

    def test_a_point_on_the_edge_is_inside(self) -> None:
        assert skin_of(SKIN + "flaws: [{kind: cut, at: [14, 9], diameter: 10 mm}]\n").flaws


class TestOrdinaryShapes:
    @given(st.sampled_from(sorted(SHAPES)), st.floats(200, 4000), st.floats(150, 4000))
    def test_sound_and_as_large_as_measured(self, name: str, length_mm: float, width_mm: float) -> None:
        shape = SHAPES[name].of_size(length_mm, width_mm)
        assert list(crossings(shape.outline_mm)) == []
        assert twice_area(shape.outline_mm) > length_mm * width_mm
        for axis, size_mm in ((0, width_mm), (1, length_mm)):
            assert min(point[axis] for point in shape.outline_mm) == pytest.approx(0, abs=1e-9)
            assert max(point[axis] for point in shape.outline_mm) == pytest.approx(size_mm)
        for _, points in shape.weak_mm:
            assert twice_area(points) > 0
            assert list(crossings(points)) == []
            middle = tuple(math.fsum(step) / len(points) for step in zip(*points, strict=True))
            assert contains(shape.outline_mm, (middle[0], middle[1]))

    def test_whole_skin_is_its_own_mirror_image_and_a_side_is_half_of_it(self) -> None:
        whole, side = SHAPES["whole"].of_size(900, 700), SHAPES["side"].of_size(900, 350)
        mirrored = {(round(700 - x, 9), round(y, 9)) for x, y in whole.outline_mm}
        assert mirrored == {(round(x, 9), round(y, 9)) for x, y in whole.outline_mm}
        assert twice_area(side.outline_mm) * 2 == pytest.approx(twice_area(whole.outline_mm))
        assert (whole.spine_mm[1], side.spine_mm[1]) == ((350, 900), (0, 900))

    def test_they_bring_neck_and_shanks_unless_the_maker_says_otherwise(self) -> None:
        text = "\n".join(line for line in SKIN.splitlines() if not line.startswith(("outline", "spine")))
        text += "\noutline: {shape: whole, length: 900 mm, width: 700 mm}\n"
        skin = skin_of(text)
        assert sorted(weak.region for weak in skin.weak) == ["neck", "neck", *["shank"] * 4]
        assert skin.shape == "whole"
        assert skin_of(text + "weak: []\n").weak == ()


class TestLot:
    def test_everything_in_it(self) -> None:
        lot, findings = load_lot(read_source(Path("lot.yaml"), "lot.yaml", LOT.encode()))
        assert lot is not None, findings
        (frame,), (lace,), (punch,), (thing,) = lot.frames, lot.laces, lot.punches, lot.other
        assert (frame.outline, frame.sizes_mm, frame.sides, frame.depth_mm) == ("round", {"diameter": 203.2}, 0, 40)
        assert (frame.wall_mm, frame.quantity, frame.price) == (None, 2, 9.5)
        assert (lace.hide, lace.width_mm, lace.length_mm, lace.quantity, lace.price) == ("goat", 8, 8000, 1, None)
        assert (punch.size_mm, punch.quantity) == (9.525, 1)
        assert (thing.what, thing.quantity, thing.place.line) == ("beeswax", 2, 5)

    def test_rings(self) -> None:
        text = "lot: 1\nrings:\n- {diameter: 60 mm, section: 1/4 in, quantity: 4, price: 1.2}\n"
        lot, _ = load_lot(read_source(Path("lot.yaml"), "lot.yaml", text.encode()))
        assert lot is not None
        (ring,) = lot.rings
        assert (ring.diameter_mm, ring.section_mm) == (60.0, 6.35)
        assert (ring.quantity, ring.price, ring.place.line) == (4, 1.2, 3)

    def test_sizes_of_every_outline(self) -> None:
        frames = "{outline: polygon, sides: 8, across_flats: 14 in, depth: 60 mm}, "
        frames += "{outline: oval, length: 450 mm, width: 40 cm, depth: 60 mm, wall: 9 mm}"
        lot, _ = load_lot(read_source(Path("lot.yaml"), "lot.yaml", f"lot: 1\nframes: [{frames}]\n".encode()))
        assert lot is not None
        assert [(frame.sizes_mm, frame.sides, frame.wall_mm) for frame in lot.frames] == [
            ({"across_flats": pytest.approx(355.6)}, 8, None),
            ({"length": 450, "width": 400}, 0, 9),
        ]

    def test_sizes_of_another_outline_are_refused(self) -> None:
        text = "lot: 1\nframes: [{outline: round, diameter: 13 in, sides: 8, depth: 60 mm}]\n"
        assert [finding.name for finding in findings_in_text(text)] == ["other-outline"]


class TestRun:
    def test_what_is_left_out(self, tmp_path: Path) -> None:
        run = loaded_run(tmp_path, {})
        assert [(entry.spec.drum, entry.quantity, entry.serials[-1]) for entry in run.entries] == [
            ("SMALL", 3, "SMALL-03"),
            ("LARGE", 2, "LARGE-02"),
        ]
        assert run.quantity == 5
        assert [held.skin.name for held in run.skins] == ["goat-1"]
        assert [held.shown for held in run.lots] == ["runs/cupboard.yaml"]
        assert (run.crew, run.lesson, run.start, run.finish_by, run.air_c) == (1, None, date(2026, 3, 2), None, None)
        assert (run.room.tub, run.room.bench, run.room.drying) == (None, None, None)
        assert (run.spares.heads, run.spares.laces) == (0, 0)
        assert (run.cutting.allowance_mm, run.cutting.seed, run.cutting.rounds) == (5, 1, 2000)
        assert (run.cutting.lace_pieces, run.cutting.thickness_match_mm) == (None, None)
        assert (run.prices.currency, run.prices.hour, run.prices.mark_up) == ("", None, 0)
        assert run.place_of("places.drying") == run.place
        assert (run.place.line, run.place.column) == (2, 7)

    def test_what_is_said(self, tmp_path: Path) -> None:
        more = "crew: 2\nair: 50 F\nspares: {heads: 1}\nfinish_by: 2026-03-10\nplaces: {tub: 6, drying: 10}\n"
        more += "cutting: {allowance: 1/4 in, seed: 7, thickness_match: 0.2 mm}\n"
        more += "prices: {currency: EUR, hour: 18, hide_per_m2: 60, lace_per_ft: 0.3048, mark_up: 30 %}\n"
        run = loaded_run(tmp_path, {"runs/run.yaml": RUN + more})
        assert (run.crew, run.finish_by, run.room.tub) == (2, date(2026, 3, 10), 6)
        assert run.air_c == pytest.approx(10)
        assert (run.cutting.allowance_mm, run.cutting.seed, run.cutting.thickness_match_mm) == (6.35, 7, 0.2)
        assert run.prices.hide_per_mm2 == pytest.approx(60e-6)
        assert run.prices.lace_per_mm == pytest.approx(0.001)
        assert run.prices.mark_up == pytest.approx(0.3)
        assert run.place_of("places.drying").line == 12
        assert run.place_of("places.bench") == run.place_of("places")

    def test_square_feet_and_square_metres_are_one_price(self, tmp_path: Path) -> None:
        run = loaded_run(tmp_path, {"runs/run.yaml": RUN + "prices: {hide_per_sq_ft: 0.09290304, lace_per_m: 1}\n"})
        assert run.prices.hide_per_mm2 == pytest.approx(1e-6)
        assert run.prices.lace_per_mm == pytest.approx(1e-3)

    def test_prices_of_wood_rings_and_what_else_a_drum_takes(self, tmp_path: Path) -> None:
        more = "prices: {wood_per_board_ft: 6, ring: 1.5, sundries: 2}\n"
        prices = loaded_run(tmp_path / "a", {"runs/run.yaml": RUN + more}).prices
        assert prices.wood_per_mm3 == pytest.approx(6 / (304.8 * 304.8 * 25.4))
        assert (prices.ring, prices.sundries) == (1.5, 2)
        more = "prices: {wood_per_m3: 2400}\n"
        assert loaded_run(tmp_path / "b", {"runs/run.yaml": RUN + more}).prices.wood_per_mm3 == pytest.approx(2.4e-6)

    def test_the_day_on_which_a_class_begins(self, tmp_path: Path) -> None:
        run = loaded_run(tmp_path, {"runs/run.yaml": RUN + "class: {begins: 2026-03-03}\n"})
        assert run.lesson is not None
        assert run.lesson.begins == date(2026, 3, 3)
        assert run.place_of("class.begins").line == 8

    def test_a_class_has_a_pair_of_hands_for_each_drum(self, tmp_path: Path) -> None:
        run = loaded_run(tmp_path, {"runs/run.yaml": RUN + "class: {teachers: 1}\n"})
        assert run.lesson is not None
        assert (run.crew, run.lesson.teachers, run.lesson.tools) == (5, 1, 2)

    def test_serials_do_not_depend_on_other_drums(self, tmp_path: Path) -> None:
        before = loaded_run(tmp_path / "a", {}).entries[1].serials
        one = RUN.replace("{spec: ../small.yaml}, ", "").replace("skins: [goat-1.yaml]\n", "")
        after = loaded_run(tmp_path / "b", {"runs/run.yaml": one}).entries[0].serials
        assert before == after == ("LARGE-01", "LARGE-02")
        later = RUN.replace("quantity: 2", "quantity: 2, first_serial: 99")
        assert loaded_run(tmp_path / "c", {"runs/run.yaml": later}).entries[1].serials == ("LARGE-99", "LARGE-100")

    def test_hours_without_breaks_and_days_off(self, tmp_path: Path) -> None:
        hours = "hours: [{days: [mon, tue], from: 9:00, to: 17:00, breaks: [{from: 15:00, to: 15:15},"
        hours += " {from: 12:30, to: 13:30}]}, {days: [tue, sun], from: 18:00, to: 24:00}]\ndays_off: [2026-03-09]"
        run = loaded_run(tmp_path, {"runs/run.yaml": RUN.replace(FILES["runs/run.yaml"].splitlines()[5], hours)})
        monday = ((540, 750), (810, 900), (915, 1020))
        assert run.calendar.intervals(date(2026, 3, 2)) == monday
        assert run.calendar.intervals(date(2026, 3, 3)) == (*monday, (1080, 1440))
        assert run.calendar.intervals(date(2026, 3, 4)) == ()
        assert run.calendar.intervals(date(2026, 3, 8)) == ((1080, 1440),)
        assert run.calendar.intervals(date(2026, 3, 9)) == ()

    def test_five_hundred_drums_and_sixty_hides_are_taken(self, tmp_path: Path) -> None:
        names = [f"goat-{number:02}" for number in range(60)]
        run = RUN.replace("quantity: 2", "quantity: 497").replace("goat-1.yaml", ", ".join(f"{n}.yaml" for n in names))
        skins = {f"runs/{name}.yaml": SKIN.replace("goat-1", name) for name in names}
        loaded = loaded_run(tmp_path, {"runs/run.yaml": run, **skins})
        assert (loaded.quantity, len(loaded.skins)) == (500, 60)

    def test_a_run_from_standard_input_names_nothing(self) -> None:
        source = read_source(Path("<stdin>"), "<stdin>", RUN.encode())
        run, findings = load_run(source, Library(str))
        assert run is None
        assert [(finding.name, finding.path) for finding in findings] == [("run-from-nowhere", "drums.0.spec")]


class TestDemo:
    @pytest.mark.parametrize(("name", "drums", "skins", "crew"), [("lending", 10, 4, 2), ("class", 8, 3, 8)])
    def test_sound_and_as_large_as_promised(self, name: str, drums: int, skins: int, crew: int) -> None:
        path = DEMO / f"{name}.yaml"
        run, findings = load_run(read_source(path, path.name, path.read_bytes()), Library(str))
        assert findings == ()
        assert run is not None
        assert (run.quantity, len(run.skins), run.crew) == (drums, skins, crew)
        assert run.finish_by is not None
        days = [run.start + timedelta(days) for days in range((run.finish_by - run.start).days + 1)]
        assert sum(bool(run.calendar.intervals(day)) for day in days[:3]) == (3 if name == "lending" else 2)

    def test_skins_are_of_a_goat_s_size(self) -> None:
        # Workshop practice, no published source: an adult goat's skin has half to four fifths of a square metre.
        for path in sorted((DEMO / "skins").glob("*.yaml")):
            skin = skin_of(path.read_text(encoding="utf-8"))
            assert 0.5e6 < twice_area(skin.outline_mm) / 2 < 0.8e6
            assert skin.name == path.stem


TEXTS = st.sampled_from(
    sorted({str(example) for kind in KINDS for field in fields(kind).values() for example in field.examples})
)
VALUES = st.recursive(
    st.none() | st.booleans() | st.integers(-1000, 10**6) | st.floats(-1e6, 1e6) | TEXTS | st.text(max_size=12),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(TEXTS | st.text(max_size=6), inner, max_size=3),
    max_leaves=6,
)


class TestAnyTextGivesFindings:
    @given(st.sampled_from(KINDS), st.data())
    @settings(max_examples=300, deadline=None)
    def test_of_a_document_with_values_of_other_kinds(self, kind: str, data: st.DataObject) -> None:
        document = {**schema(kind)["examples"][0]}
        for _ in range(data.draw(st.integers(1, 3))):
            document[data.draw(st.sampled_from(sorted(schema(kind)["properties"])))] = data.draw(VALUES)
        text = json.dumps({kind: 1, **document})
        for finding in findings_in_text(text):
            assert len(finding.found) <= EXCERPT_LENGTH
            assert "\n" not in finding.message + finding.found + finding.write

    @given(st.lists(st.tuples(st.integers(-3, 20), st.integers(-3, 20)), min_size=3, max_size=8), st.data())
    @settings(max_examples=300, deadline=None)
    def test_of_a_skin_with_any_rings(self, ring: list[tuple[int, int]], data: st.DataObject) -> None:
        rings = [ring, *(data.draw(st.permutations(ring)) for _ in range(2))]
        texts = [json.dumps(points) for points in rings]
        text = SKIN.replace("[[0, 0], [14, 0], [14, 18], [0, 18]]", texts[0])
        text += f"flaws: [{{kind: hole, points: {texts[1]}}}]\nweak: [{{region: neck, points: {texts[2]}}}]\n"
        skin, findings = load_skin(read_source(Path("skin.yaml"), "skin.yaml", text.encode()))
        assert (skin is None) == bool(findings)
        if skin is not None:
            assert list(crossings(skin.outline_mm)) == []

    @given(st.text(max_size=200), st.sampled_from(sorted(FILES)))
    @settings(max_examples=100, deadline=None)
    def test_of_any_text(self, tail: str, name: str) -> None:
        text = FILES[name] + tail
        assert isinstance(check_document(read_source(Path("x.yaml"), "x.yaml", text.encode()), Library(str)), tuple)

    def test_of_a_file_cut_short_anywhere(self, tmp_path: Path) -> None:
        write_files(tmp_path, {})
        for name in ("runs/run.yaml", "runs/goat-1.yaml", "runs/cupboard.yaml"):
            content = FILES[name].encode()
            for length in range(0, len(content), 3):
                (tmp_path / name).write_bytes(content[:length])
                check_document(source_of(tmp_path, "runs/run.yaml"), library_of(tmp_path))
            (tmp_path / name).write_bytes(content)
