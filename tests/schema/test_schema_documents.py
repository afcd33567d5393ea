"""Whole documents: good ones, ones with several faults, and data that comes from several files."""

from __future__ import annotations

import pytest

from schema_findings import GOOD, findings_in, nowhere
from tauthide.findings import Place
from tauthide.reading.located import Path
from tauthide.schema import check_data
from tauthide.schema.faults import FAULTS


def summary(text: str, kind: str = "spec") -> list[str]:
    """Return line, column, name and path of each finding, in the order they are reported."""
    return [f"{f.place.line}:{f.place.column} {f.name} {f.path}" for f in findings_in(text, kind)]


@pytest.mark.parametrize(
    ("kind", "text"),
    [
        ("spec", GOOD),
        ("spec", "spec: 1\ndrum: LIB-13\ninherits: lending.base.yaml\n"),
        ("spec", GOOD.replace("diameter: 13 in", "diameter: 13½ in")),
        ("spec", GOOD.replace("round, diameter: 13 in", "polygon, sides: 8, across_flats: 14 in")),
        ("spec", GOOD.replace("round, diameter: 13 in", "oval, length: 18 in, width: 1 ft 4 in")),
        ("spec", GOOD + "title: \"\\e[31m<b>13 in</b>\"\n"),
        ("base", "base: 1\n"),
        ("base", "base: 1\ninherits: common.base.yaml\nstations: {web: 20 mm}\nframe: {diameter: 13 in}\n"),
        ("shop", "shop: 1\nstations: {web: 20 mm}\nhides: {elk: {soak: 1 d 6 h, lace_hide: calf}}\n"),
    ],
)  # fmt: skip
def test_good_documents_have_no_findings(kind: str, text: str) -> None:
    assert findings_in(text, kind) == ()


@pytest.mark.parametrize(("limit", "beyond"), [("100 mm", "99.9 mm"), ("2 m", "2001 mm"), ("2000 mm", "6 ft 7 in")])
def test_a_size_at_its_limit_is_good(limit: str, beyond: str) -> None:
    assert summary(GOOD.replace("13 in", limit)) == []
    assert summary(GOOD.replace("13 in", beyond)) == ["3:35 out-of-range frame.diameter"]


@pytest.mark.parametrize(("limit", "beyond"), [("4", "2"), ("64", "66")])
def test_a_count_at_its_limit_is_good(limit: str, beyond: str) -> None:
    assert summary(GOOD.replace("count: 16", f"count: {limit}")) == []
    assert summary(GOOD.replace("count: 16", f"count: {beyond}")) == ["5:19 out-of-range stations.count"]


def test_all_faults_come_at_once_in_order_of_position() -> None:
    text = """\
spec: 1
title: 13
frame:
  outline: oval
  diameter: 13
  dpeth: 55 mm
  wall: 8 inchs
head: {hide: gaot, web: 20 mm}
stations:
  count: 17
  pair_spacing: 30
  web: 20 mm
handle:
  arms: 1
  wrap:
bench: {units: imperial, punches: [8 mm, 0.8 cm, 10]}
accept:
  - rule: punch-not-owned
"""
    assert summary(text) == [
        "1:1 missing-key drum",
        "2:8 wrong-type title",
        "3:1 missing-key frame.length",
        "3:1 missing-key frame.width",
        "5:3 other-outline frame.diameter",
        "6:3 unknown-key frame.dpeth",
        "7:9 bad-quantity frame.wall",
        "8:14 unknown-word head.hide",
        "8:20 unknown-key head.web",
        "10:10 odd-station-count stations.count",
        "11:17 missing-unit stations.pair_spacing",
        "12:3 both-of-a-couple stations.web",
        "14:9 out-of-range handle.arms",
        "15:3 empty-value handle.wrap",
        "16:16 unknown-word bench.units",
        "16:42 duplicate-item bench.punches.1",
        "16:50 missing-unit bench.punches.2",
        "18:5 missing-key accept.0.because",
    ]


def test_a_misspelt_key_is_not_missing_as_well() -> None:
    assert summary(GOOD.replace("head:", "haed:")) == ["4:1 unknown-key haed"]
    assert summary(GOOD.replace("{hide: goat}", "{outer: hair}") + "hide: goat\n") == [
        "4:1 missing-key head.hide",
        "6:1 unknown-key hide",
    ]  # `hide` may be the head's or the lace's


def test_a_key_at_the_wrong_place_is_not_missing_as_well() -> None:
    assert summary(GOOD.replace(", depth: 55 mm", "") + "depth: 55 mm\n") == ["6:1 unknown-key depth"]


@pytest.mark.parametrize(
    ("kind", "text", "expected"),
    [
        ("base", "base: 1\nquantity: 8\n", ["2:1 unknown-key quantity"]),
        ("base", "title: lending set\n", ["1:1 missing-key base"]),
        ("base", "base: 1\nstations: {count: 15}\n", ["2:19 odd-station-count stations.count"]),
        ("base", "base: 1\nframe: {outline: oval, sides: 8}\n", ["2:24 other-outline frame.sides"]),
        ("shop", "shop: 1\nframe: {diameter: 13 in}\n", ["2:9 unknown-key frame.diameter"]),
        ("shop", "shop: 1\nhides: {gaot: {}}\n", ["2:9 unknown-key hides.gaot"]),
        ("shop", "shop: 1\nhides: {goat: {soak: 6}}\n", ["2:22 missing-unit hides.goat.soak"]),
        ("shop", "shop: 1\nstations: {margin: 2 cm, edge_distance: 3 cm}\n",
         ["2:26 both-of-a-couple stations.edge_distance"]),
    ],
)  # fmt: skip
def test_base_and_shop_files_are_checked_alike(kind: str, text: str, expected: list[str]) -> None:
    assert summary(text, kind) == expected


def test_hints_lead_to_the_right_part_and_document() -> None:
    def message(text: str, kind: str) -> str:
        (finding,) = findings_in(text, kind)
        return f"{finding.message} | {finding.write}"

    assert message("shop: 1\nframe: {diameter: 13 in}\n", "shop") == (
        "`diameter` is not a key of `frame`: it belongs in a spec | "
    )
    assert message("shop: 1\nlace: {web: 20 mm}\n", "shop") == (
        "`web` is not a key of `lace`: it belongs to `stations` | stations: {web: 20 mm}"
    )
    assert message("shop: 1\nsoak: 6 h\n", "shop") == "`soak` is not a key of a shop file: it belongs to `hides` | "


def test_merged_data_is_reported_in_the_files_it_comes_from() -> None:
    def place_of(path: Path, key: bool) -> Place:
        file = "lending.base.yaml" if path[:1] == ("stations",) else "drum.yaml"
        return Place(file, line=7 if key else 9)

    data = {
        "spec": 1,
        "drum": "LIB-13",
        "frame": {"outline": "round", "diameter": "13 mm"},
        "head": {"hide": "goat"},
        "stations": {"count": 15},
    }
    findings = check_data("spec", data, place_of)
    assert [(f.place.file, f.place.line, f.name) for f in findings] == [
        ("drum.yaml", 7, "missing-key"),
        ("drum.yaml", 9, "out-of-range"),
        ("lending.base.yaml", 9, "odd-station-count"),
    ]


def test_merged_data_must_be_complete() -> None:
    data = {"spec": 1, "drum": "LIB-13", "stations": {"count": 16}}
    assert [f.path for f in check_data("spec", data, nowhere)] == ["frame", "head"]


def test_every_fault_is_named_once_and_says_why_it_matters() -> None:
    names = [fault.name for fault in FAULTS]
    assert len(names) == len(set(names))
    assert all(fault.why.endswith(".") for fault in FAULTS)
