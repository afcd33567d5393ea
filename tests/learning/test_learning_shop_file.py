"""Learned values in a shop file: comments, order and line ends stay, and each value has its mark once."""

from __future__ import annotations

from datetime import date

import pytest

from tauthide.learning.estimates import Interval
from tauthide.learning.lessons import Lesson, Verdict
from tauthide.learning.shop_file import chosen, mark_of, teach, written
from tauthide.learning.subjects import ALLOWANCE, DRYING, TIME, Subject
from tauthide.reading.events import read_yaml
from tauthide.reading.located import Path


def lesson(subject: Subject, path: Path, value: float, group: str = "goat", in_force: float = 0.0) -> Lesson:
    return Lesson(
        subject, group, path, in_force, 12, date(2026, 3, 2), date(2026, 4, 1), Verdict.DIFFERS, value,
        Interval(value, value), value, 0, (),
    )  # fmt: skip


LACE = lesson(ALLOWANCE, ("lace", "allowance"), 0.065, "cross")
DRY = lesson(DRYING, ("hides", "goat", "dry"), 3420.0)
PUNCH = lesson(TIME, ("times", "skin", "punch", "each"), 0.45, "skin.punch")

SHOPS = {
    "block": "shop: 1\n# ours\nlace:\n  allowance: 10 %   # new to it\n  play: 9 mm\nhides:\n  goat:\n    web: 18 mm\n",
    "flow": "shop: 1\nlace: {allowance: 10 %, play: 9 mm}  # both\nhides: {goat: {web: 18 mm}}\n",
    "flow over lines": "shop: 1\nhides:\n  goat: {\n    web: 18 mm,   # wide\n    dry: 2 d\n  }\n",
    "windows": "shop: 1\r\nlace:\r\n  allowance: 10 %   # new to it\r\n",
    "quotes": "shop: 1\nlace:\n  'allowance': '10 %'\n",
    "no end": "shop: 1\nlace:\n  play: 9 mm",
}


@pytest.mark.parametrize("shop", SHOPS)
class TestAnyLayout:
    def test_values_are_there_and_all_else_stays(self, shop: str) -> None:
        new = teach(SHOPS[shop].encode(), (LACE, DRY, PUNCH))
        assert new is not None
        located, _ = read_yaml(new, "")
        assert located is not None
        assert located.data["lace"]["allowance"] == "6.5 %"  # type: ignore[index, call-overload]
        assert located.data["hides"]["goat"]["dry"] == "57 h"  # type: ignore[index, call-overload]
        assert located.data["times"] == {"skin": {"punch": {"each": "0.45 min"}}}
        for line in SHOPS[shop].splitlines():
            comment = line.partition("#")[2]
            assert comment in new.decode()
        assert ("\r\n" in SHOPS[shop]) == (b"\r\n" in new)
        assert b"\n" not in new.replace(b"\r\n", b"") or "\r\n" not in SHOPS[shop]

    def test_each_mark_stands_once_however_often_it_is_taught(self, shop: str) -> None:
        once = teach(SHOPS[shop].encode(), (LACE, DRY, PUNCH))
        assert once is not None
        again = teach(once, (LACE, DRY, PUNCH))
        assert again == once
        for each in (LACE, DRY, PUNCH):
            assert once.decode().count(mark_of(each)) == 1


def test_marks_tell_count_and_days() -> None:
    assert mark_of(LACE) == "# lace.allowance: learned from 12 records, 2026-03-02 to 2026-04-01"


@pytest.mark.parametrize(("each", "text"), [(LACE, "6.5 %"), (DRY, "57 h"), (PUNCH, "0.45 min")])
def test_values_have_their_units(each: Lesson, text: str) -> None:
    assert written(each) == text


def test_each_lacing_has_an_allowance_of_its_own() -> None:
    cross = lesson(ALLOWANCE, ("lacings", "cross", "allowance"), 0.065, "cross")
    ring = lesson(ALLOWANCE, ("lacings", "ring", "allowance"), 0.09, "ring")
    assert chosen((cross, ring, DRY)) == (cross, ring, DRY)
    taught = teach(b"shop: 1\nlace: {allowance: 10 %}\n", (cross, ring))
    assert taught is not None
    located, _ = read_yaml(taught, "")
    assert located is not None
    assert located.data["lace"] == {"allowance": "10 %"}
    assert located.data["lacings"] == {"cross": {"allowance": "6.5 %"}, "ring": {"allowance": "9 %"}}


def test_of_two_lessons_for_one_value_the_one_that_asks_for_more_counts() -> None:
    more = lesson(ALLOWANCE, ("lace", "allowance"), 0.09, "ring")
    assert chosen((LACE, more, DRY)) == (more, DRY)
    assert chosen((more, LACE, DRY)) == (more, DRY)


def test_what_can_t_be_read_is_left_alone() -> None:
    assert teach(b"shop: [", (LACE,)) is None
