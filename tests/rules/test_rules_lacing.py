"""Rules on lacings, each with cases beside each other: one that breaks it, one that keeps it, one at its limit."""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from drums import Fields, changed
from rule_cases import Cases, RuleLaws, found_by
from tauthide.rules.registry import RULES

RING = changed(lace_lacing="ring")
TWO = changed(lace_lacing="zigzag", frame_depth="150 mm")
OVAL_TWO = {**{path: leaf for path, leaf in TWO.items() if path != "frame.diameter"}, "frame.outline": "oval",
            "frame.length": "18 in", "frame.width": "15 in"}  # fmt: skip

CASES = {
    "lace-of-other-lacing": Cases(
        breaks=changed(lace_ring="60 mm"),
        says="""\
            error lace-of-other-lacing at ring: 60 mm
            `ring` says nothing in this lacing
            found: ring beside lacing: cross
            allowed: `ring` only with lacing `ring`
            write:
            """,
        limit=changed(lace_lacing="ring", lace_ring="60 mm"),
        beyond=changed(lace_lacing="ring", lace_laces=1),
        keeps=changed(lace_laces=1),
    ),
    "laces-too-many": Cases(
        breaks=changed(lace_laces=4),
        says="""\
            error laces-too-many at laces: 4
            Cross lacing cannot be run in so many laces
            found: 4 laces
            allowed: at most 2 with this lacing and station count
            write: laces: 2
            """,
        limit=changed(lace_laces=2),
        beyond=changed(lace_laces=3),
        keeps=changed(),
    ),
    "ring-large": Cases(
        breaks=changed(RING, lace_ring="250 mm"),
        says="""\
            error ring-large at ring: 250 mm
            The ring comes so near to the holes that there is nothing left to draw on
            found: 250 mm
            allowed: at most 202.6 mm: so that the strands can be taken hold of
            write: ring: 202.5 mm
            """,
        # Holes 142.1 mm from the middle, half a pair 15 mm aside: 141.306 mm, less 40 mm for the hand.
        limit=changed(RING, lace_ring="202.612 mm"),
        beyond=changed(RING, lace_ring="202.613 mm"),
        keeps=changed(RING),
    ),
    "ring-crowded": Cases(
        breaks=changed(RING, lace_ring="40 mm"),
        says="""\
            warning ring-crowded at ring: 40 mm
            The turns of lace have no room side by side on the ring
            found: 40 mm
            allowed: at least 52.8 mm: 16 turns, flat, round its inside
            write: ring: 53 mm
            """,
        # 16 turns of 8 mm are 40.7437 mm across, and the rod is 6 mm thick.
        limit=changed(RING, lace_ring="52.744 mm"),
        beyond=changed(RING, lace_ring="52.742 mm"),
        keeps=changed(RING),
    ),
    "two-heads-not-round": Cases(
        breaks=OVAL_TWO,
        says="""\
            error two-heads-not-round at outline: oval
            Two heads are drawn to each other on round frames alone
            found: oval, with lacing zigzag
            allowed: round, or another lacing
            write:
            """,
        limit=TWO,
        beyond=OVAL_TWO,
        keeps=changed(),
    ),
    "handle-without-hub": Cases(
        breaks=changed(TWO, handle_arms=4),
        says="""\
            error handle-without-hub at arms: 4
            Zigzag of two heads brings no strands together that a handle could be wrapped round
            found: 4 arms
            allowed: 0 arms with this lacing
            write: arms: 0
            """,
        limit=changed(TWO, handle_arms=0),
        beyond=changed(TWO, handle_arms=2),
        keeps=changed(handle_arms=2),
    ),
    "drop-small": Cases(
        breaks=changed(TWO, head_drop="20 mm"),
        says="""\
            error drop-small at drop: 20 mm
            The skin comes down the wall too little for its holes: they would lie on the bearing edge or in the head
            found: 20 mm
            allowed: at least 24 mm with this margin, hole and edge
            write: drop: 24 mm
            """,
        # A margin of 12 mm, a hole of 10 mm, and the edge's rounding of 2 mm.
        limit=changed(TWO, head_drop="24 mm"),
        beyond=changed(TWO, head_drop="23.99 mm"),
        keeps=TWO,
    ),
    "heads-meet": Cases(
        breaks=changed(TWO, frame_depth="80 mm"),
        says="""\
            error heads-meet at head:
            Drawn tight, the skins of both heads would all but meet on the wall
            found: the default, 36 mm
            allowed: at most 27.5 mm: so that bare wall is left between them, also when they have been drawn tight
            write: drop: 27.5 mm
            """,
        # 3 % of 165.1 mm is 4.953 mm for each head; 15 mm are left between 62.547 mm of each.
        limit=changed(TWO, head_drop="62.547 mm"),
        beyond=changed(TWO, head_drop="62.549 mm"),
        keeps=TWO,
    ),
    "ring-thick": Cases(
        breaks=changed(RING, lace_ring_section="30 mm"),
        says="""\
            error ring-thick at ring_section: 30 mm
            The rod is so thick that the lace cannot be led through the ring
            found: 30 mm
            allowed: at most 22 mm: the ring must be open by two widths of the lace
            write: ring_section: 22 mm
            """,
        limit=changed(RING, lace_ring_section="22 mm"),
        beyond=changed(RING, lace_ring_section="22.01 mm"),
        keeps=changed(RING),
    ),
}


@pytest.mark.parametrize(("name", "cases"), CASES.items(), ids=list(CASES))
class TestEachRule(RuleLaws):
    """The laws that every rule keeps."""


def test_gates_are_about_fields_alone() -> None:
    """No figure is worked out by a lacing that the drum has not, or that cannot be run so."""
    assert {"lace-of-other-lacing", "laces-too-many"} <= {rule.name for rule in RULES if rule.gate}


def test_a_ring_says_nothing_of_laces() -> None:
    """One finding for one mistake, not two."""
    assert found_by("laces-too-many", changed(RING, lace_laces=3)) == ()
    assert len(found_by("lace-of-other-lacing", changed(RING, lace_laces=3))) == 1


OFF_ROUND: Mapping[str, Fields] = {
    "oval": {"frame.outline": "oval", "frame.length": "18 in", "frame.width": "13 in"},
    "polygon": {"frame.outline": "polygon", "frame.sides": 6, "frame.across_flats": "13 in"},
}


@pytest.mark.parametrize("sizes", OFF_ROUND.values(), ids=list(OFF_ROUND))
def test_ring_off_round(sizes: Fields) -> None:
    """On frames that are not round the nearest part of the rim counts."""
    fields = {**{path: leaf for path, leaf in RING.items() if path != "frame.diameter"}, **sizes}
    assert found_by("ring-large", {**fields, "lace.ring": "202 mm"}) == ()
    assert len(found_by("ring-large", {**fields, "lace.ring": "206 mm"})) == 1
