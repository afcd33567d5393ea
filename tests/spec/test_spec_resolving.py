"""From documents to a spec: base units, origins, what only the whole can show, and the digest."""

from __future__ import annotations

from pathlib import Path

import pytest

from drums import USUAL, Fields, changed, spec_text
from tauthide.findings import Place
from tauthide.reading.files import FileTrouble, read_bytes
from tauthide.schema.fields import fields
from tauthide.spec.chain import Chain, Library, read_source, stdin_chain
from tauthide.spec.digest import digest
from tauthide.spec.resolving import PROFILE_QUANTITIES, resolve
from tauthide.spec.settings import Spec
from tauthide.units import parse
from workshops import Workshop


def spec_of(text: str) -> Spec:
    """Return the spec that a text makes; AssertionError if it is refused."""
    spec, findings = resolve(stdin_chain(text.encode()))
    assert spec is not None, findings
    return spec


def chain_of(workshop: Workshop, name: str) -> Chain:
    """Return what feeds a spec in a workshop."""
    path = workshop.folder / name
    library = Library(lambda path: path.relative_to(workshop.folder.resolve()).as_posix())
    return library.chain(read_source(path, name, path.read_bytes()))


class TestValues:
    def test_in_base_units(self) -> None:
        spec = spec_of(
            spec_text(
                changed(lace_allowance="5 %", voice_pitch="A2", bench_water="59 F", bench_punches="[8 mm, 3/8 in]")
            )
        )
        assert spec.number("frame.diameter") == pytest.approx(330.2)
        assert spec.number("lace.allowance") == pytest.approx(0.05)
        assert spec.number("voice.pitch") == pytest.approx(110)
        assert spec.number("bench.water") == pytest.approx(15)
        assert spec.number("hide.soak") == pytest.approx(360)
        assert spec.number("hide.density") == pytest.approx(1200)
        assert spec.number("hide.wet_strength") == pytest.approx(15)
        assert spec.number("hide.stitch_tear") == pytest.approx(110)
        assert spec.number("hide.disc") == spec.number("lace_hide.disc") == pytest.approx(550)
        assert spec.numbers("bench.punches") == pytest.approx((8, 9.525))
        assert spec.count("stations.count") == 16
        assert spec.word("head.hide") == "goat"

    def test_wrong_questions_are_faults_of_ours(self) -> None:
        spec = spec_of(spec_text(USUAL))
        for ask, path in ((spec.number, "head.hide"), (spec.count, "frame.depth"), (spec.word, "frame.depth")):
            with pytest.raises(TypeError):
                ask(path)
        with pytest.raises(TypeError):
            spec.numbers("frame.depth")
        with pytest.raises(KeyError):
            spec.number("voice.pitch")
        assert spec.numbers("bench.punches") == ()

    def test_every_setting_has_its_quantity(self) -> None:
        """A length that is taken for a word would pass through as text."""
        for path, setting in spec_of(spec_text(USUAL)).settings.items():
            if path in PROFILE_QUANTITIES:
                assert setting.quantity == PROFILE_QUANTITIES[path]
            else:
                assert setting.quantity == fields("spec")[path].quantity
            assert isinstance(setting.value, float) is (setting.quantity is not None)

    def test_defaults_of_the_drum_itself(self) -> None:
        spec = spec_of(spec_text(USUAL))
        assert (spec.drum, spec.title, spec.notes, spec.quantity) == ("TEST", "", "", 1)
        more = "spec: 1\ndrum: T\ntitle: Big\nnotes: Well\nquantity: 3\n"
        spec = spec_of(spec_text(USUAL, more))
        assert (spec.drum, spec.title, spec.notes, spec.quantity) == ("T", "Big", "Well", 3)

    def test_places(self) -> None:
        spec = spec_of(spec_text(USUAL))
        assert spec.place == Place("<stdin>", 2, 7, 4, "drum: TEST")
        assert spec.place_of("frame.depth") == Place("<stdin>", 6, 10, 5, "  depth: 55 mm")
        assert spec.place_of("lace.play") == spec.place
        assert spec.place_of("voice.pitch") == spec.place


class TestChain:
    def test_layers_lowest_first(self, workshop: Workshop) -> None:
        workshop.write("shop.yaml", "shop: 1\n")
        workshop.write("far.yaml", "base: 1\n")
        workshop.write("near.yaml", "base: 1\ninherits: far.yaml\n")
        workshop.write("specs/a.yaml", "spec: 1\ninherits: ../near.yaml\n")
        chain = chain_of(workshop, "specs/a.yaml")
        assert [file.shown for file in chain.files] == ["shop.yaml", "far.yaml", "near.yaml", "specs/a.yaml"]

    def test_each_shared_file_is_read_once(self, workshop: Workshop, monkeypatch: pytest.MonkeyPatch) -> None:
        from tauthide.spec import chain as module

        workshop.write("shop.yaml", "shop: 1\n")
        workshop.write("base.yaml", "base: 1\n")
        read: list[str] = []
        original = read_bytes

        def note(path: Path, shown: str) -> bytes:
            read.append(path.name)
            return original(path, shown)

        monkeypatch.setattr(module, "read_bytes", note)
        library = Library(Path.as_posix)
        for name in ("a", "b"):
            path = workshop.write(f"{name}.yaml", "spec: 1\ninherits: base.yaml\n")
            library.chain(read_source(path, path.name, path.read_bytes()))
        assert sorted(read) == ["base.yaml", "shop.yaml"]

    def test_unreadable_base_is_named_as_seen_from_the_spec(
        self, workshop: Workshop, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        """The words go into a notice, which must be the same wherever the repository lies."""
        from tauthide.spec import chain as module

        workshop.write("base.yaml", "base: 1\n")
        workshop.write("specs/a.yaml", "spec: 1\ninherits: ../base.yaml\n")

        def refuse(_path: Path, shown: str) -> bytes:
            raise FileTrouble(f"{shown}: no")

        monkeypatch.setattr(module, "read_bytes", refuse)
        with pytest.raises(FileTrouble, match=r"^\.\./base\.yaml: no$"):
            chain_of(workshop, "specs/a.yaml")

    def test_findings_of_all_at_once(self, workshop: Workshop) -> None:
        workshop.write("shop.yaml", "shop: 1\nlace: {play: 7}\n")
        workshop.write("base.yaml", "base: 1\nlace: {tail: 7}\n")
        workshop.write("a.yaml", "spec: 1\ninherits: base.yaml\nlace: {core: 7}\n")
        spec, findings = resolve(chain_of(workshop, "a.yaml"))
        assert spec is None
        assert {(finding.name, finding.place.file) for finding in findings} >= {
            ("missing-unit", "shop.yaml"),
            ("missing-unit", "base.yaml"),
            ("missing-unit", "a.yaml"),
        }


class TestMergedCheck:
    """What spec and bases say together is held against the schema of a spec that inherits nothing."""

    BASE = "base: 1\nframe: {outline: oval, length: 14 in, width: 13 in, depth: 5 cm}\nhead: {hide: goat}\n"

    def resolved(self, workshop: Workshop, spec: str, base: str = BASE) -> list[tuple[str, str, int]]:
        """Return name, file and line of all findings."""
        workshop.write("base.yaml", base)
        workshop.write("a.yaml", f"spec: 1\ndrum: A\ninherits: base.yaml\n{spec}")
        _, findings = resolve(chain_of(workshop, "a.yaml"))
        return [(finding.name, finding.place.file, finding.place.line) for finding in findings]

    def test_complete_together(self, workshop: Workshop) -> None:
        assert self.resolved(workshop, "stations: {count: 16}\n") == []

    def test_part_lacks(self, workshop: Workshop) -> None:
        assert self.resolved(workshop, "title: x\n") == [("missing-key", "a.yaml", 1)]

    def test_other_outline_in_the_spec(self, workshop: Workshop) -> None:
        more = "frame: {outline: round, diameter: 13 in}\nstations: {count: 16}\n"
        assert self.resolved(workshop, more) == []

    def test_size_of_another_outline_in_the_spec(self, workshop: Workshop) -> None:
        more = "frame: {diameter: 13 in}\nstations: {count: 16}\n"
        assert self.resolved(workshop, more) == [("other-outline", "a.yaml", 4)]

    def test_the_other_of_a_couple(self, workshop: Workshop) -> None:
        base = self.BASE + "stations: {web: 17 mm, margin: 12 mm, count: 16}\n"
        more = "stations: {pair_spacing: 28 mm, edge_distance: 18 mm}\n"
        assert self.resolved(workshop, more, base) == []

    def test_shop_does_not_make_a_spec_complete(self, workshop: Workshop) -> None:
        workshop.write("shop.yaml", "shop: 1\nstations: {hole: 9 mm}\n")
        assert self.resolved(workshop, "title: x\n") == [("missing-key", "a.yaml", 1)]

    def test_each_fault_once(self, workshop: Workshop) -> None:
        assert self.resolved(workshop, "stations: {count: 15}\n") == [("odd-station-count", "a.yaml", 4)]


class TestDigest:
    USUAL_DIGEST = digest(spec_of(spec_text(USUAL)))

    def test_shape(self) -> None:
        assert len(self.USUAL_DIGEST) == 12
        assert set(self.USUAL_DIGEST) <= set("0123456789abcdef")

    @pytest.mark.parametrize(
        "fields",
        [
            changed(frame_diameter="330.2 mm"),
            changed(frame_diameter="33.02 cm"),
            changed(frame_diameter="1 ft 1 in"),
            changed(frame_diameter='"13\\""'),
            changed(frame_diameter="330.2000001 mm"),
            changed(head_turnover="40 mm"),
            changed(head_turnover="4 cm", lace_allowance="8%"),
            changed(bench_units="inch", bench_punches="[8 mm]"),
            dict(sorted(USUAL.items(), reverse=True)),
        ],
    )
    def test_same_drum_however_it_is_spelt(self, fields: Fields) -> None:
        assert digest(spec_of(spec_text(fields))) == self.USUAL_DIGEST

    @pytest.mark.parametrize("more", ["title: x\n", "notes: x\n", "quantity: 9\n", "# x\n"])
    def test_what_does_not_bear_on_the_drum(self, more: str) -> None:
        assert digest(spec_of(spec_text(USUAL, f"spec: 1\ndrum: TEST\n{more}"))) == self.USUAL_DIGEST

    @pytest.mark.parametrize(
        "fields",
        [
            changed(frame_diameter="330.201 mm"),
            changed(frame_diameter="330.20001 mm"),
            changed(head_hide="sheep"),
            changed(stations_count=18),
            changed(stations_hand="clockwise"),
            changed(lace_play="11 mm"),
            changed(handle_arms=0),
            changed(voice_pitch="110 Hz"),
            changed(head_outer="flesh"),
        ],
    )
    def test_another_drum(self, fields: Fields) -> None:
        assert digest(spec_of(spec_text(fields))) != self.USUAL_DIGEST

    def test_name(self) -> None:
        assert digest(spec_of(spec_text(USUAL, "spec: 1\ndrum: OTHER\n"))) != self.USUAL_DIGEST

    def test_every_setting_but_the_benchs_counts(self) -> None:
        """Each value that is changed by a hair changes the digest, unless it is how the sheet is written."""
        from dataclasses import replace

        spec = spec_of(spec_text(changed(bench_punches="[8 mm]", stations_marking="tape")))
        before = digest(spec)
        for path, setting in spec.settings.items():
            value = setting.value
            other = value + 1 if isinstance(value, (int, float)) else f"{value} x" if isinstance(value, str) else (9.0,)
            settings = {**spec.settings, path: replace(setting, value=other)}
            assert (digest(replace(spec, settings=settings)) == before) is path.startswith("bench."), path

    def test_origins_do_not_count(self, workshop: Workshop) -> None:
        """A value that a base says is the same as one that the spec says."""
        workshop.write("base.yaml", "base: 1\nhead: {hide: goat}\nlace: {play: 12 mm}\n")
        fields = {path: value for path, value in USUAL.items() if path != "head.hide"}
        workshop.write("a.yaml", spec_text(fields, "spec: 1\ndrum: TEST\ninherits: base.yaml\n"))
        spec, findings = resolve(chain_of(workshop, "a.yaml"))
        assert spec is not None, findings
        assert digest(spec) == self.USUAL_DIGEST


def test_parsing_defaults_of_every_hide() -> None:
    """Every default is written as a maker would, and understood."""
    from tauthide.spec.hides import HIDES

    for hide, profile in HIDES.items():
        for column in ("thickness", "dry_thickness", "web", "margin", "hole", "lace_width"):
            assert parse("length", str(profile[column].written)) > 0, (hide, column)
        assert profile["lace_hide"].written in HIDES
