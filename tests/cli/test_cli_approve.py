"""The command `approve`, `check --approved`, and what a build prints on sheets that are not approved."""

from __future__ import annotations

import datetime
from pathlib import Path

import pytest

from workshops import PARTS, Run, Workshop, spec_text, stamps

FILE = "specs/a.approval.yaml"
NOT_APPROVED = "**Not approved: do not cut from this sheet.**"
STAMP = b"NOT APPROVED: do not cut"
DRAWINGS = ("layout.svg", "section.svg", "lacing.svg", "gauge.svg", "steps.svg")
DEEPER = PARTS.replace("55 mm", "60 mm")


def approve(workshop: Workshop, *more: str, spec: str = "specs/a.yaml") -> Run:
    """Approve a spec."""
    return workshop.run("approve", spec, "--by", "library workshop", *more)


@pytest.fixture
def specs(workshop: Workshop) -> Workshop:
    """Give a workshop with one spec."""
    workshop.write("specs/a.yaml", spec_text("A"))
    return workshop


class TestApprove:
    """Recording an approval."""

    def test_writes_it_beside_the_spec(self, specs: Workshop) -> None:
        run = approve(specs, "--note", "on scrap", "--date", "2026-03-02", "--format", "json")
        assert (run.code, run.err) == (0, "")
        assert (run.report["summary"]["file"], run.report["summary"]["written"]) == (FILE, True)
        text = (specs.folder / FILE).read_text(encoding="utf-8")
        assert text.startswith("approval: 1\n")
        assert f'digest: "{run.report["summary"]["digest"]}"' in text
        assert 'by: "library workshop"\ndate: "2026-03-02"\nnote: "on scrap"\nlayers:\n  - "a.yaml"\n' in text
        assert specs.check("specs").findings == []

    def test_today(self, specs: Workshop) -> None:
        before = datetime.date.today().isoformat()
        assert approve(specs).code == 0
        after = datetime.date.today().isoformat()
        text = (specs.folder / FILE).read_text(encoding="utf-8")
        assert any(f'date: "{day}"' in text for day in (before, after))

    def test_layers(self, specs: Workshop) -> None:
        specs.write("shop.yaml", "shop: 1\nbench: {units: metric}\n")
        specs.write("specs/b.base.yaml", "base: 1\nframe: {wall: 8 mm}\n")
        specs.write("specs/a.yaml", spec_text("A", "inherits: b.base.yaml\n"))
        assert approve(specs).code == 0
        text = (specs.folder / FILE).read_text(encoding="utf-8")
        assert 'layers:\n  - "../shop.yaml"\n  - "b.base.yaml"\n  - "a.yaml"\n' in text

    def test_again_changes_nothing(self, specs: Workshop) -> None:
        approve(specs, "--date", "2026-03-02")
        before = stamps(specs.folder)
        run = approve(specs, "--date", "2026-04-02")
        assert run.code == 0
        assert "unchanged" in run.err
        assert stamps(specs.folder) == before

    def test_anew_after_a_change(self, specs: Workshop) -> None:
        approve(specs)
        specs.write("specs/a.yaml", spec_text("A", parts=DEEPER))
        assert specs.run("check", "--approved").code == 1
        assert approve(specs).code == 0
        assert specs.run("check", "--approved").code == 0

    def test_errors_are_not_approved(self, specs: Workshop) -> None:
        specs.write("specs/a.yaml", spec_text("A", parts=PARTS.replace("goat", "got")))
        run = approve(specs, "--format", "json")
        assert (run.code, run.names) == (1, ["unknown-word"])
        assert not (specs.folder / FILE).exists()

    def test_warnings_are_listed(self, specs: Workshop) -> None:
        accept = "accept: [{rule: punch-not-owned, because: we borrow it}]\n"
        specs.write("specs/a.yaml", spec_text("A", accept, parts=PARTS + "bench: {punches: [8 mm]}\n"))
        run = approve(specs, "--format", "json")
        assert (run.code, run.names) == (0, ["punch-not-owned"])
        text = (specs.folder / FILE).read_text(encoding="utf-8")
        assert 'warnings:\n  - "punch-not-owned: ' in text
        assert "(accepted: we borrow it)" in text

    @pytest.mark.parametrize(
        ("arguments", "said"),
        [
            (("specs/a.yaml",), "--by"),
            (("specs/a.yaml", "--by", "  "), "--by says nothing"),
            (("specs/a.yaml", "--by", "x" * 121), "--by is too long"),
            (("specs/a.yaml", "--by", "x", "--note", "y" * 1001), "--note is too long"),
            (("specs/a.yaml", "--by", "x", "--date", "2026-02-30"), "is not a day"),
            (("specs/a.yaml", "--by", "x", "--date", "20260302"), "is not a day"),
            (("specs", "--by", "x"), "is a folder"),
            (("-", "--by", "x"), "standard input"),
            (("specs/none.yaml", "--by", "x"), "no such file"),
            (("shop.yaml", "--by", "x"), "is a shop file"),
            (("specs/a.yaml", "--by", "x", "--withdraw"), "does not go with"),
            (("specs/a.yaml", "--withdraw"), "no approval to withdraw"),
        ],
    )
    def test_trouble(self, specs: Workshop, arguments: tuple[str, ...], said: str) -> None:
        specs.write("shop.yaml", "shop: 1\n")
        run = specs.run("approve", *arguments)
        assert (run.code, run.out) == (2, "")
        assert said in run.err
        assert not (specs.folder / FILE).exists()

    def test_two_specs_would_share_it(self, specs: Workshop) -> None:
        specs.write("specs/a.yml", spec_text("B"))
        run = approve(specs)
        assert (run.code, "would share" in run.err) == (2, True)

    def test_something_else_in_its_place(self, specs: Workshop) -> None:
        specs.write(FILE, "other: 1\n")
        assert approve(specs).code == 2
        assert specs.run("approve", "specs/a.yaml", "--withdraw").code == 2
        assert (specs.folder / FILE).read_text() == "other: 1\n"

    def test_invisible_signs_are_written_out(self, specs: Workshop) -> None:
        assert approve(specs, "--note", "a\u202eb\nc").code == 0
        assert 'note: "a\\\\u202eb c"' in (specs.folder / FILE).read_text(encoding="utf-8")
        assert specs.run("check", "--approved").code == 0


class TestWithdraw:
    """Taking an approval back."""

    def test_removes_it(self, specs: Workshop) -> None:
        approve(specs)
        run = specs.run("approve", "specs/a.yaml", "--withdraw", "--format", "json")
        assert (run.code, run.report["summary"]["withdrawn"]) == (0, True)
        assert not (specs.folder / FILE).exists()

    def test_damaged_or_without_its_spec(self, specs: Workshop) -> None:
        approve(specs)
        (specs.folder / "specs/a.yaml").unlink()
        path = specs.folder / FILE
        path.write_text(path.read_text() + "<<<<<<< HEAD\n")
        assert specs.run("approve", "specs/a.yaml", "--withdraw").code == 0
        assert not path.exists()


class TestCheck:
    """`check --approved`, and approvals among the files of a folder."""

    def test_never(self, specs: Workshop) -> None:
        assert specs.check("specs").code == 0
        run = specs.check("--approved", "specs")
        assert (run.code, run.names) == (1, ["not-approved"])
        assert run.only["write"].startswith("tauthide approve specs/a.yaml --by")

    def test_changed_since(self, specs: Workshop) -> None:
        approve(specs)
        specs.write("specs/a.yaml", spec_text("A", parts=DEEPER))
        run = specs.check("--approved", "specs")
        assert (run.code, run.names) == (1, ["not-approved"])
        assert "frame.depth: 55.0 mm (2.165 in) -> 60.0 mm (2.362 in)" in run.only["message"]
        assert "; skin.reach: " in run.only["message"]

    def test_a_shop_file_takes_it_away(self, specs: Workshop) -> None:
        approve(specs)
        specs.write("shop.yaml", "shop: 1\nhides: {goat: {web: 18 mm}}\n")
        assert specs.run("check", "--approved").code == 1

    def test_words_and_spelling_do_not(self, specs: Workshop) -> None:
        approve(specs)
        spelt = PARTS.replace("13 in", "330.2 mm")
        specs.write("specs/a.yaml", "# seen\n" + spec_text("A", "title: New\nquantity: 9\n", parts=spelt))
        assert specs.run("check", "--approved").code == 0

    def test_standard_input_has_none(self, specs: Workshop, monkeypatch: pytest.MonkeyPatch) -> None:
        import io
        import sys

        approve(specs)
        monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(spec_text("A").encode())))
        run = specs.check("--approved", "-")
        assert (run.code, run.names) == (1, ["not-approved"])

    def test_tampered(self, specs: Workshop) -> None:
        approve(specs)
        path = specs.folder / FILE
        path.write_text(path.read_text().replace("library workshop", "nobody at all"))
        run = specs.check("specs")
        assert (run.code, run.names) == (0, ["approval-unusable"])
        run = specs.check("--approved", "specs")
        assert (run.code, sorted(run.names)) == (1, ["approval-unusable", "not-approved"])

    def test_damaged(self, specs: Workshop) -> None:
        approve(specs)
        path = specs.folder / FILE
        path.write_text(path.read_text() + "<<<<<<< HEAD\n")
        run = specs.check("--approved", "specs")
        assert run.code == 1
        assert {"approval-unusable", "not-approved", "yaml-syntax"} <= set(run.names)
        assert approve(specs).code == 0
        assert specs.run("check", "--approved").code == 0

    def test_a_folder_in_its_place(self, specs: Workshop) -> None:
        (specs.folder / FILE).mkdir()
        run = specs.check("--approved", "specs/a.yaml")
        assert (run.code, sorted(run.names)) == (1, ["approval-unusable", "not-approved"])

    def test_left_over(self, specs: Workshop) -> None:
        approve(specs)
        (specs.folder / "specs/a.yaml").rename(specs.folder / "specs/b.yaml")
        run = specs.check("specs")
        assert (run.code, run.names) == (0, ["approval-left-over"])
        assert run.only["severity"] == "note"

    def test_is_no_drum(self, specs: Workshop) -> None:
        approve(specs)
        run = specs.build("specs")
        assert (run.code, run.report["summary"]["specs"], run.findings) == (0, 1, [])
        named = specs.build("specs/a.yaml", FILE)
        assert named.names == ["not-a-spec"]
        assert "an approval file" in named.only["message"]


class TestSheets:
    """What a build prints, and when it builds anew."""

    def drawings(self, workshop: Workshop) -> set[bool]:
        """Tell of the drawings whether they bear the stamp."""
        files = workshop.sheets()
        return {STAMP in files[f"A/{name}"] for name in DRAWINGS}

    def test_never_approved(self, specs: Workshop) -> None:
        specs.build()
        sheet = specs.sheet("A")
        assert sheet.splitlines()[2] == f"> {NOT_APPROVED} Nobody has approved this drum."
        assert self.drawings(specs) == {True}
        assert "**not approved**".replace(" ", "\u00a0") in specs.sheets()["index.md"].decode()

    def test_approved(self, specs: Workshop) -> None:
        approve(specs, "--date", "2026-03-02", "--note", "*on* scrap")
        specs.build()
        assert NOT_APPROVED not in specs.sheet("A")
        assert "Approved by library workshop on 2026\\-03\\-02: \\*on\\* scrap.\n" in specs.sheet("A")
        assert self.drawings(specs) == {False}

    def test_changed_since(self, specs: Workshop) -> None:
        approve(specs)
        specs.write("specs/a.yaml", spec_text("A", parts=DEEPER))
        specs.build()
        sheet = specs.sheet("A")
        assert f"> {NOT_APPROVED} It has changed since it was approved by library workshop on " in sheet
        assert "> - frame\\.depth\\: 55\\.0 mm" in sheet
        assert "> - head\\.blank\\_diameter\\: " in sheet
        assert self.drawings(specs) == {True}

    def test_an_approval_is_an_input(self, specs: Workshop) -> None:
        """It changes the sheet and not the digest; a build sees it come, change and go."""
        specs.build()
        digest = specs.sheet("A").partition("digest `")[2][:12]
        assert specs.build().report["summary"]["written"] == 0
        approve(specs, "--date", "2026-03-02")
        assert specs.run("build", "--verify").code == 1
        assert specs.build().report["summary"]["written"] > 0
        assert f"digest `{digest}`" in specs.sheet("A")
        assert specs.run("build", "--verify").code == 0
        approve(specs, "--note", "again", "--date", "2026-03-02")
        specs.build()
        assert "again" in specs.sheet("A")
        specs.run("approve", "specs/a.yaml", "--withdraw")
        specs.build()
        assert NOT_APPROVED in specs.sheet("A")

    def test_plan_json_is_the_same(self, specs: Workshop) -> None:
        specs.build()
        before = specs.sheets()["A/plan.json"]
        approve(specs)
        specs.build()
        assert specs.sheets()["A/plan.json"] == before


def test_two_drums_of_the_demo_are_approved(workshop: Workshop) -> None:
    """The demo shows both kinds of sheet."""
    specs = Path(__file__).parents[2] / "specs"
    approved = [path.name for path in sorted(specs.glob("*.approval.yaml"))]
    assert approved == ["lib-13.approval.yaml", "lib-16.approval.yaml"]
    run = workshop.run("check", "--approved", *(str(specs / f"{name[:6]}.yaml") for name in approved))
    assert run.code == 0, run.err
    assert workshop.run("check", "--approved", str(specs)).code == 1
