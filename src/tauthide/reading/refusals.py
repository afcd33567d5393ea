"""What is refused at a parser's event, as findings with what to write instead."""

from __future__ import annotations

import re
from typing import Any

from tauthide.findings import Finding
from tauthide.reading import faults
from tauthide.reading.faults import Fault, dotted, excerpt
from tauthide.reading.located import Path
from tauthide.reading.sources import Source, split_lines
from tauthide.reading.syntax import explain
from tauthide.reading.trouble import Trouble, explain_missing_blank, quote

_ANCHOR = re.compile(r"&[^\s,\[\]{}]+")
_TAG = re.compile(r"!(?:<[^>\s]*>|[^\s,\[\]{}]*)")
_PROPERTIES = re.compile(r"(?:[&!]\S*(?:\s+|\Z))*")
_HALF_CHARACTER = re.compile("[\ud800-\udfff]")
_HALF_ESCAPE = re.compile(r"\\(?:u|U0000)[dD][89a-fA-F]")
_TEXT_TAG = "tag:yaml.org,2002:str"


class Refusals:
    """The findings of one walk over a file's events."""

    __slots__ = ("_anchored", "_half_seen", "findings", "source")

    def __init__(self, source: Source) -> None:
        """Begin without findings."""
        self.source = source
        self.findings: list[Finding] = []
        self._half_seen = False
        self._anchored: dict[str, str] = {}
        """What stands behind each anchor, where that is a scalar on one line."""

    def report(self, fault: Fault, event: Any, path: Path = (), *, found: str = "", **words: str) -> None:
        """Report a fault at an event's place."""
        start, end = event.start_mark, event.end_mark
        width = end.column - start.column if start.line == end.line else 1
        place = self.source.place(start.line + 1, start.column + 1, max(width, 1))
        self.findings.append(fault.at(place, path=dotted(path), found=found, **words))

    def check_node(self, event: Any, path: Path) -> None:
        """Report the anchor and the tag of a node, and half a character written as an escape."""
        if event.anchor is None and event.tag is None:
            if type(event).__name__ == "ScalarEvent" and event.style == '"':
                self._check_escapes(event)
            return
        behind = self._behind_properties(event)
        if event.anchor is not None:
            self._anchored[event.anchor] = behind
            self._report_property(faults.ANCHOR, _ANCHOR, event, path, behind)
        if event.tag is not None:
            is_bare_text = event.tag == _TEXT_TAG and behind and behind[0] not in "'\""
            self._report_property(faults.TAG, _TAG, event, path, quote(behind) if is_bare_text else behind)

    def report_alias(self, event: Any, path: Path) -> None:
        """Report an alias; what it stands for is proposed in its place."""
        write = self._anchored.get(event.anchor, "")
        self.report(faults.ALIAS, event, path, found=f"*{event.anchor}", write=write)

    def report_duplicate(self, event: Any, path: Path, first: int) -> None:
        """Report a key that has stood in its map before, on line `first`."""
        raw = self._raw(event)
        self.report(faults.DUPLICATE, event, path, found=raw, key=excerpt(raw), line=str(first))

    def report_depth(self, event: Any, path: Path) -> None:
        """Report a map or list that stands too deep."""
        self.report(faults.TOO_DEEP, event, path, found=f"{faults.MAX_DEPTH + 1} within each other")

    def report_complex_key(self, event: Any, path: Path) -> None:
        """Report a map or list in a key's place."""
        self.report(faults.COMPLEX_KEY, event, path, found=self._rest_of_line(event))

    def report_root(self, event: Any) -> None:
        """Report a document that is a list, a scalar, or nothing at all."""
        if event is None or (type(event).__name__ == "ScalarEvent" and not event.value and not event.style):
            self.findings.append(faults.EMPTY_FILE.at(self.source.place(1, 1)))
            return
        if type(event).__name__ != "ScalarEvent":
            self.report(faults.ROOT, event, found=self._rest_of_line(event), kind="a list")
            return
        mended = None if event.style else explain_missing_blank(self._rest_of_line(event))
        if mended is not None:
            self._report_joined(event, (), self._rest_of_line(event), *mended)
        else:
            self.report(faults.ROOT, event, found=self._raw(event), kind="a single value")

    def check_joined(self, key: Any, value: Any, path: Path) -> None:
        """Report a key in brackets that has no value since it is one with it: `{depth:55 mm}`."""
        if key.end_mark.index != value.start_mark.index:
            return  # there is a colon between them, and the value was left empty
        mended = explain_missing_blank(key.value)
        if mended is not None:
            self._report_joined(key, path[:-1], self._raw(key), *mended)

    def _report_joined(self, event: Any, path: Path, found: str, key: str, write: str) -> None:
        what = f"a blank is missing after the colon of `{key}`"
        allowed = "a colon and a blank between key and value"
        self.report(faults.SYNTAX, event, path, found=found, allowed=allowed, write=write, what=what)

    def _check_escapes(self, event: Any) -> None:
        # the parser in C gives up here by itself, the one in Python makes text that no file can hold
        if self._half_seen or _HALF_CHARACTER.search(event.value) is None:
            return
        match = _HALF_ESCAPE.search(self.source.text, event.start_mark.index)
        if match is not None:
            self._half_seen = True
            trouble = Trouble(self.source, "", "escape code", event.start_mark.index, match.start())
            self.findings.append(explain(trouble))

    def _report_property(self, fault: Fault, form: re.Pattern[str], event: Any, path: Path, write: str) -> None:
        start = event.start_mark
        match = form.search(self.source.text, start.index)
        begin, found = (match.start(), match[0]) if match else (start.index, "")
        # counted from the event's mark, not from the file's start, which would be slow in a file full of them
        between = split_lines(self.source.text[start.index : begin] + ".")
        column = len(between[-1]) + (start.column if len(between) == 1 else 0)
        place = self.source.place(start.line + len(between), column, max(len(found), 1))
        self.findings.append(fault.at(place, path=dotted(path), found=found, write=write))

    def _behind_properties(self, event: Any) -> str:
        """Return a scalar as it stands behind anchor and tag, or nothing where it is not on one line."""
        if type(event).__name__ != "ScalarEvent" or event.start_mark.line != event.end_mark.line:
            return ""
        return _PROPERTIES.sub("", self._raw(event), count=1)

    def _raw(self, event: Any) -> str:
        start, end = int(event.start_mark.index), int(event.end_mark.index)
        return self.source.text[start:end]

    def _rest_of_line(self, event: Any) -> str:
        line: str = self.source.lines[event.start_mark.line]
        return line[event.start_mark.column :].rstrip()
