"""The folder of a run's papers: every file whole or not at all, none over what is not ours, none left over.

A list of the files, with their hashes, lies beside them. What is on it is ours to replace or remove.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from tauthide.output.files import (
    Kind,
    StoreTrouble,
    digest,
    in_the_way,
    kind_of,
    not_ours,
    read_file,
    remove_file,
    replace_files,
    shown_path,
    sweep,
    told,
)

LIST_NAME = ".tauthide-run.json"
RECORDS_LIST_NAME = ".tauthide-records.json"
"""The list of the papers that are made of records."""
FORMAT = 1


@dataclass(frozen=True, slots=True)
class WrittenRun:
    """What became of a run's files."""

    written: int
    unchanged: int
    removed: int


def write_run(folder: Path, shown: str, files: Mapping[str, bytes], list_name: str = LIST_NAME) -> WrittenRun:
    """Write a run's papers, and remove those of an earlier one that are no longer among them; StoreTrouble if it can't.

    Papers of another sort in the same folder have a list of another name.

    The list of files is widened before anything is placed and narrowed at the end, so that whatever happens in
    between, every file of ours stands on it.
    """
    _make(folder, shown)
    sweep(str(folder))
    listed = _read_list(folder, shown, list_name)
    there = {name: read_file(str(folder), shown, name) for name in files}
    for name, content in there.items():
        if content is not None and name not in listed and content != files[name]:
            raise not_ours(shown, name)
    fresh = {name: content for name, content in files.items() if there[name] != content}
    hashes = {name: digest(content) for name, content in files.items()}
    root = str(folder)
    replace_files(root, shown, {list_name: _list({**listed, **hashes})})
    replace_files(root, shown, fresh)
    removed = sum(remove_file(folder=root, shown=shown, path=name) for name in sorted(set(listed) - set(files)))
    replace_files(root, shown, {list_name: _list(hashes)})
    return WrittenRun(len(fresh), len(files) - len(fresh), removed)


def _make(folder: Path, shown: str) -> None:
    kind = kind_of(folder)
    if kind is Kind.LINK:
        raise in_the_way(shown, "", kind)
    if kind is not None and kind is not Kind.FOLDER:
        raise StoreTrouble(f"{shown} is not a folder; choose another --out")
    with told(shown, ""):
        folder.mkdir(parents=True, exist_ok=True)


def _read_list(folder: Path, shown: str, list_name: str) -> dict[str, str]:
    content = read_file(str(folder), shown, list_name)
    if content is None:
        return {}
    try:
        data = json.loads(content)
        files = dict(data["files"])
        if data["format"] != FORMAT or not all(isinstance(item, str) for pair in files.items() for item in pair):
            raise ValueError
    except (ValueError, KeyError, TypeError):
        raise StoreTrouble(
            f"{shown_path(shown, list_name)}, the list of the files that are Tauthide's, can't be used. "
            f"Move the folder {shown} away, or delete it if nothing in it is yours"
        ) from None
    if any("/" in name or name in (".", "..") for name in files):
        raise StoreTrouble(f"{shown_path(shown, list_name)} names files outside its folder; delete it")
    return files


def _list(hashes: Mapping[str, str]) -> bytes:
    data = {"format": FORMAT, "files": dict(sorted(hashes.items()))}
    return (json.dumps(data, indent=1, ensure_ascii=True) + "\n").encode("ascii")
