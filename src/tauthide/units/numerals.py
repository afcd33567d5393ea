"""Numbers as a maker writes them, and the parts that a quantity is made of.

A number is whole (`13`), with a decimal point (`13.5`), or with a rule's fraction (`1 1/2`, `1-1/2`, `13½`).
It is kept as two whole numbers, so that nothing is lost before the one division at the end.
"""

from __future__ import annotations

import functools
import math
import re
from dataclasses import dataclass
from typing import Final

BLANKS: Final = " \t\r\n\u00a0\u2007\u2009\u202f"
"""What counts as a blank: space, tab, line ends, and the fixed and narrow spaces of typesetters."""

MAX_DIGITS: Final = 9
"""Most digits before the point, and after it: more than any rule, scale or clock shows."""

DENOMINATORS: Final = (2, 3, 4, 5, 6, 8, 10, 12, 16, 32, 64)
"""The parts that rules are divided in; a written fraction takes one of these."""

VULGAR: Final = {
    "½": (1, 2), "⅓": (1, 3), "⅔": (2, 3), "¼": (1, 4), "¾": (3, 4),
    "⅕": (1, 5), "⅖": (2, 5), "⅗": (3, 5), "⅘": (4, 5), "⅙": (1, 6), "⅚": (5, 6),
    "⅛": (1, 8), "⅜": (3, 8), "⅝": (5, 8), "⅞": (7, 8),
}  # fmt: skip
"""Fractions that are one character each: numerator and denominator."""

_TO_SPACE: Final = str.maketrans(dict.fromkeys(BLANKS, " "))


@dataclass(frozen=True, slots=True)
class Part:
    """One number with its unit, as written: `1 1/2 in` is one part, `1 ft 1 in` are two."""

    written: str
    """The number as it stands."""
    numerator: int
    denominator: int
    word: str
    """The unit as it stands, without blanks round it; empty where there is none."""

    @property
    def is_plain_whole(self) -> bool:
        """Tell whether the number is written with digits only."""
        return self.written.isdigit()


def tidy(text: str) -> str:
    """Return the text with every run of blanks made one space, and none at either end."""
    return " ".join(filter(None, text.translate(_TO_SPACE).split(" ")))


def split(text: str, *, several: bool) -> list[Part] | None:
    """Take a tidied text apart into numbers with their units, or return None where it does not fit.

    With `several` a unit ends where the next number begins (`1 ft 1 in`); without, it runs to the end of
    the text and may hold digits (`kg/m3`).
    """
    parts: list[Part] = []
    position = 0
    while True:
        match = _number_regex().match(text, position)
        if match is None:
            return None
        ratio = _ratio(match)
        if ratio is None:
            return None
        end = len(text)
        if several:
            word = _word_regex().match(text, match.end())
            if word is None and match.end() < end:
                return None
            end = word.end() if word else end
        parts.append(Part(match[0], *ratio, text[match.end() : end].strip(" ")))
        if end == len(text):
            return parts
        position = end


def whole_number(text: str) -> tuple[int, int] | None:
    """Return numerator and denominator where the whole tidied text is one number, else None."""
    match = _number_regex().fullmatch(text)
    return None if match is None else _ratio(match)


def decimal_text(units: int, decimals: int) -> str:
    """Write `units` / 10^`decimals` as a decimal without trailing zeros: (3350, 2) is `33.5`."""
    whole, rest = divmod(abs(units), 10**decimals)
    tail = f"{rest:0{decimals}d}".rstrip("0") if rest else ""
    return ("-" if units < 0 else "") + str(whole) + ("." + tail if tail else "")


def mixed_text(numerator: int, denominator: int) -> str:
    """Write a ratio above or below 1 as a rule shows it: (5, 2) is `2 1/2`."""
    whole, rest = divmod(numerator, denominator)
    if not rest:
        return str(whole)
    shared = math.gcd(rest, denominator)
    fraction = f"{rest // shared}/{denominator // shared}"
    return f"{whole} {fraction}" if whole else fraction


@functools.cache
def _number_regex() -> re.Pattern[str]:
    digits = f"([0-9]{{1,{MAX_DIGITS}}})"
    signs = "".join(VULGAR)
    return re.compile(
        rf"(?:{digits}[ -])?([1-9][0-9]?)/([1-9][0-9]?)(?![0-9])"
        rf"|(?:{digits}[ -]?)?([{signs}])"
        rf"|{digits}(?:\.{digits})?"
    )


@functools.cache
def _word_regex() -> re.Pattern[str]:
    return re.compile(f"[^0-9{''.join(VULGAR)}]+")


def _ratio(match: re.Match[str]) -> tuple[int, int] | None:
    before_fraction, top, bottom, before_vulgar, vulgar, whole, decimals = match.groups()
    if whole is not None:
        scale = 10 ** len(decimals or "")
        return int(whole) * scale + int(decimals or 0), scale
    if vulgar is not None:
        numerator, denominator = VULGAR[vulgar]
        return int(before_vulgar or 0) * denominator + numerator, denominator
    numerator, denominator = int(top), int(bottom)
    if denominator not in DENOMINATORS or numerator >= denominator:
        return None
    return int(before_fraction or 0) * denominator + numerator, denominator
