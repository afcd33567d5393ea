"""What a build would change is found without a build."""

from __future__ import annotations

import shutil
import sys
from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest

from output_builds import Batch, Wanted, build, contents, expected_of, stamps
from tauthide.output.comparison import Difference, Gap, differences
from tauthide.output.files import StoreTrouble
from tauthide.output.manifest import DRUM_FILES, MANIFEST_NAME

BATCH: Batch = {"LIB-13": Wanted("goat"), "LIB-14": Wanted("cow")}


def compare(folder: Path, batch: Batch) -> dict[str, Gap]:
    """Return the differences by path, having checked that nothing was touched."""
    before = stamps(folder)
    found = differences(folder, "build", expected_of(batch))
    assert stamps(folder) == before
    assert list(found) == sorted(found)
    return {difference.path: difference.gap for difference in found}


class TestDifferences:
    """Stale, missing and left over, each by its path."""

    def test_none_after_a_build(self, tmp_path: Path) -> None:
        build(tmp_path, BATCH)
        assert compare(tmp_path, BATCH) == {}

    def test_all_is_missing_where_nothing_was_built(self, tmp_path: Path) -> None:
        found = differences(tmp_path / "none", "build", expected_of(BATCH))
        assert {difference.gap for difference in found} == {Gap.MISSING}
        assert len(found) == 2 * len(DRUM_FILES) + 1
        assert found[0] == Difference("LIB-13/frame.svg", Gap.MISSING)
        assert not (tmp_path / "none").exists()

    def test_each_kind(self, tmp_path: Path) -> None:
        build(tmp_path, {**BATCH, "LIB-15": Wanted("elk", failed=True)})
        (tmp_path / "LIB-13/plan.json").write_bytes(b"edited")
        (tmp_path / "LIB-14/gauge.svg").unlink()
        assert compare(tmp_path, BATCH) == {
            "LIB-13/plan.json": Gap.STALE,
            "LIB-14/gauge.svg": Gap.MISSING,
            "LIB-15/sheet.md": Gap.LEFT_OVER,
            "index.md": Gap.STALE,
        }

    def test_a_drum_that_fails_now(self, tmp_path: Path) -> None:
        build(tmp_path, BATCH)
        failed: Batch = {**BATCH, "LIB-13": Wanted("goat", failed=True)}
        left = {f"LIB-13/{name}": Gap.LEFT_OVER for name in DRUM_FILES if name != "sheet.md"}
        assert compare(tmp_path, failed) == {**left, "LIB-13/sheet.md": Gap.STALE}

    def test_left_over_only_while_it_is_there(self, tmp_path: Path) -> None:
        build(tmp_path, {**BATCH, "LIB-15": Wanted("elk")})
        shutil.rmtree(tmp_path / "LIB-15")
        assert compare(tmp_path, BATCH) == {"index.md": Gap.STALE}

    def test_files_of_the_makers_do_not_count(self, tmp_path: Path) -> None:
        build(tmp_path, BATCH)
        (tmp_path / "LIB-13/notes.txt").write_bytes(b"mine")
        (tmp_path / "other").mkdir()
        (tmp_path / "other/sheet.md").write_bytes(b"mine")
        assert compare(tmp_path, BATCH) == {}

    def test_a_build_mends_it(self, tmp_path: Path) -> None:
        build(tmp_path, {"LIB-13": Wanted("x"), "LIB-15": Wanted("elk")})
        assert compare(tmp_path, BATCH) != {}
        build(tmp_path, BATCH)
        assert compare(tmp_path, BATCH) == {}

    def test_one_drum_at_a_time_is_asked_for(self, tmp_path: Path) -> None:
        build(tmp_path, BATCH)
        (tmp_path / "LIB-13/plan.json").unlink()
        alive: list[int] = []

        class Files(dict[str, bytes]):
            def __del__(self) -> None:
                alive.remove(id(self))

        def stream() -> Iterator[tuple[str, Mapping[str, bytes]]]:
            for drum, files in expected_of(BATCH):
                assert len(alive) <= 1  # the one before may still be in the caller's hands
                held = Files(files)
                alive.append(id(held))
                yield drum, held
                del held

        assert len(differences(tmp_path, "build", stream())) == 1


class TestTrouble:
    """What would stop a build is trouble here, too."""

    def test_damaged_manifest(self, tmp_path: Path) -> None:
        build(tmp_path, BATCH)
        (tmp_path / MANIFEST_NAME).write_bytes(b"{")
        with pytest.raises(StoreTrouble, match="isn't whole JSON"):
            differences(tmp_path, "build", expected_of(BATCH))

    def test_a_file_in_the_folders_place(self, tmp_path: Path) -> None:
        (tmp_path / "build").write_bytes(b"")
        with pytest.raises(StoreTrouble, match="build is not a folder"):
            differences(tmp_path / "build", "build", expected_of(BATCH))

    @pytest.mark.skipif(sys.platform == "win32", reason="links need special rights there")
    @pytest.mark.parametrize("path", ["LIB-13", "LIB-13/sheet.md", "index.md"])
    def test_links(self, tmp_path: Path, path: str) -> None:
        build(tmp_path / "build", BATCH)
        (tmp_path / "build" / path).rename(tmp_path / "moved")
        (tmp_path / "build" / path).symlink_to(tmp_path / "moved")
        before = contents(tmp_path)
        with pytest.raises(StoreTrouble, match=f"build/{path} is a link"):
            differences(tmp_path / "build", "build", expected_of(BATCH))
        assert contents(tmp_path) == before
