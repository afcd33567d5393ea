"""What a name stands for: a rule, a fault, a figure or a field; and what may have been meant by another."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable
from dataclasses import dataclass
from difflib import get_close_matches

from tauthide.explaining.field import TOP_FIELDS
from tauthide.explaining.pages import pages
from tauthide.figures import Figure
from tauthide.lacing.lacings import LACINGS
from tauthide.quantities.figures import figures_with
from tauthide.schema.fields import fields
from tauthide.spec.layers import TIMES
from tauthide.spec.resolving import PROFILE_QUANTITIES

LIKENESS = 0.6
MOST_CHARACTERS = 60
"""A longer text is compared by its beginning: comparing takes long, and no name is that long."""
MOST_SUGGESTIONS = 3


@dataclass(frozen=True, slots=True)
class Names:
    """Every name that may be asked for."""

    pages: frozenset[str]
    """Rules and faults."""
    figures: frozenset[str]
    """Of drums with any lacing."""
    fields: frozenset[str]
    """Paths of what a spec or a hide profile may set."""
    parts: frozenset[str]
    """Parts of a spec, which have fields."""


def all_names() -> Names:
    """Return every name that may be asked for."""
    figures = {name for lacing in LACINGS for name in figures_with(lacing).figures}
    known = fields("spec")
    parts = {path for path, field in known.items() if field.type == "object"}
    leaves = {path for path in known if path.rpartition(".")[0] in parts} - parts
    times = {path for path, field in fields("shop").items() if path.startswith(f"{TIMES}.") and field.quantity}
    leaves |= {*TOP_FIELDS, *PROFILE_QUANTITIES} | times
    return Names(frozenset(pages()), frozenset(figures), frozenset(leaves), frozenset(parts))


def definition_in_any(name: str) -> Figure:
    """Return the definition of a figure by the first lacing that has it; KeyError where none has."""
    for lacing in LACINGS:
        if name in figures_with(lacing).figures:
            return figures_with(lacing).figures[name]
    raise KeyError(name)


def similar(asked: str, names: Names) -> tuple[str, ...]:
    """Return the names that may have been meant, the likeliest first; of a part, its fields."""
    if asked in names.parts:
        return tuple(sorted(path for path in names.fields if path.startswith(f"{asked}.")))
    every = names.pages | names.figures | names.fields
    folded = _fold(asked[:MOST_CHARACTERS])
    ending = _by(every, lambda name: _fold(name) == folded) or _by(every, lambda name: _last(name) == folded)
    if ending:
        return ending[:MOST_SUGGESTIONS]
    spelt = {_fold(name): name for name in sorted(every)}
    close = get_close_matches(folded, list(spelt), n=MOST_SUGGESTIONS, cutoff=LIKENESS)
    return tuple(spelt[name] for name in close)


def _by(names: Collection[str], test: Callable[[str], bool]) -> tuple[str, ...]:
    return tuple(sorted(name for name in names if test(name)))


def _fold(text: str) -> str:
    return text.strip().lower().replace("-", "_").replace(" ", "_")


def _last(name: str) -> str:
    return _fold(name.rpartition(".")[2])


def either(names: Iterable[str]) -> str:
    """Join names with commas and a last `or`, each in backquotes."""
    quoted = [f"`{name}`" for name in names]
    return " or ".join([", ".join(quoted[:-1]), quoted[-1]] if len(quoted) > 1 else quoted)
