"""Why a text is not read as a quantity, and what to write instead.

Only texts that were refused come here. Each check knows one slip; the first that applies has the word.
Everything that is suggested has been read first, so that a suggestion is never refused in its turn.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from typing import Final

from tauthide.units.amounts import read
from tauthide.units.catalogue import KINDS
from tauthide.units.kinds import Kind, fold
from tauthide.units.numerals import (
    DENOMINATORS,
    MAX_DIGITS,
    Part,
    decimal_text,
    mixed_text,
    split,
    tidy,
    whole_number,
)


class QuantityError(ValueError):
    """A text that does not read as the quantity wanted."""

    def __init__(self, message: str, write: tuple[str, ...] = ()) -> None:
        """Keep the message and the suggestions."""
        super().__init__(message, write)
        self.message = message
        """One sentence without a full stop."""
        self.write = write
        """What to write instead, ready to be copied; may be empty."""

    def __str__(self) -> str:
        """Return the message."""
        return self.message


_Check = Callable[[Kind, str], QuantityError | None]

_QUOTED_AT_MOST: Final = 20
"""Longest piece of a maker's text that a message repeats, in characters."""
_READ_AT_MOST: Final = 200
"""Longest text that is looked through for its slip, in characters; no quantity is nearly as long."""
_CLOSE: Final = 0.6
"""How alike two words must be for one to be suggested for the other, from 0 to 1."""
_SHORT_WORD: Final = 2
"""Words up to this length resemble too many units for a guess."""
_DECIMALS_OF_FRACTION: Final = 3
_GROUP: Final = 3
"""Digits in a group of thousands."""

_MEANT: Final = {
    ("time", "m"): "min",
    ("force", "lb"): "lbf",
    ("force", "lbs"): "lbf",
    ("force", "kg"): "kgf",
    ("tension", "lb/in"): "lbf/in",
    ("tear", "lb/in"): "lbf/in",
    ("stress", "mpa"): "MPa",
    ("angle", "º"): "deg",
    ("temperature", "ºc"): "C",
    ("temperature", "ºf"): "F",
}
"""Units often written for another, by kind and folded word."""

_LOOKALIKES: Final = str.maketrans(
    {"⁄": "/", "∕": "/", "´": "'", "`": "'", "‘": "'", "“": '"', "„": '"', "–": "-", "−": "-"}
)


def explain(kind: Kind, text: str) -> QuantityError:
    """Return the error for a text that was refused for this kind."""
    tidied = tidy(text)
    if not tidied:
        return QuantityError(f"{kind.phrase} is wanted here, and there is none")
    if len(tidied) > _READ_AT_MOST:
        return QuantityError(f"this is too long for {kind.phrase}")
    for check in _CHECKS:
        error = check(kind, tidied)
        if error is not None:
            return error
    return QuantityError(f"this does not read as {kind.phrase}")


def _offer(kind: Kind, *candidates: str) -> tuple[str, ...]:
    """Return those candidates that read as the kind, each once."""
    return tuple(dict.fromkeys(text for text in map(tidy, candidates) if read(kind, text) is not None))


def _with_number(kind: Kind, text: str, old: str, *numbers: str) -> tuple[str, ...]:
    """Offer the text with `old` replaced by each number, and with the likely units where it has none."""
    offers: list[str] = []
    for number in numbers:
        mended = text.replace(old, number, 1)
        offers += (mended, *kind.read_bare(mended))
    return _offer(kind, *offers)


def _refuse_sign(kind: Kind, text: str) -> QuantityError | None:
    if text[0] in "-−–" and not kind.signed:
        rest = text[1:].strip(" ")
        return QuantityError(f"{kind.phrase} is never negative", _offer(kind, rest, *kind.read_bare(rest)))
    if text[0] == "–" and kind.signed:
        return QuantityError("a minus sign is meant, not a dash", _offer(kind, "-" + text[1:]))
    if text[0] == "+":
        rest = text[1:].strip(" ")
        return QuantityError("no plus sign is wanted", _offer(kind, rest, *kind.read_bare(rest)))
    return None


def _refuse_missing_unit(kind: Kind, text: str) -> QuantityError | None:
    unsigned = text.lstrip("-−") if kind.signed else text
    if whole_number(unsigned) is None:
        return None
    return QuantityError(f"{kind.phrase} needs a unit: {kind.label}", kind.read_bare(text.replace("−", "-")))


def _refuse_exponent(kind: Kind, text: str) -> QuantityError | None:
    match = re.search(r"([0-9]+)(?:\.([0-9]+))?[eE]([+-]?[0-9]{1,2})(?![0-9])", text)
    if match is None:
        return None
    whole, decimals = match[1], match[2] or ""
    power = int(match[3]) - len(decimals)
    digits = int(whole + decimals)
    number = decimal_text(digits * 10**power, 0) if power >= 0 else decimal_text(digits, -power)
    return QuantityError("numbers are written out, without an exponent", _with_number(kind, text, match[0], number))


def _refuse_comma(kind: Kind, text: str) -> QuantityError | None:
    match = re.search(r"([0-9]+),([0-9]+)(?![,.0-9])", text)
    if match is None:
        return None
    numbers = [f"{match[1]}.{match[2]}"]
    if len(match[2]) == _GROUP and match[1] != "0":
        # 1,200 may as well be twelve hundred.
        numbers.append(match[1] + match[2])
    return QuantityError("a decimal point is meant, not a comma", _with_number(kind, text, match[0], *numbers))


def _refuse_gap(kind: Kind, text: str) -> QuantityError | None:
    # One comma alone is left to the check for decimal commas.
    match = re.search(
        r"(?<![0-9./])[0-9]{1,3}(?:([ _])[0-9]{3}(?:\1[0-9]{3})*|(?:,[0-9]{3}){2,}|(?:,[0-9]{3})+(?=\.))"
        r"(?:\.[0-9]+)?(?![0-9/])",
        text,
    )
    if match is None:
        return None
    number = re.sub(r"[ _,]", "", match[0])
    return QuantityError("digits are written without gaps", _with_number(kind, text, match[0], number))


def _refuse_many_digits(_kind: Kind, text: str) -> QuantityError | None:
    if not re.search(rf"[0-9]{{{MAX_DIGITS + 1},}}", text):
        return None
    return QuantityError(f"a number has at most {MAX_DIGITS} digits before the point and {MAX_DIGITS} after it")


def _refuse_point(kind: Kind, text: str) -> QuantityError | None:
    match = re.search(r"(?<![0-9.])\.([0-9]+)", text)
    if match is not None:
        offers = _with_number(kind, text, match[0], "0" + match[0])
        return QuantityError("a point needs a digit before it", offers)
    match = re.search(r"([0-9]+)\.(?![0-9])", text)
    if match is not None:
        return QuantityError("a point needs a digit after it", _with_number(kind, text, match[0], match[1]))
    return None


def _refuse_fraction(kind: Kind, text: str) -> QuantityError | None:
    match = re.search(r"(?:([0-9]{1,9})[ -])?([0-9]{1,9}) ?/ ?([0-9]{1,9})(?![0-9])", text)
    if match is None:
        return None
    whole, top, bottom = int(match[1] or 0), int(match[2]), int(match[3])
    if bottom == 0:
        return QuantityError("a fraction cannot be divided by zero")
    numerator = whole * bottom + top
    offers = _with_number(kind, text, match[0], mixed_text(numerator, bottom))
    if top >= bottom:
        return QuantityError(f"the fraction {top}/{bottom} is not below 1", offers)
    if top == 0:
        return QuantityError("a fraction of nothing is left out", offers)
    if bottom not in DENOMINATORS:
        scale = 10**_DECIMALS_OF_FRACTION
        decimal = decimal_text((2 * numerator * scale + bottom) // (2 * bottom), _DECIMALS_OF_FRACTION)
        divisors = ", ".join(map(str, DENOMINATORS))
        return QuantityError(
            f"a fraction goes by one of {divisors}, not by {bottom}",
            offers or _with_number(kind, text, match[0], decimal),
        )
    if offers and match[0] != mixed_text(numerator, bottom):
        return QuantityError("a fraction is written without blanks or zeros in it", offers)
    return None


def _refuse_note(kind: Kind, text: str) -> QuantityError | None:
    match = re.fullmatch(r"([A-Ha-h])([#♯b♭]?)([0-9]?)((?:[ +−-].*)?)", text) if kind.takes_notes else None
    if match is None:
        return None
    letter, accidental, octave, cents = match.groups()
    if letter in "Hh":
        offers = _offer(kind, f"{'Bb' if accidental in {'b', '♭'} else 'B'}{octave}{cents}") if octave else ()
        return QuantityError("note names go from A to G: H is called B here, and B is Bb", offers)
    name = letter.upper() + accidental
    if not octave:
        return QuantityError(
            "a note name needs its octave: A4 is the A at 440 Hz",
            _offer(kind, f"{name}2{cents}", f"{name}3{cents}"),
        )
    if letter.islower():
        return QuantityError("a note name starts with a capital", _offer(kind, f"{name}{octave}{cents}"))
    return QuantityError(
        "a note takes at most 99 cents more or less, as in A2 +15 cents", _offer(kind, f"{name}{octave}")
    )


def _refuse_units(kind: Kind, text: str) -> QuantityError | None:
    parts = split(text.lstrip("-− ") if kind.signed else text, several=bool(kind.chain))
    if parts is None:
        return None
    for index, part in enumerate(parts):
        if kind.find(part.word) is None:
            return _refuse_word(kind, parts, index)
    return _refuse_chain(kind, parts) if kind.chain and len(parts) > 1 else None


def _refuse_word(kind: Kind, parts: list[Part], index: int) -> QuantityError:
    word = parts[index].word
    if not word:
        offers = [_joined(parts, {index: unit}) for unit in kind.chain]
        return QuantityError(f"{parts[index].written} needs a unit of its own", _offer(kind, *offers))
    meant = _MEANT.get((kind.name, fold(word))) or _closest(kind, word)
    offers = [_joined(parts, {index: meant})] if meant else []
    quoted = _quoted(word)
    others = [other.name for other in KINDS.values() if other.find(word) is not None]
    if others:
        message = f"{quoted} is a unit of {' or '.join(others)}, not of {kind.name}"
    else:
        message = f"{quoted} is not a unit of {kind.name}: {kind.label}"
    return QuantityError(message, _offer(kind, *offers))


def _refuse_chain(kind: Kind, parts: list[Part]) -> QuantityError:
    names = [unit.name for part in parts if (unit := kind.find(part.word)) is not None]
    if not set(names) <= set(kind.chain):
        chain = " and ".join((", ".join(kind.chain[:-1]), kind.chain[-1]))
        return QuantityError(f"only {chain} may stand together in one {kind.name}")
    if len(set(names)) < len(names):
        return QuantityError("each unit may stand only once")
    if any(not part.is_plain_whole for part in parts[:-1]):
        return QuantityError("only the last part may have a fraction")
    in_order = sorted(parts, key=lambda part: kind.chain.index(names[parts.index(part)]))
    return QuantityError("the parts go from the large unit to the small one", _offer(kind, _joined(in_order, {})))


def _refuse_lookalikes(kind: Kind, text: str) -> QuantityError | None:
    # Imported here, since only a refused text that nothing else explains gets this far.
    import unicodedata

    plain = text.translate(_LOOKALIKES)
    between = re.sub(r"\s*(?:-|,|\band\b|&)\s*", " ", plain)
    offers = _offer(kind, plain, between, unicodedata.normalize("NFKC", plain))
    return QuantityError(f"this does not read as {kind.phrase}", offers) if offers else None


def _joined(parts: Iterable[Part], words: dict[int, str]) -> str:
    texts = []
    for index, part in enumerate(parts):
        word = words.get(index, part.word)
        texts.append(f"{part.written} {word}" if word[:1].isalnum() else part.written + word)
    return " ".join(texts)


def _closest(kind: Kind, word: str) -> str | None:
    if not _SHORT_WORD < len(word) <= _QUOTED_AT_MOST:
        return None
    # Imported here, since difflib is only wanted once something was refused.
    from difflib import get_close_matches

    spellings = [spelling for unit in kind.units for spelling in unit.spellings]
    close = get_close_matches(fold(word), spellings, n=1, cutoff=_CLOSE)
    return close[0] if close else None


def _quoted(word: str) -> str:
    return word if len(word) <= _QUOTED_AT_MOST and word.isprintable() else "this"


_CHECKS: Final[tuple[_Check, ...]] = (
    _refuse_sign,
    _refuse_missing_unit,
    _refuse_exponent,
    _refuse_gap,
    _refuse_comma,
    _refuse_many_digits,
    _refuse_point,
    _refuse_fraction,
    _refuse_note,
    _refuse_lookalikes,
    _refuse_units,
)
