"""What a rule is."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from tauthide.figures import Workings
from tauthide.findings import Severity

Fields = Mapping[str, str | int]
"""Fields of a spec by path, as a maker would write them: `{"stations.web": "20 mm"}`."""

USUAL: Fields = MappingProxyType(
    {
        "frame.outline": "round",
        "frame.diameter": "13 in",
        "frame.depth": "55 mm",
        "head.hide": "goat",
        "stations.count": 16,
    }
)
"""The drum that examples start from. A field of an example replaces it; another outline drops the diameter."""


def drum_of(example: Fields) -> Fields:
    """Return all fields of an example's drum: its own on top of `USUAL`."""
    usual = {path: written for path, written in USUAL.items() if path != _DIAMETER or _OUTLINE not in example}
    return MappingProxyType({**usual, **example})


_OUTLINE, _DIAMETER = "frame.outline", "frame.diameter"


@dataclass(frozen=True, slots=True)
class Trouble:
    """One breach of a rule, before it is given its place."""

    path: str
    """Field that the maker would change."""
    message: str
    found: str = ""
    allowed: str = ""
    write: str = ""
    severity: Severity | None = None
    """Where it weighs more or less than the rule usually does."""


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
    failing: Fields
    """An example that breaks the rule: fields by path, on top of `USUAL`."""
    passing: Fields
    """The same drum, mended."""
    gate: bool = False
    """Whether geometry fails or means nothing where the rule is broken: gates are checked first."""
