"""A maker's own words made safe to show: control characters made visible, markup made plain."""

from __future__ import annotations

import re
import unicodedata

_MARKDOWN = re.compile(r"([!-/:-@\[-`{-~])")
_HIDDEN = frozenset({"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"})
"""Unicode categories that a terminal or page would act on, or not show, instead of printing."""


def plain(text: str) -> str:
    r"""Return the text on one line with every invisible character written out, as in `\u202e`."""
    if text.isascii() and text.isprintable():
        return text
    return "".join(_visible(character) for character in text)


def markdown(text: str) -> str:
    """Return the text so that Markdown shows it as it is: a backslash before every ASCII punctuation mark."""
    return _MARKDOWN.sub(r"\\\1", plain(text).strip())


def _visible(character: str) -> str:
    if unicodedata.category(character) not in _HIDDEN:
        return character
    code = ord(character)
    return f"\\x{code:02x}" if code < 0x100 else f"\\u{code:04x}" if code < 0x10000 else f"\\U{code:08x}"
