"""Laws of the digest: the same for the same drum however it is written, another for any other drum."""

from __future__ import annotations

from collections.abc import Mapping

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from drums import USUAL, Fields, Leaf, changed, drums, few, plan_of, read_plan, some, spec_text
from tauthide.schema.fields import fields as schema_fields
from tauthide.spec.layers import PARTS

FULL: Fields = {
    **USUAL,
    "frame.wall": "8 mm",
    "frame.edge_radius": "2 mm",
    "head.thickness": "1 mm",
    "head.dry_thickness": "0.6 mm",
    "head.turnover": "42 mm",
    "head.stretch": "3 %",
    "head.outer": "hair",
    "head.spine": "along",
    "stations.mark_at": "first_hole",
    "stations.hand": "anticlockwise",
    "stations.web": "20 mm",
    "stations.margin": "12 mm",
    "stations.hole": "10 mm",
    "stations.marking": "fold",
    "lace.lacing": "cross",
    "lace.laces": 1,
    "lace.hide": "goat",
    "lace.width": "8 mm",
    "lace.thickness": "1 mm",
    "lace.play": "12 mm",
    "lace.tab_length": "50 mm",
    "lace.tab_width": "25 mm",
    "lace.tail": "300 mm",
    "lace.allowance": "8 %",
    "lace.join": "80 mm",
    "lace.pieces": 2,
    "lace.core": "15 mm",
    "handle.arms": 4,
    "handle.wrap": "60 mm",
    "frame.make": "bought",
    "head.origin": "domestic",
    "voice.pitch": "110 Hz",
    "voice.wet_share": "30 %",
    "voice.safety": "150 %",
    "tolerances.thickness": "15 %",
    "tolerances.turnover": "3 mm",
    "tolerances.play": "4 mm",
    "tolerances.stretch": "1 %",
    "bench.units": "metric",
    "bench.punches": "[8 mm, 10 mm]",
    "bench.water": "15 C",
    "bench.air": "18 C",
    "bench.humidity": "55 %",
}
"""A round drum with all that a spec may say of it."""

OVAL: Fields = {**FULL, "frame.outline": "oval", "frame.length": "16 in", "frame.width": "14 in"}
POLYGON: Fields = {**FULL, "frame.outline": "polygon", "frame.sides": 8, "frame.across_flats": "15 in"}
CENTRES: Fields = {**FULL, "stations.pair_spacing": "30 mm", "stations.edge_distance": "17 mm"}
RING: Fields = {
    **{path: leaf for path, leaf in FULL.items() if path != "lace.laces"},
    "lace.lacing": "ring",
    "lace.ring": "60 mm",
    "lace.ring_section": "6 mm",
    "lace.ring_wraps": 1,
}
ZIGZAG: Fields = {
    **{path: leaf for path, leaf in FULL.items() if path != "head.turnover"},
    "lace.lacing": "zigzag",
    "frame.depth": "150 mm",
    "head.drop": "36 mm",
    "handle.arms": 0,
}
PULLED: Fields = {**FULL, "voice.pull": "130 N"}
WOOD: Fields = {
    "wood.species": "ash",
    "wood.sawn": "flat",
    "wood.moisture": "8 %",
    "wood.driest": "30 %",
    "wood.dampest": "70 %",
}
BENT: Fields = {
    **FULL,
    **WOOD,
    "frame.make": "bent",
    "bending.moisture": "20 %",
    "bending.scarf": 10,
    "bending.spare": "50 mm",
    "bending.planing": "0.5 mm",
    "bending.springback": "3 %",
    "bending.drying": "7 d",
}
STAVES: Fields = {
    **FULL,
    **WOOD,
    "frame.make": "staves",
    "staves.count": 12,
    "staves.thickness": "18 mm",
    "staves.planing": "0.5 mm",
    "staves.kerf": "3 mm",
    "staves.ends": "25 mm",
    "staves.boards": "[1 m, 2 m]",
}

SILENCED: Mapping[str, tuple[str, ...]] = {
    "frame.length": ("frame.diameter",),
    "frame.across_flats": ("frame.diameter",),
    "stations.pair_spacing": ("stations.web",),
    "stations.edge_distance": ("stations.margin",),
    "voice.pull": ("voice.pitch",),
}
"""What may not stand beside a field."""

OTHER: Mapping[str, Leaf] = {
    "frame.diameter": "330.3 mm",
    "frame.length": "16 1/16 in",
    "frame.width": "14 1/64 in",
    "frame.sides": 10,
    "frame.across_flats": "15 1/16 in",
    "frame.depth": "55.1 mm",
    "frame.wall": "8.001 mm",
    "frame.edge_radius": "2.000001 mm",
    "head.hide": "deer",
    "head.thickness": "1.1 mm",
    "head.dry_thickness": "0.61 mm",
    "head.turnover": "43 mm",
    "head.drop": "37 mm",
    "head.stretch": "3.1 %",
    "head.outer": "flesh",
    "head.spine": "across",
    "stations.count": 14,
    "stations.mark_at": "pair_centre",
    "stations.hand": "clockwise",
    "stations.web": "20.5 mm",
    "stations.pair_spacing": "30.5 mm",
    "stations.margin": "12.5 mm",
    "stations.edge_distance": "17.5 mm",
    "stations.hole": "9.5 mm",
    "stations.marking": "step",
    "lace.laces": 2,
    "lace.ring": "61 mm",
    "lace.ring_section": "5 mm",
    "lace.ring_wraps": 2,
    "lace.hide": "deer",
    "lace.width": "7.5 mm",
    "lace.thickness": "0.9 mm",
    "lace.play": "13 mm",
    "lace.tab_length": "51 mm",
    "lace.tab_width": "26 mm",
    "lace.tail": "301 mm",
    "lace.allowance": "8.5 %",
    "lace.join": "81 mm",
    "lace.pieces": 3,
    "lace.core": "15.5 mm",
    "handle.arms": 3,
    "handle.wrap": "61 mm",
    "frame.make": "bent",
    "head.origin": "certified",
    "voice.pitch": "111 Hz",
    "voice.pull": "131 N",
    "voice.wet_share": "31 %",
    "voice.safety": "160 %",
    "tolerances.thickness": "16 %",
    "tolerances.turnover": "4 mm",
    "tolerances.play": "5 mm",
    "tolerances.stretch": "2 %",
    "wood.species": "beech",
    "wood.sawn": "quarter",
    "wood.moisture": "9 %",
    "wood.driest": "31 %",
    "wood.dampest": "71 %",
    "bending.moisture": "21 %",
    "bending.scarf": 12,
    "bending.spare": "51 mm",
    "bending.planing": "0.6 mm",
    "bending.springback": "4 %",
    "bending.drying": "8 d",
    "staves.count": 10,
    "staves.thickness": "19 mm",
    "staves.planing": "0.6 mm",
    "staves.kerf": "3.2 mm",
    "staves.ends": "26 mm",
    "staves.boards": "[1 m, 2.4 m]",
}
"""For each field that bears on the drum another value."""

ALONE = {"frame.outline", "lace.lacing"}
"""Fields that cannot be changed alone: other sizes go with another outline, other fields with another lacing."""

BENCH: Mapping[str, Leaf] = {
    "bench.units": "inch",
    "bench.punches": "[10 mm]",
    "bench.water": "16 C",
    "bench.air": "19 C",
    "bench.humidity": "50 %",
}

SPELLINGS = [
    {"frame.diameter": "330.2 mm"},
    {"frame.diameter": "33.02 cm"},
    {"frame.diameter": '"13\\""'},
    {"frame.diameter": "1 ft 1 in"},
    {"frame.diameter": "330.2000001 mm"},
    {"frame.depth": "5.5cm"},
    {"head.stretch": "3 percent"},
    {"voice.pitch": "A2"},
    {"stations.web": "0.02 m"},
]
"""Other ways to write values of `FULL`, one of them off by less than a millionth of a millimetre."""


def without_rivals(fields: Fields) -> Fields:
    """Drop what may not stand beside another field."""
    gone = {rival for path in fields for rival in SILENCED.get(path, ())}
    return {path: leaf for path, leaf in fields.items() if path not in gone}


def base_for(path: str) -> Fields:
    """A full drum that has the field."""
    for base in (FULL, OVAL, POLYGON, CENTRES, PULLED, BENT, STAVES, RING, ZIGZAG):
        if path in without_rivals(base):
            return without_rivals(base)
    raise KeyError(path)


def digest_of(fields: Fields, opening: str = "spec: 1\ndrum: TEST\n") -> str:
    """The digest of a spec."""
    return read_plan(spec_text(fields, opening)).digest


class TestSameDrum:
    """What does not change the drum does not change the digest."""

    @pytest.mark.parametrize("spelling", SPELLINGS, ids=str)
    def test_spelling(self, spelling: Fields) -> None:
        """The same value in another unit or spelling."""
        assert digest_of({**FULL, **spelling}) == digest_of(FULL)

    @few
    @given(st.permutations(sorted(FULL)))
    def test_order_of_keys(self, paths: list[str]) -> None:
        """Parts and fields may stand in any order."""
        assert digest_of({path: FULL[path] for path in paths}) == digest_of(FULL)

    @few
    @given(drums(), st.integers(1, 999), st.text("abc xyz-", min_size=1).filter(str.strip))
    def test_title_notes_and_quantity(self, fields: Fields, quantity: int, words: str) -> None:
        """How many, and what is said about it, is no part of the drum."""
        opening = f"spec: 1\ndrum: TEST\nquantity: {quantity}\ntitle: '{words}'\nnotes: '{words}'\n"
        assert digest_of(fields, opening) == digest_of(fields)

    @few
    @given(drums(), st.lists(st.sampled_from(("# note", "", "  # indented")), min_size=1))
    def test_comments(self, fields: Fields, comments: list[str]) -> None:
        """Comments and empty lines between the lines."""
        lines = spec_text(fields).splitlines()
        between = [comments[number % len(comments)] for number in range(len(lines))]
        spread = [line for both in zip(lines, between, strict=True) for line in both]
        assert read_plan("\n".join(spread) + "\n").digest == digest_of(fields)

    def test_bench(self) -> None:
        """How the sheet is written, and which punches hang on the wall."""
        assert digest_of({**FULL, **BENCH}) == digest_of(FULL)

    def test_defaults_spelt_out(self) -> None:
        """A default says no more when it is written into the spec."""
        spelt = plan_of(frame_wall="8 mm", stations_web="20 mm", handle_arms=4, lace_hide="goat", lace_laces=1)
        assert spelt.digest == plan_of().digest


class TestOtherDrum:
    """Any other value that bears on the drum gives another digest."""

    @pytest.mark.parametrize("path", OTHER)
    def test_each_field(self, path: str) -> None:
        """Each field by itself, all else the same."""
        base = base_for(path)
        other = read_plan(spec_text({**base, path: OTHER[path]}))
        assert other.digest != digest_of(base)
        assert other.spec.settings[path].written == yaml.safe_load(str(OTHER[path]))

    def test_all_fields_are_tried(self) -> None:
        """A field that is new in the schema must be added above, on one side or the other."""
        leaves = {
            path
            for path, field in schema_fields("spec").items()
            if path.partition(".")[0] in PARTS and field.type != "object"
        }
        assert leaves == OTHER.keys() | BENCH.keys() | ALONE

    def test_all_differ_from_one_another(self) -> None:
        """No two of these drums share a digest."""
        changes = [{**base_for(path), path: leaf} for path, leaf in OTHER.items()]
        bases = [without_rivals(base) for base in (FULL, OVAL, POLYGON, CENTRES)]
        digests = [digest_of(fields) for fields in (*changes, *bases)]
        assert len(set(digests)) == len(digests)

    def test_name(self) -> None:
        """A drum of another name is another drum."""
        assert digest_of(FULL, "spec: 1\ndrum: OTHER\n") != digest_of(FULL)

    @some
    @given(drums(), drums())
    def test_any_two(self, one: Fields, other: Fields) -> None:
        """Two drums have one digest if, and only if, they are resolved to the same values."""
        plans = [plan_of(fields) for fields in (one, other)]
        values = [{path: setting.value for path, setting in plan.spec.settings.items()} for plan in plans]
        assert (plans[0].digest == plans[1].digest) == (values[0] == values[1])

    @some
    @given(drums(), st.integers(1, 9))
    def test_a_tenth_of_a_millimetre(self, fields: Fields, tenths: int) -> None:
        """Some tenths of a millimetre of depth are another drum."""
        plan = plan_of(fields)
        deeper = plan.spec.number("frame.depth") + tenths / 10
        assert plan_of(changed(fields, frame_depth=f"{deeper:.3f} mm")).digest != plan.digest


class TestForm:
    """A digest is short, and fit for a sheet."""

    @few
    @given(drums())
    def test_twelve_digits(self, fields: Fields) -> None:
        """Twelve hexadecimal digits, the same each time."""
        digest = plan_of(fields).digest
        assert len(digest) == 12
        assert set(digest) <= set("0123456789abcdef")
        assert plan_of(fields).digest == digest
