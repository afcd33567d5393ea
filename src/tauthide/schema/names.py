"""Names of drums: they become names of folders, on any computer that the specs are copied to."""

from __future__ import annotations

import re

MOST_CHARACTERS = 64
"""Longest name of a drum; no file system in use takes fewer than 143 bytes."""

SHEET_OF_THE_BATCH = "index.md"
"""The one name in the output folder that no drum may take, in small letters."""

DEVICES = frozenset(
    {"con", "prn", "aux", "nul"} | {f"{port}{digit}" for port in ("com", "lpt") for digit in range(1, 10)}
)
"""Names that Windows keeps for devices, whatever stands behind a dot (Microsoft Learn, "Naming Files, Paths,
and Namespaces"), in small letters."""

_FIRST = re.compile(r"[A-Za-z0-9]")
_REFUSED = re.compile(r"[^A-Za-z0-9._-]")


def judge(name: str) -> str:
    """Return why a text cannot be the name of a drum; nothing where it can."""
    refused = _REFUSED.search(name)
    if not name:
        return "it is empty"
    if refused:
        return f"{_called(refused[0])} cannot stand in it"
    if not _FIRST.match(name):
        return "it does not begin with a letter or digit"
    if name.endswith("."):
        return "it ends with a dot"
    if len(name) > MOST_CHARACTERS:
        return f"it has {len(name)} characters"
    if name.partition(".")[0].lower() in DEVICES:
        return "Windows keeps this name for a device"
    return "the list of all drums has this name" if name.lower() == SHEET_OF_THE_BATCH else ""


def mend(name: str) -> str:
    """Return a name like the text that a drum can have; nothing where too little of the text is left."""
    text = re.sub(r"[^A-Za-z0-9._-]+", "-", name[: 4 * MOST_CHARACTERS]).strip("-._")[:MOST_CHARACTERS].rstrip(".-")
    if not text:
        return ""
    return text if not judge(text) else f"drum-{text}"[:MOST_CHARACTERS].rstrip(".-")


def _called(character: str) -> str:
    if character == " ":
        return "a blank"
    return f"`{character}`" if character.isprintable() else f"U+{ord(character):04X}"
