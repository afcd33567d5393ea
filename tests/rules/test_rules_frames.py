"""Rules of frames made in the shop: cases beside each other, and what mends them."""

from __future__ import annotations

from pathlib import Path

import pytest

from drums import Fields, Leaf, changed, spec_text, workings_of
from rule_cases import Cases, RuleLaws, findings_in_shop, findings_of, found_by
from tauthide.findings import Severity
from tauthide.rules.registry import RULES
from tauthide.spec.chain import stdin_chain
from tauthide.spec.resolving import resolve

BENT = changed(frame_make="bent")
STAVES = changed(frame_make="staves")


def polygon(sides: int = 8, across: str = "14 in", **changes: Leaf) -> Fields:
    """A polygon of staves."""
    frame: Fields = {"frame.outline": "polygon", "frame.sides": sides, "frame.across_flats": across}
    fields = {**changed(frame_make="staves", **changes), **frame}
    return {path: leaf for path, leaf in fields.items() if path != "frame.diameter"}


def oval(**changes: Leaf) -> Fields:
    """An oval of 18 by 15 inches."""
    frame: Fields = {"frame.outline": "oval", "frame.length": "18 in", "frame.width": "15 in"}
    fields = {**changed(**changes), **frame}
    return {path: leaf for path, leaf in fields.items() if path != "frame.diameter"}


CASES = {
    "oval-of-staves": Cases(
        breaks=oval(frame_make="staves"),
        says="""\
            error oval-of-staves at make: staves
            An oval cannot be glued up from equal staves
            found: an oval of staves
            allowed: bent or bought
            write: make: bent
            """,
        limit=oval(frame_make="bent"),
        beyond=oval(frame_make="staves"),
        keeps=oval(frame_make="bought"),
    ),
    "staves-not-sides": Cases(
        breaks=polygon(staves_count=10),
        says="""\
            error staves-not-sides at count: 10
            A polygon has one stave for each side
            found: 10 staves
            allowed: 8 staves, or leave the count out
            write: count: 8
            """,
        limit=polygon(staves_count=8),
        beyond=polygon(staves_count=9),
        keeps=polygon(),
    ),
    "stave-too-thin": Cases(
        breaks=changed(STAVES, staves_thickness="12 mm"),
        says="""\
            error stave-too-thin at thickness: 12 mm
            The staves are too thin: rounded and planed, the ring has less wall left than the drum wants
            found: 12 mm
            allowed: at least 14.4 mm for a wall of 8 mm
            write: thickness: 14.5 mm
            """,
        limit=polygon(staves_thickness="9 mm"),
        beyond=polygon(staves_thickness="8.99 mm"),
        keeps=changed(STAVES, staves_thickness="16 mm"),
    ),
    # A square of 400 mm, planed by 0.5 mm on each side: 401 mm, 3 mm of kerf along the mitre, and two ends of 25 mm.
    "stave-beyond-board": Cases(
        breaks=changed(STAVES, staves_boards="[130 mm]"),
        says="""\
            error stave-beyond-board at boards: [130 mm]
            The boards are too short for a single stave
            found: at the most 130 mm
            allowed: a board of at least 141.9 mm, saw cut and both ends with it
            write:
            """,
        limit=polygon(4, "400 mm", staves_boards="[455.242641 mm]"),
        beyond=polygon(4, "400 mm", staves_boards="[455.2426 mm]"),
        keeps=polygon(4, "400 mm", staves_boards="[300 mm, 1 m]"),
    ),
    "scarf-short": Cases(
        breaks=changed(BENT, bending_scarf=4),
        says="""\
            warning scarf-short at scarf: 4
            The scarf is short: glued so steeply, the hoop opens at its joint
            found: 4 times the wall
            allowed: at least 8 times the wall
            write: scarf: 8
            """,
        limit=changed(BENT, bending_scarf=8),
        beyond=changed(BENT, bending_scarf=7),
        keeps=BENT,
    ),
    # Half of pi times 8 mm is 12.566 370 6 mm.
    "strip-ends-short": Cases(
        breaks=changed(BENT, bending_spare="5 mm"),
        says="""\
            warning strip-ends-short at spare: 5 mm
            The strip may come out too short: under a strap its outside keeps its length, not its middle
            found: 5 mm at each end
            allowed: at least 12.6 mm at each end
            write: spare: 13 mm
            """,
        limit=changed(BENT, bending_spare="12.566371 mm"),
        beyond=changed(BENT, bending_spare="12.5663 mm"),
        keeps=BENT,
    ),
    "strip-moisture-off": Cases(
        breaks=changed(BENT, bending_moisture="10 %"),
        says="""\
            warning strip-moisture-off at moisture: 10 %
            The strip is too dry to be bent, whatever the steam: it breaks on its outside
            found: 10 %
            allowed: at least 16 %
            write: moisture: 16 %
            """,
        limit=changed(BENT, bending_moisture="25 %"),
        beyond=changed(BENT, bending_moisture="25.01 %"),
        keeps=BENT,
    ),
    "wood-air-crossed": Cases(
        breaks=changed(BENT, wood_driest="60 %", wood_dampest="50 %"),
        says="""\
            error wood-air-crossed at driest: 60 %
            The driest air is damper than the dampest
            found: 60 %
            allowed: at most 50 %, the dampest air
            write: driest: 50 %
            """,
        limit=changed(STAVES, wood_driest="50 %", wood_dampest="50 %"),
        beyond=changed(STAVES, wood_driest="50.01 %", wood_dampest="50 %"),
        keeps=STAVES,
    ),
    # Simpson's formula gives 6.18821 % at 20 degrees and 30 % humidity.
    "wood-moisture-off": Cases(
        breaks=changed(BENT, wood_moisture="18 %"),
        says="""\
            warning wood-moisture-off at moisture: 18 %
            The frame is finished wetter than it will ever be: it shrinks, and its joints open
            found: 18 %
            allowed: at most 13 %, what the dampest air gives
            write: moisture: 13 %
            """,
        limit=changed(BENT, wood_moisture="6.1883 %"),
        beyond=changed(BENT, wood_moisture="6.1882 %"),
        keeps=BENT,
    ),
    "make-idle": Cases(
        breaks=changed(staves_count=12),
        says="""\
            note make-idle at count: 12
            `staves` is given, but a frame with `make: bought` does not read it
            found: make: bought
            allowed: make: staves
            write:
            """,
        limit=changed(STAVES, staves_count=12, wood_species="maple"),
        beyond=changed(STAVES, bending_scarf=12),
        keeps=changed(BENT, wood_species="maple", bending_scarf=12),
    ),
}


@pytest.mark.parametrize(("name", "cases"), CASES.items(), ids=list(CASES))
class TestEachRule(RuleLaws):
    """The cases above."""


class TestMoisture:
    def test_too_wet_to_bend(self) -> None:
        (finding,) = found_by("strip-moisture-off", changed(BENT, bending_moisture="30 %"))
        assert (finding.found, finding.allowed, finding.write) == ("30 %", "at most 25 %", "moisture: 25 %")

    def test_lower_limit_of_bending(self) -> None:
        assert found_by("strip-moisture-off", changed(BENT, bending_moisture="15.99 %"))
        assert not found_by("strip-moisture-off", changed(BENT, bending_moisture="16 %"))

    def test_drier_than_any_air(self) -> None:
        (finding,) = found_by("wood-moisture-off", changed(STAVES, wood_moisture="5 %"))
        assert (finding.allowed, finding.write) == ("at least 6 %, what the driest air gives", "moisture: 7 %")

    def test_crossed_airs_are_said_once(self) -> None:
        names = {finding.name for finding in findings_of(changed(BENT, wood_driest="70 %", wood_dampest="30 %"))}
        assert names == {"wood-air-crossed"}


def test_usual_frames_are_in_order() -> None:
    for fields in (BENT, STAVES, polygon(), oval(frame_make="bent")):
        assert not {finding.name for finding in findings_of(fields)} & CASES.keys()


def test_words_in_the_shop_file_bear_on_their_make_alone(tmp_path: Path) -> None:
    """A shop that always bends ash says nothing of a bought frame: no note, and no other digest."""
    shop = "shop: 1\nwood: {species: maple}\nbending: {scarf: 4}\n"
    assert "make-idle" not in {finding.name for finding in findings_in_shop(tmp_path, shop, changed())}
    (finding,) = (each for each in findings_in_shop(tmp_path, shop, BENT) if each.name == "scarf-short")
    assert finding.found == "by the shop file, 4 times the wall"


def test_a_bought_frame_has_no_value_of_wood() -> None:
    """Its digest is what it was before wood could be told of."""
    spec, _ = resolve(stdin_chain(spec_text(changed()).encode()))
    assert spec is not None
    assert not [path for path in spec.settings if path.startswith(("wood.", "bending.", "staves."))]


def test_thicker_staves_leave_more_wall() -> None:
    """The rule's least thickness is the very one that leaves the wall: half a millimetre less leaves less than it."""
    least = workings_of(STAVES)["stave.least_thickness"]
    assert found_by("stave-too-thin", changed(STAVES, staves_thickness=f"{least - 0.01:.6f} mm"))
    assert not found_by("stave-too-thin", changed(STAVES, staves_thickness=f"{least + 0.000001:.9f} mm"))


def test_severities() -> None:
    """What spoils wood or gives no frame is an error, what risks it a warning."""
    weights = {rule.name: rule.severity for rule in RULES if rule.name in CASES}
    errors = {name for name, severity in weights.items() if severity is Severity.ERROR}
    assert errors == {"oval-of-staves", "staves-not-sides", "stave-too-thin", "stave-beyond-board", "wood-air-crossed"}
    assert {name for name, severity in weights.items() if severity is Severity.NOTE} == {"make-idle"}
