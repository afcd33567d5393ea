"""What the maker changed: values of the spec and of what feeds it, each with the layer that changed it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from tauthide.comparing.seen import Seen
from tauthide.explaining.amounts import NOT_SET, show_setting
from tauthide.plan.concerns import Concern, concern_of
from tauthide.sheets.amounts import system_of
from tauthide.sheets.origins import LAYER_TITLES, title_of
from tauthide.spec.digest import canonical
from tauthide.spec.hides import HEAD_FIELDS, LACE_FIELDS
from tauthide.spec.layers import COUPLES, OUTLINE_SIZES, Origin
from tauthide.spec.settings import Setting, Spec
from tauthide.text import plain

MAKERS = ("spec", "base", "shop")
"""The layers that a maker writes, the highest first."""

FRAME_SIZES = frozenset(path for paths in OUTLINE_SIZES.values() for path in paths)


@dataclass(frozen=True, slots=True)
class ValueChange:
    """A value that differs."""

    path: str
    title: str
    old: str
    """In both systems, or `not set`."""
    new: str
    old_origin: Origin | None
    """None where nothing is set."""
    new_origin: Origin | None
    follows: str
    """Path of the field whose change brought this one about, such as `head.hide`; empty where a maker wrote it."""

    @property
    def layer(self) -> str:
        """The highest of a maker's layers that says, or said, it; that of a default where none does."""
        origins = [origin for origin in (self.new_origin, self.old_origin) if origin is not None]
        for layer in MAKERS:
            if any(origin.layer == layer for origin in origins):
                return layer
        return origins[0].layer

    @property
    def concern(self) -> Concern:
        """What it bears on."""
        return concern_of(self.path)

    @property
    def where(self) -> str:
        """Where it was changed: layer, file and line; the old file's line where the new one says nothing."""
        for origin in (self.new_origin, self.old_origin):
            if origin is not None and origin.layer == self.layer:
                place = origin.place
                return LAYER_TITLES[self.layer] + ("" if place is None else f": {place.file}:{place.line}")
        return LAYER_TITLES[self.layer]


@dataclass(frozen=True, slots=True)
class WordChange:
    """Something beside the values that differs: the drum's name, title, quantity, and so on."""

    name: str
    old: str
    new: str


def changed_values(old: Spec, new: Spec) -> tuple[ValueChange, ...]:
    """Return the values that differ, what spoils skin first; how they are spelt does not count."""
    paths = [
        path for path in {**old.settings, **new.settings} if _differ(old.settings.get(path), new.settings.get(path))
    ]
    changed = frozenset(paths)
    changes = (_change(old, new, path, changed) for path in sorted(paths))
    return tuple(sorted(changes, key=lambda change: (bool(change.follows), change.concern, change.path)))


def changed_words(old: Seen, new: Seen) -> tuple[WordChange, ...]:
    """Return what differs beside the values; nothing where one of the two has errors in its files."""
    if old.spec is None or new.spec is None:
        return ()
    return tuple(
        WordChange(name, before, after)
        for (name, before), (_, after) in zip(_words(old), _words(new), strict=True)
        if before != after
    )


def roots(changes: tuple[ValueChange, ...]) -> Mapping[str, str]:
    """Return by path of each value that differs the path of the one that a maker changed for it."""
    follows = {change.path: change.follows for change in changes}
    found = {}
    for path in follows:
        root = path
        while follows.get(root):
            root = follows[root]
        found[path] = root
    return found


def _differ(old: Setting | None, new: Setting | None) -> bool:
    if old is None or new is None:
        return old is not new
    return canonical(old.value) != canonical(new.value)


def _change(old: Spec, new: Spec, path: str, changed: frozenset[str]) -> ValueChange:
    before, after = old.settings.get(path), new.settings.get(path)
    was, now = (None if setting is None else setting.origin for setting in (before, after))
    return ValueChange(
        path,
        title_of(path),
        NOT_SET if before is None else show_setting(before, system_of(new)),
        NOT_SET if after is None else show_setting(after, system_of(new)),
        was,
        now,
        _followed(path, [origin for origin in (was, now) if origin is not None], changed),
    )


def _followed(path: str, origins: list[Origin], changed: frozenset[str]) -> str:
    """Return the changed field that brought a change about; empty where a maker's own layer made it."""
    if any(origin.layer in ("spec", "base") for origin in origins):
        return ""
    selectors = [
        ("head.hide", path in HEAD_FIELDS.values()),
        ("lace.hide", path in LACE_FIELDS.values()),
        ("frame.outline", path in FRAME_SIZES),
        (COUPLES.get(path, ""), True),
    ]
    return next((name for name, holds in selectors if holds and name in changed and name != path), "")


def _words(seen: Seen) -> Iterator[tuple[str, str]]:
    assert seen.spec is not None  # the caller has looked
    standing = None if seen.plan is None else seen.plan.standing
    yield "drum", plain(seen.spec.drum)
    yield "title", plain(seen.spec.title)
    yield "notes", plain(seen.spec.notes.strip().replace("\n", " "))
    yield "quantity", str(seen.spec.quantity)
    yield "approval", "" if standing is None else plain(standing.reason)
