"""The build sheet as a whole: complete, well formed, both unit systems, the same bytes every time."""

from __future__ import annotations

import re
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest

from sheet_plans import SPECS, cells, finding, plan_from, plan_of, section, tables
from tauthide.findings import Severity
from tauthide.sheets.amounts import DEFAULT_MARK
from tauthide.sheets.environment import environment
from tauthide.sheets.sheet import render_sheet
from tauthide.units import show

METRIC = r"-?\d+(?:\.\d+)? (?:mm|m)(?!\w)"
INCH = r"-?\d+(?: ft(?: \d[\d /]* in)?|[\d /.]* in)"
ROWS_WITH_OTHERS_WORDS = ("### How much, and from what", "### Defaults", "### Set for this drum")
"""Sections with formulas, reasons and a maker's own spelling beside the values."""


def page_of(name: str) -> str:
    return render_sheet(plan_of(name)).decode()


@pytest.fixture(params=SPECS)
def name(request: pytest.FixtureRequest) -> str:
    assert isinstance(request.param, str)
    return request.param


class TestForm:
    """A page is well-formed Markdown."""

    def test_nothing_is_left_blank(self, name: str) -> None:
        page = page_of(name)
        assert not re.search(r"undefined|None|True|False|\{\{|\{%|Decimal|<bound|object at", page)

    def test_every_row_of_a_table_has_the_cells_of_its_heading(self, name: str) -> None:
        found = tables(page_of(name))
        assert len(found) > 10
        for table in found:
            assert all(cell for cell in table[0])
            assert {len(row) for row in table} == {len(table[0])}
            assert all(cell for row in table for cell in row)

    def test_tables_stand_between_blank_lines(self, name: str) -> None:
        lines = page_of(name).splitlines()
        for before, line in pairwise(lines):
            if line.startswith("|") != before.startswith("|"):
                assert before == "" or line == ""

    def test_lines_end_cleanly(self, name: str) -> None:
        page = page_of(name)
        assert page.endswith("\n")
        assert not page.endswith("\n\n")
        assert not re.search(r"[ \t]\n|\n\n\n|\r|\t", page)

    def test_headings_are_numbered_in_order(self, name: str) -> None:
        numbers = [int(number) for number in re.findall(r"^## (\d+)\. ", page_of(name), re.MULTILINE)]
        assert numbers == list(range(1, 11))

    def test_each_drawing_is_linked_once_with_words_for_it(self, name: str) -> None:
        links = re.findall(r"!\[([^\]]+)\]\(([^)]+)\)", page_of(name))
        made = ["frame.svg"] if plan_of(name).spec.word("frame.make") != "bought" else []
        assert sorted(link for _, link in links) == [
            *made,
            "gauge.svg",
            "lacing.svg",
            "layout.svg",
            "section.svg",
            "steps.svg",
        ]
        assert all(len(words.split()) >= 4 for words, _ in links)


class TestUnits:
    """Every length is shown in both systems, rounded."""

    @staticmethod
    def prose(page: str) -> Iterator[str]:
        """Yield all text that is ours alone, and of the tables with others' words the values.

        What faults of steps add up to is no conversion: each system has its own fault.
        """
        page = re.sub(r"^Steps add up: .*$", "", page.replace("\u00a0", " "), flags=re.MULTILINE)
        for heading in ROWS_WITH_OTHERS_WORDS:
            part = section(page, heading)
            page = page.replace(part, "")
            yield from (cells(line)[1] for line in part.splitlines() if line.startswith("| "))
        yield page

    def test_every_length_has_its_partner_in_brackets(self, name: str) -> None:
        inch_first = plan_of(name).spec.word("bench.units") == "inch"
        first, second = (INCH, METRIC) if inch_first else (METRIC, INCH)
        pairs = 0
        for text in self.prose(page_of(name)):
            rest, count = re.subn(rf"{first} \({second}\)", "", text)
            pairs += count
            assert re.findall(r".{0,30}\d (?:mm|cm|m|in|ft)\b.{0,20}", rest) == []
        assert pairs > 100

    def test_no_number_has_more_than_three_decimals(self, name: str) -> None:
        # A Bessel zero in a formula is not a measure.
        assert re.findall(r"\d\.\d{4,}", page_of(name)) == []

    def test_inches_lead_where_the_bench_wants_them(self) -> None:
        parts = SPECS["round"]
        metric, inch = (
            render_sheet(plan_from(parts + f"bench: {{units: {units}}}\n")).decode() for units in ("metric", "inch")
        )
        assert "520 mm (20 1/2 in)" in metric
        assert "20 1/2 in (520 mm)" in inch
        assert "20 1/2 in (520 mm)" not in metric

    def test_a_punch_keeps_its_own_size(self) -> None:
        parts = SPECS["round"].replace("count: 16", "count: 16, hole: 9.5 mm")
        assert "| Punch | 9.5 mm (3/8 in) |" in render_sheet(plan_from(parts)).decode()

    def test_sizes_that_follow_from_a_punch_are_not_rounded_away(self) -> None:
        parts = SPECS["round"].replace("count: 16", "count: 16, hole: 9.5 mm, web: 18 mm")
        page = render_sheet(plan_from(parts)).decode().replace("\u00a0", " ")
        assert "| Punch | 9.5 mm (3/8 in) |" in page
        assert page.count("pair spacing 27.5 mm (1 1/16 in)") == 1
        assert "Hole b lies 27.5 mm (1 1/16 in) further on" in page
        row = next(line for line in page.splitlines() if "`holes.pair_spacing`" in line)
        assert cells(row)[1] == "27.5 mm (1 1/16 in)"

    def test_a_value_is_never_two_figures(self, name: str) -> None:
        plan, page = plan_of(name), page_of(name).replace("\u00a0", " ")
        parts = {row[0]: row[1] for row in tables(section(page, "### The lace, part by part"))[0][1:]}
        listed = {
            row[0].rpartition(", ")[0]: row[1] for row in tables(section(page, "### How much, and from what"))[0][1:]
        }
        for part in plan.lace_parts:
            title = plan.figures[part].figure.title
            assert parts[title] == listed[title]


class TestContent:
    """What a maker needs is there."""

    def test_it_says_what_is_built(self) -> None:
        page = page_of("round")
        assert page.startswith("# Lending set\\, 13 inch goat\n")
        assert "**8 drums**" in page
        assert f"`{plan_of('round').digest}`" in page

    def test_a_drum_without_a_title_goes_by_its_name(self) -> None:
        assert page_of("oval").startswith("# LIB\\-13\n")

    def test_bench_order(self, name: str) -> None:
        wanted = [
            "Take care",
            "Have at hand",
            "Order of work",
            "The frame",
            "1. The blank",
            "2. Mark the",
            "3. Punch",
            "4. Cut the lace",
            "5. Lace",
            "6. Centre",
            "7. Draw tight",
            "8. The handle",
            "9. Dry",
            "10. Finish",
            "Measure and write in",
            "Behind the numbers",
            "# The lace, part by part",
            "# How much, and from what",
            "# Defaults",
            "# Set for this drum",
        ]
        page = page_of(name)
        places = [page.index(f"\n## {heading}".replace("## #", "###")) for heading in wanted]
        assert places == sorted(places)

    def test_every_operation_is_in_the_order_of_work(self, name: str) -> None:
        plan = plan_of(name)
        rows = tables(section(page_of(name), "## Order of work"))[0][1:]
        assert [row[1] for row in rows] == [operation.title for operation in plan.operations]
        by_name = {operation.name: number for number, operation in enumerate(plan.operations, 1)}
        for row, operation in zip(rows, plan.operations, strict=True):
            assert row[4] == (", ".join(str(by_name[before]) for before in operation.after) or "–")
            assert all(by_name[before] < int(row[0]) for before in operation.after)
            assert (row[5] == "wet") == operation.wet

    def test_every_figure_is_listed_with_its_formula(self, name: str) -> None:
        plan = plan_of(name)
        part = section(page_of(name), "### How much, and from what")
        rows = tables(part)[0][1:]
        assert [row[0].rpartition(", ")[2] for row in rows] == [f"`{figure}`" for figure in plan.figures]
        sources = re.findall(r"^(\d+)\. (.+)$", part, re.MULTILINE)
        assert {row[3] for row in rows} == {number for number, _ in sources}

    def test_the_parts_of_the_lace_add_up(self, name: str) -> None:
        rows = tables(section(page_of(name), "### The lace, part by part"))[0][1:]
        read = [re.findall(r"([\d.]+) (mm|m)\b", row[1])[0] for row in rows]
        *parts, net, allowance, cut = (float(size) * (1000 if unit == "m" else 1) for size, unit in read)
        assert len(parts) == len(plan_of(name).lace_parts)
        assert sum(parts) == pytest.approx(net, abs=5 * (len(parts) + 1))
        assert net + allowance <= cut + 11
        assert cut - net - allowance < 50 + 11

    def test_punchings_to_pick_up(self) -> None:
        # 16 stations take 32 holes, and 33 punchings with the lace's own.
        # Workshop practice, no published source.
        page = page_of("round")
        assert "Punch **32 holes**" in page
        assert "32 now, **33** with the one from the lace's tab" in page

    @pytest.mark.parametrize(
        ("drum", "web", "spacing", "margin", "distance"),
        [
            (
                "round",
                "20 mm (13/16 in)\\*",
                "30 mm (1 3/16 in)\\*",
                "12 mm (1/2 in)\\*",
                "17 mm (11/16 in)\\*",
            ),
            ("on the wall", "18 mm (11/16 in)", "28 mm (1 1/8 in)", "13 mm (1/2 in)", "18 mm (11/16 in)"),
        ],
    )
    def test_both_of_each_couple(self, drum: str, web: str, spacing: str, margin: str, distance: str) -> None:
        rows = tables(section(page_of(drum), "## 3. Punch the holes"))[0][1:]
        assert [row[1:] for row in rows] == [
            [f"web {web}", f"pair spacing {spacing}"],
            [f"margin {margin}", f"edge distance {distance}"],
        ]

    def test_holes_on_the_back_and_on_the_wall(self) -> None:
        assert "The holes lie on the back, 23 mm (7/8 in) in" in page_of("round")
        # The turnover is 16 mm, the edge distance 18 mm.
        assert "The holes lie **on the wall**, 2 mm (1/16 in) short of the outside" in page_of("on the wall")
        parts = SPECS["on the wall"].replace("turnover: 16 mm", "turnover: 19 mm")
        over = render_sheet(plan_from(parts)).decode()
        assert "**over the rounded back edge**, 1 mm (1/16 in) in from the outside of the wall" in over

    def test_radius_before_and_after_drawing_tight(self) -> None:
        # By hand: 13 in / 2 - 2 - (40 - 2 - 17) = 142.1; stretched by 3 % of 165.1 = 4.953 to 137.1.
        assert "| Radius of the holes | 142 mm (5 5/8 in) | 137 mm (5 3/8 in) |" in page_of("round")
        assert "Radius of the holes" not in section(page_of("oval"), "## 7. Draw tight")

    def test_the_handle_or_none(self) -> None:
        assert "31 strands at the hub into 4\\* arms of 7 or 8 strands" in page_of("round")
        assert "43 strands at the hub into 2 arms of 21 or 22 strands" in page_of("thick")
        way = section(page_of("round"), "## 8. The handle")
        assert "lead the end out along the first arm, 60 mm (2 3/8 in)\\*" in way
        assert "The way out along the arms, 240 mm (9 7/16 in) in all, comes out of the play" in way
        none = section(page_of("inch"), "## 8. The handle")
        assert "No handle." in none
        assert "arms" not in none

    def test_the_inner_side_lies_up(self) -> None:
        assert "hair\\* side outward. So the **flesh side** is the inner side" in page_of("round")
        assert "Lay the skin flat, **flesh side up**" in page_of("round")
        assert "flesh side outward. So the **hair side** is the inner side" in page_of("thick")
        assert "Lay the skin flat, **hair side up**" in page_of("thick")

    def test_nothing_is_drawn_before_the_side_is_chosen(self, name: str) -> None:
        part = section(page_of(name), "## 1. The blank")
        steps = [
            "Choose the side",
            "side up**",
            "Draw the spine on the",
            "**bearing edge down, back up**",
            "Mark the frame",
        ]
        places = [part.index(step) for step in steps]
        assert places == sorted(places)
        assert part.index("(layout.svg)") < part.index("Cut it out")

    @pytest.mark.parametrize(
        ("drum", "words"),
        [
            ("round", "Set its middle on the spine."),
            ("oval", "its length runs along the spine."),
            ("octagon", "the middle of the side nearest you and of the side opposite."),
            ("heptagon", "the middle of the side nearest you and the corner opposite."),
        ],
    )
    def test_how_the_frame_lies_on_the_spine(self, drum: str, words: str) -> None:
        assert words in section(page_of(drum), "## 1. The blank")

    def test_a_polygons_blank_has_arcs_for_corners(self) -> None:
        part = section(page_of("octagon"), "## 1. The blank")
        reach = show("length", plan_of("octagon")["skin.reach"], "metric")
        assert "round, not sharp" in part
        assert f"draw an arc of radius **{reach}**" in part

    def test_another_hide_for_the_lace_is_soaked_for_itself(self) -> None:
        soak = "Soak the skin for the lace"
        assert f"{soak}, calf\\*, as well: 12 h\\*." in page_of("thick")
        assert "soaked 12 h\\* |" in page_of("thick")
        assert soak not in page_of("round")
        assert "soaked with the head's |" in page_of("round")

    def test_the_tab_is_left_standing_on_the_rim(self) -> None:
        circle = show("length", plan_of("round")["lace.circle_diameter"], "metric")
        tab = "along the rim 50 mm (1 15/16 in)\\* long, 25 mm (1 in)\\* wide"
        assert f"a circle {circle} across, for a disc of" in section(page_of("round"), "## Have at hand")
        part = section(page_of("round"), "## 4. Cut the lace")
        assert f"Cut a circle {circle} across" in part
        assert f"**leave the tab standing**: {tab}" in part

    def test_the_spine_across(self) -> None:
        plan = plan_from("frame: {outline: oval, length: 18 in, width: 15 in, depth: 60 mm}\n"
                         "head: {hide: calf, spine: across}\nstations: {count: 18}\n")  # fmt: skip
        page = render_sheet(plan, ()).decode("utf-8")
        assert "Draw a line square to the spine, right across the skin: the **cross line**." in page
        assert "so that its length runs along the cross line." in page
        assert "Station 1 is at the end of the cross line nearest you" in page
        assert "along the spine" not in page

    def test_the_hub_is_explained_before_it_is_used(self, name: str) -> None:
        words = re.sub(r"!\[[^\]]*\]", "", page_of(name))
        assert words.index("at the **hub**") < re.search(r"(?<!\*)\bhub\b", words).start()  # type: ignore[union-attr]

    def test_the_blank_of_a_frame_that_is_not_round(self) -> None:
        part = section(page_of("oval"), "## 1. The blank")
        assert "outside the frame" in part
        assert "radius" not in part
        assert "square to it" in part

    def test_places_to_write_in(self, name: str) -> None:
        rows = tables(section(page_of(name), "## Measure and write in"))[0][1:]
        assert len(rows) > 12
        assert all(set(row[2]) <= {"_", " "} and "______" in row[2] for row in rows)

    def test_the_wanted_pitch_stands_beside_the_place_for_the_found_one(self) -> None:
        assert "| Pitch, dry | 110 Hz, A2 | ______ |" in page_of("inch")
        assert "| Pitch, dry | – | ______ |" in page_of("round")


class TestOrigins:
    """Every value is listed once, as a default or as set."""

    def test_every_value_is_listed_where_it_belongs(self, name: str) -> None:
        spec, page = plan_of(name).spec, page_of(name)
        listed = {
            heading: [row[0].rpartition(", ")[2].strip("`") for row in tables(section(page, heading))[0][1:]]
            for heading in ("### Defaults", "### Set for this drum")
        }
        defaults = [path for path, setting in spec.settings.items() if setting.origin.is_default]
        assert listed["### Defaults"] == defaults
        assert listed["### Set for this drum"] == [path for path in spec.settings if path not in defaults]

    def test_a_default_has_a_reason_and_a_source(self, name: str) -> None:
        for row in tables(section(page_of(name), "### Defaults"))[0][1:]:
            assert len(row[2]) > 8
            assert re.search(r"practice|memory|shop", row[3])

    def test_setting_a_value_takes_its_mark_away(self) -> None:
        marked = f"wall 8 mm (5/16 in){DEFAULT_MARK}"
        assert marked in page_of("round")
        page = render_sheet(plan_from(SPECS["round"].replace("depth: 55 mm", "depth: 55 mm, wall: 8 mm"))).decode()
        assert marked not in page
        assert "wall 8 mm (5/16 in);" in page

    def test_where_a_value_is_written(self) -> None:
        rows = tables(section(page_of("round"), "### Set for this drum"))[0][1:]
        diameter = next(row for row in rows if row[0] == "Diameter, `frame.diameter`")
        assert diameter[2:] == ["13 in", "spec: \\<stdin\\>, line 5"]


class TestFindings:
    """Warnings and notes stand near the top; with errors there is no sheet."""

    def test_warnings_come_before_notes_near_the_top(self) -> None:
        findings = (
            finding(Severity.NOTE, "A note"),
            finding(found="8 mm", allowed="10 mm or more", write="web: 10 mm", path="stations.web"),
        )
        page = render_sheet(plan_of("round"), findings).decode()
        assert (
            page.index("**Warning:** The web is narrow") < page.index("**Note:** A note") < page.index("## Take care")
        )
        assert "Found: 8 mm. Allowed: 10 mm or more. Write: web\\: 10 mm (web-too-narrow, stations\\.web; " in page
        assert "lib\\-13\\.yaml, line 7)" in page

    def test_without_findings_there_is_no_heading_for_them(self) -> None:
        assert "Look at these first" not in page_of("round")
        assert "Look at these first" in render_sheet(plan_of("round"), [finding()]).decode()

    def test_an_error_gets_no_sheet(self) -> None:
        with pytest.raises(ValueError, match="notice, not a sheet"):
            render_sheet(plan_of("round"), [finding(Severity.ERROR)])


class TestSameBytes:
    """The same plan gives the same bytes."""

    def test_twice(self, name: str) -> None:
        first = render_sheet(plan_of(name))
        environment.cache_clear()
        assert render_sheet(plan_from(SPECS[name])) == first

    def test_title_notes_and_quantity_leave_the_rest_alone(self) -> None:
        plan = plan_of("round")
        other = replace(plan, spec=replace(plan.spec, title="Another", notes="", quantity=8))
        changed = set(render_sheet(other).decode().splitlines()) ^ set(page_of("round").splitlines())
        assert changed == {"# Another", "# Lending set\\, 13 inch goat"}

    def test_whatever_the_hash_seed(self) -> None:
        code = (
            "import sys; sys.path.insert(0, 'tests')\n"
            "from sheet_plans import plan_of\nfrom tauthide.sheets.sheet import render_sheet\n"
            "sys.stdout.buffer.write(render_sheet(plan_of('round')))"
        )
        root = Path(__file__).resolve().parents[2]
        pages = {
            subprocess.run(
                [sys.executable, "-c", code],
                cwd=root,
                env={"PYTHONPATH": str(root / "src"), "PYTHONHASHSEED": seed, "LC_ALL": "C"},
                check=True,
                capture_output=True,
            ).stdout
            for seed in ("1", "2")
        }
        assert pages == {render_sheet(plan_of("round"))}
