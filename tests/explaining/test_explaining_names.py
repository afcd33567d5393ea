"""Names that are not known are met with those that may have been meant."""

from __future__ import annotations

import pytest

from tauthide.explaining.names import all_names, either, similar

NAMES = all_names()


@pytest.mark.parametrize(
    ("asked", "meant"),
    [
        ("head.blank_diametre", "head.blank_diameter"),
        ("blank_diameter", "head.blank_diameter"),
        ("Head.Blank-Diameter", "head.blank_diameter"),
        ("web", "stations.web"),
        ("web_gone", "web-gone"),
        ("pairs close", "pairs-close"),
        ("unknwon-key", "unknown-key"),
        ("lace.alowance", "lace.allowance"),
    ],
)
def test_near(asked: str, meant: str) -> None:
    assert meant in similar(asked, NAMES)


@pytest.mark.parametrize("asked", ["", " ", "zzzzzzzzzz", "🥁", "z" * 100_000])
def test_far(asked: str) -> None:
    assert similar(asked, NAMES) == ()


def test_part_is_met_with_its_fields() -> None:
    assert similar("handle", NAMES) == ("handle.arms", "handle.wrap")


def test_names_of_kinds_do_not_clash() -> None:
    assert not NAMES.pages & (NAMES.figures | NAMES.fields)
    assert not NAMES.parts & (NAMES.pages | NAMES.figures | NAMES.fields)
    assert {"lace.play", "lace.tail"} <= NAMES.figures & NAMES.fields


def test_either() -> None:
    assert [either("abc"[:count]) for count in range(4)] == ["", "`a`", "`a` or `b`", "`a`, `b` or `c`"]
