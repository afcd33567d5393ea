"""From the documents that feed a spec to the spec itself, every value in base units with its origin."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType

from tauthide.findings import Finding, Place, has_errors
from tauthide.reading.located import Data, Located, Path
from tauthide.schema.check import check_data
from tauthide.schema.fields import fields
from tauthide.spec.chain import Chain, check_source
from tauthide.spec.layers import PARTS, TIMES, Entry, stack
from tauthide.spec.settings import Acceptance, Amount, Setting, Spec
from tauthide.units import parse

PROFILE_QUANTITIES: Mapping[str, str] = MappingProxyType(
    {
        "hide.soak": "time",
        "hide.dry": "time",
        "hide.density": "density",
        "hide.wet_strength": "stress",
        "hide.dry_strength": "stress",
        "lace_hide.soak": "time",
        "hide.stitch_tear": "tear",
        "hide.disc": "length",
        "lace_hide.wet_strength": "stress",
        "lace_hide.dry_strength": "stress",
        "lace_hide.dry_thickness": "length",
        "lace_hide.disc": "length",
    }
)
"""Quantities of the values that only hide profiles set."""


def resolve(chain: Chain) -> tuple[Spec | None, tuple[Finding, ...]]:
    """Check the spec and merge its layers; without errors in its files the spec, and in any case all findings."""
    findings = (*chain.findings, *check_source(replace(chain.spec, findings=())).findings)
    if has_errors(findings) or chain.spec.document is None:
        return None, findings
    documents = [(file.document.kind, file.document.located) for file in chain.files if file.document is not None]
    stacked = stack(documents)
    if chain.bases:
        findings = (*findings, *_check_merged(chain, stacked))
        if has_errors(findings):
            return None, findings
    located = chain.spec.document.located
    data = located.data
    settings = {path: _setting(path, entries) for path, entries in sorted(stacked.items())}
    quantity = data.get("quantity", 1)
    assert isinstance(quantity, int)  # the schema says so
    spec = Spec(
        drum=str(data["drum"]),
        title=str(data.get("title", "")),
        notes=str(data.get("notes", "")),
        quantity=quantity,
        settings=MappingProxyType(settings),
        place=located.place(("drum",)),
        parts={part: located.place((part,), key=True) for part in PARTS if part in data},
        acceptances=_acceptances(located),
    )
    return spec, findings


def _acceptances(located: Located) -> tuple[Acceptance, ...]:
    items = located.data.get("accept", [])
    assert isinstance(items, list)  # the schema says so
    return tuple(
        Acceptance(str(item["rule"]), str(item["because"]), located.place(("accept", index, "rule")))
        for index, item in enumerate(items)
        if isinstance(item, dict)
    )


def _setting(path: str, entries: tuple[Entry, ...]) -> Setting:
    quantity = "time" if path.startswith(f"{TIMES}.") else PROFILE_QUANTITIES.get(path)
    if quantity is None:
        field = fields("spec").get(path)
        quantity = None if field is None else field.quantity
    return Setting(path, _amount(quantity, entries[-1].written), quantity, entries)


def _amount(quantity: str | None, written: Data) -> Amount:
    if isinstance(written, list):
        return tuple(parse(quantity or "length", str(item)) for item in written)
    if quantity is not None:
        return parse(quantity, str(written))
    assert isinstance(written, (int, float, str))  # the schema says so
    return written


def _check_merged(chain: Chain, stacked: Mapping[str, tuple[Entry, ...]]) -> tuple[Finding, ...]:
    """Hold what spec and bases say together against the schema of a spec that inherits nothing."""
    assert chain.spec.document is not None  # checked by the caller
    located = chain.spec.document.located
    merged: dict[str, Data] = {key: value for key, value in located.data.items() if key != "inherits"}
    for part in {path.partition(".")[0] for path in stacked} & set(fields("spec")):
        own = {
            path.partition(".")[2]: entries[-1].written
            for path, entries in stacked.items()
            if path.startswith(f"{part}.") and entries[-1].origin.layer in ("spec", "base")
        }
        if own:
            merged[part] = own

    def place_of(path: Path, key: bool) -> Place:
        entries = stacked.get(".".join(str(step) for step in path[:2]))
        if entries is not None and entries[-1].origin.place is not None:
            return entries[-1].origin.place
        return located.place(path, key=key)

    return check_data("spec", merged, place_of)
