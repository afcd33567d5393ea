"""A frame made in the shop on the sheet: what the board list says, and how the wood moves."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby

from tauthide.plan.plan import Plan
from tauthide.quantities.nesting import Board
from tauthide.sheets.words import counted
from tauthide.spec.settings import Spec
from tauthide.units import System, length, long_length, show

SPECIES = {"red_oak": "red oak", "white_oak": "white oak"}
"""Words for the species whose names are not the words themselves."""


@dataclass(frozen=True, slots=True)
class BoardRow:
    """Boards that are all cut alike."""

    boards: str
    cuts: str
    left: str
    """What is left over of each."""


@dataclass(frozen=True, slots=True)
class MakingView:
    """What a sheet says of making the frame."""

    bent: bool
    species: str
    steam: str
    form: str
    """Size of the drying form; empty where nothing is bent."""
    boards: tuple[BoardRow, ...]
    """The cutting list for one ring; empty where nothing is cut of boards."""


def view_making(plan: Plan, system: System) -> MakingView | None:
    """Return what is said of making the frame; nothing of one that is bought."""
    if not plan.has("wood.wall_rate"):
        return None
    bent = plan.has("bend.strip_length")
    return MakingView(
        bent=bent,
        species=species_text(plan.spec),
        steam=f"{show('time', plan['bend.steam_least'], system)} to {show('time', plan['bend.steam_most'], system)}"
        if bent
        else "",
        form=_form(plan, system) if bent else "",
        boards=tuple(board_rows(plan.boards, system)),
    )


def species_text(spec: Spec) -> str:
    """Return the species in words: `red oak`."""
    word = spec.word("wood.species")
    return SPECIES.get(word, word)


def board_rows(boards: tuple[Board, ...], system: System) -> Iterator[BoardRow]:
    """Yield a row for each way in which boards are cut, in the order of the boards."""
    for _, alike in groupby(boards, key=_pattern):
        listed = list(alike)
        board = listed[0]
        cuts = "; ".join(
            f"{len(list(same))} × {name}, {length(mm, system)}"
            for (name, mm), same in groupby((cut.name, cut.length_mm) for cut in board.cuts)
        )
        yield BoardRow(
            f"{counted(len(listed), 'board', 'boards')} of {long_length(board.length_mm, system)}",
            cuts,
            length(max(board.left_mm, 0.0), system),
        )


def _pattern(board: Board) -> tuple[float, tuple[tuple[str, float], ...]]:
    return board.length_mm, tuple((cut.name, cut.length_mm) for cut in board.cuts)


def _form(plan: Plan, system: System) -> str:
    if plan.has("bend.form_diameter"):
        return f"{length(plan['bend.form_diameter'], system)} across"
    return f"{length(plan['bend.form_length'], system)} by {length(plan['bend.form_width'], system)}"
