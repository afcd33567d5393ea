"""What paths lead to: files, folders, standard input, links, and nothing at all."""

from __future__ import annotations

import io
import os
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from workshops import Workshop, files_of, spec_text, stamps

needs_posix = pytest.mark.skipif(sys.platform == "win32", reason="no such thing there")

FOREIGN = "services: {web: {image: nginx}}\n"
SHOP = "shop: 1\nlace: {play: 10 mm}\n"
BASE = "base: 1\nhead: {hide: goat}\n"


@pytest.fixture
def stdin(monkeypatch: pytest.MonkeyPatch) -> Callable[[str], None]:
    """Give a function that sets what is read from standard input."""

    def give(content: str) -> None:
        monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(content.encode())))

    return give


class TestMissing:
    @pytest.mark.parametrize("command", ["check", "build"])
    def test_no_such_path(self, workshop: Workshop, command: str) -> None:
        run = workshop.run(command, "specs/lib-13.yaml", "nowhere", "--format", "json")
        assert run.code == 2
        assert [(finding["name"], finding["file"]) for finding in run.findings] == [
            ("missing-file", "nowhere"),
            ("missing-file", "specs/lib-13.yaml"),
        ]
        assert run.findings[0]["allowed"] == "a spec, a folder of specs, or `-` for standard input"
        assert not (workshop.folder / "sheets").exists()

    def test_text(self, workshop: Workshop) -> None:
        run = workshop.run("build", "nowhere")
        assert run.err == (
            "nowhere:1:1: error: There is no such file or folder [missing-file]\n"
            "      allowed  a spec, a folder of specs, or `-` for standard input\n"
            "\n0 specs; nothing done; 1 error\n"
        )

    def test_nothing_is_lost(self, workshop: Workshop) -> None:
        """A path that is misspelt must not cost the sheets of the drums that it meant."""
        workshop.write("specs/a.yaml", spec_text("A"))
        workshop.write("more/b.yaml", spec_text("B"))
        assert workshop.build("specs", "more").code == 0
        before = stamps(workshop.folder)
        assert workshop.build("specs", "mroe").code == 2
        assert workshop.build("specs", "mroe", "--verify").code == 2
        assert stamps(workshop.folder) == before

    def test_a_check_goes_on_with_the_rest(self, workshop: Workshop) -> None:
        workshop.write("specs/a.yaml", "spec: 1\n")
        run = workshop.check("specs", "nowhere")
        assert run.code == 2
        assert set(run.names) == {"missing-file", "missing-key"}

    def test_no_arguments_and_no_folder(self, workshop: Workshop) -> None:
        for command in ("check", "build"):
            run = workshop.run(command)
            assert run.code == 2
            assert run.err == "tauthide: there is no folder specs here; name a spec or a folder of specs\n"

    @pytest.mark.parametrize("content", [None, "notes.txt", "sub/notes.txt", ".hidden.yaml", ".hidden/a.yaml"])
    def test_folder_without_documents(self, workshop: Workshop, content: str | None) -> None:
        (workshop.folder / "specs").mkdir()
        if content:
            workshop.write(f"specs/{content}", spec_text())
        run = workshop.build()
        assert (run.code, run.only["name"], run.only["file"]) == (2, "no-documents", "specs")

    @pytest.mark.parametrize("files", [{"shop.yaml": SHOP}, {"a.yaml": FOREIGN}, {"base.yaml": BASE, "a.yml": FOREIGN}])
    def test_folder_without_specs(self, workshop: Workshop, files: dict[str, str]) -> None:
        """Most likely the wrong folder: the sheets of the right one must stay."""
        workshop.write("specs/a.yaml", spec_text("A"))
        assert workshop.build().code == 0
        before = stamps(workshop.folder / "sheets")
        for name, content in files.items():
            workshop.write(f"other/{name}", content)
        run = workshop.build("other")
        assert run.code == 2
        assert "no-specs" in run.names
        assert stamps(workshop.folder / "sheets") == before
        assert workshop.check("other").code == 0

    @pytest.mark.parametrize("path", ["", "  "])
    def test_empty_path(self, workshop: Workshop, path: str) -> None:
        workshop.write("specs/a.yaml", spec_text("A"))
        run = workshop.build(path)
        assert (run.code, run.only["name"]) == (2, "missing-file")

    def test_name_that_no_system_takes(self, workshop: Workshop) -> None:
        run = workshop.check("x" * 5000, "a\0b")
        assert (run.code, set(run.names)) == (2, {"missing-file"})

    @needs_posix
    def test_current_folder_is_gone(self, workshop: Workshop) -> None:
        gone = workshop.folder / "gone"
        gone.mkdir()
        os.chdir(gone)
        gone.rmdir()
        run = workshop.run("check", "a.yaml")
        assert run.code == 2
        assert run.err == "tauthide: the current folder is not there any more; go to another one\n"


class TestNotFiles:
    @needs_posix
    def test_pipe(self, workshop: Workshop) -> None:
        (workshop.folder / "specs").mkdir()
        os.mkfifo(workshop.folder / "specs/a.yaml")
        workshop.write("specs/b.yaml", spec_text("B"))
        assert workshop.build("specs").code == 0  # in a folder it is no document
        run = workshop.check("specs/a.yaml")
        assert run.code == 2
        assert (run.only["name"], run.only["file"]) == ("unreadable-file", "specs/a.yaml")
        assert run.only["message"] == "this is not a regular file, where a file is wanted"

    @needs_posix
    def test_device(self, workshop: Workshop) -> None:
        run = workshop.check("/dev/null")
        assert (run.code, run.only["name"]) == (2, "unreadable-file")

    @needs_posix
    def test_broken_link(self, workshop: Workshop) -> None:
        (workshop.folder / "a.yaml").symlink_to("nowhere.yaml")
        run = workshop.check("a.yaml")
        assert (run.code, run.only["name"]) == (2, "unreadable-file")

    def test_file_that_may_not_be_read(self, workshop: Workshop, monkeypatch: pytest.MonkeyPatch) -> None:
        """It keeps no sheet, since nobody knows what it says now; the others are built."""
        workshop.write("specs/a.yaml", spec_text("A"))
        workshop.write("specs/b.yaml", spec_text("B"))
        assert workshop.build().code == 0
        opened = os.open

        def refuse(path: str | Path, *more: int) -> int:
            if str(path).endswith("a.yaml"):
                raise PermissionError(13, "Permission denied", str(path))
            return opened(path, *more)

        monkeypatch.setattr(os, "open", refuse)
        run = workshop.build()
        assert run.code == 2
        assert (run.only["name"], run.only["file"]) == ("unreadable-file", "specs/a.yaml")
        assert run.only["message"] == "you are not permitted to read this"
        assert list(workshop.sheets()) == ["A/sheet.md", *files_of("B"), "index.md"]

    def test_folder_that_may_not_be_read(self, workshop: Workshop, monkeypatch: pytest.MonkeyPatch) -> None:
        """What lies in it is not known, so nothing is built, and nothing removed."""
        workshop.write("specs/a.yaml", spec_text("A"))
        workshop.write("specs/below/b.yaml", spec_text("B"))
        assert workshop.build().code == 0
        before = stamps(workshop.folder / "sheets")
        scan = os.scandir

        def refuse(path: str | Path) -> object:
            if str(path).endswith("below"):
                raise PermissionError(13, "Permission denied", str(path))
            return scan(path)

        monkeypatch.setattr(os, "scandir", refuse)
        run = workshop.build()
        monkeypatch.undo()
        assert run.code == 2
        assert run.only["message"] == "specs/below: you are not permitted to read this"
        assert stamps(workshop.folder / "sheets") == before


class TestMixtures:
    def test_specs_by_default(self, workshop: Workshop) -> None:
        workshop.write("specs/a.yaml", spec_text("A"))
        workshop.write("other/b.yaml", spec_text("B"))
        workshop.build()
        assert list(workshop.sheets()) == [*files_of("A"), "index.md"]

    @pytest.mark.parametrize(
        "paths",
        [
            ("specs/a.yaml", "specs/a.yaml"),
            ("specs", "specs/a.yaml"),
            ("specs/a.yaml", "specs"),
            ("specs", "specs/"),
            (".", "specs"),
            ("./specs/../specs/a.yaml", "specs"),
        ],
    )
    def test_the_same_twice_counts_once(self, workshop: Workshop, paths: tuple[str, ...]) -> None:
        workshop.write("specs/a.yaml", spec_text("A"))
        run = workshop.build(*paths)
        assert (run.code, run.findings, run.report["summary"]["specs"]) == (0, [], 1)

    def test_absolute_and_relative(self, workshop: Workshop) -> None:
        path = workshop.write("specs/a.yaml", spec_text("A"))
        assert workshop.build("specs/a.yaml", str(path)).report["summary"]["specs"] == 1

    @needs_posix
    def test_folder_through_a_link(self, workshop: Workshop) -> None:
        workshop.write("specs/a.yaml", spec_text("A"))
        (workshop.folder / "link").symlink_to("specs")
        run = workshop.check("link", "specs", "link/a.yaml")
        assert (run.code, run.report["summary"]["specs"]) == (0, 1)

    @needs_posix
    def test_link_to_a_spec_is_another_spec(self, workshop: Workshop) -> None:
        workshop.write("specs/a.yaml", spec_text("A"))
        (workshop.folder / "specs/b.yaml").symlink_to("a.yaml")
        run = workshop.build()
        assert (run.code, run.names) == (1, ["drum-name-taken"] * 2)

    @needs_posix
    def test_link_to_a_spec_by_itself(self, workshop: Workshop) -> None:
        workshop.write("drawer/a.yaml", spec_text("A"))
        (workshop.folder / "b.yaml").symlink_to("drawer/a.yaml")
        run = workshop.build("b.yaml")
        assert (run.code, run.findings) == (0, [])
        assert "spec: b\\.yaml" in workshop.sheet("A")

    def test_shell_pattern(self, workshop: Workshop) -> None:
        """A shell makes `specs/*.yaml` of bases and shop files too: that is no fault, but worth a word."""
        workshop.write("specs/a.yaml", spec_text("A"))
        workshop.write("specs/base.yaml", BASE)
        workshop.write("specs/shop.yaml", SHOP)
        run = workshop.build(*(f"specs/{name}.yaml" for name in ("a", "base", "shop")))
        assert run.code == 0
        assert [(finding["name"], finding["severity"], finding["file"]) for finding in run.findings] == [
            ("not-a-spec", "note", "specs/base.yaml"),
            ("not-a-spec", "note", "specs/shop.yaml"),
        ]
        assert list(workshop.sheets()) == [*files_of("A"), "index.md"]

    def test_both_endings_below(self, workshop: Workshop) -> None:
        workshop.write("specs/a.yml", spec_text("A"))
        workshop.write("specs/x/y/b.YAML", spec_text("B"))
        assert workshop.build().report["summary"]["specs"] == 2

    @needs_posix
    def test_name_that_is_no_text(self, workshop: Workshop) -> None:
        """A file's name may have bytes that are no UTF-8: they are shown, and no page is spoilt by them."""
        name = os.fsdecode(b"specs/caf\xe9.yaml")
        try:
            workshop.write(name, spec_text("A"))
        except OSError:
            pytest.skip("this disk takes no such names")
        assert workshop.build().code == 0
        workshop.write(name, spec_text("A", more="colour: red\n"))
        run = workshop.build()
        assert (run.code, run.names) == (1, ["unknown-key"])
        assert "do not cut" in workshop.sheet("A")
        assert workshop.run("check").err.startswith("specs/caf\\udce9.yaml:3:1: error")


class TestForeignFiles:
    @pytest.mark.parametrize(
        "content",
        [
            FOREIGN,
            "a: &x 1\nb: *x\n",
            "theme: !!python/name:material\n",
            "kind: Pod\n---\nkind: Service\n",
            "apiVersion: v1\nspec:\n  a: &b 1\n",
            "- a\n- b\n",
            "a: 1\na: 2\n",
            b"\x00\x01\xff\xfe\x80",
            "{{ template }}: [\n",
        ],
    )
    def test_only_noted_in_a_folder(self, workshop: Workshop, content: str | bytes) -> None:
        workshop.write("specs/a.yaml", spec_text("A"))
        workshop.write("specs/else.yaml", content)
        for run in (workshop.check(), workshop.build()):
            assert run.code == 0
            assert (run.only["name"], run.only["severity"]) == ("foreign-file", "note")
            assert run.only["file"] == "specs/else.yaml"
            assert run.report["summary"]["specs"] == 1

    @pytest.mark.parametrize(
        ("content", "name"),
        [
            ("spce: 1\ndrum: B\n", "unknown-kind"),
            ("drum: B\nframe: {outline: round}\n", "unknown-kind"),
            ("\tspec: 1\n\tdrum: B\n", "tab-indent"),
            ("x: [\nspec: 1\ndrum: B\n", "yaml-syntax"),
            ("", "empty-file"),
            ("spec: 1\ndrum: &d B\n".encode("utf-16"), "not-utf8"),
        ],
    )
    def test_a_spoilt_spec_is_told(self, workshop: Workshop, content: str | bytes, name: str) -> None:
        workshop.write("specs/a.yaml", spec_text("A"))
        workshop.write("specs/b.yaml", content)
        for run in (workshop.check(), workshop.build()):
            assert (run.code, run.only["name"], run.only["severity"]) == (1, name, "error")

    def test_named(self, workshop: Workshop) -> None:
        workshop.write("else.yaml", FOREIGN)
        run = workshop.check("else.yaml")
        assert (run.code, run.only["name"]) == (1, "unknown-kind")

    def test_time_for_lines_of_signs(self, workshop: Workshop) -> None:
        """Telling whose file it is must not take longer than in proportion to its length."""
        workshop.write("specs/a.yaml", spec_text("A"))
        for number, line in enumerate(("\n", "# ", ": ", "-- \n", '"\n')):
            workshop.write(f"specs/b{number}.yaml", "[\n" + line * (250_000 // len(line)))
        told = {finding["file"] for finding in workshop.check().findings}
        assert told == {f"specs/b{number}.yaml" for number in range(5)}


class TestStandardInput:
    def test_check_and_build(self, workshop: Workshop, stdin: Callable[[str], None]) -> None:
        stdin(spec_text("A"))
        assert workshop.check("-").report["summary"] == {"specs": 1, "errors": 0, "warnings": 0, "notes": 0}
        stdin(spec_text("A"))
        assert workshop.build("-").code == 0
        assert list(workshop.sheets()) == [*files_of("A"), "index.md"]

    def test_beside_files(self, workshop: Workshop, stdin: Callable[[str], None]) -> None:
        workshop.write("specs/a.yaml", spec_text("A"))
        stdin(spec_text("A"))
        run = workshop.build("-", "specs")
        assert (run.code, [finding["file"] for finding in run.findings]) == (1, ["<stdin>", "specs/a.yaml"])

    def test_may_not_inherit(self, workshop: Workshop, stdin: Callable[[str], None]) -> None:
        workshop.write("base.yaml", BASE)
        stdin("spec: 1\ndrum: A\ninherits: base.yaml\n" + spec_text("A").partition("drum: A\n")[2])
        run = workshop.check("-")
        assert run.code == 1
        assert run.only["name"] == "inherits-from-nowhere"
        assert (run.only["file"], run.only["line"], run.only["column"]) == ("<stdin>", 3, 11)
        assert run.only["found"] == "base.yaml"

    def test_has_no_shop(self, workshop: Workshop, stdin: Callable[[str], None]) -> None:
        workshop.write("shop.yaml", "shop: 2\n")
        stdin(spec_text("A"))
        assert workshop.check("-").code == 0

    def test_too_large(self, workshop: Workshop, stdin: Callable[[str], None]) -> None:
        stdin("#" * 300_000)
        run = workshop.check("-")
        assert (run.code, run.only["name"]) == (1, "file-too-large")

    def test_a_file_of_that_name(self, workshop: Workshop) -> None:
        workshop.write("-", spec_text("A"))
        assert workshop.check("./-").code == 0
