"""The command `compare`: what a change of a maker's files does to the drums and runs."""

from __future__ import annotations

import argparse
import json
import os
import sys
from dataclasses import replace
from pathlib import Path

from tauthide.batch.inputs import show_path
from tauthide.batch.sides import Side, plan_seen, see_files, see_revision
from tauthide.cli import exits
from tauthide.cli.arguments import DEFAULT_PATHS
from tauthide.cli.report import FORMAT
from tauthide.comparing.data import comparison_data
from tauthide.comparing.drums import Comparison, compare
from tauthide.comparing.runs import compare_runs
from tauthide.comparing.text import comparison_markdown, comparison_text
from tauthide.drawings.overlay import draw_overlay, is_overlay
from tauthide.output.rewriting import write_overlaid

HEAD = "HEAD"
AS_THEY_LIE = "the files as they lie"


def run_compare(arguments: argparse.Namespace) -> int:
    """Run the command and return its exit code."""
    old, new, old_name, new_name = _sides(arguments)
    runs, same_runs = compare_runs(old.runs, new.runs, plan_seen)
    comparison = replace(compare(old.drums, new.drums), runs=runs, same_runs=same_runs)
    overlay = "" if arguments.overlay is None else _draw(comparison, Path(arguments.overlay))
    if arguments.format == "json":
        data = {"format": FORMAT, "command": "compare", **comparison_data(comparison, old_name, new_name)}
        sys.stdout.write(json.dumps(data, indent=2) + "\n")
    elif arguments.format == "markdown":
        sys.stdout.write(comparison_markdown(comparison, old_name, new_name, overlay))
    else:
        sys.stdout.write(comparison_text(comparison, old_name, new_name))
    sys.stdout.flush()
    return exits.WRONG if comparison.differs else exits.FINE


def _sides(arguments: argparse.Namespace) -> tuple[Side, Side, str, str]:
    """Return both sides and what they are called."""
    paths = arguments.paths or list(DEFAULT_PATHS)
    revisions = arguments.old_revision is not None or arguments.new_revision is not None
    if len(paths) > 2:
        raise exits.UsageTrouble("compare takes two paths, or one at two git revisions")
    if len(paths) == 2:
        if revisions:
            raise exits.UsageTrouble("--from and --to go with one path: it is compared with itself")
        if os.path.isdir(paths[0]) != os.path.isdir(paths[1]) and all(map(os.path.exists, paths)):  # noqa: PTH112
            raise exits.UsageTrouble("compare takes two files or two folders, not one of each")
        return see_files(paths[0]), see_files(paths[1]), *paths
    path = paths[0]
    revision = HEAD if arguments.old_revision is None else arguments.old_revision
    old = see_revision(path, revision)
    if arguments.new_revision is None:
        return old, see_files(path), f"{path} at {revision}", AS_THEY_LIE
    new = see_revision(path, arguments.new_revision)
    return old, new, f"{path} at {revision}", arguments.new_revision


def _draw(comparison: Comparison, path: Path) -> str:
    """Draw both hole layouts of the one drum that differs, and return the file's name; empty where none does."""
    pairs = [
        (change.old.plan, change.new.plan)
        for change in comparison.drums
        if change.old is not None
        and change.new is not None
        and change.old.plan is not None
        and change.new.plan is not None
    ]
    if not comparison.drums:
        return ""
    if len(pairs) != 1 or pairs[0][0] is None or pairs[0][1] is None:
        raise exits.UsageTrouble(
            f"--overlay draws one drum, and {len(pairs)} can be drawn here; name the spec that is meant"
        )
    shown = show_path(path)
    write_overlaid(path, shown, draw_overlay(*pairs[0]), is_overlay)
    return path.as_posix()
