"""Keys that are unknown, missing or refused, with the whole text of each finding."""

from __future__ import annotations

from inspect import cleandoc

import pytest

from schema_findings import DRUM, GOOD, HEAD, findings_in, told

KEYS = {
    "misspelt": (
        GOOD.replace("depth:", "dpeth:"),
        """
            3:42 [dpeth] unknown-key frame.dpeth
            `dpeth` is not a key of `frame`
            found: dpeth
            allowed: outline, diameter, sides, across_flats, length, width, depth, wall, edge_radius,
              make
            write: depth
        """,
    ),
    "like no other": (
        GOOD + "colour: red\n",
        """
            6:1 [colour] unknown-key colour
            `colour` is not a key of a spec
            found: colour
            allowed: spec, drum, title, notes, quantity, inherits, frame, head, stations, lace,
              handle, voice, bench, tolerances, wood, bending, staves, accept
            write:
        """,
    ),
    "of another part": (
        GOOD.replace("hide: goat", "hide: goat, web: 20 mm"),
        """
            4:20 [web] unknown-key head.web
            `web` is not a key of `head`: it belongs to `stations`
            found: web
            allowed: hide, thickness, dry_thickness, turnover, drop, stretch, outer, spine, origin
            write: stations: {web: 20 mm}
        """,
    ),
    "of several parts": (
        GOOD.replace("outline: round", "outline: round, thickness: 8 mm"),
        """
            3:25 [thickness] unknown-key frame.thickness
            `thickness` is not a key of `frame`: it belongs to `head` or to `lace` or to `tolerances`
              or to `staves`
            found: thickness
            allowed: outline, diameter, sides, across_flats, length, width, depth, wall, edge_radius,
              make
            write:
        """,
    ),
    "of the top": (
        GOOD.replace("hide: goat", "hide: goat, quantity: 8"),
        """
            4:20 [quantity] unknown-key head.quantity
            `quantity` is not a key of `head`: it belongs at the top of the file
            found: quantity
            allowed: hide, thickness, dry_thickness, turnover, drop, stretch, outer, spine, origin
            write: quantity: 8
        """,
    ),
    "of a part, at the top": (
        GOOD + "outer: hair\n",
        """
            6:1 [outer] unknown-key outer
            `outer` is not a key of a spec: it belongs to `head`
            found: outer
            allowed: spec, drum, title, notes, quantity, inherits, frame, head, stations, lace,
              handle, voice, bench, tolerances, wood, bending, staves, accept
            write: head: {outer: hair}
        """,
    ),
    "of several parts, at the top": (
        GOOD + "turnover: 40 mm\n",
        """
            6:1 [turnover] unknown-key turnover
            `turnover` is not a key of a spec: it belongs to `head` or to `tolerances`
            found: turnover
            allowed: spec, drum, title, notes, quantity, inherits, frame, head, stations, lace,
              handle, voice, bench, tolerances, wood, bending, staves, accept
            write:
        """,
    ),
    "of another kind of document": (
        GOOD + "hides: {goat: {web: 20 mm}}\n",
        """
            6:1 [hides] unknown-key hides
            `hides` is not a key of a spec: it belongs in a shop file
            found: hides
            allowed: spec, drum, title, notes, quantity, inherits, frame, head, stations, lace,
              handle, voice, bench, tolerances, wood, bending, staves, accept
            write:
        """,
    ),
    "with capitals and hyphens": (
        GOOD.replace("outline: round, diameter: 13 in", "outline: polygon, sides: 8, Across-Flats: 14 in"),
        """
            3:37 [Across-Flats] unknown-key frame.Across-Flats
            `Across-Flats` is not a key of `frame`
            found: Across-Flats
            allowed: outline, diameter, sides, across_flats, length, width, depth, wall, edge_radius,
              make
            write: across_flats
        """,
    ),
    "very long": (
        GOOD + "k" * 100 + ": 1\n",
        """
            6:1 [kkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkk] unknown-key
              kkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkk…
            `kkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkk…` is not a key of a spec
            found: kkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkk…
            allowed: spec, drum, title, notes, quantity, inherits, frame, head, stations, lace,
              handle, voice, bench, tolerances, wood, bending, staves, accept
            write:
        """,
    ),
    "drum missing": (
        GOOD.replace(DRUM + "\n", ""),
        """
            1:1 [s] missing-key drum
            the spec has no `drum`
            found:
            allowed: text of at most 64 characters
            write: drum: LIB-13
        """,
    ),
    "part missing": (
        GOOD.replace(HEAD + "\n", ""),
        """
            1:1 [s] missing-key head
            the spec has no `head`
            found:
            allowed:
            write: head: {hide: goat}
        """,
    ),
    "field missing": (
        GOOD.replace(", depth: 55 mm", ""),
        """
            3:1 [frame] missing-key frame.depth
            `frame` has no `depth`
            found:
            allowed: 15 mm to 400 mm
            write: depth: 55 mm
        """,
    ),
    "size of the outline missing": (
        GOOD.replace("diameter: 13 in, ", ""),
        """
            3:1 [frame] missing-key frame.diameter
            `frame` has no `diameter`
            found:
            allowed: 100 mm to 2 m
            write: diameter: 13 in
        """,
    ),
    "reason missing": (
        GOOD + "accept:\n  - {rule: punch-not-owned}\n",
        """
            7:5 [{] missing-key accept.0.because
            `accept.0` has no `because`
            found:
            allowed: text of at most 300 characters
            write: because: the library lends us that punch
        """,
    ),
    "inherits misspelt": (
        "spec: 1\ndrum: LIB-13\ninherit: lending.base.yaml\n",
        """
            3:1 [inherit] unknown-key inherit
            `inherit` is not a key of a spec
            found: inherit
            allowed: spec, drum, title, notes, quantity, inherits, frame, head, stations, lace,
              handle, voice, bench, tolerances, wood, bending, staves, accept
            write: inherits
        """,
    ),
    "web, then pair_spacing": (
        GOOD.replace("count: 16", "count: 16, web: 20 mm, pair_spacing: 30 mm"),
        """
            5:35 [pair_spacing] both-of-a-couple stations.pair_spacing
            `web` and `pair_spacing` say the same length in two ways: give one of them
            found: pair_spacing: 30 mm
            allowed: one of the two
            write: web: 20 mm or pair_spacing: 30 mm
        """,
    ),
    "pair_spacing, then web": (
        GOOD.replace("count: 16", "count: 16, pair_spacing: 30 mm, web: 20 mm"),
        """
            5:44 [web] both-of-a-couple stations.web
            `web` and `pair_spacing` say the same length in two ways: give one of them
            found: web: 20 mm
            allowed: one of the two
            write: pair_spacing: 30 mm or web: 20 mm
        """,
    ),
    "edge_distance, then margin": (
        GOOD.replace("count: 16", "count: 16, edge_distance: 17 mm, margin: 12 mm"),
        """
            5:45 [margin] both-of-a-couple stations.margin
            `margin` and `edge_distance` say the same length in two ways: give one of them
            found: margin: 12 mm
            allowed: one of the two
            write: edge_distance: 17 mm or margin: 12 mm
        """,
    ),
    "sides of a round frame": (
        GOOD.replace("depth:", "sides: 8, depth:"),
        """
            3:42 [sides] other-outline frame.sides
            `sides` sizes a polygon; a round frame takes `diameter`
            found: sides: 8
            allowed:
            write:
        """,
    ),
    "diameter of an oval": (
        GOOD.replace("outline: round", "outline: oval, length: 18 in, width: 16 in"),
        """
            3:53 [diameter] other-outline frame.diameter
            `diameter` sizes a round frame; an oval takes `length` and `width`
            found: diameter: 13 in
            allowed:
            write:
        """,
    ),
}


@pytest.mark.parametrize(("text", "finding"), KEYS.values(), ids=KEYS.keys())
def test_faults_of_keys(text: str, finding: str) -> None:
    assert [told(found) for found in findings_in(text)] == [cleandoc(finding)]
