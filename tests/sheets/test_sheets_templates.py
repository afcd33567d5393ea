"""The templates: they set out what the view gives them, and neither compute nor round."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

import pytest
from jinja2 import StrictUndefined, TemplateNotFound, UndefinedError, nodes

from tauthide.sheets.environment import environment, template

FOLDER = Path(str(files("tauthide.sheets"))) / "templates"
NAMES = sorted(path.relative_to(FOLDER).as_posix() for path in FOLDER.rglob("*.j2"))

ARITHMETIC = (nodes.Add, nodes.Sub, nodes.Mul, nodes.Div, nodes.FloorDiv, nodes.Mod, nodes.Pow, nodes.Neg)


def parsed(name: str) -> nodes.Template:
    return environment().parse((FOLDER / name).read_text(encoding="utf-8"))


def test_there_are_templates() -> None:
    assert {"sheet.md.j2", "notice.md.j2", "index.md.j2"} <= set(NAMES)


@pytest.mark.parametrize("name", NAMES)
class TestEachTemplate:
    def test_it_does_not_compute(self, name: str) -> None:
        assert list(parsed(name).find_all(ARITHMETIC)) == []

    def test_it_calls_and_filters_nothing(self, name: str) -> None:
        assert list(parsed(name).find_all((nodes.Filter, nodes.Call, nodes.CallBlock, nodes.FilterBlock))) == []

    def test_it_states_no_size_of_its_own(self, name: str) -> None:
        words = "".join(node.data for node in parsed(name).find_all(nodes.TemplateData))
        assert not [word for word in words.split() if word.strip("().,") in {"mm", "cm", "m", "inch", "inches"}]

    def test_it_ends_with_one_line_end(self, name: str) -> None:
        text = (FOLDER / name).read_text(encoding="utf-8")
        assert text.endswith("\n")
        assert not text.endswith("\n\n")


def test_a_name_that_is_missing_is_an_error() -> None:
    assert environment().undefined is StrictUndefined
    with pytest.raises(UndefinedError):
        template("notice.md.j2").render({"title": "x"})


def test_a_template_that_is_missing_is_an_error() -> None:
    with pytest.raises(TemplateNotFound):
        template("sections/none.md.j2")


def test_the_environment_is_made_once() -> None:
    assert environment() is environment()
    assert template("index.md.j2") is template("index.md.j2")
