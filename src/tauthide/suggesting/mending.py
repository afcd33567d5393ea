"""What may be tried against a finding: what it says to write, and the fields that a maker can turn."""

from __future__ import annotations

import json
from collections.abc import Iterator

from tauthide.findings import Finding
from tauthide.reading.faults import Fault
from tauthide.reading.located import Data, Path
from tauthide.reading.scalars import resolve_plain
from tauthide.rules.registry import RULES
from tauthide.rules.wording import at_least
from tauthide.schema import names
from tauthide.schema.faults import (
    BAD_NAME,
    BOTH_OF_A_COUPLE,
    EMPTY_VALUE,
    FAULTS,
    MISSING_KEY,
    OUT_OF_RANGE,
    UNKNOWN_KEY,
    WRONG_TYPE,
)
from tauthide.schema.fields import fields
from tauthide.schema.wording import flow
from tauthide.spec.layers import COUPLES
from tauthide.suggesting.completing import rim_of
from tauthide.suggesting.counting import likely_counts
from tauthide.suggesting.draft import Draft
from tauthide.suggesting.edits import same_data

LEVERS = (
    "stations.count",
    "head.turnover",
    "stations.web",
    "stations.pair_spacing",
    "stations.margin",
    "stations.edge_distance",
    "stations.hole",
    "lace.width",
)
"""Fields that are turned where no finding says what to write, the one that costs least first."""

TURNS_MM = (1, 2, 4, 6, 10, 16, 24)
"""How far a length is turned, either way."""

MOST_COUNTS = 8
"""Station counts that are tried, from the best on."""

_OR = " or "
_MADE_UP = (MISSING_KEY.name, EMPTY_VALUE.name, BOTH_OF_A_COUPLE.name)
"""What these say to write is an example, or the maker's to choose."""

_WHY = {fault.name: fault.why for fault in FAULTS} | {rule.name: rule.why for rule in RULES}


def reason_of(finding: Finding) -> str:
    """Return why a finding wants a change, in a sentence or two."""
    why = _WHY.get(finding.name, "")
    return f"{finding.message}. {why}" if why else finding.message


def mends(draft: Draft, finding: Finding) -> list[Draft]:
    """Return the draft with each thing written that the finding says, as far as that is the maker's meaning."""
    if not finding.write or not finding.path or finding.name in _MADE_UP:
        return []
    path = _path(draft, finding)
    reasons = (reason_of(finding),)
    if finding.name == UNKNOWN_KEY.name:
        return _respelt(draft, finding, path, reasons)
    found: list[Draft] = []
    for text in finding.write.split(_OR):
        value = _read(text.removeprefix(f"{path[-1]}: "))
        if value is not None and not same_data(value, draft.value(path)) and _is_meant(draft, finding, path, value):
            found.append(draft.with_value(path, value, reasons))
    return found


def usual(draft: Draft, finding: Finding) -> list[Draft]:
    """Return the draft with what holds below the spec written in place of the value that a finding is about."""
    spec = draft.spec
    assert spec is not None  # the caller has looked
    setting = spec.settings.get(finding.path)
    if setting is None or setting.origin.layer != "spec" or len(setting.entries) == 1:
        return []
    below = setting.entries[-2]
    if below.written == setting.written:
        return []
    why = below.origin.reason or "so say the layers below"
    part, key = finding.path.split(".")
    return [
        draft.with_value((part, key), below.written, (reason_of(finding), f"{flow(below.written)} is usual: {why}"))
    ]


def with_usual(draft: Draft, reasons: tuple[str, ...]) -> Draft:
    """Return the draft with what would hold without the spec written in every field that is turned, but the count."""
    written = [(part, key) for part, key in (path.split(".") for path in LEVERS[1:]) if _is_written(draft, part, key)]
    bare = draft
    for path in written:
        bare = bare.without(path)
    if bare.spec is None:
        return draft
    for part, key in written:
        dotted = f"{part}.{key}"
        setting = bare.spec.settings.get(dotted) or bare.spec.settings[COUPLES[dotted]]
        said = (*reasons, f"{flow(setting.written)} is usual: {setting.origin.reason or 'so say the layers below'}")
        draft = draft.with_value((part, setting.path.partition(".")[2]), setting.written, said)
    return draft


def _is_written(draft: Draft, part: str, key: str) -> bool:
    return draft.value((part, key)) is not None


def levers(draft: Draft) -> Iterator[tuple[Path, Data]]:
    """Yield what else may be tried: a field and a value for it. What the maker left open comes first."""
    spec = draft.spec
    assert spec is not None  # the caller has looked
    present = [path for path in LEVERS if spec.has(path)]
    present.sort(key=lambda path: spec.settings[path].origin.layer == "spec")
    for dotted in present:
        part, key = dotted.split(".")
        yield from (((part, key), value) for value in _turned(draft, dotted))


def _turned(draft: Draft, dotted: str) -> Iterator[Data]:
    spec = draft.spec
    assert spec is not None  # the caller has looked
    if dotted == "stations.count":
        yield from (count for count in likely_counts(*rim_of(draft))[:MOST_COUNTS] if count != spec.count(dotted))
        return
    if dotted == "stations.hole" and spec.has("bench.punches"):
        owned = spec.settings["bench.punches"].written
        for written, _ in sorted(
            zip(owned if isinstance(owned, list) else [], spec.numbers("bench.punches"), strict=True),
            key=lambda punch: abs(punch[1] - spec.number(dotted)),
        ):
            if written != spec.settings[dotted].written:
                yield written
        return
    workings = draft.workings()
    for turn in TURNS_MM:
        for mm in (spec.number(dotted) + turn, spec.number(dotted) - turn):
            if mm > turn / 2:
                yield at_least(workings, mm)


def _path(draft: Draft, finding: Finding) -> Path:
    """Return the path of the value that a finding wants changed: in a list of acceptances that of its rule."""
    if finding.path == "accept":
        listed = draft.data.get("accept")
        for index, item in enumerate(listed if isinstance(listed, list) else []):
            if isinstance(item, dict) and item.get("rule") == finding.found:
                return "accept", index, "rule"
    return tuple(int(step) if step.isdigit() else step for step in finding.path.split("."))


def _respelt(draft: Draft, finding: Finding, path: Path, reasons: tuple[str, ...]) -> list[Draft]:
    """Return the draft with a misspelt key mended. Bases are found by `inherits` before a draft begins."""
    holder = draft.value(path[:-1])
    if not isinstance(holder, dict) or path[-1] not in holder or finding.write == "inherits":
        return []
    known = ".".join(map(str, (*path[:-1], finding.write))) in fields("spec")
    return [draft.with_key(path, finding.write, reasons)] if known and finding.write not in holder else []


def _is_meant(draft: Draft, finding: Finding, path: Path, value: Data) -> bool:
    """Tell whether a value says what the maker wrote, only spelt otherwise; findings also give mere examples."""
    old = draft.value(path)
    if finding.name == OUT_OF_RANGE.name and path[0] == "frame":
        return False  # how large a drum is meant to be, nobody else can say
    if finding.name == BAD_NAME.name:
        return value == names.mend(str(old))
    if finding.name == WRONG_TYPE.name:
        return str(value).strip() in (str(old).strip(), str(old).strip().lstrip("0"), str(old).removesuffix(".0"))
    return True


def _read(text: str) -> Data:
    """Return the value that a text of one line stands for; None for maps and lists, and for nothing."""
    if text[:1] in ("[", "{"):
        return None
    if text[:1] == '"':
        try:
            quoted: Data = json.loads(text)
        except ValueError:
            return text  # an inch sign
        return quoted
    value = resolve_plain(text.strip())
    return None if isinstance(value, Fault) else value
