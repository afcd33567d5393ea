"""Located YAML from a parser's events: data and places in one pass, and all that is refused on the way.

Only the plain part of YAML 1.2 is taken: maps with text keys, lists and scalars, without anchors, aliases,
tags and merges, so that what a maker sees on a line is what it means.
"""

from __future__ import annotations

import re
from typing import Any

from tauthide.findings import Finding, in_order
from tauthide.reading.located import Located
from tauthide.reading.sources import Source, mask_directives, read_source
from tauthide.reading.syntax import explain
from tauthide.reading.tabs import find_tabs, report_tabs
from tauthide.reading.trouble import Trouble
from tauthide.reading.walk import Walk

_BEYOND_UNICODE = re.compile(r"\\U(?!000|0010)")


def read_yaml(source: bytes, file: str) -> tuple[Located | None, tuple[Finding, ...]]:
    """Return the document in `source`, or the findings that say why there is none, in order of place.

    `file` is the file's name as the maker is shown it. Every finding is an error, and all that can be told
    apart come at once; what stands behind a fault of syntax is not looked at.
    """
    checked, findings = read_source(source, file)
    if findings:
        return None, findings
    text, directives = mask_directives(checked)
    walk = Walk(checked)
    trouble = _parse(text, walk)
    found = [*directives, *walk.refusals.findings, *_report_trouble(checked, walk, trouble)]
    if found:
        return None, in_order(found)
    assert isinstance(walk.root, dict), "a document without findings is a map"
    return Located(file, checked.lines, walk.root, walk.keys, walk.values), ()


def _parse(text: str, walk: Walk) -> Trouble | None:
    """Feed the events of `text` to `walk`, and return where the parser gave up, if it did."""
    import yaml  # here, since importing it takes longer than reading a spec

    loader: Any = yaml.CBaseLoader if yaml.__with_libyaml__ else yaml.BaseLoader
    parser = loader(text)
    while not walk.ended:
        try:
            event = parser.get_event()
        except yaml.MarkedYAMLError as error:
            return _locate(walk, error)
        except UnicodeDecodeError:
            # the parser in C lets bytes of no character pass in a tag such as `!<%ff>`
            index = max(text.find("!", walk.index), walk.index)
            return Trouble(walk.source, "while scanning a tag", "", index, index)
        except (ValueError, OverflowError):
            # the parser in Python makes characters of escapes such as "\UFFFFFFFF" unchecked
            match = _BEYOND_UNICODE.search(text, walk.index)
            index = match.start() if match else walk.index
            return Trouble(walk.source, "", "escape code", index, index)
        walk.take(event)
    return None


def _locate(walk: Walk, error: Any) -> Trouble:
    start, problem = error.context_mark, error.problem_mark
    index = problem.index if problem is not None else start.index if start is not None else walk.index
    begin = start.index if start is not None else index
    return Trouble(walk.source, error.context or "", error.problem or "", begin, index)


def _report_trouble(source: Source, walk: Walk, trouble: Trouble | None) -> list[Finding]:
    """Return the findings for tabs and for what could not be parsed; a tab is told as nothing else."""
    limit = len(source.text)
    if walk.stopped_at is not None:
        limit = walk.stopped_at
    if trouble is not None:
        # behind an open quote everything is text
        limit = trouble.context_index if "quoted scalar" in trouble.context else trouble.problem_index
    every = set(find_tabs(source, walk.covered)) if "\t" in source.text else set()
    tabs = {index for index in every if index <= limit}
    if trouble is not None and trouble.sign == "\t":
        tabs.add(trouble.problem_index)
    findings = [report_tabs(source, min(tabs), len(every - {min(tabs)}))] if tabs else []
    if trouble is not None and not any(tab >= trouble.line_start for tab in tabs):
        findings.append(explain(trouble))
    return findings
