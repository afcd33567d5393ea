"""A new spec from a few answers."""

from __future__ import annotations

import textwrap

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tauthide.findings import has_errors
from tauthide.spec.chain import stdin_chain
from tauthide.spec.resolving import resolve
from tauthide.suggesting.draft import start
from tauthide.suggesting.starting import Started, answers, begin, render


def started(given_answers: dict[str, str | int], name: str = "TEST") -> Started:
    return begin(answers(name, given_answers), stdin_chain)


def test_whole_text() -> None:
    text = started({"frame.diameter": "14in", "frame.depth": "60mm", "head.hide": "deer"}).text
    assert text == textwrap.dedent("""\
        spec: 1
        drum: TEST
        frame:
          outline: round
          diameter: 14in
          depth: 60mm
        head:
          hide: deer
          turnover: 40 mm  # room for the margin, the hole and clear skin inside the wall
        stations:
          count: 16      # 70 mm of rim each; 65 to 80 mm is usual, and the places are found by folding
          web: 18 mm     # deer: a thin skin wants a wider web
          margin: 12 mm  # deer: clear skin outside the holes
          hole: 10 mm    # deer: the punch follows the lace
        lace:
          width: 7 mm  # deer: usual width of the lace for this hide
        """)


@settings(max_examples=40, deadline=None)
@given(
    st.integers(200, 900),
    st.none() | st.integers(30, 120),
    st.none() | st.sampled_from(("goat", "sheep", "deer", "calf", "cow", "horse", "elk")),
    st.none() | st.integers(4, 16).map(lambda half: 2 * half),
)
def test_any_size(diameter: int, depth: int | None, hide: str | None, count: int | None) -> None:
    """What is answered stays unless a rule forbids it; the spec reads back and has no errors."""
    given_answers: dict[str, str | int] = {"frame.diameter": f"{diameter} mm"}
    given_answers |= {"frame.depth": f"{depth} mm"} if depth else {}
    given_answers |= {"head.hide": hide} if hide else {}
    given_answers |= {"stations.count": count} if count else {}
    result = started(given_answers)
    again = start(stdin_chain(result.text.encode()))
    assert again.findings == result.findings
    assert not has_errors(again.findings)
    assert again.spec is not None
    assert again.spec.settings["frame.diameter"].written == f"{diameter} mm"
    if hide:
        assert again.spec.word("head.hide") == hide
    for path in ("stations.count", "stations.web", "stations.hole", "head.turnover", "lace.width"):
        assert again.spec.settings[path].origin.layer == "spec"


def test_written_out_it_is_the_same_drum() -> None:
    """Values that defaults would give anyway change nothing by being written."""
    bare = "spec: 1\ndrum: TEST\nframe: {outline: round, diameter: 14 in, depth: 60 mm}\n"
    bare += "head: {hide: deer}\nstations: {count: 16}\n"
    given_answers: dict[str, str | int] = {"frame.diameter": "14 in", "frame.depth": "60 mm", "head.hide": "deer"}
    one, _ = resolve(stdin_chain(bare.encode()))
    other, _ = resolve(stdin_chain(started(given_answers).text.encode()))
    assert one is not None
    assert other is not None
    assert {path: item.value for path, item in one.settings.items()} == {
        path: item.value for path, item in other.settings.items()
    }


def test_a_pitch_is_kept() -> None:
    assert "voice:\n  pitch: A2\n" in started({"frame.diameter": "14 in", "voice.pitch": "A2"}).text


def test_an_answer_that_cannot_be_is_told_beside_what_stands_in_its_place() -> None:
    text = started({"frame.diameter": "20in", "head.hide": "cow", "voice.pitch": "A3"}).text
    (line,) = (line for line in text.splitlines() if line.startswith("  pitch: "))
    assert line == "  pitch: C2  # instead of A3: Dry, the lace is pulled harder than it holds, at its usual strength"


@pytest.mark.parametrize(("wrong", "name"), [("14 parsecs", "bad-quantity"), ("9 m", "out-of-range")])
def test_without_a_size_there_is_none(wrong: str, name: str) -> None:
    result = started({"frame.diameter": wrong})
    assert result.text == ""
    assert (name, "frame.diameter") in [(finding.name, finding.path) for finding in result.findings]


def test_notes_stand_under_each_other() -> None:
    data = answers("A", {"frame.diameter": "14 in", "frame.depth": "6 cm"})
    assert render(data, {"frame.depth": "deep", "frame.diameter": "wide"}) == textwrap.dedent("""\
        spec: 1
        drum: A
        frame:
          outline: round
          diameter: 14 in  # wide
          depth: 6 cm      # deep
        """)
