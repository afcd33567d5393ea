"""The order of work: what each operation needs before it, and the place it takes up."""

from __future__ import annotations

import pytest

from drums import plan_of
from tauthide.work.operations import BENCH, DRYING, PLACES, TUB, Operation

GOAT = plan_of().operations
COW_WITHOUT_HANDLE = plan_of(head_hide="cow", frame_diameter="20 in", stations_count=20, handle_arms=0).operations
ORDERS = pytest.mark.parametrize("operations", [GOAT, COW_WITHOUT_HANDLE], ids=["goat", "cow, lace of calf"])


@ORDERS
def test_each_names_only_earlier_ones(operations: tuple[Operation, ...]) -> None:
    done: set[str] = set()
    for operation in operations:
        assert set(operation.after) <= done
        done.add(operation.name)
    assert len(done) == len(operations)


@ORDERS
def test_a_held_place_is_freed_by_what_follows(operations: tuple[Operation, ...]) -> None:
    by_name = {operation.name: operation for operation in operations}
    held = [operation for operation in operations if operation.until]
    assert held
    for operation in held:
        assert operation.place in (TUB, DRYING)
        assert operation.wait_min > 0
        assert operation.name in by_name[operation.until].after


@ORDERS
def test_places(operations: tuple[Operation, ...]) -> None:
    places = {operation.name: operation.place for operation in operations}
    assert set(places.values()) == {"", *PLACES}
    assert {name for name, place in places.items() if place == DRYING} == {"head.dry"}
    assert {name for name, place in places.items() if place == TUB} <= {"skin.soak", "lace.soak_hide"}
    assert places["lace.lace"] == places["skin.punch"] == BENCH


def test_a_lace_of_another_hide_is_soaked_too() -> None:
    assert "lace.soak_hide" not in {operation.name for operation in GOAT}
    assert "lace.soak_hide" in {operation.name for operation in COW_WITHOUT_HANDLE}
