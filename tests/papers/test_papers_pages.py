"""The papers of a run: they say what the plan says, tables are whole, a maker's words stay words."""

from __future__ import annotations

import csv
import io
import re
from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from xml.etree import ElementTree

import pytest

from run_files import LARGE, LOT, RUN, SKIN, SMALL
from run_plans import ALL_GOAT, PRICES, planned, run_with
from sheet_plans import tables
from tauthide.drawings.bars import BAR_MM, bar_files, draw_bars
from tauthide.drawings.skin import draw_skin
from tauthide.papers.overview import tub_note
from tauthide.papers.papers import render_papers
from tauthide.papers.soaking import soaking_table
from tauthide.papers.wording import hand_time
from tauthide.running.run_plan import RunPlan
from tauthide.scheduling.schedule import Limit, LimitKind

SVG = "{http://www.w3.org/2000/svg}"
NAUGHTY = "<b>|x|</b> [a](b) `c` *d* =1+1"


@pytest.fixture(scope="module")
def plan(tmp_path_factory: pytest.TempPathFactory) -> RunPlan:
    lot = LOT.replace("length: 8 m", "length: 8 m, price: 9")
    more = run_with(PRICES + "spares: {heads: 1, laces: 1}\n")
    changes = {"large.yaml": ALL_GOAT, "runs/cupboard.yaml": lot, **more}
    return planned(tmp_path_factory.mktemp("run"), changes)


@pytest.fixture(scope="module")
def pages(plan: RunPlan) -> dict[str, str]:
    return {name: content.decode("utf-8") for name, content in render_papers(plan).items()}


def rows(content: str) -> list[dict[str, str]]:
    """Return the rows of a CSV file by column."""
    return list(csv.DictReader(io.StringIO(content)))


def test_all_papers(pages: dict[str, str]) -> None:
    assert sorted(pages) == [
        "chain.csv", "costs.csv", "drums.csv", "hides.csv", "kits.csv", "kits.md", "lace.csv", "lace.md", "made.csv",
        "needs.csv", "run.md", "schedule.csv", "schedule.md", "skins.csv", "skins.md", "skins_to_buy.csv",
        "travellers.csv", "travellers.md", "water.csv",
    ]  # fmt: skip


def test_every_table_of_the_papers_goes_into_a_spreadsheet(tmp_path: Path) -> None:
    """But for those whose content is in another: days (schedule.csv), steps to tick and measures (travellers.csv)."""
    plan = planned(tmp_path, run_with(PRICES))
    limit = Limit(LimitKind.PEOPLE, "people", 1, plan.schedule.finish_min - 30, 30)
    made = {name: content.decode() for name, content in render_papers(replace(plan, limits=(limit,))).items()}
    without = {"When and how much", "Part", "☐", "Drum"}
    heads = [table[0] for name, page in made.items() if name.endswith(".md") for table in tables(page)]
    sizes = {name: set(made[name].splitlines()[:1]) for name in made if name.endswith(".csv")}
    assert {"chain.csv", "limits.csv", "water.csv", "made.csv", "hides.csv", "skins_to_buy.csv"} <= sizes.keys()
    assert {head[0] for head in heads} - without == {"What", "Skin", "With", "Begins"}
    (gain,) = rows(made["limits.csv"])
    assert (gain["with"], gain["gain_min"]) == ("1 more person", "30")
    assert gain["finished"] == plan.moment(limit.finish_min).isoformat(" ", "minutes")
    water = rows(made["water.csv"])
    assert [row["skin"] for row in water] == [name for name, cuts in plan.cuts.items() if cuts]
    assert water[0]["heads"].split() == [drum.serial for drum in plan.drums if drum.serial in plan.on_skin]
    bought = {row["hide"]: row for row in rows(made["skins_to_buy.csv"])}
    assert bought["deer"]["pieces"] == "2"


@pytest.mark.parametrize("name", ["run", "schedule", "skins", "lace", "kits", "travellers"])
def test_tables_are_whole(pages: dict[str, str], name: str) -> None:
    page = pages[f"{name}.md"]
    found = tables(page)
    assert found
    for table in found:
        assert len({len(row) for row in table}) == 1


def test_every_drum_has_a_card_a_row_and_a_time(plan: RunPlan, pages: dict[str, str]) -> None:
    serials = [drum.serial for drum in plan.drums]
    for name in ("kits.csv", "drums.csv", "travellers.csv"):
        assert [row["drum"] for row in rows(pages[name])] == serials
    cards = re.findall(r"^## (.+)$", pages["kits.md"], re.MULTILINE)
    assert [card.replace("\\", "") for card in cards] == serials


def test_the_work_is_all_there(plan: RunPlan, pages: dict[str, str]) -> None:
    listed = [(row["drum"], row["date"], row["from"]) for row in rows(pages["schedule.csv"])]
    assert len(listed) == len(plan.schedule.works) == sum(len(job.operations) for job in plan.order.timed.jobs)


def test_pieces_of_skins(plan: RunPlan, pages: dict[str, str]) -> None:
    listed = rows(pages["skins.csv"])
    assert len(listed) == len(plan.layout.placements)
    for row in listed:
        placement = next(
            each for each in plan.layout.placements
            if f"{each.name} {each.part + 1}".removesuffix(" 1") == row["piece"] and each.hide == row["skin"]
        )  # fmt: skip
        assert float(row["x_mm"]) == pytest.approx(placement.centre[0], abs=0.06)


def test_every_lace_is_listed(plan: RunPlan, pages: dict[str, str]) -> None:
    listed = [row["lace"] for row in rows(pages["lace.csv"])]
    assert len(set(listed)) == len(listed)  # a tag with this name must tell which piece it is
    names = {name.removesuffix(" 2") for name in listed}
    assert names == {f"{drum.serial} lace" for drum in plan.drums} | {"SMALL spare lace 1", "LARGE spare lace 1"}


def test_costs_add_up_as_they_are_shown(pages: dict[str, str]) -> None:
    *drums, whole = ({key: Decimal(value) for key, value in row.items() if key != "drum"}
                     for row in rows(pages["costs.csv"]))  # fmt: skip
    for column in whole.keys() - {"work_min"}:
        assert whole[column] == sum(row[column] for row in drums)
    for row in (*drums, whole):
        assert row["material"] == sum(row[part] for part in ("frame", "skin", "lace", "ring", "sundries"))
        assert row["cost"] == row["material"] + row["work"]
    for row in drums:
        assert abs(row["price"] - Decimal("1.25") * row["cost"]) <= Decimal("0.005")
    page = pages["run.md"]
    (table,) = (table for table in tables(page) if "Hand time" in table[0])
    assert [row[-1].split("\u00a0")[0] for row in table[1:]] == [f"{row['price']:.2f}" for row in (*drums, whole)]


def test_what_has_no_price_is_told(tmp_path: Path) -> None:
    page = render_papers(planned(tmp_path, run_with("prices: {frame: 20}\n")))["run.md"].decode()
    assert (
        "**A dash is not known:** no price was given for skin for heads of SMALL and LARGE (`hide_per_m2`), laces of"
        " SMALL and LARGE (`lace_per_m`) and work (`hour`)." in page
    )
    assert "A dash" not in render_papers(planned(tmp_path, run_with(PRICES)))["run.md"].decode()


def test_a_lace_that_is_joined_of_short_ones(tmp_path: Path) -> None:
    lot = LOT.replace("length: 8 m}", "length: 2 m}, {hide: goat, width: 8 mm, length: 1.5 m}")
    plan = planned(tmp_path, {"runs/cupboard.yaml": lot})
    made = {name: content.decode().replace("\u00a0", " ") for name, content in render_papers(plan).items()}
    listed = [(row["lace"], row["from"], row["piece_m"]) for row in rows(made["lace.csv"])]
    assert listed[:2] == [("SMALL-01 lace", "stock", "2"), ("SMALL-01 lace 2", "stock", "1.5")]
    (line,) = re.findall(r"^- SMALL\\-01 lace: .*$", made["lace.md"], re.MULTILINE)
    assert re.sub(r" \([^)]*\)", "", line) == r"- SMALL\-01 lace: 2.00 m and 1.50 m; 1 join takes 80 mm: 3.42 m in one"
    assert re.search(r"\| ☐ Lace \| .*, from stock, joined of 2\.00 m", made["kits.md"])
    assert ("Laces out of stock, to be joined of short ones", "1", "1", "0") in [
        tuple(row.values()) for row in rows(made["needs.csv"])
    ]


def test_rings_in_stock_are_subtracted(tmp_path: Path) -> None:
    large = LARGE.replace("lace: {hide: calf}", "lace: {hide: calf, lacing: ring}")
    lot = LOT + "rings: [{diameter: 60 mm, section: 6 mm}]\n"
    plan = planned(tmp_path, {"large.yaml": large, "runs/cupboard.yaml": lot})
    made = {name: content.decode() for name, content in render_papers(plan).items()}
    (row,) = (row for row in rows(made["needs.csv"]) if row["what"].startswith("Rings for LARGE"))
    assert (row["needed"], row["at_hand"], row["wanting"]) == ("2", "1", "1")
    cards = re.findall(r"\| ☐ Ring \| .*: ([a-z ]+) \|", made["kits.md"])
    assert cards == ["from stock", "to be bought"]


def test_links_lead_to_papers(plan: RunPlan, pages: dict[str, str]) -> None:
    drawings = {*bar_files(plan), "skin-goat-1.svg"}
    for page in pages.values():
        for link in re.findall(r"\]\(([^)]+)\)", page):
            assert link in pages or link in drawings


def test_a_maker_s_words_stay_words(tmp_path: Path) -> None:
    changes = {
        "runs/run.yaml": RUN + f"title: '{NAUGHTY}'\nnotes: '{NAUGHTY}'\n",
        "runs/goat-1.yaml": SKIN + f"title: '{NAUGHTY}'\n",
        "runs/cupboard.yaml": LOT.replace("what: beeswax", f"what: '{NAUGHTY}'"),
    }
    plan = planned(tmp_path, changes)
    for name, content in render_papers(plan).items():
        text = content.decode("utf-8")
        if name.endswith(".md"):
            assert "<b>" not in text
            assert "[a](b)" not in text
            for table in tables(text):
                assert len({len(row) for row in table}) == 1
    ElementTree.fromstring(draw_skin(plan.run.skins[0].skin, plan.cuts["goat-1"]))


def test_wanting_skin_is_told(tmp_path: Path) -> None:
    page = render_papers(planned(tmp_path))["run.md"].decode()
    assert re.search(r"\*\*Skin is wanting for:\*\* .*LARGE\\-01, 02\.", page)
    assert re.search(r"- \[ \] \d ordinary skins? of deer, .* for 2 pieces of", page)


class TestDrawings:
    def test_every_piece_is_drawn_in_its_place(self, plan: RunPlan) -> None:
        skin, cuts = plan.run.skins[0].skin, plan.cuts["goat-1"]
        root = ElementTree.fromstring(draw_skin(skin, cuts))
        circles = [each for each in root.iter(f"{SVG}circle") if each.get("fill") == "#fff"]
        assert len(circles) == len(cuts)
        scales = {
            round(2 * cut.placement.shape.reach_mm / (2 * float(circle.get("r", "0"))), 2)
            for cut, circle in zip(cuts, circles, strict=True)
        }
        assert len(scales) == 1

    def test_texts_of_the_list_stand(self, plan: RunPlan) -> None:
        root = ElementTree.fromstring(draw_skin(plan.run.skins[0].skin, plan.cuts["goat-1"]))
        texts = ["".join(each.itertext()) for each in root.iter(f"{SVG}text")]
        for cut in plan.cuts["goat-1"]:
            assert any(text.startswith(cut.placement.name) for text in texts)

    def test_bars_for_all_hands(self, plan: RunPlan) -> None:
        pages = [ElementTree.fromstring(page) for page in draw_bars(plan).values()]
        bars = [each for page in pages for each in page.iter(f"{SVG}rect") if each.get("height") == str(BAR_MM)]
        by_hand = sum(len(row.people) for row in plan.schedule.rows)
        held = sum(len(each.places) for each in plan.schedule.held if each.resource in ("tub", "drying"))
        assert len(bars) == by_hand + held


def test_every_skin_that_is_cut_goes_into_the_water_before(plan: RunPlan) -> None:
    table = soaking_table(plan)
    assert [row[1].value for row in table.rows]
    assert {row[1].value for row in table.rows} == {name for name, cuts in plan.cuts.items() if cuts}
    for row in table.rows:
        put_in, first, last = (str(row[column].value) for column in (2, 5, 6))
        assert put_in < first <= last


def test_why_a_skin_is_not_used(tmp_path: Path) -> None:
    thin = SKIN.replace("hide: goat", "hide: deer").replace("thickness: 1.0", "thickness: 0.4")
    page = render_papers(planned(tmp_path, {"runs/goat-1.yaml": thin}))["skins.md"].decode()
    assert re.search(r"## Not used\n\n- goat\\-1: no head that is wanting may be cut from its thickness", page)


def test_an_oval_blank_says_how_it_lies(tmp_path: Path) -> None:
    oval = "spec: 1\ndrum: LARGE\nframe: {outline: oval, length: 12 in, width: 9 in, depth: 55 mm}\n"
    large = SKIN.replace("grid: 50 mm", "grid: 100 mm")
    for way in ("along", "across"):
        spec = f"{oval}head: {{hide: goat, spine: {way}}}\nstations: {{count: 14}}\n"
        page = render_papers(planned(tmp_path / way, {"large.yaml": spec, "runs/goat-1.yaml": large}))[
            "skins.md"
        ].decode()
        assert re.search(rf"LARGE\\-0\d \| head, longer {way} the spine \|", page)


def test_papers_say_when_a_lace_of_another_animal_is_soaked_first(tmp_path: Path) -> None:
    for tub, told in ((1, True), (2, False)):
        plan = planned(tmp_path / f"{tub}", run_with(f"places: {{tub: {tub}}}\n"))
        assert ("is soaked and cut first" in render_papers(plan)["schedule.md"].decode()) == told
        assert tub_note(plan)
    plan = planned(tmp_path / "all goat", {"large.yaml": ALL_GOAT, **run_with("places: {tub: 1}\n")})
    assert "is soaked and cut first" not in render_papers(plan)["schedule.md"].decode()
    assert tub_note(planned(tmp_path / "no limit")) == ""


def test_a_card_tells_where_both_heads_come_from(tmp_path: Path) -> None:
    two = SMALL.replace("depth: 40 mm", "depth: 120 mm") + "lace: {lacing: zigzag, laces: 2}\n"
    plan = planned(tmp_path, {"small.yaml": two})
    (card,) = re.findall(r"## SMALL\\-01\n.*?(?=\n## |\Z)", render_papers(plan)["kits.md"].decode(), re.DOTALL)
    heads = [plan.on_skin[name][0][1].number for name in ("SMALL-01", "SMALL-01 second head")]
    assert re.findall(r"☐ Head \d \|[^\n]*no\. \*\*(\d+)\*\*", card) == [f"{number}" for number in heads]


def test_hours_of_work_are_never_days() -> None:
    assert [hand_time(minutes).text.replace("\u00a0", " ") for minutes in (0, 45, 120, 3092.4)] == [
        "0 min", "45 min", "2 h", "51 h 32 min",
    ]  # fmt: skip
