"""The lacing in words: a row with a tick box for each step, and what each span passes beneath."""

from __future__ import annotations

import re

import pytest

from sheet_plans import SPECS, plan_of, section, tables
from tauthide.lacing.lacings import LACINGS
from tauthide.lacing.order import Step
from tauthide.sheets.environment import environment
from tauthide.sheets.lacing import FIRST_SPAN, NO_SPAN, NONE_CROSSED, beneath
from tauthide.sheets.sheet import render_sheet


def rows_of(name: str) -> list[list[str]]:
    return tables(section(render_sheet(plan_of(name)).decode(), "## 5. Lace the head"))[0]


def numbers(words: str) -> list[int]:
    """Read back the spans that a cell names."""
    found: list[int] = []
    for part in re.findall(r"\d+ to \d+|\d+", words):
        first, *last = map(int, part.split(" to "))
        found += range(first, (last or [first])[0] + 1)
    return found


@pytest.mark.parametrize("name", SPECS)
class TestRows:
    def test_a_tick_box_and_a_row_for_each_step(self, name: str) -> None:
        heading, *rows = rows_of(name)
        assert heading == ["Tick", "Step", "From", "Across to", "In by", "Out by", "Beneath"]
        assert [row[0] for row in rows] == ["☐"] * len(plan_of(name).stations)

    def test_rows_say_what_the_plan_says(self, name: str) -> None:
        plan, (_, *rows) = plan_of(name), rows_of(name)
        before = "tab"
        for row, step in zip(rows, plan.steps, strict=True):
            assert row[1:6] == [str(step.step), before, f"**{step.station}**", step.enter, step.leave]
            assert numbers(row[6].partition(", not ")[0]) == list(step.beneath)
            before = f"{step.station} {step.leave}"

    def test_the_end_goes_to_the_hub(self, name: str) -> None:
        count = len(plan_of(name).stations)
        page = render_sheet(plan_of(name)).decode()
        assert f"That makes {count - 1} spans." in page
        assert f"From station {count}, hole a, lead the end beneath everything to the hub" in page


class TestBeneath:
    @pytest.mark.parametrize(
        ("step", "crossed", "words"),
        [
            (2, (), FIRST_SPAN),
            (3, (), NONE_CROSSED),
            (4, (2,), "span 2, not 3"),
            (5, (2, 3), "spans 2, 3, not 4"),
            (9, (2, 3, 4, 5, 6, 7), "spans 2 to 7, not 8"),
            (5, (2, 3, 4), "all: spans 2 to 4"),
            (9, (2, 3, 6), "spans 2, 3, 6"),
            (9, (2, 3, 4, 6), "spans 2 to 4, 6"),
        ],
    )
    def test_words(self, step: int, crossed: tuple[int, ...], words: str) -> None:
        assert beneath(Step(step, 1, "b", "a", crossed, 300.0), range(2, step)) == words

    def test_the_anchor_makes_no_span(self) -> None:
        assert beneath(Step(1, 1, "b", "a", (), None), ()) == NO_SPAN


@pytest.mark.parametrize("lacing", LACINGS)
def test_every_lacing_has_its_own_words(lacing: str) -> None:
    found = environment()
    for part in ("start", "end"):
        assert found.get_template(f"lacings/{lacing}_{part}.md.j2").name


def test_the_trade_s_way_of_cross_lacing() -> None:
    # Workshop practice, no published source: in from the playing side, beneath what is there, some play left.
    page = section(render_sheet(plan_of("round")).decode(), "## 5. Lace the head")
    assert "Always in by b from that side, behind the web, out by a." in page
    assert "Leave **12 mm (1/2 in)\\* of play** in every span" in page
    assert "through the slit in the tab" in page
    assert "The order is 1, 9, 2, 10, 3 and so on" in page
