"""Older versions of documents, by made-up ones: brought up step by step, each place where it was written."""

from __future__ import annotations

import pytest

from old_versions import BASE_SIZE, HOLES, SIZE, STEPS, to_version_0
from tauthide.findings import Severity
from tauthide.reading.documents import VERSION, read_document
from tauthide.reading.upgrades import UPGRADES, Changed, Step, rename_key, steps_from, take

OLD = b"spec: 0  # old\ndrum: A\nframe: {size: 13 in, depth: 55 mm}\n"
OLDER = b"spec: -1\ndrum: A\nframe:\n  size: 13 in\nholes:\n  count: 16\n"


class TestReading:
    def test_field_has_its_new_name_and_its_old_place(self) -> None:
        document, _ = read_document(OLD, "a.yaml", STEPS)
        assert document is not None
        assert document.located.data == {
            "spec": 1, "drum": "A", "frame": {"diameter": "13 in", "depth": "55 mm"}
        }  # fmt: skip
        place = document.located.place(("frame", "diameter"), key=True)
        assert (place.line, place.column, place.width) == (3, 9, 4)
        assert place.text[8:12] == "size"
        value = document.located.place(("frame", "diameter"))
        assert value.text[value.column - 1 :][: value.width] == "13 in"

    def test_order_stays(self) -> None:
        document, _ = read_document(OLD, "a.yaml", STEPS)
        assert document is not None
        frame = document.located.data["frame"]
        assert isinstance(frame, dict)
        assert list(frame) == ["diameter", "depth"]

    def test_note_says_what_changed(self) -> None:
        document, (note,) = read_document(OLD, "a.yaml", STEPS)
        assert document is not None
        assert (note.name, note.severity, note.path) == ("old-version", Severity.NOTE, "spec")
        assert (note.place.line, note.place.column) == (1, 7)
        assert note.found == "spec: 0"
        assert "read as version 1: `frame.size` is called `frame.diameter`" in note.message
        assert "tauthide renew" in note.allowed

    def test_two_versions_are_two_steps(self) -> None:
        document, (note,) = read_document(OLDER, "a.yaml", STEPS)
        assert document is not None
        assert document.version == -1
        assert document.located.data == {
            "spec": 1, "drum": "A", "frame": {"diameter": "13 in"}, "stations": {"count": 16}
        }  # fmt: skip
        place = document.located.place(("stations", "count"))
        assert (place.line, place.text) == (6, "  count: 16")
        assert document.located.place(("stations",), key=True).text == "holes:"
        assert note.message.endswith(
            "the part `holes` is called `stations`; `frame.size` is called `frame.diameter`"
        )  # fmt: skip

    def test_present_version_is_left_alone(self) -> None:
        source = OLD.replace(b"0", b"1", 1)
        document, findings = read_document(source, "a.yaml", STEPS)
        assert findings == ()
        assert document is not None
        assert document.located.data["frame"] == {"size": "13 in", "depth": "55 mm"}

    @pytest.mark.parametrize("version", ["2", "-2", "-999999999999", "0.0", "true", "'0'", "null"])
    def test_other_versions_are_refused(self, version: str) -> None:
        document, (finding,) = read_document(f"spec: {version}\n".encode(), "a.yaml", STEPS)
        assert document is None
        assert (finding.name, finding.severity, finding.write) == ("unknown-version", Severity.ERROR, "spec: 1")

    def test_kind_without_the_step_is_refused(self) -> None:
        document, (finding,) = read_document(b"shop: 0\n", "shop.yaml", STEPS)
        assert (document, finding.name) == (None, "unknown-version")

    def test_version_without_a_step_between_is_refused(self) -> None:
        document, (finding,) = read_document(OLDER, "a.yaml", (HOLES, BASE_SIZE))
        assert (document, finding.name) == (None, "unknown-version")


class TestSteps:
    def test_of_our_own_there_is_one_for_each_version_before(self) -> None:
        for step in UPGRADES:
            assert steps_from(step.kind, step.version, VERSION, UPGRADES)
            assert step.says
            assert not step.says.endswith(".")

    def test_in_order(self) -> None:
        assert steps_from("spec", -1, 1, STEPS) == (HOLES, SIZE)
        assert steps_from("spec", 0, 1, STEPS) == (SIZE,)
        assert steps_from("spec", 1, 1, STEPS) == ()
        assert steps_from("spec", 2, 1, STEPS) is None

    @pytest.mark.parametrize(
        "data",
        [
            {"spec": 0},
            {"spec": 0, "frame": None},
            {"spec": 0, "frame": ["size"]},
            {"spec": 0, "frame": "size"},
            {"spec": 0, "frame": {"depth": 1}},
            {"spec": 0, "frame": {"size": 1, "diameter": 2}},
        ],
    )
    def test_what_a_step_does_not_understand_it_leaves(self, data: dict[str, object]) -> None:
        changed = take(SIZE, data)  # type: ignore[arg-type]
        assert changed.data == {**data, "spec": 1}
        assert changed.renames == {}
        assert data["spec"] == 0

    def test_value_may_change(self) -> None:
        step = Step("spec", 0, "", lambda data: Changed({**data, "quantity": 2}, {}))
        document, _ = read_document(b"spec: 0\nquantity: pair\n", "a.yaml", [step])
        assert document is not None
        assert document.located.data == {"spec": 1, "quantity": 2}
        assert document.located.place(("quantity",)).column == 11

    def test_inner_and_outer_renamed_in_one_step(self) -> None:
        def change(data: dict[str, object]) -> Changed:
            return Changed({"spec": 0, "frame": {"diameter": 1}},
                           {("frame",): ("hoop",), ("frame", "diameter"): ("hoop", "size")})  # fmt: skip

        step = Step("spec", 0, "", change)  # type: ignore[arg-type]
        document, _ = read_document(b"spec: 0\nhoop: {size: 1}\n", "a.yaml", [step])
        assert document is not None
        assert document.located.place(("frame", "diameter"), key=True).column == 8

    def test_renaming_at_the_top(self) -> None:
        assert rename_key(("a",), "b")({"x": 1, "a": 2}) == Changed({"x": 1, "b": 2}, {("b",): ("a",)})


def test_made_up_version_of_a_text() -> None:
    assert to_version_0("spec: 1\nframe: {diameter: 1 m}\n") == "spec: 0\nframe: {size: 1 m}\n"
