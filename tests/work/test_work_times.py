"""Times of operations that a shop sets: they stand in the plan, and leave the drum's digest alone."""

from __future__ import annotations

from tauthide.schema.fields import fields
from tauthide.work.operations import operation_names, usual_paces
from workshops import Workshop, spec_text, workshop

__all__ = ["workshop"]

SHOP = "shop: 1\ntimes:\n  skin:\n    punch: {each: 2 min, set_up: 9 min}\n  lace: {cut: {each: 3 min}}\n"


def shown(workshop: Workshop) -> str:
    return workshop.run("show", "drum.yaml").out


def test_schemas_list_the_operations() -> None:
    for kind, part, leaf in (("shop", "times", ".each"), ("records", "drums[].times", "")):
        known = [path for path in fields(kind) if path.startswith(f"{part}.")]
        listed = [path.removeprefix(f"{part}.").removesuffix(leaf) for path in known if path.endswith(leaf)]
        assert {name for name in listed if "." in name} == set(operation_names())
    assert list(fields("records")["drums[].step"].choices) == list(operation_names())
    assert set(usual_paces()) == set(operation_names())


def test_minutes_of_the_shop_take_the_place_of_built_in_ones(workshop: Workshop) -> None:
    workshop.write("drum.yaml", spec_text())
    workshop.build("drum.yaml")
    before = workshop.run("show", "drum.yaml").out
    workshop.write("shop.yaml", SHOP)
    after = shown(workshop)
    added = {line.strip() for line in after.splitlines()} - {line.strip() for line in before.splitlines()}
    assert added == {
        "times.skin.punch.each: 2 min [shop file: shop.yaml]",
        "times.skin.punch.set_up: 9 min [shop file: shop.yaml]",
        "times.lace.cut.each: 3 min [shop file: shop.yaml]",
    }


def test_the_plan_has_them(workshop: Workshop) -> None:
    import json

    def operations() -> dict[str, dict[str, float]]:
        workshop.write("drum.yaml", spec_text())
        assert workshop.run("build", "drum.yaml", "--out", "out").code == 0
        data = json.loads((workshop.folder / "out" / "LIB-13" / "plan.json").read_text())
        return {each["name"]: each for each in data["operations"]}

    before = operations()
    workshop.write("shop.yaml", SHOP)
    after = operations()
    assert after["skin.punch"]["hand_min"] == 32 * 2
    assert after["lace.cut"]["hand_min"] == 1.5 * before["lace.cut"]["hand_min"]
    assert after["skin.mark"] == before["skin.mark"]


def test_a_field_s_page_and_a_mistake(workshop: Workshop) -> None:
    workshop.write("drum.yaml", spec_text())
    workshop.write("shop.yaml", SHOP)
    assert "2 min" in workshop.run("explain", "times.skin.punch.each", "drum.yaml").out
    workshop.write("shop.yaml", SHOP.replace("punch", "punk"))
    assert workshop.check("drum.yaml").names == ["unknown-key"]


def test_a_hide_s_stretch(workshop: Workshop) -> None:
    workshop.write("drum.yaml", spec_text())
    workshop.write("shop.yaml", "shop: 1\nhead: {stretch: 2 %}\nhides: {goat: {stretch: 4 %}, deer: {stretch: 1 %}}\n")
    assert "head.stretch: 4 % [shop file: shop.yaml]" in shown(workshop)


def test_a_lacing_s_allowance_stands_over_that_of_all_laces(workshop: Workshop) -> None:
    workshop.write("shop.yaml", "shop: 1\nlace: {allowance: 9 %}\nlacings: {cross: {allowance: 5 %}}\n")
    workshop.write("cross.yaml", spec_text("CROSS"))
    workshop.write("ring.yaml", spec_text("RING", more="lace: {lacing: ring}\n"))
    assert "lace.allowance: 5 % [shop file: shop.yaml]" in workshop.run("show", "cross.yaml").out
    assert "lace.allowance: 9 % [shop file: shop.yaml]" in workshop.run("show", "ring.yaml").out
    workshop.write("cross.yaml", spec_text("CROSS", more="lace: {allowance: 7 %}\n"))
    assert "lace.allowance: 7 % [" in workshop.run("show", "cross.yaml").out
