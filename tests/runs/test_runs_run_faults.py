"""Mistakes in a run and in the files that it names, with the whole text of each finding."""

from __future__ import annotations

from collections.abc import Mapping
from inspect import cleandoc
from pathlib import Path

import pytest

from run_files import FILES, LARGE, SKIN, findings_in_run, told
from tauthide.reading.files import FileTrouble

RUN = "runs/run.yaml"

CASES: Mapping[str, tuple[Mapping[str, tuple[str, str]], str]] = {
    "absolute": (
        {RUN: ("goat-1.yaml", "/srv/goat-1.yaml")},
        """
            runs/run.yaml:4:9 [/srv/goat-1.yaml] error file-absolute skins.0
              `skins.0` names a file by its place on one computer
              found: /srv/goat-1.yaml
              allowed: the name of a file as seen from this one, such as `skins/goat-1.yaml`, with `/` between
                folders
        """,
    ),
    "outside": (
        {RUN: ("goat-1.yaml", "../../../goat-1.yaml")},
        """
            runs/run.yaml:4:9 [../../../goat-1.yaml] error file-outside skins.0
              `skins.0` leads out of the repository
              found: ../../../goat-1.yaml
              allowed: a file within the repository
        """,
    ),
    "absent": (
        {RUN: ("goat-1.yaml", "goat-2.yaml")},
        """
            runs/run.yaml:4:9 [goat-2.yaml] error file-absent skins.0
              there is no file `goat-2.yaml` here
              found: goat-2.yaml
              allowed: the name of a file as seen from this one, such as `skins/goat-1.yaml`, with `/` between
                folders
        """,
    ),
    "folder": (
        {RUN: ("../small.yaml", "../folder.yaml")},
        """
            runs/run.yaml:3:16 [../folder.yaml] error file-irregular drums.0.spec
              `../folder.yaml` is a folder, or something else that is not a regular file
              found: ../folder.yaml
              allowed: the name of a file as seen from this one, such as `skins/goat-1.yaml`, with `/` between
                folders
        """,
    ),
    "home": (
        {RUN: ("goat-1.yaml", "~/goat-1.yaml")},
        """
            runs/run.yaml:4:9 [~/goat-1.yaml] error file-bad-name skins.0
              `skins.0` cannot name a file: it begins with `~`, which is another folder for everyone
              found: ~/goat-1.yaml
              allowed: the name of a file as seen from this one, such as `skins/goat-1.yaml`, with `/` between
                folders
        """,
    ),
    "backslash": (
        {RUN: ("../small.yaml", "..\\small.yaml")},
        """
            runs/run.yaml:3:16 [..\\small.yaml] error file-bad-name drums.0.spec
              `drums.0.spec` cannot name a file: it has a character that no file's name should have
              found: ..\\small.yaml
              allowed: the name of a file as seen from this one, such as `skins/goat-1.yaml`, with `/` between
                folders
        """,
    ),
    "other ending": (
        {RUN: ("goat-1.yaml", "goat-1.txt")},
        """
            runs/run.yaml:4:9 [goat-1.txt] error file-bad-name skins.0
              `skins.0` cannot name a file: it does not end with .yaml or .yml
              found: goat-1.txt
              allowed: the name of a file as seen from this one, such as `skins/goat-1.yaml`, with `/` between
                folders
        """,
    ),
    "wrong kind": (
        {RUN: ("skins: [goat-1.yaml]", "skins: [cupboard.yaml]")},
        """
            runs/run.yaml:4:9 [cupboard.yaml] error file-wrong-kind skins.0
              `cupboard.yaml` is a lot file, where a skin is wanted
              found: cupboard.yaml
              allowed: a file that starts with `skin: 1`
        """,
    ),
    "skin among the drums": (
        {RUN: ("../small.yaml", "goat-1.yaml")},
        """
            runs/run.yaml:3:16 [goat-1.yaml] error file-wrong-kind drums.0.spec
              `goat-1.yaml` is a skin file, where a spec is wanted
              found: goat-1.yaml
              allowed: a file that starts with `spec: 1`
        """,
    ),
    "spec twice": (
        {RUN: ("../large.yaml", "../runs/../small.yaml")},
        """
            runs/run.yaml:3:39 [../runs/../small.yaml] error spec-twice drums.1.spec
              this spec stands in the run already, on line 3
              found: ../runs/../small.yaml
              allowed: each spec once, with its `quantity`
        """,
    ),
    "drum name twice": (
        {"large.yaml": ("LARGE", "Small")},
        """
            runs/run.yaml:3:39 [../large.yaml] error drum-twice drums.1.spec
              this spec's drum has the name of another one in the run, that of line 3
              found: ../large.yaml
              allowed: a name of its own for each drum, in capitals or not
        """,
    ),
    "skin twice": (
        {RUN: ("[goat-1.yaml]", "[goat-1.yaml, ./goat-1.yaml]")},
        """
            runs/run.yaml:4:22 [./goat-1.yaml] error skin-twice skins.1
              this skin stands in the run already, on line 4
              found: ./goat-1.yaml
              allowed: each skin once
        """,
    ),
    "lot twice": (
        {RUN: ("[cupboard.yaml]", "[cupboard.yaml, cupboard.yaml]")},
        """
            runs/run.yaml:5:23 [cupboard.yaml] error lot-twice lots.1
              this lot stands in the run already, on line 5
              found: cupboard.yaml
              allowed: each lot once
        """,
    ),
    "skin of no drum": (
        {"runs/goat-1.yaml": ("hide: goat", "hide: elk")},
        """
            runs/run.yaml:4:9 [goat-1.yaml] note skin-of-no-drum skins.0
              this is elk skin, and no drum of the run has a head or lace of that
              found: goat-1.yaml
              allowed: skins of goat or deer or calf
        """,
    ),
    "mistakes of all files": (
        {
            "small.yaml": ("count: 8", "count: 7"),
            "runs/goat-1.yaml": ("grid: 50 mm", "grid: 50"),
            "runs/cupboard.yaml": ("3/8 in", "3/8"),
            RUN: ("name: spring", "name: spring!"),
        },
        """
            runs/cupboard.yaml:4:18 [3/8] error missing-unit punches.0.size
              `3/8` has no unit
              found: 3/8
              allowed: 1 mm to 40 mm
              write: 3/8 in or 3/8 mm
            runs/goat-1.yaml:6:7 [50] error missing-unit grid
              `50` has no unit
              found: 50
              allowed: 5 mm to 500 mm
              write: 50 mm or 50 in
            runs/run.yaml:2:7 [spring!] error bad-name name
              `spring!` cannot be the name of a run: `!` cannot stand in it
              found: spring!
              allowed: letters, digits, `.`, `_` and `-`, 64 at most, a letter or digit first and no dot last
              write: spring
            small.yaml:6:19 [7] error odd-station-count stations.count
              7 is an odd number of stations
              found: 7
              allowed: even numbers from 4 to 64
              write: 6 or 8
        """,
    ),
    "rule of the skin": (
        {"runs/goat-1.yaml": ("[7, 18]]\n", "[7, 19]]\n")},
        """
            runs/goat-1.yaml:8:17 [[] error spine-outside spine.1
              the neck end of the spine lies 50 mm outside the skin
              found: [7, 19]
              allowed: a point of the skin, or half a square beside it at most
        """,
    ),
    "not YAML": (
        {"runs/goat-1.yaml": ("thickness: 1.0 mm", "thickness: [1.0 mm")},
        """
            runs/goat-1.yaml:5:12 [[] error yaml-syntax
              the bracket `[` that opens here is not closed, or a comma is missing after it
              found: [1.0 mm
              allowed: a comma between two parts, and `]` after the last
        """,
    ),
    "too many drums": (
        {RUN: ("quantity: 2", "quantity: 999}, {spec: ../third.yaml, quantity: 2")},
        """
            runs/run.yaml:3:1 [drums] error too-many-drums drums
              the run has 1004 drums
              allowed: at most 1000 in one run
        """,
    ),
    "no drums": (
        {RUN: ("drums: [{spec: ../small.yaml}, {spec: ../large.yaml, quantity: 2}]", "drums: []")},
        """
            runs/run.yaml:3:8 [[] error list-length drums
              `drums` has no items
              found: []
              allowed: 1 to 500 items
              write: [{spec: "../lib-13.yaml", quantity: 5}, {spec: "../lib-10.yaml"}]
        """,
    ),
    "quantity of none": (
        {RUN: ("quantity: 2", "quantity: 0")},
        """
            runs/run.yaml:3:64 [0] error out-of-range drums.1.quantity
              `0` is too small for `drums.1.quantity`
              found: 0
              allowed: whole numbers from 1 to 999
              write: 1
        """,
    ),
    "no such day": (
        {RUN: ("2026-03-02", "2026-02-30")},
        """
            runs/run.yaml:7:8 [2026-02-30] error no-such-day start
              February has no day 30 in 2026
              found: 2026-02-30
              allowed: a day of the calendar, as year, month and day
        """,
    ),
    "no date": (
        {RUN: ("2026-03-02", "2 March")},
        """
            runs/run.yaml:7:8 [2 March] error bad-text start
              `2 March` does not fit: a date is year, month and day, such as 2026-03-02
              found: 2 March
        """,
    ),
    "date without zeros": (
        {RUN: ("2026-03-02", "2026-3-2")},
        """
            runs/run.yaml:7:8 [2026-3-2] error bad-text start
              `2026-3-2` does not fit: a date is year, month and day, such as 2026-03-02
              found: 2026-3-2
              write: 2026-03-02
        """,
    ),
    "finish before start": (
        {RUN: ("start: 2026-03-02", "start: 2026-03-02\nfinish_by: 2026-02-27")},
        """
            runs/run.yaml:8:12 [2026-02-27] error finish-before-start finish_by
              the run is to be done before it begins, on 2026-03-02
              found: 2026-02-27
              allowed: a day after the start
        """,
    ),
    "class before its teachers are ready": (
        {RUN: ("start: 2026-03-02", "start: 2026-03-02\nclass: {begins: 2026-03-02}")},
        """
            runs/run.yaml:8:17 [2026-03-02] error class-before-ready class.begins
              the class begins before its teachers have a day to make ready: the run starts on 2026-03-02
              found: 2026-03-02
              allowed: a day after the start; or no `begins`, where everyone does all of it
        """,
    ),
    "class on no day": (
        {RUN: ("start: 2026-03-02", "start: 2026-03-02\nclass: {begins: 2026-02-29}")},
        """
            runs/run.yaml:8:17 [2026-02-29] error no-such-day class.begins
              February has no day 29 in 2026
              found: 2026-02-29
              allowed: a day of the calendar, as year, month and day
        """,
    ),
    "finish on no day": (
        {RUN: ("start: 2026-03-02", "start: 2026-03-02\nfinish_by: 2026-02-31")},
        """
            runs/run.yaml:8:12 [2026-02-31] error no-such-day finish_by
              February has no day 31 in 2026
              found: 2026-02-31
              allowed: a day of the calendar, as year, month and day
        """,
    ),
    "no working day": (
        {RUN: ("start: 2026-03-02", "start: 2026-03-04\nfinish_by: 2026-03-06")},
        """
            runs/run.yaml:8:12 [2026-03-06] error no-working-day finish_by
              nobody works from the start to the day on which all must be done
              found: 2026-03-06
              allowed: at least one working day
        """,
    ),
    "all working days off": (
        {RUN: ("start: 2026-03-02", "start: 2026-03-02\nfinish_by: 2026-03-03\ndays_off: [2026-03-02, 2026-03-03]")},
        """
            runs/run.yaml:8:12 [2026-03-03] error no-working-day finish_by
              nobody works from the start to the day on which all must be done
              found: 2026-03-03
              allowed: at least one working day
        """,
    ),
    "day off of no calendar": (
        {RUN: ("start: 2026-03-02", "start: 2026-03-02\ndays_off: [2026-04-31]")},
        """
            runs/run.yaml:8:12 [2026-04-31] error no-such-day days_off.0
              April has no day 31 in 2026
              found: 2026-04-31
              allowed: a day of the calendar, as year, month and day
        """,
    ),
    "starts on a day off": (
        {RUN: ("2026-03-02", "2026-03-07")},
        """
            runs/run.yaml:7:8 [2026-03-07] note start-on-day-off start
              nobody works on the first day, a Saturday
              found: 2026-03-07
              allowed: a working day
        """,
    ),
    "hours empty": (
        {RUN: ("[{days: [mon, tue], from: 9:00, to: 17:00}]", "[]")},
        """
            runs/run.yaml:6:8 [[] error list-length hours
              `hours` has no items
              found: []
              allowed: 1 to 14 items
              write: [{days: [mon, tue, wed], from: "9:00", to: "17:00", breaks: [{from: "12:30", to:
                "13:30"}]}]
        """,
    ),
    "hours not in a list": (
        {RUN: ("[{days: [mon, tue], from: 9:00, to: 17:00}]", "{days: [mon, tue], from: 9:00, to: 17:00}")},
        """
            runs/run.yaml:6:8 [{] error wrong-type hours
              `hours` takes a list, not keys of its own
              found: {days: [mon, tue], from: "9:00", to: "17:00"}
              allowed: a list of at most 14 items
              write: [{days: [mon, tue, wed], from: "9:00", to: "17:00", breaks: [{from: "12:30", to:
                "13:30"}]}]
        """,
    ),
    "hours backward": (
        {RUN: ("to: 17:00", "to: 9:00")},
        """
            runs/run.yaml:6:44 [9:00] error hours-backward hours.0.to
              `to` is not later than `from`, 9:00
              found: 9:00
              allowed: a time later on the same day; 24:00 is midnight
        """,
    ),
    "hour without minutes": (
        {RUN: ("to: 17:00", "to: 17")},
        """
            runs/run.yaml:6:44 [17] error wrong-type hours.0.to
              `hours.0.to` takes text, not a number
              found: 17
              write: 17:00
        """,
    ),
    "hour with a dot": (
        {RUN: ("to: 17:00", "to: 17.30")},
        """
            runs/run.yaml:6:44 [17.30] error wrong-type hours.0.to
              `hours.0.to` takes text, not a number with a decimal point
              found: 17.30
              write: 17:30
        """,
    ),
    "hour alone, as text": (
        {RUN: ("to: 17:00", "to: '17'")},
        """
            runs/run.yaml:6:44 ['17'] error bad-text hours.0.to
              `17` does not fit: a time of day is hours and minutes, such as 9:00 or 17:30
              found: 17
              write: 17:00
        """,
    ),
    "hour of no day": (
        {RUN: ("to: 17:00", "to: 25:00")},
        """
            runs/run.yaml:6:44 [25:00] error bad-text hours.0.to
              `25:00` does not fit: a time of day is hours and minutes, such as 9:00 or 17:30
              found: 25:00
        """,
    ),
    "day misspelt": (
        {RUN: ("[mon, tue]", "[mon, tues]")},
        """
            runs/run.yaml:6:22 [tues] error unknown-word hours.0.days.1
              `tues` is not a choice for `hours.0.days.1`
              found: tues
              allowed: mon, tue, wed, thu, fri, sat, sun
              write: tue
        """,
    ),
    "break outside": (
        {RUN: ("to: 17:00", "to: 17:00, breaks: [{from: 8:00, to: 8:30}]")},
        """
            runs/run.yaml:6:67 [8:00] error break-outside hours.0.breaks.0.from
              the break lies outside the hours, 9:00 to 17:00
              found: 8:00
              allowed: a time within the hours
        """,
    ),
    "break backward": (
        {RUN: ("to: 17:00", "to: 17:00, breaks: [{from: 13:00, to: 12:30}]")},
        """
            runs/run.yaml:6:78 [12:30] error hours-backward hours.0.breaks.0.to
              `to` is not later than `from`, 13:00
              found: 12:30
              allowed: a time later on the same day; 24:00 is midnight
        """,
    ),
    "breaks overlap": (
        {RUN: ("to: 17:00", "to: 17:00, breaks: [{from: 12:00, to: 13:00}, {from: 12:30, to: 14:00}]")},
        """
            runs/run.yaml:6:93 [12:30] error breaks-overlap hours.0.breaks.1.from
              the break overlaps that of 12:00 to 13:00
              found: 12:30
              allowed: breaks clear of each other
        """,
    ),
    "all break": (
        {RUN: ("to: 17:00", "to: 17:00, breaks: [{from: 9:00, to: 17:00}]")},
        """
            runs/run.yaml:6:51 [breaks] error all-break hours.0.breaks
              the breaks leave no time for work
              allowed: hours that are longer than their breaks
        """,
    ),
    "hours overlap": (
        {RUN: ("to: 17:00}", "to: 17:00}, {days: [tue, wed], from: 16:00, to: 18:00}")},
        """
            runs/run.yaml:6:59 [[] error hours-overlap hours.1.days
              these hours overlap those of `hours.0` on tue
              found: [tue, wed]
              allowed: hours of one day clear of each other
        """,
    ),
    "crew and class": (
        {RUN: ("start:", "crew: 2\nclass: {teachers: 1}\nstart:")},
        """
            runs/run.yaml:8:1 [class] error both-of-a-couple class
              `crew` and `class` both say whose hands do the work: give one of them
              found: class: {teachers: 1}
              allowed: one of the two
              write: crew: 2 or class: {teachers: 1}
        """,
    ),
    "two prices for skin": (
        {RUN: ("start:", "prices: {hide_per_m2: 60, hide_per_sq_ft: 5}\nstart:")},
        """
            runs/run.yaml:7:27 [hide_per_sq_ft] error both-of-a-couple prices.hide_per_sq_ft
              `hide_per_m2` and `hide_per_sq_ft` say the same thing in two ways: give one of them
              found: hide_per_sq_ft: 5
              allowed: one of the two
              write: hide_per_m2: 60 or hide_per_sq_ft: 5
        """,
    ),
    "price below nothing": (
        {RUN: ("start:", "prices: {hour: -1}\nstart:")},
        """
            runs/run.yaml:7:16 [-1] error out-of-range prices.hour
              `-1` is too small for `prices.hour`
              found: -1
              allowed: numbers from 0 to 1000000
              write: 0
        """,
    ),
    "price with its currency": (
        {RUN: ("start:", "prices: {hour: 18 EUR}\nstart:")},
        """
            runs/run.yaml:7:16 [18 EUR] error wrong-type prices.hour
              `prices.hour` takes a number, not text
              found: 18 EUR
              allowed: numbers from 0 to 1000000
              write: 18
        """,
    ),
}
"""What is replaced in which files of a good repository by what, and what is found."""


@pytest.mark.parametrize(("changes", "expected"), CASES.values(), ids=CASES)
def test_run_finding(tmp_path: Path, changes: Mapping[str, tuple[str, str]], expected: str) -> None:
    (tmp_path / "folder.yaml").mkdir()
    files = {"third.yaml": LARGE.replace("LARGE", "THIRD")}
    for name, (good, bad) in changes.items():
        assert FILES[name].count(good) == 1
        files[name] = FILES[name].replace(good, bad)
    assert told(findings_in_run(tmp_path, files)) == cleandoc(expected)


def test_two_skins_of_one_name(tmp_path: Path) -> None:
    run = FILES[RUN].replace("[goat-1.yaml]", "[goat-1.yaml, goat-2.yaml]")
    (finding,) = findings_in_run(tmp_path, {RUN: run, "runs/goat-2.yaml": SKIN.replace("goat-1", "GOAT-1")})
    assert told([finding]) == cleandoc(
        """
        runs/run.yaml:4:22 [goat-2.yaml] error skin-name-twice skins.1
          this skin has the name of another one in the run, that of line 4
          found: goat-2.yaml
          allowed: a name of its own for each skin, in capitals or not
        """
    )


def _refuse_to_read(_path: Path, shown: str) -> bytes:
    raise FileTrouble(f"{shown}: you are not permitted to read this")


def test_a_file_that_may_not_be_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert findings_in_run(tmp_path, {}) == ()
    monkeypatch.setattr("tauthide.runs.naming.read_bytes", _refuse_to_read)
    findings = findings_in_run(tmp_path, {})
    assert told(findings[-1:]) == cleandoc(
        """
        runs/run.yaml:5:8 [cupboard.yaml] error file-unreadable lots.0
          `cupboard.yaml` cannot be read: you are not permitted to read this
          found: cupboard.yaml
          allowed: a file that can be read
        """
    )
    assert [finding.name for finding in findings] == ["file-unreadable"] * 4


def test_nothing_is_wrong_with_the_repository_to_spoil(tmp_path: Path) -> None:
    assert findings_in_run(tmp_path, {}) == ()
