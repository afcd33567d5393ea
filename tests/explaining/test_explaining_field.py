"""A field's page: its value and each layer that set it, lowest first."""

from __future__ import annotations

import pytest

from drums import changed, spec_text
from explained import DEMOS, located_of_demo, workings_of_demo
from tauthide.explaining.data import field_data
from tauthide.explaining.field import FieldPage, explain_field
from tauthide.explaining.names import all_names
from tauthide.explaining.text import WIDTH, field_text
from tauthide.spec.chain import stdin_chain
from tauthide.spec.resolving import resolve


def page_of(demo: str, path: str) -> FieldPage:
    return explain_field(workings_of_demo(demo).spec, located_of_demo(demo), path)


def page_in(text: str, path: str) -> FieldPage:
    chain = stdin_chain(text.encode())
    spec, findings = resolve(chain)
    assert spec is not None, findings
    assert chain.spec.document is not None
    return explain_field(spec, chain.spec.document.located, path)


def test_page_with_layers() -> None:
    assert field_text(page_of("lib-13.yaml", "stations.web")) == (
        "stations.web  18 mm (11/16 in)\n"
        "  Web\n"
        "  Clear skin between the two holes of a pair, edge to edge. Give this or `pair_spacing`, not both.\n"
        "  allowed: 2 mm to 100 mm\n"
        "  set by these layers, the lowest first; the last one holds:\n"
        "    20 mm  hide profile: goat: a thin skin wants a wider web (workshop practice, no published\n"
        "        source)\n"
        "    18 mm  shop file: specs/shop.yaml:13\n"
    )


@pytest.mark.parametrize(
    ("demo", "path", "layers"),
    [
        ("lib-10.yaml", "frame.wall", [("8 mm", "built-in", None), ("9 mm", "base", 8), ("7 mm", "spec", 7)]),
        ("lib-10.yaml", "frame.outline", [("round", "base", 6)]),
        ("lib-13.yaml", "lace.allowance", [("8 %", "built-in", None), ("10 %", "shop", 8)]),
        ("lib-13.yaml", "bench.punches", [(["6 mm", "8 mm", "10 mm", "11 mm", "12 mm"], "shop", 10)]),
        ("lib-13.yaml", "hide.density", [("1200 kg/m3", "hide profile", None)]),
        ("lib-13.yaml", "drum", [("LIB-13", "spec", 3)]),
        ("lib-20.yaml", "quantity", [(1, "built-in", None)]),
        ("lib-20.yaml", "voice.pitch", []),
    ],
)
def test_layers(demo: str, path: str, layers: list[tuple[object, str, int | None]]) -> None:
    data = field_data(page_of(demo, path))
    assert [(layer["written"], layer["layer"], layer["line"]) for layer in data["layers"]] == layers
    assert bool(data["unset"]) == (not layers)
    assert (data["value"] is None) == (not layers)


def test_value_and_unit_are_exact() -> None:
    data = field_data(page_of("lib-13.yaml", "frame.diameter"))
    assert (data["value"], data["unit"], data["shown"]) == (330.2, "mm", "330 mm (13 in)")
    data = field_data(page_of("lib-13.yaml", "stations.count"))
    assert (data["value"], data["unit"], data["shown"]) == (16, "1", "16")
    data = field_data(page_of("lib-13.yaml", "head.hide"))
    assert (data["value"], data["unit"], data["shown"]) == ("goat", None, "goat")


def test_other_of_a_couple() -> None:
    page = page_in(spec_text(changed(stations_pair_spacing="30 mm")), "stations.web")
    assert (page.shown, page.unset) == ("not set", "no layer sets it, or stations.pair_spacing took its place")


@pytest.mark.parametrize("demo", DEMOS)
def test_every_field_has_a_page(demo: str) -> None:
    for path in sorted(all_names().fields):
        page = page_of(demo, path)
        assert page.title != path, path
        assert page.description, path
        text = field_text(page)
        assert " ".join(text.split()).startswith(" ".join(f"{path} {page.shown} {page.title}".split()))
        assert max(map(len, text.splitlines())) <= WIDTH
        assert page.layers or page.unset
