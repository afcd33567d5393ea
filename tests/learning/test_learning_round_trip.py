"""Records made of the plans of a shop whose values are known: learning from them gives these values back."""

from __future__ import annotations

from pathlib import Path

import pytest

from run_files import write_files
from tauthide.batch.inputs import find_inputs, show_path
from tauthide.batch.learning import Learned, Shop, learn_from
from tauthide.batch.recording import see_records
from tauthide.plan.plan import Plan
from tauthide.reading.events import read_yaml
from tauthide.recording.amending import Amendment, amend, field_path
from tauthide.spec.chain import Library, read_source

TRUTH = """\
shop: 1
lacings: {cross: {allowance: 14 %}}
hides:
  goat: {thickness: 1.3 mm, dry_thickness: 0.9 mm, dry: 72 h, stitch_tear: 90 N/mm, stretch: 5 %}
times:
  skin: {punch: {each: 0.65 min}}
  lace: {lace: {each: 2.5 min}}
  head: {tighten: {each: 2 min}}
"""
SERIALS = tuple(f"SMALL-{number:02}" for number in range(1, 8))


def plan_in(folder: Path) -> Plan:
    """Return the plan of the small drum by the shop file that lies there."""
    source = read_source(folder / "runs" / "run.records.yaml", "r", b"records: 1\ndrums: [{drum: SMALL-01}]\n")
    seen, findings = see_records(source, Library(show_path))
    assert seen is not None, findings
    return seen.plans["SMALL-01"]


def measured(plan: Plan, allowance: float) -> dict[str, str]:
    """Return what is measured on a drum that turns out as the plan says."""
    minutes = {operation.name: operation.hand_min for operation in plan.operations}
    return {
        "thickness": f"{plan.spec.number('head.thickness')} mm",
        "dry_thickness": f"{plan.spec.number('head.dry_thickness')} mm",
        "holes_across": f"{2 * plan['holes.tight_radius']:.6f} mm",
        "lace_used": f"{plan['lace.net_length'] * (1 + allowance):.6f} mm",
        "dry": f"{plan.spec.number('hide.dry')} min",
        "stitch_tear": f"{plan.spec.number('hide.stitch_tear')} N/mm",
        **{name: f"{minutes[name]:.6f} min" for name in ("skin.punch", "lace.lace", "head.tighten")},
    }


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    write_files(tmp_path, {})
    (tmp_path / ".git").mkdir(exist_ok=True)
    run = tmp_path / "runs" / "run.yaml"
    run.write_text(run.read_text().replace("{spec: ../small.yaml}", "{spec: ../small.yaml, quantity: 7}"))
    monkeypatch.chdir(tmp_path)
    return tmp_path


def learned_from(folder: Path, fields: dict[str, str]) -> tuple[Learned, Shop]:
    amendments = [
        Amendment(serial, field_path(name), value) for serial in SERIALS for name, value in fields.items()
    ]  # fmt: skip
    content = amend(None, amendments).content
    assert content is not None
    (folder / "runs" / "run.records.yaml").write_bytes(content)
    learned = learn_from(find_inputs((".",), b""))
    (shop,) = learned.shops
    return learned, shop


def test_the_values_of_a_known_shop_come_back(folder: Path) -> None:
    (folder / "shop.yaml").write_text(TRUTH)
    fields = measured(plan_in(folder), 0.14)
    (folder / "shop.yaml").write_text("shop: 1\n# nothing known yet\n")
    _, shop = learned_from(folder, fields)
    assert shop.new is not None
    found, wanted = read_yaml(shop.new, "")[0], read_yaml(TRUTH.encode(), "")[0]
    assert found is not None
    assert wanted is not None
    assert found.data == wanted.data


def test_effects_are_those_of_the_new_shop_file(folder: Path) -> None:
    (folder / "shop.yaml").write_text(TRUTH)
    plan = plan_in(folder)
    fields = measured(plan, 0.14)
    (folder / "shop.yaml").write_text("shop: 1\n")
    _, shop = learned_from(folder, fields)
    assert shop.effect is not None
    (change,) = (change for change in shop.effect.drums if change.name == "SMALL")
    assert change.new is not None
    assert change.new.plan is not None
    assert change.new.plan["lace.cut_length"] == pytest.approx(plan["lace.cut_length"])
    assert change.new.plan["holes.tight_radius"] == pytest.approx(plan["holes.tight_radius"])
    assert "lace.cut_length" in {figure.name for figure in change.figures}


def test_a_drum_that_turns_out_as_planned_teaches_nothing_new(folder: Path) -> None:
    (folder / "shop.yaml").write_text(TRUTH)
    _, shop = learned_from(folder, measured(plan_in(folder), 0.14))
    assert [lesson.path for lesson in shop.lessons if lesson.changes] == []
    assert shop.effect is None


def test_a_lost_drum_tells_of_its_skin_only(folder: Path) -> None:
    fields = measured(plan_in(folder), 0.3) | {"outcome": "lost"}
    _, shop = learned_from(folder, fields)
    names = {lesson.subject.name for lesson in shop.lessons}
    assert names == {"thickness", "dry_thickness", "stitch_tear", "times"}
