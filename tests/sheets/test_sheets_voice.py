"""Voice and pull on the sheet: estimates, always called so; and the reasons for what is accepted."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sheet_plans import SPECS, plan_from, section, tables
from tauthide.quantities.figures import start_workings
from tauthide.rules.registry import hold_rules
from tauthide.sheets.sheet import render_sheet
from tauthide.sheets.voice import view_voice

HEADING = "## Voice and pull"


def page(more: str) -> str:
    """Return the sheet of a round drum with more in its spec."""
    return render_sheet(plan_from(SPECS["round"] + more)).decode()


class TestVoice:
    def test_a_pitch_gives_pulls_with_ranges_and_twelve_modes(self) -> None:
        said = section(page("voice: {pitch: A2}\n"), HEADING)
        assert "**All of this is an estimate.**" in said
        estimates, modes = tables(said)
        rows = {row[0]: row[1:] for row in estimates[1:]}
        assert rows["Pitch, dry"][0] == "110 Hz, A2"
        assert " to " in rows["Pull of each station"][1]
        assert rows["Of that in use with safety, dry"][0].endswith(" %")
        assert [row[0] for row in modes[1:4]] == ["01", "11", "21"]
        assert len(modes) == 1 + 12
        # Ratios of the ideal membrane: Abramowitz and Stegun, table 9.5.
        assert [row[3] for row in modes[1:4]] == ["1.00", "1.59", "2.14"]

    def test_a_pull_gives_the_pitch(self) -> None:
        rows = {row[0]: row[1] for row in tables(section(page("voice: {pull: 128.5 N}\n"), HEADING))[0][1:]}
        assert rows["Pull of each station"].startswith("129 N")
        assert "A2" in rows["Pitch, dry"]

    def test_without_either_the_reach_is_told(self) -> None:
        said = section(page(""), HEADING)
        rows = {row[0] for row in tables(said)[0][1:]}
        assert {"Pitches within reach", "A station holds, dry"} <= rows
        assert "Pitch, dry" not in rows
        assert len(tables(said)) == 1

    def test_which_rule_counts_and_how_to_pull_a_scrap(self) -> None:
        said = section(page(""), HEADING)
        assert "the lowest counts: the stitch tear test when dry" in said
        assert "pull a scrap" in said

    @pytest.mark.parametrize("name", ["oval", "octagon"])
    def test_none_off_round(self, name: str) -> None:
        assert HEADING not in render_sheet(plan_from(SPECS[name])).decode()

    def test_the_balance_stands_where_it_is_pulled(self) -> None:
        assert "A spring balance on a strand reads about" in section(page("voice: {pitch: A2}\n"), "## 7. Draw tight")


class TestAcceptance:
    def test_the_reason_is_printed_as_plain_text(self) -> None:
        plan = plan_from(
            SPECS["round"] + "lace: {tail: 100 mm}\naccept: [{rule: tail-short, because: '*we* | knot'}]\n"
        )
        (finding,) = (found for found in hold_rules(start_workings(plan.spec)) if found.name == "tail-short")
        said = render_sheet(plan, (finding,)).decode()
        assert r"**Accepted, because** \*we\* \| knot" in said
        assert "Accepted" not in render_sheet(plan, (replace(finding, accepted=""),)).decode()


@pytest.mark.parametrize(
    ("lace", "told"),
    [
        ("", ["Station 1, its one strand"]),
        ("lace: {laces: 2}\n", ["Stations 1 and 9, each its one strand"]),
        ("lace: {lacing: ring}\n", []),
        ("lace: {lacing: zigzag}\n", []),
    ],
    ids=["one lace", "two laces", "ring", "zigzag"],
)
def test_a_single_strand_is_told_of_where_there_is_one(lace: str, told: list[str]) -> None:
    plan = plan_from(
        "frame: {outline: round, diameter: 13 in, depth: 120 mm}\nhead: {hide: goat}\nstations: {count: 16}\n"
        f"voice: {{pull: 20 N}}\n{lace}"
    )
    figures = dict.fromkeys(plan.figures, "1")
    voice = view_voice(plan, figures, "metric")
    assert voice is not None
    assert [row.title for row in voice.estimates if "one strand" in row.title] == told
