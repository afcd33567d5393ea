"""Findings for GitHub's workflow runs: annotations at their places, and a summary of the step.

Source of commands, escapes and limits: GitHub's documentation, "Workflow commands for GitHub Actions" and
"Usage limits" of annotations; the escapes also as in its published toolkit for actions.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from tauthide.cli.report import counted, tally
from tauthide.findings import Finding, Severity
from tauthide.output.comparison import Difference, Gap
from tauthide.output.files import StoreTrouble
from tauthide.spec.chain import STDIN_NAME
from tauthide.text import markdown, plain

MOST_OF_A_LEVEL = 10
"""Errors, warnings and notices that a step may show as annotations: so many of each; more are dropped."""
MOST_BYTES = 1024 * 1024
"""Largest summary of a step, all that its commands write to it together; a larger one is dropped whole."""
LONGEST_MESSAGE = 4096
"""Characters of one annotation that are kept, from memory of the runner's published source."""
SUMMARY_VARIABLE = "GITHUB_STEP_SUMMARY"
"""Names the file to which the step's summary is to be added."""
WORKSPACE_VARIABLE = "GITHUB_WORKSPACE"
"""The folder of the checkout: annotations name files as seen from there."""

LEVELS: Mapping[str, str] = {"error": "error", "warning": "warning", "note": "notice"}
_GAPS: Mapping[Gap, str] = {
    Gap.STALE: "this file is not what the specs make now: build it again",
    Gap.MISSING: "the specs make this file, and it is not there: build it",
    Gap.LEFT_OVER: "no spec makes this file any more: build again, and it is removed",
}
_DATA_ESCAPES = {"%": "%25", "\r": "%0D", "\n": "%0A"}
_PROPERTY_ESCAPES = {**_DATA_ESCAPES, ":": "%3A", ",": "%2C"}


@dataclass(frozen=True, slots=True)
class Remark:
    """What is said of one place of one file."""

    level: str
    """`error`, `warning` or `notice`."""
    title: str
    message: str
    """Lines of plain text."""
    file: str = ""
    """As the maker is shown it; empty where it is said of no file."""
    line: int = 0
    """0 where it is said of no line."""
    column: int = 0
    width: int = 0


def remarks_of(findings: Iterable[Finding], differences: Iterable[Difference], folder: str) -> tuple[Remark, ...]:
    """Return what there is to say of findings, and of files in an output folder that are not as they should be."""
    found = tuple(map(_remark, findings))
    amiss = tuple(
        Remark("error", f"output {item.gap}", _GAPS[item.gap], f"{folder}/{item.path}") for item in differences
    )
    return (*found, *amiss)


def annotate(remarks: Sequence[Remark], workspace: str = "") -> Iterator[str]:
    """Yield workflow commands, one a line: of each level at most `MOST_OF_A_LEVEL`, the last for all the rest."""
    for level in LEVELS.values():
        of_level = [remark for remark in remarks if remark.level == level]
        shown = of_level if len(of_level) <= MOST_OF_A_LEVEL else of_level[: MOST_OF_A_LEVEL - 1]
        yield from (_command(remark, workspace) for remark in shown)
        rest = len(of_level) - len(shown)
        if rest:
            message = f"{counted(rest, f'more {level}')}; the summary of this step lists them all"
            yield _command(Remark(level, "not all are shown", message), workspace)


def summary(command: str, said: str, findings: Sequence[Finding], remarks: Sequence[Remark], most_bytes: int) -> str:
    """Return the step's summary as Markdown, of at most so many bytes: a table with a row for each remark."""
    head = f"### tauthide {command}\n\n{markdown(f'{said}; {tally(findings)}')}\n\n"
    if not remarks:
        return head if len(head.encode()) <= most_bytes else ""
    head += "| | place | what | how to put it right |\n| --- | --- | --- | --- |\n"
    rows = [_row(remark) for remark in remarks]
    left = most_bytes - len(head.encode()) - len(_end(len(rows)).encode())
    if left < 0:
        return ""
    kept: list[str] = []
    for row in rows:
        left -= len(row.encode())
        if left < 0:
            break
        kept.append(row)
    rest = len(rows) - len(kept)
    return head + "".join(kept) + (_end(rest) if rest else "\n")


def add_summary(path: Path, command: str, said: str, findings: Sequence[Finding], remarks: Sequence[Remark]) -> None:
    """Add the summary to the step's file, as far as it has room; StoreTrouble where it can't be written."""
    try:
        there = path.stat().st_size if path.exists() else 0
        text = summary(command, said, findings, remarks, MOST_BYTES - there)
        with path.open("ab") as file:
            file.write(text.encode("utf-8"))
    except OSError as error:
        raise StoreTrouble(f"{SUMMARY_VARIABLE}: {path}: {error.strerror or error}") from error


def _remark(finding: Finding) -> Remark:
    place = finding.place
    lines = [finding.message]
    for label, text in (("found", finding.found), ("allowed", finding.allowed), ("write", finding.write)):
        if text:
            lines.append(f"{label}: {text}")
    level = LEVELS[finding.severity]
    if finding.accepted:  # which needs nobody's attention any more
        level = LEVELS[Severity.NOTE]
        lines.append(f"accepted: {finding.accepted}")
    message = "\n".join(map(plain, lines))
    file = "" if place.file == STDIN_NAME else place.file
    return Remark(level, finding.name, message, file, place.line, place.column, place.width if place.text else 0)


def _command(remark: Remark, workspace: str) -> str:
    properties: dict[str, str] = {}
    if remark.file:
        properties["file"] = _from_workspace(remark.file, workspace)
    if remark.file and remark.line:
        properties["line"] = str(remark.line)
        if remark.width:
            properties["col"] = str(remark.column)
            properties["endColumn"] = str(remark.column + remark.width)
    properties["title"] = remark.title
    said = ",".join(f"{name}={_escape(plain(text), _PROPERTY_ESCAPES)}" for name, text in properties.items())
    message = remark.message
    if len(message) > LONGEST_MESSAGE:
        message = message[: LONGEST_MESSAGE - 1] + "…"
    return f"::{remark.level} {said}::{_escape(message, _DATA_ESCAPES)}\n"


def _escape(text: str, escapes: Mapping[str, str]) -> str:
    return "".join(escapes.get(character, character) for character in text)


def _from_workspace(file: str, workspace: str) -> str:
    """Return a file's name as seen from the checkout, where it lies in it."""
    if not workspace:
        return file
    relative = os.path.relpath(os.path.realpath(file), os.path.realpath(workspace))
    outside = relative == os.pardir or relative.startswith(os.pardir + os.sep)
    return file if outside else Path(relative).as_posix()


def _row(remark: Remark) -> str:
    first, *rest = remark.message.split("\n")
    place = f"{remark.file}:{remark.line}" if remark.line else remark.file
    cells = (remark.level, markdown(place), f"{markdown(first)} ({markdown(remark.title)})",
             "<br>".join(map(markdown, rest)))  # fmt: skip
    return f"| {' | '.join(cells)} |\n"


def _end(rest: int) -> str:
    return f"\n{counted(rest, 'more row')} would not fit here; `--format json` gives all.\n\n"
