"""Numbers are put into formulas where the names of inputs stand, and nowhere else."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping

import pytest

from explained import DEMOS, workings_of_demo
from tauthide.explaining.formula import Filled, fill
from tauthide.explaining.tree import explain_figure

FIELDS = ("head.turnover", "frame.edge_radius", "stations.hole", "stations.count", "lace.width", "lace.allowance")
VALUES: Mapping[str, str] = {
    "head.turnover": "40 mm",
    "frame.edge_radius": "3 mm",
    "stations.hole": "10 mm",
    "stations.count": "16",
    "lace.width": "8 mm",
    "lace.allowance": "8 %",
    "skin.reach": "92 mm",
    "skin.reach_low": "91 mm",
    "skin.corner": "-0.5 mm",
    "lace.net_length": "9000 mm",
}


def put(formula: str, known: tuple[str, ...] = ()) -> Filled:
    return fill(formula, VALUES, FIELDS, known)


@pytest.mark.parametrize(
    ("formula", "text"),
    [
        ("turnover - edge_radius", "40 mm - 3 mm"),
        ("edge_radius + turnover / 2", "3 mm + 40 mm / 2"),
        ("skin.reach_low + skin.reach", "91 mm + 92 mm"),
        ("2 skin.reach", "2 x 92 mm"),
        ("2 x skin.reach", "2 x 92 mm"),
        ("2 pi skin.reach / count", "2 pi x 92 mm / 16"),
        ("skin.reach turnover", "92 mm x 40 mm"),
        ("skin.reach (1 + allowance)", "92 mm x (1 + 8 %)"),
        ("skin.reach sin(pi / count)", "92 mm x sin(pi / 16)"),
        ("(count - 1) turnover", "(16 - 1) x 40 mm"),
        ("4 k width turnover", "4 k x 8 mm x 40 mm"),
        ("min(lace width, hole)", "min(8 mm, 10 mm)"),
        ("skin.reach^2", "(92 mm)^2"),
        ("2 skin.corner", "2 x (-0.5 mm)"),
        ("-skin.reach where that is negative", "-92 mm where that is negative"),
        ("skin.reach (edge_radius where the holes lie on the wall)", "92 mm (3 mm where the holes lie on the wall)"),
        ("hole, as given", "10 mm, as given"),
        ("pushed out by skin.reach, upward", "pushed out by 92 mm, upward"),
        ("skin.reach x width of the lace", "92 mm x 8 mm of the lace"),
    ],
)
def test_put_in(formula: str, text: str) -> None:
    assert put(formula) == Filled(text, ())


@pytest.mark.parametrize(
    "formula",
    [
        "distance of the last hole from the hub",
        "from a count: sum of all",
        "the wet width",
        "the turnover's length",
        "skin.reached",
        "old.skin.reach",
        "counts",
        "k width_of_it"[2:],
        "",
    ],
)
def test_words_are_left(formula: str) -> None:
    assert put(formula).text == formula


def test_names_that_are_left() -> None:
    filled = put("skin.reach - holes.margin - pair_spacing / 2, over all", ("holes.margin", "over"))
    assert filled == Filled("92 mm - holes.margin - pair_spacing / 2, over all", ("holes.margin", "pair_spacing"))


def test_name_without_a_number_is_left() -> None:
    assert fill("2 turnover", {"head.turnover": ""}, ("head.turnover",), ()) == Filled("2 turnover", ("turnover",))


def test_two_fields_of_one_name_are_told_apart() -> None:
    values = {"frame.width": "300 mm", "lace.width": "8 mm"}
    filled = fill("width + lace width + lace.width + frame width", values, tuple(values), ("width",))
    assert filled == Filled("width + 8 mm + 8 mm + 300 mm", ("width",))


def test_longest_name_first() -> None:
    values = {"lace.dry_thickness": "1 mm", "lace.thickness": "2 mm"}
    assert fill("2 x dry thickness", values, tuple(values), ()).text == "2 x 1 mm"
    both = {**values, "lace.dry": "5"}
    assert fill("2 x dry thickness", both, tuple(both), ()).text == "2 x 1 mm"
    assert fill("2 x dry_thickness + thickness", values, tuple(values), ()).text == "2 x 1 mm + 2 mm"


# Formulas of nothing but lengths and counts can be worked out as they stand.
_TOKEN = re.compile(r"\d+(?:\.\d+)?|[a-z]+|[-+/^(),%°]")
_WORDS = {"mm", "x", "pi", "sqrt", "sin", "tan", "asin", "min"}


def work_out(text: str) -> float | None:
    """Return what a formula with numbers comes to, in mm or radians; None if it has words or other units."""
    tokens = _TOKEN.findall(text)
    if "".join(tokens) != "".join(text.split()) or {token for token in tokens if token.isalpha()} - _WORDS:
        return None
    code = ""
    before = ""
    for token in tokens:
        if token == "mm":
            continue
        factor = token[0].isdigit() or (token.isalpha() and token != "x") or token == "("
        if factor and (before in (")", "pi") or before[:1].isdigit()):
            code += "*"
        code += {"x": "*", "^": "**", "%": "/100", "°": "*pi/180"}.get(token, token)
        before = token
    names = {name: getattr(math, name) for name in ("pi", "sqrt", "sin", "tan", "asin")}
    result: float = eval(code, {"__builtins__": {"min": min}}, names)
    return result


@pytest.mark.parametrize("demo", [demo for demo in DEMOS if demo != "lib-20.yaml"])
def test_formulas_come_to_their_figures(demo: str) -> None:
    """What stands behind the second `=` is right: worked out, it gives the figure."""
    workings = workings_of_demo(demo)
    checked = []
    for name in workings.values():
        tree = explain_figure(workings, name, 0)
        result = work_out(tree.put_in) if tree.put_in else None
        if result is None or tree.unit not in ("mm", "mm2", "deg", "1"):
            continue
        assert isinstance(tree.value, (int, float))
        expected = math.radians(tree.value) if tree.unit == "deg" else tree.value
        # The numbers that were put in are rounded to 0.01 mm.
        assert result == pytest.approx(expected, rel=2e-3, abs=0.06), (name, tree.put_in)
        checked.append(name)
    assert len(checked) >= 10, checked
    assert {"skin.reach", "skin.corner", "holes.count", "lace.bridges", "lace.play", "lace.anchor"} <= set(checked)
