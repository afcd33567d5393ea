"""Layers: which value holds, where it comes from, and what silences what."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tauthide.findings import Place
from tauthide.reading.events import read_yaml
from tauthide.reading.located import Located
from tauthide.spec.defaults import BUILT_IN
from tauthide.spec.hides import HIDES
from tauthide.spec.layers import Entry, Layer, Origin, layer_of, merge, stack


def document(kind: str, text: str, file: str = "") -> tuple[str, Located]:
    """Return a document as `stack` takes it; its parts begin on line 2."""
    located, findings = read_yaml(f"{kind}: 1\n{text}".encode(), file or f"{kind}.yaml")
    assert located is not None, findings
    return kind, located


def layer(name: str, **values: Any) -> Layer:
    """Return a layer: `frame_depth=1` sets `frame.depth`."""
    return {path.replace("_", ".", 1): Entry(written, Origin(name)) for path, written in values.items()}


def held(merged: dict[str, tuple[Entry, ...]]) -> dict[str, Any]:
    """Return the values that hold."""
    return {path: entries[-1].written for path, entries in merged.items()}


class TestMerge:
    def test_higher_wins_leaf_by_leaf(self) -> None:
        merged = merge([layer("a", frame_wall="1", frame_depth="2"), layer("b", frame_depth="3", lace_play="4")])
        assert held(merged) == {"frame.wall": "1", "frame.depth": "3", "lace.play": "4"}

    def test_all_that_was_said_is_kept(self) -> None:
        merged = merge([layer("a", lace_play="1"), layer("b", lace_play="2"), layer("c", lace_play="3")])
        assert [(entry.written, entry.origin.layer) for entry in merged["lace.play"]] == [
            ("1", "a"),
            ("2", "b"),
            ("3", "c"),
        ]

    def test_lists_replace(self) -> None:
        merged = merge([layer("a", bench_punches=["8 mm", "9 mm"]), layer("b", bench_punches=["10 mm"])])
        assert held(merged) == {"bench.punches": ["10 mm"]}

    @pytest.mark.parametrize(
        ("low", "high"),
        [("web", "pair_spacing"), ("pair_spacing", "web"), ("margin", "edge_distance"), ("edge_distance", "margin")],
    )
    def test_one_of_a_couple_silences_the_other_below(self, low: str, high: str) -> None:
        merged = merge([layer("a", **{f"stations_{low}": "1"}), layer("b", **{f"stations_{high}": "2"})])
        assert held(merged) == {f"stations.{high}": "2"}

    def test_couples_do_not_touch_each_other(self) -> None:
        merged = merge([layer("a", stations_web="1", stations_margin="2"), layer("b", stations_pair_spacing="3")])
        assert held(merged) == {"stations.margin": "2", "stations.pair_spacing": "3"}

    def test_back_and_forth(self) -> None:
        layers = [layer("a", stations_web="1"), layer("b", stations_pair_spacing="2"), layer("c", stations_web="3")]
        merged = merge(layers)
        assert [entry.written for entry in merged["stations.web"]] == ["3"]
        assert "stations.pair_spacing" not in merged

    def test_another_outline_silences_the_sizes_of_the_old(self) -> None:
        low = layer("a", frame_outline="oval", frame_length="1", frame_width="2", frame_depth="3")
        merged = merge([low, layer("b", frame_outline="round", frame_diameter="4")])
        assert held(merged) == {"frame.outline": "round", "frame.diameter": "4", "frame.depth": "3"}

    def test_the_same_outline_silences_nothing(self) -> None:
        low = layer("a", frame_outline="oval", frame_length="1", frame_width="2")
        merged = merge([low, layer("b", frame_outline="oval", frame_width="3")])
        assert held(merged) == {"frame.outline": "oval", "frame.length": "1", "frame.width": "3"}

    def test_sizes_that_contradict_their_outline_stay_to_be_refused(self) -> None:
        merged = merge([layer("a", frame_diameter="1"), layer("b", frame_outline="oval", frame_length="2")])
        assert held(merged) == {"frame.diameter": "1", "frame.outline": "oval", "frame.length": "2"}

    @given(
        st.lists(st.dictionaries(st.sampled_from(["lace_play", "lace_tail", "frame_depth"]), st.integers()), max_size=5)
    )
    def test_last_to_speak_holds(self, said: list[dict[str, int]]) -> None:
        """Where nothing silences anything, a merge is what dictionaries do."""
        expected: dict[str, int] = {}
        for values in said:
            expected |= {path.replace("_", ".", 1): value for path, value in values.items()}
        assert held(merge(layer("x", **values) for values in said)) == expected

    @given(st.lists(st.sampled_from(["web", "pair_spacing", "margin", "edge_distance"]), min_size=1, max_size=8))
    def test_never_both_of_a_couple(self, fields: list[str]) -> None:
        merged = merge(layer(str(number), **{f"stations_{field}": number}) for number, field in enumerate(fields))
        for couple in (("web", "pair_spacing"), ("margin", "edge_distance")):
            said = [field for field in fields if field in couple]
            assert [field for field in couple if f"stations.{field}" in merged] == said[-1:]


class TestLayerOfADocument:
    def test_parts_and_places(self) -> None:
        kind, located = document("spec", "drum: A\ntitle: x\nframe: {depth: 5 cm}\nstations:\n  count: 16\n")
        found = layer_of(kind, located)
        assert {path: entry.written for path, entry in found.items()} == {"frame.depth": "5 cm", "stations.count": 16}
        assert found["stations.count"].origin == Origin("spec", Place("spec.yaml", 6, 10, 2, "  count: 16"))

    def test_parts_that_are_no_maps_set_nothing(self) -> None:
        assert layer_of(*document("base", "frame: round\nlace: [1]\nhead:\n")) == {}


HEAD = "head: {hide: goat}\n"


class TestStack:
    def test_built_in_and_profile(self) -> None:
        stacked = stack([document("spec", HEAD)])
        assert stacked["stations.web"][-1].written == HIDES["goat"]["web"].written
        assert stacked["lace.play"][-1].written == BUILT_IN["lace.play"].written
        origin = stacked["stations.web"][-1].origin
        assert (origin.layer, origin.place, origin.is_default) == ("hide profile", None, True)
        assert origin.reason
        assert origin.source
        assert stacked["lace.play"][-1].origin.layer == "built-in"

    def test_order_of_layers(self) -> None:
        shop = document("shop", "lace: {play: 1 mm, tail: 1 mm, core: 1 mm, join: 1 mm}\n")
        far = document("base", "lace: {play: 2 mm, tail: 2 mm, core: 2 mm}\n", "far.yaml")
        near = document("base", "lace: {play: 3 mm, tail: 3 mm}\n", "near.yaml")
        stacked = stack([shop, far, near, document("spec", f"lace: {{play: 4 mm}}\n{HEAD}")])
        told = {path: (entries[-1].written, entries[-1].origin.layer) for path, entries in stacked.items()}
        assert told["lace.play"] == ("4 mm", "spec")
        assert told["lace.tail"] == ("3 mm", "base")
        assert told["lace.core"] == ("2 mm", "base")
        assert told["lace.join"] == ("1 mm", "shop")
        assert told["lace.allowance"] == ("8 %", "built-in")
        assert [entry.origin.layer for entry in stacked["lace.play"]] == ["built-in", "shop", "base", "base", "spec"]
        assert [entries[-1].origin.is_default for entries in (stacked["lace.join"], stacked["lace.tail"])] == [
            True,
            False,
        ]

    def test_every_hide_fills_the_same_fields(self) -> None:
        fields = {frozenset(stack([document("spec", f"head: {{hide: {hide}}}\n")])) for hide in HIDES}
        assert len(fields) == 1

    def test_hide_from_a_base(self) -> None:
        stacked = stack([document("base", "head: {hide: cow}\n"), document("spec", "frame: {depth: 5 cm}\n")])
        assert stacked["stations.web"][-1].written == "15 mm"

    def test_the_lace_has_a_hide_of_its_own(self) -> None:
        """Cow is too thick for lace, so its profile names calf, and the lace's thickness is calf's."""
        stacked = stack([document("spec", "head: {hide: cow}\n")])
        assert stacked["lace.hide"][-1].written == "calf"
        assert stacked["lace.thickness"][-1].written == HIDES["calf"]["thickness"].written
        assert stacked["head.thickness"][-1].written == HIDES["cow"]["thickness"].written
        assert stacked["lace_hide.wet_strength"][-1].written == HIDES["calf"]["wet_strength"].written

    def test_lace_hide_from_the_spec(self) -> None:
        stacked = stack([document("spec", "head: {hide: cow}\nlace: {hide: deer}\n")])
        assert stacked["lace.thickness"][-1].written == HIDES["deer"]["thickness"].written

    def test_shop_profile(self) -> None:
        shop = document(
            "shop", "stations: {web: 11 mm, hole: 9 mm}\nhides:\n  goat: {web: 12 mm, soak: 8 h}\n  cow: {web: 13 mm}\n"
        )
        stacked = stack([shop, document("spec", HEAD)])
        entry = stacked["stations.web"][-1]
        assert (entry.written, entry.origin.layer) == ("12 mm", "shop")
        assert entry.origin.place == Place("shop.yaml", 4, 15, 5, "  goat: {web: 12 mm, soak: 8 h}")
        assert stacked["stations.hole"][-1].written == "9 mm"
        assert stacked["hide.soak"][-1].written == "8 h"

    def test_shop_profile_of_the_lace(self) -> None:
        shop = document("shop", "hides:\n  calf: {thickness: 1.7 mm, web: 99 mm}\n")
        stacked = stack([shop, document("spec", "head: {hide: cow}\n")])
        assert stacked["lace.thickness"][-1].written == "1.7 mm"
        assert stacked["head.thickness"][-1].written == HIDES["cow"]["thickness"].written
        assert stacked["stations.web"][-1].written == HIDES["cow"]["web"].written

    def test_lace_hide_of_the_shops_profile_comes_before_that_for_all_drums(self) -> None:
        """The hide that is named and the profile that is taken must be the same."""
        shop = document("shop", "lace: {hide: deer}\nhides:\n  goat: {lace_hide: sheep}\n")
        stacked = stack([shop, document("spec", HEAD)])
        assert stacked["lace.hide"][-1].written == "sheep"
        assert stacked["lace.thickness"][-1].written == HIDES["sheep"]["thickness"].written
        stacked = stack([shop, document("spec", "head: {hide: cow}\n")])
        assert stacked["lace.hide"][-1].written == "deer"
        assert stacked["lace.thickness"][-1].written == HIDES["deer"]["thickness"].written

    def test_pair_spacing_silences_the_profiles_web(self) -> None:
        stacked = stack([document("spec", f"stations: {{pair_spacing: 3 cm, edge_distance: 2 cm}}\n{HEAD}")])
        assert not {"stations.web", "stations.margin"} & set(stacked)

    @pytest.mark.parametrize("head", ["", "head: {hide: unicorn}\n", "head: {hide: 3}\n"])
    def test_no_such_hide(self, head: str) -> None:
        """It is refused elsewhere; here it only must not fail."""
        assert "stations.web" not in stack([document("spec", f"frame: {{depth: 5 cm}}\n{head}")])

    def test_no_documents(self) -> None:
        assert set(stack([])) == set(BUILT_IN)
