"""Every way in which a file is refused before its fields are looked at, with its findings in full."""

from __future__ import annotations

from dataclasses import dataclass

import pytest
import yaml

from tauthide.findings import Finding
from tauthide.reading.documents import read_document
from tauthide.reading.faults import FAULTS, MAX_BYTES, MAX_DEPTH, OLD_VERSION


@dataclass(frozen=True, slots=True)
class Case:
    """A file that is refused, and its findings as `show` writes them."""

    name: str
    source: str | bytes
    findings: str


def show(finding: Finding) -> str:
    """Return every part of a finding but the file's name and line, which `test_place_text` checks."""
    place = finding.place
    path = f" [{finding.path}]" if finding.path else ""
    head = f"{place.line}:{place.column}+{place.width} {finding.severity} {finding.name}{path}"
    parts = (("found", finding.found), ("allowed", finding.allowed), ("write", finding.write))
    return "\n".join([head, f"  {finding.message}", *(f"  {name}: {text}" for name, text in parts if text)])


def read(source: str | bytes) -> tuple[Finding, ...]:
    """Return the findings of a file that is refused."""
    document, findings = read_document(source if isinstance(source, bytes) else source.encode(), "drum.yaml")
    assert document is None
    return findings


CASES = (
    Case(
        "missing-blank-at-the-root",
        "spec:1\n",
        """
1:1+6 error yaml-syntax
  a blank is missing after the colon of `spec`
  found: spec:1
  allowed: a colon and a blank between key and value
  write: spec: 1
""",
    ),
    Case(
        "missing-blank-in-a-map",
        "spec: 1\nframe:\n  depth:55 mm\n  wall: 8 mm\n",
        """
3:3+11 error yaml-syntax
  a blank is missing after the colon of `depth`
  found: depth:55 mm
  allowed: a colon and a blank between key and value
  write: depth: 55 mm
""",
    ),
    Case(
        "missing-blank-in-brackets",
        "spec: 1\nframe: {outline: round, depth:55 mm}\n",
        """
2:25+11 error yaml-syntax [frame]
  a blank is missing after the colon of `depth`
  found: depth:55 mm
  allowed: a colon and a blank between key and value
  write: depth: 55 mm
""",
    ),
    Case(
        "missing-blank-before-a-key",
        "spec: 1\ndrum:LIB-13\ntitle: Lending set\n",
        """
2:1+11 error yaml-syntax
  a blank is missing after the colon of `drum`
  found: drum:LIB-13
  allowed: a colon and a blank between key and value
  write: drum: LIB-13
""",
    ),
    Case(
        "missing-colon",
        "spec: 1\nquantity 8\ndrum: LIB-13\n",
        """
2:1+10 error yaml-syntax
  this line has no colon between a key and its value
  found: quantity 8
  allowed: a key, a colon, a blank, the value
  write: quantity: 8
""",
    ),
    Case(
        "open-brace-over-lines",
        "spec: 1\nframe: {outline: round,\n  depth: 55 mm\nhead: {hide: goat}\n",
        """
2:8+1 error yaml-syntax
  the bracket `{` that opens here is not closed, or a comma is missing after it
  found: {outline: round,
  allowed: a comma between two parts, and `}` after the last
""",
    ),
    Case(
        "open-brace-at-the-end",
        "spec: 1\nframe: {outline: round, depth: 55 mm\n",
        """
2:8+1 error yaml-syntax
  the bracket `{` that opens here is not closed, or a comma is missing after it
  found: {outline: round, depth: 55 mm
  allowed: a comma between two parts, and `}` after the last
""",
    ),
    Case(
        "open-bracket",
        "spec: 1\nbench: {punches: [8 mm, 10 mm}\n",
        """
2:30+1 error yaml-syntax
  `}` closes a bracket that was opened by `[`
  found: }
  allowed: ]
  write: ]
""",
    ),
    Case(
        "open-brace-with-nothing-in-it",
        "spec: 1\nframe: {\n",
        """
2:8+1 error yaml-syntax
  the bracket `{` that opens here is not closed, or a comma is missing after it
  found: {
  allowed: a comma between two parts, and `}` after the last
""",
    ),
    Case(
        "question-mark-at-the-start",
        "spec: 1\ntitle: ? unknown\n",
        """
2:8+1 error yaml-syntax
  text cannot begin with `?` unless it stands in quotes
  found: ? unknown
  allowed: text in quotes
  write: '? unknown'
""",
    ),
    Case(
        "directive-twice",
        "%YAML 1.2\n%YAML 1.2\n---\nspec: 1\n",
        """
2:1+1 error yaml-directive
  a directive that is not taken here
  found: %YAML 1.2
  allowed: no directive, or `%YAML 1.2`
""",
    ),
    Case(
        "missing-comma",
        "spec: 1\nframe: {outline: round depth: 55 mm}\n",
        """
2:24+1 error yaml-syntax
  a comma or `}` is missing before this
  found: depth: 55 mm}
  allowed: a comma between two parts, and `}` after the last
""",
    ),
    Case(
        "bracket-too-many",
        "spec: 1\nhead: {hide: goat}}\n",
        """
2:19+1 error yaml-syntax
  `}` closes a bracket that was never opened
  found: }
  allowed: as many brackets closed as opened
""",
    ),
    Case(
        "value-missing",
        "spec: 1\ntitle: ]\n",
        """
2:8+1 error yaml-syntax
  a value is missing before `]`
  found: ]
  allowed: a value; a text that begins with `]` in quotes
""",
    ),
    Case(
        "open-double-quote",
        'spec: 1\ntitle: "Lending set\ndrum: LIB-13\n',
        """
2:8+1 error yaml-syntax
  the quote `"` that opens here is never closed
  found: "Lending set
  allowed: `"` at the end of the text
  write: "Lending set"
""",
    ),
    Case(
        "open-single-quote",
        "spec: 1\ntitle: 'Lending set\n",
        """
2:8+1 error yaml-syntax
  the quote `'` that opens here is never closed
  found: 'Lending set
  allowed: `'` at the end of the text
  write: 'Lending set'
""",
    ),
    Case(
        "text-after-quote",
        'spec: 1\nframe:\n  diameter: "13" in\n',
        """
3:18+1 error yaml-syntax
  text goes on after its closing quote
  found: in
  allowed: quotes round the whole text, or none
""",
    ),
    Case(
        "second-colon",
        "spec: 1\ntitle: Lending set: 13 inch\n",
        """
2:19+1 error yaml-syntax
  a second colon in one line: text with a colon in it needs quotes
  found: title: Lending set: 13 inch
  allowed: one `key: value` a line; text with a colon in quotes
  write: title: 'Lending set: 13 inch'
""",
    ),
    Case(
        "second-colon-with-apostrophe",
        "spec: 1\nnotes:\n  - first: the maker's second: blank\n",
        """
3:30+1 error yaml-syntax
  a second colon in one line: text with a colon in it needs quotes
  found: - first: the maker's second: blank
  allowed: one `key: value` a line; text with a colon in quotes
  write: - first: "the maker's second: blank"
""",
    ),
    Case(
        "line-too-far-in",
        "spec: 1\ndrum: LIB-13\n  title: Lending set\n",
        """
3:3+18 error yaml-syntax
  this line stands further in than the one before it, which already has a value
  found: title: Lending set
  allowed: keys of one map begin below each other
""",
    ),
    Case(
        "line-out-of-step",
        "spec: 1\nframe:\n    outline: round\n  depth: 55 mm\n",
        """
4:3+12 error yaml-syntax
  this line belongs to no map or list above it: its indentation, or what it begins with, does not fit
  found: depth: 55 mm
  allowed: keys of one map, or items of one list, begin below each other
""",
    ),
    Case(
        "list-among-keys",
        "spec: 1\n- drum: LIB-13\n",
        """
2:1+14 error yaml-syntax
  this line belongs to no map or list above it: its indentation, or what it begins with, does not fit
  found: - drum: LIB-13
  allowed: keys of one map, or items of one list, begin below each other
""",
    ),
    Case(
        "list-item-behind-key",
        "spec: 1\npunches: - 8 mm\n",
        """
2:10+1 error yaml-syntax
  an item of a list cannot begin on its key's line
  found: punches: - 8 mm
  allowed: each `- item` on a line of its own, or `[item, item]`; a lone `-` in quotes
""",
    ),
    Case(
        "colon-alone",
        "spec: 1\n: 8\n",
        """
2:1+1 error yaml-syntax
  a colon without a key before it
  found: : 8
  allowed: a name before the colon
""",
    ),
    Case(
        "sign-at-the-start",
        "spec: 1\ntitle: @home\n",
        """
2:8+1 error yaml-syntax
  text cannot begin with `@` unless it stands in quotes
  found: @home
  allowed: text in quotes
  write: '@home'
""",
    ),
    Case(
        "star-at-the-start",
        "spec: 1\ntitle: * sale *\n",
        """
2:8+1 error yaml-syntax
  text cannot begin with `*` unless it stands in quotes
  found: * sale *
  allowed: text in quotes
  write: '* sale *'
""",
    ),
    Case(
        "percent-at-the-start",
        "spec: 1\nlace:\n  allowance: %8\n",
        """
3:14+1 error yaml-syntax
  text cannot begin with `%` unless it stands in quotes
  found: %8
  allowed: text in quotes
  write: '%8'
""",
    ),
    Case(
        "block-text-on-its-line",
        "spec: 1\nnotes: | Keep dry.\n",
        """
2:8+1 error yaml-syntax
  `|` begins a text of several lines and must stand alone on its line
  found: | Keep dry.
  allowed: `|` alone, the text on the lines below, further in; or text in quotes
  write: '| Keep dry.'
""",
    ),
    Case(
        "unknown-escape",
        'spec: 1\ntitle: "Drum \\q"\n',
        r"""
2:14+1 error yaml-syntax
  `\q` stands for no character in double quotes
  found: \q
  allowed: single quotes, in which a backslash is only a backslash; or `\\` for one
""",
    ),
    Case(
        "half-a-character",
        'spec: 1\ntitle: "Drum \\ud83e\\udd41"\n',
        r"""
2:14+1 error yaml-syntax
  `\ud83e` stands for no character in double quotes
  found: \ud83e
  allowed: single quotes, in which a backslash is only a backslash; or `\\` for one
""",
    ),
    Case(
        "beyond-unicode",
        'spec: 1\ntitle: "Drum \\UFFFFFFFF"\n',
        r"""
2:14+1 error yaml-syntax
  `\UFFFFFFFF` stands for no character in double quotes
  found: \UFFFFFFFF
  allowed: single quotes, in which a backslash is only a backslash; or `\\` for one
""",
    ),
    Case(
        "too-few-digits",
        'spec: 1\ntitle: "Drum \\u00g"\n',
        r"""
2:14+1 error yaml-syntax
  `\u00` stands for no character in double quotes
  found: \u00
  allowed: single quotes, in which a backslash is only a backslash; or `\\` for one
""",
    ),
    Case(
        "after-the-end",
        "{spec: 1}\ndrum: LIB-13\n",
        """
2:1+1 error yaml-syntax
  something follows the end of the document
  found: drum: LIB-13
  allowed: one document, ended by the end of the file
""",
    ),
    Case(
        "directive-without-dashes",
        "%YAML 1.2\nspec: 1\n",
        """
2:1+1 error yaml-syntax
  a line `---` is missing between the directive and the document
  found: spec: 1
  allowed: `---` after directives
  write: ---
""",
    ),
    Case(
        "something-after-an-alias",
        "spec: 1\nhead: *goat hide\n",
        """
2:7+5 error yaml-alias [head]
  an alias (`*`) is not taken here: write the value out
  found: *goat
  allowed: values written out, or a base file named by `inherits`; text that begins with `*` in quotes
2:13+1 error yaml-syntax
  something follows a value that was already at its end
  found: hide
  allowed: YAML: `key: value` lines, `- item` lists
""",
    ),
    Case(
        "quoted-key-over-two-lines",
        'spec: 1\n"dr\n  um": LIB-13\n',
        """
2:1+3 error yaml-syntax
  this line has no colon between a key and its value
  found: "dr
  allowed: a key, a colon, a blank, the value
""",
    ),
    Case(
        "directive",
        "%TAG ! tag:drums\n%YAML 1.3\n# a comment\n---\nspec: 1\nspec: 1\n",
        """
1:1+16 error yaml-directive
  a directive that is not taken here
  found: %TAG ! tag:drums
  allowed: no directive, or `%YAML 1.2`
2:1+9 error yaml-directive
  a directive that is not taken here
  found: %YAML 1.3
  allowed: no directive, or `%YAML 1.2`
6:1+4 error duplicate-key [spec]
  the key `spec` stands twice in one map: first on line 5, and again here
  found: spec
  allowed: each key once; delete one of the two
""",
    ),
    Case(
        "tab-before-a-key",
        "spec: 1\nframe:\n\toutline: round\n\tdepth: 55 mm\n\twall: 8 mm\n",
        """
3:1+1 error tab-indent
  a tab where YAML wants blanks, and on 2 more lines
  found: a tab
  allowed: blanks (spaces), two for each step inward
  write:   outline: round
""",
    ),
    Case(
        "tab-behind-blanks",
        "spec: 1\nframe:\n  outline: round\n  \tdepth: 55 mm\n",
        """
4:3+1 error tab-indent
  a tab where YAML wants blanks
  found: a tab
  allowed: blanks (spaces), two for each step inward
  write:     depth: 55 mm
""",
    ),
    Case(
        "tab-after-a-value",
        "spec: 1\ndrum: LIB-13\n\ttitle: Lending set\n",
        """
3:1+1 error tab-indent
  a tab where YAML wants blanks
  found: a tab
  allowed: blanks (spaces), two for each step inward
  write:   title: Lending set
""",
    ),
    Case(
        "tab-in-brackets",
        "spec: 1\nframe: {\n\t\toutline: round}\n",
        """
3:1+2 error tab-indent
  a tab where YAML wants blanks
  found: 2 tabs
  allowed: blanks (spaces), two for each step inward
  write:     outline: round}
""",
    ),
    Case(
        "tab-behind-a-dash",
        "spec: 1\npunches:\n-\tsize: 8 mm\n",
        """
3:2+1 error tab-indent
  a tab where YAML wants blanks
  found: a tab
  allowed: blanks (spaces), two for each step inward
  write: - size: 8 mm
""",
    ),
    Case(
        "tab-on-the-first-line",
        "\tspec: 1\n",
        """
1:1+1 error tab-indent
  a tab where YAML wants blanks
  found: a tab
  allowed: blanks (spaces), two for each step inward
  write:   spec: 1
""",
    ),
    Case(
        "tab-in-a-block-text",
        "spec: 1\nnotes: |\n\tKeep dry.\n",
        """
3:1+1 error tab-indent
  a tab where YAML wants blanks
  found: a tab
  allowed: blanks (spaces), two for each step inward
  write:   Keep dry.
""",
    ),
    Case(
        "tab-before-a-comment",
        "spec: 1\n\t# a comment\ndrum: LIB-13\n",
        """
2:1+1 error tab-indent
  a tab where YAML wants blanks
  found: a tab
  allowed: blanks (spaces), two for each step inward
  write:   # a comment
""",
    ),
    Case(
        "tab-line-of-its-own",
        "spec: 1\n\t\ndrum: LIB-13\n",
        """
2:1+1 error tab-indent
  a tab where YAML wants blanks
  found: a tab
  allowed: blanks (spaces), two for each step inward
""",
    ),
    Case(
        "duplicate",
        'spec: 1\ndrum: LIB-13\nframe: {depth: 55 mm, depth: 60 mm}\ndrum: LIB-14\n"drum": LIB-15\n',
        """
3:23+5 error duplicate-key [frame.depth]
  the key `depth` stands twice in one map: first on line 3, and again here
  found: depth
  allowed: each key once; delete one of the two
4:1+4 error duplicate-key [drum]
  the key `drum` stands twice in one map: first on line 2, and again here
  found: drum
  allowed: each key once; delete one of the two
5:1+6 error duplicate-key [drum]
  the key `"drum"` stands twice in one map: first on line 2, and again here
  found: "drum"
  allowed: each key once; delete one of the two
""",
    ),
    Case(
        "duplicate-far-in",
        "spec: 1\nframe:\n  depth: 55 mm\n  wall: 8 mm\n  depth: 55 mm\n",
        """
5:3+5 error duplicate-key [frame.depth]
  the key `depth` stands twice in one map: first on line 3, and again here
  found: depth
  allowed: each key once; delete one of the two
""",
    ),
    Case(
        "anchor-and-alias",
        "spec: 1\nhead:\n  hide: &hide goat\nlace:\n  hide: *hide\n",
        """
3:9+5 error yaml-anchor [head.hide]
  an anchor (`&`) is not taken here: write the value out where it is needed
  found: &hide
  allowed: values written out, or a base file named by `inherits`; text that begins with `&` in quotes
  write: goat
5:9+5 error yaml-alias [lace.hide]
  an alias (`*`) is not taken here: write the value out
  found: *hide
  allowed: values written out, or a base file named by `inherits`; text that begins with `*` in quotes
  write: goat
""",
    ),
    Case(
        "anchor-of-a-map",
        "base: 1\nhead: &head\n  hide: goat\n",
        """
2:7+5 error yaml-anchor [head]
  an anchor (`&`) is not taken here: write the value out where it is needed
  found: &head
  allowed: values written out, or a base file named by `inherits`; text that begins with `&` in quotes
""",
    ),
    Case(
        "alias-as-key",
        "spec: 1\nhead: {*hide : goat}\n",
        """
2:8+5 error yaml-alias [head]
  an alias (`*`) is not taken here: write the value out
  found: *hide
  allowed: values written out, or a base file named by `inherits`; text that begins with `*` in quotes
""",
    ),
    Case(
        "merge",
        "spec: 1\nhead:\n  <<: *head\n  hide: goat\n",
        """
3:3+2 error yaml-merge [head]
  a merge key (`<<`) is not taken here: write the keys out
  found: <<
  allowed: keys written out, or a base file named by `inherits`
3:7+5 error yaml-alias [head.<<]
  an alias (`*`) is not taken here: write the value out
  found: *head
  allowed: values written out, or a base file named by `inherits`; text that begins with `*` in quotes
""",
    ),
    Case(
        "tags",
        "spec: 1\ndrum: !!str 13\nframe: !round {depth: !<tag:yaml.org,2002:int> 55}\n",
        """
2:7+5 error yaml-tag [drum]
  a tag (`!`) is not taken here: delete it
  found: !!str
  allowed: plain values; text that begins with `!`, or looks like a number, in quotes
  write: '13'
3:8+6 error yaml-tag [frame]
  a tag (`!`) is not taken here: delete it
  found: !round
  allowed: plain values; text that begins with `!`, or looks like a number, in quotes
3:23+24 error yaml-tag [frame.depth]
  a tag (`!`) is not taken here: delete it
  found: !<tag:yaml.org,2002:int>
  allowed: plain values; text that begins with `!`, or looks like a number, in quotes
  write: 55
""",
    ),
    Case(
        "tag-and-anchor",
        "spec: 1\ndrum: !!str &name 13\n",
        """
2:7+5 error yaml-tag [drum]
  a tag (`!`) is not taken here: delete it
  found: !!str
  allowed: plain values; text that begins with `!`, or looks like a number, in quotes
  write: '13'
2:13+5 error yaml-anchor [drum]
  an anchor (`&`) is not taken here: write the value out where it is needed
  found: &name
  allowed: values written out, or a base file named by `inherits`; text that begins with `&` in quotes
  write: 13
""",
    ),
    Case(
        "tag-without-name",
        "spec: 1\ndrum: ! 13\n",
        """
2:7+1 error yaml-tag [drum]
  a tag (`!`) is not taken here: delete it
  found: !
  allowed: plain values; text that begins with `!`, or looks like a number, in quotes
  write: 13
""",
    ),
    Case(
        "tag-unknown-handle",
        "spec: 1\ndrum: !shop!name 13\n",
        """
2:7+10 error yaml-tag
  a tag (`!`) is not taken here: delete it
  found: !shop!name
  allowed: plain values; text that begins with `!`, or looks like a number, in quotes
""",
    ),
    Case(
        "tag-of-broken-bytes",
        "spec: 1\ndrum: !<%ff> 13\n",
        """
2:7+6 error yaml-tag
  a tag (`!`) is not taken here: delete it
  found: !<%ff>
  allowed: plain values; text that begins with `!`, or looks like a number, in quotes
""",
    ),
    Case(
        "several-documents",
        "spec: 1\n---\nspec: 1\n",
        """
2:1+3 error several-documents
  a second document begins here: one file holds one document
  found: ---
  allowed: one document; put this one into a file of its own
""",
    ),
    Case(
        "several-documents-one-empty",
        "---\n---\nspec: 1\n",
        """
2:1+3 error several-documents
  a second document begins here: one file holds one document
  found: ---
  allowed: one document; put this one into a file of its own
""",
    ),
    Case(
        "empty",
        "",
        """
1:1+1 error empty-file
  the file is empty
  allowed: a document, such as a spec
""",
    ),
    Case(
        "empty-but-comments",
        "# to be written\n\n",
        """
1:1+1 error empty-file
  the file is empty
  allowed: a document, such as a spec
""",
    ),
    Case(
        "empty-document",
        "---\n",
        """
1:1+1 error empty-file
  the file is empty
  allowed: a document, such as a spec
""",
    ),
    Case(
        "byte-order-mark-only",
        "\ufeff",
        """
1:1+1 error empty-file
  the file is empty
  allowed: a document, such as a spec
""",
    ),
    Case(
        "root-list",
        "- spec: 1\n",
        """
1:1+1 error root-not-map
  the file does not hold `key: value` lines, but a list
  found: - spec: 1
  allowed: `key: value` lines, the first being the kind, such as `spec: 1`
""",
    ),
    Case(
        "root-text",
        "A drum for the library\n",
        """
1:1+22 error root-not-map
  the file does not hold `key: value` lines, but a single value
  found: A drum for the library
  allowed: `key: value` lines, the first being the kind, such as `spec: 1`
""",
    ),
    Case(
        "root-number",
        "13\n",
        """
1:1+2 error root-not-map
  the file does not hold `key: value` lines, but a single value
  found: 13
  allowed: `key: value` lines, the first being the kind, such as `spec: 1`
""",
    ),
    Case(
        "root-null",
        "null\n",
        """
1:1+4 error root-not-map
  the file does not hold `key: value` lines, but a single value
  found: null
  allowed: `key: value` lines, the first being the kind, such as `spec: 1`
""",
    ),
    Case(
        "complex-key",
        "spec: 1\nhead: {hide: {{ hide }}}\n",
        """
2:15+1 error complex-key [head.hide]
  a map or list stands where a key's name should be
  found: { hide }}}
  allowed: a name before the colon
""",
    ),
    Case(
        "complex-key-list",
        "spec: 1\n[a, [b]]: 2\n",
        """
2:1+1 error complex-key
  a map or list stands where a key's name should be
  found: [a, [b]]: 2
  allowed: a name before the colon
""",
    ),
    Case(
        "empty-keys",
        'spec: 1\n? \n: 8\n~: 9\nnull: 10\n"": 11\n',
        """
2:2+1 error empty-key
  a key without a name
  found: nothing
  allowed: a name before the colon
4:1+1 error empty-key
  a key without a name
  found: ~
  allowed: a name before the colon
5:1+4 error empty-key
  a key without a name
  found: null
  allowed: a name before the colon
6:1+2 error empty-key
  a key without a name
  found: nothing
  allowed: a name before the colon
""",
    ),
    Case(
        "non-finite",
        "spec: 1\nquantity: .inf\nsizes: [-.INF, .nan]\n",
        """
2:11+4 error non-finite-number [quantity]
  this is not a number to reckon with
  found: .inf
  allowed: a finite number
3:9+5 error non-finite-number [sizes.0]
  this is not a number to reckon with
  found: -.INF
  allowed: a finite number
3:16+4 error non-finite-number [sizes.1]
  this is not a number to reckon with
  found: .nan
  allowed: a finite number
""",
    ),
    Case(
        "huge",
        "spec: 1\na: 1000000000000000\nb: [-1234567890123456, 1e15, 1e999, 0x38D7EA4C68000]\n",
        """
2:4+16 error huge-number [a]
  a number too large to be held exactly
  found: 1000000000000000
  allowed: at most 15 digits before the point; in quotes if it is a name
3:5+17 error huge-number [b.0]
  a number too large to be held exactly
  found: -1234567890123456
  allowed: at most 15 digits before the point; in quotes if it is a name
3:24+4 error huge-number [b.1]
  a number too large to be held exactly
  found: 1e15
  allowed: at most 15 digits before the point; in quotes if it is a name
3:30+5 error huge-number [b.2]
  a number too large to be held exactly
  found: 1e999
  allowed: at most 15 digits before the point; in quotes if it is a name
3:37+15 error huge-number [b.3]
  a number too large to be held exactly
  found: 0x38D7EA4C68000
  allowed: at most 15 digits before the point; in quotes if it is a name
""",
    ),
    Case(
        "huge-thousands-of-digits",
        "spec: 1\nquantity: " + "9" * 6000 + "\n",
        """
2:11+6000 error huge-number [quantity]
  a number too large to be held exactly
  found: 99999999999999999999999999999999999999999999999999999999999…
  allowed: at most 15 digits before the point; in quotes if it is a name
""",
    ),
    Case(
        "too-deep",
        "spec: 1\nframe: " + "[" * 20 + "]" * 20 + "\n",
        """
2:27+1 error nested-too-deep [frame.0.0.0.0.0.0.0.0.0.0.0.0.0.0.0.0.0.0]
  too many maps and lists stand within each other
  found: 21 within each other
  allowed: at most 20 within each other
""",
    ),
    Case(
        "control",
        "spec: 1\ntitle: a\x1b[31mred\x07\n",
        """
2:9+1 error control-character
  a character that cannot be seen stands here, and 1 more in the file: delete it, or type the place anew
  found: U+001B
  allowed: letters, digits, signs, blanks and line ends
""",
    ),
    Case(
        "nul",
        "spec: 1\0\n",
        """
1:8+1 error control-character
  a character that cannot be seen stands here: delete it, or type the place anew
  found: U+0000
  allowed: letters, digits, signs, blanks and line ends
""",
    ),
    Case(
        "line-separator",
        "spec: 1\ntitle: one\u2028two\n",
        """
2:11+1 error control-character
  a character that cannot be seen stands here: delete it, or type the place anew
  found: U+2028
  allowed: letters, digits, signs, blanks and line ends
""",
    ),
    Case(
        "second-byte-order-mark",
        "\ufeff\ufeffspec: 1\n",
        """
1:1+1 error control-character
  a character that cannot be seen stands here: delete it, or type the place anew
  found: U+FEFF
  allowed: letters, digits, signs, blanks and line ends
""",
    ),
    Case(
        "latin-1",
        b"spec: 1\r\ntitle: 13\xbd in\r\n",
        """
2:10+1 error not-utf8
  the file is not saved as UTF-8: save it again with the encoding UTF-8
  found: the byte 0xBD
  allowed: UTF-8 text
""",
    ),
    Case(
        "latin-1-behind-utf-8",
        "\ufeffspec: 1\ntitle: 🥁é ".encode() + b"\xe9t\xe9\n",
        """
2:11+1 error not-utf8
  the file is not saved as UTF-8: save it again with the encoding UTF-8
  found: the byte 0xE9
  allowed: UTF-8 text
""",
    ),
    Case(
        "utf-16",
        "spec: 1\n".encode("utf-16"),
        """
1:1+1 error not-utf8
  the file is not saved as UTF-8 but as UTF-16: save it again with the encoding UTF-8
  found: UTF-16
  allowed: UTF-8 text
""",
    ),
    Case(
        "utf-16-be",
        b"\xfe\xff" + "spec: 1\n".encode("utf-16-be"),
        """
1:1+1 error not-utf8
  the file is not saved as UTF-8 but as UTF-16: save it again with the encoding UTF-8
  found: UTF-16
  allowed: UTF-8 text
""",
    ),
    Case(
        "utf-32",
        "spec: 1\n".encode("utf-32"),
        """
1:1+1 error not-utf8
  the file is not saved as UTF-8 but as UTF-32: save it again with the encoding UTF-8
  found: UTF-32
  allowed: UTF-8 text
""",
    ),
    Case(
        "too-large",
        b"#" * 262145,
        """
1:1+1 error file-too-large
  the file is larger than a document of ours may be
  found: more than 256 KiB
  allowed: at most 256 KiB
""",
    ),
    Case(
        "all-at-once",
        "spec: 1\ndrum: &d A\ndrum: !!str B\nframe: {depth: .nan, depth: 1e99}\nhead: *d\n\twall: 8 mm\n",
        """
2:7+2 error yaml-anchor [drum]
  an anchor (`&`) is not taken here: write the value out where it is needed
  found: &d
  allowed: values written out, or a base file named by `inherits`; text that begins with `&` in quotes
  write: A
3:1+4 error duplicate-key [drum]
  the key `drum` stands twice in one map: first on line 2, and again here
  found: drum
  allowed: each key once; delete one of the two
3:7+5 error yaml-tag [drum]
  a tag (`!`) is not taken here: delete it
  found: !!str
  allowed: plain values; text that begins with `!`, or looks like a number, in quotes
  write: 'B'
4:16+4 error non-finite-number [frame.depth]
  this is not a number to reckon with
  found: .nan
  allowed: a finite number
4:22+5 error duplicate-key [frame.depth]
  the key `depth` stands twice in one map: first on line 4, and again here
  found: depth
  allowed: each key once; delete one of the two
4:29+4 error huge-number [frame.depth]
  a number too large to be held exactly
  found: 1e99
  allowed: at most 15 digits before the point; in quotes if it is a name
5:7+2 error yaml-alias [head]
  an alias (`*`) is not taken here: write the value out
  found: *d
  allowed: values written out, or a base file named by `inherits`; text that begins with `*` in quotes
  write: A
6:1+1 error tab-indent
  a tab where YAML wants blanks
  found: a tab
  allowed: blanks (spaces), two for each step inward
  write:   wall: 8 mm
""",
    ),
    Case(
        "lone-cr",
        "spec: 1\rdrum: a\rdrum: b\r",
        """
3:1+4 error duplicate-key [drum]
  the key `drum` stands twice in one map: first on line 2, and again here
  found: drum
  allowed: each key once; delete one of the two
""",
    ),
    Case(
        "crlf",
        "spec: 1\r\ndrum: a\r\ndrum: b\r\n",
        """
3:1+4 error duplicate-key [drum]
  the key `drum` stands twice in one map: first on line 2, and again here
  found: drum
  allowed: each key once; delete one of the two
""",
    ),
    Case(
        "unknown-kind",
        "spce: 1\ndrum: LIB-13\n",
        """
1:1+4 error unknown-kind [spce]
  a file begins with its kind, and `spce` is none; did you mean `spec`?
  found: spce
  allowed: `spec: 1`, `base: 1`, `shop: 1`, `run: 1`, `skin: 1`, `lot: 1`, `records: 1`
  write: spec: 1
""",
    ),
    Case(
        "unknown-kind-capitals",
        "Spec: 1\n",
        """
1:1+4 error unknown-kind [Spec]
  a file begins with its kind, and `Spec` is none; did you mean `spec`?
  found: Spec
  allowed: `spec: 1`, `base: 1`, `shop: 1`, `run: 1`, `skin: 1`, `lot: 1`, `records: 1`
  write: spec: 1
""",
    ),
    Case(
        "unknown-kind-no-likeness",
        "drum: LIB-13\nquantity: 8\n",
        """
1:1+4 error unknown-kind [drum]
  a file begins with its kind, and `drum` is none; a spec begins with `spec: 1`
  found: drum
  allowed: `spec: 1`, `base: 1`, `shop: 1`, `run: 1`, `skin: 1`, `lot: 1`, `records: 1`
  write: spec: 1
""",
    ),
    Case(
        "unknown-kind-empty-map",
        "{}\n",
        """
1:1+1 error unknown-kind
  a file begins with its kind, and `{}` is none
  found: {}
  allowed: `spec: 1`, `base: 1`, `shop: 1`, `run: 1`, `skin: 1`, `lot: 1`, `records: 1`
""",
    ),
    Case(
        "kind-not-first",
        "drum: LIB-13\nspec: 1\n",
        """
2:1+4 error kind-not-first [spec]
  the file's kind, `spec`, must be its first line: move it up
  found: `drum` first
  allowed: the kind and its version first
  write: spec: 1
""",
    ),
    Case(
        "kind-not-first-but-no-version",
        "drum: LIB-13\nspec: round\n",
        """
1:1+4 error unknown-kind [drum]
  a file begins with its kind, and `drum` is none; a spec begins with `spec: 1`
  found: drum
  allowed: `spec: 1`, `base: 1`, `shop: 1`, `run: 1`, `skin: 1`, `lot: 1`, `records: 1`
  write: spec: 1
""",
    ),
    Case(
        "version-two",
        "spec: 2\n",
        """
1:7+1 error unknown-version [spec]
  the `spec` has a version that is not known here
  found: 2
  allowed: 1
  write: spec: 1
""",
    ),
    Case(
        "version-text",
        "spec: '1'\n",
        """
1:7+3 error unknown-version [spec]
  the `spec` has a version that is not known here
  found: '1'
  allowed: 1
  write: spec: 1
""",
    ),
    Case(
        "version-true",
        "spec: true\n",
        """
1:7+4 error unknown-version [spec]
  the `spec` has a version that is not known here
  found: true
  allowed: 1
  write: spec: 1
""",
    ),
    Case(
        "version-float",
        "spec: 1.0\n",
        """
1:7+3 error unknown-version [spec]
  the `spec` has a version that is not known here
  found: 1.0
  allowed: 1
  write: spec: 1
""",
    ),
    Case(
        "version-none",
        "spec:\ndrum: LIB-13\n",
        """
1:6+1 error unknown-version [spec]
  the `spec` has a version that is not known here
  found: nothing
  allowed: 1
  write: spec: 1
""",
    ),
    Case(
        "version-map",
        "run: {drums: 2}\n",
        """
1:6+1 error unknown-version [run]
  the `run` has a version that is not known here
  found: {drums: 2}
  allowed: 1
  write: run: 1
""",
    ),
)


@pytest.fixture(params=["libyaml", "python"], autouse=True)
def _parser(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    if request.param == "libyaml" and not yaml.__with_libyaml__:
        pytest.skip("PyYAML was built without libyaml here")
    monkeypatch.setattr(yaml, "__with_libyaml__", request.param == "libyaml")


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_full_text_of_findings(case: Case) -> None:
    assert "\n".join(map(show, read(case.source))) == case.findings.strip()


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_place_text(case: Case) -> None:
    """A finding's place holds the file's name and the line that its number says."""
    source = case.source if isinstance(case.source, str) else case.source.decode(errors="replace")
    lines = source.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n").split("\n")
    for finding in read(case.source):
        assert finding.place.file == "drum.yaml"
        if finding.place.text:
            assert finding.place.text == lines[finding.place.line - 1]
            assert finding.place.column <= len(finding.place.text) + 1
        else:
            assert finding.name in {"file-too-large", "not-utf8", "empty-file"}


def test_every_fault_has_a_case() -> None:
    shown = {finding.name for case in CASES for finding in read(case.source)}
    # No version is old yet; the tests of upgrades have a made-up one.
    assert shown == {fault.name for fault in FAULTS} - {OLD_VERSION.name}


def test_every_fault_once() -> None:
    names = [fault.name for fault in FAULTS]
    assert len(set(names)) == len(names)
    for fault in FAULTS:
        assert not fault.message.endswith(".")
        assert fault.why.endswith(".")


def test_at_the_size_limit() -> None:
    document, findings = read_document(b"spec: 1\n".ljust(MAX_BYTES, b"#"), "drum.yaml")
    assert findings == ()
    assert document is not None


def test_at_the_depth_limit() -> None:
    # the root is the first map, so one list less than the limit may stand in it
    within = MAX_DEPTH - 1
    document, findings = read_document(f"spec: 1\nx: {'[' * within}{']' * within}\n".encode(), "drum.yaml")
    assert findings == ()
    assert document is not None


@pytest.mark.parametrize("opening", ["[", "{", "{? ", "- ", "{a: "])
def test_a_hundred_thousand_brackets(opening: str) -> None:
    names = {finding.name for finding in read("spec: 1\nx:\n  " + opening * (100_000 // len(opening)))}
    assert "nested-too-deep" in names


def test_findings_before_broken_syntax_are_kept() -> None:
    names = [finding.name for finding in read("spec: 1\nspec: 1\nhead: *goat\nframe: {depth: 55 mm\n")]
    assert names == ["duplicate-key", "yaml-alias", "yaml-syntax"]


def test_what_is_proposed_is_taken() -> None:
    """A line written as a finding says is read without one."""
    source = "spec: 1\ndrum:LIB-13\ntitle: Lending set: 13 inch\nhead: {hide:goat}\n"
    for _ in range(source.count("\n")):
        document, findings = read_document(source.encode(), "drum.yaml")
        if document is not None:
            break
        for finding in findings:
            source = source.replace(finding.found, finding.write)
    assert document is not None
    assert document.located.data == {
        "spec": 1,
        "drum": "LIB-13",
        "title": "Lending set: 13 inch",
        "head": {"hide": "goat"},
    }
