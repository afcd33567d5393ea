"""A maker's own templates: plain data in, text out, and no way to anything else."""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

import pytest

from drums import plan_of
from tauthide.findings import Finding
from tauthide.output.plan_json import render_plan
from tauthide.reading.templates import Templates
from tauthide.sheets import custom, sandbox
from tauthide.sheets.custom import (
    TemplateTrouble,
    check_templates,
    plain_data,
    render_index_with,
    render_sheet_with,
)
from tauthide.sheets.index import index_row
from tauthide.sheets.sheet import render_index, render_sheet


@cache
def data() -> dict[str, object]:
    found: dict[str, object] = json.loads(render_plan(plan_of(), ()))
    return found


def sheet(files: dict[str, str]) -> str:
    """Return the sheet of the usual drum as these templates set it out."""
    return render_sheet_with(Templates("own", files), plan_of(), (), data()).decode()


def shown(text: str) -> str:
    """Return what a sheet's template makes."""
    return sheet({"sheet.md.j2": text}).removesuffix("\n")


def trouble(files: dict[str, str]) -> Finding:
    """Return the finding for templates that fail."""
    with pytest.raises(TemplateTrouble) as caught:
        sheet(files)
    return caught.value.finding


class TestFallingBack:
    def test_without_any_it_is_the_built_in_sheet_to_the_byte(self) -> None:
        assert sheet({}) == render_sheet(plan_of()).decode()
        rows = [index_row(plan_of())]
        assert render_index_with(Templates("own", {}), rows) == render_index(rows)

    def test_a_part_is_replaced_and_the_rest_is_built_in(self) -> None:
        own = sheet({"sections/finishing.md.j2": "## My way\n"})
        before, _, after = render_sheet(plan_of()).decode().partition("## 9. Dry\n")
        assert own.startswith(f"{before}## My way\n")
        assert own.endswith(after[after.index("\n## Measure and write in") :])

    def test_an_own_part_beside_the_built_in_ones(self) -> None:
        own = sheet({"sections/finishing.md.j2": '{% include "mine/care.j2" %}', "mine/care.j2": "Keep it dry.\n"})
        assert "\nKeep it dry.\n" in own

    def test_the_index(self) -> None:
        own = Templates("own", {"index.md.j2": "{% for row in rows %}{{ row.drum }}: {{ row.lace }}\n{% endfor %}"})
        row = index_row(plan_of())
        assert render_index_with(own, [row]).decode().startswith("TEST: ")


class TestData:
    def test_figures_fields_and_the_plan(self) -> None:
        assert shown('{{ figure["head.blank_diameter"] }}') in render_sheet(plan_of()).decode()
        value = data()["figures"]["head.blank_diameter"]["value"]  # type: ignore[index]
        assert shown('{{ "%.3f"|format(plan.figures["head.blank_diameter"].value) }}') == f"{value:.3f}"
        assert shown("{{ plan.holes|length }} {{ plan.lacing[0].station }}").split()[0] == "32"

    def test_text_of_the_plan_is_escaped_and_names_are_not(self) -> None:
        assert shown("{{ plan.drum }}") == "TEST"
        assert shown("{{ plan.operations[0].name }}") == data()["operations"][0]["name"]  # type: ignore[index]

    @pytest.mark.parametrize(
        ("name", "said"),
        [
            ("<script>alert(1)</script>", r"\<script\>alert\(1\)\<\/script\>"),
            ("[x](javascript:y)", r"\[x\]\(javascript\:y\)"),
            ("www.example.org", r"www\.example\.org"),
            ("a_b", "a_b"),
            ("*a*", r"\*a\*"),
            ("1. a", r"1\. a"),
        ],
    )
    def test_a_makers_text(self, name: str, said: str) -> None:
        own = Templates("own", {"sheet.md.j2": "{{ plan.findings[0].message }}"})
        made = render_sheet_with(own, plan_of(), (), {"findings": [{"message": name}]})
        assert made.decode() == f"{said}\n"

    def test_plain_all_through(self) -> None:
        @dataclass(frozen=True)
        class View:
            rows: tuple[object, ...]

        given = MappingProxyType({"a": View((1, 2.5, "x", None, True))})
        assert plain_data(given) == {"a": {"rows": [1, 2.5, "x", None, True]}}
        with pytest.raises(TypeError, match="set"):
            plain_data({"a": {1}})

    @pytest.mark.parametrize("text", ["{{ plan }}", "{{ plan.figures }}", "{{ none }}", "{{ true }}", "{{ range }}"])
    def test_only_text_and_numbers_are_printed(self, text: str) -> None:
        found = trouble({"sheet.md.j2": text})
        assert found.name == "template-failed"
        assert "only text and numbers can be printed" in found.message

    def test_a_map_s_items_come_before_its_methods(self) -> None:
        assert shown("{% set m = {'items': 'mine'} %}{{ m.items }} {{ {'a': 1}.items()|first|first }}") == "mine a"

    def test_what_templates_need(self) -> None:
        assert shown("{% for i in range(3) %}{{ loop.index }}{{ loop.cycle('a', 'b') }}{% endfor %}") == "1a2b3a"
        assert (
            shown("{% set n = namespace(x=0) %}{% for i in [1, 2] %}{% set n.x = n.x + i %}{% endfor %}{{ n.x }}")
            == "3"
        )
        assert shown("{% macro m(x) %}<{{ x }}>{% endmacro %}{{ m(1) }}{{ m('a') ~ 2 }}") == "<1><a>2"
        assert (
            shown("{{ ['b', 'a']|sort|join(', ') }} {{ 'a-b'|replace('-', '+') }} {{ 2 ** 8 // 3 % 5 }}")
            == "a, b a+b 0"
        )
        assert shown("{% set t %}a{{ 1 }}{% endset %}{{ t|upper }}") == "A1"

    def test_two_spellings_of_a_format(self) -> None:
        assert shown("{{ '%d of %s' % (1, 'x') }} {{ '%d of %s'|format(1, 'x') }}") == "1 of x 1 of x"

    def test_files_of_blocks(self) -> None:
        files = {
            "sheet.md.j2": '{% extends "frame.j2" %}{% block a %}[{{ super() }}{{ self.b() }}]{% endblock %}',
            "frame.j2": "{% block a %}A{% endblock %}{% block b %}B{% endblock %}",
        }
        assert sheet(files) == "[AB]B\n"

    def test_imported_macros(self) -> None:
        files = {
            "sheet.md.j2": '{% import "m.j2" as m %}{{ m.twice("x") }}',
            "m.j2": "{% macro twice(t) %}{{ t }}{{ t }}{% endmacro %}",
        }
        assert sheet(files) == "xx\n"


ESCAPES = (
    "{{ ''.__class__ }}",
    "{{ ''.__class__.__mro__[1].__subclasses__() }}",
    "{{ ''['__class__'] }}",
    "{{ ''|attr('__class__') }}",
    "{{ [''|map(attribute='__class__')|first] }}",
    "{{ {}.__class__ }}",
    "{{ drum.upper() }}",
    "{{ '{0.__class__}'.format(1) }}",
    "{{ '{}'.format_map }}",
    "{{ plan.figures.update({}) }}",
    "{{ plan.holes.append(1) }}",
    "{{ plan.pop('drum') }}",
    "{{ range.__init__ }}",
    "{{ dict.fromkeys }}",
    "{{ dict.mro() }}",
    "{{ loop }}",
    "{{ self._TemplateReference__context }}",
    "{{ self.__init__ }}",
    "{{ cycler.__init__.__globals__.os }}",
    "{{ cycler }}",
    "{{ joiner }}",
    "{{ lipsum() }}",
    "{{ lipsum.__globals__ }}",
    "{{ [1, 2]|random }}",
    "{{ 'x'|pprint }}",
    "{{ 'x'|urlize }}",
    "{{ 'x'|center(1000000000) }}",
    "{{ namespace.__init__ }}",
    "{% macro m() %}{% endmacro %}{{ m.__globals__ }}",
    "{% macro m() %}{% endmacro %}{{ m._environment }}",
    "{% for i in [1] %}{{ loop._iterator }}{% endfor %}",
    "{% for i in [1] %}{{ loop.__class__ }}{% endfor %}",
    "{{ undefined_name.__class__ }}",
    "{% set x = undefined_name._undefined_message %}",
    "{% set x = ''.__class__ %}{{ x.__mro__ }}",
    "{% set x = {}.get %}{{ x.__self__ }}",
    "{{ plan.holes|sort(attribute='__class__') }}",
    "{{ plan.holes|groupby('__class__')|length }}",
    "{{ [drum]|map('attr', '__class__')|first }}",
    "{% import 'm.j2' as m %}{{ m.__class__ }}",
    "{% import 'm.j2' as m %}{{ m._body_stream }}",
    "{{ 'x' * 3 }}",
    "{{ [1] * 3 }}",
    "{{ 'a'.x }}",
    "{{ (1).real }}",
    "{{ ('%s' % plan) }}",
)  # fmt: skip


class TestEscapes:
    @pytest.mark.parametrize("text", ESCAPES)
    def test_refused(self, text: str) -> None:
        files = {"sheet.md.j2": f"\n{text}", "m.j2": ""}
        names = [
            finding.name for finding in check_templates(Templates("own", files)) if finding.name != "template-unused"
        ]
        if not names:
            found = trouble(files)
            names = [found.name]
            assert (found.place.file, found.place.line) == ("own/sheet.md.j2", 2)
        assert set(names) <= {"template-not-allowed", "template-undefined", "template-failed"}

    @pytest.mark.parametrize(
        ("text", "name"),
        [
            ("{{ 'x'|attr('upper') }}", "template-not-allowed"),
            ("{{ 'x'|safe }}", "template-not-allowed"),
            ("{% debug %}", "template-syntax"),
            ("{% do 1 %}", "template-syntax"),
        ],
    )
    def test_refused_as_they_are_read(self, text: str, name: str) -> None:
        found = check_templates(Templates("own", {"sheet.md.j2": f"\n{text}"}))
        assert [(finding.name, finding.place.line) for finding in found] == [(name, 2)]

    @pytest.mark.parametrize(
        "name",
        [
            "../x.j2",
            "/etc/passwd",
            "..",
            "sections/../../x",
            "",
            "sections//heading.md.j2",
            "notice.md.j2/../x",
            "a\\\\b",
        ],
    )
    @pytest.mark.parametrize("tag", ["include", "import", "extends"])
    def test_files_elsewhere(self, name: str, tag: str) -> None:
        found = trouble({"sheet.md.j2": f'\n\n{{% {tag} "{name}"{" as m" if tag == "import" else ""} %}}'})
        assert (found.name, found.place.file, found.place.line) == ("template-absent", "own/sheet.md.j2", 3)


TOO_MUCH = (
    "{% for i in range(1000000000) %}{% endfor %}",
    "{% for i in range(9999) %}{% for j in range(9999) %}{% endfor %}{% endfor %}",
    "{% set t %}{% for i in range(9999) %}" + "a" * 1000 + "{% endfor %}{% endset %}",
    "{% macro m(n) %}{{ m(n) }}{% endmacro %}{{ m(1) }}",
    "{% macro m(n) %}{% if n %}{{ m(n - 1) }}{{ m(n - 1) }}{% endif %}{% endmacro %}{{ m(60) }}",
    "{% include 'sheet.md.j2' %}",
    "{% set n = namespace(t='a') %}{% for i in range(60) %}{% set n.t = n.t ~ n.t %}{% endfor %}",
    "{% set n = namespace(t='a') %}{% for i in range(60) %}{% set n.t = n.t + n.t %}{% endfor %}",
    "{% set n = namespace(t=[1]) %}{% for i in range(60) %}{% set n.t = n.t + n.t %}{% endfor %}",
    "{% set n = namespace(t='aa') %}{% for i in range(60) %}{% set n.t = n.t|replace('a', n.t) %}{% endfor %}",
    "{% set n = namespace(t='aa') %}{% for i in range(60) %}{% set n.t = [n.t, n.t]|join(n.t) %}{% endfor %}",
    "{% set n = namespace(t='aa') %}{% for i in range(60) %}{% set n.t = '%s%s' % (n.t, n.t) %}{% endfor %}",
    "{% set n = namespace(t=9) %}{% for i in range(60) %}{% set n.t = n.t * n.t %}{% endfor %}",
    "{{ 10 ** 1000000000 }}",
    "{{ '%1000000000d' % 1 }}",
    "{{ '%1000000000d'|format(1) }}",
    "{{ '%*d' % (1000000000, 1) }}",
    "{% for a in plan.holes recursive %}{{ loop(plan.holes) }}{% endfor %}",
    "{% macro m() %}{{ caller() }}{% endmacro %}{% for i in range(9999) %}{% for k in range(99) %}"
    "{% call m() %}{% endcall %}{% endfor %}{% endfor %}",
)  # fmt: skip


class TestTooMuch:
    @pytest.mark.parametrize("text", TOO_MUCH)
    def test_stopped(self, text: str) -> None:
        found = trouble({"sheet.md.j2": f"\n{text}"})
        assert found.name == "template-too-much", found
        assert (found.place.file, found.place.line) == ("own/sheet.md.j2", 2)

    def test_a_page_that_is_too_long(self) -> None:
        found = trouble({"sheet.md.j2": "{% for i in range(9999) %}" + "a" * 1000 + "{% endfor %}"})
        assert (found.name, found.place.file) == ("template-too-much", "own/sheet.md.j2")

    def test_files_that_fan_out(self) -> None:
        files = {f"{n}.j2": f'{{% include "{n + 1}.j2" %}}{{% include "{n + 1}.j2" %}}' for n in range(40)}
        found = trouble({**files, "40.j2": "x", "sheet.md.j2": '{% include "0.j2" %}'})
        assert found.name == "template-too-much"

    def test_a_built_in_sheet_takes_far_less(self) -> None:
        own = Templates("own", {})
        render_sheet_with(own, plan_of(), (), data())
        assert 0 < custom._environment(own).steps < sandbox.MOST_STEPS / 50

    def test_each_page_has_its_own_steps(self) -> None:
        text = "{% for i in range(9999) %}{% for j in range(20) %}{% endfor %}{% endfor %}x"
        for _ in range(4):
            assert shown(text) == "x"


class TestFindings:
    def test_undefined(self) -> None:
        found = trouble({"sections/blank.md.j2": "one\n\n  {{ field.colour }}\n"})
        assert found.name == "template-undefined"
        assert found.message == "the template asks for what is not there: this map has no 'colour'"
        place = found.place
        assert (place.file, place.line, place.column, place.text) == (
            "own/sections/blank.md.j2", 3, 3, "  {{ field.colour }}"
        )  # fmt: skip

    def test_syntax_errors_all_at_once(self) -> None:
        files = {
            "a.j2": "\n{% if %}",
            "b.j2": "{{",
            "c.j2": "fine",
            "d.j2": "{% for x in y %}\n",
            "e.j2": "{{ 1|nofilter }}",
        }
        found = check_templates(Templates("own", files))
        assert [(finding.name, finding.place.file) for finding in found] == [
            ("template-syntax", "own/a.j2"),
            ("template-syntax", "own/b.j2"),
            ("template-syntax", "own/d.j2"),
            ("template-not-allowed", "own/e.j2"),
        ]
        assert found[0].place.line == 2

    @pytest.mark.parametrize(
        "text", ["(" * 3000, "{{ " + "(" * 3000, "{% if 1 %}" * 3000, "{% for x in y %}" * 50 + "{% endfor %}" * 50]
    )
    def test_deep_templates(self, text: str) -> None:
        found = check_templates(Templates("own", {"sheet.md.j2": text}))
        assert {finding.name for finding in found} <= {"template-syntax", "template-too-much"}

    def test_running(self) -> None:
        found = trouble({"sheet.md.j2": "a\n{{ 1 // 0 }}"})
        assert (found.name, found.place.line) == ("template-failed", 2)
        assert "ZeroDivisionError" in found.message

    def test_in_a_built_in_part_it_is_told_at_the_makers_line(self) -> None:
        found = trouble({"sheet.md.j2": 'a\n{% set figure = {} %}\n{% include "sections/blank.md.j2" %}'})
        assert (found.name, found.place.file, found.place.line) == ("template-undefined", "own/sheet.md.j2", 3)

    def test_nothing_asks_for_it(self) -> None:
        files = {"sheets.md.j2": "x", "sheet.md.j2": '{% include "a.j2" %}', "a.j2": "a"}
        found = check_templates(Templates("own", files))
        assert [(finding.name, str(finding.severity), finding.place.file) for finding in found] == [
            ("template-unused", "warning", "own/sheets.md.j2")
        ]
        assert check_templates(Templates("own", {**files, "sheet.md.j2": "{% include drum %}"})) == ()

    def test_the_same_message_every_time(self) -> None:
        """An address in memory would make the notice's bytes another in every run."""
        assert " at 0x" not in trouble({"sheet.md.j2": "{{ 1 + dict }}"}).message
        assert " at 0x" not in trouble({"sheet.md.j2": "{{ range()(1) }}"}).message
