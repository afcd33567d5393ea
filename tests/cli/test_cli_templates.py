"""`build --templates`: a folder of a maker's own templates, from reading it to what a build makes of it."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import pytest

from tauthide.reading.template_faults import MAX_TEMPLATE_BYTES, MAX_TEMPLATES
from workshops import Run, Workshop, files_of, many_specs, spec_text, stamps, tree

needs_links = pytest.mark.skipif(sys.platform == "win32", reason="links need special rights there")

OWN = "own/sections/finishing.md.j2"


@pytest.fixture
def shop(workshop: Workshop) -> Workshop:
    """Give a workshop with two specs and a template of its own."""
    workshop.write("specs/a.yaml", spec_text("A"))
    workshop.write("specs/b.yaml", spec_text("B").replace("count: 16", "count: 12"))
    workshop.write(OWN, "## Finish {{ drum }}\n")
    return workshop


def build(shop: Workshop, *more: str) -> Run:
    """Build with those templates."""
    return shop.build("--templates", "own", *more)


class TestBuilding:
    def test_part_of_a_sheet(self, shop: Workshop) -> None:
        run = build(shop)
        assert (run.code, run.findings) == (0, [])
        assert list(shop.sheets()) == [*files_of("A"), *files_of("B"), "index.md"]
        assert "\n## Finish A\n" in shop.sheet("A")
        assert "## 8. The handle" in shop.sheet("A")

    def test_only_what_is_named_is_used(self, shop: Workshop) -> None:
        """A folder that lies there is no matter: templates are taken only where the maker says so."""
        shop.write("templates/sheet.md.j2", "x")
        assert shop.build().code == 0
        assert "## 10. Finish" in shop.sheet("A")

    def test_a_changed_template_is_a_change(self, shop: Workshop) -> None:
        build(shop)
        before = stamps(shop.folder / "sheets")
        assert build(shop).report["summary"]["written"] == 0
        assert stamps(shop.folder / "sheets") == before
        shop.write(OWN, "## Finish it, {{ drum }}\n")
        assert build(shop, "--verify").code == 1
        assert build(shop).report["summary"]["written"] == 2
        assert "## Finish it, A" in shop.sheet("A")
        assert build(shop, "--verify").code == 0

    def test_without_templates_again(self, shop: Workshop) -> None:
        build(shop)
        assert shop.build("--verify").code == 1
        assert shop.build().report["summary"]["written"] == 2
        assert "## 10. Finish" in shop.sheet("A")

    def test_the_same_by_workers(self, shop: Workshop) -> None:
        many_specs(shop.folder / "specs", 20)
        build(shop)
        assert build(shop, "--out", "two", "--jobs", "2").code == 0
        assert tree(shop.folder / "two", manifest=True) == shop.sheets(manifest=True)

    def test_the_notice_stays_as_it_is(self, shop: Workshop) -> None:
        shop.write("own/sections/remarks.md.j2", "mine\n")
        shop.write("specs/a.yaml", spec_text("A").replace("goat", "dragon"))
        run = build(shop)
        assert (run.code, run.names) == (1, ["unknown-word"])
        assert "do not cut" in shop.sheet("A")
        assert "dragon" in shop.sheet("A")

    def test_files_that_are_no_templates(self, shop: Workshop) -> None:
        for name in ("README.md", ".hidden.j2", ".git/x.j2", "sheet.md"):
            shop.write(f"own/{name}", "{{ nothing }}")
        assert build(shop).findings == []

    @needs_links
    def test_the_folder_itself_may_be_a_link(self, shop: Workshop) -> None:
        (shop.folder / "linked").symlink_to("own")
        assert shop.build("--templates", "linked").code == 0
        assert "## Finish A" in shop.sheet("A")

    def test_windows_line_ends_and_mark(self, shop: Workshop) -> None:
        build(shop)
        before = shop.sheets()
        shop.write(OWN, "\ufeff## Finish {{ drum }}\r\n".encode())
        build(shop)
        assert shop.sheets() == before


class TestMistakes:
    def test_what_can_t_be_read_stops_the_build_before_anything_is_written(self, shop: Workshop) -> None:
        build(shop)
        before = stamps(shop.folder / "sheets")
        shop.write(OWN, "## Finish\n\n{% if %}\n")
        shop.write("own/index.md.j2", "{{ 1|no }}\n")
        run = build(shop)
        assert run.code == 1
        assert [(f["name"], f["file"], f["line"]) for f in run.findings] == [
            ("template-not-allowed", "own/index.md.j2", 1),
            ("template-syntax", OWN, 3),
        ]
        assert stamps(shop.folder / "sheets") == before
        assert build(shop, "--verify").code == 1

    def test_what_fails_for_one_drum_stops_that_drum(self, shop: Workshop) -> None:
        shop.write(OWN, "{% if count == 12 %}\n{{ field.colour }}\n{% endif %}\n")
        run = build(shop)
        assert (run.code, run.only["name"], run.only["file"], run.only["line"]) == (1, "template-undefined", OWN, 2)
        assert run.only["message"] == "the template asks for what is not there: this map has no 'colour'"
        assert list(shop.sheets()) == [*files_of("A"), "B/sheet.md", "index.md"]
        assert "do not cut" in shop.sheet("B")
        assert r"own\/sections\/finishing\.md\.j2, line 2" in shop.sheet("B")
        again = build(shop)
        assert (again.code, again.findings, again.report["summary"]["written"]) == (1, run.findings, 0)
        assert build(shop, "--verify").report["summary"]["differences"] == []

    def test_said_once_for_all_drums(self, shop: Workshop) -> None:
        shop.write(OWN, "{{ nothing }}\n")
        assert build(shop).names == ["template-undefined"]

    def test_text(self, shop: Workshop) -> None:
        shop.write(OWN, "Dry it.\n  Then {{ nothing }}\n")
        run = shop.run("build", "--templates", "own")
        assert run.err == (
            f"{OWN}:2:3: error: the template asks for what is not there: 'nothing' is undefined [template-undefined]\n"
            "    2 |   Then {{ nothing }}\n"
            "      |   ^^^^^^^^^^^^^^^^^^\n"
            "      found    Then {{ nothing }}\n"
            "      allowed  the names that the README lists under Templates\n"
            "\n2 specs; 3 files written, 0 unchanged, 0 removed; 1 error\n"
        )

    def test_the_index_fails(self, shop: Workshop) -> None:
        shop.write("own/index.md.j2", "{{ rows[7].drum }}\n")
        for more in ([], ["--verify"], []):
            run = build(shop, *more)
            assert (run.code, run.only["name"], run.only["file"]) == (1, "template-undefined", "own/index.md.j2")
        assert (shop.folder / "sheets/index.md").read_text().startswith("# Drums\n")

    @needs_links
    @pytest.mark.parametrize("leads", ["../specs/a.yaml", "/etc/hostname", "nowhere", "sections"])
    def test_links(self, shop: Workshop, leads: str) -> None:
        (shop.folder / "own/sheet.md.j2").symlink_to(leads)
        run = build(shop)
        assert (run.code, run.only["name"], run.only["file"]) == (1, "template-link", "own/sheet.md.j2")
        assert not (shop.folder / "sheets").exists()

    @needs_links
    def test_a_link_to_a_folder(self, shop: Workshop) -> None:
        shop.write("elsewhere/x.j2", "x")
        (shop.folder / "own/more").symlink_to("../elsewhere")
        run = build(shop)
        assert (run.code, run.only["name"], run.only["file"]) == (1, "template-link", "own/more")

    def test_too_large(self, shop: Workshop) -> None:
        shop.write(OWN, "x" * MAX_TEMPLATE_BYTES)
        assert build(shop).code == 0
        shop.write(OWN, "x" * (MAX_TEMPLATE_BYTES + 1))
        run = build(shop)
        assert (run.code, run.only["name"], run.only["file"]) == (1, "template-too-large", OWN)

    def test_too_many(self, shop: Workshop) -> None:
        for number in range(MAX_TEMPLATES):
            shop.write(f"own/{number}.j2", "")
        run = build(shop)
        assert (run.code, run.only["name"], run.only["file"]) == (1, "templates-too-many", "own")

    def test_no_text(self, shop: Workshop) -> None:
        shop.write(OWN, b"a\nb\xff\n")
        run = build(shop)
        assert (run.code, run.only["name"], run.only["line"]) == (1, "template-not-utf8", 2)

    def test_the_notice_can_t_be_replaced(self, shop: Workshop) -> None:
        shop.write("own/notice.md.j2", "all is well\n")
        run = build(shop)
        assert (run.code, run.only["name"], run.only["file"]) == (1, "template-fixed", "own/notice.md.j2")

    def test_a_name_that_is_misspelt(self, shop: Workshop) -> None:
        shop.write("own/sections/finnishing.md.j2", "x\n")
        run = build(shop)
        assert (run.code, run.only["name"], run.only["severity"]) == (0, "template-unused", "warning")

    @pytest.mark.parametrize(
        ("folder", "said"),
        [
            ("none", "none is no folder, where a folder of templates is wanted"),
            ("specs/a.yaml", "specs/a.yaml is no folder, where a folder of templates is wanted"),
            ("specs", "specs has no templates: files whose names end with .j2"),
        ],
    )
    def test_no_folder_of_templates(self, shop: Workshop, folder: str, said: str) -> None:
        run = shop.run("build", "--templates", folder)
        assert (run.code, run.err) == (2, f"tauthide: {said}\n")
        assert not (shop.folder / "sheets").exists()

    def test_a_folder_that_may_not_be_read(self, shop: Workshop, monkeypatch: pytest.MonkeyPatch) -> None:
        scan = os.scandir

        def refuse(path: str | Path) -> object:
            if str(path).rstrip("/").endswith("sections"):
                raise PermissionError(13, "Permission denied", str(path))
            return scan(path)

        monkeypatch.setattr(os, "scandir", refuse)
        run = shop.run("build", "--templates", "own")
        monkeypatch.undo()
        assert (run.code, run.err) == (2, "tauthide: own/sections: it cannot be read (Permission denied)\n")

    def test_every_fault_has_its_page(self, shop: Workshop) -> None:
        run = shop.run("explain", "template-undefined")
        assert run.code == 0
        assert "A gap on a sheet" in run.out
