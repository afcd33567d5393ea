"""Values of another type than their field takes, with the whole text of each finding."""

from __future__ import annotations

from inspect import cleandoc

import pytest

from schema_findings import GOOD, HEAD, findings_in, told

TYPES = {
    "text for a part": (
        GOOD.replace(HEAD, "head: goat"),
        """
            4:7 [goat] wrong-type head
            `head` takes keys of its own, not text
            found: goat
            allowed: hide, thickness, dry_thickness, turnover, drop, stretch, outer, spine, origin
            write: {hide: goat}
        """,
    ),
    "number for text": (
        GOOD + "title: 013\n",
        """
            6:8 [013] wrong-type title
            `title` takes text, not a number
            found: 013
            allowed: text of at most 120 characters
            write: "013"
        """,
    ),
    "number for the name": (
        GOOD.replace("LIB-13", "0013"),
        """
            2:7 [0013] wrong-type drum
            `drum` takes text, not a number
            found: 0013
            allowed: text of at most 64 characters
            write: "0013"
        """,
    ),
    "text for a count": (
        GOOD.replace("count: 16", 'count: "16"'),
        """
            5:19 ["16"] wrong-type stations.count
            `stations.count` takes a whole number, not text
            found: "16"
            allowed: even numbers from 4 to 64
            write: 16
        """,
    ),
    "decimal for a count": (
        GOOD.replace("count: 16", "count: 16.0"),
        """
            5:19 [16.0] wrong-type stations.count
            `stations.count` takes a whole number, not a number with a decimal point
            found: 16.0
            allowed: even numbers from 4 to 64
            write: 16
        """,
    ),
    "true for a quantity": (
        GOOD.replace("depth: 55 mm", "depth: true"),
        """
            3:49 [true] wrong-type frame.depth
            `frame.depth` takes a length with its unit, not true
            found: true
            allowed: 15 mm to 400 mm
            write: 55 mm
        """,
    ),
    "true for a count": (
        GOOD + "handle: {arms: true}\n",
        """
            6:16 [true] wrong-type handle.arms
            `handle.arms` takes a whole number, not true
            found: true
            allowed: 0, 2, 3, 4, 5, 6, 7, 8
            write: 4
        """,
    ),
    "false for a word": (
        GOOD + "bench: {units: false}\n",
        """
            6:16 [false] wrong-type bench.units
            `bench.units` takes one of these words, not false
            found: false
            allowed: metric, inch
            write: metric
        """,
    ),
    "number for a word": (
        GOOD.replace("hide: goat", "hide: 3"),
        """
            4:14 [3] wrong-type head.hide
            `head.hide` takes one of these words, not a number
            found: 3
            allowed: goat, sheep, deer, calf, cow, horse, elk
            write: goat
        """,
    ),
    "text for a list": (
        GOOD + "bench: {punches: 10 mm}\n",
        """
            6:18 [10 mm] wrong-type bench.punches
            `bench.punches` takes a list, not text
            found: 10 mm
            allowed: a list of at most 40 items
            write: [10 mm]
        """,
    ),
    "list for a word": (
        GOOD.replace("hide: goat", "hide: [goat]"),
        """
            4:14 [[] wrong-type head.hide
            `head.hide` takes one of these words, not a list
            found: [goat]
            allowed: goat, sheep, deer, calf, cow, horse, elk
            write: goat
        """,
    ),
    "keys for a quantity": (
        GOOD.replace("depth: 55 mm", "depth: {mm: 55}"),
        """
            3:49 [{] wrong-type frame.depth
            `frame.depth` takes a length with its unit, not keys of its own
            found: {mm: 55}
            allowed: 15 mm to 400 mm
            write: 55 mm
        """,
    ),
    "list for a part": (
        GOOD.replace(HEAD, "head: [goat]"),
        """
            4:7 [[] wrong-type head
            `head` takes keys of its own, not a list
            found: [goat]
            allowed: hide, thickness, dry_thickness, turnover, drop, stretch, outer, spine, origin
            write: {hide: goat}
        """,
    ),
    "nothing for a quantity": (
        GOOD.replace("depth: 55 mm", "depth: ~"),
        """
            3:42 [depth] empty-value frame.depth
            `frame.depth` is left empty
            found:
            allowed: 15 mm to 400 mm
            write: depth: 55 mm
        """,
    ),
    "nothing for a part": (
        GOOD.replace(HEAD, "head:"),
        """
            4:1 [head] empty-value head
            `head` is left empty
            found:
            allowed:
            write: head: {hide: goat}
        """,
    ),
    "nothing for an item": (
        GOOD + "bench:\n  punches:\n    - 10 mm\n    -\n",
        """
            9:6 [] empty-value bench.punches.1
            `bench.punches.1` is left empty
            found:
            allowed: 1 mm to 40 mm
            write: 10 mm
        """,
    ),
    "blank text": (
        GOOD + 'notes: " "\n',
        """
            6:1 [notes] empty-value notes
            `notes` is left empty
            found:
            allowed: text of at most 2000 characters
            write: notes: "For small hands; keep the edge soft."
        """,
    ),
    "no name": (
        GOOD.replace("LIB-13", '""'),
        """
            2:1 [drum] empty-value drum
            `drum` is left empty
            found:
            allowed: text of at most 64 characters
            write: drum: LIB-13
        """,
    ),
}


@pytest.mark.parametrize(("text", "finding"), TYPES.values(), ids=TYPES.keys())
def test_wrong_types(text: str, finding: str) -> None:
    assert [told(found) for found in findings_in(text)] == [cleandoc(finding)]
