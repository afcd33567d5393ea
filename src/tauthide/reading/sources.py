"""A file's bytes as checked text with its lines: what the parser is given."""

from __future__ import annotations

import re
from dataclasses import dataclass

from tauthide.findings import Finding, Place
from tauthide.reading.faults import CONTROL, DIRECTIVE, MAX_BYTES, NOT_UTF8, TOO_LARGE

_BOM = "\ufeff"
_BREAK = re.compile(r"\r\n|\r|\n")
# What YAML's rule for printable characters leaves out (specification 1.2.2, production 1), and four that it
# allows but that would shift lines or columns between one program and the next: U+0085, U+2028, U+2029
# (line ends to some, to others not) and a byte order mark within the text.
_REFUSED = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\ufeff\ufffe\uffff]")
_DIRECTIVE = re.compile(r"%YAML[ \t]+1\.[12][ \t]*(?:[ \t]#.*)?")
_OTHER_MARKS = (
    # the four-byte marks first, since UTF-32's begins with UTF-16's
    (b"\xff\xfe\x00\x00", "UTF-32"),
    (b"\x00\x00\xfe\xff", "UTF-32"),
    (b"\xff\xfe", "UTF-16"),
    (b"\xfe\xff", "UTF-16"),
)


BYTE_ORDER_MARKS = (*(mark for mark, _ in _OTHER_MARKS), _BOM.encode())
"""What may stand before a text to tell its encoding."""


@dataclass(frozen=True, slots=True)
class Source:
    """A file's text, without a byte order mark, and its lines."""

    file: str
    text: str
    lines: tuple[str, ...]
    """Lines without line ends; no empty one after the last line end."""

    def place(self, line: int, column: int, width: int = 1) -> Place:
        """Return a place by line and column from 1."""
        text = self.lines[line - 1] if line <= len(self.lines) else ""
        return Place(self.file, line, column, width, text)

    def place_at(self, index: int, width: int = 1) -> Place:
        """Return the place of the character at `index`; past the end, of the last character but blanks."""
        if index >= len(self.text):
            index = max(len(self.text.rstrip()) - 1, 0)
        before = _BREAK.split(self.text[:index])
        return self.place(len(before), len(before[-1]) + 1, width)


def read_source(source: bytes, file: str) -> tuple[Source, tuple[Finding, ...]]:
    """Return the text in `source`, and what is wrong with its bytes; with findings it is not to be parsed.

    A UTF-8 byte order mark is passed over: some editors write it. Lines end with LF, CR LF or CR.
    """
    if len(source) > MAX_BYTES:
        found = f"more than {MAX_BYTES // 1024} KiB"
        return Source(file, "", ()), (TOO_LARGE.at(Place(file), found=found),)
    for mark, encoding in _OTHER_MARKS:
        if source.startswith(mark):
            finding = NOT_UTF8.at(Place(file), found=encoding, guess=f" but as {encoding}")
            return Source(file, "", ()), (finding,)
    try:
        text = source.decode("utf-8").removeprefix(_BOM)
    except UnicodeDecodeError as error:
        return _refuse_bytes(source, file, error.start)
    checked = Source(file, text, split_lines(text))
    return checked, _refuse_characters(checked)


def split_lines(text: str) -> tuple[str, ...]:
    """Return the lines of `text` as YAML counts them, without line ends."""
    lines = _BREAK.split(text) if "\r" in text else text.split("\n")
    if not lines[-1]:
        lines.pop()
    return tuple(lines)


def mask_directives(source: Source) -> tuple[str, tuple[Finding, ...]]:
    """Return the text to be parsed, and a finding for each directive but `%YAML 1.1` and `1.2`.

    Directives that are refused are made comments, so that the rest is read all the same.
    """
    findings, pieces, done, index = [], [], 0, 0
    for number, line in enumerate(source.lines, start=1):
        if line.startswith("%") and not _DIRECTIVE.fullmatch(line):
            findings.append(DIRECTIVE.at(source.place(number, 1, len(line.rstrip())), found=line))
            pieces += [source.text[done:index], "#"]
            done = index + 1
        elif not line.startswith(("#", "%")) and line.strip():
            break
        index += len(line)
        index += 2 if source.text.startswith("\r\n", index) else 1
    return "".join((*pieces, source.text[done:])), tuple(findings)


def _refuse_bytes(source: bytes, file: str, start: int) -> tuple[Source, tuple[Finding, ...]]:
    """Report the first byte that is not UTF-8; all before it is."""
    text = source.decode("utf-8", errors="replace").removeprefix(_BOM)
    whole = Source(file, text, split_lines(text))
    index = len(source[:start].decode("utf-8").removeprefix(_BOM))
    found = f"the byte 0x{source[start]:02X}"
    return whole, (NOT_UTF8.at(whole.place_at(index), found=found, guess=""),)


def _refuse_characters(source: Source) -> tuple[Finding, ...]:
    """Report the first invisible character, and how many follow."""
    first = _REFUSED.search(source.text)
    if first is None:
        return ()
    others = len(_REFUSED.findall(source.text)) - 1
    more = f", and {others} more in the file" if others else ""
    found = f"U+{ord(first[0]):04X}"
    return (CONTROL.at(source.place_at(first.start()), found=found, more=more),)
