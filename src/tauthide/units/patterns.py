"""Regular expressions of quantities, for the schemas that editors read.

They keep to what ECMA-262 and Python's `re` have in common, in ASCII, so that an editor marks the same texts
as the compiler. They are written apart from the reader on purpose: a test holds the two together.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from tauthide.units.notes import NOTE_PATTERN
from tauthide.units.numerals import BLANKS, DENOMINATORS, MAX_DIGITS, VULGAR

_SPECIAL: Final = frozenset(".^$*+?()[]{}|\\/")
_TEN: Final = 10


def _portable(text: str) -> str:
    """Return the text with every character outside plain ASCII as a four-digit escape."""
    return "".join(c if " " <= c <= "~" else f"\\u{ord(c):04x}" for c in text)


_BLANK: Final = f"[{_portable(BLANKS)}]"
_WHOLE: Final = f"[0-9]{{1,{MAX_DIGITS}}}"


def quantity_pattern(units: Sequence[Sequence[str]], chain: Sequence[Sequence[str]], signed: bool) -> str:
    """Return the pattern of one number with one of `units`, or of parts in the order of `chain`.

    Both hold the spellings of each unit; those without capitals may be written in either case.
    """
    ways = [f"{_number()}{_BLANK}*{_words([word for unit in units for word in unit])}"]
    for last in range(1, len(chain)):
        before = [f"(?:{_WHOLE}{_BLANK}*{_words(unit)}{_BLANK}*)" for unit in chain[:last]]
        # One part alone is covered above, so only the parts before the last one are optional here.
        ways.append(f"{'?'.join(before)}?{_number()}{_BLANK}*{_words(chain[last])}")
    sign = f"(?:(?:-|\\u2212){_BLANK}*)?" if signed else ""
    return _whole_text(sign + (ways[0] if len(ways) == 1 else f"(?:{'|'.join(ways)})"))


def pitch_pattern(units: Sequence[Sequence[str]]) -> str:
    """Return the pattern of a frequency with one of `units`, or of a note name."""
    frequency = f"{_number()}{_BLANK}*{_words([word for unit in units for word in unit])}"
    return _whole_text(f"(?:{frequency}|{NOTE_PATTERN.format(blank=_BLANK)})")


def _whole_text(inner: str) -> str:
    return f"^{_BLANK}*{inner}{_BLANK}*$"


def _number() -> str:
    fractions = "|".join(f"{_below(bottom)}\\/{bottom}" for bottom in DENOMINATORS)
    vulgar = _portable("".join(VULGAR))
    return (
        f"(?:(?:{_WHOLE}(?:{_BLANK}+|-))?(?:{fractions})"
        f"|(?:{_WHOLE}(?:{_BLANK}*|-))?[{vulgar}]"
        f"|{_WHOLE}(?:\\.{_WHOLE})?)"
    )


def _below(limit: int) -> str:
    """Return a pattern of the whole numbers from 1 up to `limit` - 1; the limit has at most two digits."""
    if limit == DENOMINATORS[0]:
        return "1"
    if limit <= _TEN:
        return f"[1-{limit - 1}]"
    tens, ones = divmod(limit - 1, _TEN)
    full = f"|[1-{tens - 1}][0-9]" if tens > 1 else ""
    return f"(?:[1-9]{full}|{tens}[0-{ones}])"


def _words(words: Sequence[str]) -> str:
    return f"(?:{'|'.join(_word(word) for word in words)})"


def _word(word: str) -> str:
    letters = []
    either = word == word.lower()
    for c in word:
        if c == " ":
            letters.append(f"{_BLANK}+")
        elif either and "a" <= c <= "z":
            letters.append(f"[{c.upper()}{c}]")
        else:
            letters.append(f"\\{c}" if c in _SPECIAL else _portable(c))
    return "".join(letters)
