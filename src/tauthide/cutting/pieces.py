"""What is to be cut, and what came of it: pieces, lace needs, the task and the layout."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from tauthide.cutting.hides import Hide, Point, require_outline, require_size, signed_area

Use = Literal["head", "lace", "scrap"]
Direction = Literal["along", "across", "any"]


@dataclass(frozen=True, slots=True)
class Disc:
    """A round piece about (0, 0)."""

    radius_mm: float

    def __post_init__(self) -> None:
        """Refuse what is not a disc, with ValueError."""
        require_size(self.radius_mm)

    @property
    def area_mm2(self) -> float:
        """Area of skin in the piece."""
        return math.pi * self.radius_mm * self.radius_mm

    @property
    def reach_mm(self) -> float:
        """Radius of the smallest circle about (0, 0) that holds the piece."""
        return self.radius_mm


@dataclass(frozen=True, slots=True)
class Blank:
    """A convex piece with (0, 0) inside: n points, anticlockwise, closing point not repeated.

    An oval or a polygon with round corners is handed in as a convex polygon drawn round its true outline:
    what is laid then always has room for it. The piece's own axis, its length, is its y axis.
    """

    outline: tuple[Point, ...]

    def __post_init__(self) -> None:
        """Refuse what is not convex, anticlockwise and about (0, 0), with ValueError."""
        require_outline(self.outline)
        if signed_area(self.outline) < 0:
            raise ValueError("a blank runs anticlockwise")
        count = len(self.outline)
        for number, (ax, ay) in enumerate(self.outline):
            (bx, by), (cx, cy) = self.outline[(number + 1) % count], self.outline[(number + 2) % count]
            if ax * by - bx * ay <= 0:
                raise ValueError("(0, 0) is not inside the blank")
            if (bx - ax) * (cy - by) - (by - ay) * (cx - bx) < 0:
                raise ValueError(f"the blank is not convex at {(bx, by)!r}")

    @property
    def area_mm2(self) -> float:
        """Area of skin in the piece."""
        return signed_area(self.outline)

    @property
    def reach_mm(self) -> float:
        """Radius of the smallest circle about (0, 0) that holds the piece."""
        return max(math.sqrt(x * x + y * y) for x, y in self.outline)


Shape = Disc | Blank


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece to be cut, of an allowed thickness all over.

    It is looked at in the middle, on the rim and half-way there, every 30 degrees of the hide's grid, and at each
    reading that lies within the piece. A set is matched by the thickness in the middle.
    """

    name: str
    use: Use
    shape: Shape
    species: tuple[str, ...] = ()
    """The hides it may be cut from; any if empty."""
    least_mm: float | None = None
    most_mm: float | None = None
    """Limits of the thickness, or None."""
    direction: Direction = "any"
    """How the piece's axis lies to the spine. Only a hide with a known spine can give a direction."""
    set_name: str | None = None
    """Heads of one set should be of one thickness, within the task's tolerance."""
    drum: str | None = None
    """The drum it is for: a drum is whole if all its heads are laid, and its lace if it has one to be cut."""
    kind: str | None = None
    """Drums of one kind are alike: their heads may be handed out among them, and their laces. None: like no other."""


@dataclass(frozen=True, slots=True)
class LaceNeed:
    """A lace, to be cut from one disc or from several that are joined.

    The ways stand in the order of preference, fewest discs first; each is the discs that give the length,
    joins included. The first way that can be laid is taken.
    """

    name: str
    ways: tuple[tuple[Disc, ...], ...]
    species: tuple[str, ...] = ()
    least_mm: float | None = None
    most_mm: float | None = None
    drum: str | None = None
    kind: str | None = None

    def __post_init__(self) -> None:
        """Refuse a lace with no way of cutting it, with ValueError."""
        if not self.ways or not all(self.ways):
            raise ValueError(f"{self.name}: a lace has at least one way, of at least one disc")


@dataclass(frozen=True, slots=True)
class Task:
    """All that is to be cut, and the hides at hand. Names of pieces, laces and hides are each used once."""

    hides: tuple[Hide, ...]
    pieces: tuple[Piece, ...] = ()
    laces: tuple[LaceNeed, ...] = ()
    knife_mm: float = 0.0
    """The knife's allowance: clear skin between pieces, and between a piece and an edge or a flaw."""
    set_tolerance_mm: float = 0.0
    """How far the thicknesses of a set's heads may lie apart before they count as unmatched."""

    def __post_init__(self) -> None:
        """Refuse names used twice, two laces for a drum, and an allowance or tolerance below 0, with ValueError."""
        wanted = [piece.name for piece in self.pieces] + [lace.name for lace in self.laces]
        for names in (wanted, [hide.name for hide in self.hides]):
            if len(set(names)) != len(names):
                raise ValueError("a name is used twice")
        drums = [lace.drum for lace in self.laces if lace.drum is not None]
        if len(set(drums)) != len(drums):
            raise ValueError("a drum has two laces")
        if not (self.knife_mm >= 0 and self.set_tolerance_mm >= 0):
            raise ValueError("an allowance or tolerance is below 0")


@dataclass(frozen=True, slots=True)
class Placement:
    """A piece laid on a hide: its (0, 0) at `centre`, turned anticlockwise by `angle_deg`."""

    name: str
    """Of the piece or of the lace."""
    part: int
    """Which of a lace's discs, from 0 on; 0 for a piece."""
    use: Use
    shape: Shape
    hide: str
    centre: Point
    angle_deg: float


@dataclass(frozen=True, slots=True)
class Layout:
    """Where every piece lies, in the order of hides and, on each, of the task's pieces and laces."""

    task: Task
    placements: tuple[Placement, ...]

    @property
    def missing(self) -> tuple[str, ...]:
        """Names of pieces and laces that were not laid, in the task's order."""
        laid = {placement.name for placement in self.placements}
        wanted = [piece.name for piece in self.task.pieces] + [lace.name for lace in self.task.laces]
        return tuple(name for name in wanted if name not in laid)

    @property
    def hides_used(self) -> tuple[str, ...]:
        """Names of the hides that anything is cut from, in the task's order."""
        used = {placement.hide for placement in self.placements}
        return tuple(hide.name for hide in self.task.hides if hide.name in used)

    def on_hide(self, name: str) -> tuple[Placement, ...]:
        """What is laid on one hide."""
        return tuple(placement for placement in self.placements if placement.hide == name)

    def used_share(self, name: str) -> float:
        """How much of a hide's area lies in pieces, 0 to 1."""
        hide = next(hide for hide in self.task.hides if hide.name == name)
        return sum(placement.shape.area_mm2 for placement in self.on_hide(name)) / hide.area_mm2
