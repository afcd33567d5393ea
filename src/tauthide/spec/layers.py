"""Layers of settings and the one merge that lays them over each other.

A layer maps the paths of leaves (`stations.web`) to what is written there. A higher layer wins leaf by
leaf; lists replace. Two ways of saying one thing never survive side by side: a layer that gives
`pair_spacing` silences the `web` below it, and one that names another outline silences the old one's sizes.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from tauthide.findings import Place
from tauthide.reading.located import Data, Located, Path
from tauthide.spec.defaults import BUILT_IN, BY_LACING, LACING_FIELDS, Default
from tauthide.spec.hides import HEAD_FIELDS, HIDES, LACE_FIELDS
from tauthide.spec.makes import MAKE_PARTS, WOOD_PARTS, make_defaults

PARTS = ("frame", "head", "stations", "lace", "handle", "voice", "bench", "tolerances", "wood", "bending", "staves")
"""The parts of a spec that layers may set."""

TIMES = "times"
"""The part of a shop file that says how long operations take; no spec has it."""

COUPLES: Mapping[str, str] = MappingProxyType(
    {
        "stations.web": "stations.pair_spacing",
        "stations.pair_spacing": "stations.web",
        "stations.margin": "stations.edge_distance",
        "stations.edge_distance": "stations.margin",
        "voice.pitch": "voice.pull",
        "voice.pull": "voice.pitch",
    }
)
"""Two fields that say the same thing in two ways."""

OUTLINE_SIZES: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "round": ("frame.diameter",),
        "polygon": ("frame.sides", "frame.across_flats"),
        "oval": ("frame.length", "frame.width"),
    }
)
"""The fields that size each outline."""

LACING = "lace.lacing"


@dataclass(frozen=True, slots=True)
class Origin:
    """Where a value comes from."""

    layer: str
    """`built-in`, `hide profile`, `shop`, `base` or `spec`."""
    place: Place | None = None
    """Its place in a maker's file; none for what is built in."""
    reason: str = ""
    source: str = ""

    @property
    def is_default(self) -> bool:
        """Tell whether neither the spec nor a file it inherits from says it."""
        return self.layer not in ("spec", "base")


@dataclass(frozen=True, slots=True)
class Entry:
    """What one layer writes at one path."""

    written: Data
    origin: Origin


Layer = Mapping[str, Entry]


def merge(layers: Iterable[Layer]) -> dict[str, tuple[Entry, ...]]:
    """Lay the layers over each other, lowest first.

    Returns for each path the entries of the layers that set it, lowest first: the last one holds.
    """
    merged: dict[str, tuple[Entry, ...]] = {}
    for layer in layers:
        for path in _silenced(layer, merged):
            merged.pop(path, None)
        for path, entry in layer.items():
            merged[path] = (*merged.get(path, ()), entry)
    return merged


def _silenced(layer: Layer, below: Mapping[str, tuple[Entry, ...]]) -> Iterator[str]:
    for path in layer:
        if path in COUPLES:
            yield COUPLES[path]
    outline = layer.get("frame.outline")
    if outline is not None and "frame.outline" in below:
        for kind, paths in OUTLINE_SIZES.items():
            if kind != outline.written:
                yield from paths


def layer_of(kind: str, located: Located) -> dict[str, Entry]:
    """Return the layer that a spec, base or shop document writes (parts only, not hide profiles)."""
    layer: dict[str, Entry] = {}
    for part in PARTS:
        fields = located.data.get(part)
        if isinstance(fields, dict):
            for field, written in fields.items():
                layer[f"{part}.{field}"] = Entry(written, Origin(kind, located.place((part, field))))
    return layer


def times_layer(shop: Located) -> dict[str, Entry]:
    """Return what the shop file says of how long each operation takes: `times.skin.punch.each` and so on."""
    layer: dict[str, Entry] = {}
    for path in _leaves(shop.data.get(TIMES), (TIMES,)):
        layer[".".join(map(str, path))] = Entry(_at(shop.data, path), Origin("shop", shop.place(path)))
    return layer


def _leaves(data: Data, path: Path) -> Iterator[Path]:
    if isinstance(data, dict):
        for key, value in data.items():
            yield from _leaves(value, (*path, key))
    elif data is not None:
        yield path


def _at(data: Data, path: Path) -> Data:
    for step in path:
        data = data[step]  # type: ignore[index]
    return data


def built_in_layer() -> Layer:
    """Return the defaults that do not depend on the hide."""
    return _BUILT_IN_LAYER


def lacing_layer(lacing: str) -> Layer:
    """Return the defaults that a lacing brings along; of one that is not known, none."""
    return {path: _entry(default, "built-in") for path, default in BY_LACING.get(lacing, {}).items()}


def foreign_fields(lacing: str) -> frozenset[str]:
    """Return the fields that bear on other lacings and not on this one."""
    every = {path for paths in LACING_FIELDS.values() for path in paths}
    return frozenset(every - set(LACING_FIELDS.get(lacing, ())))


def _without(layer: Layer, paths: frozenset[str]) -> Layer:
    return {path: entry for path, entry in layer.items() if path not in paths}


def profile_layer(hide: str, fields: Mapping[str, str]) -> Layer:
    """Return the built-in profile of `hide`, put at the paths that `fields` names by column."""
    profile = HIDES[hide]
    return {path: _entry(profile[column], "hide profile") for column, path in fields.items() if column in profile}


def make_layer(make: str, outline: str) -> Layer:
    """Return the defaults that only frames of this make have."""
    return {path: _entry(default, "built-in") for path, default in make_defaults(make, outline).items()}


def shop_profile_layer(shop: Located, hide: str, fields: Mapping[str, str]) -> Layer:
    """Return what the shop file says of `hide`, put at the paths that `fields` names by column."""
    hides = shop.data.get("hides")
    profile = hides.get(hide) if isinstance(hides, dict) else None
    if not isinstance(profile, dict):
        return {}
    return {
        fields[column]: Entry(written, Origin("shop", shop.place(("hides", hide, column))))
        for column, written in profile.items()
        if column in fields
    }


def shop_lacing_layer(shop: Located, lacing: str) -> Layer:
    """Return what the shop file says of drums with this lacing."""
    lacings = shop.data.get("lacings")
    told = lacings.get(lacing) if isinstance(lacings, dict) else None
    if not isinstance(told, dict):
        return {}
    return {
        f"lace.{field}": Entry(written, Origin("shop", shop.place(("lacings", lacing, field))))
        for field, written in told.items()
    }


def stack(documents: Iterable[tuple[str, Located]]) -> dict[str, tuple[Entry, ...]]:
    """Merge built-in defaults, hide profiles and the maker's documents (lowest first: shop, bases, spec).

    The head's hide picks one profile and the lace's hide, which may itself come from that profile,
    picks another: so the hides are looked up first, then everything is laid in order.
    """
    documents = tuple(documents)
    shops = [located for kind, located in documents if kind == "shop"]
    general: list[Layer] = [
        layer_of(kind, located) | times_layer(located) for kind, located in documents if kind == "shop"
    ]
    own: list[Layer] = [layer_of(kind, located) for kind, located in documents if kind != "shop"]
    make = _last([built_in_layer(), *general, *own], "frame.make")
    usual_make = make_layer(make, _last(own, "frame.outline"))
    general = [_for_make(layer, make) for layer in general]
    head_hide = _last([*general, *own], "head.hide")
    lacing = _last([built_in_layer(), *general, *own], LACING)
    foreign = foreign_fields(lacing)
    built_in = [_without(built_in_layer(), foreign), lacing_layer(lacing)]
    naming = max((number for number, layer in enumerate([*general, *own]) if LACING in layer), default=0)
    # What names the lacing silences, below it, the fields of other lacings.
    fitting = [_without(layer, foreign) if number < naming else layer for number, layer in enumerate([*general, *own])]
    general, own = fitting[: len(general)], fitting[len(general) :]
    if head_hide not in HIDES:
        return merge([*built_in, usual_make, *general, *own])
    usual = profile_layer(head_hide, HEAD_FIELDS)
    here = [shop_profile_layer(shop, head_hide, HEAD_FIELDS) for shop in shops]
    # What a shop says of a hide comes before what it says of all drums.
    lace_hide = _last([usual, *general, *here, *own], "lace.hide")
    usual_lace = profile_layer(lace_hide, LACE_FIELDS)
    here += [shop_profile_layer(shop, lace_hide, LACE_FIELDS) for shop in shops]
    here += [shop_lacing_layer(shop, lacing) for shop in shops]
    return merge([*built_in, usual_make, usual, usual_lace, *general, *here, *own])


def _for_make(layer: Layer, make: str) -> Layer:
    """Return what a shop says without what only other makes of frame read: it bears on no drum of this one."""
    idle = [part for part in WOOD_PARTS if part not in MAKE_PARTS.get(make, ())]
    return {path: entry for path, entry in layer.items() if path.partition(".")[0] not in idle}


def _last(layers: Iterable[Layer], path: str) -> str:
    found = ""
    for layer in layers:
        entry = layer.get(path)
        if entry is not None and isinstance(entry.written, str):
            found = entry.written
    return found


def _entry(default: Default, layer: str) -> Entry:
    return Entry(default.written, Origin(layer, None, default.reason, default.source))


_BUILT_IN_LAYER: Layer = MappingProxyType({path: _entry(default, "built-in") for path, default in BUILT_IN.items()})
