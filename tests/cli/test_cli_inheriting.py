"""Bases and shop files, end to end: what is wrong with them is told at its place, and none is taken on trust."""

from __future__ import annotations

import json
import os
import re
import sys

import pytest

from workshops import Workshop, files_of, spec_text, stamps

needs_posix = pytest.mark.skipif(sys.platform == "win32", reason="no such thing there")

BASE = "base: 1\nstations: {web: 17 mm}\n"


def heir(inherits: str, drum: str = "A") -> str:
    """Return a spec that inherits, on line 3."""
    return spec_text(drum, more=f"inherits: {inherits}\n")


class TestBadBase:
    @pytest.mark.parametrize(
        ("inherits", "name"),
        [
            ("nowhere.yaml", "inherits-absent"),
            ("../../outside.yaml", "inherits-outside"),
            ("/etc/base.yaml", "inherits-absolute"),
            ("C:/base.yaml", "inherits-absolute"),
            ("~/base.yaml", "inherits-bad-name"),
            ("base.txt", "inherits-bad-name"),
            ("sub\\base.yaml", "inherits-bad-name"),
            ('"ba\\x01se.yaml"', "inherits-bad-name"),
            ("folder.yaml", "inherits-no-file"),
            ("pipe.yaml", "inherits-no-file"),
            ("device.yaml", "inherits-outside"),
            ("linked.yaml", "inherits-outside"),
            ("loop.yaml", "inherits-absent"),
            ("a.yaml", "inherits-itself"),
            ("./../specs/a.yaml", "inherits-itself"),
            ("b.yaml", "inherits-wrong-kind"),
            ("shop.yaml", "inherits-wrong-kind"),
        ],
    )
    @needs_posix
    def test_finding_at_the_name(self, workshop: Workshop, inherits: str, name: str) -> None:
        (workshop.folder / "specs/folder.yaml").mkdir(parents=True)
        os.mkfifo(workshop.folder / "specs/pipe.yaml")
        (workshop.folder / "specs/device.yaml").symlink_to("/dev/null")
        (workshop.folder / "specs/loop.yaml").symlink_to("loop.yaml")
        (workshop.folder.parent / "outside.yaml").write_text(BASE)
        (workshop.folder / "specs/linked.yaml").symlink_to("../../outside.yaml")
        workshop.write("specs/b.yaml", spec_text("B"))
        workshop.write("specs/shop.yaml", "shop: 1\n")
        workshop.write("specs/a.yaml", heir(inherits))
        run = workshop.build()
        assert run.code == 1
        finding = run.only
        assert (finding["name"], finding["severity"], finding["path"]) == (name, "error", "inherits")
        assert (finding["file"], finding["line"], finding["column"]) == ("specs/a.yaml", 3, 11)
        assert finding["found"] == inherits.strip('"').replace("\\x01", "\x01")
        assert finding["allowed"]
        assert list(workshop.sheets()) == ["A/sheet.md", *files_of("B"), "index.md"]

    @pytest.mark.parametrize(
        ("inherits", "name"),
        [("3", "wrong-type"), ("[base.yaml]", "wrong-type"), ("", "empty-value"), ('" "', "empty-value")],
    )
    def test_not_a_name(self, workshop: Workshop, inherits: str, name: str) -> None:
        workshop.write("specs/a.yaml", heir(inherits))
        run = workshop.check()
        assert run.code == 1
        assert name in run.names

    def test_circle(self, workshop: Workshop) -> None:
        """It is told where it closes, and once, however many specs run into it."""
        workshop.write("specs/a.yaml", heir("one.yaml"))
        workshop.write("specs/b.yaml", heir("two.yaml", "B"))
        workshop.write("specs/one.yaml", "base: 1\ninherits: two.yaml\n")
        workshop.write("specs/two.yaml", "base: 1\n\ninherits: one.yaml\n")
        run = workshop.check()
        assert run.code == 1
        assert [(finding["name"], finding["file"], finding["line"]) for finding in run.findings] == [
            ("inherits-itself", "specs/one.yaml", 2),
            ("inherits-itself", "specs/two.yaml", 3),
        ]

    def test_chain_of_five_and_six(self, workshop: Workshop) -> None:
        for number in range(1, 7):
            workshop.write(f"specs/b{number}.yaml", f"base: 1\ninherits: b{number + 1}.yaml\n")
        workshop.write("specs/b5.yaml", BASE)
        workshop.write("specs/b6.yaml", BASE)
        workshop.write("specs/a.yaml", heir("b1.yaml"))
        assert workshop.check("specs/a.yaml").findings == []
        workshop.write("specs/b5.yaml", "base: 1\ninherits: b6.yaml\n")
        finding = workshop.check("specs/a.yaml").only
        assert (finding["name"], finding["file"], finding["line"]) == ("inherits-too-deep", "specs/b5.yaml", 2)
        assert finding["allowed"] == "a chain of 5 bases at most"

    def test_fault_in_the_base_is_told_there(self, workshop: Workshop) -> None:
        workshop.write("specs/a.yaml", heir("base.yaml"))
        workshop.write("specs/b.yaml", heir("base.yaml", "B"))
        workshop.write("specs/base.yaml", "base: 1\nstations: {web: 17}\n")
        run = workshop.build()
        assert run.code == 1
        finding = run.only
        assert (finding["name"], finding["file"], finding["line"]) == ("missing-unit", "specs/base.yaml", 2)
        assert "base\\.yaml, line 2" in workshop.sheet("B")

    def test_base_that_is_no_yaml(self, workshop: Workshop) -> None:
        workshop.write("specs/a.yaml", heir("base.yaml"))
        workshop.write("specs/base.yaml", "base: 1\nstations: {web: 17 mm\n")
        run = workshop.build()
        assert (run.code, run.only["name"], run.only["file"]) == (1, "yaml-syntax", "specs/base.yaml")

    def test_base_that_nobody_uses(self, workshop: Workshop) -> None:
        workshop.write("specs/a.yaml", spec_text("A"))
        workshop.write("specs/base.yaml", "base: 1\nstations: {web: 17}\n")
        for run in (workshop.check(), workshop.build()):
            assert (run.code, run.only["name"], run.only["file"]) == (1, "missing-unit", "specs/base.yaml")
            assert run.report["summary"]["specs"] == 1
        assert list(workshop.sheets()) == [*files_of("A"), "index.md"]

    def test_together_they_do_not_fit(self, workshop: Workshop) -> None:
        """What only the two together say wrong is told where it stands, in the base."""
        workshop.write("specs/base.yaml", "base: 1\nframe: {diameter: 13 in}\n")
        text = (
            "spec: 1\ndrum: A\ninherits: base.yaml\nframe: {outline: oval, length: 14 in, width: 13 in, depth: 50 mm}\n"
        )
        workshop.write("specs/a.yaml", text + "head: {hide: goat}\nstations: {count: 16}\n")
        finding = workshop.check().only
        assert (finding["name"], finding["file"], finding["line"]) == ("other-outline", "specs/base.yaml", 2)

    def test_together_they_lack_something(self, workshop: Workshop) -> None:
        workshop.write("specs/base.yaml", BASE)
        workshop.write("specs/a.yaml", "spec: 1\ndrum: A\ninherits: base.yaml\nframe: {outline: round, depth: 5 cm}\n")
        run = workshop.check()
        assert run.code == 1
        assert {(finding["name"], finding["path"], finding["file"]) for finding in run.findings} == {
            ("missing-key", "frame.diameter", "specs/a.yaml"),
            ("missing-key", "head", "specs/a.yaml"),
            ("missing-key", "stations.count", "specs/a.yaml"),
        }


class TestWorkingBases:
    def test_values_and_their_places(self, workshop: Workshop) -> None:
        workshop.write("bases/far.yaml", "base: 1\nstations: {web: 16 mm, hole: 9 mm}\nlace: {play: 9 mm}\n")
        workshop.write("bases/near.yaml", "base: 1\ninherits: far.yaml\nstations: {web: 17 mm}\n")
        workshop.write("specs/a.yaml", heir("../bases/near.yaml"))
        assert workshop.build().code == 0
        sheet = workshop.sheet("A").replace("\\", "")
        origins = dict(re.findall(r"`([a-z_]+\.[a-z_]+)` .* (\S+yaml, line \d+) \|", sheet))
        assert origins["stations.web"] == "../bases/near.yaml, line 3"
        assert origins["stations.hole"] == "../bases/far.yaml, line 2"
        assert origins["lace.play"] == "../bases/far.yaml, line 3"
        assert origins["frame.depth"] == "a.yaml, line 4"

    def test_changed_base_is_built_anew(self, workshop: Workshop) -> None:
        workshop.write("specs/base.yaml", BASE)
        workshop.write("specs/a.yaml", heir("base.yaml"))
        workshop.write("specs/b.yaml", spec_text("B"))
        workshop.build()
        before = workshop.sheets()
        workshop.write("specs/base.yaml", BASE.replace("17", "18"))
        run = workshop.build()
        assert run.report["summary"]["written"] > 0
        changed = {name for name, content in workshop.sheets().items() if content != before[name]}
        assert "A/sheet.md" in changed
        assert not [name for name in changed if name.startswith("B/")]

    @needs_posix
    def test_names_do_not_depend_on_how_the_folder_is_reached(self, workshop: Workshop) -> None:
        workshop.write("real/specs/base.yaml", BASE)
        workshop.write("real/specs/a.yaml", heir("base.yaml"))
        (workshop.folder / "link").symlink_to("real")
        workshop.build("real/specs", "--out", "one")
        workshop.build(str(workshop.folder / "link/specs"), "--out", "two")
        one = {path.name: path.read_bytes() for path in (workshop.folder / "one").rglob("*") if path.is_file()}
        two = {path.name: path.read_bytes() for path in (workshop.folder / "two").rglob("*") if path.is_file()}
        assert one == two


def origin_of_play(workshop: Workshop) -> tuple[str | None, int | None]:
    """Return file and line of the play that drum A is built with."""
    default = json.loads(workshop.sheets()["A/plan.json"])["defaults"]["lace.play"]
    return default["file"], default["line"]


class TestShop:
    SHOP = "shop: 1\nlace: {play: 7 mm}\n"

    @pytest.mark.parametrize("place", ["specs/below", "specs", "."])
    def test_found_beside_or_above(self, workshop: Workshop, place: str) -> None:
        workshop.write(f"{place}/shop.yaml", self.SHOP)
        workshop.write("specs/below/a.yaml", spec_text("A"))
        assert workshop.build().code == 0
        assert origin_of_play(workshop) == (os.path.relpath(f"{place}/shop.yaml", "specs/below"), 2)

    def test_the_nearest_counts(self, workshop: Workshop) -> None:
        workshop.write("shop.yaml", self.SHOP)
        workshop.write("specs/shop.yaml", "shop: 1\n\nlace: {play: 8 mm}\n")
        workshop.write("specs/a.yaml", spec_text("A"))
        workshop.build()
        assert origin_of_play(workshop) == ("shop.yaml", 3)

    def test_not_above_the_repository(self, workshop: Workshop) -> None:
        (workshop.folder.parent / "shop.yaml").write_text("shop: broken\n")
        workshop.write("specs/a.yaml", spec_text("A"))
        assert workshop.build().findings == []
        assert origin_of_play(workshop) == (None, None)

    @pytest.mark.parametrize(
        ("content", "name", "line"),
        [
            ("shop: 1\nlace: {play: 7}\n", "missing-unit", 2),
            ("shop: 1\nlace: {play: [\n", "yaml-syntax", 2),
            ("shop: 2\n", "unknown-version", 1),
            ("base: 1\n", "shop-wrong-kind", 1),
            ("", "empty-file", 1),
            ("shop: 1\nframe: {diameter: 13 in}\n", "unknown-key", 2),
        ],
    )
    def test_broken(self, workshop: Workshop, content: str, name: str, line: int) -> None:
        workshop.write("shop.yaml", self.SHOP)
        workshop.write("specs/a.yaml", spec_text("A"))
        workshop.write("specs/b.yaml", spec_text("B"))
        assert workshop.build().code == 0
        workshop.write("shop.yaml", content)
        for run in (workshop.check(), workshop.build()):
            assert run.code == 1
            assert (run.only["name"], run.only["file"], run.only["line"]) == (name, "shop.yaml", line)
        assert list(workshop.sheets()) == ["A/sheet.md", "B/sheet.md", "index.md"]

    @pytest.mark.parametrize("kind", ["folder", "pipe", "link out"])
    @needs_posix
    def test_not_a_file(self, workshop: Workshop, kind: str) -> None:
        """To pass over it would change the shop's defaults without a word."""
        shop = workshop.folder / "shop.yaml"
        if kind == "folder":
            shop.mkdir()
        elif kind == "pipe":
            os.mkfifo(shop)
        else:
            shop.symlink_to("../else.yaml")
        workshop.write("specs/a.yaml", spec_text("A"))
        run = workshop.build()
        assert (run.code, run.only["name"], run.only["file"]) == (2, "unreadable-file", "specs/a.yaml")
        assert "shop.yaml" in run.only["message"]
        assert str(workshop.folder) not in workshop.sheet("A")

    def test_changed_shop_is_built_anew(self, workshop: Workshop) -> None:
        workshop.write("specs/a.yaml", spec_text("A"))
        workshop.build()
        bare = workshop.sheets()
        workshop.write("shop.yaml", self.SHOP)
        workshop.build()
        assert workshop.sheets() != bare
        (workshop.folder / "shop.yaml").unlink()
        workshop.build()
        assert workshop.sheets() == bare

    def test_checked_when_named(self, workshop: Workshop) -> None:
        workshop.write("shop.yaml", "shop: 1\nlace: {play: 7}\n")
        assert workshop.check("shop.yaml").names == ["missing-unit"]

    def test_nothing_else_is_written(self, workshop: Workshop) -> None:
        workshop.write("shop.yaml", self.SHOP)
        workshop.write("specs/a.yaml", spec_text("A"))
        before = stamps(workshop.folder)
        workshop.check()
        assert stamps(workshop.folder) == before
