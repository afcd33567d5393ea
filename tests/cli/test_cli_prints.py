"""`tauthide build --html --pdf`: what is written, kept, taken away again, and said where a package is missing."""

from __future__ import annotations

import importlib.metadata
import subprocess
import sys

import pytest

from tauthide.printing.paper import LIBRARIES
from workshops import Workshop, files_of, spec_text, surroundings

HTML = ["LIB-13/sheet.html", "LIB-13/template.html"]
PDF = ["LIB-13/template.pdf"]


@pytest.fixture
def shop(workshop: Workshop) -> Workshop:
    workshop.write("specs/lib-13.yaml", spec_text())
    return workshop


def written(shop: Workshop) -> list[str]:
    return sorted(name for name in shop.sheets() if name != "index.md")


class TestFiles:
    def test_only_what_is_asked_for(self, shop: Workshop) -> None:
        for switches, more in (([], []), (["--html"], HTML), (["--pdf"], PDF), (["--html", "--pdf"], HTML + PDF)):
            assert shop.build(*switches).code == 0
            assert written(shop) == sorted(files_of("LIB-13") + more)

    def test_a_second_build_writes_nothing(self, shop: Workshop) -> None:
        shop.build("--html", "--pdf")
        run = shop.build("--html", "--pdf")
        assert run.report["summary"]["written"] == 0
        assert run.report["summary"]["unchanged"] == 11

    def test_without_the_switch_the_pages_go(self, shop: Workshop) -> None:
        shop.build("--html", "--pdf")
        assert shop.build().report["summary"]["removed"] == 3
        assert written(shop) == files_of("LIB-13")

    def test_other_paper_other_pages(self, shop: Workshop) -> None:
        shop.build("--html")
        before = shop.sheets()
        assert shop.build("--html", "--paper", "letter").report["summary"]["written"] == 2
        after = shop.sheets()
        assert {name for name in after if after[name] != before[name]} == set(HTML)

    def test_a_spoilt_page_is_mended(self, shop: Workshop) -> None:
        shop.build("--html")
        whole = shop.sheets()
        shop.write("sheets/LIB-13/sheet.html", "spoilt")
        assert shop.build("--html").report["summary"]["written"] == 1
        assert shop.sheets() == whole

    def test_in_other_processes_the_same(self, shop: Workshop) -> None:
        """Neither the hash seed nor the time zone shows."""
        shop.build("--html", "--pdf")
        wanted = shop.sheets()
        for seed in ("1", "77"):
            command = [sys.executable, "-m", "tauthide", "build", "--html", "--pdf", "--out", f"out-{seed}"]
            environment = surroundings(PYTHONHASHSEED=seed, TZ="Pacific/Auckland", LC_ALL="C")
            subprocess.run(command, cwd=shop.folder, env=environment, check=True, capture_output=True)
            for name, content in wanted.items():
                assert (shop.folder / f"out-{seed}" / name).read_bytes() == content


class TestVerify:
    def test_as_built(self, shop: Workshop) -> None:
        shop.build("--html", "--pdf")
        assert shop.build("--html", "--pdf", "--verify").code == 0

    def test_with_fewer_switches_pages_are_left_over(self, shop: Workshop) -> None:
        shop.build("--html", "--pdf")
        run = shop.build("--html", "--verify")
        assert run.code == 1
        assert run.report["summary"]["differences"] == [{"path": PDF[0], "gap": "left over"}]

    def test_with_more_switches_pages_are_missing(self, shop: Workshop) -> None:
        shop.build()
        run = shop.build("--pdf", "--verify")
        assert run.report["summary"]["differences"] == [{"path": PDF[0], "gap": "missing"}]

    def test_with_another_paper_pages_are_stale(self, shop: Workshop) -> None:
        shop.build("--html")
        run = shop.build("--html", "--paper", "letter", "--verify")
        assert {item["path"]: item["gap"] for item in run.report["summary"]["differences"]} == dict.fromkeys(
            HTML, "stale"
        )


class TestErrors:
    def test_a_drum_with_errors_loses_its_template(self, shop: Workshop) -> None:
        shop.build("--html", "--pdf")
        shop.write("specs/lib-13.yaml", spec_text(parts="frame: {}\n"))
        assert shop.build("--html", "--pdf").code == 1
        assert written(shop) == ["LIB-13/sheet.html", "LIB-13/sheet.md"]
        assert "do not cut" in shop.sheets()["LIB-13/sheet.html"].decode()

    def test_a_package_that_is_missing_is_told_before_anything_is_done(
        self, shop: Workshop, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        def absent(name: str) -> str:
            raise importlib.metadata.PackageNotFoundError(name)

        monkeypatch.setattr(importlib.metadata, "version", absent)
        for switch, packages in (("--html", LIBRARIES["html"]), ("--pdf", LIBRARIES["pdf"])):
            run = shop.run("build", switch)
            assert run.code == 2
            assert all(package in run.err for package in packages)
            assert "pip install 'tauthide[print]'" in run.err
            assert not (shop.folder / "sheets").exists()
        assert shop.run("build").code == 0

    def test_an_unknown_paper(self, shop: Workshop) -> None:
        run = shop.run("build", "--html", "--paper", "a5")
        assert run.code == 2
        assert "a4" in run.err
        assert "letter" in run.err


def test_packages_are_imported_only_when_wanted(shop: Workshop) -> None:
    code = (
        "import sys; from tauthide.__main__ import main; main(sys.argv[1:]);"
        "print(sorted({'markdown_it', 'mdit_py_plugins', 'reportlab', 'PIL'} & sys.modules.keys()))"
    )
    for switches, loaded in (([], set()), (["--html"], {"markdown_it", "mdit_py_plugins"}), (["--pdf"], {"reportlab"})):
        command = [sys.executable, "-c", code, "build", *switches]
        told = subprocess.run(
            command, cwd=shop.folder, env=surroundings(), check=True, capture_output=True, text=True
        ).stdout
        found = set(told.strip().strip("[]").replace("'", "").split(", ")) - {"", "PIL"}
        assert found == loaded
