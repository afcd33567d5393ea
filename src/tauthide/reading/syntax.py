"""What the YAML parser could not read, said again in a maker's words.

PyYAML has two parsers, libyaml's in C and one in Python, whose messages and places differ a little. Both are
met here by the words that they share, so that a mistake that makers make has the same finding with either.
(The one in Python also refuses tabs between words, and question marks within text in brackets.)
"""

from __future__ import annotations

import re
from collections.abc import Callable

from tauthide.findings import Finding
from tauthide.reading.faults import DIRECTIVE, MAX_DEPTH, TAG, TOO_DEEP
from tauthide.reading.trouble import Trouble, explain_missing_blank, quote

_SECOND_COLON = re.compile(r"(\s*(?:- +)*[^\s'\"#{}\[\]][^:'\"#{}\[\]]*:\s+)([^'\"{}\[\]].*)")
_TWO_WORDS = re.compile(r"(\s*+(?:- +)*+)([A-Za-z_]\w*)[ =]+(\S.*)")
_ESCAPE = re.compile(r"\\(?:x[0-9a-fA-F]{0,2}|u[0-9a-fA-F]{0,4}|U[0-9a-fA-F]{0,8}|.)")
_KEY_BEFORE_COLON = re.compile(r"\S\s+([^\s,:]+)\Z")
_PARTNERS = {"{": "}", "[": "]"}


def explain(trouble: Trouble) -> Finding:
    """Return the finding for what a parser could not read."""
    for explanation in _EXPLANATIONS:
        finding = explanation(trouble)
        if finding is not None:
            return finding
    return trouble.report("this line cannot be read as YAML", found=trouble.line.strip())


def _open_quote(trouble: Trouble) -> Finding | None:
    if "quoted scalar" not in trouble.context or "found unexpected" not in trouble.problem:
        return None
    index = trouble.context_index
    sign = trouble.source.text[index]
    line = trouble.source.lines[trouble.source.place_at(index).line - 1]
    found = line[trouble.source.place_at(index).column - 1 :]
    write = found.rstrip() + sign if not set(found) & set(":#,[]{}") else ""
    return trouble.report(
        f"the quote `{sign}` that opens here is never closed",
        index=index,
        found=found,
        allowed=f"`{sign}` at the end of the text",
        write=write,
    )


def _escape(trouble: Trouble) -> Finding | None:
    if not any(words in trouble.problem for words in ("escape character", "escape code", "hexa", "hexdec")):
        return None
    text = trouble.source.text
    # one parser stands on the backslash, the other behind it, or in the digits that follow
    index = text.rfind("\\", trouble.context_index, trouble.problem_index + 1)
    match = _ESCAPE.match(text, index) if index >= 0 else None
    if match is None:
        return None
    found = match[0]
    return trouble.report(
        f"`{found}` stands for no character in double quotes",
        index=index,
        found=found,
        allowed="single quotes, in which a backslash is only a backslash; or `\\\\` for one",
    )


def _tag(trouble: Trouble) -> Finding | None:
    if "tag" not in trouble.context.split() and "tag handle" not in trouble.problem:
        return None
    index = trouble.context_index
    match = re.compile(r"\S*").match(trouble.source.text, index)
    found = match[0] if match else ""
    return TAG.at(trouble.source.place_at(index, max(len(found), 1)), found=found)


def _brackets(trouble: Trouble) -> Finding | None:
    if "while parsing a flow" not in trouble.context or "expected ','" not in trouble.problem:
        return None
    index = trouble.context_index
    bracket = trouble.source.text[index]
    partner = _PARTNERS.get(bracket, "")
    opened = trouble.source.place_at(index).line
    if not trouble.sign or trouble.row + 1 != opened:
        return _unclosed(trouble, index)
    if trouble.sign in "]}":
        what = f"`{trouble.sign}` closes a bracket that was opened by `{bracket}`"
        return trouble.report(what, found=trouble.sign, allowed=partner, write=partner)
    match = _KEY_BEFORE_COLON.search(trouble.before) if trouble.sign == ":" else None
    start = match.start(1) if match else len(trouble.before)
    return trouble.report(
        f"a comma or `{partner}` is missing before this",
        index=trouble.problem_index - len(trouble.before) + start,
        found=trouble.line[start:],
        allowed=f"a comma between two parts, and `{partner}` after the last",
    )


def _unclosed(trouble: Trouble, index: int) -> Finding:
    """Report the bracket at `index` as not closed."""
    bracket = trouble.source.text[index]
    place = trouble.source.place_at(index)
    return trouble.report(
        f"the bracket `{bracket}` that opens here is not closed, or a comma is missing after it",
        index=index,
        found=place.text[place.column - 1 :],
        allowed=f"a comma between two parts, and `{_PARTNERS.get(bracket, '')}` after the last",
    )


def _last_bracket(trouble: Trouble) -> int:
    return max(trouble.source.text.rfind(bracket) for bracket in _PARTNERS)


def _colon_too_many(trouble: Trouble) -> Finding | None:
    if "mapping values are not allowed" not in trouble.problem:
        return None
    row, line = trouble.row, trouble.line
    match = _SECOND_COLON.fullmatch(line)
    if match and len(match[1]) <= len(trouble.before):
        return trouble.report(
            "a second colon in one line: text with a colon in it needs quotes",
            found=line.strip(),
            allowed="one `key: value` a line; text with a colon in quotes",
            write=match[1].strip() + " " + quote(match[2]),
        )
    if row and (mended := explain_missing_blank(trouble.source.lines[row - 1])):
        return _blank_missing(trouble, row - 1, *mended)
    if row and line.startswith(" ") and not trouble.before.strip().endswith(("'", '"')):
        return trouble.report_line(
            row,
            "this line stands further in than the one before it, which already has a value",
            allowed="keys of one map begin below each other",
        )
    return trouble.report("a colon where none can stand", found=line.strip())


def _blank_missing(trouble: Trouble, row: int, key: str, write: str) -> Finding:
    return trouble.report_line(
        row,
        f"a blank is missing after the colon of `{key}`",
        allowed="a colon and a blank between key and value",
        write=write,
    )


def _colon_missing(trouble: Trouble) -> Finding | None:
    if "could not find expected ':'" not in trouble.problem:
        return None
    row = trouble.source.place_at(trouble.context_index).line - 1
    line = trouble.source.lines[row]
    if mended := explain_missing_blank(line):
        return _blank_missing(trouble, row, *mended)
    words = _TWO_WORDS.fullmatch(line.rstrip())
    write = f"{words[2]}: {words[3]}" if words else ""
    what = "this line has no colon between a key and its value"
    return trouble.report_line(row, what, allowed="a key, a colon, a blank, the value", write=write)


def _misplaced(trouble: Trouble) -> Finding | None:
    """Explain what follows a finished value on its line, or a line that fits no map or list above it."""
    expected = ("expected key", "expected '-' indicator", "expected <block end>", "<document start>")
    if not any(words in trouble.problem for words in expected):
        return None
    rest = trouble.line[len(trouble.before) :]
    if trouble.sign and trouble.sign in "]}":
        allowed = "as many brackets closed as opened"
        return trouble.report(f"`{trouble.sign}` closes a bracket that was never opened", found=rest, allowed=allowed)
    before = trouble.before.rstrip()
    if before.endswith(("'", '"')):
        allowed = "quotes round the whole text, or none"
        return trouble.report("text goes on after its closing quote", found=rest, allowed=allowed)
    if before:
        return trouble.report("something follows a value that was already at its end", found=rest)
    if trouble.sign == ":":
        return trouble.report("a colon without a key before it", found=rest, allowed="a name before the colon")
    if "<document start>" in trouble.problem:
        if trouble.source.text.startswith("%"):
            what = "a line `---` is missing between the directive and the document"
            return trouble.report(what, found=rest, allowed="`---` after directives", write="---")
        what = "something follows the end of the document"
        return trouble.report(what, found=rest, allowed="one document, ended by the end of the file")
    return trouble.report_line(
        trouble.row,
        "this line belongs to no map or list above it: its indentation, or what it begins with, does not fit",
        allowed="keys of one map, or items of one list, begin below each other",
    )


def _first_sign(trouble: Trouble) -> Finding | None:
    if "alphabetic or numeric character" in trouble.problem:
        index = trouble.context_index
    elif "cannot start any token" in trouble.problem or "mapping keys are not allowed" in trouble.problem:
        index = trouble.problem_index
    else:
        return None
    place = trouble.source.place_at(index)
    sign = trouble.source.text[index]
    rest = trouble.source.lines[place.line - 1][place.column - 1 :]
    return trouble.report(
        f"text cannot begin with `{sign}` unless it stands in quotes",
        index=index,
        found=rest,
        allowed="text in quotes",
        write=quote(rest),
    )


def _list_item(trouble: Trouble) -> Finding | None:
    if "sequence entries are not allowed" not in trouble.problem:
        return None
    return trouble.report(
        "an item of a list cannot begin on its key's line",
        found=trouble.line.strip(),
        allowed="each `- item` on a line of its own, or `[item, item]`; a lone `-` in quotes",
    )


def _value_missing(trouble: Trouble) -> Finding | None:
    if "node content" not in trouble.problem:
        return None
    found = trouble.sign
    if not found:
        return _unclosed(trouble, _last_bracket(trouble))
    allowed = f"a value; a text that begins with `{found}` in quotes"
    return trouble.report(f"a value is missing before `{found}`", found=found, allowed=allowed)


def _block_text(trouble: Trouble) -> Finding | None:
    if "block scalar" not in trouble.context:
        return None
    place = trouble.source.place_at(trouble.context_index)
    rest = trouble.source.lines[place.line - 1][place.column - 1 :]
    return trouble.report(
        f"`{rest[:1]}` begins a text of several lines and must stand alone on its line",
        index=trouble.context_index,
        found=rest,
        allowed=f"`{rest[:1]}` alone, the text on the lines below, further in; or text in quotes",
        write=quote(rest),
    )


def _nesting(trouble: Trouble) -> Finding | None:
    # libyaml looks far ahead for the colon of a key and gives up by itself at a depth of a thousand
    if "nesting depth" not in trouble.problem:
        return None
    found = f"more than {MAX_DEPTH} within each other"
    return TOO_DEEP.at(trouble.source.place_at(trouble.problem_index), found=found)


def _directive(trouble: Trouble) -> Finding | None:
    if "directive" not in trouble.context and "directive" not in trouble.problem:
        return None
    place = trouble.source.place_at(trouble.context_index)
    return DIRECTIVE.at(place, found=place.text)


_EXPLANATIONS: tuple[Callable[[Trouble], Finding | None], ...] = (
    _open_quote,
    _tag,
    _escape,
    _brackets,
    _colon_too_many,
    _colon_missing,
    _first_sign,
    _misplaced,
    _list_item,
    _value_missing,
    _block_text,
    _nesting,
    _directive,
)
