"""What can be wrong with a file before its fields are looked at: every fault once, with its words."""

from __future__ import annotations

from dataclasses import dataclass

from tauthide.findings import Finding, Place, Severity

MAX_BYTES = 256 * 1024
"""Longest file that is read. A spec has some 4 KiB; a measured skin with many points some 50."""
MAX_DEPTH = 20
"""Most maps and lists within each other. The deepest document of ours has about 6."""
MAX_DIGITS = 15
"""Most digits before the point: a float holds every whole number of that many digits exactly."""
EXCERPT_LENGTH = 60
"""Most characters of a maker's text that a finding repeats."""


@dataclass(frozen=True, slots=True)
class Fault:
    """One kind of fault: its name and words."""

    name: str
    message: str
    """The sentence of its findings, with `{words}` to be filled in."""
    allowed: str
    why: str
    """Why it matters, in a sentence or two."""
    severity: Severity = Severity.ERROR

    def at(
        self,
        place: Place,
        *,
        path: str = "",
        found: str = "",
        allowed: str = "",
        write: str = "",
        **words: str,
    ) -> Finding:
        """Return the finding of this fault at `place`; `words` fill the message."""
        message = self.message.format(**words)
        return Finding(self.name, self.severity, message, place, path, excerpt(found), allowed or self.allowed, write)


def excerpt(text: str) -> str:
    """Return `text` on one line, cut to `EXCERPT_LENGTH` characters."""
    line = " ".join(text.split())
    return line if len(line) <= EXCERPT_LENGTH else line[: EXCERPT_LENGTH - 1] + "…"


def dotted(path: tuple[str | int, ...]) -> str:
    """Return a path as findings show it: `stations.count`, `flaws.0.x`."""
    return ".".join(map(str, path))


TOO_LARGE = Fault(
    "file-too-large",
    "the file is larger than a document of ours may be",
    f"at most {MAX_BYTES // 1024} KiB",
    "A spec has a few kilobytes; a file this large is hardly one, and reading it would only cost time.",
)
NOT_UTF8 = Fault(
    "not-utf8",
    "the file is not saved as UTF-8{guess}: save it again with the encoding UTF-8",
    "UTF-8 text",
    "In any other encoding, signs such as ½ and é would be read as something else.",
)
CONTROL = Fault(
    "control-character",
    "a character that cannot be seen stands here{more}: delete it, or type the place anew",
    "letters, digits, signs, blanks and line ends",
    "A character that nobody sees can change what a line says, or end a line where none seems to end.",
)
TAB = Fault(
    "tab-indent",
    "a tab where YAML wants blanks{more}",
    "blanks (spaces), two for each step inward",
    "A tab is as wide as each editor likes, so YAML could not tell what belongs to what.",
)
SYNTAX = Fault(
    "yaml-syntax",
    "{what}",
    "YAML: `key: value` lines, `- item` lists",
    "Where a file's structure cannot be told, nothing in it can be relied on.",
)
DIRECTIVE = Fault(
    "yaml-directive",
    "a directive that is not taken here",
    "no directive, or `%YAML 1.2`",
    "Directives change how the rest of a file is read; these documents need none.",
)
EMPTY_FILE = Fault(
    "empty-file",
    "the file is empty",
    "a document, such as a spec",
    "There is nothing to compile in it.",
)
SEVERAL = Fault(
    "several-documents",
    "a second document begins here: one file holds one document",
    "one document; put this one into a file of its own",
    "One file is one drum, so that a file's name, its findings and its sheet belong together.",
)
ROOT = Fault(
    "root-not-map",
    "the file does not hold `key: value` lines, but {kind}",
    "`key: value` lines, the first being the kind, such as `spec: 1`",
    "A document is a set of named fields; without names nothing in it has a meaning.",
)
TOO_DEEP = Fault(
    "nested-too-deep",
    "too many maps and lists stand within each other",
    f"at most {MAX_DEPTH} within each other",
    "No document of ours goes a third as deep; most likely brackets are not closed.",
)
DUPLICATE = Fault(
    "duplicate-key",
    "the key `{key}` stands twice in one map: first on line {line}, and again here",
    "each key once; delete one of the two",
    "Of two values one would be taken without a word, and it might be the wrong one.",
)
EMPTY_KEY = Fault(
    "empty-key",
    "a key without a name",
    "a name before the colon",
    "A value can be found only by its key's name.",
)
COMPLEX_KEY = Fault(
    "complex-key",
    "a map or list stands where a key's name should be",
    "a name before the colon",
    "Keys are names of fields. Most often this is a template's `{{ … }}` that was not filled in.",
)
ANCHOR = Fault(
    "yaml-anchor",
    "an anchor (`&`) is not taken here: write the value out where it is needed",
    "values written out, or a base file named by `inherits`; text that begins with `&` in quotes",
    "A value with an anchor is read in one place and meant in another; `inherits` shares values openly.",
)
ALIAS = Fault(
    "yaml-alias",
    "an alias (`*`) is not taken here: write the value out",
    "values written out, or a base file named by `inherits`; text that begins with `*` in quotes",
    "What an alias stands for is written elsewhere; `inherits` shares values openly.",
)
TAG = Fault(
    "yaml-tag",
    "a tag (`!`) is not taken here: delete it",
    "plain values; text that begins with `!`, or looks like a number, in quotes",
    "A field's type is told by the field, so a tag says nothing, or something wrong.",
)
MERGE = Fault(
    "yaml-merge",
    "a merge key (`<<`) is not taken here: write the keys out",
    "keys written out, or a base file named by `inherits`",
    "Merged keys hide where a value comes from; `inherits` shares them openly.",
)
NON_FINITE = Fault(
    "non-finite-number",
    "this is not a number to reckon with",
    "a finite number",
    "Nothing can be measured or cut to infinity, nor to `.nan`, which is no number at all.",
)
HUGE_NUMBER = Fault(
    "huge-number",
    "a number too large to be held exactly",
    f"at most {MAX_DIGITS} digits before the point; in quotes if it is a name",
    "A number with more digits would be rounded without a word; most often it is a name, or a slip.",
)
UNKNOWN_KIND = Fault(
    "unknown-kind",
    "a file begins with its kind, and `{key}` is none{hint}",
    "a kind and its version, such as `spec: 1`",
    "The first line tells which fields a file may have; without it no field can be checked.",
)
KIND_NOT_FIRST = Fault(
    "kind-not-first",
    "the file's kind, `{key}`, must be its first line: move it up",
    "the kind and its version first",
    "The first line tells a reader, and this program, at a glance what a file is.",
)
UNKNOWN_VERSION = Fault(
    "unknown-version",
    "the `{kind}` has a version that is not known here",
    "1",
    "A later version's fields might mean something else; guessing would spoil skin.",
)
OLD_VERSION = Fault(
    "old-version",
    "this {kind} is of an older version, and read as version {newest}: {says}",
    "the present version, which `tauthide renew` writes into the file",
    "An old file means what it always meant; renewed, it says so in the words that are described now.",
    Severity.NOTE,
)

FAULTS: tuple[Fault, ...] = (
    TOO_LARGE,
    NOT_UTF8,
    CONTROL,
    TAB,
    SYNTAX,
    DIRECTIVE,
    EMPTY_FILE,
    SEVERAL,
    ROOT,
    TOO_DEEP,
    DUPLICATE,
    EMPTY_KEY,
    COMPLEX_KEY,
    ANCHOR,
    ALIAS,
    TAG,
    MERGE,
    NON_FINITE,
    HUGE_NUMBER,
    UNKNOWN_KIND,
    KIND_NOT_FIRST,
    UNKNOWN_VERSION,
    OLD_VERSION,
)
"""Every fault that the reader may report."""
