"""How values, paths and suggestions are put into words in a finding."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping
from typing import Any

from tauthide.reading.faults import excerpt

LIKENESS = 0.6
"""How alike two words must be, from 0 to 1, for one to be suggested for the other."""

LONGEST_WORD = 60
"""Characters of a word that are compared with the words it may be meant for."""

DOCUMENTS: Mapping[str, str] = {
    "spec": "spec",
    "base": "base file",
    "shop": "shop file",
    "run": "run",
    "skin": "skin",
    "lot": "lot",
    "records": "file of records",
    "approval": "record of approval",
}
"""What each kind of document is called in a sentence."""

_PLAIN = re.compile(r"[A-Za-z0-9](?:[A-Za-z0-9 .;%/½¼¾_-]*[A-Za-z0-9%½¼¾_])?")
_NOT_TEXT = re.compile(r"(?i:null|true|false|0x[0-9a-f]+|0o[0-7]+|[0-9]+(\.[0-9]*)?(e[-+]?[0-9]+)?)")


def flow(value: Any) -> str:
    """Return the value as YAML in flow style, on one line: `{outline: round, depth: 55 mm}`."""
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{flow(key)}: {flow(item)}" for key, item in value.items()) + "}"
    if isinstance(value, (list, tuple)):
        return "[" + ", ".join(map(flow, value)) + "]"
    if isinstance(value, str) and _PLAIN.fullmatch(value) and not _NOT_TEXT.fullmatch(value):
        return value
    return json.dumps(value, ensure_ascii=False)


def shown(value: Any) -> str:
    """Return a maker's value on one line, cut where it is long; text as it is, without quotes."""
    return excerpt(value if isinstance(value, str) else flow(value))


def dotted(path: Iterable[str | int]) -> str:
    """Return the path as a finding names it: `frame.depth`, `bench.punches.0`; long keys are cut."""
    return ".".join(excerpt(str(step)) for step in path)


def nearest(word: str, choices: Iterable[str]) -> str:
    """Return the choice most like the word, capitals apart; nothing where none is like it."""
    import difflib  # wanted only once something is misspelt

    found = difflib.get_close_matches(word[:LONGEST_WORD].lower(), list(choices), n=1, cutoff=LIKENESS)
    return found[0] if found else ""


def any_of(suggestions: Iterable[object]) -> str:
    """Join what may be written instead: `13 in or 13 mm`."""
    return " or ".join(map(str, suggestions))
