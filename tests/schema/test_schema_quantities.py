"""Quantities without a unit or out of range, with the whole text of each finding."""

from __future__ import annotations

from inspect import cleandoc

import pytest

from schema_findings import GOOD, findings_in, told

QUANTITIES = {
    "bare number, likelier in inches": (
        GOOD.replace("diameter: 13 in", "diameter: 13"),
        """
            3:35 [13] missing-unit frame.diameter
            `13` has no unit
            found: 13
            allowed: 100 mm to 2 m
            write: 13 in or 13 mm
        """,
    ),
    "bare number, spelling kept": (
        GOOD.replace("depth: 55 mm", "depth: 55.50"),
        """
            3:49 [55.50] missing-unit frame.depth
            `55.50` has no unit
            found: 55.50
            allowed: 15 mm to 400 mm
            write: 55.50 mm or 55.50 in
        """,
    ),
    "bare number in quotes": (
        GOOD.replace("depth: 55 mm", 'depth: "55"'),
        """
            3:49 ["55"] missing-unit frame.depth
            `55` has no unit
            found: 55
            allowed: 15 mm to 400 mm
            write: 55 mm or 55 in
        """,
    ),
    "bare percentage": (
        GOOD.replace("hide: goat", "hide: goat, stretch: 0.03"),
        """
            4:29 [0.03] missing-unit head.stretch
            `0.03` has no unit
            found: 0.03
            allowed: 0 % to 15 %
            write: 3 % or 0.03 %
        """,
    ),
    "bare pitch": (
        GOOD + "voice: {pitch: 110}\n",
        """
            6:16 [110] missing-unit voice.pitch
            `110` has no unit
            found: 110
            allowed: 20 Hz to 2000 Hz
            write: 110 Hz or A2
        """,
    ),
    "bare and negative": (
        GOOD.replace("depth: 55 mm", "depth: -55"),
        """
            3:49 [-55] bad-quantity frame.depth
            a length is never negative
            found: -55
            allowed: 15 mm to 400 mm
            write: 55 mm or 55 in
        """,
    ),
    "negative": (
        GOOD.replace("depth: 55 mm", "depth: -55 mm"),
        """
            3:49 [-55 mm] bad-quantity frame.depth
            a length is never negative
            found: -55 mm
            allowed: 15 mm to 400 mm
            write: 55 mm
        """,
    ),
    "unknown unit": (
        GOOD.replace("depth: 55 mm", "depth: 55 furlongs"),
        """
            3:49 [55 furlongs] bad-quantity frame.depth
            furlongs is not a unit of length: mm, cm, m, in, ft
            found: 55 furlongs
            allowed: 15 mm to 400 mm
            write:
        """,
    ),
    "unit of another kind": (
        GOOD.replace("depth: 55 mm", "depth: 55 kg"),
        """
            3:49 [55 kg] bad-quantity frame.depth
            kg is a unit of mass, not of length
            found: 55 kg
            allowed: 15 mm to 400 mm
            write:
        """,
    ),
    "too small": (
        GOOD.replace("diameter: 13 in", "diameter: 13 mm"),
        """
            3:35 [13 mm] out-of-range frame.diameter
            `13 mm` is too small for `frame.diameter`
            found: 13 mm
            allowed: 100 mm to 2 m
            write: 13 cm or 13 in
        """,
    ),
    "too large": (
        GOOD.replace("diameter: 13 in", "diameter: 13 m"),
        """
            3:35 [13 m] out-of-range frame.diameter
            `13 m` is too large for `frame.diameter`
            found: 13 m
            allowed: 100 mm to 2 m
            write: 13 in or 13 cm
        """,
    ),
    "too large, in inches": (
        GOOD.replace("diameter: 13 in", "diameter: 130 in"),
        """
            3:35 [130 in] out-of-range frame.diameter
            `130 in` is too large for `frame.diameter`
            found: 130 in
            allowed: 3 15/16 in to 78 11/16 in (100 mm to 2 m)
            write: 130 cm or 130 mm
        """,
    ),
    "too large, no other unit fits": (
        GOOD.replace("hide: goat", "hide: goat, stretch: 30 %"),
        """
            4:29 [30 %] out-of-range head.stretch
            `30 %` is too large for `head.stretch`
            found: 30 %
            allowed: 0 % to 15 %
            write:
        """,
    ),
    "too high": (
        GOOD + "voice: {pitch: C9}\n",
        """
            6:16 [C9] out-of-range voice.pitch
            `C9` is too high for `voice.pitch`
            found: C9
            allowed: 20 Hz to 2000 Hz
            write:
        """,
    ),
    "too low": (
        GOOD + "voice: {pitch: 4 Hz}\n",
        """
            6:16 [4 Hz] out-of-range voice.pitch
            `4 Hz` is too low for `voice.pitch`
            found: 4 Hz
            allowed: 20 Hz to 2000 Hz
            write:
        """,
    ),
    "punch given twice": (
        GOOD + "bench: {punches: [8 mm, 10 mm, 1 cm]}\n",
        """
            6:32 [1 cm] duplicate-item bench.punches.2
            `1 cm` stands in `bench.punches` already, as item 2
            found: 1 cm
            allowed: each item once
            write:
        """,
    ),
}


@pytest.mark.parametrize(("text", "finding"), QUANTITIES.values(), ids=QUANTITIES.keys())
def test_faults_of_quantities(text: str, finding: str) -> None:
    assert [told(found) for found in findings_in(text)] == [cleandoc(finding)]
