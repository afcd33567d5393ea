"""Fingerprints: whether a spec would still compile to what lies on disk."""

from __future__ import annotations

import hashlib
from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable

from tauthide.batch.making import Making
from tauthide.findings import relative_to
from tauthide.schema.store import schema_folder
from tauthide.spec.chain import Chain

PROGRAM_FILES = (".py", ".j2", ".json")
"""Endings of the files that make up the program: code, templates, schemas."""


def fingerprint(chain: Chain) -> str:
    """Return a hash over the program, all files that feed a spec and its approval, their names included."""
    total = hashlib.sha256(program_hash())
    for file in (*chain.files, *(() if chain.approval is None else (chain.approval,))):
        name = relative_to(chain.spec.shown, file.shown)
        for part in (name.encode("utf-8", "surrogateescape"), file.source):
            total.update(len(part).to_bytes(8, "big"))
            total.update(part)
    return total.hexdigest()


def made_fingerprint(fingerprint: str, making: Making) -> str:
    """Return a fingerprint that also covers what is made of the drum, and with what; empty stays empty.

    That is the prints, with the packages that make them, and the maker's own templates.
    """
    keys = (making.prints.key, "" if making.templates is None else making.templates.digest)
    if not fingerprint or not any(keys):
        return fingerprint
    return hashlib.sha256("\0".join((fingerprint, *keys)).encode()).hexdigest()


@cache
def program_hash() -> bytes:
    """Return a hash over the program's own files: a changed program compiles everything anew."""
    total = hashlib.sha256()
    for top in (files("tauthide"), schema_folder()):
        for name, content in _program_files(top, ""):
            total.update(f"{name}\0{len(content)}\0".encode())
            total.update(content)
    return total.digest()


def _program_files(folder: Traversable, prefix: str) -> list[tuple[str, bytes]]:
    found: list[tuple[str, bytes]] = []
    for item in sorted(folder.iterdir(), key=lambda entry: entry.name):
        name = f"{prefix}{item.name}"
        if item.is_dir():
            if item.name not in ("__pycache__", "schemas"):
                found += _program_files(item, f"{name}/")
        elif item.name.endswith(PROGRAM_FILES):
            found.append((name, item.read_bytes()))
    return found
