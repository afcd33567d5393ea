"""Records on the command line: kept, amended, checked, learned from, and never a traceback."""

from __future__ import annotations

import csv
import io
import json
import re
from collections.abc import Mapping

import pytest
import yaml

from run_files import write_files
from tauthide.papers.travellers import MEASURED
from tauthide.recording.records import ITEM
from tauthide.recording.travellers import COLUMNS
from tauthide.schema.fields import fields
from tauthide.work.operations import operation_names
from workshops import Workshop

RUN = "runs/run.yaml"
RECORDS = "runs/run.records.yaml"


@pytest.fixture
def bench(workshop: Workshop) -> Workshop:
    """Return a workshop with a run of `SMALL-01` to `SMALL-03`, `LARGE-01` and `LARGE-02`."""
    write_files(workshop.folder, {})
    return workshop


def text(bench: Workshop) -> str:
    return (bench.folder / RECORDS).read_text(encoding="utf-8")


class TestRecord:
    def test_a_new_file(self, bench: Workshop) -> None:
        run = bench.run(
            "record", RUN, "SMALL-01", "dry=2 d", "skin.punch=7 min", "trouble=a web tore", "step=skin.punch"
        )
        assert run.code == 0
        assert text(bench) == (
            "records: 1\ndrums:\n  - drum: SMALL-01\n    dry: 2 d\n    times: {skin: {punch: 7 min}}\n"
            "    trouble: a web tore\n    step: skin.punch\n"
        )
        assert bench.run("check", RECORDS).err == "1 record file; nothing found\n"

    def test_amending_keeps_comments_and_order(self, bench: Workshop) -> None:
        bench.write(
            RECORDS, "records: 1\n# ours\ndrums:\n- drum: SMALL-02   # the spotted one\n  dry: 2 d\n# the end\n"
        )
        assert bench.run("record", RUN, "SMALL-02", "dry=3 d").code == 0
        assert bench.run("record", RUN, "SMALL-01", "dry=2.5 d", "notes=it's: so").code == 0
        assert text(bench) == (
            "records: 1\n# ours\ndrums:\n- drum: SMALL-02   # the spotted one\n  dry: 3 d\n"
            '- drum: SMALL-01\n  dry: 2.5 d\n  notes: "it\'s: so"\n# the end\n'
        )

    def test_mistakes_are_found_all_at_once_and_nothing_is_written(self, bench: Workshop) -> None:
        run = bench.run("record", RUN, "SMALL-1", "dry=two", "colour=red", "skin.pnch=7 min", "--format", "json")
        assert run.code == 1
        assert sorted(set(run.names)) == ["bad-quantity", "unknown-key", "unknown-serial"]
        assert next(each for each in run.findings if each["name"] == "unknown-serial")["write"] == "drum: SMALL-01"
        assert not (bench.folder / RECORDS).exists()

    @pytest.mark.parametrize(
        "value", ["dry=-3 d", "dry=1e9 d", "blank=NaN", "blank=", "lace_used=99999999999 m", "dry={a: 1}"]
    )
    def test_absurd_values_are_refused(self, bench: Workshop, value: str) -> None:
        assert bench.run("record", RUN, "SMALL-01", value).code in (1, 2)
        assert not (bench.folder / RECORDS).exists()

    def test_what_is_far_from_planned_is_noted_and_kept(self, bench: Workshop) -> None:
        run = bench.run("record", RUN, "SMALL-01", "lace_used=30 m", "--format", "json")
        assert (run.code, run.names) == (0, ["measure-implausible"])
        assert "lace_used: 30 m" in text(bench)

    @pytest.mark.parametrize(
        ("records", "name"),
        [
            ("records: 1\ndrums:\n- {drum: SMALL-01}\n- {drum: SMALL-01}\n", "serial-twice"),
            ("records: 1\ndrums:\n- {drum: SMALL-01, date: 2026-02-30}\n", "no-such-day"),
            ("records: 1\ndrums:\n- {drum: SMALL-01, date: 2025-03-09}\n", "record-before-run"),
            ("records: 1\ndrums:\n- {drum: SMALL-01, times: {lace: {soak_hide: 5 min}}}\n", "step-not-of-drum"),
            ("records: 1\ndrums:\n- {drum: SMALL-01, lace_used: 2 m, lace_left: 5 m}\n", "lace-does-not-add-up"),
        ],
    )
    def test_check_looks_into_records(self, bench: Workshop, records: str, name: str) -> None:
        bench.write(RECORDS, records)
        assert name in bench.check(RECORDS).names
        assert bench.run("explain", name).code == 0

    def test_records_need_their_run(self, bench: Workshop) -> None:
        for file, name in (("runs/other.records.yaml", "records-without-run"), ("runs/notes.yaml", "records-misnamed"),
                           ("runs/cupboard.records.yaml", "records-of-no-run")):  # fmt: skip
            bench.write(file, "records: 1\ndrums:\n- {drum: SMALL-01}\n")
            assert bench.check(file).names == [name]

    def test_build_passes_records_over(self, bench: Workshop) -> None:
        bench.run("record", RUN, "SMALL-01", "dry=2 d")
        assert bench.build(".").findings == []

    @pytest.mark.parametrize(
        "arguments",
        [(), ("SMALL-01",), ("SMALL-01", "dry"), ("SMALL-01", "=2 d"), ("SMALL-01", "dry=2 d", "--csv", "t.csv")],
    )
    def test_bad_usage(self, bench: Workshop, arguments: tuple[str, ...]) -> None:
        assert bench.run("record", RUN, *arguments).code == 2
        assert bench.run("record", ".", "SMALL-01", "dry=2 d").code == 2


class TestTraveller:
    FILLED: Mapping[str, tuple[str, str]] = {
        "blank_mm": ("311", "blank: 311 mm"),
        "thickness_mm": ("1.05", "thickness: 1.05 mm"),
        "margin_mm": ("12", "margin: 12 mm"),
        "lace_used_m": ("2.7", "lace_used: 2.7 m"),
        "lace_left_m": ("0.25", "lace_left: 0.25 m"),
        "holes_across_mm": ("140", "holes_across: 140 mm"),
        "pitch_wet": ("60", "pitch_wet: 60 Hz"),
        "pitch_dry": ("110", "pitch_dry: 110 Hz"),
        "dry_thickness_mm": ("0.7", "dry_thickness: 0.7 mm"),
        "dry_days": ("2.5", "dry: 2.5 d"),
        "stitch_tear": ("95", "stitch_tear: 95 N/mm"),
        "hand_min": ("190", "hand: 190 min"),
        "date": ("2026-03-09", "date: 2026-03-09"),
        "outcome": ("mended", "outcome: mended"),
        "trouble": ("web tore, step 8", "trouble: web tore"),
        "notes": ("first of the set", "notes: first of the set"),
    }
    """By the column of the papers: what a maker writes, and the line that it becomes."""

    def test_every_column_of_the_papers_is_known(self) -> None:
        assert {name for _, name in MEASURED} - {"trouble", "date", "outcome"} == set(COLUMNS)

    def test_a_table_from_the_run_s_papers_is_taken(self, bench: Workshop) -> None:
        bench.run("run", RUN, "--out", "papers", "--effort", "0")
        lines = (bench.folder / "papers" / "travellers.csv").read_text(encoding="utf-8").splitlines()
        heads = lines[0].split(",")
        cells = lines[1].split(",")
        for name, cell in {"blank_mm": "311", "dry_days": "2.5", "skin.punch": "8", "skin.mark": "x",
                           "trouble": "web tore; step 6"}.items():  # fmt: skip
            cells[heads.index(name)] = cell
        bench.write("filled.csv", "\n".join([lines[0], ",".join(cells), *lines[2:]]) + "\n")
        assert bench.run("record", RUN, "--csv", "filled.csv").code == 0
        sixth = heads[6]
        assert re.sub(r"\s+", " ", text(bench)) == (
            "records: 1 drums: - drum: SMALL-01 times: {skin: {punch: 8 min}} blank: 311 mm dry: 2.5 d "
            f"trouble: web tore step: {sixth} "
        )

    def test_a_row_filled_in_from_end_to_end_is_taken_whole(self, bench: Workshop) -> None:
        bench.run("run", RUN, "--out", "papers", "--effort", "0")
        table = (bench.folder / "papers" / "travellers.csv").read_text(encoding="utf-8")
        listed = list(csv.DictReader(io.StringIO(table)))
        steps = [name for name in listed[0] if name in operation_names()]
        assert set(listed[0]) == {"drum", *steps, *self.FILLED}
        row = {name: "7 min" if name in steps and cell != "none" else cell for name, cell in listed[0].items()}
        listed[0] = row | {name: written for name, (written, _) in self.FILLED.items()}
        with (bench.folder / "filled.csv").open("w", encoding="utf-8", newline="") as file:
            writer = csv.DictWriter(file, list(listed[0]))
            writer.writeheader()
            writer.writerows(listed)
        run = bench.run("record", RUN, "--csv", "filled.csv", "--format", "json")
        assert (run.code, run.names) == (0, [])
        document = yaml.safe_load(text(bench))
        (record,) = document["drums"]
        assert set(record) == {"drum", "times", "step"} | {line.partition(":")[0] for _, line in self.FILLED.values()}
        for _, line in self.FILLED.values():
            assert f"    {line}\n" in text(bench)
        assert record["step"] == steps[7]
        done = [name for name in steps if listed[0][name] != "none"]
        assert {f"{group}.{name}" for group, of in record["times"].items() for name in of} == set(done)
        # Nothing that a record can say is without a column.
        fields_of = {path.removeprefix(ITEM).partition(".")[0] for path in fields("records") if path.startswith(ITEM)}
        assert set(record) == fields_of

    def test_units_in_cells_semicolons_and_decimal_commas(self, bench: Workshop) -> None:
        head = "drum;skin.mark;skin.punch;lace.lace;blank_mm;thickness_mm;lace_used_m;pitch_dry;hand_min\n"
        row = "SMALL-01;ok;0,5 h;12 min;12 1/4 in;1,1;1,90;A2;4 h"
        bench.write("t.csv", "\ufeff" + head + row + "\n")
        assert bench.run("record", RUN, "--csv", "t.csv").code == 0
        for line in ("times: {skin: {punch: 0.5 h}, lace: {lace: 12 min}}", "blank: 12 1/4 in", "thickness: 1.1 mm",
                     "lace_used: 1.90 m", "pitch_dry: A2", "hand: 4 h"):  # fmt: skip
            assert f"    {line}\n" in text(bench)

    @pytest.mark.parametrize(
        ("table", "name"),
        [
            ("", "no-drum-column"),
            ("serial,dry_days\nSMALL-01,2\n", "no-drum-column"),
            ("drum,dry_dais\nSMALL-01,2\n", "unknown-column"),
            ("drum,dry_days\nSMALL-01,2,5\n", "row-too-long"),
            ("drum,dry_days\nSMALL-01,2\nSMALL-01,3\n", "row-twice"),
            ("drum,skin.punch\nSMALL-01,long\n", "cell-unclear"),
            ("drum,dry_days\nSMALL-09,2\n", "unknown-serial"),
            ("drum,dry_days\nSMALL-01,soon\n", ""),
            ('drum,dry_days\nSMALL-01,"2\n', "table-unreadable"),
            ("drum,dry_days\nSMALL-01,\u00e9\n", ""),
        ],
    )
    def test_mistakes_are_findings_in_the_table(self, bench: Workshop, table: str, name: str) -> None:
        bench.write("t.csv", table)
        run = bench.run("record", RUN, "--csv", "t.csv", "--format", "json")
        assert name in run.names or (not name and run.findings)
        assert all(each["file"] == "t.csv" for each in run.findings)
        assert run.code == (0 if name == "unknown-column" else 1)

    @pytest.mark.parametrize("table", [b"drum\xff\n", b"drum,dry_days\n\x00\n", b"drum," * 60000])
    def test_what_is_no_table(self, bench: Workshop, table: bytes) -> None:
        bench.write("t.csv", table)
        assert bench.run("record", RUN, "--csv", "t.csv").code in (0, 1)
        assert not (bench.folder / RECORDS).exists()


class TestLearn:
    SHOP = "shop: 1\n# ours\nlace:\n  allowance: 10 %   # our lacers are new to it\n"

    def fill(self, bench: Workshop) -> None:
        """Record five drums that all took 0.75 min a hole."""
        for serial in ("SMALL-01", "SMALL-02", "SMALL-03", "LARGE-01", "LARGE-02"):
            small = serial.startswith("SMALL")
            fields = ("thickness=1 mm", "skin.punch=12 min") if small else ("skin.punch=24 min",)
            run = bench.run("record", RUN, serial, f"date=2026-03-1{serial[-1]}", *fields)
            assert run.code == 0

    def test_nothing_is_written_without_the_switch(self, bench: Workshop) -> None:
        bench.write("shop.yaml", self.SHOP)
        self.fill(bench)
        run = bench.run("learn", ".")
        assert run.code == 0
        assert "+  skin: {punch: {each:" in run.out
        assert (bench.folder / "shop.yaml").read_text() == self.SHOP

    def test_written_values_are_marked_and_comments_kept_and_a_second_time_changes_nothing(
        self, bench: Workshop
    ) -> None:
        bench.write("shop.yaml", self.SHOP)
        self.fill(bench)
        assert bench.run("learn", ".", "--write").code == 0
        shop = (bench.folder / "shop.yaml").read_text()
        assert shop.startswith(self.SHOP)
        assert (
            "  # times.skin.punch.each: learned from 5 records, 2026-03-11 to 2026-03-13\n  skin: {punch: {each: "
            in shop
        )
        assert bench.run("check", ".").code == 0
        assert bench.run("learn", ".", "--write").out.count("becomes") == 0
        assert (bench.folder / "shop.yaml").read_text() == shop

    def test_a_new_shop_file(self, bench: Workshop) -> None:
        self.fill(bench)
        assert bench.run("learn", ".", "--write").code == 0
        assert (bench.folder / "shop.yaml").read_text() == (
            "shop: 1\n# times.skin.punch.each: learned from 5 records, 2026-03-11 to 2026-03-13\n"
            "times: {skin: {punch: {each: 0.75 min}}}\n"
        )

    def test_json(self, bench: Workshop) -> None:
        self.fill(bench)
        report = json.loads(bench.run("learn", ".", "--format", "json").out)
        (shop,) = report["summary"]["shops"]
        lessons = {lesson["path"]: lesson for lesson in shop["lessons"]}
        assert lessons["hides.goat.thickness"]["verdict"] == "few"
        assert lessons["hides.goat.thickness"]["more"] == 2
        assert lessons["times.skin.punch.each"]["verdict"] == "differs"

    def test_papers_lie_beside_those_of_the_run(self, bench: Workshop) -> None:
        self.fill(bench)
        bench.run("run", RUN, "--out", "papers", "--effort", "0")
        assert bench.run("learn", ".", "--out", "papers").code == 0
        assert bench.run("learn", ".", "--out", "papers").code == 0
        names = {path.name for path in (bench.folder / "papers").iterdir()}
        assert {"records.md", "records-outcomes.svg", "run.md", "travellers.csv"} <= names

    def test_no_records(self, bench: Workshop) -> None:
        run = bench.run("learn", ".")
        assert (run.code, "there are no records here" in run.err) == (2, True)

    def test_records_with_errors_teach_nothing(self, bench: Workshop) -> None:
        self.fill(bench)
        bench.write("runs/run.records.yaml", text(bench) + "  - drum: SMALL-77\n")
        run = bench.run("learn", ".", "--write")
        assert run.code == 1
        assert not (bench.folder / "shop.yaml").exists()
