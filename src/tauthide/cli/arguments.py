"""The arguments of the command line."""

from __future__ import annotations

import argparse
import os

from tauthide import __version__
from tauthide.cli.exits import UsageTrouble

TYPE_CHECKING = False  # type checkers take it for true; `typing` itself takes longer than the parser
if TYPE_CHECKING:
    from typing import NoReturn

DEFAULT_PATHS = ("specs",)
DEFAULT_FOLDER = "sheets"
MOST_JOBS = 64
MOST_DEPTH = 99

EXITS = """exit codes:
  0    fine (warnings allowed)
  1    findings of error severity, or output that is stale
  2    bad usage, or files that can't be read or written
  3    a fault of this program
  130  interrupted"""


class _Parser(argparse.ArgumentParser):
    def error(self, message: str) -> NoReturn:
        raise UsageTrouble(f"{message} (see `{self.prog} --help`)")


def make_parser() -> argparse.ArgumentParser:
    """Return the parser of the command line."""
    parser = _Parser(
        prog="tauthide",
        description="Compiles specs of hand-laced rawhide frame drums into build sheets with drawings.",
        epilog=EXITS,
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    parser.add_argument("--version", action="version", version=f"tauthide {__version__}")
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", required=True, parser_class=_Parser)
    check = commands.add_parser(
        "check", help="read and validate specs, print findings, write nothing", allow_abbrev=False
    )
    _add_common(check)
    build = commands.add_parser("build", help="compile specs into build sheets", allow_abbrev=False)
    _add_common(build)
    build.add_argument(
        "--out",
        metavar="DIR",
        type=_folder,
        default=DEFAULT_FOLDER,
        help=f"folder for the sheets (default: {DEFAULT_FOLDER})",
    )
    build.add_argument(
        "--verify", action="store_true",
        help="write nothing; exit 1 if what is on disk is stale, missing or left over",
    )  # fmt: skip
    build.add_argument(
        "--jobs", metavar="N", type=_job_count, default=1,
        help="compile in N processes (default: 1; 0: one for each processor)",
    )  # fmt: skip
    build.add_argument(
        "--templates", metavar="DIR", type=_folder,
        help="folder of your own templates; what they don't replace is built in",
    )  # fmt: skip
    _add_suggest(
        commands.add_parser("suggest", help="values that meet all rules, for a spec or a new one", allow_abbrev=False)
    )
    _add_explain(commands.add_parser("explain", help="how a figure, value or rule comes about", allow_abbrev=False))
    _add_format(commands.add_parser("rules", help="list the rules", allow_abbrev=False))
    return parser


def _add_explain(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "what", metavar="NAME",
        help="a figure (head.blank_diameter), a field (stations.web), or a rule or fault (pairs-close)",
    )  # fmt: skip
    command.add_argument(
        "spec", metavar="SPEC", nargs="?", help="the drum that a figure or field is asked of, or - for standard input"
    )
    command.add_argument(
        "--depth", metavar="N", type=_depth, help="of a figure: so many levels of inputs (default: all)"
    )
    _add_format(command)


def _add_suggest(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "spec", metavar="SPEC", nargs="?", help="the spec to mend or complete, or - for standard input"
    )
    command.add_argument("--write", action="store_true", help="change the spec's file; comments and order stay")
    _add_format(command)
    new = command.add_argument_group("a new spec, without SPEC", "at least --diameter; the rest is chosen")
    new.add_argument("--diameter", metavar="LENGTH", help="outside diameter of a round frame, such as 14in")
    new.add_argument("--depth", metavar="LENGTH", help="depth of the frame, such as 60mm")
    new.add_argument("--hide", metavar="HIDE", help="hide of the head, such as deer")
    new.add_argument("--pitch", metavar="PITCH", help='lowest note, such as A2 or "110 Hz"')
    new.add_argument("--stations", metavar="N", type=int, help="number of stations")
    new.add_argument("--name", metavar="NAME", help="name of the drum")
    new.add_argument("--out", metavar="FILE", help="write the new spec to this file; never over another")


def _add_common(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "paths", metavar="PATH", nargs="*",
        help="a spec, a folder of specs, or - for standard input (default: specs)",
    )  # fmt: skip
    _add_format(command)


def _add_format(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "--format", choices=("text", "json"), default="text",
        help="findings as text on standard error, or as JSON on standard output",
    )  # fmt: skip


def _folder(text: str) -> str:
    if not text.strip():
        raise argparse.ArgumentTypeError("an empty name is no folder")
    return text


def _depth(text: str) -> int:
    try:
        depth = int(text)
    except ValueError:
        depth = -1
    if not 0 <= depth <= MOST_DEPTH:
        raise argparse.ArgumentTypeError(f"{text!r} is not a number from 0 to {MOST_DEPTH}")
    return depth


def _job_count(text: str) -> int:
    try:
        count = int(text)
    except ValueError:
        count = -1
    if not 0 <= count <= MOST_JOBS:
        raise argparse.ArgumentTypeError(f"{text!r} is not a number from 0 to {MOST_JOBS}")
    return count or min(os.cpu_count() or 1, MOST_JOBS)
