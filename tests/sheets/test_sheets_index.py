"""The index of a batch and the notice that stands in for a sheet."""

from __future__ import annotations

import json
import re
from dataclasses import asdict, replace

import pytest

from sheet_plans import finding, plan_of, section, tables
from tauthide.findings import Place, Severity
from tauthide.sheets.index import IndexRow, failed_row, index_row
from tauthide.sheets.sheet import render_index, render_notice
from tauthide.sheets.words import NO_BREAK
from tauthide.units import area, long_length


def row_of(name: str, drum: str, quantity: int = 1) -> IndexRow:
    plan = plan_of(name)
    return index_row(replace(plan, spec=replace(plan.spec, drum=drum, quantity=quantity)))


def plain_spaces(page: bytes) -> str:
    return page.decode().replace(NO_BREAK, " ")


class TestRows:
    def test_main_figures(self) -> None:
        _, row = tables(plain_spaces(render_index([index_row(plan_of("round"))])))[0]
        assert row == [
            "[LIB\\-13](LIB-13/sheet.md)",
            "Lending set\\, 13 inch goat",
            "8",
            "round, 330 mm (13 in) across; goat; 16 stations",
            "520 mm (20 1/2 in) across",
            "0.21 m² (2.3 sq ft)",
            "7.10 m (23 ft 3 1/2 in)",
            "–",
        ]

    @pytest.mark.parametrize(
        ("name", "frame", "blank"),
        [
            ("oval", "oval, 457 mm (18 in) by 406 mm (16 in); deer; 18 stations", "658 mm"),
            ("octagon", "8 sides, 381 mm (15 in) across the flats; calf; 16 stations", "582 mm"),
            ("inch", "round, 14 in (356 mm) across; cow; 12 stations", "21 15/16 in"),
        ],
    )
    def test_other_frames(self, name: str, frame: str, blank: str) -> None:
        row = index_row(plan_of(name))
        assert row.frame.replace(NO_BREAK, " ") == frame
        assert row.blank.replace(NO_BREAK, " ").startswith(blank)

    def test_findings_are_counted(self) -> None:
        row = index_row(plan_of("round"), [finding(), finding(), finding(Severity.NOTE)])
        assert tables(plain_spaces(render_index([row])))[0][1][-1] == "2 warnings, 1 note"

    def test_a_row_survives_json(self) -> None:
        for row in (
            index_row(plan_of("oval"), [finding()]),
            failed_row("X", "t", 3, [finding(Severity.ERROR)]),
        ):
            assert IndexRow(**json.loads(json.dumps(asdict(row)))) == row

    def test_rows_stand_by_name_whatever_their_order(self) -> None:
        rows = [row_of("round", "b"), row_of("oval", "A"), row_of("least", "C"), failed_row("a2")]
        page = render_index(rows)
        assert page == render_index(reversed(rows))
        assert re.findall(r"^\| \[(\w+)\]", page.decode(), re.MULTILINE) == ["A", "a2", "b", "C"]


class TestTotals:
    def test_times_quantity(self) -> None:
        rows = [row_of("round", "a", 8), row_of("oval", "b", 3)]
        found = dict(tables(section(render_index(rows).decode(), "## In all"))[0][1:])
        first, second = plan_of("round"), plan_of("oval")

        def total(figure: str) -> float:
            return 8 * first[figure] + 3 * second[figure]

        assert found == {
            "Drums to build": "11",
            "Skin for heads": area(total("head.blank_area"), "metric"),
            "Skin for the discs that laces are cut from": area(total("lace.area"), "metric"),
            "Lace": long_length(total("lace.cut_length"), "metric"),
        }
        assert found["Lace"].startswith(f"{(8 * 7.10 + 3 * second['lace.cut_length'] / 1000):.2f} m")

    def test_in_inches_where_all_drums_are(self) -> None:
        assert "sq ft (" in section(render_index([row_of("inch", "a")]).decode(), "## In all")
        mixed = [row_of("inch", "a"), row_of("round", "b")]
        assert "sq ft (" not in section(render_index(mixed).decode(), "## In all")

    def test_failed_drums_are_named_and_left_out(self) -> None:
        good = [row_of("round", "a")]
        page = plain_spaces(render_index([*good, failed_row("b", "Hall drum", 4, [finding(Severity.ERROR)])]))
        assert "| [b](b/sheet.md) | Hall drum | 4 | **do not cut** | – | – | – | 1 error |" in page
        assert "1 drum is not built" in page
        assert tables(page)[1] == tables(render_index(good).decode())[1]

    def test_only_failed_drums(self) -> None:
        page = render_index([failed_row("b"), failed_row("c")]).decode()
        assert "2 drums are not built" in page
        assert "## In all" not in page

    def test_no_drums(self) -> None:
        assert render_index([]) == b"# Drums\n\nNo drums.\n"


class TestNotice:
    def test_it_says_not_to_cut_and_why(self) -> None:
        errors = [
            finding(Severity.WARNING, "Thin"),
            finding(Severity.ERROR, "Too narrow", write="web: 20 mm"),
        ]
        page = render_notice("LIB-13", "Hall drum", errors, "specs/lib-13.yaml").decode()
        assert page.startswith("# Hall drum: do not cut\n")
        assert "There is no build sheet for LIB\\-13." in page
        assert "Do not cut skin or lace" in page
        assert page.index("**Error:** Too narrow. Write: web\\: 20 mm") < page.index("**Warning:** Thin.")
        assert "(web-too-narrow; lib\\-13\\.yaml, line 7)" in page
        assert "undefined" not in page
        assert page.endswith(")\n")

    def test_nothing_to_cut_from(self) -> None:
        page = render_notice("LIB-13", findings=[finding(Severity.ERROR)]).decode()
        assert page.startswith("# LIB\\-13: do not cut\n")
        assert not re.search(r"\.svg|\d (mm|in)\b", page)

    def test_files_are_named_as_seen_from_the_spec(self) -> None:
        shop = replace(finding(Severity.ERROR), place=Place("shop.yaml", 4))
        page = render_notice("LIB-13", "", [shop], "specs/lib-13.yaml").decode()
        assert "(web-too-narrow; \\.\\.\\/shop\\.yaml, line 4)" in page
