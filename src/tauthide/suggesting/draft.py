"""A spec as it might be written: changed data, what the rules say of it, and how far off it is."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from copy import deepcopy
from dataclasses import dataclass, field, replace
from types import MappingProxyType

from tauthide.figures import Workings
from tauthide.findings import Finding, Severity, in_order
from tauthide.quantities.figures import start_workings
from tauthide.reading.located import Data, Path
from tauthide.rules.registry import RULES, hold_rules
from tauthide.spec.chain import Chain
from tauthide.spec.layers import COUPLES
from tauthide.spec.resolving import resolve
from tauthide.spec.settings import Spec

UNRESOLVED, BEFORE_A_GATE, HELD = 2, 1, 0
"""How far a draft comes: files or fields are at fault, a gate is broken, or all rules were held against it."""

Score = tuple[int, int, int]
"""How far it comes, how many errors, how many warnings that are not accepted: less is better."""

_GATES = frozenset(rule.name for rule in RULES if rule.gate)


@dataclass(frozen=True, slots=True)
class Draft:
    """A spec with changes, not yet written anywhere. Its chain's marks are those of the text as it stands."""

    chain: Chain
    spec: Spec | None
    findings: tuple[Finding, ...]
    renames: Mapping[Path, Path] = field(default_factory=lambda: MappingProxyType({}))
    """For each key that took another one's place, by its path, the path of that other one."""
    reasons: Mapping[Path, tuple[str, ...]] = field(default_factory=lambda: MappingProxyType({}))
    """Why each value was changed, by its path, in the order in which that was found."""

    @property
    def data(self) -> dict[str, Data]:
        """What the spec would hold."""
        assert self.chain.spec.document is not None  # `start` takes no other
        return self.chain.spec.document.located.data

    @property
    def score(self) -> Score:
        """How far the draft is from meeting all rules."""
        errors = sum(finding.severity is Severity.ERROR for finding in self.findings)
        warnings = sum(finding.severity is Severity.WARNING and not finding.accepted for finding in self.findings)
        return self._stage, errors, warnings

    @property
    def _stage(self) -> int:
        if self.spec is None:
            return UNRESOLVED
        broken = any(f.severity is Severity.ERROR and f.name in _GATES for f in self.findings)
        return BEFORE_A_GATE if broken else HELD

    def workings(self) -> Workings:
        """Return the workings of a draft that has a spec."""
        assert self.spec is not None  # the caller has looked
        return start_workings(self.spec)

    def value(self, path: Path) -> Data:
        """Return what the spec's own text would hold at a path; None where it holds nothing."""
        found: Data = self.data
        for step in path:
            if isinstance(found, dict):
                found = found.get(str(step))
            elif isinstance(found, list) and isinstance(step, int) and step < len(found):
                found = found[step]
            else:
                return None
        return found

    def with_value(self, path: Path, value: Data, reasons: Iterable[str] = ()) -> Draft:
        """Return the draft with a value set, in the place of its couple's other field where that is written."""
        data = deepcopy(self.data)
        holder = _holder(data, path)
        renames = dict(self.renames)
        other = COUPLES.get(".".join(map(str, path)), "").rpartition(".")[2]
        if isinstance(holder, dict):
            if other in holder:
                old = (*path[:-1], other)
                renames[path] = renames.pop(old, old)
                _rekey(holder, other, str(path[-1]))
                if renames[path] == path:
                    del renames[path]
            holder[str(path[-1])] = value
        elif isinstance(holder, list) and isinstance(path[-1], int):
            holder[path[-1]] = value
        return self._changed(data, renames, path, reasons)

    def with_key(self, path: Path, key: str, reasons: Iterable[str] = ()) -> Draft:
        """Return the draft with the key at a path spelt otherwise."""
        data = deepcopy(self.data)
        holder = _holder(data, path)
        assert isinstance(holder, dict)  # only maps have keys
        _rekey(holder, str(path[-1]), key)
        return self._changed(data, {**self.renames, (*path[:-1], key): path}, (*path[:-1], key), reasons)

    def without(self, path: Path) -> Draft:
        """Return the draft without the key at a path, nor the map that it leaves empty."""
        data = deepcopy(self.data)
        holder = _holder(data, path)
        assert isinstance(holder, dict)  # only maps have keys
        holder.pop(str(path[-1]), None)
        if not holder and len(path) > 1:
            return self._changed(data, self.renames, path, ()).without(path[:-1])
        return self._changed(data, self.renames, path, ())

    def _changed(
        self, data: dict[str, Data], renames: Mapping[Path, Path], path: Path, reasons: Iterable[str]
    ) -> Draft:
        document = self.chain.spec.document
        assert document is not None  # `start` takes no other
        located = replace(document.located, data=data)
        chain = replace(self.chain, spec=replace(self.chain.spec, document=replace(document, located=located)))
        known = self.reasons.get(path, ())
        reasons = (*known, *(reason for reason in reasons if reason not in known))
        return _judge(chain, MappingProxyType(dict(renames)), MappingProxyType({**self.reasons, path: reasons}))


def start(chain: Chain) -> Draft:
    """Return the draft of a spec as it stands; its file must be one that can be read as a document."""
    assert chain.spec.document is not None  # the caller has looked
    return _judge(chain, MappingProxyType({}), MappingProxyType({}))


def open_findings(draft: Draft) -> list[Finding]:
    """Return what a draft must or should still have mended: errors first, then warnings not accepted."""
    errors = [finding for finding in draft.findings if finding.severity is Severity.ERROR]
    warnings = [f for f in draft.findings if f.severity is Severity.WARNING and not f.accepted]
    return errors + warnings


def _judge(chain: Chain, renames: Mapping[Path, Path], reasons: Mapping[Path, tuple[str, ...]]) -> Draft:
    spec, findings = resolve(chain)
    if spec is not None:
        findings = (*findings, *hold_rules(start_workings(spec)))
    return Draft(chain, spec, in_order(findings), renames, reasons)


def _holder(data: dict[str, Data], path: Path) -> Data:
    """Return the map or list that holds a path, made where it is not there or nothing."""
    found: Data = data
    for step in path[:-1]:
        if isinstance(found, dict):
            if found.get(str(step)) is None:
                found[str(step)] = {}
            found = found[str(step)]
        elif isinstance(found, list) and isinstance(step, int):
            found = found[step]
    return found


def _rekey(holder: dict[str, Data], old: str, new: str) -> None:
    """Give a value another key in the same place of its map's order."""
    items = [(new if key == old else key, value) for key, value in holder.items()]
    holder.clear()
    holder.update(items)
