"""Laws of checking that hold for any document, however it is spoilt."""

from __future__ import annotations

import copy
import json
import re
from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator
from referencing import Registry, Resource

from schema_findings import nowhere
from tauthide.findings import Severity, has_errors, in_order
from tauthide.reading.events import read_yaml
from tauthide.reading.faults import EXCERPT_LENGTH
from tauthide.schema import KINDS, check, check_data, fields, schema
from tauthide.schema.names import judge, mend
from tauthide.schema.wording import flow

DOCUMENTS: dict[str, dict[str, Any]] = {
    "spec": {
        "spec": 1,
        "drum": "LIB-13",
        "title": "Lending set, 13 inch goat",
        "quantity": 8,
        "frame": {"outline": "round", "diameter": "13 in", "depth": "55 mm", "wall": "8 mm"},
        "head": {"hide": "goat", "stretch": "3 %", "outer": "hair"},
        "stations": {"count": 16, "web": "20 mm", "edge_distance": "17 mm"},
        "lace": {"hide": "calf", "tail": "300 mm"},
        "handle": {"arms": 4},
        "voice": {"pitch": "A2"},
        "bench": {"punches": ["8 mm", "10 mm"]},
        "accept": [{"rule": "punch-not-owned", "because": "the library lends us that punch"}],
    },
    "base": {
        "base": 1,
        "inherits": "common.base.yaml",
        "stations": {"count": 16},
        "frame": {"outline": "oval"},
    },
    "shop": {
        "shop": 1,
        "bench": {"units": "inch"},
        "hides": {"goat": {"soak": "6 h", "density": "1200 kg/m3"}},
    },
    "run": {
        "run": 1,
        "name": "spring",
        "drums": [{"spec": "../lib-13.yaml", "quantity": 5}],
        "skins": ["skins/goat-1.yaml"],
        "class": {"teachers": 1},
        "hours": [{"days": ["mon"], "from": "9:00", "to": "17:00", "breaks": [{"from": "12:00", "to": "13:00"}]}],
        "start": "2026-03-02",
        "prices": {"hour": 18.5, "hide_per_m2": 60},
        "cutting": {"allowance": "5 mm"},
    },
    "skin": {
        "skin": 1,
        "name": "goat-1",
        "hide": "goat",
        "kept": "rawhide",
        "thicknesses": [{"at": [7, 9.5], "thickness": "1.1 mm"}],
        "grid": "50 mm",
        "outline": {"points": [[1, 0], [13, 0], [14, 9], [12, 18], [2, 18], [0, 9]]},
        "spine": [[7, 0], [7, 18]],
        "flaws": [{"kind": "hole", "at": [5, 11], "diameter": "20 mm"}],
        "weak": [{"region": "belly", "points": [[0, 6], [2, 6], [2, 13]]}],
    },
    "lot": {
        "lot": 1,
        "frames": [{"outline": "round", "diameter": "13 in", "depth": "55 mm", "quantity": 6}],
        "laces": [{"hide": "goat", "width": "8 mm", "length": "12 m"}],
        "punches": [{"size": "10 mm"}],
    },
    "records": {
        "records": 1,
        "title": "Lending set",
        "drums": [
            {
                "drum": "LIB-13-01",
                "date": "2026-03-09",
                "blank": "500 mm",
                "pitch_dry": "A2",
                "stitch_tear": "105 N/mm",
                "times": {"skin": {"punch": "14 min"}, "lace": {"lace": "1 h"}},
                "outcome": "mended",
                "trouble": "a web tore",
                "step": "skin.punch",
            },
            {"drum": "LIB-13-02", "dry": "2.5 d"},
        ],
    },
    "approval": {
        "approval": 1,
        "drum": "LIB-13",
        "digest": "fea496b6d024",
        "model": 1,
        "by": "library workshop",
        "date": "2026-03-02",
        "warnings": ["pairs-close: close"],
        "values": ["frame.depth = 55.000000"],
        "figures": ["holes.web = 18.000000 mm"],
        "seal": "0123",
    },
}
"""A good document of each kind, to spoil."""

NAMES = sorted({field.name for kind in KINDS for field in fields(kind).values()})
WRITTEN = sorted(
    {
        example
        for kind in KINDS
        for field in fields(kind).values()
        for example in field.examples
        if isinstance(example, str)
    }
)
SCALARS = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(-(10**15), 10**15),
    st.floats(allow_nan=False, allow_infinity=False, width=32),
    st.sampled_from(WRITTEN),
    st.text(max_size=12),
    st.sampled_from(["", " ", "-5 mm", "13", "1e9 in", "LIB-13\n", "{x}", "{0}", "%s", "\x1b[31m", "x" * 2001]),
)
KEYS = st.sampled_from(NAMES) | st.text(max_size=8)
VALUES = st.recursive(
    SCALARS,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(KEYS, inner, max_size=3),
    max_leaves=5,
)


def containers(node: Any) -> Iterator[Any]:
    """Yield every map and list of a document, the whole one first."""
    if isinstance(node, (dict, list)):
        yield node
        for inner in node.values() if isinstance(node, dict) else node:
            yield from containers(inner)


@st.composite
def spoilt(draw: st.DrawFn) -> tuple[str, dict[str, Any]]:
    """Return a kind, and a document of that kind in which a few things were changed at random."""
    kind = draw(st.sampled_from(KINDS))
    document = copy.deepcopy(DOCUMENTS[kind])
    for _ in range(draw(st.integers(0, 3))):
        target = draw(st.sampled_from([node for node in containers(document) if node]))
        key = draw(st.sampled_from(list(target) if isinstance(target, dict) else range(len(target))))
        change = draw(st.sampled_from(["replace", "remove", "add", "rename"]))
        if isinstance(target, list) or change == "replace":
            target[key] = draw(VALUES)
        elif change == "add":
            target[draw(KEYS)] = draw(VALUES)
        else:
            value = target.pop(key)
            if change == "rename":
                target[draw(st.sampled_from(NAMES)) if draw(st.booleans()) else key[1:]] = value
    return kind, document


@pytest.mark.parametrize("kind", KINDS)
def test_the_documents_to_spoil_are_good(kind: str) -> None:
    assert check_data(kind, DOCUMENTS[kind], nowhere) == ()


class TestAnyDocumentGivesFindingsOrNothing:
    @given(spoilt())
    @settings(max_examples=300, deadline=None)
    def test_never_an_exception_and_always_short(self, spoiled: tuple[str, dict[str, Any]]) -> None:
        findings = check_data(*spoiled, nowhere)
        assert findings == in_order(findings)
        for finding in findings:
            assert finding.severity is Severity.ERROR
            assert len(finding.found) <= EXCERPT_LENGTH
            assert len(finding.message) < 300
            assert "\n" not in finding.message + finding.found + finding.write

    @given(spoilt())
    @settings(max_examples=100, deadline=None)
    def test_findings_stand_where_the_text_has_something(self, spoiled: tuple[str, dict[str, Any]]) -> None:
        kind, document = spoiled
        located, _ = read_yaml(json.dumps(document, indent=1).encode(), "drum.yaml")
        if located is None:
            return  # refused already as YAML, which has tests of its own
        findings = check(kind, located)
        assert has_errors(findings) == bool(check_data(kind, document, nowhere))
        for finding in findings:
            assert finding.place.text == located.lines[finding.place.line - 1]
            assert 1 <= finding.place.column <= len(finding.place.text)


class TestEditorsAndWeAgree:
    """An ordinary validator reads the files as they stand, as an editor does."""

    REGISTRY: Registry[Any] = Registry().with_resources(
        (f"{kind}.schema.json", Resource.from_contents(schema(kind))) for kind in KINDS
    )

    @given(spoilt())
    @settings(max_examples=300, deadline=None)
    def test_what_an_ordinary_validator_refuses_has_a_finding(self, spoiled: tuple[str, dict[str, Any]]) -> None:
        kind, document = spoiled
        ordinary = Draft202012Validator({"$ref": f"{kind}.schema.json"}, registry=self.REGISTRY)
        if not ordinary.is_valid(document):
            assert check_data(kind, document, nowhere)

    @pytest.mark.parametrize("kind", KINDS)
    def test_an_ordinary_validator_takes_the_good_documents(self, kind: str) -> None:
        ordinary = Draft202012Validator({"$ref": f"{kind}.schema.json"}, registry=self.REGISTRY)
        assert [error.message for error in ordinary.iter_errors(DOCUMENTS[kind])] == []
        assert not ordinary.is_valid({})


class TestSuggestionsHold:
    @given(
        st.sampled_from(["stations.web", "frame.depth", "lace.tail"]),
        st.integers(0, 10**6) | st.decimals(0, 999, places=2),
    )
    @settings(deadline=None)
    def test_a_bare_number_s_readings_have_a_unit(self, path: str, number: object) -> None:
        part, key = path.split(".")
        document = copy.deepcopy(DOCUMENTS["spec"])
        document[part][key] = float(str(number))
        (finding,) = check_data("spec", document, nowhere)
        assert finding.name == "missing-unit"
        readings = finding.write.split(" or ")
        assert len(readings) == 2
        for reading in readings:
            document[part][key] = reading
            assert {f.name for f in check_data("spec", document, nowhere)} <= {"out-of-range"}

    @given(st.integers(4, 63).map(lambda count: count | 1))
    def test_either_neighbour_of_an_odd_count_is_good(self, count: int) -> None:
        document = copy.deepcopy(DOCUMENTS["spec"])
        document["stations"]["count"] = count
        (finding,) = check_data("spec", document, nowhere)
        for neighbour in finding.write.split(" or "):
            document["stations"]["count"] = int(neighbour)
            assert check_data("spec", document, nowhere) == ()


class TestNamesOfDrums:
    ALPHABET = st.text(st.sampled_from("aAxX019._- /\n") | st.characters(codec="utf-8"), max_size=70)
    SPECIAL = st.sampled_from(
        ["CON", "con.txt", "Lpt9", "COM0", "index.md", "INDEX.MD", "index.mdx", "a.", "LIB-13\n", ""]
    ) | st.sampled_from(["a" * 64, "a" * 65, "CON" + "a" * 61])
    FIELD = schema("spec")["properties"]["drum"]

    @given(ALPHABET | SPECIAL)
    def test_the_schema_and_the_reasons_agree(self, name: str) -> None:
        taken = re.search(self.FIELD["pattern"], name) is not None and len(name) <= self.FIELD["maxLength"]
        assert taken == (judge(name) == "")

    @given(ALPHABET | SPECIAL)
    def test_a_mended_name_will_do(self, name: str) -> None:
        mended = mend(name)
        assert mended == "" or judge(mended) == ""

    @given(st.from_regex(r"[A-Za-z0-9][A-Za-z0-9._-]{0,62}[A-Za-z0-9]", fullmatch=True))
    def test_a_good_name_is_left_alone(self, name: str) -> None:
        assert judge(name) != "" or mend(name) == name


class TestWhatIsShownCanBeWritten:
    @given(
        st.recursive(
            st.integers(-(10**9), 10**9)
            | st.booleans()
            | st.sampled_from(WRITTEN)
            | st.text(st.characters(codec="ascii", categories=["L", "N", "P", "S"]), max_size=9),
            lambda inner: st.lists(inner, max_size=3),
            max_leaves=4,
        )
    )
    @settings(deadline=None)
    def test_flow_style_reads_back_as_the_same_value(self, value: Any) -> None:
        located, faults = read_yaml(f"x: {flow(value)}\n".encode(), "x.yaml")
        assert located is not None, faults
        assert located.data == {"x": value}
