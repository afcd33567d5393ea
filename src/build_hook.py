"""Makes the manual page and the completions of shells from the program's parser, while the wheel is built.

So the program itself needs neither of the libraries that make them, and starts none the slower. The build
backend runs this file as it stands: it is no part of the package.
"""

from __future__ import annotations

import argparse
import os
import shutil
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface

EDITABLE = "editable"
"""The kind of wheel that only points here: it is made again and again while the program is worked on."""
COLUMNS = "70"
"""Width that usage is wrapped to, whatever terminal the wheel is built in: a page is set in from one of 80."""
MANUAL = "share/man/man1/tauthide.1"
COMPLETIONS = {
    "bash": "share/bash-completion/completions/tauthide",
    "zsh": "share/zsh/site-functions/_tauthide",
    "fish": "share/fish/vendor_completions.d/tauthide.fish",
}
"""Where each shell looks below a prefix for the completions of a command."""
FILES = frozenset({"PATH", "SPEC", "FILE", "OLD", "NEW"})
FOLDERS = frozenset({"DIR"})
"""Metavariables that stand for what lies on the disk."""


class CustomBuildHook(BuildHookInterface[Any]):
    """Adds the files to the wheel's shared data."""

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Make the files in a folder of their own and say where they go."""
        if version == EDITABLE:
            return
        sys.path.insert(0, str(Path(self.root) / "src"))
        os.environ["COLUMNS"] = COLUMNS
        self._folder = Path(tempfile.mkdtemp(prefix="tauthide-"))
        for place, text in make_files(self.metadata.version, str(self.metadata.core.description)).items():
            file = self._folder / place
            file.parent.mkdir(parents=True, exist_ok=True)
            file.write_text(text, encoding="utf-8")
            build_data["shared_data"][str(file)] = place

    def finalize(self, version: str, build_data: dict[str, Any], artifact_path: str) -> None:
        """Clear the folder away."""
        if version != EDITABLE:
            shutil.rmtree(self._folder, ignore_errors=True)


def make_files(version: str, description: str) -> dict[str, str]:
    """Return the texts by their place below a prefix."""
    import shtab
    from argparse_manpage.manpage import Manpage

    from tauthide.cli.arguments import make_parser

    # The version stands where a page has its date, so that the same sources make the same page on any day.
    told = {"date": version, "project_name": "tauthide", "version": version, "manual_title": "User Commands",
            "description": description.rstrip(".")}  # fmt: skip
    files = {MANUAL: f"{Manpage(make_parser(), told)}\n"}
    for shell, place in COMPLETIONS.items():
        files[place] = shtab.complete(_with_files(make_parser()), shell) + "\n"
    return files


def _with_files(parser: argparse.ArgumentParser) -> argparse.ArgumentParser:
    """Return the parser, told which of its arguments are files and which folders."""
    import shtab

    # shtab reads `complete` of an action, which argparse does not declare: hence the two exceptions for mypy.
    for action in _actions(parser):
        if action.metavar in FILES:
            action.complete = shtab.FILE  # type: ignore[attr-defined]
        elif action.metavar in FOLDERS:
            action.complete = shtab.DIRECTORY  # type: ignore[attr-defined]
    return parser


def _actions(parser: argparse.ArgumentParser) -> Iterator[argparse.Action]:
    for action in parser._actions:
        yield action
        if isinstance(action, argparse._SubParsersAction):
            for command in action.choices.values():
                yield from _actions(command)
