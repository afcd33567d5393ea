"""What became of a drum or a run, and which findings came and went."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from enum import StrEnum

from tauthide.findings import Finding


class State(StrEnum):
    """What became of a drum or a run."""

    NEW = "new"
    GONE = "gone"
    CHANGED = "changed"
    SAME = "same"


def missing_from(these: Iterable[Finding], those: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return findings that those have not, each as often as it is more; places and values do not count."""
    rest = Counter(map(_identity, those))
    found = []
    for finding in these:
        if rest[_identity(finding)]:
            rest[_identity(finding)] -= 1
        else:
            found.append(finding)
    return tuple(found)


def _identity(finding: Finding) -> tuple[str, str, str, str]:
    return finding.name, finding.path, finding.severity, finding.accepted
