"""The demo specs, worked out for tests of explanations."""

from __future__ import annotations

import os
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from tauthide.explaining.tree import Node
from tauthide.figures import Workings
from tauthide.quantities.figures import start_workings
from tauthide.reading.located import Located
from tauthide.spec.chain import Chain, Library, read_source
from tauthide.spec.resolving import resolve

ROOT = Path(__file__).parents[1]
SPECS = (path.name for path in (ROOT / "specs").glob("lib-*.yaml") if not path.name.endswith(".approval.yaml"))
DEMOS = tuple(sorted(SPECS))


def chain_of(demo: str) -> Chain:
    """Return a demo spec and what feeds it, files named as seen from the repository."""
    path = ROOT / "specs" / demo
    shown = f"specs/{demo}"
    library = Library(lambda file: Path(os.path.relpath(file, ROOT)).as_posix())
    return library.chain(read_source(path, shown, path.read_bytes()))


@cache
def workings_of_demo(demo: str) -> Workings:
    """Return the workings of a demo spec, which are only read."""
    spec, findings = resolve(chain_of(demo))
    assert spec is not None, findings
    return start_workings(spec)


def located_of_demo(demo: str) -> Located:
    """Return a demo spec's document."""
    document = chain_of(demo).spec.document
    assert document is not None
    return document.located


def walk(node: Node, above: tuple[str, ...] = ()) -> Iterator[tuple[Node, tuple[str, ...]]]:
    """Yield a tree's nodes, each with the kinds and names of those above it."""
    yield node, above
    for item in node.inputs:
        yield from walk(item, (*above, f"{node.kind}:{node.name}"))
