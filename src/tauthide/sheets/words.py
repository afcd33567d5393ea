"""Words for sheets: lists, runs of numbers, and text that Markdown takes as it stands."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from functools import lru_cache

from tauthide.spec.settings import Spec

NO_BREAK = "\u00a0"
"""A space at which no line is broken."""

_ACTIVE = re.compile(r"[\\`*\[\]<>|&~$]|(?<!\w)_|_(?!\w)")


@lru_cache(maxsize=1024)
def own(text: str) -> str:
    """Return our own text (a title, formula, reason) with the signs escaped that Markdown would act on.

    Lighter than `tauthide.text.markdown`, so that the page's source reads well: only for words that stand in
    this program, behind other text on the line. Kept, since a batch shows the same words on every sheet.
    """
    return _ACTIVE.sub(r"\\\g<0>", text)


def held(amount: str) -> str:
    """Return an amount that a narrow column breaks only before the bracket: `30 mm` / `(1 3/16 in)`."""
    return amount.replace(" ", NO_BREAK).replace(f"{NO_BREAK}(", " (")


def guide_of(spec: Spec) -> str:
    """Return what the line on the skin is called along which station 1 and the place opposite lie."""
    return "spine" if spec.word("head.spine") == "along" else "cross line"


def listing(items: Iterable[object]) -> str:
    """Join items with commas and a last `and`: `1, 5 and 9`."""
    words = [str(item) for item in items]
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} and {words[-1]}"


def runs(numbers: Sequence[int]) -> str:
    """Write rising numbers with runs of three or more drawn together: `2, 4 to 9`."""
    parts: list[str] = []
    start = 0
    for index, value in enumerate(numbers):
        if index + 1 < len(numbers) and numbers[index + 1] == value + 1:
            continue
        run = numbers[start : index + 1]
        parts += [f"{run[0]} to {run[-1]}"] if len(run) > 2 else [str(item) for item in run]
        start = index + 1
    return ", ".join(parts)


def counted(count: int, one: str, several: str) -> str:
    """Write a count with its noun: `1 drum`, `8 drums`."""
    return f"{count} {one if count == 1 else several}"
