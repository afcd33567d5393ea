"""Comparisons of drums: what differs is told with its cause, and nothing else is."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drums import USUAL, Fields, changed, drums, few, spec_text
from seen_drums import see, see_text
from tauthide.comparing.data import comparison_data
from tauthide.comparing.drums import DrumChange, compare, compare_drum
from tauthide.comparing.matching import State
from tauthide.comparing.seen import Seen
from tauthide.comparing.text import comparison_markdown, comparison_text
from tauthide.plan.concerns import Concern

SPELLINGS = (
    {"frame.diameter": "330.2 mm"},
    {"frame.diameter": "33.02 cm"},
    {"frame.diameter": "1 ft 1 in"},
    {"frame.depth": "5.5cm"},
)


def figures(change: DrumChange) -> dict[str, tuple[float | None, float | None]]:
    """Return the figures that differ, before and after, by name."""
    return {figure.name: (figure.old, figure.new) for figure in change.figures}


def reasons(change: DrumChange) -> dict[str, tuple[str, ...]]:
    """Return by figure which changed fields feed it."""
    return {figure.name: figure.because for figure in change.figures}


class TestSame:
    """What is the same compares as the same."""

    @few
    @given(drums())
    def test_a_drum_with_itself(self, fields: Fields) -> None:
        comparison = compare([see(fields)], [see(fields)])
        assert (comparison.differs, comparison.same, comparison.needs) == (False, 1, ())

    @pytest.mark.parametrize("spelling", SPELLINGS, ids=str)
    def test_spelling_of_a_unit(self, spelling: Fields) -> None:
        old, new = see(), see({**USUAL, **spelling})
        assert compare_drum(old, new).state is State.SAME
        assert old.plan is not None
        assert new.plan is not None
        assert old.plan.digest == new.plan.digest

    @few
    @given(st.permutations(sorted(USUAL)), st.lists(st.sampled_from(("# note", "", "  # further in")), min_size=1))
    def test_order_and_comments(self, paths: list[str], comments: list[str]) -> None:
        lines = spec_text({path: USUAL[path] for path in paths}).splitlines()
        spread = [line for number, line in enumerate(lines) for line in (line, comments[number % len(comments)])]
        assert compare_drum(see(), see_text("\n".join(spread) + "\n")).state is State.SAME

    def test_a_default_written_out(self) -> None:
        assert compare_drum(see(), see(frame_wall="8 mm")).state is State.SAME

    def test_an_unreadable_spec_with_itself(self) -> None:
        bad = see_text("spec: 1\ndrum: [\n")
        assert compare_drum(bad, bad).state is State.SAME


class TestMirror:
    """Back is there the other way round."""

    @settings(max_examples=15, deadline=None)
    @given(drums(), drums())
    def test_any_two(self, one: Fields, other: Fields) -> None:
        first, second = see(one), see(other)
        there, back = compare_drum(first, second), compare_drum(second, first)
        assert there.state is back.state
        assert figures(there) == {name: (new, old) for name, (old, new) in figures(back).items()}
        assert reasons(there) == reasons(back)
        assert {(move.station, move.hole, move.old, move.new) for move in there.holes} == {
            (move.station, move.hole, move.new, move.old) for move in back.holes
        }
        assert [value.path for value in there.values] == [value.path for value in back.values]
        assert [(value.old_origin, value.new_origin) for value in there.values] == [
            (value.new_origin, value.old_origin) for value in back.values
        ]
        assert len(there.steps) == len(back.steps)
        names = [[finding.name for finding in found] for found in (there.came, there.went, back.went, back.came)]
        assert names[:2] == names[2:]

    @settings(max_examples=15, deadline=None)
    @given(drums(), st.integers(1, 30))
    def test_every_difference_is_told(self, fields: Fields, tenths: int) -> None:
        old = see(fields)
        assert old.plan is not None
        depth = old.plan.spec.number("frame.depth") + tenths / 10
        new = see(changed(fields, frame_depth=f"{depth:.3f} mm"))
        if new.plan is None:
            return
        told = figures(compare_drum(old, new))
        for name, reading in old.plan.figures.items():
            after = new.plan.figures.get(name)
            differs = after is None or abs(after.value - reading.value) > 1e-6
            assert (name in told) is differs


class TestCauses:
    """Figures are put down to what a maker changed, and where."""

    def test_a_field_of_the_spec(self) -> None:
        change = compare_drum(see(frame_edge_radius="2 mm"), see(frame_edge_radius="4 mm"))
        (value,) = change.values
        assert (value.path, value.layer, value.where) == ("frame.edge_radius", "spec", "spec: a.yaml:7")
        assert (value.old, value.new) == ("2 mm (1/16 in)", "4 mm (3/16 in)")
        assert set(reasons(change).values()) == {("frame.edge_radius",)}

    def test_a_shop_default(self) -> None:
        shop = "shop: 1\nhides:\n  goat:\n    web: {} mm\n"
        change = compare_drum(see(shop=shop.format(18)), see(shop=shop.format(20)))
        (value,) = change.values
        assert (value.path, value.layer, value.where) == ("stations.web", "shop", "shop file: shop.yaml:4")
        assert figures(change)["holes.web"] == (18, 20)
        assert reasons(change)["holes.web"] == ("stations.web",)
        assert "holes.web, Web: clear skin between the holes of a pair: 18 mm" in comparison_text(
            compare([see(shop=shop.format(18))], [see(shop=shop.format(20))]), "a", "b"
        )

    def test_a_base_file(self) -> None:
        base = "base: 1\nframe: {{edge_radius: {} mm}}\n"
        change = compare_drum(see(base=base.format(2)), see(base=base.format(4)))
        (value,) = change.values
        assert (value.path, value.layer, value.where) == ("frame.edge_radius", "base", "inherited: b.base.yaml:2")
        assert reasons(change)["head.blank_diameter"] == ("frame.edge_radius",)

    def test_two_causes_are_told_apart(self) -> None:
        change = compare_drum(see(), see(frame_depth="60 mm", lace_tail="320 mm"))
        because = reasons(change)
        assert because["head.blank_diameter"] == ("frame.depth",)
        assert because["lace.tail"] == ("lace.tail",)
        assert set(because["lace.cut_length"]) <= {"frame.depth", "lace.tail"}
        assert "lace.tail" in because["lace.cut_length"]

    def test_another_hide_brings_its_profile(self) -> None:
        change = compare_drum(see(), see(head_hide="deer"))
        follows = {value.path: value.follows for value in change.values}
        assert follows["head.hide"] == ""
        assert follows["head.thickness"] == follows["hide.soak"] == "head.hide"
        assert set(reasons(change).values()) == {("head.hide",)}

    def test_a_field_taken_out_falls_back(self) -> None:
        change = compare_drum(see(stations_web="25 mm"), see())
        (value,) = change.values
        assert (value.layer, value.where) == ("spec", "spec: a.yaml:11")

    def test_one_of_a_couple_for_the_other(self) -> None:
        change = compare_drum(see(), see(stations_pair_spacing="35 mm"))
        assert {value.path: value.follows for value in change.values} == {
            "stations.pair_spacing": "",
            "stations.web": "stations.pair_spacing",
        }
        assert reasons(change)["holes.web"] == ("stations.pair_spacing",)


class TestHoles:
    """Which holes move, and how far."""

    def test_a_wider_frame_carries_them_outward(self) -> None:
        change = compare_drum(see(), see(frame_diameter="350.2 mm"))
        assert len(change.holes) == 32
        for move in change.holes:
            assert move.moved_mm is not None
            # Hole a lies on its station; b comes nearer to it by angle, the spacing being the same.
            assert move.moved_mm == pytest.approx(10.0, abs=1e-9 if move.hole == "a" else 1.5)

    def test_by_how_far_is_the_way_between(self) -> None:
        change = compare_drum(see(), see(stations_web="24 mm"))
        for move in change.holes:
            assert move.old is not None
            assert move.new is not None
            assert move.moved_mm == pytest.approx(
                math.hypot(move.new[0] - move.old[0], move.new[1] - move.old[1]), abs=1e-12
            )
        assert {move.hole for move in change.holes} == {"b"}

    def test_more_stations(self) -> None:
        change = compare_drum(see(), see(stations_count=18))
        assert [(move.station, move.hole) for move in change.holes if move.old is None] == [
            (17, "a"), (17, "b"), (18, "a"), (18, "b"),
        ]  # fmt: skip
        assert any(step.kind == "new" and step.part == "lacing" for step in change.steps)

    def test_what_moves_no_hole(self) -> None:
        change = compare_drum(see(), see(lace_tail="320 mm"))
        assert (change.holes, change.spoils_skin) == ((), False)
        assert {figure.concern for figure in change.figures} <= {Concern.LACE, Concern.VOICE, Concern.BENCH}


class TestStepsAndFindings:
    """What is new, and what is gone."""

    def test_no_handle(self) -> None:
        change = compare_drum(see(), see(handle_arms=0))
        assert ("gone", "Wrap the handle") in {(step.kind, step.text) for step in change.steps}

    def test_another_way_of_marking(self) -> None:
        change = compare_drum(see(stations_marking="fold"), see(stations_marking="tape"))
        assert [step.part for step in change.steps] == ["marking"]

    def test_a_warning_comes_and_goes(self) -> None:
        there = compare_drum(see(), see(bench_punches="[8 mm]"))
        back = compare_drum(see(bench_punches="[8 mm]"), see())
        assert [finding.name for finding in there.came] == [finding.name for finding in back.went]
        assert [finding.name for finding in there.came] == ["punch-not-owned"]
        assert (there.went, back.came) == ((), ())

    def test_errors_are_told_and_no_figures(self) -> None:
        change = compare_drum(see(), see(head_turnover="300 mm"))
        assert (change.state, change.computed, change.figures) == (State.CHANGED, False, ())
        assert any(finding.severity == "error" for finding in change.came)

    def test_words(self) -> None:
        change = compare_drum(see(more="title: A\n"), see(more="title: B\nquantity: 3\n"))
        assert [(word.name, word.old, word.new) for word in change.words] == [
            ("title", "A", "B"), ("quantity", "1", "3"),
        ]  # fmt: skip
        assert (change.values, change.figures) == ((), ())


class TestBatches:
    """Drums find their like, and the dearest change stands first."""

    def batch(self, **changes: Seen) -> list[Seen]:
        """Three drums, some of them replaced."""
        usual = {name: see(drum=name) for name in ("A", "B", "C")}
        return list({**usual, **changes}.values())

    def test_new_gone_and_changed(self) -> None:
        old = self.batch()
        new = [see(drum="B", frame_depth="60 mm"), see(drum="C"), see(drum="D")]
        new = [Seen(f"{one.drum}.yaml", f"{one.drum}.yaml", one.drum, one.source, one.spec, one.plan, one.workings,
                    one.findings) for one in new]  # fmt: skip
        comparison = compare(old, new)
        assert [(change.name, change.state) for change in comparison.drums] == [
            ("B", State.CHANGED), ("A", State.GONE), ("D", State.NEW),
        ]  # fmt: skip
        assert comparison.same == 1

    def test_a_renamed_drum_is_known_by_its_file(self) -> None:
        comparison = compare([see(drum="A")], [see(drum="B")])
        (change,) = comparison.drums
        assert change.state is State.CHANGED
        assert [word.name for word in change.words] == ["drum"]

    def test_skin_comes_first(self) -> None:
        new = self.batch(A=see(drum="A", lace_tail="320 mm"), C=see(drum="C", frame_depth="60 mm"))
        assert [change.name for change in compare(self.batch(), new).drums] == ["C", "A"]

    def test_what_more_must_be_bought(self) -> None:
        old, new = [see(more="quantity: 2\n")], [see(more="quantity: 5\n")]
        comparison = compare(old, new)
        assert old[0].plan is not None
        area = old[0].plan["head.blank_area"]
        needs = {need.title: (need.old, need.new) for need in comparison.needs}
        assert needs["Drums to build"] == pytest.approx((2, 5))
        assert needs["Skin for heads"] == pytest.approx((2 * area, 5 * area))


class TestShown:
    """Text, Markdown and data say the same."""

    @settings(max_examples=10, deadline=None)
    @given(drums(), drums())
    def test_any_two(self, one: Fields, other: Fields) -> None:
        comparison = compare([see(one)], [see(other)])
        text = comparison_text(comparison, "old", "new")
        page = comparison_markdown(comparison, "old", "new")
        data = comparison_data(comparison, "old", "new")
        assert max(map(len, text.splitlines())) <= 100
        for change in data["drums"]:
            for figure in change["figures"]:
                assert figure["name"] in text
                assert f"`{figure['name']}`" in page
        for line in page.splitlines():
            if line.startswith("|"):
                assert line.endswith("|")

    def test_nothing_to_say(self) -> None:
        same = compare([see()], [see()])
        assert comparison_text(same, "old", "new") == "old -> new: no difference, 1 drum the same\n"
        assert comparison_data(same, "old", "new")["drums"] == []

    def test_a_makers_words_make_no_markup(self) -> None:
        comparison = compare([see()], [see(more="title: '<b>|x|</b> [a](b) `c`'\n")])
        page = comparison_markdown(comparison, "<a>", "*b*")
        assert "<b>" not in page
        assert "[a](b)" not in page
        assert "\\|x\\|" in page

    def test_skin_before_lace_before_frame(self) -> None:
        text = comparison_text(compare([see()], [see(frame_diameter="14 in")]), "old", "new")
        places = [text.index(f"\n  {title}") for title in ("Skin, blank", "Lace and handle", "Frame", "Voice, pull")]
        assert places == sorted(places)
