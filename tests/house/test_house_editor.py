"""The demo folder in an editor: the YAML language server completes, explains, and finds the same mistakes as we do.

The server is `yaml-language-server` from the npm registry, MIT licence; editors that know YAML mostly use it.
"""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import count
from pathlib import Path
from typing import Any

import pytest

from language_server import LanguageServer, Message
from networks import give_up
from tauthide.findings import Finding
from tauthide.reading.documents import peek_kind, read_document
from tauthide.reading.files import APPROVAL_ENDING
from tauthide.reading.located import Located
from tauthide.reading.located import Path as Way
from tauthide.schema import check, fields

ROOT = Path(__file__).parents[2]
SPECS = ROOT / "specs"
SERVER = "yaml-language-server@1"
SETTINGS = {"yaml": {"validate": True, "hover": True, "completion": True, "schemaStore": {"enable": False}}}
DOCUMENTS = {
    path: str(peek_kind(path.read_bytes()))
    for path in sorted(SPECS.rglob("*.yaml"))
    if not path.name.endswith(APPROVAL_ENDING)
}
KINDS = sorted(set(DOCUMENTS.values()))
ERROR = 1
"""The protocol's number for the severity of an error."""

NETWORK_FAULTS = re.compile(r"ENOTFOUND|EAI_AGAIN|ECONN|ETIMEDOUT|ENETUNREACH|EHOSTUNREACH|network|E404|E403|E50\d")

pytestmark = pytest.mark.slow

SPEC = """\
# yaml-language-server: $schema=../schemas/spec.schema.json
spec: 1
drum: LIB-13
title: Lending set
quantity: 8
frame:
  outline: round
  diameter: 13 in
  depth: 55 mm
head: {hide: goat}
stations: {count: 16}
"""
SHOP = """\
# yaml-language-server: $schema=../schemas/shop.schema.json
shop: 1
frame: {edge_radius: 3 mm}
bench:
  punches: [6 mm, 8 mm]
hides:
  goat:
    web: 18 mm
"""
BASE = """\
# yaml-language-server: $schema=../schemas/base.schema.json
base: 1
frame:
  outline: round
  depth: 55 mm
handle: {arms: 4}
"""


@dataclass(frozen=True)
class Spoilt:
    """A document with a mistake, which we find by this name."""

    text: str
    old: str
    new: str
    name: str

    @property
    def source(self) -> str:
        """The text with the mistake in it."""
        assert self.text.count(self.old) == 1
        return self.text.replace(self.old, self.new)


MISTAKES = [
    Spoilt(SPEC, "spec: 1", "spec: 2", "unknown-version"),
    Spoilt(SPEC, "drum: LIB-13", "drum: a b", "bad-name"),
    Spoilt(SPEC, "drum: LIB-13\n", "", "missing-key"),
    Spoilt(SPEC, "title: Lending set", "title: 13", "wrong-type"),
    Spoilt(SPEC, "quantity: 8", "quantity: 0", "out-of-range"),
    Spoilt(SPEC, "quantity: 8", "quantity: 1000", "out-of-range"),
    Spoilt(SPEC, "quantity: 8", "quantity: eight", "wrong-type"),
    Spoilt(SPEC, "quantity: 8", "amount: 8", "unknown-key"),
    Spoilt(SPEC, "  depth: 55 mm", "  dept: 55 mm", "unknown-key"),
    Spoilt(SPEC, "  depth: 55 mm\n", "", "missing-key"),
    Spoilt(SPEC, "  diameter: 13 in\n", "", "missing-key"),
    Spoilt(SPEC, "  depth: 55 mm", "  depth: 55", "missing-unit"),
    Spoilt(SPEC, "  depth: 55 mm", "  depth: 55 furlongs", "bad-quantity"),
    Spoilt(SPEC, "  depth: 55 mm", "  depth: [55 mm]", "wrong-type"),
    Spoilt(SPEC, "  depth: 55 mm", "  depth: 55 mm\n  depth: 60 mm", "duplicate-key"),
    Spoilt(SPEC, "  depth: 55 mm", "  depth: 55 mm\n  sides: 8", "other-outline"),
    Spoilt(SPEC, "outline: round", "outline: ronud", "unknown-word"),
    Spoilt(SPEC, "{hide: goat}", "{hide: gaot}", "unknown-word"),
    Spoilt(SPEC, "head: {hide: goat}", "head: goat", "wrong-type"),
    Spoilt(SPEC, "head: {hide: goat}", "head:", "empty-value"),
    Spoilt(SPEC, "head: {hide: goat}\n", "", "missing-key"),
    Spoilt(SPEC, "{count: 16}", "{count: 17}", "odd-station-count"),
    Spoilt(SPEC, "{count: 16}", "{count: 2}", "out-of-range"),
    Spoilt(SPEC, "{count: 16}", "{count: 16, web: 18 mm, pair_spacing: 28 mm}", "both-of-a-couple"),
    Spoilt(SPEC, "{count: 16}", "{count: 16", "yaml-syntax"),
    Spoilt(SHOP, "edge_radius: 3 mm", "edge_radius: 3", "missing-unit"),
    Spoilt(SHOP, "[6 mm, 8 mm]", "[6 mm, 8]", "missing-unit"),
    Spoilt(SHOP, "[6 mm, 8 mm]", "6 mm", "wrong-type"),
    Spoilt(SHOP, "    web: 18 mm", "    wep: 18 mm", "unknown-key"),
    Spoilt(SHOP, "  goat:", "  goad:", "unknown-key"),
    Spoilt(BASE, "outline: round", "outline: square", "unknown-word"),
    Spoilt(BASE, "{arms: 4}", "{arms: four}", "wrong-type"),
    Spoilt(BASE, "  depth: 55 mm", "  depth: 55 kg", "bad-quantity"),
    Spoilt(BASE, "base: 1\n", "base: 1\ndrum: LIB-13\n", "unknown-key"),
]

OURS_ALONE = [
    Spoilt(SPEC, "  depth: 55 mm", "  depth: 5 m", "out-of-range"),
    Spoilt(BASE, "  depth: 55 mm", "  depth: 0.1 mm", "out-of-range"),
]
"""The sizes that a quantity may have stand under keywords of ours, which no editor knows."""


@pytest.fixture(scope="module")
def server_program(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Install the language server in a folder for the test, and return its program."""
    npm = shutil.which("npm")
    if npm is None or shutil.which("node") is None:
        give_up("node and npm are not installed")
    folder = tmp_path_factory.mktemp("editor")
    done = subprocess.run(
        [npm, "install", "--no-audit", "--no-fund", "--ignore-scripts", "--prefix", str(folder), SERVER],
        cwd=folder, capture_output=True, text=True, check=False,
    )  # fmt: skip
    if done.returncode and NETWORK_FAULTS.search(done.stderr):
        give_up(f"the language server can't be installed: {done.stderr.strip()[-300:]}")
    assert done.returncode == 0, done.stderr
    return folder / "node_modules" / "yaml-language-server" / "bin" / "yaml-language-server"


@pytest.fixture(scope="module")
def server(server_program: Path) -> Iterator[LanguageServer]:
    """Give a server that has the repository's folder open."""
    node = shutil.which("node")
    assert node is not None
    running = LanguageServer([node, str(server_program), "--stdio"], ROOT, SETTINGS)
    yield running
    running.stop()


NUMBERS = count(1)


def in_editor(server: LanguageServer, text: str, folder: Path = SPECS) -> tuple[Path, list[Message]]:
    """Open a text in the editor as a new file of a folder, and return that and its errors; nothing is written."""
    path = folder / f"unsaved-{next(NUMBERS)}.yaml"
    found = server.open(path, text)
    return path, [message for message in found if message.get("severity", ERROR) == ERROR]


def ours(text: str) -> tuple[Located | None, tuple[Finding, ...]]:
    """Return what we find in a text by itself: in its YAML, or in its fields."""
    document, findings = read_document(text.encode(), "a.yaml")
    if document is None:
        return None, findings
    return document.located, check(document.kind, document.located)


def start(message: Message) -> tuple[int, int]:
    """Return where a mistake that the editor shows starts, counted from 1."""
    place = message["range"]["start"]
    return place["line"] + 1, place["character"] + 1


def starts(finding: Finding, located: Located | None) -> set[tuple[int, int]]:
    """Return where the editor may show a finding: at our place, or at the key or value of the field meant."""
    places = {(finding.place.line, finding.place.column)}
    if located is not None:
        way: Way = tuple(int(step) if step.isdecimal() else step for step in finding.path.split("."))
        holder = way[:-1] if finding.name == "missing-key" else way
        for key in (True, False):
            place = located.place(holder, key=key)
            places.add((place.line, place.column))
            if finding.name == "empty-value":  # which has no place but the end of its key
                places.add((place.line, place.column + place.width + 1))
    return places


class TestDemoFolder:
    def test_every_kind_with_a_schema_and_a_document(self) -> None:
        """So that a new kind's documents are looked at, too; plans are written by us alone."""
        schemas = {path.name.partition(".")[0] for path in (ROOT / "schemas").glob("*.schema.json")}
        assert {"spec", "base", "shop"} <= set(KINDS)
        assert set(KINDS) <= schemas

    @pytest.mark.parametrize("turned", [False, True])
    def test_opens_without_an_error(self, server_program: Path, turned: bool) -> None:
        """In both orders, since the server keeps schemas that it has read, and changes them."""
        node = shutil.which("node")
        assert node is not None
        running = LanguageServer([node, str(server_program), "--stdio"], ROOT, SETTINGS)
        try:
            for path in sorted(DOCUMENTS, reverse=turned):
                assert running.open(path, path.read_text(encoding="utf-8")) == [], path.name
        finally:
            running.stop()

    def test_every_file_is_held_against_its_schema(self, server: LanguageServer) -> None:
        for path, kind in DOCUMENTS.items():
            text = path.read_text(encoding="utf-8") + "\nno_such_key: 1\n"
            _, errors = in_editor(server, text, path.parent)
            assert [start(error)[0] for error in errors] == [text.count("\n")], (kind, path.name)

    @pytest.mark.parametrize("kind", KINDS)
    def test_each_key_has_its_own_text(self, server: LanguageServer, kind: str) -> None:
        path = next(path for path, other in DOCUMENTS.items() if other == kind)
        text = path.read_text(encoding="utf-8")
        file, _ = in_editor(server, text, path.parent)
        located, _ = ours(text)
        assert located is not None
        told = 0
        for way in located.keys:
            field = fields(kind).get(re.sub(r"\.\d+", "[]", ".".join(map(str, way))))
            if field is None:  # such as a key within a list of lists
                continue
            place = located.place(way, key=True)
            hover = server.at("hover", file, place.line - 1, place.column)  # on its second letter
            assert plain_words(field.description) in plain_words(hover["contents"]["value"]), way
            told += 1
        assert told >= len(located.data)


def plain_words(text: str) -> str:
    """Return a text's letters and digits alone: the editor escapes what Markdown might take for its own."""
    return re.sub(r"[^A-Za-z0-9]+", " ", text.replace("&nbsp;", " "))


class TestMistakes:
    @pytest.mark.parametrize("spoilt", MISTAKES, ids=lambda spoilt: f"{spoilt.name} {spoilt.new.strip() or 'nothing'}")
    def test_same_places(self, server: LanguageServer, spoilt: Spoilt) -> None:
        located, findings = ours(spoilt.source)
        assert [finding.name for finding in findings] == [spoilt.name]
        _, errors = in_editor(server, spoilt.source)
        (finding,) = findings
        if spoilt.name == "yaml-syntax":
            assert errors  # where a bracket that is not closed ends is told by each in its own way
            return
        shown = {start(error) for error in errors}
        assert shown & starts(finding, located), errors
        # The editor also misses the key that a misspelt one was meant for; nothing else is to be added.
        beyond = [error for error in errors if start(error) not in starts(finding, located)]
        assert all(spoilt.name == "unknown-key" and "Missing property" in error["message"] for error in beyond)

    @pytest.mark.parametrize("spoilt", OURS_ALONE, ids=lambda spoilt: spoilt.new.strip())
    def test_sizes_are_found_by_us_alone(self, server: LanguageServer, spoilt: Spoilt) -> None:
        _, findings = ours(spoilt.source)
        assert [finding.name for finding in findings] == [spoilt.name]
        assert in_editor(server, spoilt.source)[1] == []

    @pytest.mark.parametrize("kind", KINDS)
    def test_any_key_that_is_spoilt(self, server: LanguageServer, kind: str) -> None:
        """In a demo file of each kind, each key by itself, but for the first, which tells the kind."""
        path = next(path for path, other in DOCUMENTS.items() if other == kind)
        text = path.read_text(encoding="utf-8")
        located, findings = ours(text)
        assert located is not None
        assert findings == ()
        for way in list(located.keys)[1:]:
            place = located.place(way, key=True)
            lines = text.splitlines(keepends=True)
            line = lines[place.line - 1]
            lines[place.line - 1] = line[: place.column - 1] + "zz_" + line[place.column - 1 :]
            changed, found = ours("".join(lines))
            _, errors = in_editor(server, "".join(lines), path.parent)
            shown = {start(error) for error in errors}
            for finding in found:
                assert shown & starts(finding, changed), (way, finding, errors)


class TestCompletion:
    def labels(self, server: LanguageServer, text: str) -> set[str]:
        """Return what is offered at the place marked `|`."""
        before, _, after = text.partition("|")
        file, _ = in_editor(server, before + after)
        offered = server.at("completion", file, before.count("\n"), len(before.rsplit("\n", 1)[-1]))
        items: list[Any] = offered["items"] if isinstance(offered, dict) else offered
        return {item["label"] for item in items}

    def test_keys_of_a_spec(self, server: LanguageServer) -> None:
        assert {"lace", "voice", "bench", "inherits"} <= self.labels(server, f"{SPEC}|")

    def test_keys_of_a_part(self, server: LanguageServer) -> None:
        text = SPEC.replace("  depth: 55 mm\n", "  depth: 55 mm\n  w|\n")
        assert "wall" in self.labels(server, text)

    def test_words_of_a_choice(self, server: LanguageServer) -> None:
        offered = self.labels(server, SPEC.replace("hide: goat", "hide: |"))
        schema = json.loads((ROOT / "schemas" / "spec.schema.json").read_text(encoding="utf-8"))
        assert set(schema["$defs"]["hide"]["enum"]) <= offered
