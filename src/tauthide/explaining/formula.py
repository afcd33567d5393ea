"""A figure's formula with the numbers put in, derived from the formula's own text.

Formulas are written for readers: dotted names of figures, bare names of fields (`turnover`), numbers, signs,
and words between them. Names that stand for inputs are replaced by their values; all else is left alone.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass

_NAME = r"[A-Za-z_](?:\w|'\w)*(?:\.[A-Za-z_]\w*)*"
_NUMBER = r"\d+(?:\.\d+)?"
_TIMES = "x"
_OPERATORS = frozenset({_TIMES, "+", "-", "/"})
_PI = "pi"
_ARTICLES = ("a", "b")
"""Single letters that are no variables in our formulas: an article, and the names of a pair's holes."""
_FUNCTIONS = frozenset({"sin", "cos", "tan", "asin", "sqrt", "hypot", "exp", "min", "max"})
_WAYS = re.compile(r";\s+(?:or\s+)?")
"""What stands between the ways in which a figure may come about."""


@dataclass(frozen=True, slots=True)
class Filled:
    """A formula with numbers put in."""

    text: str
    """The formula; just as it was if nothing could be put in."""
    left: tuple[str, ...]
    """Names of figures and fields in it that stand for none of the inputs, or for one without a number."""


@dataclass(frozen=True, slots=True)
class _Token:
    text: str
    kind: str
    """`name`, `word`, `variable`, `function`, `number` or `sign`."""
    path: str = ""
    """Of a name: the input that it stands for; empty if it stands for none."""
    gap: str = ""
    """The blanks before it."""

    @property
    def is_factor(self) -> bool:
        """Tell whether a value right behind it is multiplied with it."""
        return self.kind in ("name", "variable", "number") or self.text in (")", _PI)


def fill(formula: str, values: Mapping[str, str], fields: Collection[str], known: Collection[str]) -> Filled:
    """Put the values of a figure's inputs into its formula.

    `values` are the inputs' values as text by figure name or field path, of which `fields` are the fields: a
    field may go by its last part, with blanks for underscores, and by its part's name before that. `known`
    are names that, found in the formula without standing for an input, are told as left.

    Of a formula with several ways (`web, as given; or pair_spacing - hole`) only those are told of which all names
    are put in: the way by which this drum's figure came about. Where there is none, all are told.
    """
    texts = _WAYS.split(formula)
    if len(texts) > 1:
        ways = [_fill_way(text, values, fields, known) for text in texts]
        whole = [way for way in ways if not way.left]
        taken = [way for way in whole if way.text not in texts] or whole
        if 0 < len(taken) < len(ways):
            return Filled("; ".join(way.text for way in taken), ())
    return _fill_way(formula, values, fields, known)


def _fill_way(formula: str, values: Mapping[str, str], fields: Collection[str], known: Collection[str]) -> Filled:
    tokens = _in_place(list(_read(formula, _spellings(values, fields), known)))
    text = ""
    left: dict[str, None] = {}
    for index, token in enumerate(tokens):
        value = values.get(token.path, "") if token.kind == "name" else ""
        if token.kind == "name" and not value:
            left[token.text] = None
        after = tokens[index + 1] if index + 1 < len(tokens) else None
        shown = _guarded(value, after) if value else token.text
        text += (_gap(tokens, index, values) if index else token.gap) + shown
    return Filled(text, tuple(left))


def _spellings(values: Mapping[str, str], fields: Collection[str]) -> dict[str, str]:
    """Return the inputs by every spelling that stands for one of them alone."""
    found: dict[str, set[str]] = {}
    for path in values:
        for spelling in {path, *(_field_spellings(path) if path in fields else ())}:
            found.setdefault(spelling, set()).add(path)
    return {spelling: min(paths) for spelling, paths in found.items() if len(paths) == 1}


def _field_spellings(path: str) -> Iterator[str]:
    part, _, field = path.rpartition(".")
    for spelling in (field, field.replace("_", " ")):
        yield spelling
        if part:
            yield f"{part} {spelling}"


def _read(formula: str, spellings: Mapping[str, str], known: Collection[str]) -> Iterator[_Token]:
    """Yield the formula's tokens; the longest spelling wins."""
    longest = sorted(spellings, key=lambda spelling: (-len(spelling), spelling))
    own = "|".join(rf"(?<![\w.]){re.escape(spelling)}(?!\w|\.\w)" for spelling in longest)
    pattern = re.compile(rf"(\s*)({own + '|' if own else ''}{_NAME}|{_NUMBER}|\S)")
    for gap, text in pattern.findall(formula):
        yield _token(text, gap, spellings, known)


def _token(text: str, gap: str, spellings: Mapping[str, str], known: Collection[str]) -> _Token:
    if text in spellings:
        return _Token(text, "name", spellings[text], gap)
    if text[0].isdigit():
        return _Token(text, "number", "", gap)
    if text == "%":
        return _Token(text, "word", "", gap)
    if not (text[0].isalpha() or text[0] == "_") or text in (_TIMES, _PI):
        return _Token(text, "sign", "", gap)
    if text in _FUNCTIONS:
        return _Token(text, "function", "", gap)
    if text in known or "_" in text or "." in text:
        return _Token(text, "name", "", gap)
    is_variable = text not in _ARTICLES and (len(text) == 1 or any(sign.isdigit() for sign in text))
    return _Token(text, "variable" if is_variable else "word", "", gap)


def _in_place(tokens: list[_Token]) -> list[_Token]:
    """Make words again of bare names that stand among words: `the last hole from the hub`, `from a pitch`.

    Names with a dot, an underscore or a blank are never plain words.
    """
    placed = list(tokens)
    for index, token in enumerate(tokens):
        if token.kind != "name" or not token.text.isalpha():
            continue
        before = tokens[index - 1] if index else None
        after = tokens[index + 1] if index + 1 < len(tokens) else None
        is_term = before is not None and before.text in _OPERATORS
        if (before is not None and before.kind == "word") or (
            after is not None and after.kind == "word" and not is_term
        ):
            placed[index] = _Token(token.text, "word", "", token.gap)
    return placed


def _guarded(value: str, after: _Token | None) -> str:
    raised = after is not None and after.text == "^"
    return f"({value})" if raised or value.startswith("-") else value


def _gap(tokens: list[_Token], index: int, values: Mapping[str, str]) -> str:
    """Return what stands before a token: a sign of multiplication where a value is written beside a factor."""
    before, token = tokens[index - 1], tokens[index]
    put_in = any(item.kind == "name" and values.get(item.path) for item in (before, token))
    if not put_in or not before.is_factor or not token.gap:
        return token.gap
    opens = token.text == "(" and not _is_remark(tokens[index + 1 :])
    factor = token.kind in ("name", "variable", "number", "function") or token.text == _PI
    return f" {_TIMES} " if opens or factor else token.gap


def _is_remark(inside: Iterable[_Token]) -> bool:
    """Tell whether the brackets that were opened before hold words rather than a factor."""
    depth = 1
    for token in inside:
        depth += {"(": 1, ")": -1}.get(token.text, 0)
        if not depth:
            return False
        if token.kind == "word":
            return True
    return False
