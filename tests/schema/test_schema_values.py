"""Counts, words, names, texts and lists that will not do, with the whole text of each finding."""

from __future__ import annotations

from inspect import cleandoc

import pytest

from schema_findings import GOOD, findings_in, told

VALUES = {
    "odd count": (
        GOOD.replace("count: 16", "count: 17"),
        """
            5:19 [17] odd-station-count stations.count
            17 is an odd number of stations
            found: 17
            allowed: even numbers from 4 to 64
            write: 16 or 18
        """,
    ),
    "odd count that is too large as well": (
        GOOD.replace("count: 16", "count: 71"),
        """
            5:19 [71] out-of-range stations.count
            `71` is too large for `stations.count`
            found: 71
            allowed: even numbers from 4 to 64
            write: 64
        """,
    ),
    "too few stations": (
        GOOD.replace("count: 16", "count: 2"),
        """
            5:19 [2] out-of-range stations.count
            `2` is too small for `stations.count`
            found: 2
            allowed: even numbers from 4 to 64
            write: 4
        """,
    ),
    "no drums": (
        GOOD + "quantity: 0\n",
        """
            6:11 [0] out-of-range quantity
            `0` is too small for `quantity`
            found: 0
            allowed: whole numbers from 1 to 999
            write: 1
        """,
    ),
    "one arm": (
        GOOD + "handle: {arms: 1}\n",
        """
            6:16 [1] out-of-range handle.arms
            `1` is no choice for `handle.arms`
            found: 1
            allowed: 0, 2, 3, 4, 5, 6, 7, 8
            write: 0 or 2
        """,
    ),
    "nine arms": (
        GOOD + "handle: {arms: 9}\n",
        """
            6:16 [9] out-of-range handle.arms
            `9` is too large for `handle.arms`
            found: 9
            allowed: 0, 2, 3, 4, 5, 6, 7, 8
            write: 8
        """,
    ),
    "negative arms": (
        GOOD + "handle: {arms: -4}\n",
        """
            6:16 [-4] out-of-range handle.arms
            `-4` is too small for `handle.arms`
            found: -4
            allowed: 0, 2, 3, 4, 5, 6, 7, 8
            write: 0
        """,
    ),
    "misspelt word": (
        GOOD.replace("hide: goat", "hide: Gaot"),
        """
            4:14 [Gaot] unknown-word head.hide
            `Gaot` is not a choice for `head.hide`
            found: Gaot
            allowed: goat, sheep, deer, calf, cow, horse, elk
            write: goat
        """,
    ),
    "word like no other": (
        GOOD.replace("hide: goat", "hide: seal"),
        """
            4:14 [seal] unknown-word head.hide
            `seal` is not a choice for `head.hide`
            found: seal
            allowed: goat, sheep, deer, calf, cow, horse, elk
            write:
        """,
    ),
    "word from overseas": (
        GOOD.replace("count: 16", "count: 16, hand: counterclockwise"),
        """
            5:29 [counterclockwise] unknown-word stations.hand
            `counterclockwise` is not a choice for `stations.hand`
            found: counterclockwise
            allowed: clockwise, anticlockwise
            write: anticlockwise
        """,
    ),
    "long word": (
        GOOD.replace("hide: goat", "hide: " + "goat " * 20),
        """
            4:14 [goat goat goat goat goat goat goat goat ] unknown-word head.hide
            `goat goat goat goat goat goat goat goat goat goat goat goat…` is not a choice for
              `head.hide`
            found: goat goat goat goat goat goat goat goat goat goat goat goat…
            allowed: goat, sheep, deer, calf, cow, horse, elk
            write:
        """,
    ),
    "word on two lines": (
        GOOD.replace("hide: goat", 'hide: "go\\nat"'),
        """
            4:14 ["go\\nat"] unknown-word head.hide
            `go at` is not a choice for `head.hide`
            found: go at
            allowed: goat, sheep, deer, calf, cow, horse, elk
            write: goat
        """,
    ),
    "later version": (
        GOOD.replace("spec: 1", "spec: 2"),
        """
            1:7 [2] unknown-version spec
            the `spec` has a version that is not known here
            found: 2
            allowed: 1
            write: spec: 1
        """,
    ),
    "name with a slash": (
        GOOD.replace("LIB-13", "../LIB 13"),
        """
            2:7 [../LIB 13] bad-name drum
            `../LIB 13` cannot be the name of a drum: `/` cannot stand in it
            found: ../LIB 13
            allowed: letters, digits, `.`, `_` and `-`, 64 at most, a letter or digit first and no dot
              last
            write: LIB-13
        """,
    ),
    "name of a device": (
        GOOD.replace("LIB-13", "Aux.2"),
        """
            2:7 [Aux.2] bad-name drum
            `Aux.2` cannot be the name of a drum: Windows keeps this name for a device
            found: Aux.2
            allowed: letters, digits, `.`, `_` and `-`, 64 at most, a letter or digit first and no dot
              last
            write: drum-Aux.2
        """,
    ),
    "name that ends with a dot": (
        GOOD.replace("LIB-13", "LIB-13."),
        """
            2:7 [LIB-13.] bad-name drum
            `LIB-13.` cannot be the name of a drum: it ends with a dot
            found: LIB-13.
            allowed: letters, digits, `.`, `_` and `-`, 64 at most, a letter or digit first and no dot
              last
            write: LIB-13
        """,
    ),
    "name that begins with a dot": (
        GOOD.replace("LIB-13", ".LIB"),
        """
            2:7 [.LIB] bad-name drum
            `.LIB` cannot be the name of a drum: it does not begin with a letter or digit
            found: .LIB
            allowed: letters, digits, `.`, `_` and `-`, 64 at most, a letter or digit first and no dot
              last
            write: LIB
        """,
    ),
    "long name": (
        GOOD.replace("LIB-13", "L" * 65),
        """
            2:7 [LLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLL] bad-name drum
            `LLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLL…` cannot be the name of a
              drum: it has 65 characters
            found: LLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLL…
            allowed: letters, digits, `.`, `_` and `-`, 64 at most, a letter or digit first and no dot
              last
            write: LLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLL
        """,
    ),
    "name of the list": (
        GOOD.replace("LIB-13", "Index.MD"),
        """
            2:7 [Index.MD] bad-name drum
            `Index.MD` cannot be the name of a drum: the list of all drums has this name
            found: Index.MD
            allowed: letters, digits, `.`, `_` and `-`, 64 at most, a letter or digit first and no dot
              last
            write: drum-Index.MD
        """,
    ),
    "name with a line end": (
        GOOD.replace("LIB-13", '"LIB-13\\n"'),
        """
            2:7 ["LIB-13\\n"] bad-name drum
            `LIB-13` cannot be the name of a drum: U+000A cannot stand in it
            found: LIB-13
            allowed: letters, digits, `.`, `_` and `-`, 64 at most, a letter or digit first and no dot
              last
            write: LIB-13
        """,
    ),
    "long text": (
        GOOD + "title: " + "x" * 121 + "\n",
        """
            6:8 [xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx] text-too-long title
            `title` is too long, with 121 characters
            found: xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx…
            allowed: text of at most 120 characters
            write:
        """,
    ),
    "empty list": (
        GOOD + "bench: {punches: []}\n",
        """
            6:18 [[] list-length bench.punches
            `bench.punches` has no items
            found: []
            allowed: 1 to 40 items
            write: [8 mm, 10 mm, 12 mm]
        """,
    ),
    "long list": (
        GOOD + "bench: {punches: [" + ", ".join(f"{1 + half / 2} mm" for half in range(41)) + "]}\n",
        """
            6:18 [[] list-length bench.punches
            `bench.punches` has 41 items
            found: [1.0 mm, 1.5 mm, 2.0 mm, 2.5 mm, 3.0 mm, 3.5 mm, 4.0 mm, 4.…
            allowed: 1 to 40 items
            write:
        """,
    ),
}


@pytest.mark.parametrize(("text", "finding"), VALUES.values(), ids=VALUES.keys())
def test_faults_of_values(text: str, finding: str) -> None:
    assert [told(found) for found in findings_in(text)] == [cleandoc(finding)]


@pytest.mark.parametrize("item", ["6 mm", "x", "7", "{}"])
def test_of_a_list_that_is_too_long_only_that_is_told(item: str) -> None:
    """Its items are not judged: a finding for each, and each looked up in the list, would take minutes."""
    found = findings_in(GOOD + f"bench: {{punches: [{', '.join([item] * 20_000)}]}}\n")
    assert [finding.name for finding in found] == ["list-length"]
