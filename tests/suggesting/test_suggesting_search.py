"""The search: what a maker left out or got wrong gets values that meet the rules."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from hypothesis import assume, event, example, given, settings
from hypothesis import strategies as st

from drums import Fields, Leaf, changed, drums, spec_text
from tauthide.findings import Finding, has_errors
from tauthide.quantities.figures import start_workings
from tauthide.rules.registry import hold_rules
from tauthide.spec.chain import Library, read_source, stdin_chain
from tauthide.spec.resolving import resolve
from tauthide.suggesting.counting import likely_counts
from tauthide.suggesting.draft import start
from tauthide.suggesting.patching import patch
from tauthide.suggesting.search import Suggested, suggest

HEAD = "spec: 1\ndrum: TEST\n"
FRAME = "frame: {outline: round, diameter: 13 in, depth: 55 mm}\n"
GOAT = "head: {hide: goat}\n"
COUNT = "stations: {count: 16}\n"


def suggested(text: str) -> Suggested:
    return suggest(stdin_chain(text.encode()))


def told(text: str) -> dict[str, tuple[str, str]]:
    """Return old and new of each suggestion by path."""
    return {item.path: (item.old, item.new) for item in suggested(text).suggestions}


class TestNothingToDo:
    def test_good_spec(self) -> None:
        assert told(HEAD + FRAME + GOAT + COUNT) == {}

    @settings(max_examples=30, deadline=None)
    @given(drums())
    def test_values_without_findings_stay(self, fields: Fields) -> None:
        text = spec_text(fields)
        if not start(stdin_chain(text.encode())).findings:
            assert told(text) == {}


class TestLeftOut:
    @pytest.mark.parametrize(
        ("text", "expected"),
        [
            (FRAME + GOAT, {"stations.count": ("", "16")}),
            (FRAME + GOAT + "stations: {count: }\n", {"stations.count": ("", "16")}),
            (FRAME + GOAT + "stations:\n  web: 18 mm\n", {"stations.count": ("", "16")}),
            (FRAME + COUNT, {"head.hide": ("", "goat")}),
            ("frame: {outline: round, diameter: 13 in}\n" + GOAT + COUNT, {"frame.depth": ("", "55 mm")}),
            ("frame: {diameter: 13 in, depth: 55 mm}\n" + GOAT + COUNT, {"frame.outline": ("", "round")}),
            ("frame: {length: 18 in, width: 15 in, depth: 60 mm}\nhead: {hide: calf}\nstations: {count: 18}\n",
             {"frame.outline": ("", "oval")}),
            ("frame: {sides: 8, across_flats: 14 in, depth: 60 mm}\nhead: {hide: deer}\nstations: {count: 16}\n",
             {"frame.outline": ("", "polygon")}),
            ("frame: {outline: round, diameter: 13 in, depth: 55 mm, wall: }\n" + GOAT + COUNT,
             {"frame.wall": ("", "8 mm")}),
        ],
    )  # fmt: skip
    def test_is_put_in(self, text: str, expected: dict[str, tuple[str, str]]) -> None:
        assert told(HEAD + text) == expected

    def test_large_frames_get_large_hides(self) -> None:
        """A blank is some 200 mm wider than its frame: a goat gives 550 mm, a deer 700, a cow more than both."""
        for size, hide in (("13 in", "goat"), ("16 in", "deer"), ("26 in", "horse"), ("30 in", "cow")):
            text = f"{HEAD}frame: {{outline: round, diameter: {size}, depth: 55 mm}}\n"
            assert told(text)["head.hide"] == ("", hide)

    def test_the_name_comes_from_the_file(self) -> None:
        chain = Library(str).chain(read_source(Path("hall 16.yaml"), "hall 16.yaml", ("spec: 1\n" + FRAME).encode()))
        (drum,) = [item for item in suggest(chain).suggestions if item.path == "drum"]
        assert drum.new == "HALL-16"

    def test_the_size_is_the_makers(self) -> None:
        """Without it no count can be told either; what does not hang on it is suggested all the same."""
        result = suggested(HEAD + "frame: {outline: round}\n")
        assert [item.path for item in result.suggestions] == ["frame.depth"]
        assert "frame.diameter" in [finding.path for finding in result.draft.findings]

    def test_every_suggestion_has_a_reason(self) -> None:
        result = suggested(HEAD + "frame: {diameter: 13}\nhead: {tickness: 1}\nstations: {pair_spacing: 9 mm}\n")
        assert len(result.suggestions) > 4
        assert all(item.reasons for item in result.suggestions)


class TestWrong:
    @pytest.mark.parametrize(
        ("text", "expected"),
        [
            (FRAME + GOAT + "stations: {count: 15}\n", {"stations.count": ("15", "16")}),
            (FRAME + GOAT + "stations: {count: 66}\n", {"stations.count": ("66", "16")}),
            (FRAME + GOAT + "stations: {count: '14'}\n", {"stations.count": ('"14"', "14")}),
            (FRAME + GOAT + "stations: {count: 14.0}\n", {"stations.count": ("14.0", "14")}),
            (FRAME + GOAT + "stations: {count: sixteen}\n", {"stations.count": ("sixteen", "16")}),
            (FRAME + "head: {hide: gaot}\n" + COUNT, {"head.hide": ("gaot", "goat")}),
            (FRAME + "head: {hide: goat, tickness: 1 mm}\n" + COUNT, {"head.thickness": ("tickness: 1 mm", "1 mm")}),
            (FRAME + "head: {hide: goat, turnover: 40}\n" + COUNT, {"head.turnover": ("40", "40 mm")}),
            (FRAME + "head: {hide: goat, turnover: 28 mm}\n" + COUNT, {"head.turnover": ("28 mm", "30 mm")}),
            (FRAME + GOAT + "stations: {count: 16, pair_spacing: 9 mm}\n",
             {"stations.pair_spacing": ("9 mm", "25 mm")}),
            (FRAME.replace("depth", "edge_radius: 9 mm, depth") + GOAT + COUNT,
             {"frame.edge_radius": ("9 mm", "8 mm")}),
        ],
    )  # fmt: skip
    def test_is_mended(self, text: str, expected: dict[str, tuple[str, str]]) -> None:
        result = told(HEAD + text)
        assert expected.items() <= result.items()
        assert not has_errors(suggested(HEAD + text).draft.findings)

    def test_chains_of_faults(self) -> None:
        """A key must be spelt right before its value can be looked at."""
        assert told(HEAD + FRAME + "head: {hide: goat, turnovr: 40}\n" + COUNT) == {
            "head.turnover": ("turnovr: 40", "40 mm")
        }

    def test_the_makers_choice_stays_open(self) -> None:
        """`13 cm` and `13 in` are both drums, and either field of a couple may be the right one."""
        text = HEAD + FRAME + "head: {hide: elephant}\nstations: {count: 16, web: 18 mm, pair_spacing: 20 mm}\n"
        result = suggested(text)
        assert result.suggestions == ()
        assert {finding.name for finding in result.draft.findings} == {"unknown-word", "both-of-a-couple"}

    def test_an_accepted_warning_is_left_alone(self) -> None:
        accept = "accept: [{rule: hole-over-back-edge, because: we lace with a needle}]\n"
        text = HEAD + FRAME + "head: {hide: goat, turnover: 28 mm}\n" + COUNT + accept
        assert "head.turnover" not in told(text)

    def test_a_misspelt_rule_is_mended(self) -> None:
        accept = "accept: [{rule: hole-over-bakc-edge, because: we lace with a needle}]\n"
        text = HEAD + FRAME + "head: {hide: goat, turnover: 28 mm}\n" + COUNT + accept
        assert told(text)["accept.0.rule"] == ("hole-over-bakc-edge", "hole-over-back-edge")

    def test_same_every_time(self) -> None:
        text = HEAD + "frame: {diameter: 200 mm, depth: 15}\nhead: {turnover: 90 mm}\nstations: {margin: 30}\n"
        assert suggested(text).suggestions == suggested(text).suggestions


class TestOtherFiles:
    @pytest.fixture
    def folder(self, tmp_path: Path) -> Path:
        (tmp_path / ".git").mkdir()
        return tmp_path

    def chain_suggested(self, path: Path, text: str) -> Suggested:
        return suggest(Library(lambda file: file.name).chain(read_source(path, path.name, text.encode())))

    def test_what_a_base_says_is_overridden_in_the_spec(self, folder: Path) -> None:
        (folder / "set.base.yaml").write_text("base: 1\n" + FRAME + "head: {hide: goat, turnover: 28 mm}\n")
        result = self.chain_suggested(folder / "a.yaml", HEAD + "inherits: set.base.yaml\n" + COUNT)
        (item,) = result.suggestions
        assert (item.path, item.old, item.origin, item.new) == ("head.turnover", "28 mm", "set.base.yaml:3", "30 mm")

    def test_what_a_base_lacks_is_said_in_the_spec(self, folder: Path) -> None:
        (folder / "set.base.yaml").write_text("base: 1\nframe: {outline: round, depth: 55 mm}\n")
        spec = HEAD + "inherits: set.base.yaml\nframe: {diameter: 13 in}\n"
        result = self.chain_suggested(folder / "a.yaml", spec)
        assert {item.path: item.new for item in result.suggestions} == {"head.hide": "goat", "stations.count": "16"}

    def test_a_broken_base_is_not_mended_here(self, folder: Path) -> None:
        (folder / "set.base.yaml").write_text("base: 1\nframe: {outline: round, depth: 55 mm, wall: }\n")
        spec = HEAD + "inherits: set.base.yaml\n" + FRAME + GOAT + COUNT
        result = self.chain_suggested(folder / "a.yaml", spec)
        assert result.suggestions == ()
        assert [finding.place.file for finding in result.draft.findings] == ["set.base.yaml"]


class TestCounts:
    @pytest.mark.parametrize(
        ("inches", "count"), [(8, 8), (10, 12), (12, 12), (13, 16), (14, 16), (15, 16), (16, 16), (18, 20), (20, 24)]
    )
    def test_of_round_rims(self, inches: int, count: int) -> None:
        """Sixteen for 13 to 16 inches is workshop practice, no published source."""
        assert likely_counts(math.pi * inches * 25.4)[0] == count

    def test_of_polygons(self) -> None:
        assert likely_counts(1150, 8)[0] == 16
        assert likely_counts(1150, 7)[0] == 14
        assert likely_counts(1150, 5)[0] == 20
        assert likely_counts(1150, 12)[0] in (12, 24)

    def test_all_are_there_once(self) -> None:
        assert sorted(likely_counts(1000, 7)) == list(range(4, 65, 2))


SPOILING: dict[str, tuple[Leaf | None, ...]] = {
    "frame.edge_radius": ("19 mm",),
    "frame.depth": (None, 55),
    "head.hide": (None, "gaot"),
    "head.turnover": ("5 mm", "28 mm", "90 mm", "200 mm"),
    "stations.count": (None, 15, 64, 40, 66),
    "stations.web": ("2 mm", "40 mm", 20),
    "stations.pair_spacing": ("3 mm", "5 mm"),
    "stations.margin": ("60 mm",),
    "stations.edge_distance": ("1.5 mm", "60 mm"),
    "stations.hole": ("1 mm", "30 mm"),
    "lace.width": ("40 mm",),
    "head.dry_thickness": ("3 mm",),
    "bench.water": ("55 C",),
    "voice.pull": ("400 N",),
}
"""What a hasty maker might write instead, None for nothing."""

COUPLES = {
    "stations.web": "stations.pair_spacing",
    "stations.margin": "stations.edge_distance",
    "voice.pitch": "voice.pull",
}


@st.composite
def spoilt_drums(draw: st.DrawFn) -> Fields:
    fields: dict[str, Leaf] = dict(draw(drums(most=24)))
    for path in draw(st.lists(st.sampled_from(sorted(SPOILING)), min_size=1, max_size=3, unique=True)):
        for one, other in (*COUPLES.items(), *((other, one) for one, other in COUPLES.items())):
            if path == one:
                fields.pop(other, None)
        value = draw(st.sampled_from(SPOILING[path]))
        if value is None:
            fields.pop(path, None)
        else:
            fields[path] = value
    return fields


WRONG_ALL_OVER: Fields = {
    "frame.outline": "oval",
    "frame.length": "171 mm",
    "frame.width": "231.1 mm",
    "frame.depth": "25.2 mm",
    "frame.wall": "4 mm",
    "head.hide": "elk",
    "head.turnover": "200 mm",
    "stations.count": 10,
    "stations.hole": "30 mm",
    "stations.pair_spacing": "8 mm",
    "stations.margin": "60 mm",
}
"""No single field of it can be turned so that the drum gets better."""


def findings_in(text: bytes) -> tuple[Finding, ...]:
    """Return all that is found in a spec, by the way that a build takes."""
    spec, findings = resolve(stdin_chain(text))
    return findings if spec is None else (*findings, *hold_rules(start_workings(spec)))


class TestSpoiltDrums:
    @settings(max_examples=60, deadline=None)
    @given(spoilt_drums())
    @example(WRONG_ALL_OVER)
    def test_no_error_is_left(self, fields: Fields) -> None:
        """The file as it would be written is read anew, and held against schema and rules from the start."""
        text = spec_text(fields).encode()
        assume(has_errors(findings_in(text)))
        result = suggest(stdin_chain(text))
        event(f"{len(result.suggestions)} suggestions")
        written = patch(text, result.draft.data, result.draft.renames)
        assert written is not None
        assert written != text
        assert not has_errors(findings_in(written)), written.decode()

    @settings(max_examples=30, deadline=None)
    @given(spoilt_drums())
    def test_what_is_suggested_suffices(self, fields: Fields) -> None:
        """Once it is written nothing more is suggested."""
        once = suggested(spec_text(fields)).draft.data
        flat: dict[str, Leaf] = {}
        for part, keys in once.items():
            if isinstance(keys, dict):
                flat |= {f"{part}.{key}": value for key, value in keys.items() if isinstance(value, (str, int))}
        assert told(spec_text(flat)) == {}


def test_changed_only_adds_to_what_is_there() -> None:
    """A value that one mend needs and a later one makes needless is taken back."""
    text = spec_text(changed(frame_diameter="200 mm", frame_depth="15 mm", head_turnover="90 mm", stations_count=8))
    assert list(told(text)) == ["head.turnover"]
