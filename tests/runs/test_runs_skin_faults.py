"""Mistakes in a skin, with the whole text of each finding."""

from __future__ import annotations

from inspect import cleandoc

import pytest

from run_files import SKIN, findings_in_text, told

CASES = {
    "outline crosses itself": (
        "[0, 0], [14, 0], [14, 18], [0, 18]",
        "[0, 0], [14, 18], [14, 0], [0, 18]",
        """
            skin.yaml:7:38 [[] error edge-crosses-itself outline.points.2
              the edge of the outline from point 1 to 2 crosses or touches the one from 3 to 4
              found: [14, 0]
              allowed: corners in the order in which they are met going round
        """,
    ),
    "outline touches itself": (
        "[14, 18], [0, 18]",
        "[14, 18], [7, 0], [0, 18]",
        """
            skin.yaml:7:37 [[] error edge-crosses-itself outline.points.2
              the edge of the outline from point 1 to 2 crosses or touches the one from 3 to 4
              found: [14, 18]
              allowed: corners in the order in which they are met going round
            skin.yaml:7:47 [[] error edge-crosses-itself outline.points.3
              the edge of the outline from point 1 to 2 crosses or touches the one from 4 to 5
              found: [7, 0]
              allowed: corners in the order in which they are met going round
        """,
    ),
    "outline turns back on itself": (
        "[14, 18], [0, 18]",
        "[14, 18], [0, 18], [-3, 18], [0, 18.0001]",
        """
            skin.yaml:7:56 [[] error edge-crosses-itself outline.points.4
              the edge of the outline from point 3 to 4 crosses or touches the one from 5 to 6
              found: [-3, 18]
              allowed: corners in the order in which they are met going round
            skin.yaml:7:56 [[] error edge-crosses-itself outline.points.4
              the edge of the outline from point 4 to 5 crosses or touches the one from 5 to 6, and there are
                more
              found: [-3, 18]
              allowed: corners in the order in which they are met going round
            skin.yaml:7:66 [[] error edge-crosses-itself outline.points.5
              the edge of the outline from point 3 to 4 crosses or touches the one from 6 to 1
              found: [0, 18.0001]
              allowed: corners in the order in which they are met going round
        """,
    ),
    "outline in a star": (
        "[0, 0], [14, 0], [14, 18], [0, 18]",
        "[7, 18], [11, 1], [0, 12], [14, 12], [3, 1]",
        """
            skin.yaml:7:38 [[] error edge-crosses-itself outline.points.2
              the edge of the outline from point 1 to 2 crosses or touches the one from 3 to 4
              found: [0, 12]
              allowed: corners in the order in which they are met going round
            skin.yaml:7:47 [[] error edge-crosses-itself outline.points.3
              the edge of the outline from point 2 to 3 crosses or touches the one from 4 to 5
              found: [14, 12]
              allowed: corners in the order in which they are met going round
            skin.yaml:7:57 [[] error edge-crosses-itself outline.points.4
              the edge of the outline from point 2 to 3 crosses or touches the one from 5 to 1, and there are
                more
              found: [3, 1]
              allowed: corners in the order in which they are met going round
        """,
    ),
    "first point repeated": (
        "[0, 18]]}",
        "[0, 18], [0, 0]]}",
        """
            skin.yaml:7:56 [[] error point-repeated outline.points.4
              point 5 of the outline is the same as point 1
              found: [0, 0]
              allowed: each corner once; the first is not repeated at the end
        """,
    ),
    "point repeated": (
        "[14, 0], [14, 18]",
        "[14, 0], [14, 0], [14, 18]",
        """
            skin.yaml:7:37 [[] error point-repeated outline.points.2
              point 3 of the outline is the same as point 2
              found: [14, 0]
              allowed: each corner once; the first is not repeated at the end
        """,
    ),
    "all points in a line": (
        "[0, 0], [14, 0], [14, 18], [0, 18]",
        "[0, 0], [7, 0], [14, 0]",
        """
            skin.yaml:7:36 [[] error edge-crosses-itself outline.points.2
              the edge of the outline from point 1 to 2 crosses or touches the one from 3 to 1
              found: [14, 0]
              allowed: corners in the order in which they are met going round
            skin.yaml:7:36 [[] error edge-crosses-itself outline.points.2
              the edge of the outline from point 2 to 3 crosses or touches the one from 3 to 1
              found: [14, 0]
              allowed: corners in the order in which they are met going round
        """,
    ),
    "too few points": (
        "[0, 0], [14, 0], [14, 18], [0, 18]",
        "[0, 0], [14, 18]",
        """
            skin.yaml:7:19 [[] error list-length outline.points
              `outline.points` has 2 items
              found: [[0, 0], [14, 18]]
              allowed: 3 to 400 items
        """,
    ),
    "a point with three numbers": (
        "[14, 0], [14",
        "[14, 0, 2], [14",
        """
            skin.yaml:7:28 [[] error list-length outline.points.1
              `outline.points.1` has 3 items
              found: [14, 0, 2]
              allowed: 2 items
        """,
    ),
    "a point with a unit": (
        "[14, 0], [14",
        "[700 mm, 0], [14",
        """
            skin.yaml:7:29 [700 mm] error wrong-type outline.points.1.0
              `outline.points.1.0` takes a number, not text
              found: 700 mm
              allowed: numbers from -200 to 200
              write: 3.5
        """,
    ),
    "a number in quotes": (
        "[14, 0], [14",
        '["14", 0], [14',
        """
            skin.yaml:7:29 ["14"] error wrong-type outline.points.1.0
              `outline.points.1.0` takes a number, not text
              found: "14"
              allowed: numbers from -200 to 200
              write: 14
        """,
    ),
    "a point far off": (
        "[14, 0], [14",
        "[1400, 0], [14",
        """
            skin.yaml:7:29 [1400] error out-of-range outline.points.1.0
              `1400` is too large for `outline.points.1.0`
              found: 1400
              allowed: numbers from -200 to 200
              write: 200
        """,
    ),
    "grid too small": (
        "grid: 50 mm",
        "grid: 5 mm",
        """
            skin.yaml:7:1 [outline] error outline-too-small outline
              the outline encloses only 0.63 dm²
              allowed: at least 1 dm²
        """,
    ),
    "grid too large": (
        "grid: 50 mm",
        "grid: 500 mm",
        """
            skin.yaml:7:1 [outline] error outline-too-large outline
              the outline encloses 63.0 m²
              allowed: at most 10 m²
        """,
    ),
    "neither points nor shape": (
        "outline: {points: [[0, 0], [14, 0], [14, 18], [0, 18]]}",
        "outline: {}",
        """
            skin.yaml:7:1 [outline] error missing-key outline.shape
              `outline` has no `shape`
              allowed: whole, side, trimmed
              write: shape: whole
        """,
    ),
    "shape without sizes": (
        "outline: {points: [[0, 0], [14, 0], [14, 18], [0, 18]]}",
        "outline: {shape: whole}",
        """
            skin.yaml:7:1 [outline] error missing-key outline.length
              `outline` has no `length`
              allowed: 200 mm to 4 m
              write: length: 900 mm
            skin.yaml:7:1 [outline] error missing-key outline.width
              `outline` has no `width`
              allowed: 150 mm to 4 m
              write: width: 700 mm
        """,
    ),
    "points and a shape": (
        "outline: {points:",
        "outline: {shape: side, length: 900 mm, width: 70 cm, points:",
        """
            skin.yaml:7:54 [points] error both-of-a-couple outline.points
              `points` give the edge itself, so `length` cannot stand beside them
              found: points: [[0, 0], [14, 0], [14, 18], [0, 18]]
              allowed: one of the two
              write: length: 900 mm
            skin.yaml:7:54 [points] error both-of-a-couple outline.points
              `points` give the edge itself, so `shape` cannot stand beside them
              found: points: [[0, 0], [14, 0], [14, 18], [0, 18]]
              allowed: one of the two
              write: shape: side
            skin.yaml:7:54 [points] error both-of-a-couple outline.points
              `points` give the edge itself, so `width` cannot stand beside them
              found: points: [[0, 0], [14, 0], [14, 18], [0, 18]]
              allowed: one of the two
              write: width: 70 cm
        """,
    ),
    "points without a spine": (
        "spine: [[7, 0], [7, 18]]\n",
        "",
        """
            skin.yaml:1:1 [s] error missing-key spine
              the skin has no `spine`
              write: spine: [[7, 1], [7, 18]]
        """,
    ),
    "no thickness": (
        "thickness: 1.0 mm\n",
        "",
        """
            skin.yaml:1:1 [s] error missing-key thickness
              the skin has no `thickness`
              allowed: 0.2 mm to 8 mm
              write: thickness: 1.0 mm
        """,
    ),
    "thickness twice over": (
        "grid:",
        "thicknesses: [{at: [7, 9], thickness: 1 mm}]\ngrid:",
        """
            skin.yaml:6:1 [thicknesses] error both-of-a-couple thicknesses
              `thickness` and `thicknesses` say how thick the skin is in two ways: give one of them
              found: thicknesses: [{at: [7, 9], thickness: 1 mm}]
              allowed: one of the two
              write: thickness: 1.0 mm
        """,
    ),
    "bad name": (
        "goat-1",
        "goat 1",
        """
            skin.yaml:2:7 [goat 1] error bad-name name
              `goat 1` cannot be the name of a skin: a blank cannot stand in it
              found: goat 1
              allowed: letters, digits, `.`, `_` and `-`, 64 at most, a letter or digit first and no dot last
              write: goat-1
        """,
    ),
    "flaw outside": (
        "spine:",
        "flaws: [{kind: hole, at: [15, 9], diameter: 20 mm}]\nspine:",
        """
            skin.yaml:8:26 [[] error flaw-outside flaws.0.at
              this hole lies outside the skin
              found: [15, 9]
              allowed: a place within the outline
        """,
    ),
    "flaw of points outside": (
        "spine:",
        "flaws: [{kind: thin, points: [[15, 9], [16, 9], [16, 12]]}]\nspine:",
        """
            skin.yaml:8:30 [[] error flaw-outside flaws.0.points
              this thin place lies outside the skin
              found: [[15, 9], [16, 9], [16, 12]]
              allowed: a place within the outline
        """,
    ),
    "flaw crosses itself": (
        "spine:",
        "flaws: [{kind: brand, points: [[5, 9], [8, 12], [8, 9], [5, 12]]}]\nspine:",
        """
            skin.yaml:8:49 [[] error edge-crosses-itself flaws.0.points.2
              the edge of this brand from point 1 to 2 crosses or touches the one from 3 to 4
              found: [8, 9]
              allowed: corners in the order in which they are met going round
        """,
    ),
    "flaw of neither kind": (
        "spine:",
        "flaws: [{kind: brand}]\nspine:",
        """
            skin.yaml:8:9 [{] error missing-key flaws.0.at
              `flaws.0` has no `at`
              write: at: [5, 11]
            skin.yaml:8:9 [{] error missing-key flaws.0.diameter
              `flaws.0` has no `diameter`
              allowed: 1 mm to 1 m
              write: diameter: 20 mm
        """,
    ),
    "flaw of both kinds": (
        "spine:",
        "flaws: [{kind: other, at: [5, 5], diameter: 1 in, points: [[5, 9], [8, 12], [8, 9]]}]\nspine:",
        """
            skin.yaml:8:51 [points] error both-of-a-couple flaws.0.points
              `points` give the flaw's edge itself, so `at` cannot stand beside them
              found: points: [[5, 9], [8, 12], [8, 9]]
              allowed: one of the two
              write: at: [5, 5] or points: [[5, 9], [8, 12], [8, 9]]
            skin.yaml:8:51 [points] error both-of-a-couple flaws.0.points
              `points` give the flaw's edge itself, so `diameter` cannot stand beside them
              found: points: [[5, 9], [8, 12], [8, 9]]
              allowed: one of the two
              write: diameter: 1 in
        """,
    ),
    "weak region outside": (
        "spine:",
        "weak: [{region: belly, points: [[-3, 0], [-1, 0], [-1, 5]]}]\nspine:",
        """
            skin.yaml:8:32 [[] error weak-region-outside weak.0.points
              the belly lies outside the skin
              found: [[-3, 0], [-1, 0], [-1, 5]]
              allowed: a region that has a part of the skin in it
        """,
    ),
    "weak region crosses itself": (
        "spine:",
        "weak: [{region: other, points: [[1, 1], [3, 3], [3, 1], [1, 3]]}]\nspine:",
        """
            skin.yaml:8:49 [[] error edge-crosses-itself weak.0.points.2
              the edge of the weak region from point 1 to 2 crosses or touches the one from 3 to 4
              found: [3, 1]
              allowed: corners in the order in which they are met going round
        """,
    ),
    "spine outside": (
        "[7, 18]]\n",
        "[7, 19]]\n",
        """
            skin.yaml:8:17 [[] error spine-outside spine.1
              the neck end of the spine lies 50 mm outside the skin
              found: [7, 19]
              allowed: a point of the skin, or half a square beside it at most
        """,
    ),
    "spine short": (
        "[7, 18]]\n",
        "[7, 0.5]]\n",
        """
            skin.yaml:8:8 [[] error spine-short spine
              the spine is only 25 mm long
              found: [[7, 0], [7, 0.5]]
              allowed: two points at least 50 mm apart
        """,
    ),
    "fixed points the same": (
        "spine:",
        "fixed_points: [[3, 4], [3, 4]]\nspine:",
        """
            skin.yaml:8:15 [[] error fixed-points-close fixed_points
              the fixed points are only 0 mm apart
              found: [[3, 4], [3, 4]]
              allowed: two points at least 100 mm apart
        """,
    ),
    "fixed point far away": (
        "spine:",
        "fixed_points: [[0, 0], [80, 0]]\nspine:",
        """
            skin.yaml:8:24 [[] error fixed-point-far fixed_points.1
              this fixed point lies 3.30 m away from the skin
              found: [80, 0]
              allowed: a point at most 1000 mm beside the skin
        """,
    ),
    "thickness outside": (
        "thickness: 1.0 mm",
        "thicknesses: [{at: [7, 9], thickness: 1 mm}, {at: [20, 9], thickness: 0.9 mm}]",
        """
            skin.yaml:5:51 [[] error thickness-outside thicknesses.1.at
              this thickness was measured 300 mm outside the skin
              found: [20, 9]
              allowed: a point of the skin, or half a square beside it at most
        """,
    ),
    "thickness of one point twice": (
        "thickness: 1.0 mm",
        "thicknesses: [{at: [7, 9], thickness: 1 mm}, {at: [7, 9.0], thickness: 0.9 mm}]",
        """
            skin.yaml:5:51 [[] error thickness-twice thicknesses.1.at
              the thickness at this point stands already in `thicknesses.0`
              found: [7, 9.0]
              allowed: one thickness for each point
        """,
    ),
    "several at once": (
        "spine: [[7, 0]",
        "flaws: [{kind: cut, at: [15, 9], diameter: 2 cm}, {kind: cut, at: [-1, 2], diameter: 1 cm}]\nspine: [[7, -2]",
        """
            skin.yaml:8:25 [[] error flaw-outside flaws.0.at
              this cut lies outside the skin
              found: [15, 9]
              allowed: a place within the outline
            skin.yaml:8:67 [[] error flaw-outside flaws.1.at
              this cut lies outside the skin
              found: [-1, 2]
              allowed: a place within the outline
            skin.yaml:9:9 [[] error spine-outside spine.0
              the tail end of the spine lies 100 mm outside the skin
              found: [7, -2]
              allowed: a point of the skin, or half a square beside it at most
        """,
    ),
}
"""What is replaced in a good skin by what, and what is found."""


@pytest.mark.parametrize(("good", "bad", "expected"), CASES.values(), ids=CASES)
def test_skin_finding(good: str, bad: str, expected: str) -> None:
    assert SKIN.count(good) == 1
    assert told(findings_in_text(SKIN.replace(good, bad))) == cleandoc(expected)


def test_the_skin_to_spoil_is_good() -> None:
    assert findings_in_text(SKIN) == ()


@pytest.mark.parametrize(
    ("at", "outside"), [("[14.1, 9]", False), ("[14.2, 9]", True), ("[-0.1, -0.1]", False), ("[14, 9]", False)]
)
def test_a_round_flaw_may_have_its_middle_beside_the_skin_where_it_bites(at: str, outside: bool) -> None:
    text = SKIN + f"flaws: [{{kind: cut, at: {at}, diameter: 20 mm}}]\n"
    assert [finding.name for finding in findings_in_text(text)] == ["flaw-outside"] * outside
