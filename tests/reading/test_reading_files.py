"""Finding and reading files, on a real file system."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import pytest

from tauthide.reading.faults import MAX_BYTES
from tauthide.reading.files import (
    FileTrouble,
    NamedFileError,
    Unusable,
    find_documents,
    find_shop,
    read_bytes,
    repository_root,
    resolve_named,
)

POSIX = pytest.mark.skipif(sys.platform == "win32", reason="needs links and pipes")


@pytest.fixture
def repository(tmp_path: Path) -> Path:
    """Return a folder with `.git` and some specs, in a folder that holds more."""
    root = (tmp_path / "library").resolve()
    for name in ("specs/a.yaml", "specs/sub/b.yaml", "base.yaml"):
        write(root / name)
    (root / ".git").mkdir()
    write(root.parent / "outside.yaml")
    return root


def write(path: Path, text: str = "spec: 1\n") -> Path:
    """Write a file and the folders that it needs."""
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")
    return path


def trouble(path: Path) -> str:
    """Return what is said of a file that cannot be read."""
    with pytest.raises(FileTrouble) as caught:
        read_bytes(path, "specs/x.yaml")
    return str(caught.value)


class TestReadBytes:
    """Reading takes regular files only, and never more than a document may have."""

    def test_content(self, tmp_path: Path) -> None:
        path = tmp_path / "a.yaml"
        path.write_bytes(b"spec: 1\r\n\x00\xff")
        assert read_bytes(path, "a.yaml") == b"spec: 1\r\n\x00\xff"

    @pytest.mark.parametrize(("size", "read"), [(MAX_BYTES, MAX_BYTES), (MAX_BYTES + 5, MAX_BYTES + 1)])
    def test_at_most_one_byte_too_many(self, tmp_path: Path, size: int, read: int) -> None:
        path = tmp_path / "a.yaml"
        path.write_bytes(b"#" * size)
        assert len(read_bytes(path, "a.yaml")) == read

    def test_absent(self, tmp_path: Path) -> None:
        assert trouble(tmp_path / "x.yaml") == "specs/x.yaml: there is no such file or folder"

    def test_folder(self, tmp_path: Path) -> None:
        assert trouble(tmp_path) == "specs/x.yaml: this is a folder, where a file is wanted"

    def test_file_in_a_files_place(self, tmp_path: Path) -> None:
        message = trouble(write(tmp_path / "a") / "x.yaml")
        assert message.startswith("specs/x.yaml: ")

    def test_name_that_cannot_be(self) -> None:
        assert trouble(Path("a\0b")) == "specs/x.yaml: it cannot be read (the name cannot be used)"

    @POSIX
    def test_pipe_does_not_wait(self, tmp_path: Path) -> None:
        os.mkfifo(tmp_path / "x.yaml")
        message = "specs/x.yaml: this is not a regular file, where a file is wanted"
        assert trouble(tmp_path / "x.yaml") == message

    @POSIX
    def test_device(self) -> None:
        assert trouble(Path("/dev/zero")).endswith("this is not a regular file, where a file is wanted")

    @POSIX
    @pytest.mark.skipif(sys.platform == "win32" or os.geteuid() == 0, reason="root may read everything")
    def test_not_permitted(self, tmp_path: Path) -> None:
        path = write(tmp_path / "x.yaml")
        path.chmod(0)
        assert trouble(path) == "specs/x.yaml: you are not permitted to read this"

    @POSIX
    def test_link_to_itself(self, tmp_path: Path) -> None:
        (tmp_path / "x.yaml").symlink_to("x.yaml")
        assert trouble(tmp_path / "x.yaml").startswith("specs/x.yaml: it cannot be read (")


class TestRepositoryRoot:
    """The nearest folder with `.git`, else the current folder, else the file's own."""

    @pytest.mark.parametrize("name", ["specs/sub/b.yaml", "specs/sub", "specs/new.yaml", "base.yaml", "."])
    def test_nearest_git(self, repository: Path, name: str) -> None:
        assert repository_root(repository / name) == repository

    def test_git_file_of_a_worktree(self, repository: Path) -> None:
        (repository / "specs" / ".git").write_text("gitdir: elsewhere\n", encoding="utf-8")
        assert repository_root(repository / "specs/sub/b.yaml") == repository / "specs"
        assert repository_root(repository / "base.yaml") == repository

    def test_relative_path(self, repository: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.chdir(repository / "specs")
        assert repository_root(Path("a.yaml")) == repository
        assert repository_root(Path("sub/../a.yaml")) == repository

    def test_current_folder_without_git(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        path = write(tmp_path / "one/two/a.yaml")
        monkeypatch.chdir(tmp_path / "one")
        assert repository_root(path) == (tmp_path / "one").resolve()

    def test_own_folder_without_git_elsewhere(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        path = write(tmp_path / "one/two/a.yaml")
        (tmp_path / "three").mkdir()
        monkeypatch.chdir(tmp_path / "three")
        assert repository_root(path) == (tmp_path / "one/two").resolve()
        assert repository_root(tmp_path / "one") == (tmp_path / "one").resolve()


class TestFindDocuments:
    """Every document below a folder, in one order on every machine."""

    def test_endings_and_order(self, tmp_path: Path) -> None:
        names = ["a-b.yaml", "a.yaml", "a/b.yaml", "a/é.yml", "B.yaml", "Z.YML", "a/b/c.yaml", "b.yaml"]
        for name in (*names, "c.json", "yaml", "d.yaml.bak", "e.yaml~"):
            write(tmp_path / name)
        found = [path.relative_to(tmp_path).as_posix() for path in find_documents(tmp_path)]
        assert found == sorted(names, key=str.encode)

    def test_paths_begin_as_the_folder_was_given(self, repository: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.chdir(repository)
        assert find_documents(Path("specs")) == [Path("specs/a.yaml"), Path("specs/sub/b.yaml")]
        assert find_documents(Path()) == [Path("base.yaml"), Path("specs/a.yaml"), Path("specs/sub/b.yaml")]

    def test_hidden_names_are_passed_over(self, repository: Path) -> None:
        for name in (".hidden.yaml", ".git/config.yaml", "specs/.cache/x.yaml", ".yaml"):
            write(repository / name)
        assert len(find_documents(repository)) == len(["base.yaml", "specs/a.yaml", "specs/sub/b.yaml"])

    def test_hidden_folder_that_was_asked_for(self, repository: Path) -> None:
        path = write(repository / ".drafts/x.yaml")
        assert find_documents(repository / ".drafts") == [path]

    def test_folder_named_as_a_document(self, repository: Path) -> None:
        path = write(repository / "specs/sub/x.yaml/inner.yml")
        assert path in find_documents(repository)
        assert path.parent not in find_documents(repository)

    @POSIX
    def test_links(self, repository: Path) -> None:
        specs = repository / "specs"
        (specs / "within.yaml").symlink_to("../base.yaml")
        (specs / "out.yaml").symlink_to(repository.parent / "outside.yaml")
        (specs / "nowhere.yaml").symlink_to("absent.yaml")
        (specs / "circle.yaml").symlink_to("circle.yaml")
        (specs / "folder.yaml").symlink_to("sub")
        (specs / "again").symlink_to(".")
        found = [path.relative_to(specs).as_posix() for path in find_documents(specs)]
        assert found == ["a.yaml", "sub/b.yaml", "within.yaml"]

    @POSIX
    def test_pipe(self, repository: Path) -> None:
        os.mkfifo(repository / "specs/pipe.yaml")
        assert repository / "specs/pipe.yaml" not in find_documents(repository)

    def test_empty_and_absent_folder(self, tmp_path: Path) -> None:
        assert find_documents(tmp_path) == []
        with pytest.raises(FileTrouble, match="there is no such file or folder"):
            find_documents(tmp_path / "absent")


class TestFindShop:
    """The nearest `shop.yaml`, beside or above, not above the repository."""

    def test_none(self, repository: Path) -> None:
        write(repository.parent / "shop.yaml")
        assert find_shop(repository / "specs/a.yaml") is None

    def test_nearest(self, repository: Path) -> None:
        top = write(repository / "shop.yaml")
        assert find_shop(repository / "specs/sub/b.yaml") == top
        near = write(repository / "specs/shop.yaml")
        assert find_shop(repository / "specs/sub/b.yaml") == near
        beside = write(repository / "specs/sub/shop.yaml")
        assert find_shop(repository / "specs/sub/b.yaml") == beside
        assert find_shop(repository / "base.yaml") == top

    def test_relative_path(self, repository: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        shop = write(repository / "shop.yaml")
        monkeypatch.chdir(repository / "specs")
        assert find_shop(Path("a.yaml")) == shop

    def test_folder_of_that_name_is_not_passed_over(self, repository: Path) -> None:
        write(repository / "shop.yaml")
        (repository / "specs/shop.yaml").mkdir()
        shop = find_shop(repository / "specs/a.yaml")
        assert shop == repository / "specs/shop.yaml"
        assert shop is not None
        assert "this is a folder" in trouble(shop)

    @POSIX
    def test_links(self, repository: Path) -> None:
        shop = repository / "specs/shop.yaml"
        shop.symlink_to("../base.yaml")
        assert find_shop(repository / "specs/a.yaml") == shop
        shop.unlink()
        shop.symlink_to(repository.parent / "outside.yaml")
        with pytest.raises(FileTrouble, match="leads out of the repository"):
            find_shop(repository / "specs/a.yaml")


class TestResolveInherited:
    """A file to inherit from: relative, a document, and within the repository."""

    @pytest.mark.parametrize(
        ("text", "expected"),
        [
            ("../base.yaml", "base.yaml"),
            ("sub/b.yaml", "specs/sub/b.yaml"),
            ("./sub/../a.yaml", "specs/a.yaml"),
            ("a.yaml", "specs/a.yaml"),
        ],
    )
    def test_taken(self, repository: Path, text: str, expected: str) -> None:
        assert resolve_named(repository / "specs/a.yaml", text) == repository / expected

    def test_relative_path(self, repository: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.chdir(repository)
        assert resolve_named(Path("specs/a.yaml"), "../base.yaml") == repository / "base.yaml"

    @pytest.mark.parametrize(
        ("text", "reason"),
        [
            ("", Unusable.EMPTY),
            ("  ", Unusable.EMPTY),
            ("..\\base.yaml", Unusable.CHARACTER),
            ("a\0.yaml", Unusable.CHARACTER),
            ("a\x1b[31m.yaml", Unusable.CHARACTER),
            ("a\n.yaml", Unusable.CHARACTER),
            ("\ud800.yaml", Unusable.CHARACTER),
            ("~/base.yaml", Unusable.HOME),
            ("~shop/base.yaml", Unusable.HOME),
            ("/etc/base.yaml", Unusable.ABSOLUTE),
            ("//host/share/base.yaml", Unusable.ABSOLUTE),
            ("C:base.yaml", Unusable.ABSOLUTE),
            ("C:/base.yaml", Unusable.ABSOLUTE),
            ("base.json", Unusable.ENDING),
            ("base", Unusable.ENDING),
            ("..", Unusable.ENDING),
            ("../../outside.yaml", Unusable.OUTSIDE),
            ("../../absent.yaml", Unusable.OUTSIDE),
            ("../../../../../../../../../../../../x.yaml", Unusable.OUTSIDE),
            ("absent.yaml", Unusable.ABSENT),
            ("absent/a.yaml", Unusable.ABSENT),
            ("a.yaml/b.yaml", Unusable.ABSENT),
            ("x" * 5000 + ".yaml", Unusable.ABSENT),
            ("folder.yaml", Unusable.NOT_A_FILE),
        ],
    )
    def test_refused(self, repository: Path, text: str, reason: Unusable) -> None:
        (repository / "specs/folder.yaml").mkdir()
        with pytest.raises(NamedFileError) as caught:
            resolve_named(repository / "specs/a.yaml", text)
        assert caught.value.reason is reason
        assert caught.value.text == text

    @POSIX
    @pytest.mark.parametrize(
        ("target", "reason"),
        [
            ("../../outside.yaml", Unusable.OUTSIDE),
            ("link.yaml", Unusable.ABSENT),
            ("absent.yaml", Unusable.ABSENT),
            ("sub", Unusable.NOT_A_FILE),
            ("notes.txt", Unusable.ENDING),
        ],
    )
    def test_refused_links(self, repository: Path, target: str, reason: Unusable) -> None:
        write(repository / "specs/notes.txt")
        (repository / "specs/link.yaml").symlink_to(target)
        with pytest.raises(NamedFileError) as caught:
            resolve_named(repository / "specs/a.yaml", "link.yaml")
        assert caught.value.reason is reason

    @POSIX
    def test_link_within_is_followed(self, repository: Path) -> None:
        (repository / "specs/link.yaml").symlink_to("../base.yaml")
        assert resolve_named(repository / "specs/a.yaml", "link.yaml") == repository / "base.yaml"

    @POSIX
    def test_pipe(self, repository: Path) -> None:
        os.mkfifo(repository / "specs/pipe.yaml")
        with pytest.raises(NamedFileError) as caught:
            resolve_named(repository / "specs/a.yaml", "pipe.yaml")
        assert caught.value.reason is Unusable.NOT_A_FILE
