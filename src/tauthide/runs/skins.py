"""A skin at hand: its outline, flaws, weak regions and thickness, in mm from the corner of its grid."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from tauthide.findings import Place
from tauthide.reading.located import Data, Located, Path
from tauthide.runs.shapes import SHAPES, Shape
from tauthide.runs.values import as_list, as_map, as_number, number_or_none
from tauthide.units import parse

Point = tuple[float, float]
"""x to the right, y up."""


@dataclass(frozen=True, slots=True)
class Circle:
    """A round region."""

    centre_mm: Point
    radius_mm: float


@dataclass(frozen=True, slots=True)
class Ring:
    """A region with corners: n points, closing point not repeated, in the maker's order."""

    points_mm: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Flaw:
    """A place that no piece may touch."""

    kind: str
    """`hole`, `cut`, `scar` and so on; for the papers only."""
    region: Circle | Ring
    place: Place


@dataclass(frozen=True, slots=True)
class Weak:
    """A region where no head may lie."""

    region: str
    """`belly`, `neck` and so on."""
    ring: Ring
    laces: bool
    """Whether laces may be cut there."""
    place: Place


@dataclass(frozen=True, slots=True)
class Measured:
    """A thickness, soaked."""

    thickness_mm: float
    at_mm: Point | None
    """Where it was measured; None for one that holds all over."""
    place: Place


@dataclass(frozen=True, slots=True)
class Skin:
    """One hide at hand, flat on its grid, its corner at (0, 0)."""

    name: str
    title: str
    hide: str
    kept: str
    """`fresh`, `salted`, `dried`, `frozen` or `rawhide`."""
    grid_mm: float
    """Side of one square of the grid."""
    outline_mm: tuple[Point, ...]
    """n points, anticlockwise, closing point not repeated."""
    shape: str
    """The ordinary shape that the outline was made from; empty where its points were read off."""
    spine_mm: tuple[Point, Point]
    """The end at the tail, then the end at the neck."""
    fixed_points_mm: tuple[Point, Point]
    """Where the tape is held."""
    flaws: tuple[Flaw, ...]
    weak: tuple[Weak, ...]
    thicknesses: tuple[Measured, ...]
    """At least one; only the first, without a point, where one thickness holds all over."""
    price: float | None
    place: Place
    """Where the name stands."""
    parts: Mapping[str, Place]
    """Where the keys of the document stand."""


def read_skin(located: Located) -> Skin:
    """Return the skin that a document describes, which its schema has found nothing wrong with."""
    data = located.data
    grid_mm = parse("length", str(data["grid"]))
    outline = as_map(data["outline"])
    shape = _shape_of(outline)
    points = shape.outline_mm if shape is not None else read_points(outline["points"], grid_mm)
    spine = read_points(data["spine"], grid_mm) if "spine" in data or shape is None else shape.spine_mm
    fixed = read_points(data["fixed_points"], grid_mm) if "fixed_points" in data else spine
    return Skin(
        name=str(data["name"]),
        title=str(data.get("title", "")),
        hide=str(data["hide"]),
        kept=str(data["kept"]),
        grid_mm=grid_mm,
        outline_mm=anticlockwise(points),
        shape=str(outline.get("shape", "")),
        spine_mm=(spine[0], spine[1]),
        fixed_points_mm=(fixed[0], fixed[1]),
        flaws=tuple(_flaw(located, index, item, grid_mm) for index, item in enumerate(as_list(data.get("flaws", [])))),
        weak=_weak_regions(located, shape, grid_mm),
        thicknesses=_thicknesses(located, grid_mm),
        price=number_or_none(data.get("price")),
        place=located.place(("name",)),
        parts={key: located.place((key,), key=True) for key in data},
    )


def anticlockwise(points: tuple[Point, ...]) -> tuple[Point, ...]:
    """Return the points of a ring in anticlockwise order, beginning with the same one."""
    return points if twice_area(points) >= 0 else (points[0], *reversed(points[1:]))


def twice_area(points: tuple[Point, ...]) -> float:
    """Return twice the area of a ring (n points, closing point not repeated), below 0 if it goes clockwise."""
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(points, (*points[1:], points[0]), strict=True))


def _shape_of(outline: Mapping[str, Data]) -> Shape | None:
    if "shape" not in outline:
        return None
    length_mm, width_mm = (parse("length", str(outline[side])) for side in ("length", "width"))
    return SHAPES[str(outline["shape"])].of_size(length_mm, width_mm)


def _flaw(located: Located, index: int, item: Data, grid_mm: float) -> Flaw:
    fields = as_map(item)
    region: Circle | Ring
    if "points" in fields:
        region = Ring(read_points(fields["points"], grid_mm))
    else:
        (centre,) = read_points([fields["at"]], grid_mm)
        region = Circle(centre, parse("length", str(fields["diameter"])) / 2)
    return Flaw(str(fields["kind"]), region, place_of_region(located, ("flaws", index), fields))


def place_of_region(located: Located, path: Path, fields: Mapping[str, Data]) -> Place:
    """Return where a flaw or weak region says where it lies."""
    return located.place((*path, "points" if "points" in fields else "at"))


def _weak_regions(located: Located, shape: Shape | None, grid_mm: float) -> tuple[Weak, ...]:
    if "weak" not in located.data:
        place = located.place(("outline", "shape"))
        return () if shape is None else tuple(
            Weak(region, Ring(points), True, place) for region, points in shape.weak_mm
        )  # fmt: skip
    weak = []
    for index, item in enumerate(as_list(located.data["weak"])):
        fields = as_map(item)
        place = place_of_region(located, ("weak", index), fields)
        laces = fields.get("allows", "laces") == "laces"
        weak.append(Weak(str(fields["region"]), Ring(read_points(fields["points"], grid_mm)), laces, place))
    return tuple(weak)


def _thicknesses(located: Located, grid_mm: float) -> tuple[Measured, ...]:
    if "thickness" in located.data:
        thickness_mm = parse("length", str(located.data["thickness"]))
        return (Measured(thickness_mm, None, located.place(("thickness",))),)
    measured = []
    for index, item in enumerate(as_list(located.data["thicknesses"])):
        fields = as_map(item)
        (at_mm,) = read_points([fields["at"]], grid_mm)
        place = located.place(("thicknesses", index, "at"))
        measured.append(Measured(parse("length", str(fields["thickness"])), at_mm, place))
    return tuple(measured)


def read_points(data: Data, grid_mm: float) -> tuple[Point, ...]:
    """Return points in mm, in the maker's order, from a list of places in squares."""
    points = []
    for pair in as_list(data):
        x, y = as_list(pair)
        points.append((as_number(x) * grid_mm, as_number(y) * grid_mm))
    return tuple(points)
