"""What a rule is."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from tauthide.figures import Workings
from tauthide.findings import Severity


@dataclass(frozen=True, slots=True)
class Trouble:
    """One breach of a rule, before it is given its place."""

    path: str
    """Field that the maker would change."""
    message: str
    found: str = ""
    allowed: str = ""
    write: str = ""


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule of the trade."""

    name: str
    """Says the fault, lower case with hyphens."""
    severity: Severity
    why: str
    """Why it matters, for the maker."""
    mend: str
    """How to mend it, in general."""
    source: str
    check: Callable[[Workings], Iterable[Trouble]]
    gate: bool = False
    """Whether geometry fails or means nothing where the rule is broken: gates are checked first."""
