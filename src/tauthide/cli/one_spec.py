"""The one spec that a command is asked about, read with what feeds it."""

from __future__ import annotations

import sys
from dataclasses import dataclass
from pathlib import Path

from tauthide.batch.inputs import STDIN, Input, find_inputs, show_path, unreadable
from tauthide.cli import exits
from tauthide.findings import Finding
from tauthide.reading.documents import a_kind
from tauthide.reading.faults import MAX_BYTES
from tauthide.reading.files import FileTrouble
from tauthide.spec.chain import Chain, Library


@dataclass(frozen=True, slots=True)
class OneSpec:
    """A spec as it was read; whether it is a good one has not been looked at."""

    input: Input
    chain: Chain


def read_one_spec(path: str, command: str) -> OneSpec | tuple[Finding, ...]:
    """Read the one spec that a command takes, or standard input, or say why it can't be read.

    UsageTrouble for a folder, and for a document of another kind.
    """
    stdin = sys.stdin.buffer.read(MAX_BYTES + 1) if path == STDIN else b""
    if path != STDIN and Path(path).is_dir():
        raise exits.UsageTrouble(f"{path} is a folder; {command} takes one spec at a time")
    inputs = find_inputs((path,), stdin)
    if inputs.findings:
        return inputs.findings
    (item,) = inputs.items
    try:
        chain = item.chain(Library(show_path))
    except FileTrouble as trouble:
        return (unreadable(item.shown, trouble),)
    document = chain.spec.document
    if document is not None and document.kind != "spec":
        raise exits.UsageTrouble(f"{item.shown} is {a_kind(document.kind)} file; {command} takes a spec")
    return OneSpec(item, chain)
