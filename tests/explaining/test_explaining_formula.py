"""Numbers are put into formulas where the names of inputs stand, and nowhere else."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping
from typing import Any

import pytest

from drums import Fields, changed, spec_text
from explained import DEMOS, workings_of_demo
from tauthide.explaining.formula import Filled, fill
from tauthide.explaining.tree import explain_figure
from tauthide.figures import Workings
from tauthide.quantities.figures import start_workings
from tauthide.spec.chain import stdin_chain
from tauthide.spec.resolving import resolve

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


@pytest.mark.parametrize(
    ("formula", "text"),
    [
        ("turnover, as given; or hole - skin.gone", "40 mm, as given"),
        ("skin.gone, as given; or turnover + hole", "40 mm + 10 mm"),
        ("round: skin.gone / 2; oval: (turnover + hole) / 4", "oval: (40 mm + 10 mm) / 4"),
        ("count turnover; none: 0", "16 x 40 mm"),
        ("skin.gone turnover; none: 0", "none: 0"),
        ("2 turnover; 2 hole", "2 x 40 mm; 2 x 10 mm"),
    ],
)
def test_of_several_ways_the_one_that_was_taken(formula: str, text: str) -> None:
    assert put(formula, ("skin.gone",)) == Filled(text, ())


def test_no_way_is_whole() -> None:
    filled = put("skin.gone - hole; or skin.lost", ("skin.gone", "skin.lost"))
    assert filled == Filled("skin.gone - 10 mm; or skin.lost", ("skin.gone", "skin.lost"))


# Units in kg, m, s and N, by definition: 1 lbf is 4.4482216152605 N, 1 lb is 0.45359237 kg, 1 in is 0.0254 m.
_LBF, _LB, _IN = 4.4482216152605, 0.45359237, 0.0254
_UNITS = {
    "kg/m³": 1.0,
    "lb/ft³": _LB / (12 * _IN) ** 3,
    "kg/m²": 1.0,
    "lb/sq ft": _LB / (12 * _IN) ** 2,
    "N/mm²": 1e6,
    "psi": _LBF / _IN**2,
    "N/mm": 1e3,
    "N/m": 1.0,
    "lbf/in": _LBF / _IN,
    "mm": 1e-3,
    "in": _IN,
    "lbf": _LBF,
    "N": 1.0,
    "Hz": 1.0,
    "%": 0.01,
    "°": math.pi / 180,
}
_BASES = {"mm": 1e-3, "mm2": 1e-6, "deg": math.pi / 180, "N": 1.0, "N/m": 1.0, "Hz": 1.0, "kg/m2": 1.0, "1": 1.0}
_FUNCTIONS = {name: getattr(math, name) for name in ("sqrt", "sin", "cos", "tan", "asin", "hypot", "exp")}
_UNIT = "|".join(sorted(map(re.escape, _UNITS), key=len, reverse=True))
_TOKEN = re.compile(
    rf"(?P<number>\d+(?:\.\d+)?)(?:\s*(?P<unit>{_UNIT})(?!\w))?|(?P<word>[A-Za-z]\w*)|(?P<sign>[-+/^(),])"
)
_RAISED = ", raised to the next 50 mm"


def work_out(text: str) -> float | None:
    """Return what a formula with numbers comes to, in kg, m, s, N and radians; None if it has words or names."""
    text = re.sub(r"^[a-z ]+: ", "", text).split(": ")[0].removesuffix(", as given")
    text, *wheres = re.split(r", (?:[a-z ]+ )?(?=(?:k1|k|R|strands) = )", text.removesuffix(_RAISED))
    letters: dict[str, float] = {}
    for where in reversed(wheres):
        letter, _, behind = where.partition(" = ")
        value = _evaluate(behind, letters)
        if value is None:
            return None
        letters[letter] = value
    return _evaluate(text, letters)


def _evaluate(text: str, letters: Mapping[str, float]) -> float | None:
    text = re.sub(r"sqrt (\d+)", r"sqrt(\1)", text)
    if _TOKEN.sub("", text).strip():
        return None
    code, after_factor = "", False
    for match in _TOKEN.finditer(text):
        token = match[0]
        times = after_factor and (match["number"] or match["word"] or token == "(") and token != "x"
        if match["number"]:
            item = f"({match['number']}*{_UNITS[match['unit']] if match['unit'] else 1!r})"
        else:
            item = {"x": "*", "^": "**"}.get(token, token)
        code += ("*" if times else "") + item
        after_factor = bool(match["number"]) or token == ")" or (bool(match["word"]) and token not in ("x", *_CALLED))
    known = {**_FUNCTIONS, **letters, "pi": math.pi, "min": min, "max": max}
    if {match["word"] for match in _TOKEN.finditer(text) if match["word"]} - {"x", *known}:
        return None
    result: float = eval(code, {"__builtins__": {}}, known)
    return result


_CALLED = (*_FUNCTIONS, "min", "max")

IN_WORDS = {
    "bend.radius",
    "bend.steam_least",
    "bend.steam_most",
    "stave.board_length",
    "stave.boards",
    "wood.damp_moisture",
    "wood.depth_rate",
    "wood.dry_moisture",
    "wood.wall_rate",
    "frame.perimeter",
    "head.blank_perimeter",
    "head.blank_area",
    "head.count",
    "head.blank_length",
    "head.blank_width",
    "head.gather",
    "holes.blank_gap",
    "holes.mounted_gap",
    "lace.first_net",
    "lace.hub_take_up",
    "lace.most_stations",
    "lace.net_high",
    "lace.net_length",
    "lace.net_low",
    "lace.net_per_inset",
    "lace.ring_way",
    "lace.second_net",
    "lace.spans",
    "lace.to_hub",
    "pull.strand_angle",
    "punchings.count",
}
"""Figures whose formula says in words what no short formula can."""


def drums_to_explain() -> Iterator[Any]:
    for demo in DEMOS:
        yield pytest.param(workings_of_demo(demo), id=demo)
    for name, changes in OTHER_WAYS.items():
        spec, findings = resolve(stdin_chain(spec_text({**changed(), **changes}).encode()))
        assert spec is not None, findings
        yield pytest.param(start_workings(spec), id=name)


OTHER_WAYS: Mapping[str, Fields] = {
    "between centres": {"stations.pair_spacing": "27 mm", "stations.edge_distance": "18 mm"},
    "inches": {"bench.units": "inch", "voice.pitch": "A2"},
    "pull": {"voice.pull": "90 N"},
    "no handle": {"handle.arms": 0, "bench.units": "inch", "voice.pull": "25 lbf"},
    "holes on the wall": {"head.turnover": "12 mm", "lace.play": "2 mm"},
    "narrow web": {"stations.web": "2 mm"},
    "two laces": {"lace.laces": 2, "voice.pull": "50 N"},
    "ring": {"lace.lacing": "ring", "voice.pitch": "A2", "handle.arms": 4},
    "two heads": {"lace.lacing": "zigzag", "frame.depth": "150 mm", "lace.laces": 3, "voice.pitch": "A2"},
    "little lace": {"lace.tab_length": "40 mm", "lace.width": "6 mm", "stations.hole": "8 mm"},
}
"""Drums whose figures come about by other ways of their formulas than the demo specs'."""


@pytest.mark.parametrize("workings", list(drums_to_explain()))
class TestOfDrums:
    """Every figure that a drum has."""

    def test_every_name_is_replaced_by_its_number(self, workings: Workings) -> None:
        left = {name: tree.left for name in workings.values() if (tree := explain_figure(workings, name, 0)).left}
        assert left == {}

    def test_what_was_asked_for_stands_in_the_formula(self, workings: Workings) -> None:
        """A figure that is worked out of others names each of them, unless it says in words how."""
        for name in workings.values():
            if name in IN_WORDS:
                continue
            formula = workings.definition(name).formula
            own = [item for item in workings.inputs(name) if not item.startswith(("field:", "shape:"))]
            assert [item for item in own if item not in formula] == [], name

    def test_formulas_come_to_their_figures(self, workings: Workings) -> None:
        """What stands behind the second `=` is right: worked out with its units, it gives the figure."""
        in_words = set()
        for name, value in workings.values().items():
            tree = explain_figure(workings, name, 0)
            result = work_out(tree.put_in or tree.formula)
            if result is None:
                in_words.add(name)
                continue
            if tree.formula.endswith(_RAISED):
                result = math.ceil(result / 0.05 - 1e-9) * 0.05
            base = _BASES[tree.unit]
            # Lengths are put in to 0.01 mm or 0.001 in, all else to five digits.
            assert result / base == pytest.approx(value, rel=1e-3, abs=0.06 if tree.unit == "mm" else 1e-9), name
        assert in_words <= IN_WORDS
