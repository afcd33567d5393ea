"""A new spec from a few answers: complete, and with the reason beside each value that was chosen."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from tauthide.findings import Finding
from tauthide.reading.located import Data
from tauthide.schema.wording import flow
from tauthide.spec.chain import Chain
from tauthide.suggesting.draft import start
from tauthide.suggesting.search import Suggested, suggest

WRITTEN_OUT = (
    "frame.depth",
    "head.hide",
    "head.turnover",
    "stations.count",
    "stations.web",
    "stations.margin",
    "stations.hole",
    "lace.width",
)
"""Fields that a new spec says, also where a default would do: they are what its maker will want to turn."""

_KEYS = ("spec", "drum")
_PARTS: Mapping[str, tuple[str, ...]] = {
    "frame": ("outline", "diameter", "depth", "edge_radius", "wall"),
    "head": ("hide", "turnover"),
    "stations": ("count", "web", "pair_spacing", "margin", "edge_distance", "hole"),
    "lace": ("width",),
    "voice": ("pitch",),
}
"""The order in which a new spec says things; what is not named here comes last in its part."""

_COMMENT_GAP = "  # "


@dataclass(frozen=True, slots=True)
class Started:
    """A new spec."""

    text: str
    """Empty where the answers make no drum that can be worked out."""
    findings: tuple[Finding, ...]
    """What is left that the rules find."""


def answers(name: str, given: Mapping[str, str | int]) -> dict[str, Data]:
    """Return the data of a spec of a round drum with what was answered, by path of the field."""
    data: dict[str, Data] = {"spec": 1, "drum": name, "frame": {"outline": "round"}}
    for path, value in given.items():
        part, key = path.split(".")
        fields = data.setdefault(part, {})
        assert isinstance(fields, dict)  # made here
        fields[key] = value
    return data


def render(data: Mapping[str, Data], notes: Mapping[str, str]) -> str:
    """Return a spec as text, part by part, with a note behind each field that has one by its path."""
    lines = [f"{key}: {flow(data[key])}" for key in _KEYS]
    for part in dict.fromkeys((*_PARTS, *(key for key in data if key not in _KEYS))):
        fields = data.get(part)
        if not isinstance(fields, dict):
            continue
        order = [key for key in dict.fromkeys((*_PARTS.get(part, ()), *fields)) if key in fields]
        entries = [(f"  {key}: {flow(fields[key])}", notes.get(f"{part}.{key}", "")) for key in order]
        width = max((len(entry) for entry, note in entries if note), default=0)
        lines.append(f"{part}:")
        lines += [f"{entry:<{width}}{_COMMENT_GAP}{note}" if note else entry for entry, note in entries]
    return "\n".join(lines) + "\n"


def begin(data: dict[str, Data], read: Callable[[bytes], Chain]) -> Started:
    """Return a new spec made of answers; `read` reads a spec's bytes with what would feed it."""
    began = suggest(read(render(data, {}).encode()))
    if began.draft.spec is None:
        return Started("", began.draft.findings)
    text = render(_written_out(began), _notes(began))
    return Started(text, start(read(text.encode())).findings)


def _written_out(began: Suggested) -> dict[str, Data]:
    draft = began.draft
    assert draft.spec is not None  # the caller has looked
    for path in WRITTEN_OUT:
        setting = draft.spec.settings.get(path)
        if setting is not None and setting.origin.layer != "spec":
            part, key = path.split(".")
            draft = draft.with_value((part, key), setting.written)
    return draft.data


def _notes(began: Suggested) -> dict[str, str]:
    spec = began.draft.spec
    assert spec is not None  # the caller has looked
    notes: dict[str, str] = {}
    for path in WRITTEN_OUT:
        setting = spec.settings.get(path)
        if setting is not None and setting.origin.layer != "spec":
            notes[path] = setting.origin.reason or f"as {setting.origin.layer} says"
    for suggestion in began.suggestions:
        # A comment has room for what is wrong, not also for why that matters: `explain` says it.
        reason = suggestion.reasons[-1].partition(". ")[0] if suggestion.reasons else ""
        was_asked = f"instead of {suggestion.old}: " if suggestion.old and suggestion.origin == "spec" else ""
        notes[suggestion.path] = was_asked + reason
    return notes
