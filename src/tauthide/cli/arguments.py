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
PAPER_NAMES = ("a4", "letter")
DEFAULT_RUN_FOLDER = "papers"
MOST_JOBS = 64
MOST_DEPTH = 99
MOST_EFFORT = 1_000_000

EXITS = """exit codes:
  0    fine (warnings allowed)
  1    findings of error severity, output that is stale, or drums that differ
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
    check.add_argument("--approved", action="store_true", help="exit 1 if a drum is not approved as it stands")
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
    _add_prints(build)
    build.add_argument(
        "--templates", metavar="DIR", type=_folder,
        help="folder of your own templates; what they don't replace is built in",
    )  # fmt: skip
    _add_suggest(
        commands.add_parser("suggest", help="values that meet all rules, for a spec or a new one", allow_abbrev=False)
    )
    _add_run(commands.add_parser("run", help="plan a run of drums: skins, work and papers", allow_abbrev=False))
    _add_record(commands.add_parser("record", help="keep what was measured on a built drum", allow_abbrev=False))
    _add_learn(commands.add_parser("learn", help="better values for the shop file, from records", allow_abbrev=False))
    _add_approve(commands.add_parser("approve", help="record that a drum's plan has been reviewed", allow_abbrev=False))
    _add_compare(commands.add_parser("compare", help="what a change of specs does to the drums", allow_abbrev=False))
    _add_explain(commands.add_parser("explain", help="how a figure, value or rule comes about", allow_abbrev=False))
    _add_format(commands.add_parser("rules", help="list the rules", allow_abbrev=False))
    _add_renew(
        commands.add_parser("renew", help="write files of an older version anew in the present one", allow_abbrev=False)
    )
    _add_show(commands.add_parser("show", help="a drum's values and figures as text", allow_abbrev=False))
    return parser


def _add_run(command: argparse.ArgumentParser) -> None:
    command.add_argument("file", metavar="FILE", help="the run's file")
    command.add_argument("--out", metavar="DIR", type=_folder, default=DEFAULT_RUN_FOLDER,
                         help=f"folder for the papers (default: {DEFAULT_RUN_FOLDER})")  # fmt: skip
    command.add_argument(
        "--effort", metavar="N", type=_effort,
        help="rounds of search for a better plan (default: the run's own); 0 takes the first one",
    )  # fmt: skip
    command.add_argument(
        "--keep-partial", action="store_true",
        help="if interrupted, write the best plan so far, marked as partial; else nothing is written",
    )  # fmt: skip
    _add_format(command)


def _add_record(command: argparse.ArgumentParser) -> None:
    command.add_argument("file", metavar="RUN", help="the run's file; its records lie beside it as RUN.records.yaml")
    command.add_argument("serial", metavar="SERIAL", nargs="?", help="the drum, such as LIB-13-01")
    command.add_argument(
        "settings", metavar="FIELD=VALUE", nargs="*",
        help='what was measured, such as lace_used="6.35 m", skin.punch="14 min" or trouble="a web tore"',
    )  # fmt: skip
    command.add_argument("--csv", metavar="FILE", help="take a filled-in traveller, in place of SERIAL and fields")
    _add_format(command)


def _add_learn(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "paths", metavar="PATH", nargs="*", help="a file of records, or a folder with such files (default: specs)"
    )
    command.add_argument("--write", action="store_true", help="change the shop file; comments and order stay")
    command.add_argument("--out", metavar="DIR", type=_folder, help="write records.md with its plots to this folder")
    _add_format(command)


def _add_approve(command: argparse.ArgumentParser) -> None:
    command.add_argument("spec", metavar="SPEC", help="the spec whose plan is approved")
    command.add_argument("--by", metavar="TEXT", help="who approves it: a role or a name")
    command.add_argument("--note", metavar="TEXT", help="what is to be said about it")
    command.add_argument("--date", metavar="DATE", help="day of the approval, such as 2026-03-02 (default: today)")
    command.add_argument("--withdraw", action="store_true", help="remove the approval")
    _add_format(command)


def _add_compare(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "paths", metavar="PATH", nargs="*",
        help="OLD and NEW, two files or folders; or one path at two git revisions (default: specs)",
    )  # fmt: skip
    command.add_argument("--from", metavar="REV", dest="old_revision", help="git revision to compare (default: HEAD)")
    command.add_argument(
        "--to", metavar="REV", dest="new_revision", help="git revision to compare with (default: the files as they lie)"
    )
    command.add_argument(
        "--overlay", metavar="FILE", help="of one drum: draw both hole layouts over each other, as SVG"
    )
    command.add_argument(
        "--format", choices=("text", "markdown", "json"), default="text", help="what is written on standard output"
    )


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


def _add_prints(command: argparse.ArgumentParser) -> None:
    prints = command.add_argument_group("to be printed", "needs the extra `print`: pip install 'tauthide[print]'")
    prints.add_argument(
        "--html", action="store_true",
        help="also make sheet.html, and template.html: gauge and the blank's rim at true size",
    )  # fmt: skip
    prints.add_argument("--pdf", action="store_true", help="also make template.pdf, which asks for no scaling")
    prints.add_argument("--paper", choices=PAPER_NAMES, default=PAPER_NAMES[0], help="paper (default: %(default)s)")


def _add_renew(command: argparse.ArgumentParser) -> None:
    command.add_argument("paths", metavar="PATH", nargs="*", help="a file, or a folder of files (default: specs)")
    command.add_argument("--check", action="store_true", help="write nothing; exit 1 if a file is of an older version")
    _add_format(command)


def _add_show(command: argparse.ArgumentParser) -> None:
    command.add_argument("spec", metavar="SPEC", help="the drum to show, or - for standard input")
    command.add_argument(
        "--textconv", action="store_true",
        help="for a diff driver of git's: SPEC may be a copy put aside by git; what is no sound spec stays as it is",
    )  # fmt: skip
    command.set_defaults(format="text")


def _add_common(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "paths", metavar="PATH", nargs="*",
        help="a spec, a folder of specs, or - for standard input (default: specs)",
    )  # fmt: skip
    _add_format(command, "github")


def _add_format(command: argparse.ArgumentParser, *more: str) -> None:
    github = "; github: as annotations of a workflow run, and its step's summary" if "github" in more else ""
    command.add_argument(
        "--format", choices=("text", "json", *more), default="text",
        help=f"findings as text on standard error, or as JSON on standard output{github}",
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


def _effort(text: str) -> int:
    try:
        rounds = int(text)
    except ValueError:
        rounds = -1
    if not 0 <= rounds <= MOST_EFFORT:
        raise argparse.ArgumentTypeError(f"{text!r} is not a number from 0 to {MOST_EFFORT}")
    return rounds


def _job_count(text: str) -> int:
    try:
        count = int(text)
    except ValueError:
        count = -1
    if not 0 <= count <= MOST_JOBS:
        raise argparse.ArgumentTypeError(f"{text!r} is not a number from 0 to {MOST_JOBS}")
    return count or min(os.cpu_count() or 1, MOST_JOBS)
