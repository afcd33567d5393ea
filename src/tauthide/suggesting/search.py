"""The search for values that meet all rules, from a spec as its maker left it."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass

from tauthide.findings import Finding, relative_to
from tauthide.reading.located import Data, Path
from tauthide.schema.faults import WRONG_TYPE
from tauthide.schema.wording import flow
from tauthide.spec.chain import Chain
from tauthide.suggesting.completing import choose_count, complete, provisional_paths, settle
from tauthide.suggesting.draft import Draft, open_findings, start
from tauthide.suggesting.edits import same_data
from tauthide.suggesting.mending import levers, mends, reason_of, usual, with_usual

ROUNDS = 40
"""Mends that are made one after the other at most; a drum with a fault in every field needs fewer."""

FORESIGHT = 3
"""Mends in a row that are looked ahead where the first alone makes nothing better."""

TRIALS = 150
"""Drafts that one look ahead may try."""

_COUNT: Path = ("stations", "count")


@dataclass(frozen=True, slots=True)
class Suggestion:
    """One value to be written, and why."""

    path: str
    """Dotted path of the field."""
    old: str
    """What holds now, as it is written; empty for nothing."""
    origin: str
    """Where that comes from: `spec`, a base or shop file with its line, `hide profile`, `built-in`, or nothing."""
    new: str
    """What to write, as one line of YAML; of a key that is misspelt, the value under the right one."""
    reasons: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Suggested:
    """What came of a search."""

    draft: Draft
    """The spec as it would be."""
    suggestions: tuple[Suggestion, ...]
    """In the order of the spec's parts."""


def suggest(chain: Chain) -> Suggested:
    """Search for the values that mend a spec, without changing what needs no change; the same every time."""
    began = start(chain)
    draft = complete(began)
    draft = complete(_mend_fields(draft))
    draft = settle(draft, provisional_paths(began, draft))
    if draft.spec is not None:
        mended = _mend_drum(draft)
        draft = _prune(draft, mended)
    return Suggested(draft, tuple(_suggestions(began, draft)))


def _mend_fields(draft: Draft) -> Draft:
    """Mend what the schema refuses, where there is one way to."""
    for _ in range(ROUNDS):
        if draft.spec is not None:
            break
        after = next((after for finding in open_findings(draft) if (after := _one_way(draft, finding))), None)
        if after is None:
            break
        draft = after
    return draft


def _one_way(draft: Draft, finding: Finding) -> Draft | None:
    ways = [after for after in mends(draft, finding) if _is_cleared(draft, after, finding)]
    if finding.path == "stations.count":
        return _recount(draft, finding, ways)
    return ways[0] if len(ways) == 1 else None


def _recount(draft: Draft, finding: Finding, ways: list[Draft]) -> Draft | None:
    """Choose the station count, of those that the finding leaves open if there are several."""
    if finding.name == WRONG_TYPE.name and ways:
        return ways[0]  # the same count, only spelt otherwise
    among = tuple(count for way in ways if isinstance(count := way.value(_COUNT), int))
    trial = draft.with_value(_COUNT, among[0] if among else 16, (reason_of(finding),))
    if not _is_cleared(draft, trial, finding):
        return None
    if trial.spec is None:
        return trial if len(among) == 1 else None
    return choose_count(trial, among if len(among) > 1 else ())


def _is_cleared(before: Draft, after: Draft, finding: Finding) -> bool:
    """Tell whether a fault is gone and no more came in its place, but for those that it hid."""
    if after.spec is not None:
        return True
    left = {other.path for other in after.findings}
    faults = {other.path for other in before.findings}
    return finding.path not in left and (after.score <= before.score or not left & faults)


def _mend_drum(draft: Draft) -> Draft:
    """Mend what the rules find, as long as that makes the drum better."""
    for _ in range(ROUNDS):
        if not open_findings(draft):
            break
        after = _look_ahead(draft) or _turn(draft) or _start_over(draft)
        if after is None:
            break
        draft = after
    return draft


def _look_ahead(draft: Draft) -> Draft | None:
    """Return the draft after as few mends in a row as make it better; of those the one that is best."""
    known = {_fingerprint(draft)}
    row = [draft]
    trials = 0
    for _ in range(FORESIGHT):
        following: list[Draft] = []
        for step in row:
            for finding in open_findings(step):
                for after in (*mends(step, finding), *usual(step, finding)):
                    trials += 1
                    if trials <= TRIALS and after.spec is not None and _fingerprint(after) not in known:
                        known.add(_fingerprint(after))
                        following.append(after)
        best = _best(following)
        if best is not None and best.score < draft.score:
            return best
        row = following
    return None


def _turn(draft: Draft) -> Draft | None:
    """Return the draft with one field turned so that it is better, where no finding says what to write."""
    best: Draft | None = None
    for path, value in levers(draft):
        after = draft.with_value(path, value)
        if after.spec is None or after.score >= (draft if best is None else best).score:
            continue
        best = draft.with_value(path, value, _gone(draft, after))
        if not any(best.score):
            break
    return best


def _start_over(draft: Draft) -> Draft | None:
    """Return the draft with what is usual in all fields that are turned, where that is better."""
    fresh = choose_count(with_usual(draft, tuple(map(reason_of, open_findings(draft)))))
    if fresh.spec is None:
        return None
    after = _look_ahead(fresh) or fresh
    return after if after.score < draft.score else None


def _best(drafts: list[Draft]) -> Draft | None:
    return min(drafts, key=lambda draft: draft.score, default=None)


def _gone(before: Draft, after: Draft) -> tuple[str, ...]:
    """Return the reasons for a change: what was found before it and is found no more."""
    left = {(finding.name, finding.message) for finding in after.findings}
    gone = [finding for finding in open_findings(before) if (finding.name, finding.message) not in left]
    return tuple(dict.fromkeys(map(reason_of, gone)))


def _prune(before: Draft, after: Draft) -> Draft:
    """Take back each mend that the later ones have made needless."""
    for path in _changed_paths(before, after):
        old = before.value(path)
        if path in after.renames or len(path) != len(("part", "key")):
            continue
        trial = after.without(path) if old is None else after.with_value(path, old)
        if trial.spec is not None and trial.score <= after.score:
            after = trial
    return after


def _changed_paths(before: Draft, after: Draft) -> list[Path]:
    paths = sorted({*before.reasons, *after.reasons}, key=str)
    return [path for path in paths if not same_data(before.value(path), after.value(path))]


def _suggestions(before: Draft, after: Draft) -> Iterator[Suggestion]:
    changed = [path for path in _changed_paths(before, after) if after.value(path) is not None]
    for path in sorted(changed, key=lambda path: _position(after, path)):
        old, origin = _old(before, after, path)
        reasons = tuple(reason for reason in after.reasons.get(path, ()) if reason)
        yield Suggestion(".".join(map(str, path)), old, origin, flow(after.value(path)), reasons)


def _old(before: Draft, after: Draft, path: Path) -> tuple[str, str]:
    """Return what holds now at a path and where it comes from, for a value that is new in the spec also below."""
    renamed = after.renames.get(path, path)
    own = before.value(renamed)
    if own is not None:
        return (flow(own) if renamed == path else f"{renamed[-1]}: {flow(own)}"), "spec"
    setting = None if after.spec is None else after.spec.settings.get(".".join(map(str, path)))
    if setting is None or len(setting.entries) == 1:
        return "", ""
    below = setting.entries[-2]
    if below.written == setting.written:  # only said so that a key is not left empty
        return "", ""
    place = below.origin.place
    shown = after.chain.spec.shown
    origin = below.origin.layer if place is None else f"{relative_to(shown, place.file)}:{place.line}"
    return flow(below.written), origin


def _position(draft: Draft, path: Path) -> tuple[int, ...]:
    """Return where a value stands among those of the spec."""
    found: Data = draft.data
    position: list[int] = []
    for step in path:
        if isinstance(found, dict):
            position.append(list(found).index(str(step)))
            found = found[str(step)]
        elif isinstance(found, list) and isinstance(step, int):
            position.append(step)
            found = found[step]
    return tuple(position)


def _fingerprint(draft: Draft) -> str:
    return json.dumps(draft.data, sort_keys=True)
