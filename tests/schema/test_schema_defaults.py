"""The built-in defaults are written as a maker might write them: the schemas take them all."""

from __future__ import annotations

import pytest

from schema_findings import nowhere
from tauthide.schema import check_data, fields
from tauthide.spec.defaults import BUILT_IN
from tauthide.spec.hides import HIDES


@pytest.mark.parametrize("path", BUILT_IN)
def test_a_default_would_be_taken_from_a_shop_file(path: str) -> None:
    part, _, key = path.partition(".")
    assert check_data("shop", {"shop": 1, part: {key: BUILT_IN[path].written}}, nowhere) == ()


@pytest.mark.parametrize("hide", fields("spec")["head.hide"].choices)
def test_a_hide_s_built_in_profile_would_be_taken_from_a_shop_file(hide: str) -> None:
    profile = {column: default.written for column, default in HIDES[hide].items()}
    only_a_shop_s = {"stretch"}
    columns = {field.name for field in fields("shop").values() if field.part == f"hides.{hide}"}
    assert set(profile) == columns - only_a_shop_s
    assert check_data("shop", {"shop": 1, "hides": {hide: profile}}, nowhere) == ()


def test_every_hide_with_a_profile_can_be_chosen() -> None:
    assert set(HIDES) == set(fields("spec")["head.hide"].choices)
