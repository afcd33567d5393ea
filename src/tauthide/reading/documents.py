"""What kind of document a file holds: told by its first key, such as `spec: 1`."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from tauthide.findings import Finding
from tauthide.reading import upgrades
from tauthide.reading.events import read_yaml
from tauthide.reading.faults import KIND_NOT_FIRST, OLD_VERSION, UNKNOWN_KIND, UNKNOWN_VERSION
from tauthide.reading.located import Data, Located
from tauthide.reading.sources import BYTE_ORDER_MARKS

KINDS = ("spec", "base", "shop", "run", "skin", "lot", "records", "approval")
"""Every kind of document, by its first key."""
HANDLED = ("spec", "base", "shop", "run", "skin", "lot", "records")
"""The kinds that this program does something with; the others are known, and kept for what is to come."""
VERSION = 1
"""The version of every kind so far."""

_SIMILARITY = 0.6
"""Least likeness (difflib's ratio) of a key that is taken for a misspelt kind: two letters of four changed
places, as in `sepc`, give 0.75; words that only share letters give less than 0.6."""
# Possessive loops: a header of many comment lines is gone through once and never again.
_EMPTY_LINES = rb"(?:[ \t]*(?:#[^\r\n]*)?[\r\n])*+"
_FIRST_KEY = re.compile(
    rb"(?:(?:[ \t]*#|%)[^\r\n]*[\r\n]|[ \t]*[\r\n])*+"
    rb"(?:---(?=[\s{])[ \t]*)?"
    + _EMPTY_LINES
    + rb"[ \t]*(?:\{"
    + _EMPTY_LINES
    + rb"[ \t]*)?(?P<quote>[\"']?)(?P<kind>"
    + "|".join(KINDS).encode()
    + rb")(?P=quote)[ \t]*:(?:(?<=[\"']:)|(?=\s|\Z))"
)


@dataclass(frozen=True, slots=True)
class Document:
    """A located document whose kind and version are known; its fields are not yet looked at."""

    kind: str
    """One of `KINDS`."""
    version: int
    """As it is written; the data are of the present version all the same."""
    located: Located


def read_document(
    source: bytes, file: str, known: Sequence[upgrades.Step] | None = None
) -> tuple[Document | None, tuple[Finding, ...]]:
    """Return the document in `source`, or the findings that say why there is none, in order of place.

    A document of an older version is brought up to the present one, with a note that says so; `known` are the
    steps that lead there, and are our own unless others are given.
    """
    located, findings = read_yaml(source, file)
    if located is None:
        return None, findings
    told = kind_of(located, known)
    if isinstance(told, Finding):
        return None, (told,)
    kind, version = told
    steps = steps_to_present(kind, version, known)
    if not steps:
        return Document(kind, version, located), ()
    note = _find_old(located, kind, steps)
    return Document(kind, version, upgrades.bring_up(located, steps)), (note,)


def steps_to_present(
    kind: str, version: int, known: Sequence[upgrades.Step] | None = None
) -> tuple[upgrades.Step, ...] | None:
    """Return the steps from a version of a kind to the present one; None where there is no way."""
    return upgrades.steps_from(kind, version, VERSION, upgrades.UPGRADES if known is None else known)


def kind_of(located: Located, known: Sequence[upgrades.Step] | None = None) -> tuple[str, int] | Finding:
    """Return a document's kind and version, told by its first key, or the finding that says what is amiss."""
    first = next(iter(located.data), None)
    if first is None or first not in KINDS:
        return _find_kind(located, first)
    version = located.data[first]
    if isinstance(version, int) and _is_version(version) and steps_to_present(first, version, known) is not None:
        return first, version
    place = located.place((first,))
    start = place.column - 1
    end = None if isinstance(version, (dict, list)) else start + place.width
    found = "nothing" if version is None else place.text[start:end]
    return UNKNOWN_VERSION.at(place, path=first, found=found, write=f"{first}: {VERSION}", kind=first)


def a_kind(kind: str) -> str:
    """Return a kind with its article: `a spec`, `an approval`."""
    return f"{'an' if kind[0] in 'aeiou' else 'a'} {kind}"


def suggest_kind(word: str) -> str:
    """Return the kind that `word` is most like, or nothing."""
    import difflib  # here, since only a misspelt kind needs it

    close = difflib.get_close_matches(word.casefold(), KINDS, n=1, cutoff=_SIMILARITY)
    return close[0] if close else ""


def peek_kind(source: bytes) -> str | None:
    """Return the kind that the first key in `source` names, if it is one, without reading the rest.

    For looking through folders. It is loose: a file whose kind is told here may yet turn out to be no YAML.
    """
    for mark in BYTE_ORDER_MARKS:
        if source.startswith(mark):
            # text in UTF-16 is its letters with zeros between; reading it will tell what is wrong with it
            source = source[len(mark) :].replace(b"\0", b"")
            break
    match = _FIRST_KEY.match(source)
    return match["kind"].decode() if match else None


def _find_old(located: Located, kind: str, steps: Sequence[upgrades.Step]) -> Finding:
    return OLD_VERSION.at(
        located.place((kind,)),
        path=kind,
        found=f"{kind}: {steps[0].version}",
        kind=kind,
        newest=str(VERSION),
        says="; ".join(step.says for step in steps),
    )


def _find_kind(located: Located, first: str | None) -> Finding:
    """Say that a document's first key is no kind: misspelt, not first, or not there."""
    if first is None:
        place = located.place(())
        return UNKNOWN_KIND.at(place, found=place.text.strip(), allowed=_kinds(), key="{}", hint="")
    likely = suggest_kind(first)
    if not (likely and _is_version(located.data[first])):
        for kind in KINDS:
            if kind in located.data and _is_version(located.data[kind]):
                place = located.place((kind,), key=True)
                write = f"{kind}: {located.data[kind]}"
                return KIND_NOT_FIRST.at(place, path=kind, found=f"`{first}` first", write=write, key=kind)
    hint = f"; did you mean `{likely}`?" if likely else ""
    if not likely and "drum" in located.data:
        likely, hint = "spec", "; a spec begins with `spec: 1`"
    write = f"{likely}: {VERSION}" if likely else ""
    place = located.place((first,), key=True)
    return UNKNOWN_KIND.at(place, path=first, found=first, allowed=_kinds(), write=write, key=first, hint=hint)


def _kinds() -> str:
    return ", ".join(f"`{kind}: {VERSION}`" for kind in HANDLED)


def _is_version(value: Data) -> bool:
    # True is an int to Python, and equal to 1
    return isinstance(value, int) and not isinstance(value, bool)
