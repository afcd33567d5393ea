"""Every figure of the plan can be asked how it came about, down to the fields."""

from __future__ import annotations

import json
import math

import pytest

from drums import changed, spec_text
from explained import DEMOS, walk, workings_of_demo
from tauthide.explaining.data import node_data
from tauthide.explaining.text import WIDTH, tree_text
from tauthide.explaining.tree import SHAPE_TITLES, conditions, explain_figure
from tauthide.figures import Workings
from tauthide.lacing.lacings import LACINGS
from tauthide.output.plan_json import render_plan
from tauthide.plan.plan import make_plan
from tauthide.quantities.figures import figures_with, start_workings
from tauthide.schema.fields import fields
from tauthide.spec.chain import stdin_chain
from tauthide.spec.resolving import PROFILE_QUANTITIES, resolve


@pytest.mark.parametrize("demo", DEMOS)
class TestEveryFigure:
    """Of every demo spec."""

    def test_values_are_those_of_the_plan(self, demo: str) -> None:
        workings = workings_of_demo(demo)
        plan = json.loads(render_plan(make_plan(workings), ()))["figures"]
        assert plan
        for name, figure in plan.items():
            data = node_data(explain_figure(workings, name))
            assert (data["name"], data["value"], data["unit"]) == (name, figure["value"], figure["unit"])
            assert data["title"]
            assert data["formula"]
            assert data["source"]
            assert data["shown"]

    def test_leaves_are_fields_with_an_origin(self, demo: str) -> None:
        workings = workings_of_demo(demo)
        known = {path for path, field in fields("spec").items() if field.type != "object"} | set(PROFILE_QUANTITIES)
        for name in workings.values():
            nodes = list(walk(explain_figure(workings, name)))
            spelt_out = {f"{node.kind}:{node.name}" for node, _ in nodes if node.inputs}
            for node, above in nodes:
                own = f"{node.kind}:{node.name}"
                assert own not in above, "a circle"
                assert not node.cut
                if node.again:
                    assert own in spelt_out
                elif not node.inputs:
                    assert node.kind == "field", (name, own)
                    assert node.name in known
                    assert (node.origin is not None) == workings.spec.has(node.name)
                    assert node.title != node.name
                if node.kind == "field" and node.origin is not None:
                    assert node.origin.place is not None or (node.origin.reason and node.origin.source)

    def test_text_is_narrow_and_finite(self, demo: str) -> None:
        workings = workings_of_demo(demo)
        for name in workings.values():
            tree = explain_figure(workings, name)
            assert isinstance(tree.value, (int, float))
            assert math.isfinite(tree.value)
            lines = tree_text(tree, workings.spec).splitlines()
            assert lines[0] == f"{name}  {tree.shown}"
            assert max(map(len, lines)) <= WIDTH
            assert len(lines) < 1000
            assert all(line.startswith("  ") for line in lines[1:])

    def test_inputs_are_those_that_were_noted(self, demo: str) -> None:
        workings = workings_of_demo(demo)
        for name in workings.values():
            tree = explain_figure(workings, name, 1)
            kinds = {"field": "field:", "shape": "shape:", "figure": ""}
            assert tuple(kinds[node.kind] + node.name for node in tree.inputs) == workings.inputs(name)
            assert not any(node.inputs for node in tree.inputs)


def workings_of(text: str) -> Workings:
    spec, findings = resolve(stdin_chain(text.encode()))
    assert spec is not None, findings
    return start_workings(spec)


def test_page() -> None:
    workings = workings_of_demo("lib-13.yaml")
    assert tree_text(explain_figure(workings, "skin.reach"), workings.spec) == (
        "skin.reach  94 mm (3 11/16 in)\n"
        "  Skin needed outside the frame's outline\n"
        "  = depth + turnover + 2 skin.corner; or drop + skin.corner\n"
        "  = 55 mm + 40 mm + 2 x (-0.5022 mm)\n"
        "  source: sheet-metal bend allowance, angle x (inside radius + K x thickness), with K = 0.5 for a\n"
        "      neutral line at half thickness (standard handbooks)\n"
        "  head.drop  not set  no layer sets it\n"
        "  frame.depth  55 mm (2 3/16 in)  spec: specs/lib-13.yaml:6\n"
        "  head.turnover  40 mm (1 9/16 in)  built in: room for the margin, the hole and clear skin inside\n"
        "      the wall (workshop practice, no published source)\n"
        "  skin.corner  -0.5 mm (-0.020 in)\n"
        "    What each rounded edge adds to the skin's path (less than nothing: it saves)\n"
        "    = (pi / 2) (edge_radius + thickness / 2) - 2 edge_radius\n"
        "    = (pi / 2) (3 mm + 1 mm / 2) - 2 x 3 mm\n"
        "    source: sheet-metal bend allowance, angle x (inside radius + K x thickness), with K = 0.5 for a\n"
        "        neutral line at half thickness (standard handbooks)\n"
        "    frame.edge_radius  3 mm (1/8 in)  shop file: specs/shop.yaml:6\n"
        "    head.thickness  1.0 mm (0.039 in)  hide profile: goat: usual thickness, soaked (workshop\n"
        "        practice, no published source)\n"
    )


def test_other_units_lead_on_a_sheet_in_inches() -> None:
    workings = workings_of(spec_text(changed(bench_units="inch")))
    tree = explain_figure(workings, "head.blank_radius", 0)
    # 55 mm of depth, 40 mm of turnover and twice (pi / 2) 2.5 mm - 4 mm make 94.854 mm.
    assert tree.shown == "10 1/4 in (260 mm)"
    assert tree.put_in == "13 in / 2 + 3.7344 in"


class TestDepth:
    """Trees are as deep as they are asked to be."""

    @pytest.mark.parametrize("depth", range(8))
    def test_levels(self, depth: int) -> None:
        workings = workings_of_demo("lib-16.yaml")
        whole = list(walk(explain_figure(workings, "lace.cut_length")))
        assert max(len(above) for _, above in whole) > 5
        nodes = list(walk(explain_figure(workings, "lace.cut_length", depth)))
        assert max(len(above) for _, above in nodes) == min(depth, max(len(above) for _, above in whole))
        for node, above in nodes:
            assert node.cut == (len(above) == depth and node.kind != "field" and not node.again)

    def test_cut_is_told(self) -> None:
        workings = workings_of_demo("lib-13.yaml")
        tree = explain_figure(workings, "head.blank_diameter", 0)
        assert tree.cut
        assert tree_text(tree, workings.spec).endswith("  its inputs lie deeper than --depth\n")
        assert "--depth" not in tree_text(explain_figure(workings, "head.blank_diameter"), workings.spec)

    def test_what_was_spelt_out_to_less_depth_is_spelt_out_again(self) -> None:
        """`again` must not point at a place where less is told than is asked for here."""
        for demo in DEMOS:
            workings = workings_of_demo(demo)
            for name in workings.values():
                for depth in (2, 3, 4):
                    told: dict[str, int] = {}
                    for node, above in walk(explain_figure(workings, name, depth)):
                        own, left = f"{node.kind}:{node.name}", depth - len(above)
                        if node.again:
                            assert told[own] >= left
                        elif node.inputs:
                            told[own] = max(left, told.get(own, 0))


def test_what_was_spelt_out_is_not_repeated() -> None:
    workings = workings_of_demo("lib-16.yaml")
    text = tree_text(explain_figure(workings, "hold.use_dry"), workings.spec)
    assert "as above" in text
    assert text.count("= diameter / 2 - edge_radius\n") == 1


def test_unset_field_says_why() -> None:
    workings = workings_of(spec_text(changed(stations_pair_spacing="30 mm")))
    text = tree_text(explain_figure(workings, "holes.pair_spacing"), workings.spec)
    assert "  stations.pair_spacing  30 mm (1 3/16 in)  spec: <stdin>:" in text
    other = workings_of(spec_text(changed()))
    text = tree_text(explain_figure(other, "holes.pair_spacing"), other.spec)
    assert "  stations.pair_spacing  not set  no layer sets it, or stations.web took its place\n" in text


class TestShapes:
    """Shapes are explained by what went into them."""

    def test_inputs(self) -> None:
        tree = explain_figure(workings_of_demo("lib-18-oval.yaml"), "frame.perimeter")
        (shape,) = tree.inputs
        assert (shape.kind, shape.name, shape.value, shape.title) == (
            "shape",
            "frame.outline",
            None,
            "the frame's outline",
        )
        assert [node.name for node in shape.inputs] == ["frame.outline", "frame.length", "frame.width"]

    def test_every_shape_has_a_title(self) -> None:
        assert {name for lacing in LACINGS for name in figures_with(lacing).shapes} == set(SHAPE_TITLES)


def test_conditions_of_a_figure() -> None:
    workings = workings_of_demo("lib-18-oval.yaml")
    assert not workings.applies("head.blank_diameter")
    assert conditions(workings, "head.blank_diameter") == ("field:frame.outline",)


def test_unknown_figure() -> None:
    with pytest.raises(KeyError):
        explain_figure(workings_of_demo("lib-13.yaml"), "head.blank_colour")
