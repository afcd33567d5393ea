"""A change of the program that alters a figure alters the model's version, so that no approval covers it unseen."""

from __future__ import annotations

from pathlib import Path

from reference_figures import RECORD, added, altered, figures_now, record, recorded
from tauthide.spec.digest import MODEL_VERSION

OLD = {"round": {"a": 1.0, "b": 2.0}}

COMMAND = "`.venv/bin/python tests/reference_figures.py`"


def test_no_figure_is_altered_under_the_same_version() -> None:
    version, old = recorded()
    differing = altered(old, figures_now())
    assert not differing or version < MODEL_VERSION, (
        f"figures are altered, so raise MODEL_VERSION in spec/digest.py, then run {COMMAND}:\n" + "\n".join(differing)
    )


def test_the_record_is_up_to_date() -> None:
    version, old = recorded()
    now = figures_now()
    assert (version, altered(old, now), added(old, now)) == (MODEL_VERSION, [], []), f"run {COMMAND}"


class TestRecording:
    """The command that records them."""

    def test_refuses_other_figures_under_the_same_version(self, tmp_path: Path) -> None:
        path = tmp_path / "record.json"
        assert record(path, 3, OLD) == []
        before = path.read_bytes()
        assert record(path, 3, {"round": {"a": 1.0, "b": 2.001}}) == ["round: b was 2.0, is 2.001"]
        assert record(path, 3, {"round": {"a": 1.0}}) == ["round: b was 2.0, is None"]
        assert record(path, 2, {"round": {"a": 5.0, "b": 2.0}}) == ["round: a was 1.0, is 5.0"]
        assert path.read_bytes() == before

    def test_takes_them_under_a_new_version(self, tmp_path: Path) -> None:
        path = tmp_path / "record.json"
        record(path, 3, OLD)
        new = {"round": {"a": 1.0, "b": 2.001}}
        assert record(path, 4, new) == []
        assert recorded(path) == (4, new)

    def test_new_figures_alter_nothing(self, tmp_path: Path) -> None:
        path = tmp_path / "record.json"
        record(path, 3, OLD)
        more = {"round": {"a": 1.0, "b": 2.0, "c": 3.0}, "oval": {"a": 9.0}}
        assert added(OLD, more) == ["round: c", "oval: a"]
        assert record(path, 3, more) == []
        assert recorded(path) == (3, more)

    def test_the_last_bit_of_a_sine_is_no_alteration(self) -> None:
        assert altered({"round": {"a": 300.0}}, {"round": {"a": 300.0 + 5e-10}}) == []
        assert altered({"round": {"a": 300.0}}, {"round": {"a": 300.0 + 1e-6}}) != []

    def test_writes_the_file_as_it_is_kept(self, tmp_path: Path) -> None:
        path = tmp_path / "record.json"
        record(path, *recorded())
        assert path.read_bytes() == RECORD.read_bytes()
