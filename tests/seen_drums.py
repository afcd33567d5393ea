"""Sides of comparisons: drums of tests as a comparison sees them."""

from __future__ import annotations

from pathlib import Path

from drums import USUAL, Fields, changed, spec_text
from tauthide.batch.compiling import compile_chain
from tauthide.comparing.seen import Seen
from tauthide.spec.chain import Chain, check_source, read_source

Leaf = str | int


def see(
    fields: Fields = USUAL, /, *, drum: str = "TEST", more: str = "", shop: str = "", base: str = "", **changes: Leaf
) -> Seen:
    """Return a drum as one side of a comparison; the texts of a shop file and of a base may lie beneath it."""
    inherits = "inherits: b.base.yaml\n" if base else ""
    opening = f"spec: 1\ndrum: {drum}\n{inherits}{more}"
    return see_text(spec_text(changed(fields, **changes), opening), shop=shop, base=base)


def see_text(text: str, *, shop: str = "", base: str = "", file: str = "a.yaml") -> Seen:
    """Return what a spec's text comes to."""
    source = read_source(Path(file), file, text.encode())
    layers = [
        check_source(read_source(Path(name), name, layer.encode()))
        for name, layer in (("shop.yaml", shop), ("b.base.yaml", base))
        if layer
    ]
    findings = (*source.findings, *(finding for layer in layers for finding in layer.findings))
    bases = tuple(layer for layer in layers if layer.shown != "shop.yaml")
    compiled = compile_chain(Chain(source, next((one for one in layers if one not in bases), None), bases, findings))
    drum = "" if compiled.spec is None else compiled.spec.drum
    return Seen(file, file, drum, text.encode(), compiled.spec, compiled.plan, compiled.workings, compiled.findings)
